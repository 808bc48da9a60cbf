#!/usr/bin/python3
"""Pages of all examples, patterns of the library and golden files by the program that is built with the sanitizers (TURNLAY), which
must find nothing: each file compiled once for its pages, and one page of all files by one process."""
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, in_turn, turnlay
from many_pages import ManyPages

FOLDERS = ("examples", "stdlib", "tests/golden", "tests/frozen")
TOGETHER = "plan"
PAGES = ("check --findings json", "plan --format json", "plan --format csv", "need --format json", "draw", "draw --view unrolled",
         "sheet", "sheet --format html", "sheet --format json", "gather")
# A band that is begun, of a file in which no inlay is wound.
BEGUN = ("tests/golden/inlays_nowhere.lay", "sheet --measured 16=53.53mm")
SANITIZER = re.compile(rb"Sanitizer|runtime error")


def fault(answer):
    """What was said of it, or nothing."""
    return "" if answer.code in (0, 1) and not SANITIZER.search(answer.err) else answer.words()


def faults(path, pages):
    with ManyPages(path) as made:
        return [fault(made.make(page.split())) for page in pages]


def main():
    checks = Checks()
    files = sorted(str(path.relative_to(ROOT)) for folder in FOLDERS for path in (ROOT / folder).rglob("*.lay"))
    rows = [(path, PAGES) for path in files] + [(BEGUN[0], BEGUN[1:])]
    if fault(turnlay(TOGETHER, *files, folder=ROOT)):
        rows += [(path, [TOGETHER]) for path in files]
    else:
        checks.passed += len(files)
    for (path, pages), found in zip(rows, in_turn(lambda row: faults(*row), rows)):
        for page, words in zip(pages, found):
            checks.check(not words, f"{page} {path}", words)
    checks.finish()


main()
