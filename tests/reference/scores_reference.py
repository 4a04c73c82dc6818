"""The evaluation's baselines and statistics, computed with general-purpose libraries.

  scores_reference.py make FOLDER            invented sensor traces, two sets of four people
  scores_reference.py compare FOLDER FILE    FILE: what `evaluate FOLDER --json FILE` wrote

Ridge regression, area under the curve and Brier score come from scikit-learn, the normal distribution from SciPy, quantiles
and grouping from NumPy. Every figure of the simple rules has to agree to 1e-9.
"""
import csv
import datetime
import json
import pathlib
import sys

import numpy as np
import pandas as pd
from scipy.stats import norm
from sklearn.linear_model import Ridge
from sklearn.metrics import brier_score_loss, roc_auc_score

PAST, AHEAD, FOLLOWED = 13, 6, 18


def make(folder):
    rng = np.random.default_rng(11)
    start = datetime.datetime(2026, 1, 1)
    for name in ("one", "two"):
        (folder / name).mkdir(parents=True)
        for person in range(4):
            level, rate, now, rows = 130.0, 0.0, 0.0, []
            for _ in range(1500):
                rate = 0.93 * rate + rng.normal(0, 1.6) - 0.012 * (level - 125)
                level = min(max(level + rate, 40.0), 400.0)
                # Readings jitter by seconds, and some are lost.
                now += 300 + rng.integers(-2, 3) + (0 if rng.random() > 0.01 else 300 * rng.integers(1, 6))
                rows.append((start + datetime.timedelta(seconds=float(now)), round(level + rng.normal(0, 2))))
            with open(folder / name / f"{person}.csv", "w", newline="") as out:
                writer = csv.writer(out, lineterminator="\n")
                writer.writerow(("timestamp", "glucose_mgdl"))
                writer.writerows((time.isoformat(timespec="seconds"), max(39, value)) for time, value in rows)


def load(path):
    table = pd.read_csv(path, parse_dates=["timestamp"])
    minutes = (table["timestamp"] - pd.Timestamp("1970-01-01")).dt.total_seconds().to_numpy() / 60
    return minutes, table.iloc[:, 1].to_numpy(float)


def windows(minutes, mg_dl):
    """Rows of 13 readings back, newest first, then 6 ahead; every step 3.5 to 6.5 minutes."""
    step = np.diff(minutes)
    unbroken = (step > 3.5) & (step < 6.5)
    rows = [
        np.concatenate([mg_dl[at - PAST + 1 : at + 1][::-1], mg_dl[at + 1 : at + 1 + AHEAD]])
        for at in range(PAST - 1, len(mg_dl) - AHEAD)
        if unbroken[at - PAST + 1 : at + AHEAD].all()
    ]
    return np.array(rows).reshape(-1, PAST + AHEAD)


def falling(now, before):
    return (now >= 70) & (now <= 130) & ((now - before) / 15 <= -1)


def forecast_scores(rows, expected, chance):
    mask = falling(rows[:, 0], rows[:, 3])
    came = rows[mask, PAST:].min(axis=1) < 70
    chance = np.clip(chance[mask], 0, 1)
    group = np.minimum((chance * 10).astype(int), 9)
    called = came[chance >= np.quantile(chance[came], 0.10)]
    return {
        "rmse_30_mg_dl": np.sqrt(np.mean((expected - rows[:, -1]) ** 2)),
        "auc": roc_auc_score(came, chance),
        "brier": brier_score_loss(came, chance),
        "ece": sum(
            (group == k).mean() * abs(came[group == k].mean() - chance[group == k].mean()) for k in np.unique(group)
        ),
        "false_share_at_90": 1 - called.mean(),
    }


def fall_scores(traces, treats):
    """What each fall would have got; `treats` says of a trace at which readings to treat."""
    outcome = []
    for minutes, mg_dl in traces:
        says, at = treats(mg_dl), 3
        while at < len(mg_dl) - FOLLOWED:
            spell = slice(at, at + FOLLOWED + 1)
            near = (np.diff(minutes[at - 3 : at + FOLLOWED + 1]) < 6.5).all()
            if not (near and falling(mg_dl[at], mg_dl[at - 3])):
                at += 1
                continue
            first = lambda of: (np.flatnonzero(of[spell]) + at)[0] if of[spell].any() else None
            said, low, serious = first(says), first(mg_dl < 70), first(mg_dl < 54)
            in_time = said is not None and serious is not None and minutes[serious] - minutes[said] >= 14.5
            outcome.append((said is not None, low is not None, said is not None and low is not None and said < low, serious is not None, in_time))
            at += FOLLOWED
    said, low, before, serious, in_time = np.array(outcome).T
    share = lambda of: of.mean() if len(of) else None
    return {
        "falls": len(said),
        "stayed_above": int((~low).sum()),
        "needless": share(said[~low]),
        "before_70": share(before[low]),
        "below_54": int(serious.sum()),
        "in_good_time": share(in_time[serious]),
    }


def compare(folder, figures):
    people = {s.name: sorted(s.glob("*.csv")) for s in sorted(folder.iterdir())}
    aside = [load(path) for paths in people.values() for path in paths[: len(paths) // 2]]
    scored = {name: [load(path) for path in paths[len(paths) // 2 :]] for name, paths in people.items()}
    rows = np.concatenate([windows(*trace) for trace in aside])
    ridge = Ridge(1.0).fit(rows[:, :PAST], rows[:, -1])
    sd = (rows[:, -1] - ridge.predict(rows[:, :PAST])).std()
    back = lambda mg_dl, by: np.concatenate([np.full(by, mg_dl[0]), mg_dl[: len(mg_dl) - by]])
    rules = {
        "slope rule": lambda mg_dl: mg_dl + 2 * (mg_dl - back(mg_dl, 3)) < 70,
        "regression": lambda mg_dl: ridge.predict(np.stack([back(mg_dl, by) for by in range(PAST)], axis=1)) < 70,
        "below 80": lambda mg_dl: mg_dl < 80,
        "below 70": lambda mg_dl: mg_dl < 70,
    }
    compared = 0

    def same(where, got, expected):
        nonlocal compared
        for name, value in expected.items():
            agree = got[name] == value if value is None or isinstance(value, int) else abs(got[name] - value) < 1e-9
            if not agree:
                sys.exit(f"{where}: {name} is {got[name]} here, {value} by the libraries")
            compared += 1

    of = lambda named, who: next(one["scores"] for one in named if one["who"] == who)
    for scores in figures["sets"]:
        traces = scored[scores["set"]]
        rows = np.concatenate([windows(*trace) for trace in traces])
        same(scores["set"], scores, {"windows": len(rows), "falling": int(falling(rows[:, 0], rows[:, 3]).sum())})
        expected = ridge.predict(rows[:, :PAST])
        chance = norm.cdf((70 - expected) / (0.75 * sd))
        same(scores["set"], of(scores["forecast"], "regression"), forecast_scores(rows, expected, chance))
        expected = rows[:, 0] + 2 * (rows[:, 0] - rows[:, 3])
        chance = 1 / (1 + np.exp(-(70 - expected) / 5))
        same(scores["set"], of(scores["forecast"], "slope rule"), forecast_scores(rows, expected, chance))
        for who, rule in rules.items():
            same(scores["set"], of(scores["falls"], who), fall_scores(traces, rule))
    every = [trace for traces in scored.values() for trace in traces]
    for who, rule in rules.items():
        same("all sets", of(figures["all_falls"], who), fall_scores(every, rule))
    print(f"{compared} figures agree to 1e-9; falls: {figures['all_falls'][0]['scores']['falls']}")


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["make", folder]:
            make(pathlib.Path(folder))
        case ["compare", folder, file]:
            compare(pathlib.Path(folder), json.loads(pathlib.Path(file).read_text())["readings"])
        case _:
            sys.exit(__doc__)
