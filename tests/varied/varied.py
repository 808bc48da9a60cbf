#!/usr/bin/python3
"""What the library answers to texts with a few slips, to patterns with other values, to jobs under way, to their records, as they should be and with slips, and to swaps,
by the thousand, made by chance of every golden file, example and file of mistakes and of generated programs (tests/fuzz/generate.py
SEED): ten of each kind by one number, in varied.txt. Where a number differs, `build/varied --text N FILE` (`--values`, `--job`, `--record`, `--swap`)
shows what was made; give it to the program of the commit before, too, and compare. `--renew` writes the numbers anew."""
import concurrent.futures
import os
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
from generated import programs

PROGRAM = (ROOT / (os.environ.get("BUILD") or "build") / "varied").resolve()
KEPT = ROOT / "tests/varied/varied.txt"
GENERATED = range(101, 141)
LARGEST = 12_000           # bytes of a file that is taken
AT_ONCE = 4                # files
SHOWN = 20


def generate(folder):
    """Below a folder of their own, by the same names wherever that is."""
    (folder / "generated").mkdir()
    for seed, text in zip(GENERATED, programs(GENERATED)):
        (folder / f"generated/{seed}.lay").write_bytes(text)
    for part in ("tests", "examples", "stdlib"):
        (folder / part).symlink_to(ROOT / part)


def files(folder):
    found = [str(path.relative_to(folder)) for part in ("tests/golden", "tests/mistakes", "examples", "generated")
             for path in sorted((folder / part).glob("*.lay")) if path.stat().st_size < LARGEST]
    return [found[at:at + AT_ONCE] for at in range(0, len(found), AT_ONCE)]


def numbers(folder, paths):
    done = subprocess.run([PROGRAM, *paths], cwd=folder, capture_output=True, text=True)
    if done.returncode != 0:
        raise SystemExit(f"FAILED  varied {' '.join(paths)}: exit code {done.returncode}\n{done.stderr[-2000:]}")
    return [line.rpartition(": ")[::2] for line in done.stdout.splitlines()]


def main():
    kept = dict(line.rpartition(": ")[::2] for line in KEPT.read_text(encoding="utf-8").splitlines()) if KEPT.exists() else {}
    renew = "--renew" in sys.argv
    now = []
    with tempfile.TemporaryDirectory(prefix="turnlay-varied-") as home, concurrent.futures.ThreadPoolExecutor(2) as pool:
        folder = pathlib.Path(home)
        generate(folder)
        for lines in pool.map(lambda paths: numbers(folder, paths), files(folder)):
            now += lines
            if os.environ.get("STOP_AT_FIRST") and not renew and any(kept.get(what) != number for what, number in lines):
                os._exit(1)       # whoever only asks whether anything fails waits for nothing more
    if renew:
        KEPT.write_text("".join(f"{what}: {number}\n" for what, number in now), encoding="utf-8")
        return 0
    found = dict(now)
    differ = [what for what in sorted(kept.keys() | found.keys()) if kept.get(what) != found.get(what)]
    for what in differ[:SHOWN]:
        print(f"FAILED  {what}: {kept.get(what, 'nothing')} before, {found.get(what, 'nothing')} now")
    print(f"{len(kept.keys() | found.keys()) - len(differ)} passed, {len(differ)} failed")
    return len(differ) > 0


if __name__ == "__main__":
    sys.exit(main())
