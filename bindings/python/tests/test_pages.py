"""The record's pages, from Python."""

import pytest

import ebbstead as eb

NOW = eb.Moment(unix_ms=1_772_359_200_000, offset_minutes=60)


def before(minutes):
    return eb.Moment(unix_ms=NOW.unix_ms - minutes * 60_000, offset_minutes=60)


@pytest.fixture
def companion(tmp_path):
    companion = eb.EbbsteadCompanion.open(str(tmp_path / "log.ebb"), "en", NOW)
    readings = [eb.ReadingAt(at=before(5 * n), mg_dl=120.0 + 10 * (n % 5)) for n in range(16 * 288)]
    companion.log().record_readings("sensor 7", readings, NOW)
    return companion


def test_every_page_holds_something(companion, tmp_path):
    options = eb.ReviewOptions(days=14, aims=eb.Aims.ADULT, without_compression_lows=False)
    record = companion.record_pages(str(tmp_path / "passing"))

    def all_shown(chapter, act=eb.RecordAct.SHOW):
        record.turn_to(chapter, {}, NOW)
        return [part.page for part in record.act(act, {}, NOW).parts if part.is_SHOWN()]

    def shown(chapter, act=eb.RecordAct.SHOW):
        return all_shown(chapter, act)[0]

    pages = [
        companion.review().page(options, NOW),
        shown(eb.Chapter.SENSORS),
        shown(eb.Chapter.ALERTS),
        shown(eb.Chapter.LEARNT, eb.RecordAct.LEARN),
        shown(eb.Chapter.OUTCOMES),
        shown(eb.Chapter.SUPPLIES),
        companion.before().sleep(NOW, None, None),
        companion.before().driving(NOW, 90.0, None),
        companion.before().activity(NOW, eb.Movement.ENDURANCE, eb.Effort.LIGHT, 45.0, None, None),
    ]
    for page in pages:
        assert page.heading and all(section.holds for section in page.sections)
    names = [row.name for section in pages[0].sections for block in section.holds if block.is_TABLE() for row in block.rows]
    assert len(names) > 30 and all(names)
    assert companion.review().html(options, NOW).startswith("<!doctype html>")
    # Its chart stands between what is in short and the rest.
    parted = all_shown(eb.Chapter.REVIEW)
    assert parted[0].heading == pages[0].heading
    assert [section for page in parted for section in page.sections] == pages[0].sections
    document = record.act(eb.RecordAct.SAVE_REVIEW, {}, NOW).document
    assert (document.name, document.media_type) == ("ebbstead-2026-03-01.html", "text/html")
    assert open(document.path, encoding="utf-8").read() == companion.review().html(options, NOW)


def test_the_floor_holds(companion):
    plan = companion.alerts().own_plan()
    plan.night.low_mg_dl = 50.0
    with pytest.raises(eb.ApiError.InvalidInput):
        companion.alerts().keep_plan(plan, NOW)
