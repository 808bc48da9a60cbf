#!/usr/bin/python3
"""Renews tests/fuzz/corpus from what `make fuzz` has learnt and from the patterns of the tests and examples: so many files
for each target as are given (80 if not said), those that run most code that no other of them runs, small ones first. What is
called by words, not by a number, is there for a reason of its own, and stays."""
import hashlib
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
BUILT = ROOT / os.environ.get("BUILD", "build") / "fuzz"
CORPUS = ROOT / "tests/fuzz/corpus"
MOST_BYTES = 2500
NUMBERED = re.compile(r"[0-9a-f]{10}\.lay")


def name(text):
    return hashlib.sha1(text).hexdigest()[:10] + ".lay"


def texts():
    """All there are, without those that are too large to be kept."""
    folders = [CORPUS, BUILT / "corpus", ROOT / "examples", ROOT / "stdlib", ROOT / "tests"]
    files = [path for folder in folders for path in folder.rglob("*") if path.is_file()
             and (path.suffix == ".lay" or BUILT in path.parents)]
    found = [path.read_bytes() for path in files if path.stat().st_size <= MOST_BYTES and "node_modules" not in path.parts]
    for page in (ROOT / "grammar").rglob("*.md"):
        found += [text.encode() for text in re.findall(r"^```lay[^\n]*\n(edition 1\n.*?)^```$", page.read_text(), re.M | re.S)]
    return {name(text): text for text in found}


def covered(target, given):
    """What each file runs, by its name: libFuzzer's merge notes it down in its control file, eight numbers (how often) a place."""
    with tempfile.TemporaryDirectory() as folder:
        merged, control = pathlib.Path(folder) / "merged", pathlib.Path(folder) / "control"
        merged.mkdir()
        subprocess.run([BUILT / f"fuzz_{target}", "-set_cover_merge=1", f"-merge_control_file={control}", "-timeout=20", merged, given],
                       cwd=ROOT, capture_output=True)
        lines = control.read_text().split("\n")
    files = lines[2:2 + int(lines[0])]
    runs = {}
    for line in lines[2 + len(files):]:
        words = line.split()
        if words and words[0] == "FT":
            runs[pathlib.Path(files[int(words[1])]).name] = {int(each) // 8 for each in words[2:]}
    return runs


def chosen(runs, size, most):
    """Greedily, the file that adds most for its size each time."""
    all_run, have, names = set().union(*runs.values()), set(), []
    while len(names) < most:
        best = max(runs, key=lambda each: len(runs[each] - have) / (size[each] + 4000))
        if not runs[best] - have:
            break
        have |= runs[best]
        names.append(best)
    return names, len(have), len(all_run)


def main():
    most, known = int(sys.argv[1]) if len(sys.argv) > 1 else 80, texts()
    keep = set()
    with tempfile.TemporaryDirectory() as folder:
        for each, text in known.items():
            (pathlib.Path(folder) / each).write_bytes(text)
        for target in ("read", "pages"):
            names, have, of = chosen(covered(target, folder), {each: len(text) for each, text in known.items()}, most)
            print(f"{target}: {len(names)} of {len(known)} files run {have} of the {of} places in the program that all run")
            keep |= set(names)
    for path in CORPUS.glob("*.lay"):
        if NUMBERED.fullmatch(path.name) and path.name not in keep:
            path.unlink()
    CORPUS.mkdir(exist_ok=True)
    for each in keep:
        (CORPUS / each).write_bytes(known[each])


main()
