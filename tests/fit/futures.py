"""Fits WAITED and TREATED of core/engine/src/forecast/futures.rs: what the paths' chance of a low is worth if nothing is done, and if
the first step is taken.

    TRIAL_RULE=ebbstead TRIAL_FUTURES=futures.csv cargo run --release -p ebbstead-tests --bin trial -- 60 5 7
    python3 tests/fit/futures.py futures.csv

With weights of (0, 1) in place. Fitted on virtual wearers of one body model; other wearers of it and another model check it.
"""
import sys

import numpy as np
from sklearn.linear_model import LogisticRegression

rows = np.genfromtxt(sys.argv[1], delimiter=",", names=True)
for name, label in (("wait", "WAITED"), ("treat", "TREATED")):
    p = np.clip(rows[name], 1e-4, 1 - 1e-4)
    fit = LogisticRegression(C=1e6).fit(np.log(p / (1 - p))[:, None], rows[f"{name}_came"])
    print(f"{label}: ({fit.intercept_[0]:.2f}, {fit.coef_[0, 0]:.2f})  from {len(p)} falling readings, {rows[f'{name}_came'].sum():.0f} came")
