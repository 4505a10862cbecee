"""Judges cuts that shops run without a second thought, and cuts that they avoid.

python3 validation/shop_cuts/run.py [PROGRAM]: a line for each cut of cuts.json (common practice, no
source) with its level and what it rests on, then how many of each kind got which level.
"""

import collections
import json
import pathlib
import subprocess
import sys
import tempfile


def toml(value):
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return "[" + ", ".join(toml(each) for each in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(each)}" for key, each in value.items()) + " }"
    return json.dumps(value)


def job_text(job):
    lines = [f"{k} = {toml(v)}" for k, v in job.items() if not isinstance(v, (dict, list))]
    for key, value in job.items():
        tables = value if isinstance(value, list) else [value] if isinstance(value, dict) else []
        for table in tables:
            lines.append(f"[[{key}]]" if isinstance(value, list) else f"[{key}]")
            lines += [f"{k} = {toml(v)}" for k, v in table.items()]
    return "\n".join(lines) + "\n"


def judged(program, job):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder, "job.toml")
        path.write_text(job_text(job))
        done = subprocess.run([program, "check", str(path), "--json"], capture_output=True, text=True)
    return json.loads(done.stdout)["passes"][0]


def shown(value, unit):
    return "none" if value is None else f"{value / unit:.3g}"


def main():
    here = pathlib.Path(__file__).parent
    program = sys.argv[1] if len(sys.argv) > 1 else str(here.parents[1] / "build" / "standfast")
    counts = collections.Counter()
    for cut in json.loads((here / "cuts.json").read_text())["cuts"]:
        made = judged(program, cut["job"])
        kind = "good" if cut["good"] else "bad"
        level = made["verdict"]["level"]
        counts[kind, level] += 1
        odds = made["odds"]
        fresh = odds["fresh_edge"] or {"probability": None}
        print(
            f"{cut['id']} {kind:<5}{cut['why'][:44]:<45}{level:<10}"
            f"edge {shown(made['judged']['limit_m'], 1e-3):>6} mm, tries {odds['probability']:.2f}, "
            f"fresh edge {shown(fresh['probability'], 1)}, push-off "
            f"{shown(odds['push_off_m']['p90'], 1e-6)} um: {', '.join(made['verdict']['reasons'])}"
        )
    for (kind, level), count in sorted(counts.items()):
        print(f"{kind}: {level} {count}")


if __name__ == "__main__":
    main()
