"""Rows of instructions from another day, to compare with: kept for each compiler and libc that somebody has measured
with; where there is none, those of the parent commit, built and counted in the same run."""
import os
import re
import shlex
import subprocess
import sys
import tempfile

from checks import ROOT

FOLDER = ROOT / "tests/bench/baselines"
GROWN = 1.10            # times the instructions: what fails


def first_line(*command):
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()[0]


def key():
    """Compiler and libc, as a file's name."""
    words = first_line(*shlex.split(os.environ.get("CC") or "cc"), "--version") + " " + first_line("ldd", "--version")
    return re.sub(r"[^A-Za-z0-9.+~-]+", "_", words).strip("_")


def path():
    return FOLDER / f"{key()}.txt"


def read():
    """{row: instructions}, or None."""
    if not path().exists():
        return None
    return {name: int(number) for number, name in (line.split(" ", 1) for line in path().read_text().splitlines())}


def write(rows):
    FOLDER.mkdir(exist_ok=True)
    path().write_text("".join(f"{count} {name}\n" for name, count in rows.items()))
    print(f"written: {path().relative_to(ROOT)}")


def git(*words, **options):
    return subprocess.run(["git", "-C", str(ROOT), *words], check=True, **options)


def of_parent(count_rows):
    """The rows of the parent commit's program; of a tree with changes of its own, of the commit that it was changed from."""
    changed = subprocess.run(["git", "-C", str(ROOT), "diff", "--quiet", "HEAD", "--", "src", "grammar", "Makefile"]).returncode
    parent = "HEAD" if changed else "HEAD^"
    print(f"no baseline for {key()}: building {parent} to compare with", flush=True)
    with tempfile.TemporaryDirectory(prefix="turnlay-parent-") as folder:
        archive = git("archive", parent, stdout=subprocess.PIPE).stdout
        subprocess.run(["tar", "-x", "-C", folder], input=archive, check=True)
        # The library's path is found from the program's, as for the tree itself.
        subprocess.run(["make", "-s", "-C", folder, "BUILD=build", "all"], check=True, stdout=subprocess.DEVNULL)
        return count_rows(f"{folder}/build/turnlay")


def compare(goals, rows, count_rows):
    """Every row that has grown by more than a tenth is missed."""
    before = read()
    if before is None:
        try:
            before = of_parent(count_rows)
        except (subprocess.CalledProcessError, FileNotFoundError) as fault:
            sys.exit(f"nothing to compare with: no baseline for {key()}, and the parent commit cannot be built ({fault}); "
                     "RENEW=yes writes a baseline")
    for name, count in rows.items():
        if name in before:
            goals.row(f"{name}: times the instructions of before", count / before[name], most=GROWN)
        else:
            print(f"{name}: not counted before")
    return before
