#!/usr/bin/python3
"""Every page of every golden file, of every example, of the fuzzers' corpus and of generated programs (tests/fuzz/generate.py) by
its checksum, those of a job in which widths were measured and a thread broke, too, in sums.txt: what is too much to be kept whole must
not change unnoticed either. Where a page differs, write it with the program of the commit before, too, and compare the two; `--renew`
writes the checksums anew. What is said of texts with slips in them: tests/varied."""
import concurrent.futures
import hashlib
import json
import os
import pathlib
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
from generated import programs
from many_pages import ManyPages, compiled_with
from readings import readings

KEPT = ROOT / "tests/golden/sums.txt"
PAGES = ("check -v", "plan", "plan --format json", "plan --format csv", "need", "need --format json", "need --format csv", "sheet",
         "sheet --depth actions", "sheet --depth cards", "sheet --format html", "shades", "shades --format json", "shades --format svg", "gather",
         "gather --kept")
PICTURES = ("draw", "draw --turn 20", "draw --view presentation", "draw --view side", "draw --view side --turn 90", "draw --view unrolled",
            "draw --view eye", "draw --view template", "draw --view side --scale 3 --eyes protanopia")
# Of a job that is under way: what happened stands before the file's name.
UNDER_WAY = ("sheet", "sheet --format html", "sheet --format json", "need", "plan --format json")
MISHAPS = (("wind", "broke after {half} turns, splice"), ("wind", "broke after {half} turns, restart"), ("wind", "spool empty after {half} turns"),
           ("wind", "unwound to turn {turn}"), ("draw", "loop torn"), ("wind", "tag out"))
SWAPPED = ("check --findings json", "plan --format json")
BETWEEN = ("", " --format json", " --format svg", " --eyes deuteranopia")
WIDER = 0.01               # than planned, each width that is measured

GENERATED = range(1, 101)
LARGEST = 20_000           # bytes of a file of the corpus that is taken
SHOWN = 20                 # pages that differ: one change often touches all


def sum_of(page):
    return hashlib.sha256(page.replace(str(ROOT).encode(), b"")).hexdigest()[:16]  # where the library was looked for


def mishaps(steps):
    """What may go wrong: each in the step of its kind in which most turns are made."""
    for kind, words in MISHAPS:
        of_kind = [step for step in steps if step["kind"] == kind and (kind != "wind" or step["turns"] > 3)]
        if of_kind:
            step = max(of_kind, key=lambda step: step["turns"])
            half = step["turns"] // 2
            turn = max(1, (step.get("layer_turn") or half) - half)
            yield ["--mishap", f"{step['number']} {words.format(half=half, turn=turn)}"]


def pages_under_way(sheet):
    """Widths that were measured, and the first mishap, on every page; each other mishap and where one goes on by the sheet alone."""
    steps = [step for rod in sheet["rods"] for section in rod["sections"] for part in section["parts"] for step in part["steps"]]
    measured = [word for reading in readings(sheet, WIDER) for word in ("--measured", reading)]
    happened = [*([measured] if measured else []), *mishaps(steps)]
    pages = [[*page.split(), *options] for options in happened[:2] for page in UNDER_WAY]
    pages += [["sheet", "--format", "json", *options] for options in happened[2:]]
    return pages + [["sheet", *form, "--from", str(len(steps) // 2)] for form in ((), ("--format", "html"))]


def pages_of_job(sheet):
    """Pages that go by what a file has in it: pictures of its rods, its first and its last thread, a job under way."""
    names = [thread["name"] for thread in sheet["threads"]]
    pages = [[*picture.split(), "--rod", str(rod + 1)] for rod in range(len(sheet["rods"])) for picture in PICTURES]
    if len(names) > 1:
        pages += [["shades", *more.split(), "--between", f"{names[0]},{names[-1]}"] for more in BETWEEN]
        pages += [[*page.split(), "--swap", f"{names[0]}={names[-1]}"] for page in SWAPPED]
    return pages + pages_under_way(sheet)


def sums_of(path, seed=None, text=b""):
    """Lines of a file: page, path, checksum; of pictures those of all its rods. Of one with errors its findings alone."""
    with ManyPages(path, text) as made:
        sheet = made.make(["sheet", "--format", "json"])
        pages = [] if sheet.code else [page.split() for page in PAGES] + pages_of_job(json.loads(sheet.out))
        found = {}
        for page in sorted([["check", "--findings", "json"], *pages], key=compiled_with):
            answer = made.make(page)
            if answer.code <= 1:                      # 2: no crosswrap, no template
                found[" ".join(page)] = sum_of(answer.out)
    name = f"generated {seed}" if seed else path
    first = [] if sheet.code else [f"sheet --format json {name}: {sum_of(sheet.out)}"]
    in_order = map(" ".join, [["check", "--findings", "json"], *pages])
    return first + [f"{page} {name}: {found[page]}" for page in in_order if page in found]


def main():
    jobs = [(str(path.relative_to(ROOT)),) for folder in ("tests/golden", "tests/fuzz/corpus", "examples")
            for path in sorted((ROOT / folder).glob("*.lay")) if path.stat().st_size < LARGEST]
    jobs += [("-", seed, text) for seed, text in zip(GENERATED, programs(GENERATED))]
    kept = dict(line.rpartition(": ")[::2] for line in KEPT.read_text(encoding="utf-8").splitlines())
    every = int(os.environ.get("SUMS_EVERY", 1))                # of the files
    jobs = jobs[::every]
    stop_at_first = os.environ.get("STOP_AT_FIRST") and "--renew" not in sys.argv
    now = []
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for lines in pool.map(lambda job: sums_of(*job), jobs):
            now += lines
            if stop_at_first and any(kept.get(page) != found for page, _, found in (line.rpartition(": ") for line in lines)):
                os._exit(1)           # whoever only asks whether anything fails waits for nothing more
    if "--renew" in sys.argv:
        KEPT.write_text("\n".join(now) + "\n", encoding="utf-8")
        return 0
    found = dict(line.rpartition(": ")[::2] for line in now)
    passed = failed = 0
    for page in sorted(kept.keys() | found.keys() if every == 1 else found.keys()):
        if kept.get(page) == found.get(page):
            passed += 1
        else:
            failed += 1
            if failed <= SHOWN:
                print(f"FAILED  turnlay {page}: {kept.get(page, 'no page')} before, {found.get(page, 'no page')} now")
    print(f"{passed} passed, {failed} failed")
    return failed > 0


if __name__ == "__main__":
    sys.exit(main())
