# %% [markdown]
# A fortnight in pandas: readings in as a frame, the review and a replayed evening out. The readings are invented; nobody lived them.

# %%
import sys
import tempfile

import numpy as np
import pandas as pd

import ebbstead as eb
from ebbstead import frames

# %% Two weeks, every 5 minutes, for somebody in central Europe: three meals a day, and some evenings that end low.
now = pd.Timestamp("2026-03-15 20:00", tz="Europe/Berlin")
times = pd.date_range(end=now, periods=14 * 288, freq="5min")
hours = times.hour + times.minute / 60
chance = np.random.default_rng(15)
glucose = 115 + 8 * np.sin(np.arange(len(times)) / 40)
for meal, rise in [(7.5, 75), (12.5, 60), (18.5, 70)]:
    since = np.clip(hours - meal, 0, 3.5)
    glucose += rise * np.sin(np.pi * since / 3.5)
falls = (times.day_of_year % 4 == 2) & (hours > 17) & (hours < 20)
glucose -= np.where(falls, 45 * np.sin(np.pi * (hours - 17) / 3) * 1.4, 0)
glucose = np.round(np.clip(glucose + chance.normal(0, 2, len(times)), 45, 350))
readings = pd.DataFrame({"time": times, "glucose_mgdl": glucose})
print(readings.tail(3).to_string(index=False))

# %% Into a log. The core finds columns and unit, and says what it left out.
folder = tempfile.TemporaryDirectory()
companion = eb.EbbsteadCompanion.open(f"{folder.name}/log.ebb", "en", frames.moment(now))
report = frames.import_frame(companion, readings, now, name="fortnight.csv")
print(f"{report.taken} taken, {report.repeated} repeated, {report.left_out} left out")

# %% The review, in figures.
figures = frames.review(companion, now)
print(figures.head(12).to_string(index=False))

# %% What would have been shown on the last evening with a fall, every 10 minutes.
evening = pd.date_range("2026-03-15 17:00", "2026-03-15 19:00", freq="10min", tz="Europe/Berlin")
if "--short" in sys.argv:
    evening = evening[::4]
answers = frames.replay(companion, evening)
print(answers[["time", "verdict", "look_again_minutes", "blood_mg_dl", "low_if_waiting"]].to_string(index=False, float_format="%.2f"))
print(answers["verdict"].value_counts().to_string())
