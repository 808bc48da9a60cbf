#!/usr/bin/python3
"""turns.py FILE: one line for each run of the file's plan: rod, place and layer by number, role, thread, turns, and
the length wound in mm to 6 decimals; `place` lines say where each layer begins."""
import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import turnlay


def lines(plan):
    for r, rod in enumerate(plan["rods"], 1):
        for p, place in enumerate(rod["places"], 1):
            for n, layer in enumerate(place["layers"], 1):
                where = f"{r} {p} {n}"
                yield f"{where} {layer['kind']} from {layer['start_mm']:.6f} width {layer['width_mm']:.6f}"
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
