#!/usr/bin/env python3
"""Recomputes the distances of `standfast check --json` with another method: hulls of many points,
their distance by non-negative least squares (C. L. Lawson and R. J. Hanson, Solving Least Squares
Problems, 1974, chapter 23) instead of GJK, and places worked out anew from the job file.

Usage: reach_distances.py PROGRAM JOB.toml ...     needs numpy and scipy
Prints, for each pass whose reach is judged, the least margin over all pairs but the piece that is
cut, and the program's own where its nearest pair is one of these. Circles are 256-sided here and
48-sided there, so the program may be up to 0.2 % of a radius nearer, never farther.
"""
import json
import math
import re
import subprocess
import sys
import tomllib

import numpy as np
from scipy.optimize import nnls

UNITS = {"mm": 1e-3, "m": 1, "in": 25.4e-3, "deg": math.pi / 180, "thou": 25.4e-6}


def si(text):
    if text in (None, "solid"):
        return 0.0
    number, unit = re.fullmatch(r"([-+0-9./]+)\s*([a-z]+)", text).groups()
    whole, _, fraction = number.rpartition("-") if re.fullmatch(r"\d+-\d+/\d+", number) else ("0", "", number)
    top, _, bottom = fraction.partition("/")
    return (float(whole) + float(top) / float(bottom or 1)) * UNITS[unit]


def about(axis, angle):
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]] if axis == "y" else [[c, -s, 0], [s, c, 0], [0, 0, 1]])


def ring(diameter, z, sides=256):
    turn = np.arange(sides) * 2 * math.pi / sides
    return np.c_[diameter / 2 * np.cos(turn), diameter / 2 * np.sin(turn), np.full(sides, z)]


def rectangle(x, y, z):
    return np.array([[a * x / 2, b * y / 2, z] for a in (-1, 1) for b in (-1, 1)])


def outline(section, z):
    for key in ("round", "tube"):
        if key in section:
            value = section[key]
            return ring(si(value if isinstance(value, str) else value[0]), z)
    sizes = section.get("block") or section.get("box")
    return rectangle(si(sizes[0]), si(sizes[1]), z)


def distance(a, b, weight=1e3):
    """Least |A l - B m| with l, m >= 0 that each sum to 1; both conditions by weight."""
    matrix = np.zeros((5, len(a) + len(b)))
    matrix[:3, :len(a)], matrix[:3, len(a):] = a.T, -b.T
    matrix[3, :len(a)] = matrix[4, len(a):] = weight
    share, _ = nnls(matrix, np.array([0, 0, 0, weight, weight]), maxiter=100000)
    first, second = share[:len(a)], share[len(a):]
    return np.linalg.norm(a.T @ first / first.sum() - b.T @ second / second.sum())


def load(path):
    job = tomllib.load(open(path, "rb"))
    for name in job.pop("use", []):
        for key, value in tomllib.load(open(path.rsplit("/", 1)[0] + "/" + name, "rb")).items():
            job[key] = value + job.get(key, []) if isinstance(value, list) else value
    return job


def frames(tiers):
    placed = {}
    last = None
    for tier in tiers:
        host = tier.get("on", last)
        foot, axes, height = placed[host] if host else (np.zeros(3), np.eye(3), 0.0)
        at = np.array([si(x) for x in tier["at"]]) if "at" in tier else np.array([0, 0, height])
        turn = (about("z", si(tier.get("heading"))) @ about("y", si(tier.get("lean"))) @
                about("z", si(tier.get("spin"))))
        placed[tier["name"]] = (foot + axes @ at, axes @ turn, si(tier["height"]))
        last = tier["name"]
    return placed


def work_of(job, placed, assumed):
    solids = {}
    for tier in job["tier"]:
        foot, axes, height = placed[tier["name"]]
        points = np.r_[outline(tier, 0), outline(tier.get("top", tier), height)]
        solids[tier["name"]] = points @ axes.T + foot
        for side in tier.get("side", []):
            size = [si(x) for x in side["size"]]
            box = np.r_[rectangle(size[0], size[1], -size[2] / 2), rectangle(size[0], size[1], size[2] / 2)]
            solids[side["name"]] = (box + [si(x) for x in side["at"]]) @ axes.T + foot
    table = job["machine"].get("table", {})
    across = si(table.get("diameter")) or assumed["machine.table.diameter"]
    solids["table"] = np.r_[ring(across, -0.05), ring(across, 0)]
    return solids


def steps_of(job, tool, assumed):
    cutter = tool["cutter"]
    stickout, flute = si(cutter["stickout"]), si(cutter["flute"])
    neck, length = (si(x) for x in cutter.get("neck", ["0 mm", "0 mm"]))
    steps = [("cutter", si(cutter["diameter"]), si(cutter["diameter"]), 0, flute)]
    if length:
        steps.append(("neck", neck, neck, flute, flute + length))
    shank = si(cutter["shank"])
    steps.append(("shank", shank, shank, flute + length, stickout))
    z = stickout
    for step in reversed(tool["holder"]):
        top = si(step["round"])
        steps.append(("holder", si(step.get("to")) or top, top, z, z + si(step["length"])))
        z += si(step["length"])
    nose = job["machine"].get("spindle", {}).get("nose")
    across = si(nose["round"]) if nose else assumed["machine.spindle.nose.round"]
    long = si(nose["length"]) if nose else assumed["machine.spindle.nose.length"]
    return steps + [("spindle nose", across, across, z, z + long)]


def places_of(job, placed, cut, tool):
    """Tool axes, start on the tool's axis and way along the path, stretch by stretch."""
    foot, tier, _ = placed[cut["tier"]]
    points = [foot + tier @ np.array([si(x) for x in p])
              for p in cut.get("points", [cut[k] for k in ("at", "to") if k in cut])]
    base = about("z", si(cut.get("turn"))) @ about("y", si(cut.get("tilt")))
    radius = si(tool["cutter"]["diameter"]) / 2
    if "wall" in cut:
        wall = np.eye(3)["xyz".index(cut["wall"][1])] * (1 if cut["wall"][0] == "+" else -1)
        out = tier @ wall
        out = out - out @ base[:, 2] * base[:, 2]
        offset = radius * out / np.linalg.norm(out)
    else:
        side = (base @ about("z", si(cut["feed_heading"])))[:, 1]
        offset = radius * side * {"up": -1, "slot": 0}.get(cut.get("milling"), 1)
    ends = list(zip(points, points[1:])) or [(points[0], points[0])]
    return [(base, start + offset, end - start) for start, end in ends]


def main():
    worst = 0.0
    for path in sys.argv[2:]:
        job = load(path)
        answer = json.loads(subprocess.run([sys.argv[1], "check", "--json", "--draws", "0", path], check=True,
                                           capture_output=True, text=True).stdout)
        assumed = {a["path"]: a["value"] for a in answer["assumed"] if a["value"] is not None}
        placed = frames(job["tier"]) if "tier" in job else {}
        for cut, told in zip(job["pass"], answer["passes"]):
            if not told["reach"]["judged"]:
                continue
            tools = job["tool"]
            tool = next((t for t in tools if t.get("name") == cut.get("tool")), tools[0])
            cut.setdefault("tier", job["tier"][-1]["name"])
            piece = {cut["tier"]}
            for tier, below in zip(job["tier"], [None] + job["tier"]):
                if tier.get("joint") == "solid" and tier["name"] in piece:
                    piece.add(tier.get("on", below["name"]))
            nearest = (math.inf, "", "")
            for axes, start, along in places_of(job, placed, cut, tool):
                for name, foot, top, low, high in steps_of(job, tool, assumed):
                    points = np.r_[ring(foot, low), ring(top, high)] @ axes.T + start
                    points = np.r_[points, points + along]
                    for other, solid in work_of(job, placed, assumed).items():
                        if other not in piece:
                            nearest = min(nearest, (distance(points, solid), name, other))
            own = told["reach"]
            pair = own["tool_solid"] + " / " + own["work_solid"]
            if own["work_solid"] in piece:
                verdict = f"nearest is the piece: {own['distance_m'] * 1e3:.3f}"
                assert nearest[0] >= own["distance_m"] - 0.2e-3
            else:
                verdict = f"{own['distance_m'] * 1e3:.3f} mm {pair}"
                worst = max(worst, abs(own["distance_m"] - nearest[0]))
            print(f"{cut.get('name')}: here {nearest[0] * 1e3:.3f} mm {nearest[1]} / {nearest[2]}; "
                  f"program {verdict}")
    print(f"largest difference {worst * 1e3:.3f} mm")


main()
