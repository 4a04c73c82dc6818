"""Fits the population's values of core/src/forecast/population.rs and says how well they carry over.

    cargo run --release -p ebbstead-tests --bin population-features -- FOLDER > features.csv
    python3 tests/fit/population.py features.csv

Two layers are fitted, both by regularised regressions of scikit-learn (a general-purpose library):
- the correction of the model's path at 15, 30, 45 and 60 minutes (ridge, each wearer weighing the same);
- the logistic regressions of the chance of a reading below the low line and the floor line.
The chances depend on the correction that the program is built with: after changing CORRECTION, run both again.
"Carried over" figures are of wearers left out of the fit: even ones predicted from odd ones and the reverse.
"""
import sys

import numpy as np
import pandas as pd
from sklearn.linear_model import LogisticRegression, Ridge
from sklearn.metrics import brier_score_loss, roc_auc_score

HORIZONS = (15, 30, 45, 60)
TOLD = (15, 30, 60)
LINES = {"low": 70.0, "floor": 54.0}
BEGUN = 24  # the first two hours of a trace still know too little
RIDGE, STEADY_WEIGHT, FALL_WEIGHT = 30.0, 1.0, 3.0


def came(t, g, minutes):
    """The reading that came `minutes` later, within 2.5 minutes; NaN where there is none."""
    j = np.minimum(np.searchsorted(t, t + minutes - 2.5), len(t) - 1)
    return np.where(np.abs(t[j] - t - minutes) <= 2.5, g[j], np.nan)


def lowest(t, g, minutes):
    """The lowest reading of the next `minutes`, NaN where more than one of them is missing."""
    end = np.searchsorted(t, t + minutes + 0.5)
    out = np.full(len(g), np.nan)
    for i in range(len(g)):
        if end[i] - i - 1 >= minutes / 5 - 1.01:
            out[i] = g[i + 1:end[i]].min()
    return out


def log_odds(p):
    p = np.clip(p, 1e-4, 1 - 1e-4)
    return np.log(p / (1 - p))


class Wearer:
    def __init__(self, table):
        self.t, self.g, self.table = table.minute.values, table.mg_dl.values, table
        self.begun = np.arange(len(self.t)) > BEGUN
        before = np.concatenate([np.full(3, self.g[0]), self.g[:-3]])
        self.falls = (self.g >= 70) & (self.g <= 130) & ((self.g - before) / 15 <= -1)

    def correction(self, minutes):
        error = came(self.t, self.g, minutes) - self.table[f"mean{minutes}"].values
        ok = np.isfinite(error) & self.begun
        sd = np.nanstd(error)
        features = self.table[[f"f{k}" for k in range(9)]].values
        return features[ok], np.clip(error[ok], -4 * sd, 4 * sd), self.table[f"variance{minutes}"].values[ok]

    def chance(self, line, minutes):
        low = lowest(self.t, self.g, minutes)
        told = self.table[f"{line}{minutes}"].values
        above = np.maximum(self.g - LINES[line], 0)
        x = np.stack([log_odds(told), np.log(above + 4), self.table.rate.values], 1)
        ok = np.isfinite(low) & (self.g >= LINES[line]) & self.begun & (told > 0.003)
        return x[ok], low[ok] < LINES[line], np.where(self.falls[ok], FALL_WEIGHT, STEADY_WEIGHT), self.falls[ok]


def fit_correction(wearers, minutes):
    parts = [w.correction(minutes) for w in wearers]
    weight = np.concatenate([np.full(len(y), 1 / np.var(y)) for _, y, _ in parts])
    x, y = (np.concatenate([p[k] for p in parts]) for k in (0, 1))
    return Ridge(RIDGE, fit_intercept=False).fit(x, y, sample_weight=weight / weight.mean()).coef_


def fit_chance(wearers, line, minutes):
    parts = [w.chance(line, minutes) for w in wearers]
    weight = np.concatenate([p[2] / np.sqrt(p[2].sum() + 100) for p in parts])
    x, y = (np.concatenate([p[k] for p in parts]) for k in (0, 1))
    fit = LogisticRegression(C=1e3).fit(x, y, sample_weight=weight / weight.mean())
    return np.r_[fit.intercept_, fit.coef_[0]]


def expected_calibration_error(y, p, bins=10):
    b = np.minimum((p * bins).astype(int), bins - 1)
    return sum((b == k).mean() * abs(y[b == k].mean() - p[b == k].mean()) for k in range(bins) if (b == k).any())


def main(path):
    table = pd.read_csv(path, dtype={"set": str, "wearer": str})
    wearers = {key: Wearer(part) for key, part in table.groupby(["set", "wearer"], sort=True)}
    keys = list(wearers)
    halves = [[k for i, k in enumerate(keys) if i % 2 == h] for h in (0, 1)]
    print(f"{len(keys)} wearers of {len(set(k[0] for k in keys))} sets, {len(table)} readings")

    print("\nCORRECTION and SPREAD")
    for minutes in HORIZONS:
        coef = fit_correction(wearers.values(), minutes)
        spread = np.exp(np.mean([np.log(np.mean((y - x @ coef) ** 2 / v)) for x, y, v in (w.correction(minutes) for w in wearers.values())]))
        ratios = []
        for half, other in (halves, halves[::-1]):
            left_out = fit_correction([wearers[k] for k in half], minutes)
            ratios += [np.mean((y - x @ left_out) ** 2) / np.mean(y ** 2) for x, y, _ in (wearers[k].correction(minutes) for k in other)]
        print(f"{minutes:3d} min [{', '.join(f'{c:.2f}' for c in coef)}]  spread {spread:.2f}; carried over: "
              f"mean squared error {np.median(ratios):.3f} of the model's at the median wearer, {np.mean(ratios):.3f} on average")

    for line in LINES:
        print(f"\n{line.upper()}")
        for minutes in TOLD:
            print(f"{minutes:3d} min [{', '.join(f'{c:.3f}' for c in fit_chance(wearers.values(), line, minutes))}]")
    print("\nchance of the low line within 30 minutes at a falling reading, carried over:")
    for name in sorted(set(k[0] for k in keys)):
        y, p = [], []
        for half, other in (halves, halves[::-1]):
            coef = fit_chance([wearers[k] for k in half], "low", 30)
            for key in other:
                if key[0] == name:
                    x, outcome, _, falls = wearers[key].chance("low", 30)
                    y.append(outcome[falls])
                    p.append(1 / (1 + np.exp(-(coef[0] + x[falls] @ coef[1:]))))
        y, p = np.concatenate(y), np.concatenate(p)
        print(f"  {name}: {len(y)} falls, AUC {roc_auc_score(y, p):.3f}, Brier {brier_score_loss(y, p):.4f}, "
              f"expected calibration error {expected_calibration_error(y, p):.3f}")


if __name__ == "__main__":
    main(sys.argv[1])
