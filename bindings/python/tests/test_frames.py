"""Frames in and out, against what pandas itself says of them."""

import pytest

import ebbstead as eb

pd = pytest.importorskip("pandas")
from ebbstead import frames  # noqa: E402

NOW = pd.Timestamp("2026-03-15 20:00", tz="Europe/Berlin")


@pytest.fixture
def companion(tmp_path):
    return eb.EbbsteadCompanion.open(str(tmp_path / "log.ebb"), "en", frames.moment(NOW))


@pytest.fixture
def readings():
    times = pd.date_range(end=NOW, periods=14 * 288, freq="5min")
    return pd.DataFrame({"time": times, "glucose_mgdl": [60.0 + (7 * n) % 160 for n in range(len(times))]})


def figure(review, name):
    return review.loc[review["name"].str.startswith(name), "value"].iloc[0]


def test_the_review_says_what_pandas_computes(companion, readings):
    report = frames.import_frame(companion, readings, NOW)
    assert (report.taken, report.repeated, report.left_out) == (len(readings), 0, 0)
    review = frames.review(companion, NOW)
    glucose = readings["glucose_mgdl"]
    # The day by day shares are of time; readings evenly spaced make them shares of readings.
    shares = {"In range, 70": glucose.between(70, 180), "Below 70": glucose < 70, "Above 180": glucose > 180}
    for name, share in shares.items():
        assert float(figure(review, name).split(" %")[0]) == pytest.approx(100 * share.mean(), abs=0.15), name
    assert float(figure(review, "Mean").split()[0]) == pytest.approx(glucose.mean(), abs=0.5)
    assert float(figure(review, "Standard deviation").split()[0]) == pytest.approx(glucose.std(), abs=0.5)


def test_a_frame_in_mmol_is_the_same(companion, readings):
    # LOINC LG7967-5: 180.156 g/mol
    table = pd.DataFrame({"time": readings["time"], "glucose_mmol": readings["glucose_mgdl"] / 18.0156})
    report = frames.import_frame(companion, table, NOW)
    assert report.unit == eb.GlucoseUnit.MMOL_L and report.taken == len(readings)
    listed = companion.log().list(frames.moment(NOW - pd.Timedelta("1h")), frames.moment(NOW), False, True)
    kept = [one.entry.what.mg_dl for one in listed if one.entry.what.is_SENSOR_READING()]
    assert kept == pytest.approx(list(readings["glucose_mgdl"].tail(len(kept))), abs=0.01) and len(kept) > 10


def test_what_cannot_be_understood_is_refused_with_its_reason(companion, readings):
    with pytest.raises(ValueError, match="offset"):
        frames.import_frame(companion, readings.assign(time=readings["time"].dt.tz_localize(None)), NOW)
    with pytest.raises(ValueError, match="offset"):
        frames.moment("2026-03-15 20:00")
    with pytest.raises(frames.Refused):
        frames.import_frame(companion, pd.DataFrame({"colour": ["red", "blue"]}), NOW)
    assert companion.log().undo(frames.moment(NOW)) is None, "nothing was taken"


def test_a_replay_is_what_is_asked_one_by_one_and_keeps_nothing(companion, readings):
    frames.import_frame(companion, readings, NOW)
    times = pd.date_range(NOW - pd.Timedelta("20min"), NOW, freq="10min")
    answers = frames.replay(companion, times)
    assert list(answers["time"]) == list(times)
    for at, row in zip(times, answers.itertuples()):
        answer = companion.check().ask(eb.Question(now=frames.moment(at), occasion=eb.Occasion.LOOK, feels=None, meter_mg_dl=None))
        assert (row.verdict, row.sentence) == (answer.prompt.verdict.name.lower(), answer.said.sentence)
        assert row.blood_mg_dl == answer.prompt.estimate.blood_mg_dl
    everything = companion.log().list(frames.moment(times[0]), frames.moment(NOW), True, True)
    assert not any(one.entry.what.is_PROMPTED() for one in everything)


def test_a_moment_comes_back(companion):
    for text in ["2026-03-15T20:00:00+01:00", "2026-07-01T00:30:00-03:30", "2026-01-01T00:00:00+00:00"]:
        at = pd.Timestamp(text)
        assert frames.time(frames.moment(at)) == at and frames.time(frames.moment(at)).utcoffset() == at.utcoffset()
