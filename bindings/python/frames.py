"""pandas in and out. Everything is judged and worded by the core; this only carries tables there and back.

A frame of readings goes in as the core reads any table: it finds the columns and the unit, or says what it needs.
"""

import io

import pandas as pd

import ebbstead as eb


class Refused(ValueError):
    """The core could not understand a frame; nothing of it was taken."""


def moment(time):
    """A moment of the core from a time that knows its offset from UTC."""
    time = pd.Timestamp(time)
    if time.tzinfo is None:
        raise ValueError(f"{time} does not say its offset from UTC; use tz_localize")
    return eb.Moment(unix_ms=time.value // 1_000_000, offset_minutes=int(time.utcoffset().total_seconds() // 60))


def time(moment):
    """The same the other way round."""
    offset = f"{'-' if moment.offset_minutes < 0 else '+'}{abs(moment.offset_minutes) // 60:02}:{abs(moment.offset_minutes) % 60:02}"
    return pd.Timestamp(moment.unix_ms, unit="ms", tz="UTC").tz_convert(offset)


def import_frame(companion, frame, now, *, name="frame.csv", unit=None):
    """Takes a frame's readings into the log as one import, which `undo` takes back as a whole.

    frame: a column of times that know their offset, and one of glucose (name it as a table would: `glucose_mgdl`, `glucose_mmol`).
    now: when it is imported. unit: of the glucose, where the name of its column does not say.
    Returns the core's report: how many were taken, repeated and left out, and why. Raises Refused, with the reason, or ValueError
    where a time does not know its offset.
    """
    table = frame.copy()
    for column in table.columns[[pd.api.types.is_datetime64_any_dtype(kind) for kind in table.dtypes]]:
        if table[column].dt.tz is None:
            raise ValueError(f"the times of {column!r} do not say their offset from UTC; use tz_localize")
        table[column] = [None if pd.isna(one) else one.isoformat() for one in table[column]]
    text = io.StringIO()
    table.to_csv(text, index=False)
    options = eb.ImportOptions(
        offsets=[eb.OffsetChange(from_unix_ms=0, offset_minutes=moment(now).offset_minutes)],
        unit=unit,
        time_column=None,
        glucose_column=None,
        time_format=None,
        dry_run=False,
    )
    answer = companion.log().import_file(name, text.getvalue().encode(), options, moment(now))
    if answer.is_REFUSED():
        raise Refused(f"line {answer.line}: {answer.why}")
    return answer.report


def replay(companion, times, *, occasion=eb.Occasion.LOOK):
    """What would have been shown at each of some times, from what the log has of before. Nothing is kept as shown.

    Returns a frame: the time, the verdict's code, the sentence, minutes to the next look (none is missing), blood glucose with its standard
    deviation (mg/dL), its rate (mg/dL/min), and the chance of blood below the low line within 30 minutes if one waits and if one
    treats (0 to 1; missing where the core gave none).
    """
    rows = []
    for at in times:
        question = eb.Question(now=moment(at), occasion=occasion, feels=None, meter_mg_dl=None)
        answer = companion.check().ask(question)
        prompt, estimate, futures = answer.prompt, answer.prompt.estimate, answer.prompt.futures
        rows.append(
            {
                "time": pd.Timestamp(at),
                "verdict": prompt.verdict.name.lower(),
                "sentence": answer.said.sentence,
                "look_again_minutes": prompt.look_again_minutes,
                "blood_mg_dl": estimate and estimate.blood_mg_dl,
                "blood_sd_mg_dl": estimate and estimate.blood_sd_mg_dl,
                "rate_mg_dl_min": estimate and estimate.rate_mg_dl_min,
                "low_if_waiting": futures and futures.wait.p_low_30,
                "low_if_treating": futures and futures.treat.p_low_30,
            }
        )
    return pd.DataFrame(rows)


def page(answer):
    """A page of the core as a frame: section, name, value and note of every figure, in the core's words."""
    rows = []
    for section in answer.sections:
        for block in section.holds:
            if block.is_TABLE():
                for row in block.rows:
                    rows += [(section.heading or answer.heading, row.name, value, row.note) for value in row.values]
    return pd.DataFrame(rows, columns=["section", "name", "value", "note"])


def review(companion, now, *, days=14, aims=eb.Aims.ADULT, without_compression_lows=False):
    """The review of some days up to now, as a frame of figures; see `page`."""
    return page(companion.review().page(eb.ReviewOptions(days=days, aims=aims, without_compression_lows=without_compression_lows), moment(now)))
