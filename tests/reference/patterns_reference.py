"""Core's patterns against SciPy: the looks and their null written again in NumPy, the tests SciPy's own.

  patterns_reference.py CASES     CASES: what `pattern-cases` wrote

Windows of the clock are tested by scipy.stats.monte_carlo_test with days turned at random, looks at weekdays by
scipy.stats.permutation_test with dates permuted. Both kinds are shuffled independently, so the chance that either is as strong as
what was found is 1 - (1 - p)(1 - q). Core draws 999 copies and SciPy as many as stand below, so they may differ by what drawing does.
"""
import json
import sys

import numpy as np
from scipy import stats

BINS = 48
LENGTHS = [1, 2, 4, 6, 8, 12, 16]
# What the strength of every look but those at lows by the clock is lessened by.
HANDICAP = 1.4
COPIES = 4999
WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
rng = np.random.default_rng(5)


def strength(hits, of, expected):
    """n KL(h/n, e/n) above the mean and from three on, else 0."""
    hits, of, expected = np.broadcast_arrays(np.asarray(hits, float), of, expected)
    with np.errstate(divide="ignore", invalid="ignore"):
        rest = of - hits
        value = hits * np.log(hits / expected) + np.where(rest > 0, rest * np.log(rest / (of - expected)), 0.0)
    return np.where((hits >= 3) & (hits > expected) & (of >= 4), value, 0.0)


def clock(case):
    """Dates, one without readings before and after: whether readings cover a half hour, and whether it was low in it."""
    days = case["days"] + 2
    covered, low = np.zeros((days, BINS), bool), np.zeros((days, BINS), bool)
    for half in range(case["days"] * BINS):
        minute = half * 30 % 1440
        covered[half // BINS + 1, half % BINS] = not any(a <= minute < b for a, b in case["gaps"])
    for begin, end in case["lows"]:
        for half in range(begin // 30, (end - 1) // 30 + 1):
            place = half // BINS + 1, half % BINS
            low[place] = covered[place]
    return covered, low


def in_windows(bins, count):
    """For each length and start, the number of set bins in the window of each day: (lengths, days, starts)."""
    following = np.concatenate([bins[..., 1:, :], np.zeros_like(bins[..., :1, :])], axis=-2)
    both = np.concatenate([bins, following], axis=-1).astype(np.int16)
    sums = np.concatenate([np.zeros_like(both[..., :1]), np.cumsum(both, axis=-1)], axis=-1)
    parts = [sums[..., length : length + BINS] - sums[..., :BINS] for length in LENGTHS]
    return np.stack([part if count else part > 0 for part in parts])


def turned(covered, low, copies):
    """Copies in which each day's covered half hours are turned by a random number."""
    out = np.zeros((copies, *low.shape), bool)
    for day in range(low.shape[0]):
        bins = np.flatnonzero(covered[day])
        if bins.size:
            by = rng.integers(0, bins.size, copies)
            places = (np.arange(bins.size)[None, :] - by[:, None]) % bins.size
            out[:, day, bins] = low[day, bins][places]
    return out


def mean_counts(covered, low, eligible):
    """The mean count of each window over all turns of all days, which are independent."""
    days = low.shape[0]
    own, following = np.zeros((days, len(LENGTHS), BINS)), np.zeros((days + 1, len(LENGTHS), BINS))
    for day in range(days):
        bins = np.flatnonzero(covered[day])
        for by in range(bins.size):
            turn = np.zeros((2, BINS), bool)
            turn[1, bins] = np.roll(low[day, bins], by)
            hit = in_windows(turn, False)
            own[day] += hit[:, 1] / bins.size
            following[day] += hit[:, 0] / bins.size
    met = 1 - (1 - own) * (1 - following[1:])
    return (met.transpose(1, 0, 2) * eligible).sum(axis=1)


def check(case):
    covered, low = clock(case)
    need = np.ceil(0.7 * np.array(LENGTHS))[:, None, None]
    eligible = in_windows(covered, True) >= need
    of = eligible.sum(axis=1)

    def counts(copies):
        # (copies, days, bins) to (copies, lengths, starts), some at a time: memory.
        parts = []
        for part in np.array_split(copies, max(1, len(copies) // 500)):
            hit = np.stack([in_windows(one, False) for one in part])
            parts.append((hit & eligible[None]).sum(axis=2))
        return np.concatenate(parts)

    expected = mean_counts(covered, low, eligible)
    observed = counts(low[None])[0]

    def strongest(sample, axis=-1):
        sample = np.moveaxis(np.asarray(sample), axis, -1)
        flat = sample.reshape(-1, *low.shape) > 0.5
        return strength(counts(flat), of, expected).max(axis=(1, 2)).reshape(sample.shape[:-1])

    scan = stats.monte_carlo_test(
        low.astype(float).ravel(),
        lambda size: turned(covered, low, size[0]).reshape(size).astype(float),
        strongest, vectorized=True, n_resamples=COPIES, batch=1000, alternative="greater",
    )

    begun = np.zeros(case["days"])
    for begin, _ in case["lows"]:
        begun[begin // 1440] = 1.0
    weekday = np.arange(case["days"]) % 7
    labels = {f"LowsOn {{ weekday: {name} }}": weekday == k for k, name in enumerate(WEEKDAYS)}
    labels |= {"LowsAtWeekends": weekday >= 5, "LowsOnWorkdays": weekday < 5}
    labels = {name: is_in for name, is_in in labels.items() if 4 <= is_in.sum() <= case["days"] - 4}
    sums = np.array([label.sum() for label in labels.values()])
    mean = sums * begun.mean()

    def strongest_dates(sample, axis=-1):
        sample = np.moveaxis(np.asarray(sample), axis, -1)
        hits = np.stack([sample[..., label].sum(axis=-1) for label in labels.values()], axis=-1)
        return np.maximum(strength(hits, sums, mean) - HANDICAP, 0.0).max(axis=-1)

    dates = stats.permutation_test(
        (begun,), strongest_dates, permutation_type="pairings", vectorized=True, n_resamples=COPIES, alternative="greater", rng=rng,
    )

    looks = int((of >= 4).sum()) * 2 + 2 * len(labels)
    assert case["looks"] == looks, (case["name"], case["looks"], looks)
    lines, scanned = [], False
    for pattern in case["patterns"]:
        if pattern["kind"] == "LowsBetween":
            start, end = pattern["from_minute"] // 30, pattern["until_minute"] // 30
            place = LENGTHS.index((end - start) % BINS), start
            hits, n, mean_hits = observed[place], of[place], expected[place]
            # What is left after the first window has fewer.
            hits = pattern["hits"] if scanned else hits
        else:
            place = list(labels).index(pattern["kind"])
            hits, n, mean_hits = begun[labels[pattern["kind"]]].sum(), sums[place], mean[place]
        assert (pattern["hits"], pattern["of"]) == (hits, n), (case["name"], pattern, hits, n)
        assert abs(pattern["expected"] - mean_hits) < 1e-6, (case["name"], pattern, mean_hits)
        if pattern["corrected_p"] == 1.0:
            continue
        if pattern["kind"] == "LowsBetween":
            # The hours that are shown lie around the strongest window, whose strength counts. A second window has a null of its own.
            if scanned:
                continue
            scanned, line = True, float(scan.statistic) - 1e-9
        else:
            # Core's strength rests on its own mean, so the line is drawn through it.
            line = max(float(strength(pattern["hits"], pattern["of"], pattern["expected"])) - HANDICAP, 0.0) - 1e-9
        p = [(1 + (one.null_distribution >= line).sum()) / (1 + one.null_distribution.size) for one in (scan, dates)]
        both = 1 - (1 - p[0]) * (1 - p[1])
        sd = np.sqrt(max(both * (1 - both), 1e-3) * (1 / case["shuffles"] + 1 / COPIES))
        lines.append((pattern["kind"], pattern["corrected_p"], both, sd))
        assert abs(pattern["corrected_p"] - both) < 4 * sd, (case["name"], pattern, both, sd)
    assert lines, case["name"]
    for kind, core, scipy, sd in lines[:2]:
        print(f"{case['name']}: {kind} core {core:.3f} SciPy {scipy:.3f} (sd of drawing {sd:.3f})")


with open(sys.argv[1]) as file:
    for case in json.load(file):
        check(case)
