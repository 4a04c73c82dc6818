"""The parity fixtures through the Python bindings: equal field by field."""

import enum
import json
import pathlib

import pytest

import ebbstead as eb

FIXTURES = sorted((pathlib.Path(__file__).resolve().parents[3] / "tests" / "parity").glob("*.json"))


def plain(name):
    return name.replace("_", "").lower()


def canonical(value):
    """A record as a dict, an enum as its name; with data, as a dict with its name as the only key."""
    if value is None or isinstance(value, (bool, int, float)) and not isinstance(value, enum.Enum):
        return value
    if isinstance(value, str):
        return value.lower() if value.isalnum() else value
    if isinstance(value, enum.Enum):
        return plain(value.name)
    if isinstance(value, list):
        return [canonical(one) for one in value]
    fields = {plain(name): canonical(one) for name, one in vars(value).items()}
    kind = type(value).__qualname__.split(".")
    if len(kind) == 2:  # a variant of an enum: Reason.READING
        return {plain(kind[1]): fields} if fields else plain(kind[1])
    return fields


def at(fixture, minutes):
    return eb.Moment(unix_ms=fixture["begin_unix_ms"] + minutes * 60_000, offset_minutes=fixture["offset_minutes"])


def what(note):
    amount = float(note["amount"])
    return {
        "meter": lambda: eb.EntryKind.METER_CHECK(amount),
        "rapid": lambda: eb.EntryKind.INSULIN(eb.InsulinKind.RAPID, amount),
        "meal": lambda: eb.EntryKind.CARBOHYDRATE(amount, eb.Purpose.MEAL),
        "rescue": lambda: eb.EntryKind.CARBOHYDRATE(amount, eb.Purpose.RESCUE),
        "sensor_inserted": lambda: eb.EntryKind.SENSOR(eb.SensorEvent.INSERTED(None)),
    }[note["kind"]]()


def answer(fixture, folder):
    ask = fixture["ask"]
    now = at(fixture, ask["after_minutes"])
    companion = eb.EbbsteadCompanion.open(str(folder / "log.ebb"), "en", now)
    old = companion.settings().wearer()
    companion.settings().set_wearer(
        eb.Wearer(
            unit=eb.GlucoseUnit[fixture["unit"].upper()],
            language={"english": "en", "german": "de"}[fixture["language"]],
            low_line_mg_dl=old.low_line_mg_dl,
            high_line_mg_dl=old.high_line_mg_dl,
            night_from_minute=old.night_from_minute,
            night_until_minute=old.night_until_minute,
            weighing=old.weighing,
            insulin_factor_mg_dl_per_unit=fixture["insulin_factor_mg_dl_per_unit"],
            carbohydrate_factor_mg_dl_per_g=fixture["carbohydrate_factor_mg_dl_per_g"],
        ),
        now,
    )
    readings = [
        eb.ReadingAt(at=at(fixture, n * fixture["every_minutes"]), mg_dl=mg_dl) for n, mg_dl in enumerate(fixture["mg_dl"])
    ]
    companion.log().record_readings("sensor 7", readings, now)
    for note in fixture["notes"]:
        companion.log().record(what(note), at(fixture, note["minutes"]), now)
    if answer := fixture.get("answer"):
        tap = {"treated": eb.PromptTap.TREATED, "rolled_over": eb.PromptTap.ROLLED_OVER}[answer]()
        companion.prompt_screens().tapped(tap, eb.PromptState(noted=None, meter=None), now)
        woken = eb.Question(now=now, occasion=eb.Occasion.WAKE, feels=None, meter_mg_dl=None)
        return companion.check().ask(woken)
    return companion.check().ask(
        eb.Question(
            now=now,
            occasion=eb.Occasion[ask["occasion"].upper()],
            feels=eb.Symptom[ask["feels"].upper()] if ask["feels"] else None,
            meter_mg_dl=None if ask["meter_mg_dl"] is None else float(ask["meter_mg_dl"]),
        )
    )


def test_there_are_fixtures():
    assert len(FIXTURES) >= 12


@pytest.mark.parametrize("path", FIXTURES, ids=lambda path: path.stem)
def test_same_answer(path, tmp_path):
    fixture = json.loads(path.read_text(encoding="utf-8"))
    got = canonical(answer(fixture, tmp_path))
    assert got["prompt"]["verdict"] == fixture["verdict"]
    for name in ("prompt", "said", "chart"):
        assert got[name] == fixture["expected"][name]
    assert got == fixture["expected"]
