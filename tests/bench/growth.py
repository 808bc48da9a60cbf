#!/usr/bin/python3
"""Growth: of each construct of the language a file, and one with twice as much of it; neither compiling nor any page may
take more than 2.2 times the instructions for it, what the setting around it costs taken off. As a stage of the tests
with sizes that just tell growth; `make bench` takes larger ones, which show what hides behind a large even part.
  growth.py [NAME...]   all constructs, or those whose names hold one of these"""
import os
import pathlib
import shutil
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, scratch
from counting import count_parts
from generators import CONSTRUCTS, bare, setting

GROWTH_GOAL = 2.2       # times as many instructions for twice as much
EVEN = 1.6              # what grows less than this throughout is not about the construct,
FAR = 30_000_000        # unless by so many instructions: the findings that are shown, with their mends, are most of some files' work
LEAST = 200_000         # instructions: less is noise
LARGER = 8              # times the size, in the bench
ERROR = "let wrong = 3 turns + 3 mm\n"


def write(folder, name, made):
    """Writes a construct's text or texts; gives the main file's path."""
    folder = pathlib.Path(folder) / name
    for file, text in ({"main.lay": made} if isinstance(made, str) else made).items():
        (folder / file).parent.mkdir(parents=True, exist_ok=True)
        (folder / file).write_text(text)
    (folder / "std").mkdir()
    shutil.copy(ROOT / "stdlib/sizes.lay", folder / "std")
    return folder / "main.lay"


def size_of(construct, times):
    return min(construct.size * times, construct.most // 2)


def measure(folder, constructs, times=1):
    """{name: [parts of a file, parts of one with twice as much]}, and {with errors: parts of the setting alone}; parts as
    count_parts gives them."""
    once = []
    files = {False: write(folder, "setting", bare("")), True: write(folder, "wrong", setting() + ERROR)}
    for number, (name, construct) in enumerate(constructs.items()):
        size = size_of(construct, times)
        once.append(write(folder, f"{number}.once", construct.make(construct.least)))
        for twice in (False, True):
            files[name, twice] = write(folder, f"{number}.{twice}", construct.make(size * 2 if twice else size))
    counts = count_parts(once, files.values())
    counts = {key: counts[str(path)] for key, path in files.items()}
    return {name: [counts[name, False], counts[name, True]] for name in constructs}, {errors: counts[errors] for errors in (False, True)}


def growth_of(setting_parts, once, twice, times=1):
    """{part: times the instructions} of the parts that take three times the setting's, the setting's taken off; times: as
    for measure."""
    growth = {}
    for part in once.keys() & twice.keys():
        share = once[part] - setting_parts.get(part, 0)
        if share >= max(LEAST * times, 2 * setting_parts.get(part, 0)):
            growth[part] = (twice[part] - setting_parts.get(part, 0)) / share
    return growth


def chosen(words):
    return {name: construct for name, construct in CONSTRUCTS.items() if not words or any(word in name for word in words)}


def show(goals, folder):
    """Larger sizes than the tests take: of each part the steepest curve, and every curve that is too steep."""
    steepest = {}
    measured, settings = measure(folder, CONSTRUCTS, LARGER)
    for name, parts in measured.items():
        for part, times in growth_of(settings[CONSTRUCTS[name].errors], *parts, LARGER).items():
            steepest[part] = max(steepest.get(part, (0, "")), (times, name))
            if times > GROWTH_GOAL:
                goals.row(f"growth of {part} with {name}", times, most=GROWTH_GOAL)
    for part, (times, name) in steepest.items():
        goals.row(f"growth of {part}, the steepest of {len(CONSTRUCTS)} curves ({name})", times)


def main():
    checks = Checks()
    constructs = chosen(sys.argv[1:])
    with scratch() as folder:
        measured, settings = measure(folder, constructs)
    for name, (once, twice) in measured.items():
        errors = constructs[name].errors
        compiled = "compile with errors" if errors else "compile"
        checks.check(compiled in once and compiled in twice, f"{name}: has {'errors' if errors else 'none'}", f"{once}\n{twice}")
        growth = growth_of(settings[errors], once, twice)
        grown = max(twice[part] - once.get(part, 0) for part in twice)
        checks.check(max(growth.values(), default=0) >= EVEN or grown >= FAR, f"{name}: the file is about the construct", f"{growth}, {grown}")
        for part, times in growth.items():
            checks.check(times <= GROWTH_GOAL, f"{name}: {part}, twice as many take {times:.2f} times the instructions")
    checks.finish()


if __name__ == "__main__":
    os.environ.pop("TURNLAY_PATH", None)
    main()
