#!/usr/bin/env python3
"""Stacks in one piece as solid models, to hold seats against: gmsh makes the meshes (10-node
tetrahedra), CalculiX solves them. Needs Debian's gmsh and calculix-ccx; writes stacks.json.

    validation/solid_fe/solids.py [NAME...]

Foot fixed, joints of one piece. The load is spread evenly over the nodes of the top face, and the
displacement is their mean, so that compliance is the work-conjugate pair. mm, N, tonne, s inside.
"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
MATERIALS = {  # E N/mm2, nu, density tonne/mm3; as in tests/fea/stack/solid_stacks.hpp
    "steel": (205e3, 0.29, 7.85e-9),
    "iron": (169e3, 0.275, 7.1e-9),
    "aluminium": (68.9e3, 0.33, 2.7e-9),
}
# Each tier from the foot up: material, shape, height. Round D; tube D, d; block x, y; box x, y, wall.
STACKS = {
    "block on block": [("steel", "block", (80, 80), 60), ("aluminium", "block", (40, 40), 80)],
    "round on round": [("steel", "round", (120,), 80), ("aluminium", "round", (60,), 100)],
    "plate, round, block": [("steel", "round", (160,), 25), ("steel", "round", (90,), 120),
                            ("aluminium", "block", (50, 40), 60)],
    "tube, long block, part": [("iron", "tube", (100, 60), 100), ("steel", "block", (90, 50), 30),
                               ("aluminium", "block", (60, 40), 60)],
    "box, block, part": [("iron", "box", (100, 100, 12), 150), ("steel", "block", (100, 60), 40),
                         ("steel", "block", (50, 50), 60)],
    "plate, tube, block, small part": [("steel", "block", (150, 150), 20),
                                       ("steel", "tube", (90, 60), 140),
                                       ("steel", "block", (64, 64), 30),
                                       ("aluminium", "block", (40, 30), 50)],
}
SIZE = 9.0  # mm, of an element


def solid(tag, shape, sizes, foot, height):
    """Lines of gmsh that make one tier; its volume has the given tag."""
    def box(number, x, y):
        return f"Box({number}) = {{{-x / 2}, {-y / 2}, {foot}, {x}, {y}, {height}}};\n"

    def cylinder(number, diameter):
        return f"Cylinder({number}) = {{0, 0, {foot}, 0, 0, {height}, {diameter / 2}}};\n"

    hole = tag + 100
    cut = f"BooleanDifference({tag + 200}) = {{ Volume{{{tag}}}; Delete; }}{{ Volume{{{hole}}}; Delete; }};\n"
    if shape == "round":
        return cylinder(tag, sizes[0]), tag
    if shape == "tube":
        return cylinder(tag, sizes[0]) + cylinder(hole, sizes[1]) + cut, tag + 200
    if shape == "block":
        return box(tag, *sizes), tag
    x, y, wall = sizes
    return box(tag, x, y) + box(hole, x - 2 * wall, y - 2 * wall) + cut, tag + 200


def geometry(tiers):
    text = 'SetFactory("OpenCASCADE");\n'
    volumes, foot = [], 0.0
    for number, (_, shape, sizes, height) in enumerate(tiers, 1):
        lines, tag = solid(number, shape, sizes, foot, height)
        text += lines
        volumes.append(tag)
        foot += height
    text += ("all() = BooleanFragments{ Volume{%d}; Delete; }{ Volume{%s}; Delete; };\n"
             % (volumes[0], ", ".join(map(str, volumes[1:]))))
    foot = 0.0
    for number, (_, _, _, height) in enumerate(tiers, 1):
        text += (f"part{number}() = Volume In BoundingBox {{-500, -500, {foot - 0.01}, 500, 500, "
                 f"{foot + height + 0.01}}};\nPhysical Volume(\"TIER{number}\") = part{number}();\n")
        foot += height
    return text + (f"Mesh.CharacteristicLengthMax = {SIZE};\nMesh.CharacteristicLengthMin = 1;\n"
                   "Mesh.ElementOrder = 2;\nMesh.SecondOrderLinear = 1;\nMesh.SaveAll = 0;\n")


def read_mesh(path):
    """Nodes, and elements by tier, of gmsh's own inp."""
    nodes, elements, block, tier = {}, {}, None, None
    pending = []
    for line in path.read_text().splitlines():
        if line.startswith("*"):
            upper = line.upper().replace(" ", "")
            block = "node" if upper.startswith("*NODE") else None
            if upper.startswith("*ELEMENT") and "C3D10" in upper:
                block = "element"
            if upper.startswith("*ELSET") and "TIER" in upper:
                block, tier = "set", int(upper.split("TIER")[1])
                elements.setdefault(("set", tier), [])
            continue
        words = [word for word in line.replace(" ", "").split(",") if word]
        if block == "node":
            nodes[int(words[0])] = tuple(float(word) for word in words[1:4])
        elif block == "element":
            pending += [int(word) for word in words]
            while len(pending) >= 11:
                elements[pending[0]] = pending[1:11]
                pending = pending[11:]
        elif block == "set":
            elements[("set", tier)] += [int(word) for word in words]
    return nodes, elements


def deck(tiers, nodes, elements):
    height = sum(tier[3] for tier in tiers)
    used = sorted({node for key, of in elements.items() if not isinstance(key, tuple) for node in of})
    foot = [node for node in used if abs(nodes[node][2]) < 1e-6]
    top = [node for node in used if abs(nodes[node][2] - height) < 1e-6]
    lines = ["*NODE, NSET=ALL"]
    lines += ["%d, %.9g, %.9g, %.9g" % (node, *nodes[node]) for node in used]
    for number, (material, *_) in enumerate(tiers, 1):
        lines.append(f"*ELEMENT, TYPE=C3D10, ELSET=TIER{number}")
        for element in elements[("set", number)]:
            lines.append(", ".join(map(str, [element] + elements[element])))
    for material in {tier[0] for tier in tiers}:
        youngs, poisson, density = MATERIALS[material]
        lines += [f"*MATERIAL, NAME={material}", "*ELASTIC", f"{youngs}, {poisson}", "*DENSITY",
                  f"{density}"]
    for number, (material, *_) in enumerate(tiers, 1):
        lines.append(f"*SOLID SECTION, ELSET=TIER{number}, MATERIAL={material}")
    for name, members in (("FOOT", foot), ("TOP", top)):
        lines.append(f"*NSET, NSET={name}")
        lines += [f"{node}," for node in members]
    lines += ["*BOUNDARY", "FOOT, 1, 3"]
    for direction in (1, 2):
        lines += ["*STEP", "*STATIC", "*CLOAD, OP=NEW"]
        lines += [f"{node}, {direction}, {1.0 / len(top):.12g}" for node in top]
        lines += ["*NODE PRINT, NSET=TOP", "U", "*END STEP"]
    lines += ["*STEP", "*FREQUENCY", "3", "*END STEP"]
    return "\n".join(lines) + "\n"


def means(text):
    """Mean top displacement of each static step, mm per N, its own component."""
    steps, rows = [], []
    for line in text.splitlines() + ["displacements"]:
        words = line.split()
        if line.strip().startswith("displacements"):
            if rows:
                steps.append(rows)
            rows = []
        elif len(words) == 4 and words[0].isdigit():
            rows.append([float(word) for word in words[1:]])
    return [sum(row[axis] for row in step) / len(step) for axis, step in enumerate(steps)]


def frequencies(text):
    found = []
    for line in text.split("E I G E N V A L U E   O U T P U T")[1].splitlines():
        words = line.split()
        if len(words) == 5 and words[0].isdigit():
            found.append(float(words[3]))
        elif found and not words:
            break
    return found


def solve(tiers):
    with tempfile.TemporaryDirectory() as folder:
        room = pathlib.Path(folder)
        (room / "stack.geo").write_text(geometry(tiers))
        subprocess.run(["gmsh", "-3", "-format", "inp", "-o", "mesh.inp", "stack.geo"], cwd=room,
                       check=True, stdout=subprocess.DEVNULL)
        nodes, elements = read_mesh(room / "mesh.inp")
        (room / "job.inp").write_text(deck(tiers, nodes, elements))
        environment = dict(os.environ, OMP_NUM_THREADS="1", CCX_NPROC_EQUATION_SOLVER="1")
        subprocess.run(["ccx", "job"], cwd=room, check=True, stdout=subprocess.DEVNULL,
                       env=environment)
        text = (room / "job.dat").read_text()
        x, y = means(text)[:2]
        return {"tiers": tiers, "nodes": len(nodes), "compliance_um_per_kn": [1e6 * x, 1e6 * y],
                "frequency_hz": frequencies(text)}


def main():
    path = HERE / "stacks.json"
    found = json.loads(path.read_text()) if path.exists() else {}
    for name in sys.argv[1:] or STACKS:
        found[name] = solve(STACKS[name])
        print(name, json.dumps(found[name]))
        path.write_text(json.dumps(found, indent=1) + "\n")


if __name__ == "__main__":
    main()
