"""Gradient-boosted trees (scikit-learn) as a baseline for the chance of a low at a falling reading, beside those that `evaluate` has.

  trees.py FOLDER     FOLDER: what `evaluate FOLDER` is given, one folder a set and one table of readings a person

The trees get what the regression gets, the last 13 readings, and the differences between neighbours, and are fitted on the falling
readings of the same people as it: the first half of each set. The others are scored, as `evaluate` scores its own chance.
"""
import pathlib
import sys

import numpy as np
from scores_reference import PAST, falling, forecast_scores, load, windows
from sklearn.ensemble import HistGradientBoostingClassifier

# Two hundred small steps, scikit-learn's own depth and size of leaves (assumption: a usual size, searched on nothing).
STEPS, STEP, SEED = 200, 0.05, 1


def features(rows):
    past = rows[:, :PAST]
    return np.concatenate([past, past[:, :-1] - past[:, 1:]], axis=1)


def falls_of(rows):
    return rows[falling(rows[:, 0], rows[:, 3])]


def main(folder):
    people = {one.name: sorted(one.glob("*.csv")) for one in sorted(folder.iterdir()) if one.is_dir()}
    rows_of = lambda paths: np.concatenate([windows(*load(path)) for path in paths])
    aside = falls_of(rows_of([path for paths in people.values() for path in paths[: len(paths) // 2]]))
    trees = HistGradientBoostingClassifier(max_iter=STEPS, learning_rate=STEP, random_state=SEED)
    trees.fit(features(aside), aside[:, PAST:].min(axis=1) < 70)
    print(f"trees fitted on {len(aside)} falling readings of people who are not scored")
    for name, paths in people.items():
        falls = falls_of(rows_of(paths[len(paths) // 2 :]))
        # Trees say nothing of the reading half an hour ahead, so its error is left out of what is printed.
        scores = forecast_scores(falls, falls[:, 0], trees.predict_proba(features(falls))[:, 1])
        print(f"{name}: {len(falls)} falling readings, AUC {scores['auc']:.4f}, Brier {scores['brier']:.4f}, ECE {scores['ece']:.4f}")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(pathlib.Path(sys.argv[1]))
