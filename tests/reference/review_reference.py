"""The figures of a review, computed from the papers' formulas with NumPy, by other code than core's.

  review_reference.py FOLDER     FOLDER: open traces (sets of CSV files); writes JSON to standard output

`tests/review.rs` compares core with this file's output, kept in tests/fixtures/review.json. Beside the open traces stand two
invented ones that both sides make from the same linear congruential generator: one read every 5 minutes, whose percentiles
are numpy.percentile's own, and one with spacings of 1, 5 and 15 minutes and gaps.
"""
import csv
import datetime
import json
import pathlib
import sys

import numpy as np

QS = np.array([10, 25, 50, 75, 90])


def load(path):
    rows = []
    with open(path, newline="") as file:
        for row in csv.reader(file):
            try:
                time = datetime.datetime.fromisoformat(row[0])
                value = float(row[1])
            except (ValueError, IndexError):
                continue
            if 20 <= value <= 600:
                rows.append((round(time.replace(tzinfo=datetime.timezone.utc).timestamp()), value))
    rows.sort(key=lambda row: row[0])
    seconds, values = np.array([row[0] for row in rows]), np.array([row[1] for row in rows])
    seconds, first = np.unique(seconds, return_index=True)
    return seconds / 60.0, values[first]


def numbers(seed, count):
    out = []
    for _ in range(count):
        seed = (seed * 1103515245 + 12345) % 2**31
        out.append(seed >> 8)
    return np.array(out)


def invented(steps, days, seed):
    """Minutes from 2026-01-01T00:00 and whole mg/dL: a walk that stays within 40 to 320."""
    minutes, now, k = [], 0, 0
    while now < days * 1440:
        minutes.append(now)
        now += steps[(k // 100) % len(steps)]
        k += 1
        if len(steps) > 1 and k % 177 == 0:
            now += 240
    level, values = 120, []
    for number in numbers(seed, len(minutes)):
        level += int(number % 25) - 12 + (1 if level < 100 else 0) - (1 if level > 190 else 0)
        level = min(max(level, 40), 320)
        values.append(float(level))
    start = datetime.datetime(2026, 1, 1, tzinfo=datetime.timezone.utc).timestamp() / 60
    return np.array(minutes, float) + start, np.array(values)


def rhythm(gaps, place):
    """The gap that a third of the time of an hour on either side lies below; None where all neighbours are far."""
    near = []
    for side in (gaps[:place][::-1], gaps[place:]):
        near.extend(side[np.cumsum(side) <= 60])
    near = np.sort([gap for gap in near if gap <= 20])
    passed = np.cumsum(near)
    return float(near[np.argmax(passed > passed[-1] / 3)]) if len(near) else None


def once(minutes, values):
    """Which readings are no repeat of another: nearly the same, within less than half the rhythm and half a gap beside."""
    gaps, kept, mask = np.diff(minutes), None, np.ones(len(minutes), bool)
    for place in range(len(minutes)):
        if kept is not None:
            apart = minutes[place] - minutes[kept]
            beside = [gaps[kept - 1]] if kept > 0 else []
            beside += [gaps[place]] if place < len(gaps) else []
            if any(apart < gap / 2 for gap in beside) and abs(values[kept] - values[place]) <= 2 and apart < 10:
                usual = rhythm(gaps, place)
                mask[place] = usual is None or not apart < usual / 2
        if mask[place]:
            kept = place
    return mask


def stand(minutes):
    """Minutes each reading stands for."""
    gaps = np.diff(minutes)
    after, before = np.append(gaps, np.inf), np.append(np.inf, gaps)
    nearer = np.minimum(after, before)
    own = nearer.copy()
    for place in np.flatnonzero((nearer <= 20) & (after > 1.5 * nearer)):
        usual = rhythm(gaps, place)
        if usual is not None and nearer[place] < usual / 2:
            own[place] = usual
    weight = np.where(after <= 1.5 * own, after, own)
    weight = np.where(nearer > 20, np.minimum(5, after), weight)
    return weight


def turning_legs(values, sd):
    """Legs above one SD: turning points thinned out from the smallest leg upwards."""
    points = [values[0]]
    for value in values[1:]:
        if len(points) > 1 and (points[-1] - points[-2]) * (value - points[-1]) >= 0:
            points[-1] = value
        else:
            points.append(value)
    while len(points) > 1:
        legs = np.abs(np.diff(points))
        smallest = int(legs.argmin())
        if legs[smallest] > sd:
            break
        if smallest == 0:
            points.pop(0)
        elif smallest == len(legs) - 1:
            points.pop()
        else:
            del points[smallest : smallest + 2]
    return np.diff(points)


def episodes(minutes, weight, beyond):
    found, run = [], None
    for at, stands, out, previous in zip(minutes, weight, beyond, np.append(-np.inf, (minutes + weight)[:-1])):
        if run and at - previous > 20:
            if run["lasted"]:
                found.append((run["start"], run["end"]))
            run = None
        if out:
            if run is None:
                run = {"start": at, "out": 0.0, "lasted": False}
            run["out"] += stands
            run["lasted"] = run["lasted"] or run["out"] >= 14.5
            run["end"], run["back"] = at + stands, None
        elif run:
            if not run["lasted"]:
                run = None
                continue
            first, lasted = run["back"] or (at, 0.0)
            run["back"] = (first, lasted + stands)
            if run["back"][1] >= 14.5:
                found.append((run["start"], first))
                run = None
    if run and run["lasted"]:
        found.append((run["start"], run["end"]))
    return [len(found), float(sum(end - start for start, end in found))]


def figures(minutes, values, plain_percentiles=False):
    mask = once(minutes, values)
    minutes, values = minutes[mask], values[mask]
    weight = stand(minutes)
    total = weight.sum()
    mean = np.average(values, weights=weight)
    sd = float(np.sqrt(np.cov(values, aweights=weight, ddof=1)))
    f = 1.509 * (np.log(values) ** 1.084 - 5.381)
    whole = np.floor(values + 0.5)
    edges = [-np.inf, 54, 70, 181, 251, np.inf]
    shares = [100 * weight[(whole >= low) & (whole < high)].sum() / total for low, high in zip(edges, edges[1:])]
    day = np.floor(minutes / 1440).astype(int)
    mage = []
    for date in np.unique(day):
        inside = day == date
        if weight[inside].sum() >= 0.7 * 1440:
            day_sd = float(np.sqrt(np.cov(values[inside], aweights=weight[inside], ddof=1)))
            legs = turning_legs(list(values[inside]), day_sd)
            if len(legs):
                mage.append(np.abs(legs[np.sign(legs) == np.sign(legs[0])]).mean())
    # In whole seconds, so that two readings as near are as near.
    seconds = np.round(minutes * 60).astype(np.int64)
    nearest = np.searchsorted(seconds, seconds - 86400)
    best, off = np.zeros(len(minutes), int), np.full(len(minutes), np.inf)
    for shift in (0, -1):
        place = np.clip(nearest + shift, 0, len(minutes) - 1)
        distance = np.abs(seconds[place] - (seconds - 86400))
        best, off = np.where(distance < off, place, best), np.minimum(distance, off)
    paired = off <= 450
    apart = np.abs(values - values[best])[paired]
    hours = []
    for hour in range(24):
        inside = (minutes // 60).astype(int) % 24 == hour
        if len(np.unique(day[inside])) < 5:
            hours.append(None)
            continue
        if plain_percentiles:
            hours.append(list(np.percentile(values[inside], QS)))
            continue
        order = np.lexsort((weight[inside], values[inside]))
        x, w = values[inside][order], weight[inside][order]
        hours.append(list(np.interp(QS / 100, (np.cumsum(w) - w) / (w.sum() - w), x)))
    return {
        "readings": len(values),
        "covered_minutes": total,
        "mean": mean,
        "sd": sd,
        "shares": shares,
        "lbgi": np.average(np.where(f < 0, 10 * f**2, 0), weights=weight),
        "hbgi": np.average(np.where(f > 0, 10 * f**2, 0), weights=weight),
        "gri": min(100, 3 * shares[0] + 2.4 * shares[1] + 0.8 * shares[3] + 1.6 * shares[4]),
        "mage": float(np.mean(mage)) if mage else None,
        "modd": np.average(apart, weights=weight[paired]) if paired.any() else None,
        "modd_minutes": weight[paired].sum(),
        "hours": hours,
        "episodes": [
            episodes(minutes, weight, whole < 70),
            episodes(minutes, weight, whole < 54),
            episodes(minutes, weight, whole > 180),
            episodes(minutes, weight, whole > 250),
        ],
    }


def short(figure):
    """Nine decimals: what every machine's NumPy agrees on."""
    if isinstance(figure, dict):
        return {name: short(one) for name, one in figure.items()}
    if isinstance(figure, (list, tuple)):
        return [short(one) for one in figure]
    return round(float(figure), 9) if isinstance(figure, (float, np.floating)) else figure


def main():
    found = {
        "invented/regular": figures(*invented([5], 20, 1), plain_percentiles=True),
        "invented/mixed": figures(*invented([1, 5, 15], 20, 2)),
    }
    folder = pathlib.Path(sys.argv[1])
    for path in sorted(folder.glob("*/*.csv")):
        found[f"{path.parent.name}/{path.name}"] = figures(*load(path))
    json.dump(short(found), sys.stdout, indent=1)
    print()


if __name__ == "__main__":
    main()
