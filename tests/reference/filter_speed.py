"""How many times faster core's filter is than a general-purpose one in Python, both timed in this run.

  pip install filterpy statsmodels
  cargo build --release -p ebbstead-tests --bin filter-cases
  filter_speed.py target/release/filter-cases

One prediction and one observation of seven states. filterpy is the Python reference; statsmodels, whose filter is compiled,
is shown beside it.
"""
import json
import subprocess
import sys
import tempfile
import time

import numpy as np
from filterpy.kalman import KalmanFilter

from filter_reference import reference


def of_filterpy(case, readings=4000):
    states = len(case["first_mean"])
    model = KalmanFilter(dim_x=states, dim_z=1)
    model.x, model.P = np.array(case["first_mean"]).reshape(-1, 1), np.array(case["first_covariance"])
    step = case["steps"][0]
    model.F, model.Q = np.array(step["transition"]), np.array(step["state_noise"])
    model.H, model.R = np.array([step["row"]]), np.array([[step["noise"]]])
    begun = time.perf_counter()
    for count in range(readings):
        model.predict()
        model.update(40 * np.sin(count / 30))
    return (time.perf_counter() - begun) / readings


def of_statsmodels(case, times=20):
    reference(case)
    begun = time.perf_counter()
    for _ in range(times):
        reference(case)
    return (time.perf_counter() - begun) / times / len(case["steps"])


def main(program):
    with tempfile.NamedTemporaryFile(suffix=".json") as file:
        subprocess.run([program, file.name], check=True)
        case = json.load(open(file.name))[0]
    ours = [float(subprocess.run([program, "--time"], check=True, capture_output=True, text=True).stdout) * 1e-9 for _ in range(5)]
    core, python, compiled = np.median(ours), of_filterpy(case), of_statsmodels(case)
    print(f"core {core * 1e6:.3f} µs a reading; filterpy {python * 1e6:.1f} µs, {python / core:.0f} times as long; "
          f"statsmodels (filter and smoother, set-up included) {compiled * 1e6:.1f} µs, {compiled / core:.0f} times as long")


if __name__ == "__main__":
    main(sys.argv[1])
