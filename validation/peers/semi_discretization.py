#!/usr/bin/env python3
"""First-order semi-discretization of milling with one mode, dense, one thread.

The peer that validation/benchmarks/floquet.cpp is measured against. x'' + 2 zeta w x' + w^2 x =
-a h(t) (x(t) - x(t - tau))/m; the delayed displacement runs linearly through each of m steps, h is
its mean over the step (T. Insperger and G. Stepan, Int. J. Numer. Meth. Eng. 61 (2004) 117-141,
and later papers of the same authors; from memory). Case: 922 Hz, 0.011, 0.03993 kg, two straight
teeth, Kt 6e8, Kn 2e8 N/m^2, 5 % down-milling.
"""
import os

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import numpy as np

W, ZETA, MASS = 2 * np.pi * 922, 0.011, 0.03993
KT, KN, TEETH, IMMERSION = 6e8, 2e8, 2, 0.05


def chip_stiffness(steps):
    """Mean over each step of the force per depth and displacement along x."""
    entry = np.arccos(2 * IMMERSION - 1)
    fine = 20
    phi = (np.arange(steps * fine) + 0.5) * 2 * np.pi / TEETH / (steps * fine)
    total = np.zeros_like(phi)
    for tooth in range(TEETH):
        angle = (phi + tooth * 2 * np.pi / TEETH) % (2 * np.pi)
        cutting = (angle > entry) & (angle < np.pi)
        total += cutting * (KT * np.cos(angle) + KN * np.sin(angle)) * np.sin(angle)
    return total.reshape(steps, fine).mean(axis=1)


def exponential(matrix, h):
    """exp of a 2 x 2 matrix times h by its eigenvalues."""
    values, vectors = np.linalg.eig(matrix)
    return (vectors * np.exp(values * h) @ np.linalg.inv(vectors)).real


def spectral_radius(rpm, depth, steps, stiffness):
    tau = 60 / (TEETH * rpm)
    h = tau / steps
    product = np.eye(steps + 2)
    for k in range(steps):
        push = depth * stiffness[k] / MASS
        matrix = np.array([[0, 1], [-(W**2) - push, -2 * ZETA * W]])
        e = exponential(matrix, h)
        inverse = np.linalg.inv(matrix)
        force = np.array([0, push])
        whole = inverse @ (e - np.eye(2)) @ force
        rising = inverse @ (inverse @ (e - np.eye(2)) - h * np.eye(2)) @ force / h
        step = np.zeros((steps + 2, steps + 2))
        step[:2, :2] = e
        # State: x, x', x one step ago, ... x m steps ago.
        step[:2, steps + 1] = whole - rising
        step[:2, steps] += rising
        step[2, 0] = 1
        step[3:, 2:-1] = np.eye(steps - 1)
        product = step @ product
    return np.abs(np.linalg.eigvals(product)).max()


def grid(steps, columns=200, rows=100, every=1):
    """Radii on the cell centres of 5000-10000 rpm, 0-10 mm; every `every`-th speed."""
    stiffness = chip_stiffness(steps)
    return np.array([[spectral_radius(5000 + 5000 / columns * (i + 0.5), 0.01 / rows * (j + 0.5),
                                      steps, stiffness) for j in range(rows)]
                     for i in range(0, columns, every)])


if __name__ == "__main__":
    import sys
    import time

    every = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    begin = time.process_time()
    radii = grid(40, every=every)
    seconds = time.process_time() - begin
    print(f"cells {radii.size} stable {(radii < 1).sum()} seconds {seconds:.3f} "
          f"microseconds_each {seconds / radii.size * 1e6:.1f}")
