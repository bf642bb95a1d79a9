"""The die with its pads solved as one sparse system by SciPy: Newton's method with a direct solver.

Reads a problem as JSON from standard input, prints the answer and the times as JSON. Unknowns are the
Theta of every cell and the temperatures of every pad, its phonons and electrons, and of the box. Run by
tests/bench/sheet.js.
"""

import json
import resource
import sys
import time

try:
    import numpy as np
    import scipy
    from scipy.sparse import bmat, coo_matrix, csc_matrix, diags
    from scipy.sparse.linalg import splu
except ImportError:
    print(json.dumps({"missing": "scipy"}))
    sys.exit(0)


def laplacian(nx, ny, along, across):
    """Conductances between neighbours: `along` x and `across` it."""
    cell = np.arange(nx * ny).reshape(ny, nx)
    pairs = [(cell[:, :-1], cell[:, 1:], along), (cell[:-1, :], cell[1:, :], across)]
    rows, columns, values = [], [], []
    for a, b, g in pairs:
        a, b = a.ravel(), b.ravel()
        rows += [a, b, a, b]
        columns += [a, b, b, a]
        values += [np.full(a.size, g)] * 2 + [np.full(a.size, -g)] * 2
    triple = (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns)))
    return coo_matrix(triple, shape=(nx * ny, nx * ny)).tocsc()


class Die:
    def __init__(self, problem):
        self.cells = problem["cellsX"] * problem["cellsY"]
        self.pads = len(problem["boundary"])
        ratio = problem["cellLength"] / problem["cellWidth"]
        self.conduction = laplacian(problem["cellsX"], problem["cellsY"], ratio, 1 / ratio)
        pad, cell, share = np.array(problem["shares"]).T
        size = (self.pads, self.cells)
        self.shares = csc_matrix((share, (pad.astype(int), cell.astype(int))), shape=size)
        self.law = problem["law"]
        self.boundary = np.array(problem["boundary"])
        self.film = problem["film"]
        self.box = problem["box"]
        self.stage = problem["stage"]

    def residual(self, x, powers, bonds, conduction, shares):
        n, p = self.cells, self.pads
        theta, T, phonon, electron, box = np.split(x, [n, n + p, n + 2 * p, n + 3 * p])
        into = self.boundary * (T**4 - phonon**4)
        through = self.film * (phonon**5 - electron**5)
        out = bonds * (electron**2 - box**2)
        return np.concatenate(
            [
                conduction @ theta + shares.T @ into - powers,
                shares @ theta - self.law * T**4,
                through - into,
                out - through,
                [self.box * (box[0] ** 2 - self.stage**2) - out.sum()],
            ]
        )

    def refine(self, x, powers, bonds):
        """The answer to more digits: residuals in extended precision, the last factors."""
        x = x.astype(np.longdouble)
        conduction, shares = self.conduction.astype(np.longdouble), self.shares.astype(np.longdouble)
        for _ in range(6):
            residual = self.residual(x, powers, bonds, conduction, shares)
            x = x - self.factors.solve(residual.astype(float))
        return x

    def solve(self, powers, bonds, options, start=None):
        """Newton's method; returns the unknowns and how many steps they took."""
        n, p = self.cells, self.pads
        if start is None:
            start = np.concatenate([np.full(n, self.law * self.stage**4), np.full(3 * p + 1, self.stage)])
        x = start.copy()
        for step in range(1, 60):
            theta, T, phonon, electron, box = np.split(x, [n, n + p, n + 2 * p, n + 3 * p])
            residual = self.residual(x, powers, bonds, self.conduction, self.shares)
            gT, gP = diags(4 * self.boundary * T**3), diags(4 * self.boundary * phonon**3)
            fP, fE = diags(5 * self.film * phonon**4), diags(5 * self.film * electron**4)
            bE, bB = 2 * bonds * electron, csc_matrix(-2 * bonds * box).T
            matrix = bmat(
                [
                    [self.conduction, self.shares.T @ gT, -self.shares.T @ gP, None, None],
                    [self.shares, diags(-4 * self.law * T**3), None, None, None],
                    [None, -gT, gP + fP, -fE, None],
                    [None, None, -fP, fE + diags(bE), bB],
                    [None, None, None, csc_matrix(-bE), [[2 * self.box * box[0] - bB.sum()]]],
                ],
                format="csc",
            )
            self.factors = splu(matrix, **options)
            change = self.factors.solve(residual)
            scale = 1.0
            temperatures = slice(n, None)
            while np.any(x[temperatures] - scale * change[temperatures] <= x[temperatures] / 3):
                scale /= 2
            x = x - scale * change
            if scale == 1.0 and np.all(np.abs(change) <= 4e-9 * np.abs(x)):
                return x, step
        raise SystemExit("no balance after 60 steps")


ORDERS = {
    "as it comes (COLAMD)": {},
    "ordered for symmetry": {
        "permc_spec": "MMD_AT_PLUS_A",
        "diag_pivot_thresh": 0.01,
        "options": {"SymmetricMode": True},
    },
}


def main():
    problem = json.load(sys.stdin)
    begin = time.perf_counter()
    die = Die(problem)
    unit = np.array(problem["powers"])
    first = None
    orders = []
    for order in problem["orders"]:
        options = ORDERS[order]
        x, _ = die.solve(problem["scales"][0] * unit, np.array(problem["bonds"][0]), options)
        first = first or time.perf_counter() - begin
        times, steps = [], []
        for scale, bonds in list(zip(problem["scales"], problem["bonds"]))[1:]:
            begin = time.perf_counter()
            x, taken = die.solve(scale * unit, np.array(bonds), options, x)
            times.append(time.perf_counter() - begin)
            steps.append(taken)
        orders.append({"order": order, "further": times, "steps": float(np.mean(steps))})

    def cells(x):
        return ((x[: die.cells] / die.law) ** 0.25).astype(float).tolist()

    answer = {
        "scipy": scipy.__version__,
        # The set-up of the matrices, which is done once, and the first solve.
        "first": first,
        "seconds": first,
        "orders": orders,
        "temperatures": cells(x),
        "memory": 1024 * resource.getrusage(resource.RUSAGE_SELF).ru_maxrss,
    }
    if problem["tight"]:
        answer["tight"] = cells(die.refine(x, scale * unit, np.array(bonds)))
    print(json.dumps(answer))


main()
