#!/usr/bin/python3
"""Widths given at steps of sheets, and turns counted otherwise than the sheet says, of examples, golden files and made programs:
what was wound by then is on the new plan as it was wound, ends where it was measured, and the turns that are more are of the
thread that was wound last; what was laid, cut, drawn and trimmed by then is so on the new sheet; no plan says that it is a
fault of the program."""
import json
import pathlib
import random
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, in_turn
from generated import programs
from many_pages import ManyPages
from readings import measured_actions

MADE = range(1, 61)        # seeds of tests/fuzz/generate.py
FOLDER = ["-I", "examples"]  # where some find what they use
EACH = 4                   # steps of a file that are tried
OTHERWISE = (0, 1, 3, -2)  # turns
NEAR = 2e-3                # mm
WIDER = (0.02, -0.02, 0.06)
ENDS = ("start", "lay in", "lay loop", "lay end", "pull through", "cut from spool", "trim tag", "trim end", "take spacer")


def turns_of(layer):
    """The threads of every turn, and where each of them ends, mm from where the layer begins."""
    threads, ends, begin = [], [], layer["runs"][0]["from_mm"]
    for run in layer["runs"]:
        for turn in range(run["turns"]):
            threads.append(tuple((strand["thread"], strand["spacer"]) for strand in run["strands"]))
            ends.append(run["from_mm"] - begin + (run["to_mm"] - run["from_mm"]) * (turn + 1) / run["turns"])
    return threads, ends


def check_given(pages, plan, at, step, action, more):
    """Faults in words."""
    counted, made = action["band_count"] + more, action["layer_count"] + more
    if counted < 1:
        return []
    width = round(action["width_mm"] * made / action["layer_count"], 3)
    option = f"{step}={width} mm" + (f" after {counted} turn{'s' if counted > 1 else ''}" if more else "") + " sure"
    answer = pages.make(["plan", "--format", "json", "--measured", option, *FOLDER])
    words = answer.err.decode(errors="replace")
    if "bug in turnlay" in words or answer.code not in (0, 1):
        return [f"{option}: {answer.words()}"]
    if answer.code == 1:                  # what is to come does not fit any more
        return []
    layer_of = lambda plan: plan["rods"][at[0]]["places"][at[1]]["layers"][at[2]]
    (then, _), (now, ends) = turns_of(layer_of(plan)), turns_of(layer_of(json.loads(answer.out)))
    lain = action["layer_count"]
    wanted = then[:min(made, lain)] + [then[lain - 1]] * max(more, 0)
    faults = []
    if now[:made] != wanted:
        first = next((turn for turn in range(made) if now[turn:turn + 1] != wanted[turn:turn + 1]), None)
        faults.append(f"{option}: turn {first + 1} of {made} was {wanted[first]}, and is {now[first:first + 1]}")
    elif abs(ends[made - 1] - width) > NEAR:
        faults.append(f"{option}: ends at {ends[made - 1]}")
    return faults


def actions_of(sheet, at):
    """(step, action) of the layer, in order."""
    return [(step["number"], action) for section in sheet["rods"][at[0]]["sections"] for part in section["parts"]
            if (part.get("place"), part.get("layer")) == at[1:] for step in part["steps"] for action in step["actions"]]


def ends_laid(sheet, at, until=None):
    """What is done in the layer to tags and ends, in order, up to the measuring of that step: (kind, pieces, turn)."""
    rod, laid = sheet["rods"][at[0]], []
    for number, action in actions_of(sheet, at):
        if action["kind"] == "measure" and number == until:
            break
        if action["kind"] in ENDS:
            laid.append((action["kind"], [rod["pieces"][piece]["label"] for piece in action["pieces"]], action["layer_count"]))
    return laid


def goes_on(sheet, at, made):
    """What the sheet's top has to say when the layer is measured up to that turn."""
    steps = actions_of(sheet, at)
    for number, action in steps:
        if action["kind"] == "wind" and action["layer_count"] > made:
            before = max([each["layer_count"] for other, each in steps if other < number and each["kind"] == "wind"], default=0)
            after = f" after {made - before} turn{'s' if made - before > 1 else ''} of it" if made > before else ""
            return f"up to turn {made} of the layer; turn {made + 1} comes next, in step {number}{after}."
    number = next((number for number, action in steps if action["kind"] == "measure" and action["layer_count"] == made), None)
    return f"up to turn {made} of the layer, its last" + (f"; go on behind the measuring in step {number}." if number else ".")


def laid_otherwise(pages, at, laid, made, option):
    """(faults in words, what is said to mend what comes out too wide) of a width at that place, up to that turn."""
    answer = pages.make(["sheet", "--format", "json", "--findings", "json", "--measured", option, *FOLDER])
    if answer.code:                       # what is to come does not fit any more
        return [], ""
    sheet = json.loads(answer.out)
    now = ends_laid(sheet, at)
    pairs = zip(laid, [*now, *[None] * len(laid)])
    faults = [f"{option}: {was} is {is_now}" for was, is_now in pairs if was != is_now][:1]
    says = goes_on(sheet, at, made)
    if "left_out" not in sheet and not any(words.endswith(says) for words in sheet.get("widths", [])):
        faults.append(f"{option}: {sheet.get('widths')} does not say {says}")
    mends = [finding.get("mend", "") for finding in json.loads(answer.err or b'{"findings": []}')["findings"]
             if finding["code"] == "T313"]
    return faults, " ".join(mends)


def check_laid(pages, sheet, at, step, action):
    """(faults in words, turns that came off). A tag that waits for its piece's first turn moves with it; and a loop is
    laid again where the mend says so."""
    laid, faults, taken_off = ends_laid(sheet, at, step), [], 0
    while laid and laid[-1][0] == "lay in":
        laid.pop()
    for wider in WIDER:
        width = action["width_mm"] * (1 + wider)
        found, mend = laid_otherwise(pages, at, laid, action["layer_count"], f"{step}={width:.3f} mm sure")
        faults += found
        off = re.search(r"take (\d+) turns? off(, lay the loops? again and wind \d+)?.*`after (\d+) turns?`", mend)
        if not off:
            continue
        left = int(off[3])
        made = action["layer_count"] - action["band_count"] + left
        width *= made / action["layer_count"]
        lies = laid[:]
        while off[2] and lies[-1][0] == "lay loop":
            lies.pop()
        found, _ = laid_otherwise(pages, at, lies, made, f"{step}={width:.3f} mm after {left} turns")
        faults += found
        taken_off += 1
    return faults, taken_off


def check_file(name, given, text):
    """(steps tried, turns taken off, faults) of one file; (0, 0, []) where it has errors."""
    with ManyPages(given, text) as pages:
        sheet = pages.make(["sheet", "--format", "json", *FOLDER])
        if sheet.code:
            return 0, 0, []
        plan = json.loads(pages.make(["plan", "--format", "json", *FOLDER]).out)
        data = json.loads(sheet.out)
        steps = measured_actions(data)
        random.Random(name).shuffle(steps)
        faults = [fault for at, step, action in steps[:EACH] for more in OTHERWISE
                  for fault in check_given(pages, plan, at, step, action, more)]
        taken_off = 0
        for at, step, action in steps[:EACH]:
            found, off = check_laid(pages, data, at, step, action)
            faults += found
            taken_off += off
        return len(steps[:EACH]), taken_off, faults


def main():
    checks, tried, taken_off = Checks(), 0, 0
    files = [(path.name, str(path), b"") for folder in ("examples", "tests/golden") for path in sorted((ROOT / folder).glob("*.lay"))]
    files += [(f"generated {seed}", "-", text) for seed, text in zip(MADE, programs(MADE))]
    for (name, _, _), (steps, off, faults) in zip(files, in_turn(lambda file: check_file(*file), files)):
        tried += steps
        taken_off += off
        if steps:
            checks.check(not faults, f"{name}: what was wound stays", "\n".join(faults))
    print(f"{tried} steps, each measured in {len(OTHERWISE)} ways")
    checks.check(tried > 300, "many steps are tried", tried)
    checks.check(taken_off > 30, "turns come off as T313 says", taken_off)
    checks.finish()


main()
