"""What readings and a complete log can tell of lows on the other simulator: a limit for any rule in ../shared/evaluation/trial.py.

    other_simulator.py draw SHARED FOLDER WEARER...   undisturbed wearers of `simglucose`, four days each (some two minutes a wearer)
    other_simulator.py judge PROGRAM FOLDER           the engine's chance, the slope of 15 minutes and trees on the same falls

A fall is a reading below 130 mg/dL that lies more than 2 mg/dL under the one of 15 minutes before, with blood glucose at 70 or above; what
comes is blood glucose below 70 within 35 minutes. The trees get 13 readings, insulin and carbohydrate that still act by the wearer's own
factors, and the hour; each wearer's falls are judged by trees fitted on the other wearers of the same simulator. Nothing of the engine was
fitted on these wearers. Needs what trial.py needs (`simglucose`, numpy, pandas) and scikit-learn.
"""

import csv
import datetime
import json
import os
import subprocess
import sys
from pathlib import Path

import numpy as np

SEED, DAYS, AHEAD_MINUTES = 61, 4, 35
BEGIN = datetime.datetime(2026, 1, 1)


def draw(shared, folder, wearers):
    sys.path.insert(0, str(Path(shared) / "evaluation"))
    import trial

    source = (Path(shared) / "evaluation" / "trial.py").read_text()
    body = source[source.index("def run(name") : source.index("if __name__")]
    keep = (
        "        if m % STEP == 0 and m >= 360: kept.append((m, g, '', ''))\n"
        "        true.append(blood)\n"
        "        if carb or dose: kept.append((m, '', round(dose, 2) or '', round(carb, 1) or ''))\n"
    )
    body = body.replace("        if act:\n", keep + "        if act:\n", 1)
    for wearer in wearers:
        kept, true, factors = [], [], []
        space = vars(trial) | {"kept": kept, "true": true}
        exec(body, space)

        def nothing(insulin, carbohydrate, factors=factors):
            factors[:] = [insulin, carbohydrate]
            return trial.Rule(trial.RULES["never"])

        space["run"](trial.NAMES[wearer - 1], DAYS, SEED * 1000 + wearer, "never", nothing)
        with open(Path(folder) / f"wearer-{wearer:02d}.csv", "w", newline="") as file:
            table = csv.writer(file)
            table.writerow("timestamp,glucose_mgdl,meter_mgdl,bolus_u,carb_g,rescue_g".split(","))
            for minute, reading, dose, carb in sorted(kept, key=lambda row: row[0]):
                table.writerow([(BEGIN + datetime.timedelta(minutes=minute)).isoformat(), reading, "", dose, carb, ""])
        np.save(Path(folder) / f"wearer-{wearer:02d}.npy", np.array(factors + true))
        print(wearer, flush=True)


def falls(program, path):
    """Per fall: the features, whether the low came, the chance and the verdict shown."""
    known = np.load(path.with_suffix(".npy"))
    insulin_factor, carb_factor, true = known[0], known[1], known[2:]
    factors = ["--insulin-factor", f"{insulin_factor:.1f}", "--carbs-factor", f"{carb_factor:.2f}"]
    answers = subprocess.run([program, "replay", str(path), "--json", *factors], capture_output=True, text=True, check=True)
    readings, doses, meals = {}, [], []
    for row, line in zip(csv.DictReader(open(path)), answers.stdout.splitlines(), strict=True):
        minute = int((datetime.datetime.fromisoformat(row["timestamp"]) - BEGIN).total_seconds() // 60)
        if row["bolus_u"]:
            doses.append((minute, float(row["bolus_u"])))
        if row["carb_g"]:
            meals.append((minute, float(row["carb_g"])))
        if not row["glucose_mgdl"]:
            continue
        readings[minute] = float(row["glucose_mgdl"])
        course = [readings.get(minute - 5 * k, np.nan) for k in range(13)]
        to_come = true[minute : minute + AHEAD_MINUTES + 1]
        if not (course[0] < 130 and course[0] < course[3] - 2) or len(to_come) <= AHEAD_MINUTES or to_come[0] < 70:
            continue
        left = lambda log, minutes: sum(amount * max(0, 1 - (minute - at) / minutes) for at, amount in log if at <= minute)
        answer = json.loads(line)
        wait = (answer.get("futures") or {}).get("wait") or {}
        features = [*course, insulin_factor * left(doses, 240), carb_factor * left(meals, 150), minute % 1440 / 60]
        yield features, to_come.min() < 70, wait.get("p_low_30", np.nan), answer["verdict"]


def judge(program, folder):
    from sklearn.ensemble import HistGradientBoostingClassifier
    from sklearn.metrics import roc_auc_score

    found = [(path.stem, *fall) for path in sorted(Path(folder).glob("wearer-*.csv")) for fall in falls(program, path)]
    found = [one for one in found if np.isfinite(one[3])]
    who, came = np.array([one[0] for one in found]), np.array([one[2] for one in found])
    features, shown = np.array([one[1] for one in found]), np.array([one[3] for one in found])
    trees = np.zeros(len(found))
    for one in set(who):
        others = HistGradientBoostingClassifier(max_iter=150, learning_rate=0.05, max_leaf_nodes=15, min_samples_leaf=40, random_state=1)
        trees[who == one] = others.fit(features[who != one], came[who != one]).predict_proba(features[who == one])[:, 1]
    print(f"{len(set(who))} wearers, {len(found)} falls; below 70 mg/dL within {AHEAD_MINUTES} minutes after {came.mean():.3f} of them")
    for name, score in (("engine, if you wait", shown), ("trees on the others", trees)):
        print(f"{name}: AUC {roc_auc_score(came, score):.3f}")
        for caught in (0.5, 0.7, 0.9):
            said = score >= np.quantile(score[came], 1 - caught)
            print(f"  with {caught:.0%} of what came caught, needless {1 - came[said].mean():.3f}")
    course = features[:, 0] + np.minimum(0, features[:, 0] - features[:, 3])
    for name, said in (("slope of 15 minutes, 15 ahead, below 72", course < 72), ("engine says treat", np.array([one[4] == "treat" for one in found]))):
        print(f"{name}: caught {(came & said).sum() / came.sum():.3f}, needless {1 - came[said].mean():.3f}")


if __name__ == "__main__":
    if sys.argv[1] == "draw":
        os.makedirs(sys.argv[3], exist_ok=True)
        draw(sys.argv[2], sys.argv[3], [int(one) for one in sys.argv[4:]])
    else:
        judge(sys.argv[2], sys.argv[3])
