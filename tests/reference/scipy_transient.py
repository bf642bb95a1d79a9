"""A network of power laws in time by SciPy's stiff methods, with the analytic Jacobian.

Reads the network as JSON from standard input, prints temperatures and times as JSON. Unknowns are the
enthalpies H = c T^p of the nodes, all of which store heat. Run by tests/bench/transient.js.
"""

import json
import resource
import sys
import time

try:
    import numpy as np
    import scipy
    from scipy.integrate import solve_ivp
except ImportError:
    print(json.dumps({"missing": "scipy"}))
    sys.exit(0)

problem = json.load(sys.stdin)
n = len(problem["stores"])
loads = np.array(problem["loads"])
c, p = np.array(problem["stores"]).T
start = np.array(problem["start"])
fixed = np.array(problem["fixed"])
ends = np.array([[link[0], link[1]] for link in problem["links"]])
k, m = np.array([[link[2], link[3]] for link in problem["links"]]).T
a, b = ends.T
# Heat that leaves each node by each link, so that a product of matrices adds up the flows.
leaves = np.zeros((n + len(fixed), len(k)))
leaves[a, np.arange(len(k))] = 1
leaves[b, np.arange(len(k))] = -1
leaves = leaves[:n]


def temperatures(H):
    return np.concatenate([(np.maximum(H, 1e-300) / c) ** (1 / p), fixed])


def rate(t, H):
    T = temperatures(H)
    return loads - leaves @ (k * (T[a] ** m - T[b] ** m))


def jacobian(t, H):
    T = temperatures(H)
    slope = np.zeros((len(k), n + len(fixed)))
    slope[np.arange(len(k)), a] = k * m * T[a] ** (m - 1)
    slope[np.arange(len(k)), b] -= k * m * T[b] ** (m - 1)
    capacity = c * p * T[:n] ** (p - 1)
    return -(leaves @ slope[:, :n]) / capacity


def run(method, tolerance):
    return solve_ivp(
        rate,
        (0, problem["duration"]),
        c * start**p,
        method=method,
        jac=jacobian,
        rtol=tolerance,
        # Relative to each enthalpy alone, as the other side's tolerance is.
        atol=1e-6 * tolerance * c * start**p,
        dense_output=True,
    )


def at_times(answer):
    return [temperatures(answer.sol(t))[:n].tolist() for t in problem["times"]]


runs = []
for method in ["Radau", "BDF"]:
    best, answer = np.inf, None
    for _ in range(problem["repeats"]):
        begin = time.perf_counter()
        answer = run(method, problem["tolerance"])
        best = min(best, time.perf_counter() - begin)
    found = at_times(answer)
    runs.append({"method": method, "seconds": best, "steps": len(answer.t) - 1, "found": found})
answer = {
    "scipy": scipy.__version__,
    "runs": runs,
    "seconds": runs[0]["seconds"],
    "memory": 1024 * resource.getrusage(resource.RUSAGE_SELF).ru_maxrss,
}
if "tight" in problem:
    answer["tight"] = at_times(run("Radau", problem["tight"]))
print(json.dumps(answer))
