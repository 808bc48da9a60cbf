#!/usr/bin/python3
"""Every page of every golden file, of every example and of generated programs (tests/fuzz/generate.py SEED) by its checksum, in
sums.txt: what is too much to be kept whole must not change unnoticed either. Where a page differs, write it with the program of
the commit before, too, and compare the two; `--renew` writes the checksums anew."""
import concurrent.futures
import hashlib
import os
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
PROGRAM = str((ROOT / (os.environ.get("TURNLAY") or "build/turnlay")).resolve())
KEPT = ROOT / "tests/golden/sums.txt"
PAGES = ("plan", "plan --format json", "plan --format csv", "need", "need --format json", "need --format csv", "sheet",
         "sheet --format html", "gather")
PICTURES = ("draw --view side", "draw --view side --turn 90", "draw --view unrolled", "draw --view template")


GENERATED = range(1, 101)
SHOWN = 20                 # pages that differ: one change often touches all


def run(page, path, text):
    done = subprocess.run([PROGRAM, *page.split(), path], input=text, cwd=ROOT, capture_output=True, timeout=600)
    return done.returncode, done.stdout


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
    return lines


def main():
    jobs = [(str(path.relative_to(ROOT)),) for folder in ("tests/golden", "examples") for path in sorted((ROOT / folder).glob("*.lay"))]
    jobs += [("-", seed) for seed in GENERATED]
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        now = [line for lines in pool.map(lambda job: sums_of(*job), jobs) for line in lines]
    if "--renew" in sys.argv:
        KEPT.write_text("\n".join(now) + "\n", encoding="utf-8")
        return 0
    kept = dict(line.rpartition(": ")[::2] for line in KEPT.read_text(encoding="utf-8").splitlines())
    found = dict(line.rpartition(": ")[::2] for line in now)
    passed = failed = 0
    for page in sorted(kept.keys() | found.keys()):
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
