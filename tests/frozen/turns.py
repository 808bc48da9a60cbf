#!/usr/bin/python3
"""turns.py FILE: what edition 1 promises of the file's plan, turns, widths and positions. One line for each run: rod, place
and layer by number, role, turns, where it begins, width, and threads; before them where the layer begins and how wide
it is. Of a crosswrap, also its leads, marks and passes. Lengths, pieces and steps may get better and are not here."""
import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import turnlay


def crosswrap_lines(where, made):
    """Leads, marks, and where every pass's strand lies beside the first."""
    back = made["lead_mm"]["back"]
    yield f"{where} {made['kind']} {made['sense']} lead {made['lead_mm']['out']:.6f}" + (f" {back:.6f}" if back else "")
    for line in made["lines"]:
        yield f"{where} line {line['clock_deg']:.4f}" + "".join(f" {mark:.4f}" for mark in line["marks_mm"])
    for each in made["passes"]:
        strand = made["strands"][each["strand"]]
        yield (f"{where} pass {each['strand']} {each['start']} {strand['thread']}{' spacer' if strand['spacer'] else ''}"
               f" at {strand['middle_mm']:.6f} width {strand['width_mm']:.6f}")


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
                    yield f"{where} {run['role']} {run['turns']} turns from {run['start_mm']:.6f} width {width:.6f}" + "".join(
                        f" {each['thread']}{' spacer' if each['spacer'] else ''}" for each in run["strands"])


def main(path):
    answer = turnlay("plan", "--format", "json", path)
    if answer.code:
        sys.exit(answer.words())
    print("\n".join(lines(json.loads(answer.out))))


if __name__ == "__main__":
    main(*sys.argv[1:])
