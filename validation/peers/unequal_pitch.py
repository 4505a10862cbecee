#!/usr/bin/env python3
"""Limits of a cutter with unequal pitch, several teeth in the cut, with and without process damping.

First-order semi-discretization over a revolution: each tooth has its own whole number of steps of
delay, the delayed displacement runs linearly through a step, A and the flank's rubbing are their
means over it (T. Insperger and G. Stepan, Int. J. Numer. Meth. Eng. 61 (2004) 117-141, and later
papers of the same authors; from memory). Two steps are extrapolated; the error falls as the square
of the step. Case: x and y each 922 Hz, 0.011, 0.03993 kg; four straight teeth, pitch 80, 100, 85,
95 deg, 10 mm; down-milling; Kt 6e8, Kn 2e8 N/m^2. The values in
validation/cases/stability/unequal_pitch.csv are this script's output.
"""
import os

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import numpy as np
from scipy.linalg import expm
from scipy.optimize import brentq
from scipy.sparse.linalg import eigs

W, ZETA, MASS = 2 * np.pi * 922, 0.011, 0.03993
KT, KN, RADIUS = 6e8, 2e8, 0.005


def course(pitches, entry, steps, damping):
    """Per step and tooth: mean A (2 x 2) and mean rubbing matrix, per depth."""
    fine = 40
    phi = (np.arange(steps * fine) + 0.5) * 2 * np.pi / (steps * fine)
    behind = np.concatenate(([0], np.cumsum(pitches[1:])))
    all_a, all_c = [], []
    for angle_behind in np.radians(behind):
        angle = (phi - angle_behind) % (2 * np.pi)
        cutting = (angle > entry) & (angle < np.pi)
        s, c = np.sin(angle), np.cos(angle)
        a = np.empty((steps * fine, 2, 2))
        a[:, 0, 0] = (-KT * c - KN * s) * s
        a[:, 0, 1] = (-KT * c - KN * s) * c
        a[:, 1, 0] = (KT * s - KN * c) * s
        a[:, 1, 1] = (KT * s - KN * c) * c
        n = np.stack([s, c], axis=1)
        rub = damping * n[:, :, None] * n[:, None, :]
        mean = lambda m: (m * cutting[:, None, None]).reshape(steps, fine, 2, 2).mean(axis=1)
        all_a.append(mean(a))
        all_c.append(mean(rub))
    return np.array(all_a), np.array(all_c)


def radius(pitches, rpm, depth, steps, a, c):
    h = 60 / rpm / steps
    speed = 2 * np.pi * rpm / 60 * RADIUS
    delay = [int(round(p / 360 * steps)) for p in pitches]
    length = max(delay) + 1
    columns = 4 + 2 * length
    state = np.zeros((4, columns))
    state[:, :4] = np.eye(4)
    past = np.zeros((length, 2, columns))  # past[k]: displacement k + 1 steps ago
    for k in range(length):
        past[k, :, 4 + 2 * k : 6 + 2 * k] = np.eye(2)
    ring = list(past)
    for k in range(steps):
        now = depth * a[:, k].sum(axis=0)
        rub = depth * c[:, k].sum(axis=0) / speed
        matrix = np.zeros((4, 4))
        matrix[:2, 2:] = np.eye(2)
        matrix[2:, :2] = -(W**2) * np.eye(2) + now / MASS
        matrix[2:, 2:] = -2 * ZETA * W * np.eye(2) - rub / MASS
        big = np.zeros((8, 8))
        big[:4, :4] = matrix
        big[2:4, 4:6] = np.eye(2)  # force/mass held
        big[4:6, 6:8] = np.eye(2)  # and rising
        e = expm(big * h)
        first, last = np.zeros((2, columns)), np.zeros((2, columns))
        for tooth, steps_back in enumerate(delay):
            part = -depth * a[tooth, k] / MASS
            # Displacement at the start of the step, steps_back ago, and one step later.
            first += part @ (ring[steps_back - 1])
            last += part @ (ring[steps_back - 2] if steps_back > 1 else state[:2])
        here = state[:2].copy()
        state = e[:4, :4] @ state + e[:4, 4:6] @ first + e[:4, 6:8] @ ((last - first) / h)
        ring.insert(0, here)
        ring.pop()
    whole = np.concatenate([state] + ring)
    if columns < 60:
        return np.abs(np.linalg.eigvals(whole)).max()
    return np.abs(eigs(whole, k=6, return_eigenvectors=False, tol=1e-10)).max()


def limit(pitches, immersion, rpm, steps, damping=0.0):
    entry = np.arccos(2 * immersion - 1)
    a, c = course(pitches, entry, steps, damping)
    grow = lambda log_depth: np.log(radius(pitches, rpm, np.exp(log_depth), steps, a, c))
    depth = 2e-5
    while grow(np.log(depth)) < 0:
        depth *= 1.1
    return np.exp(brentq(grow, np.log(depth / 1.1), np.log(depth), xtol=1e-7))


if __name__ == "__main__":
    unequal = (80, 100, 85, 95)
    print("rpm,immersion,process_damping_n_per_m,limit_m")
    for immersion, rpm, damping in [
        (0.5, 3000, 0), (0.5, 4600, 0), (0.5, 6200, 0), (1.0, 3800, 0), (1.0, 7000, 0),
        (0.5, 1500, 2e5), (0.5, 3000, 2e5), (1.0, 1500, 2e5),
    ]:
        coarse, fine = (limit(unequal, immersion, rpm, n, damping) for n in (720, 1440))
        print(f"{rpm},{immersion},{damping:g},{fine + (fine - coarse) / 3:.7g}", flush=True)
