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


def test_every_page_holds_something(companion):
    options = eb.ReviewOptions(days=14, aims=eb.Aims.ADULT, without_compression_lows=False)
    pages = [
        companion.review().page(options, NOW),
        companion.sensor().page(eb.SensorOptions(days=90, rated_days=None), NOW),
        companion.alerts().page(90, None, NOW),
        companion.learn().now(NOW),
        companion.before().sleep(NOW, None, None),
        companion.before().driving(NOW, 90.0, None),
        companion.before().activity(NOW, eb.Movement.ENDURANCE, eb.Effort.LIGHT, 45.0, None, None),
    ]
    for page in pages:
        assert page.heading and all(section.holds for section in page.sections)
    names = [row.name for section in pages[0].sections for block in section.holds if block.is_TABLE() for row in block.rows]
    assert len(names) > 30 and all(names)
    assert companion.review().html(options, NOW).startswith("<!doctype html>")


def test_the_floor_holds(companion):
    plan = companion.alerts().own_plan()
    plan.night.low_mg_dl = 50.0
    with pytest.raises(eb.ApiError.InvalidInput):
        companion.alerts().page(14, plan, NOW)
