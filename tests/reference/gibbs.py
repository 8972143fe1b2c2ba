"""Solid-liquid equilibrium by minimising the Gibbs energy directly, with SciPy.

Reads the problems that `MELTMARGIN_EXPORT=problems.csv cargo test --test numerics -- --ignored export` writes: a row a species with
`problem,family,moles,log_distribution` (family -1: always liquid). Writes the same rows with `solid_moles` on standard output.

Versions used for the committed file: Python 3.11, NumPy 2.4.6, SciPy 1.17.1.

In units of RT, with l_i = n_i - s_i moles of species i in the liquid and s_i in the crystals of its family k,

    G = sum_i l_i ln(l_i / L) + sum_i s_i (ln(s_i / S_k) - ln K_i)

is convex in s. It is minimised over 0 <= s_i <= n_i by a trust-region interior-point method (`trust-constr`) with exact
derivatives. Nothing here knows of the engine's dual, its nested solver or its certificate.
"""

import csv
import sys

import numpy as np
import scipy
from scipy.optimize import Bounds, minimize


def gibbs(moles, family, log_k, remainder):
    """G, its gradient and its Hessian as functions of s / n."""
    families = [np.flatnonzero(family == k) for k in np.unique(family)]

    def split(share):
        solid = share * moles
        liquid = moles - solid
        return solid, liquid, liquid.sum() + remainder

    def value(share):
        solid, liquid, total = split(share)
        mixing = (liquid * np.log(liquid / total)).sum()
        if remainder > 0:
            mixing += remainder * np.log(remainder / total)
        for k in families:
            mixing += (solid[k] * (np.log(solid[k] / solid[k].sum()) - log_k[k])).sum()
        return mixing

    def gradient(share):
        solid, liquid, total = split(share)
        found = -np.log(liquid / total) - log_k
        for k in families:
            found[k] += np.log(solid[k] / solid[k].sum())
        return found * moles

    def hessian(share):
        solid, liquid, total = split(share)
        found = np.diag(1 / liquid) - 1 / total
        for k in families:
            found[np.ix_(k, k)] += np.diag(1 / solid[k]) - 1 / solid[k].sum()
        return found * np.outer(moles, moles)

    return value, gradient, hessian


def solve(moles, family, log_k, remainder):
    """Moles of each species that are solid."""
    total = moles.sum() + remainder
    value, gradient, hessian = gibbs(moles / total, family, log_k, remainder / total)
    found = minimize(
        value,
        np.full(len(moles), 0.5),
        jac=gradient,
        hess=hessian,
        method="trust-constr",
        bounds=Bounds(np.full(len(moles), 1e-14), np.full(len(moles), 1 - 1e-14), keep_feasible=True),
        options={"gtol": 1e-14, "xtol": 1e-15, "barrier_tol": 1e-14, "maxiter": 3000},
    )
    return found.x * moles


def main(path):
    print(f"Python {sys.version.split()[0]}, NumPy {np.__version__}, SciPy {scipy.__version__}", file=sys.stderr)
    with open(path, newline="") as file:
        rows = list(csv.DictReader(file))
    print("problem,family,moles,log_distribution,solid_moles")
    for problem in dict.fromkeys(row["problem"] for row in rows):
        these = [row for row in rows if row["problem"] == problem]
        crystals = [row for row in these if row["family"] != "-1"]
        remainder = sum(float(row["moles"]) for row in these if row["family"] == "-1")
        solid = solve(
            np.array([float(row["moles"]) for row in crystals]),
            np.array([int(row["family"]) for row in crystals]),
            np.array([float(row["log_distribution"]) for row in crystals]),
            remainder,
        )
        for row, amount in zip(crystals, solid):
            print(f"{problem},{row['family']},{row['moles']},{row['log_distribution']},{amount:.9e}")
        if remainder > 0:
            print(f"{problem},-1,{remainder:.9e},,0", flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
