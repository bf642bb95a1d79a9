"""A network of power laws by scipy.optimize.root (MINPACK's hybrid method) with the analytic Jacobian.

Reads the network as JSON from standard input, prints temperatures and the time of one solve as JSON.
With `sweep`, a grid of factors on the coefficients of two links, it solves each point of it instead, each
from the answer of the one before. Run by tests/bench/steady.js and sweep.js.
"""

import json
import resource
import sys
import time

try:
    import numpy as np
    import scipy
    from scipy.optimize import root
except ImportError:
    print(json.dumps({"missing": "scipy"}))
    sys.exit(0)

problem = json.load(sys.stdin)
fixed = np.array(problem["temperatures"])
free = np.flatnonzero(fixed == 0)
loads = np.array(problem["loads"])
a, b = np.array([link[:2] for link in problem["links"]]).T
k, m = np.array([link[2:] for link in problem["links"]], dtype=float).T
leaves = np.zeros((len(fixed), len(k)))
leaves[a, np.arange(len(k))] = 1
leaves[b, np.arange(len(k))] = -1
ends = np.arange(len(k))
# In units of the largest load, so that the method's tolerances mean something.
unit = max(abs(loads))


def temperatures(x):
    T = fixed.copy()
    # The method may try a negative temperature.
    T[free] = np.abs(x)
    return T


def imbalance(x, k):
    T = temperatures(x)
    return ((leaves @ (k * (T[a] ** m - T[b] ** m)) - loads) / unit)[free]


def jacobian(x, k):
    T = temperatures(x)
    slope = np.zeros((len(k), len(fixed)))
    slope[ends, a] = k * m * T[a] ** (m - 1)
    slope[ends, b] -= k * m * T[b] ** (m - 1)
    return (leaves @ slope / unit)[np.ix_(free, free)]


cold = np.full(len(free), 1.2 * min(fixed[fixed > 0]))


def solve(k, start):
    found = root(imbalance, start, args=(k,), jac=jacobian, method="hybr", options={"xtol": 4e-9})
    # Where rounding stops it short of its tolerance, it is as near as it can come.
    if not found.success and np.max(np.abs(found.fun)) > 1e-9:
        raise SystemExit(found.message)
    return np.abs(found.x)


if "sweep" in problem:
    sweep = problem["sweep"]
    begin = time.perf_counter()
    last = []
    x = cold
    for first in sweep["first"]:
        x = cold
        for second in sweep["second"]:
            changed = k.copy()
            changed[sweep["links"][0]] *= first
            changed[sweep["links"][1]] *= second
            x = solve(changed, x)
        last.append(temperatures(x).tolist())
    seconds = time.perf_counter() - begin
    found = last
else:
    seconds = np.inf
    for _ in range(problem["repeats"]):
        begin = time.perf_counter()
        x = solve(k, cold)
        seconds = min(seconds, time.perf_counter() - begin)
    found = temperatures(x).tolist()
memory = 1024 * resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
print(json.dumps({"scipy": scipy.__version__, "seconds": seconds, "temperatures": found, "memory": memory}))
