"""The interacting-multiple-model filter of the sensor's modes, written again in NumPy from its paper.

  modes_reference.py FILE     FILE: what the program `mode-cases` of ebbstead-tests wrote

Blom and Bar-Shalom, "The interacting multiple model algorithm for systems with Markovian switching coefficients", IEEE
Trans. Automatic Control 1988;33(8):780-783: before each observation the modes' beliefs are mixed by the chance of having
changed mode, each filter predicts and takes the observation in, and the chances follow from the likelihoods. The plain steps
and the constants come from the file; the mixing, each mode's noise and drop, the filters, the chances and the switching
(scipy.linalg.expm of the generator) are worked out here. Five rules are core's own: a meter check changes the chances alone, an observation further off than `trusted`
squared standard deviations has its variance raised until it is just that far off, pressure that would raise the signal counts against that mode, no chance falls below 1e-6, and what weighs less than `no_weight` adds
nothing to a mixture's covariance.
Everything has to agree to 1e-9, each number relative to its own size where that is above 1.
"""
import json
import pathlib
import sys

import numpy as np
from scipy.linalg import expm
from scipy.stats import norm

WITHIN = 1e-9
LEAST_CHANCE = 1e-6
BLOOD, INTERSTITIAL, DROP = 0, 2, 6
CLEAR, COMPRESSION, UNSETTLED = range(3)


def moments(weights, means, covariances, no_weight):
    """Mean and covariance of a mixture of Gaussians."""
    mean = np.einsum("m,mi->i", weights, means)
    apart = means - mean
    weights = np.where(weights > no_weight, weights, 0)
    return mean, np.einsum("m,mij->ij", weights, covariances + np.einsum("mi,mj->mij", apart, apart))


def switch(rates, minutes):
    per_hour_pressed, compression_minutes, per_hour_unsettled, unsettled_minutes = rates
    generator = np.zeros((3, 3))
    generator[CLEAR, COMPRESSION], generator[COMPRESSION, CLEAR] = per_hour_pressed / 60, 1 / compression_minutes
    generator[CLEAR, UNSETTLED], generator[UNSETTLED, CLEAR] = per_hour_unsettled / 60, 1 / unsettled_minutes
    return expm((generator - np.diag(generator.sum(1))) * minutes)


class Bank:
    def __init__(self, cases):
        self.cases, self.dynamics = cases, cases["dynamics"]
        array = lambda rows: np.array(rows, float)
        self.chances = array(cases["first"]["chances"])
        self.means, self.covariances = array(cases["first"]["means"]), array(cases["first"]["covariances"])
        self.steps = {name: {k: np.array(v, float) for k, v in step.items()} for name, step in cases["steps"].items()}

    def mixture(self, weights):
        return moments(weights, self.means, self.covariances, self.cases["no_weight"])

    def mix(self, moved):
        joint = self.chances[:, None] * moved
        chances = joint.sum(0)
        mixed = [self.mixture(joint[:, to] / chances[to]) for to in range(3)]
        self.chances, self.means, self.covariances = chances, np.array([m for m, _ in mixed]), np.array([p for _, p in mixed])

    def predict(self, step, asleep, known):
        depth, depth_sd, onset, recovery = self.cases["press"]
        for mode in range(3):
            level = self.means[mode, INTERSTITIAL] + self.dynamics["level_mg_dl"]
            noise = (np.clip(level, 60, 400) / 130) ** self.dynamics["noise_power"]
            noise *= self.dynamics["night_noise"] if asleep else 1
            transition, covariance = step["transition"].copy(), step["glucose_noise"] * noise + step["sensor_noise"]
            added = step["input"] * known
            if mode == COMPRESSION:
                keep, signal = np.exp(-step["minutes"] / onset), np.clip(level, 40, 400)
                added[DROP] -= (1 - keep) * depth * signal
                covariance[DROP, DROP] += (1 - keep**2) * (depth_sd * signal) ** 2
            else:
                keep = np.exp(-step["minutes"] / recovery)
            transition[DROP, DROP] = keep
            self.means[mode] = transition @ self.means[mode] + added
            self.covariances[mode] = transition @ self.covariances[mode] @ transition.T + covariance

    def take(self, row, amount, noises):
        likelihoods = np.zeros(3)
        for mode in range(3):
            mean, covariance = self.means[mode], self.covariances[mode]
            innovation = amount - self.dynamics["level_mg_dl"] - row @ mean
            expected = row @ covariance @ row + noises[mode]
            variance = expected * np.sqrt(max(1.0, innovation**2 / expected / self.cases["trusted"]))
            gain = covariance @ row / variance
            self.means[mode] = mean + gain * innovation
            self.covariances[mode] = covariance - np.outer(gain, gain) * variance
            likelihoods[mode] = -0.5 * (np.log(2 * np.pi * variance) + innovation**2 / variance)
        # Pressure lowers: what it would have to raise speaks against it.
        likelihoods[COMPRESSION] += np.log(max(norm.cdf(0, self.means[COMPRESSION][DROP], np.sqrt(self.covariances[COMPRESSION][DROP, DROP])), 1e-9))
        self.reweigh(likelihoods)

    def reweigh(self, log_likelihoods):
        weights = np.log(self.chances) + log_likelihoods
        chances = np.exp(weights - weights.max())
        chances = np.clip(chances / chances.sum(), LEAST_CHANCE, 1)
        self.chances = chances / chances.sum()

    def weigh(self, amount, noise):
        """A meter check speaks for the modes and moves no state: blood is the first state."""
        off = amount - self.dynamics["level_mg_dl"] - self.means[:, BLOOD]
        variances = self.covariances[:, BLOOD, BLOOD] + noise + self.cases["bias_allowed"] ** 2
        self.reweigh(-0.5 * (np.log(variances) + np.minimum(off**2 / variances, self.cases["trusted"])))

    def observe(self, seen):
        self.mix(switch(seen["switching"], min(seen["minutes"], 1440.0)))
        for name in seen["steps"]:
            self.predict(self.steps[name], seen["asleep"], seen["input"])
        if seen["meter"]:
            self.weigh(seen["amount"], seen["noise"])
            return
        noises = np.full(3, seen["noise"])
        noises[UNSETTLED] = self.cases["unsettled_sd"] ** 2
        self.take(np.array(self.cases["sensor_measurement_row"], float), seen["amount"], noises)

    def state(self):
        mean, covariance = self.mixture(self.chances)
        return {"chances": self.chances, "means": self.means, "covariances": self.covariances, "mean": mean, "covariance": covariance}


def furthest(got, expected):
    """The largest difference, relative to the expected number's size where that is above 1."""
    got, expected = np.array(got, float), np.array(expected, float)
    if got.shape != expected.shape or not np.isfinite(got).all():
        return np.inf
    return float(np.max(np.abs(got - expected) / np.maximum(1.0, np.abs(expected))))


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    cases = json.loads(pathlib.Path(sys.argv[1]).read_text())
    bank, far, most = Bank(cases), {}, np.zeros(3)
    for seen in cases["observations"]:
        bank.observe(seen)
        most = np.maximum(most, bank.chances)
        for what, expected in bank.state().items():
            far[what] = max(far.get(what, 0.0), furthest(seen["told"][what], expected))
    summary = ", ".join(f"{what} {size:.1e}" for what, size in far.items())
    print(f"modes: {len(cases['observations'])} observations; furthest apart: {summary}")
    print("greatest chance of each mode:", ", ".join(f"{chance:.3f}" for chance in most))
    # A check in which one mode never led would not have checked it.
    sys.exit(not (all(size <= WITHIN for size in far.values()) and (most > 0.5).all()))
