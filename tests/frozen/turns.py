#!/usr/bin/python3
"""turns.py FILE: one line for each run of the file's plan: rod, place and layer by number, role, thread, turns, and
the length wound in mm to 6 decimals; `place` lines say where each layer begins. Of a crosswrap, also its set-out,
marks and passes."""
import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import turnlay


def crosswrap_lines(where, made):
    """Set-out, marks, and every pass with its strand: nothing of what helps to judge the plan, only what is laid."""
    back = made["lead_mm"]["back"]
    yield f"{where} {made['kind']} {made['sense']} lead {made['lead_mm']['out']:.6f}" + (f" {back:.6f}" if back else "")
    for line in made["lines"]:
        yield f"{where} line {line['clock_deg']:.4f}" + "".join(f" {mark:.4f}" for mark in line["marks_mm"])
    for each in made["passes"]:
        strand = made["strands"][each["strand"]]
        yield (f"{where} pass {each['strand']} {each['start']} {strand['thread']}{' spacer' if strand['spacer'] else ''}"
               f" at {strand['middle_mm']:.6f} {each['out_mm']:.6f} {each['back_mm'] or 0:.6f} on {each['dwell_deg']:.4f}")


def lines(plan):
    for r, rod in enumerate(plan["rods"], 1):
        for p, place in enumerate(rod["places"], 1):
            for n, layer in enumerate(place["layers"], 1):
                where = f"{r} {p} {n}"
                yield f"{where} {layer['kind']} from {layer['start_mm']:.6f} width {layer['width_mm']:.6f}"
                if "crosswrap" in layer:
                    yield from crosswrap_lines(where, layer["crosswrap"])
                for run in layer["runs"]:
                    width = abs(run["end_mm"] - run["start_mm"])
                    yield f"{where} {run['role']} {run['turns']} turns {width:.4f} wide" + "".join(
                        f" {each['thread']}{' spacer' if each['spacer'] else ''} {each['wound_mm']:.6f}"
                        for each in run["strands"])


def main(path):
    answer = turnlay("plan", "--format", "json", path)
    if answer.code:
        sys.exit(answer.words())
    print("\n".join(lines(json.loads(answer.out))))


if __name__ == "__main__":
    main(*sys.argv[1:])
