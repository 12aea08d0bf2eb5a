"""Solves unbranched runs by nodal equations with scipy.optimize.fsolve.

Standard input: JSON list of {sourceV, loopR, loopX, p, q}. Standard output: JSON list of
{vRe, vIm}, or null where fsolve found no solution from the flat start. Every segment needs an
impedance above 0.
"""

import json
import sys

import numpy as np
from scipy.optimize import fsolve


def solve(run):
    source = complex(run["sourceV"])
    y = 1 / (np.array(run["loopR"]) + 1j * np.array(run["loopX"]))
    s = np.array(run["p"]) + 1j * np.array(run["q"])
    n = len(s)

    def split(v):
        return v[:n] + 1j * v[n:]

    def mismatch(unknowns):
        v = split(unknowns)
        before = np.concatenate(([source], v[:-1]))
        arriving = y * (before - v)
        leaving = np.concatenate((arriving[1:], [0]))
        current = arriving - leaving - np.conj(s / v)
        return np.concatenate((current.real, current.imag))

    admittance = -np.diag(y + np.concatenate((y[1:], [0])))
    admittance += np.diag(y[1:], 1) + np.diag(y[1:], -1)

    def jacobian(unknowns):
        load = np.diag(np.conj(s / split(unknowns) ** 2))  # −d conj(S/V) / d conj(V)
        return np.block(
            [
                [(admittance + load).real, -(admittance - load).imag],
                [(admittance + load).imag, (admittance - load).real],
            ]
        )

    flat = np.concatenate((np.full(n, source.real), np.zeros(n)))
    answer, _, _, _ = fsolve(mismatch, flat, fprime=jacobian, xtol=1e-14, full_output=True)
    # near rounding fsolve may report "no progress": what counts is whether the equations hold
    rounding = float(np.max(np.abs(y))) * source.real * 1e-13
    worst = np.max(np.abs(mismatch(answer)))
    if not worst <= max(rounding, 1e-9):
        return None
    v = split(answer)
    return {"vRe": v.real.tolist(), "vIm": v.imag.tolist()}


json.dump([solve(run) for run in json.load(sys.stdin)], sys.stdout)
