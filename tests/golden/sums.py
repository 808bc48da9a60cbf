#!/usr/bin/python3
"""Every page of every golden file, of every example, of the fuzzers' corpus and of generated programs (tests/fuzz/generate.py SEED) by
its checksum, and what is said of each of these files when a few tokens of it are changed, in sums.txt: what is too much to be kept whole
must not change unnoticed either. Where a page differs, write it with the program of the commit before, too, and compare the two
(`--changed FILE` prints the changed texts); `--renew` writes the checksums anew."""
import concurrent.futures
import hashlib
import os
import pathlib
import random
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
from changes import TOKEN, mutant

PROGRAM = str((ROOT / (os.environ.get("TURNLAY") or "build/turnlay")).resolve())
KEPT = ROOT / "tests/golden/sums.txt"
PAGES = ("plan", "plan --format json", "plan --format csv", "need", "need --format json", "need --format csv", "sheet",
         "sheet --format html", "sheet --format json", "shades", "shades --format json", "shades --format svg", "gather")
PICTURES = ("draw", "draw --turn 20", "draw --view presentation", "draw --view side", "draw --view side --turn 90", "draw --view unrolled", "draw --view eye", "draw --view template")


GENERATED = range(1, 101)
CHANGED = 4                # texts made of each file
LARGEST = 20_000           # bytes of a file of the corpus that is taken
SHOWN = 20                 # pages that differ: one change often touches all


def run(page, path, text):
    done = subprocess.run([PROGRAM, *page.split(), path], input=text, cwd=ROOT, capture_output=True, timeout=600)
    return done.returncode, done.stdout.replace(str(ROOT).encode(), b"")  # where the library was looked for


def changed_texts(path):
    """Made of the file alone, so that another file changes none of them."""
    source = (ROOT / path).read_text(encoding="utf-8", errors="replace")
    chance, words = random.Random(path), sorted(set(TOKEN.findall(source)))
    words += ["1 mm / 0", "0", "-1", "first([])", "[]", "nobody", '"', "{", "}"]
    return [mutant(source, words, chance).encode() for _ in range(CHANGED if len(TOKEN.findall(source)) > 1 else 0)]


def sum_of_changed(path):
    said = [run("check --findings json -I examples", "-", text) for text in changed_texts(path)]
    return f"changed {path}: {hashlib.sha256(repr(said).encode()).hexdigest()[:16]}"


def sums_of(path, seed=None):
    """Lines of a file: page, path, checksum; of pictures those of all its rods. Of one with errors its findings alone."""
    text = b""
    if seed:
        text = subprocess.run([ROOT / "tests/fuzz/generate.py", str(seed)], capture_output=True, check=True).stdout
    name = f"generated {seed}" if seed else path
    code, page = run("plan", path, text)
    rods = len(re.findall(r"^Rod: ", page.decode(), re.M))
    pages = [] if code else [*PAGES, *(f"{picture} --rod {rod + 1}" for rod in range(rods) for picture in PICTURES)]
    lines = []
    for page in ["check --findings json", *pages]:
        code, page_bytes = run(page, path, text)
        if code <= 1:                             # 2: no crosswrap, no template
            lines.append(f"{page} {name}: {hashlib.sha256(page_bytes).hexdigest()[:16]}")
    return lines if seed else [*lines, sum_of_changed(path)]


def main():
    if sys.argv[1:2] == ["--changed"]:
        print("\n".join(text.decode() for text in changed_texts(sys.argv[2])))
        return 0
    jobs = [(str(path.relative_to(ROOT)),) for folder in ("tests/golden", "tests/fuzz/corpus", "examples")
            for path in sorted((ROOT / folder).glob("*.lay")) if path.stat().st_size < LARGEST]
    jobs += [("-", seed) for seed in GENERATED]
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
