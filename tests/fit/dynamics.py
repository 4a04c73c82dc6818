"""Searches for the dynamics of core/engine/src/estimate/dynamics.rs.

    cargo build --release -p ebbstead-tests --bin fit-dynamics
    python3 tests/fit/dynamics.py target/release/fit-dynamics CGM VIRTUAL [SEED]

CGM is a folder of folders of readings, VIRTUAL a folder of folders of virtual wearers whose blood glucose is known. Nelder-Mead
steps from a start moved at random by SEED, on the error of blood glucose over all readings and where it moves fast; the
error of the uncorrected forecast and the coverage of the 95 % interval are held near their best by penalties. Prints each
improvement. What is found is rounded by hand: the optimum is flat.
"""
import json
import subprocess
import sys

import numpy as np
from scipy.optimize import minimize

START = dict(level_mg_dl=140.0, level_minutes=170.0, rate_minutes=30.0, rate_noise=0.08, blood_noise=4.3, noise_power=0.7, night_noise=1.0,
             lag_minutes=8.3, error_sd_mg_dl=5.0, error_slow_minutes=45.0, error_fast_minutes=55.0, offset_sd_mg_dl=3.0,
             offset_minutes=4320.0, white_sd_mg_dl=0.4)
SEARCHED = ["level_minutes", "rate_minutes", "rate_noise", "blood_noise", "lag_minutes", "error_sd_mg_dl", "error_slow_minutes", "error_fast_minutes",
            "white_sd_mg_dl", "noise_power"]
BOUNDS = dict(lag_minutes=(6, 12), white_sd_mg_dl=(0.3, 4), error_sd_mg_dl=(4, 20), noise_power=(0, 1), error_fast_minutes=(3, 200))
AHEAD, COVERED = 0.825, 0.953


def main(program, cgm, virtual, seed=0):
    served = subprocess.Popen([program, cgm, virtual], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1)
    best = [np.inf]

    def dynamics(x):
        found = dict(START)
        for name, value in zip(SEARCHED, x):
            value = float(value if name == "noise_power" else START[name] * np.exp(value))
            low, high = BOUNDS.get(name, (0, 1e9))
            found[name] = min(high, max(low, value))
        return found

    def loss(x):
        served.stdin.write(json.dumps(dynamics(x)) + "\n")
        served.stdin.flush()
        r = json.loads(served.stdout.readline())
        value = r["all"] + 0.8 * r["fast"] + 60 * max(0, r["ahead"] - AHEAD) + 40 * max(0, abs(r["cover"] - COVERED) - 0.01)
        if value < best[0]:
            best[0] = value
            print(f"{value:.3f}", r, {k: round(v, 3) for k, v in dynamics(x).items()}, flush=True)
        return value

    size = len(SEARCHED)
    start = np.r_[np.zeros(size - 1), START["noise_power"]] + np.random.default_rng(seed).normal(0, 0.25 if seed else 0, size)
    simplex = np.vstack([start] + [start + 0.3 * np.eye(size)[k] for k in range(size)])
    minimize(loss, start, method="Nelder-Mead", options=dict(maxfev=240, initial_simplex=simplex))


if __name__ == "__main__":
    if len(sys.argv) < 4:
        sys.exit(__doc__)
    main(*sys.argv[1:4], *map(int, sys.argv[4:]))
