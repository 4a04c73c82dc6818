"""What readings and a complete log can tell of lows on another simulator than the trial's: a limit for any rule there.

    other_simulator.py draw FOLDER WEARER...    wearers (1 to 30) of `simglucose` for four days each, some two minutes a wearer
    other_simulator.py judge PROGRAM FOLDER     the engine's chance, the slope of 15 minutes and trees on the same falls

A fall is a reading below 130 mg/dL that lies more than 2 mg/dL under the one of 15 minutes before, with blood glucose at 70 or above; what
comes is blood glucose below 70 within 35 minutes. The trees get 13 readings, insulin and carbohydrate that still act by the wearer's own
factors, and the hour; each wearer's falls are judged by trees fitted on the other wearers of the same simulator. Nothing of the engine was
fitted on these wearers. Needs numpy, pandas, scikit-learn, and `simglucose` (PyPI, MIT; installed with --no-deps, a stand-in module `gym`
that has `Env` serves).
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
# Readings begin after six hours and come every five minutes; what is eaten goes in by 8 g a minute.
SETTLED_MINUTES, STEP_MINUTES, EAT_G_MIN = 360, 5, 8.0
# Hour, share of the day's carbohydrate, and spread in hours of each meal; the two snacks come every other day.
MEALS = ((7.5, 0.22, 0.5), (12.5, 0.30, 0.7), (18.5, 0.32, 0.8), (21.5, 0.08, 0.5), (15.5, 0.08, 0.6))


def planned(rng, weight_kg, ratio):
    """Meals and doses by their minute. Meals are misjudged by 25 %, doses come up to 25 minutes early or late; of a hundred meals seven
    are dosed twice over and three are dosed and not eaten. All of it assumption."""
    meals, doses = {}, {}
    for day in range(DAYS):
        for hour, share, spread in MEALS:
            if share < 0.1 and rng.rand() < 0.5:
                continue
            at = int((day * 24 + hour + spread * rng.randn()) * 60)
            carb = max(8, share * weight_kg * 3.2 * (1 + 0.25 * rng.randn()))
            dose = max(0, carb * (1 + 0.25 * rng.randn()) / ratio)
            late = int(rng.choice([-10, 0, 0, 10, 25]))
            mishap = rng.rand()
            if mishap < 0.07:
                dose *= 2
            if mishap > 0.03:
                meals[at] = carb
            doses[at + late] = doses.get(at + late, 0) + dose
    return meals, doses


def pressed(rng):
    """In three nights of ten the sensor is lain on, for 20 to 60 minutes: from, until, depth."""
    spells = []
    for day in range(DAYS):
        if rng.rand() < 0.3:
            begin = day * 1440 + int(rng.uniform(0, 300))
            spells.append((begin, begin + int(rng.uniform(20, 60)), rng.uniform(0.25, 0.55)))
    return spells


def undisturbed(wearer):
    """Days of a wearer to whom nobody says anything: factors (mg/dL a unit, a gram), rows (minute, reading, dose, carbohydrate), and blood
    glucose minute by minute. Below 54 mg/dL the wearer notices by themselves, one chance in eight every five minutes, and eats 16 g."""
    import pandas as pd
    import simglucose
    from simglucose.patient.t1dpatient import Action, T1DPatient
    from simglucose.sensor.cgm import CGMSensor

    params = Path(simglucose.__file__).parent / "params"
    name = [f"{kind}#{number:03d}" for kind in ("adolescent", "adult", "child") for number in range(1, 11)][wearer - 1]
    seed = SEED * 1000 + wearer
    rng, habits = np.random.RandomState(seed), np.random.RandomState(seed + 7)
    body = T1DPatient.withName(name, random_init_bg=True, seed=seed)
    sensors = pd.read_csv(params / "sensor_params.csv")
    sensor = CGMSensor.withName(sensors[sensors.sample_time == 5.0].Name.iloc[0], seed=seed)
    own = pd.read_csv(params / "Quest.csv").set_index("Name").loc[name]
    weight_kg = body._params.BW
    basal_at_rest = body._params.u2ss * weight_kg / 6000.0
    meals, doses = planned(rng, weight_kg, own.CR)
    spells = pressed(rng)
    rows, true, factor, eating, treated, pending = [], [], 1.0, 0.0, None, None
    for minute in range(DAYS * 1440):
        if minute % 360 == 0:
            factor = 1 + 0.25 * rng.randn()
        blood = body.state[3] / body._params.Vg
        carb, dose = meals.get(minute, 0), doses.get(minute, 0)
        eating += carb
        basal = basal_at_rest * max(0.2, factor)
        if minute % 1440 in (600, 960, 1260) and blood > 220:
            dose += (blood - 130) / own.CF * (1 + 0.3 * rng.randn())
        coin = habits.rand(4)[2]
        eats = pending is not None and minute >= pending
        if eats:
            pending = None
        if minute % STEP_MINUTES == 0:
            measured = sensor.measure(body)
            if minute >= SETTLED_MINUTES:
                for begin, end, depth in spells:
                    if begin <= minute < end:
                        measured *= 1 - depth * min(1, (minute - begin) / 10)
                rows.append((minute, float(np.clip(round(measured), 39, 401)), "", ""))
                rested = treated is None or minute - treated >= 15
                if blood < 54 and coin < 1 / 8 and pending is None and rested:
                    pending = minute + 2
        true.append(blood)
        if carb or dose:
            rows.append((minute, "", round(dose, 2) or "", round(carb, 1) or ""))
        if eats:
            eating, treated = eating + 16.0, minute
        step = min(eating, EAT_G_MIN)
        eating -= step
        body.step(Action(insulin=basal + dose, CHO=step))
    return [float(own.CF), float(own.CF / own.CR)], rows, true


def draw(folder, wearers):
    for wearer in wearers:
        factors, rows, true = undisturbed(wearer)
        with open(Path(folder) / f"wearer-{wearer:02d}.csv", "w", newline="") as file:
            table = csv.writer(file)
            table.writerow("timestamp,glucose_mgdl,meter_mgdl,bolus_u,carb_g,rescue_g".split(","))
            for minute, reading, dose, carb in rows:
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
        os.makedirs(sys.argv[2], exist_ok=True)
        draw(sys.argv[2], [int(one) for one in sys.argv[3:]])
    else:
        judge(sys.argv[2], sys.argv[3])
