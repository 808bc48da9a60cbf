"""What the test drivers share: counting checks, calling the program, reading its answers."""
import concurrent.futures
import json
import os
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
BUILD = pathlib.Path(os.environ.get("BUILD", "build"))
PROGRAM = str((ROOT / os.environ.get("TURNLAY", BUILD / "turnlay")).resolve())
# For who only asks whether anything fails: then nothing more is tried, or tidied up.
STOP_AT_FIRST = bool(os.environ.get("STOP_AT_FIRST"))


class Checks:
    """Counts checks; says what failed, and at the end how many passed."""

    def __init__(self):
        self.passed = self.failed = self.skipped = 0

    def check(self, holds, name, details=""):
        if holds:
            self.passed += 1
            return True
        self.failed += 1
        print(f"FAILED  {name}")
        for line in str(details).splitlines()[:40]:
            print(f"        {line}", flush=True)
        if STOP_AT_FIRST:
            os._exit(1)
        return False

    def skip(self, name, why):
        self.skipped += 1
        print(f"skipped {name}: {why}")

    def finish(self):
        skipped = f", {self.skipped} skipped" if self.skipped else ""
        print(f"{self.passed} passed, {self.failed} failed{skipped}")
        sys.exit(1 if self.failed else 0)


class Answer:
    """What a run of the program gave. code is negative after a signal, None if it took too long."""

    def __init__(self, code, out, err):
        self.code, self.out, self.err = code, out, err

    def findings(self):
        return json.loads(self.out)["findings"]

    def codes(self):
        return {finding["code"] for finding in self.findings()}

    def words(self):
        return f"exit code {self.code}\n" + self.err.decode(errors="replace")[:2000]


def turnlay(*arguments, given=b"", limit=300, environment=None, folder=None, program=PROGRAM):
    try:
        done = subprocess.run([program, *map(str, arguments)], input=given, capture_output=True, timeout=limit,
                              env={**os.environ, **(environment or {})}, cwd=folder)
    except subprocess.TimeoutExpired:
        return Answer(None, b"", b"took too long")
    return Answer(done.returncode, done.stdout, done.stderr)


def in_turn(work, items):
    """work(item) for every item, as many at a time as there are processors, results in order."""
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        return list(pool.map(work, items))


def scratch():
    return tempfile.TemporaryDirectory(prefix="turnlay-test-")
