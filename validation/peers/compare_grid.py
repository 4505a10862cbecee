#!/usr/bin/env python3
"""Times the 200 x 100 grid by this program and by the dense semi-discretization, in one run.

Usage: compare_grid.py BUILD_FOLDER [every]     every: of the peer's speeds, to save time (default 1)
Build with -DSTANDFAST_VALIDATION=ON first. Both use one thread; processor time counts.
"""
import json
import pathlib
import subprocess
import sys

CONVERGED = 6760  # stable cells of the converged solution (cases/stability/benchmark_areas.csv)

build = pathlib.Path(sys.argv[1])
every = sys.argv[2] if len(sys.argv) > 2 else "1"
own = subprocess.run([build / "benchmark_floquet", "--benchmark_filter=grid_of_20000",
                      "--benchmark_repetitions=3", "--benchmark_format=json"],
                     check=True, capture_output=True, text=True)
runs = [b for b in json.loads(own.stdout)["benchmarks"] if b["run_type"] == "iteration"]
ours = min(b["cpu_time"] for b in runs) * 1e-3
peer = subprocess.run([sys.executable, pathlib.Path(__file__).with_name("semi_discretization.py"),
                       every], check=True, capture_output=True, text=True).stdout.split()
cells, stable, each = int(peer[1]), int(peer[3]), float(peer[7])
print(f"this program: {ours:.3f} s for 20000 cells, {runs[0]['stable_cells']:.0f} stable")
print(f"dense semi-discretization, 40 steps: {each * 20000e-6:.1f} s for 20000 cells "
      f"(measured on {cells}), {stable * 20000 // cells} stable")
print(f"ratio {each * 20000e-6 / ours:.0f}; converged count {CONVERGED}")
