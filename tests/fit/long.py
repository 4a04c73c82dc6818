"""Fits LOW and FLOOR of core/engine/src/forecast/long.rs: the chance of a low within two, four and six hours.

    python3 tests/fit/long.py PROGRAM FOLDER      PROGRAM: a release build of ebbstead; FOLDER: one folder a set, readings as CSV

A logistic regression at each full hour, each wearer weighing by the root of how many; "carried over" is each set left out in turn.
"""
import json
import pathlib
import subprocess
import sys

import numpy as np
import pandas as pd
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import brier_score_loss, roc_auc_score

HOURS = (2, 4, 6)


def log_odds(p):
    p = np.clip(p, 1e-3, 1 - 1e-3)
    return np.log(p / (1 - p))


def moments(program, path):
    x = pd.read_csv(path)
    t = pd.to_datetime(x.iloc[:, 0], errors="coerce").values.astype("datetime64[s]").astype("int64") / 60.0
    out = subprocess.run([program, "replay", "--json", str(path)], capture_output=True, text=True, check=True).stdout
    rows = [json.loads(line) for line in out.splitlines()]
    t, rows = zip(*[(m, r) for m, r in zip(t, rows) if r["reading_mgdl"] is not None])
    t, g = np.array(t), np.array([r["reading_mgdl"] for r in rows])
    for hour in range(int(t[0] // 60) + 48, int(t[-1] // 60) - 6):
        i = np.searchsorted(t, hour * 60)
        day, week = np.searchsorted(t, t[i] - 1440), np.searchsorted(t, t[i] - 10080)
        ahead = [np.searchsorted(t, t[i] + 60 * h) for h in HOURS]
        if t[i] - hour * 60 > 6 or g[i] < 70 or ahead[2] >= len(g) or ahead[2] - i < 60 or i - day < 200 or not rows[i]["futures"]:
            continue
        past, r = g[day:i + 1], rows[i]
        features = [log_odds(r["futures"]["wait"]["p_low_60"]), log_odds(r["p_low_30"]), (r["ahead"][-1]["mean"] - 100) / 50, np.log(g[i] / 130),
                    (g[i] - g[i - 3]) / 15, np.log(past.mean() / 150), np.log(max(past.std(), 5) / 50), np.sqrt((past < 70).mean()),
                    np.sqrt((g[week:i + 1] < 70).mean()), min(past.min(), 120) / 50, np.sin(hour * np.pi / 12), np.cos(hour * np.pi / 12)]
        yield features, [g[i + 1:k + 1].min() for k in ahead]


def fit(x, y, weight):
    mean, sd = x.mean(0), x.std(0)
    model = LogisticRegression(C=0.3, max_iter=2000).fit((x - mean) / sd, y, sample_weight=weight / weight.mean())
    weights = model.coef_[0] / sd
    return np.r_[model.intercept_[0] - weights @ mean, weights]


if __name__ == "__main__":
    xs, lowest, sets, weights = [], [], [], []
    for folder in sorted(p for p in pathlib.Path(sys.argv[2]).iterdir() if p.is_dir()):
        for path in sorted(folder.glob("*.csv")):
            some = list(moments(sys.argv[1], path)) if "metadata" not in path.name and path.stat().st_size > 100_000 else []
            xs += [f for f, _ in some]
            lowest += [y for _, y in some]
            sets += [folder.name] * len(some)
            weights += [1 / np.sqrt(len(some))] * len(some)
    x, lowest, sets, weights = np.array(xs), np.array(lowest), np.array(sets), np.array(weights)
    for name, line in (("LOW", 70), ("FLOOR", 54)):
        for k, hours in enumerate(HOURS):
            y = lowest[:, k] < line
            carried = []
            for one in sorted(set(sets)):
                w = fit(x[sets != one], y[sets != one], weights[sets != one])
                q = 1 / (1 + np.exp(-(w[0] + x[sets == one] @ w[1:])))
                carried.append(f"{one} AUC {roc_auc_score(y[sets == one], q):.3f} Brier {brier_score_loss(y[sets == one], q):.4f}")
            print(f"{name} {hours} h [{', '.join(f'{c:.3f}' for c in fit(x, y, weights))}]  carried over: {'; '.join(carried)}", flush=True)
