"""Random jobs that the reader must take and the program must answer sanely.

python3 validation/random_jobs/run.py [--count 50] [--seed 1] [--program build/standfast] [--keep DIR]

Each job is drawn within what a shop could write down: low spindle speeds, cutters from 1 mm, unequal
pitch, trees of up to eight tiers with branches at the side. Of each answer: exit code 0, JSON
without NaN or infinity, every limit and probability in its range, shares of the give and of each
mode that sum to 1. Prints what failed and the slowest; exit code 1 where anything did.
"""

import argparse
import json
import math
import pathlib
import random
import subprocess
import tempfile
import time


def mm(value):
    return f"{value:.4g} mm"


def section(rng, size):
    """A section of about this size, and its width along y."""
    kind = rng.choice(["round", "block", "tube", "box"])
    other = size * rng.uniform(0.6, 1.0)
    wall = min(size, other) * rng.uniform(0.1, 0.3)
    return {
        "round": ({"round": mm(size)}, size),
        "block": ({"block": [mm(size), mm(other)]}, other),
        "tube": ({"tube": [mm(size), mm(size * rng.uniform(0.3, 0.8))]}, size),
        "box": ({"box": [mm(size), mm(other), mm(wall)]}, other),
    }[kind]


def joint(rng, across, height):
    kind = rng.choice(["bolted", "dovetail", "vice", "zero point", "solid", "numbers"])
    if kind == "solid":
        return "solid"
    if kind == "numbers":
        return {
            "lateral": f"{rng.uniform(5, 500):.3g} N/um",
            "vertical": f"{rng.uniform(20, 2000):.3g} N/um",
            "tilting": f"{10 ** rng.uniform(-2, 1):.3g} MN m/rad",
            "twisting": f"{10 ** rng.uniform(-2, 1):.3g} MN m/rad",
            "loss": round(10 ** rng.uniform(-3, -0.7), 4),
        }
    if kind == "bolted":
        made = {"kind": kind, "screws": rng.randint(1, 8), "size": rng.choice(["M6", "M8", "M12"])}
        if rng.random() < 0.7:
            made["torque"] = f"{rng.uniform(5, 80):.3g} N m"
        return made
    if kind == "dovetail":
        return {"kind": kind, "width": mm(across * rng.uniform(0.3, 0.7)), "clamp": f"{rng.uniform(2, 25):.3g} kN"}
    if kind == "vice":
        return {"kind": kind, "grip": mm(height * rng.uniform(0.05, 0.3)), "clamp": f"{rng.uniform(2, 25):.3g} kN"}
    return {"kind": kind, "preload": f"{rng.uniform(5, 30):.3g} kN"}


MATERIALS = ["steel", "4140", "304", "grey iron", "ductile iron", "6061", "7075", "Ti-6Al-4V", "brass", "acetal"]


def stack(rng):
    """Tiers from the table up, some of them at the side of an earlier one; the last is cut upright."""
    tiers = []
    size = rng.uniform(60, 200)
    trunk = rng.randint(1, 5)
    for index in range(trunk):
        size *= rng.uniform(0.6, 1.0)
        size = max(size, 12)
        height = size * rng.uniform(0.2, 2.5)
        shape, across = section(rng, size)
        tiers.append(
            {"name": f"tier {index + 1}", "material": rng.choice(MATERIALS), **shape, "height": mm(height),
             "joint": joint(rng, across, height)}
        )
        tiers[-1]["_size"], tiers[-1]["_height"] = size, height
    for branch in range(rng.randint(0, 3)):
        host = rng.choice(tiers[:trunk])
        width = host["_size"] * rng.uniform(0.2, 0.6)
        height = width * rng.uniform(0.3, 1.5)
        tiers.append(
            {"name": f"branch {branch + 1}", "material": rng.choice(MATERIALS), "block": [mm(width), mm(width)],
             "height": mm(height), "on": host["name"], "at": ["0 mm", "0 mm", mm(host["_height"] * rng.uniform(0.2, 0.9))],
             "lean": "90 deg", "heading": f"{rng.choice([0, 90, 180, 270])} deg", "joint": joint(rng, width, height),
             "_size": width, "_height": height}
        )
    return tiers, tiers[trunk - 1]


def cutter(rng):
    diameter = round(math.exp(rng.uniform(math.log(1), math.log(25))), 2)
    teeth = rng.randint(1, 7)
    stickout = diameter * rng.uniform(2, 8)
    made = {"diameter": mm(diameter), "teeth": teeth, "stickout": mm(stickout),
            "helix": f"{rng.choice([0, 20, 30, 38, 45, 55])} deg"}
    if diameter < 6:
        made |= {"shank": "6 mm", "flute": mm(min(2 * diameter, stickout))}
        if rng.random() < 0.5:
            made["neck"] = [mm(0.95 * diameter), mm(max(0.1, stickout - 2 * diameter) * 0.9)]
    elif diameter > 20:
        made["shank"] = "20 mm"
    if teeth > 1 and rng.random() < 0.5:
        parts = [rng.uniform(0.7, 1.3) for _ in range(teeth)]
        angles = [round(360 * part / sum(parts), 3) for part in parts]
        angles[-1] = round(360 - sum(angles[:-1]), 3)
        made["pitch"] = [f"{angle} deg" for angle in angles]
    if rng.random() < 0.4:
        made["runout"] = mm(rng.uniform(0.001, 0.02))
    if rng.random() < 0.3:
        made["corner"] = mm(diameter * rng.choice([0.05, 0.2, 0.5]))
    return made, diameter, stickout


def a_job(rng):
    slowest = rng.choice([20, 100, 500, 1000])
    fastest = slowest * rng.choice([5, 12, 40])
    tiers, cut = stack(rng)
    made, diameter, stickout = cutter(rng)
    speed = math.exp(rng.uniform(math.log(slowest), math.log(fastest)))
    slot = rng.random() < 0.2
    one = {
        "radial": mm(diameter * (1 if slot else rng.choice([0.01, 0.03, 0.1, 0.3, 0.6]))),
        "milling": "slot" if slot else rng.choice(["down", "up"]),
        "axial": mm(min(diameter * rng.uniform(0.05, 2), stickout, 0.45 * cut["_height"])),
        "feed": mm(max(0.0005, diameter * rng.uniform(0.0005, 0.01))),
        "tier": cut["name"],
    }
    if rng.random() < 0.8:
        one["speed"] = f"{speed:.5g} rpm"
    if not slot and rng.random() < 0.5:
        one["wall"] = rng.choice(["+x", "-x", "+y", "-y"])
    if rng.random() < 0.5:
        one["tolerance"] = mm(rng.uniform(0.005, 0.08))
    return {
        "title": "Random job (invented)",
        "machine": {"kind": rng.choice(["3-axis", "4-axis", "5-axis, table tilts", "horizontal"]),
                    "taper": rng.choice(["BT30", "BT40", "HSK-A63", "CAT50"]),
                    "speed": [f"{slowest} rpm", f"{fastest} rpm"]},
        "tier": [{key: value for key, value in tier.items() if not key.startswith("_")} for tier in tiers],
        "tool": [{"grip": rng.choice(["shrink", "collet", "hydraulic"]), "cutter": made}],
        "pass": [one],
    }


def toml(value):
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return "[" + ", ".join(toml(each) for each in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(each)}" for key, each in value.items()) + " }"
    return json.dumps(value)


def job_text(job):
    lines = [f"{key} = {toml(value)}" for key, value in job.items() if not isinstance(value, (dict, list))]
    for key, value in job.items():
        for table in value if isinstance(value, list) else [value] if isinstance(value, dict) else []:
            lines.append(f"\n[[{key}]]" if isinstance(value, list) else f"\n[{key}]")
            lines += [f"{name} = {toml(each)}" for name, each in table.items()]
    return "\n".join(lines) + "\n"


def refuse(text):
    raise ValueError(f"{text} in the JSON")


def faults_of(document):
    """What no answer may hold."""
    for one in document["passes"]:
        give = one["static"]["give"]
        if give and abs(sum(part["share"] for part in give) - 1) > 1e-6:
            yield f"shares of the give sum to {sum(part['share'] for part in give)}"
        for mode in one["tool_modes"] + one["work_modes"]:
            shares = mode["strain_share"].values()
            if shares and abs(sum(shares) - 1) > 1e-6:
                yield f"strain shares sum to {sum(shares)}"
            if not mode["frequency_hz"] > 0 or not mode["damping_ratio"] > 0:
                yield f"a mode of {mode['frequency_hz']} Hz, damping {mode['damping_ratio']}"
        for limit in one["stability"]["limit_m"]:
            if limit is not None and not limit > 0:
                yield f"a limit of {limit}"
        for share in one["stability"]["probability"]:
            if share is not None and not 0 <= share <= 1:
                yield f"a probability of {share}"
        if one["verdict"]["level"] not in ("unflagged", "marginal", "avoid"):
            yield "no level"


def tried(program, path, draws):
    start = time.time()
    done = subprocess.run([program, "check", str(path), "--json", "--draws", str(draws)], capture_output=True, text=True)
    seconds = time.time() - start
    if done.returncode != 0:
        return seconds, [f"exit code {done.returncode}: {done.stderr.strip()[:600]}"]
    try:
        document = json.loads(done.stdout, parse_constant=refuse)
        return seconds, list(faults_of(document))
    except (ValueError, KeyError, TypeError) as error:
        return seconds, [f"{type(error).__name__}: {error}"]


def main():
    here = pathlib.Path(__file__).parent
    options = argparse.ArgumentParser()
    options.add_argument("--count", type=int, default=50)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--draws", type=int, default=8)
    options.add_argument("--program", default=str(here.parents[1] / "build" / "standfast"))
    options.add_argument("--keep", help="folder for the jobs; otherwise they are not kept")
    given = options.parse_args()
    failed, times = 0, []
    with tempfile.TemporaryDirectory() as folder:
        for number in range(given.count):
            seed = given.seed * 1_000_003 + number
            path = pathlib.Path(given.keep or folder, f"random-{seed}.toml")
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(job_text(a_job(random.Random(seed))))
            seconds, faults = tried(given.program, path, given.draws)
            times.append((seconds, seed))
            failed += bool(faults)
            for fault in faults[:5]:
                print(f"seed {seed}: {fault}")
    slowest = ", ".join(f"{seconds:.1f} s (seed {seed})" for seconds, seed in sorted(times, reverse=True)[:3])
    over = sum(seconds > 10 for seconds, _ in times)
    print(f"{given.count} jobs: {failed} failed; {over} took over 10 s; slowest {slowest}")
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main())
