"""The filter and the smoother, computed by a general-purpose library from the same matrices.

  filter_reference.py FILE     FILE: what the program `filter-cases` of ebbstead-tests wrote

Each case holds a first belief, and for every observation its row, its noise and its amount (or none), the step from it to
the next one (transition, added input, noise), and what core's filter and smoother made of them. statsmodels
(`statsmodels.tsa.statespace`, Durbin and Koopman's formulation) has to agree to 1e-9, each number relative to its own size
where that is above 1.
"""
import json
import pathlib
import sys

import numpy as np
from statsmodels.tsa.statespace.kalman_smoother import KalmanSmoother

WITHIN = 1e-9


def reference(case):
    """Runs the library over a case."""
    steps = case["steps"]
    states, count = len(case["first_mean"]), len(steps)
    model = KalmanSmoother(k_endog=1, k_states=states, k_posdef=states)
    # The library would stop updating covariances once they look settled; they never are with uneven spacing.
    model.tolerance = 0
    observed = [np.nan if step["observed"] is None else step["observed"] for step in steps]
    model.bind(np.array(observed, float).reshape(-1, 1))
    last = lambda rows: np.moveaxis(np.array(rows, float), 0, -1)
    model["design"] = last([[step["row"]] for step in steps])
    model["obs_cov"] = np.array([step["noise"] for step in steps], float).reshape(1, 1, count)
    model["transition"] = last([step["transition"] for step in steps])
    model["state_intercept"] = last([step["input"] for step in steps])
    model["state_cov"] = last([step["state_noise"] for step in steps])
    model["selection"] = np.eye(states)
    model.initialize_known(np.array(case["first_mean"], float), np.array(case["first_covariance"], float))
    return model.smooth()


def furthest(got, expected):
    """The largest difference, relative to the expected number's size where that is above 1."""
    got, expected = np.array(got, float), np.array(expected, float)
    if got.shape != expected.shape or not np.isfinite(got).all():
        return np.inf
    return float(np.max(np.abs(got - expected) / np.maximum(1.0, np.abs(expected)), initial=0.0))


def check(case):
    result = reference(case)
    first = lambda rows: np.moveaxis(rows, -1, 0)
    seen = np.array([step["observed"] is not None for step in case["steps"]])
    pairs = {
        "filtered mean": (case["filtered_mean"], first(result.filtered_state)),
        "filtered covariance": (case["filtered_covariance"], first(result.filtered_state_cov)),
        "log-likelihood": (np.array(case["log_likelihood"], float)[seen], result.llf_obs[seen]),
    }
    if "smoothed_mean" in case:
        pairs["smoothed mean"] = (case["smoothed_mean"], first(result.smoothed_state))
        pairs["smoothed covariance"] = (case["smoothed_covariance"], first(result.smoothed_state_cov))
    far = {what: furthest(*pair) for what, pair in pairs.items()}
    summary = ", ".join(f"{what} {size:.1e}" for what, size in far.items())
    print(f"{case['name']}: {len(case['steps'])} observations; furthest apart: {summary}")
    return all(size <= WITHIN for size in far.values())


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    cases = json.loads(pathlib.Path(sys.argv[1]).read_text())
    agreed = [check(case) for case in cases]
    print(f"{sum(agreed)} passed, {len(agreed) - sum(agreed)} failed")
    sys.exit(not (agreed and all(agreed)))
