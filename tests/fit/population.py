"""Fits the population's values of core/engine/src/forecast/population.rs and says how well they carry over.

    cargo run --release -p ebbstead-tests --bin population-features -- FOLDER features.bin
    python3 tests/fit/population.py features.bin [correction|shape|passage]

FOLDER holds one folder a data set, each with tables of readings or of events. Three layers are fitted:
- `correction`: the regression of what came less the model's path on the features of the state and of what was logged, at 15,
  30, 45 and 60 minutes (ridge, each wearer weighing the same; insulin's weights at most 0, carbohydrate's at least 0);
- `shape`: by how much the sampled paths are stretched below and above the expected path, by the likelihood of a two-piece
  normal at 15, 30 and 60 minutes and of having been below 70, 54 and 90 mg/dL by then (first passage of the sampled paths).
- `passage`: the calibration of the lowest point of the path: one logistic regression for all lines (54, 62, 70, 80 mg/dL) at
  15, 30 and 60 minutes, of the sampled paths' own chance, the distance above the line and the course of the last hour, under the
  condition that a lower reading, a faster fall or a nearer line gives no smaller chance.
Each depends on those before it as the program is built with them: after changing CORRECTION, build, write the features again
and fit the others.
"Carried over" figures are of data sets left out of the fit, one at a time.
"""
import pathlib
import re
import sys

import numpy as np
from scipy.optimize import lsq_linear, minimize
from sklearn.metrics import roc_auc_score

POINTS, FEATURES, HALF = 12, 13, 128
HORIZONS = (3, 6, 9, 12)
RIDGE = 300.0
GAP_MINUTES = 16.0
INSULIN, CARBOHYDRATE = (9, 10), (11, 12)
BEGUN = 36


def load(path):
    rows = np.fromfile(path).reshape(-1, 6 + 4 * POINTS + FEATURES)
    people = [line.split(",") for line in pathlib.Path(f"{path}.people").read_text().split()]
    sample = np.fromfile(f"{path}.sample").reshape(POINTS, HALF)
    return rows, people, sample


def came(t, g):
    """Readings that came at each point of the hour, on straight lines between readings at most GAP_MINUTES apart."""
    out = np.full((len(t), POINTS), np.nan)
    for k in range(POINTS):
        due = t + 5.0 * (k + 1)
        j = np.searchsorted(t, due)
        ok = j < len(t)
        j = np.minimum(j, len(t) - 1)
        i = np.maximum(j - 1, 0)
        apart = t[j] - t[i]
        value = g[i] + (due - t[i]) / np.maximum(apart, 1e-9) * (g[j] - g[i])
        out[:, k] = np.where(ok & (apart <= GAP_MINUTES), value, np.nan)
    return out


class Wearer:
    def __init__(self, rows):
        self.t, self.g, self.rate = rows[:, 1], rows[:, 2], rows[:, 3]
        self.carbohydrate, self.insulin = rows[:, 4], rows[:, 5]
        parts = rows[:, 6:6 + 4 * POINTS].reshape(-1, 4, POINTS)
        self.plain, self.plain_variance, self.mean, self.variance = (parts[:, k] for k in range(4))
        self.features = rows[:, 6 + 4 * POINTS:]
        self.came = came(self.t, self.g)
        gap = np.concatenate([[True], np.diff(self.t) > GAP_MINUTES])
        since = self.t - np.maximum.accumulate(np.where(gap, self.t, -np.inf))
        self.good = np.isfinite(self.came).all(1) & (since > 60)
        back = np.searchsorted(self.t, self.t - 15.1)
        self.falls = (self.g >= 70) & (self.g <= 130) & ((self.g - self.g[back]) / 15 <= -1)


def normal_equations(wearer, point):
    error = wearer.came[:, point - 1] - wearer.plain[:, point - 1]
    ok = wearer.good
    x, y = wearer.features[ok], error[ok]
    if len(y) < 300:
        return None
    sd = y.std()
    y = np.clip(y, -4 * sd, 4 * sd)
    # Each wearer weighs as much as a thousand forecasts of the usual error.
    weight = 1000.0 / len(y) / y.var()
    return x.T @ x * weight, x.T @ y * weight


def fit_correction(wearers, point):
    parts = [p for p in (normal_equations(w, point) for w in wearers) if p]
    a = sum(p[0] for p in parts) + RIDGE / 1000.0 * np.eye(FEATURES)
    b = sum(p[1] for p in parts)
    low, high = np.full(FEATURES, -np.inf), np.full(FEATURES, np.inf)
    high[list(INSULIN)], low[list(CARBOHYDRATE)] = 1e-9, -1e-9
    root = np.linalg.cholesky(a).T
    return lsq_linear(root, np.linalg.solve(root.T, b), bounds=(low, high)).x


def spread(wearers, point, coef):
    ratios = []
    for w in wearers:
        if w.good.sum() >= 300:
            e = w.came[w.good, point - 1] - w.plain[w.good, point - 1] - w.features[w.good] @ coef
            ratios.append(np.mean(e ** 2 / w.plain_variance[w.good, point - 1]))
    return float(np.exp(np.mean(np.log(ratios))))


def correction(wearers, sets):
    print("CORRECTION and SPREAD")
    for point in HORIZONS:
        coef = fit_correction(wearers, point)
        ratios = {}
        for name in sorted(set(sets)):
            left_out = fit_correction([w for w, s in zip(wearers, sets) if s != name], point)
            for w, s in zip(wearers, sets):
                if s == name and w.good.sum() >= 300:
                    e = w.came[w.good, point - 1] - w.plain[w.good, point - 1]
                    ratios.setdefault(name, []).append(np.mean((e - w.features[w.good] @ left_out) ** 2) / np.mean(e ** 2))
        print(f"{5 * point:3d} min [{', '.join(f'{c:.2f}' for c in coef)}]  spread {spread(wearers, point, coef):.2f}; carried over, "
              f"mean squared error of the model's: " + ", ".join(f"{k} {np.mean(v):.3f}" for k, v in ratios.items()))


# --- shape

LINES, SHOWN = (70.0, 54.0, 90.0), (3, 6, 12)
TRAITS = 7


def traits(w, m):
    level, rate = np.clip(w.g[m], 40, 400), w.rate[m]
    one = np.ones(m.sum() if m.dtype == bool else len(m))
    return np.stack([one, np.log(level / 130), np.maximum(0, (95 - level) / 25), np.clip(-rate, 0, 5), np.clip(rate, 0, 5),
                     np.minimum(w.carbohydrate[m] / 50, 2), np.minimum(w.insulin[m] / 50, 2)], 1)


def factors(x, weights):
    return np.exp(np.clip(x @ weights[:TRAITS], -1.2, 1.2)), np.exp(np.clip(x @ weights[TRAITS:], -1.2, 1.2))


HALF_MEAN = 1 / np.sqrt(2 * np.pi)


def bent(y):
    return np.where(y >= 60, y, 60 - 40 * (60 - y) / (40 + np.maximum(60 - y, 0)))


class Windows:
    """Forecasts of many wearers, each wearer weighing the same: all kinds of moments, and falls."""
    def __init__(self, wearers, sample, seed=1, each=1500, falls=600):
        rng = np.random.default_rng(seed)
        parts, falling = [], []
        for w in wearers:
            ok = np.where(w.good & (np.arange(len(w.t)) > BEGUN))[0]
            low = ok[w.falls[ok]]
            if len(ok) < 300:
                continue
            take = lambda pool, n: rng.choice(pool, min(n, len(pool)), False)
            parts.append(self.of(w, take(ok, each), 1.0))
            if len(low) > 20:
                falling.append(self.of(w, take(low, falls), 1.0))
        join = lambda parts: [np.concatenate([p[k] for p in parts]) for k in range(5)]
        self.all, self.falls, self.sample = join(parts), join(falling), sample

    @staticmethod
    def of(w, m, weight):
        return traits(w, m), w.mean[m], w.variance[m], w.came[m], np.full(len(m), weight / np.sqrt(len(m)))

    def likelihood(self, weights):
        x, mean, variance, y, weight = self.all
        down, up = factors(x, weights)
        total = 0
        for point in SHOWN:
            sd = np.sqrt(variance[:, point - 1])
            middle = mean[:, point - 1] - HALF_MEAN * (up - down) * sd
            z = np.clip((y[:, point - 1] - middle) / sd, -6, 6)
            scale = np.where(z < 0, down, up)
            total += np.sum(weight * (np.log(sd * (up + down) / 2) + 0.5 * np.minimum((z / scale) ** 2, 25)))
        return total / weight.sum()

    def chances(self, weights, part, lines=LINES):
        x, mean, variance, y, _ = part
        down, up = (f[:, None] for f in factors(x, weights))
        out = {}
        lowest = [np.full((len(x), HALF), np.inf, np.float32) for _ in range(2)]
        for k in range(POINTS):
            sd = np.sqrt(variance[:, k])[:, None].astype(np.float32)
            middle = mean[:, k][:, None] - HALF_MEAN * (up - down) * sd
            for j, sign in enumerate((1, -1)):
                z = sign * self.sample[k][None, :].astype(np.float32) * sd
                path = bent((middle + np.where(z > 0, up, down) * z).astype(np.float32))
                lowest[j] = np.minimum(lowest[j], path)
            if k + 1 in SHOWN:
                for line in lines:
                    out[line, k + 1] = sum(np.clip((line - .5 - low) / 3 + .5, 0, 1).mean(1) for low in lowest) / 2
        return out

    def passage(self, weights, part):
        y, weight, x = part[3], part[4], part[0]
        chances, total, count = self.chances(weights, part), 0, 0
        g = 130 * np.exp(x[:, 1])
        for (line, point), p in chances.items():
            p = np.clip(p, 2e-3, 1 - 2e-3)
            hit = y[:, :point].min(1) < line - .5
            ok = g >= line
            total -= np.sum(weight[ok] * np.where(hit, np.log(p), np.log(1 - p))[ok])
            count += weight[ok].sum()
        return total / count


def ece(y, p, bins=10):
    b = np.minimum((p * bins).astype(int), bins - 1)
    return sum((b == k).mean() * abs(y[b == k].mean() - p[b == k].mean()) for k in range(bins) if (b == k).any())


def fit_shape(windows, evaluations=300):
    start = np.zeros(2 * TRAITS)
    loss = lambda w: windows.likelihood(w) + .002 * np.sum(w ** 2)
    start = minimize(loss, start, method="L-BFGS-B", options=dict(maxiter=60)).x
    both = lambda w: windows.likelihood(w) + 2.0 * windows.passage(w, windows.falls) + .002 * np.sum(w ** 2)
    return minimize(both, start, method="Powell", options=dict(maxfev=evaluations, xtol=.02, ftol=1e-4)).x


def shape(wearers, sample):
    weights = fit_shape(Windows(wearers, sample, each=1000, falls=300))
    for label, part in (("DOWN", weights[:TRAITS]), ("UP", weights[TRAITS:])):
        print(f"{label} [{', '.join(f'{c:.3f}' for c in part)}]")


# --- passage: one calibration of the lowest point of the path, for every line

PASSAGE_LINES = (54.0, 62.0, 70.0, 80.0)
BACK_MINUTES = (5, 15, 30, 60)
UNITS, MOST = np.array([1.0, 5, 10, 20, 30]), np.array([5.0, 4, 5, 4, 4])
# Where a law would be broken the loss grows by this much of the square of the slope.
LAW = 3000.0


def constants(name):
    text = pathlib.Path(__file__).parents[2].joinpath("core/engine/src/forecast/population.rs").read_text()
    return [float(x) for x in re.search(rf"{name}: \[f64; 7\] =\s*\[(.*?)\]", text, re.S)[1].replace("\n", " ").split(",") if x.strip()]


def design(odds, above, course):
    """The features of core/src/forecast/lowest.rs: log-odds of the paths, distance above the line in mg/dL, and the course: rate
    and changes over 5, 15, 30 and 60 minutes."""
    z = np.clip(course / UNITS, -MOST, MOST)
    distance = np.log(np.maximum(above, 0) + 4)[:, None]
    return np.concatenate([np.ones_like(distance), odds[:, None], distance, distance * z, z] + [z[:, [k]] * z[:, k:] for k in range(5)], 1)


class Cases:
    """For one horizon: whether a line was crossed, and what was known."""
    def __init__(self, wearers, sets, sample, point, each=700, falls=5000, seed=1):
        rng, weights, parts = np.random.default_rng(seed), np.r_[constants("DOWN"), constants("UP")], []
        windows = Windows.__new__(Windows)
        windows.sample = sample
        for w, name in zip(wearers, sets):
            ok = np.where(w.good & (np.arange(len(w.t)) > BEGUN))[0]
            if len(ok) < 300:
                continue
            for pool, many, factor in ((ok, each, 1.0), (ok[w.falls[ok]], falls, 3.0)):
                m = rng.choice(pool, min(len(pool), many), False)
                part = Windows.of(w, m, factor)
                for (line, at), p in windows.chances(weights, part, PASSAGE_LINES).items():
                    if at != point:
                        continue
                    k, p = (w.g[m] >= line) & (w.g[m] < line + 90), np.clip(p, 1e-4, 1 - 1e-4)
                    course = np.column_stack([w.rate] + [w.g - np.interp(w.t - back, w.t, w.g) for back in BACK_MINUTES])[m]
                    hit = w.came[m, :point].min(1) < line - .5
                    parts.append((np.log(p / (1 - p))[k], (w.g[m] - line)[k], course[k], hit[k], part[4][k], np.full(k.sum(), line),
                                  np.full(k.sum(), factor > 1), np.full(k.sum(), name)))
        self.odds, self.above, self.course, self.hit, self.weight, self.line, self.fall, self.set = (np.concatenate([p[k] for p in parts]) for k in range(8))

    def some(self, m):
        out = Cases.__new__(Cases)
        for name, values in vars(self).items():
            setattr(out, name, values[m])
        return out

    def design(self):
        return design(self.odds, self.above, self.course)


def lawful(cases):
    """Changes of the features that must not lower the chance, a mg/dL: the newest reading lower, the last three falling faster, the
    line nearer."""
    some = cases.some(np.random.default_rng(0).choice(len(cases.hit), min(len(cases.hit), 20000), False))
    # The rate by the estimate follows the changes of readings.
    follows = np.linalg.lstsq(some.course[:, 1:], some.course[:, 0], rcond=None)[0]
    here, out = some.design(), []
    for step in (2.0, 8.0):
        for lower in (np.ones(4), np.array([1 / 3, 1, 1, 1]), np.zeros(4)):
            moved = -step * np.r_[follows @ lower, lower]
            out.append((design(some.odds, some.above - step, some.course + moved) - here) / step)
    return np.concatenate(out)


def fit_passage(cases):
    x, y, w = cases.design(), cases.hit.astype(float), cases.weight / cases.weight.sum()
    mean, sd = x.mean(0), x.std(0)
    mean[0], sd[0] = 0, 1
    laws = lawful(cases) / sd
    x = (x - mean) / sd

    def loss(b):
        f = x @ b
        slope = laws @ b
        short = np.minimum(slope - 0.002, 0)
        value = np.sum(w * (np.logaddexp(0, f) - y * f)) + LAW * np.mean(short ** 2) + 1e-5 * np.sum(b[1:] ** 2)
        gradient = x.T @ (w * (1 / (1 + np.exp(-f)) - y)) + LAW * 2 * laws.T @ short / len(short)
        gradient[1:] += 2e-5 * b[1:]
        return value, gradient

    b = minimize(loss, np.zeros(x.shape[1]), jac=True, method="L-BFGS-B", options=dict(maxiter=500)).x
    slope = laws @ b
    weights = b / sd
    weights[0] -= np.sum((weights * mean)[1:])
    return weights, np.mean(slope < -1e-3)


def report(cases, weights, name):
    for line in (70.0, 54.0):
        one = cases.some(cases.fall & (cases.line == line))
        if one.hit.sum() < 20:
            continue
        q, raw = 1 / (1 + np.exp(-one.design() @ weights)), 1 / (1 + np.exp(-one.odds))
        print(f"  {name}, below {line:.0f} in 30 min: {len(one.hit)} falls, came {one.hit.mean():.3f} shown {q.mean():.3f}; AUC {roc_auc_score(one.hit, q):.4f} (raw {roc_auc_score(one.hit, raw):.4f}), "
              f"Brier {np.mean((one.hit - q) ** 2):.4f} (raw {np.mean((one.hit - raw) ** 2):.4f}), calibration error {ece(one.hit, q):.3f}", flush=True)


def passage(wearers, sets, sample):
    for point in SHOWN:
        cases = Cases(wearers, sets, sample, point)
        if point == 6:
            for name in sorted(set(sets)):
                if (cases.fall & (cases.set == name)).sum() >= 300:
                    report(cases.some(cases.set == name), fit_passage(cases.some(cases.set != name))[0], f"carried over to {name}")
        weights, broken = fit_passage(cases)
        print(f"PASSAGE {5 * point:3d} min, laws broken at {broken:.4f} [{', '.join(f'{c:.3f}' for c in weights)}]", flush=True)


if __name__ == "__main__":
    rows, people, sample = load(sys.argv[1])
    wearers = [Wearer(rows[rows[:, 0] == k]) for k in range(len(people))]
    sets = [p[0] for p in people]
    print(f"{len(wearers)} wearers of {len(set(sets))} sets, {len(rows)} readings")
    if len(sys.argv) < 3 or sys.argv[2] == "correction":
        correction(wearers, sets)
    if len(sys.argv) < 3 or sys.argv[2] == "shape":
        shape(wearers, sample)
    if len(sys.argv) < 3 or sys.argv[2] == "passage":
        passage(wearers, sets, sample)
