"""The stages that mutants are put to, each with what it costs and which lines it reaches."""
import collections
import concurrent.futures
import json
import os
import pathlib
import resource
import signal
import subprocess
import tempfile
import time

from shadow import BUILD, Commands, copy_tree, make, programs

GRACE, TIMES = 5, 4        # a stage may use so many processor seconds more, and so many times as many, as it does unchanged
WAIT = 120                 # and so many seconds by the clock, and thirty times as many, since the machine may be busy
LINKING = 0.3              # processor seconds that it takes to link a program anew; more than most unit tests run
MEMORY, FILE = 3 << 30, 256 << 20


class Stage:
    """needs: programs that have to be up to date. only: a pattern of paths that it is kept to, or None. room: bytes of
    addresses that it may take."""

    def __init__(self, name, command, needs, environment=None, only=None, room=MEMORY):
        self.name, self.command, self.needs, self.environment, self.only = name, command, needs, environment or {}, only
        self.room = room
        self.cost, self.tried, self.killed = 0.0, collections.Counter(), collections.Counter()

    def price(self, room=None):
        """What it takes for a mutant killed, as far as is known yet: the stage of the least price is run first. Of a room (src/plan)
        what it killed there counts, and as two more that have gone as everywhere."""
        everywhere = (self.killed.total() + 1) / (self.tried.total() + 2)
        return (self.cost + LINKING) * (self.tried[room] + 2) / (self.killed[room] + 2 * everywhere)

    def note(self, room, killed):
        self.tried[room] += 1
        self.killed[room] += killed

    def run(self, tree, limited=True, environment=None):
        """Whether it passes in this tree, and the processor seconds that it took."""
        # Not in the tree: what is looked for above a file would be found there.
        with tempfile.TemporaryDirectory(prefix="turnlay-mutate-") as home:
            return self.run_in(home, tree, limited, environment)

    def run_in(self, home, tree, limited, environment):
        words = {**os.environ, "BUILD": BUILD, "TURNLAY": f"{BUILD}/turnlay", "CC": os.environ.get("CC") or "cc",
                 "PYTHONDONTWRITEBYTECODE": "1", "LC_CTYPE": "C.UTF-8", "TMPDIR": home, "STOP_AT_FIRST": "yes" if limited else "", **self.environment,
                 **(environment or {})}
        for name in ("TURNLAY_PATH", "NO_COLOR", "LC_ALL", "LANGUAGE", "MAKEFLAGS", "MFLAGS", "MAKELEVEL", "SEED", "N"):
            words.pop(name, None)
        most = GRACE + TIMES * self.cost if limited else 1e9

        def limits():
            resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
            resource.setrlimit(resource.RLIMIT_AS, (self.room, self.room))
            resource.setrlimit(resource.RLIMIT_FSIZE, (FILE, FILE))
            if limited:
                resource.setrlimit(resource.RLIMIT_CPU, (int(most) + 1, int(most) + 2))
        started = time.monotonic()
        child = subprocess.Popen(self.command, cwd=tree, env=words, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                                 stderr=subprocess.DEVNULL, start_new_session=True, preexec_fn=limits)
        while True:
            # The child stays a zombie until all that it started is stopped, so that its number is no other's.
            if os.waitid(os.P_PID, child.pid, os.WEXITED | os.WNOWAIT | os.WNOHANG):
                break
            spent = sum(cpu for _, cpu in in_session(child.pid))
            if limited and (spent > most or time.monotonic() - started > WAIT + 30 * self.cost):
                stop_session(child.pid)
            time.sleep(0.05 if time.monotonic() - started < 2 else 0.25)
        stop_session(child.pid)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        return child.returncode == 0, used.ru_utime + used.ru_stime


def in_session(leader):
    """(process, processor seconds with its dead children) of all in the session that the leader began."""
    tick = os.sysconf("SC_CLK_TCK")
    found = []
    for each in os.listdir("/proc"):
        if each.isdigit():
            try:
                with open(f"/proc/{each}/stat", encoding="ascii", errors="replace") as file:
                    fields = file.read().rpartition(")")[2].split()
            except OSError:
                continue
            if int(fields[3]) == leader:
                found.append((int(each), sum(map(int, fields[11:15])) / tick))
    return found


def stop_session(leader):
    for process, _ in in_session(leader):
        try:
            os.kill(process, signal.SIGKILL)
        except ProcessLookupError:
            pass


def all_stages(tree, left_out):
    """left_out: names of those that are not run. The fast ones whole, of the slow ones a part: what a part lets live the whole might kill, never the other way."""
    program = [f"{BUILD}/turnlay", *(each for each in (f"{BUILD}/turnlay-pdf",) if (tree / each).exists())]
    units = [path.stem for path in sorted(tree.glob("tests/unit/test_*.c")) if (tree / BUILD / "tests" / path.stem).exists()]
    stages = [Stage(unit, [f"{BUILD}/tests/{unit}"], [f"{BUILD}/tests/{unit}"]) for unit in units]
    for name, command, environment, only in (
            ("reference", "tests/reference/reference.py", {}, None), ("explain", "tests/explain/pages.py", {}, None),
            ("golden", "tests/golden/run", {}, None), ("sums", "tests/golden/sums.py", {}, None), ("varied", "tests/varied/varied.py", {}, None), ("mistakes", "tests/mistakes/mistakes.py", {}, None),
            ("frozen", "tests/frozen/run", {}, None),
            ("sheet", "tests/sheet/rebuild.py", {}, None), ("mishaps", "tests/sheet/mishaps.py", {}, None), ("measured", "tests/sheet/measured.py", {}, None), ("record", "tests/record/record.py", {}, None), ("cards", "tests/sheet/cards.py", {}, None), ("hands", "tests/hands/hands.py", {"HANDS_BENCHES": "1"}, None), ("texts", "tests/texts/texts.py", {}, None), ("look", "tests/look/contrast.py", {}, None), ("cli", "tests/cli/run", {}, None),
            ("oracle", "tests/oracle/oracle.py 40", {}, None), ("examples", "tests/examples/examples.py examples/harbour.lay examples/std_crosswraps.lay", {}, None),
            ("draw", "tests/draw/draw.py", {"DRAW_CASES": "3"}, None), ("pdf", "tests/pdf/run", {}, "/pdf"), ("png", "tests/png/png.py", {}, "/pdf")):
        if (tree / command.split()[0]).exists():
            own = {"draw": [*program, f"{BUILD}/draw_points"], "sums": [f"{BUILD}/many_pages"], "varied": [f"{BUILD}/varied"]}
            stages.append(Stage(name, command.split(), own.get(name, program), environment, only))
    return [stage for stage in stages if stage.name not in left_out]


def sanitized_stages():
    """For what survives all others: reading beyond an end often changes nothing but for a sanitizer, which takes terabytes of addresses."""
    environment = {"ASAN_OPTIONS": "detect_leaks=0", "SUMS_EVERY": "5"}
    return [Stage("sanitized golden", ["tests/golden/run"], [f"{BUILD}/turnlay"], environment, None, resource.RLIM_INFINITY),
            Stage("sanitized sums", ["tests/golden/sums.py"], [f"{BUILD}/many_pages"], environment, None, resource.RLIM_INFINITY)]


class Reach:
    """lines: by file and stage, the lines run. known: by file, the lines that can be run at all. stages: all names."""

    def __init__(self, lines, known, stages):
        self.lines, self.known, self.stages = lines, known, stages

    def stages_at(self, site, includers):
        """Names of stages that run the site's line; of data outside functions, that run anything of the files it is in."""
        if not site.inside:
            names = {name for path in includers for name, lines in self.lines.get(path, {}).items() if lines}
            data_alone = not any(self.known.get(path) for path in includers)   # nothing there is run, whoever reads it
            return self.stages if data_alone else names
        # Of a statement over several lines some count for all.
        before = [line for line in self.known.get(site.path, ()) if line <= site.line]
        line = max(before, default=None)
        reached = self.lines.get(site.path, {})
        return {name for name, lines in reached.items() if line in lines}


class Known:
    """What has been measured of this tree, kept in a file under its digest: costs, and the lines that stages reach."""

    def __init__(self, folder, key):
        self.file = folder / f"known-{key}.json"
        if not self.file.exists():
            for old in folder.glob("known-*.json"):
                old.unlink()
        self.noted = json.loads(self.file.read_text()) if self.file.exists() else {"cost": {}, "lines": {}, "known": {}}

    def keep(self):
        self.file.write_text(json.dumps(self.noted))

    def measure(self, stages, tree, say):
        """What each costs; all have to pass in the unchanged tree."""
        for stage in stages:
            if stage.name not in self.noted["cost"]:
                passes, cost = stage.run(tree, limited=False)
                if not passes:
                    raise SystemExit(f"{stage.name} fails in the unchanged tree: mend that first")
                self.noted["cost"][stage.name] = cost
                self.keep()
            stage.cost = self.noted["cost"][stage.name]
        say("processor seconds: " + ", ".join(f"{stage.name} {stage.cost:.1f}" for stage in sorted(stages, key=Stage.price)))

    def reach(self, stages, root, tree, say):
        """Measured with gcc's --coverage, once for the same content."""
        missing = [stage for stage in stages if stage.name not in self.noted["lines"]]
        if missing:
            say(f"measuring which lines {len(missing)} stages reach ...")
            copy_tree(root, tree)
            make(tree, ["CFLAGS=-O0 --coverage -include tests/mutate/counted_exit.h"], programs(tree))
        with concurrent.futures.ThreadPoolExecutor(2) as pool:
            for stage, counted in zip(missing, pool.map(lambda stage: counts_of(stage, tree), missing)):
                self.noted["lines"][stage.name] = {path: sorted(run) for path, (_, run) in counted.items()}
                for path, (known, _) in counted.items():
                    self.noted["known"][path] = sorted(known | set(self.noted["known"].get(path, ())))
                self.keep()
        names = {stage.name for stage in stages}
        lines = {}
        for name in names & set(self.noted["lines"]):
            for path, each in self.noted["lines"][name].items():
                lines.setdefault(path, {})[name] = set(each)
        return Reach(lines, self.noted["known"], names)


def counts_of(stage, tree):
    """Runs it, and reads gcc's counts: by file, the lines that can be run, and those that were."""
    counts = tree / "counts" / stage.name
    stage.run(tree, limited=False, environment={"GCOV_PREFIX": str(counts), "GCOV_PREFIX_STRIP": str(len(tree.parts) - 1)})
    data = [str(path.relative_to(counts)) for path in sorted(counts.rglob("*.gcda"))]
    for each in data:
        note = pathlib.Path(each).with_suffix(".gcno")
        if (tree / note).exists() and not (counts / note).exists():
            os.link(tree / note, counts / note)
    lines = {}
    said = subprocess.run(["gcov", "--json-format", "--stdout", *data], cwd=counts, capture_output=True, text=True).stdout
    for document in said.splitlines() if data else []:
        for file in json.loads(document)["files"] if document.startswith("{") else []:
            if file["file"].startswith("src/"):
                known, run = lines.setdefault(file["file"], (set(), set()))
                known |= {line["line_number"] for line in file["lines"]}
                run |= {line["line_number"] for line in file["lines"] if line["count"]}
    return lines


def whole_tree(root, tree, key, flags, wanted=None):
    """The unchanged tree with these programs (all, if not said), built; kept for the same content."""
    mark, wanted = tree / "built", wanted or programs(root)
    if not mark.exists() or mark.read_text() != key:
        copy_tree(root, tree)
        make(tree, flags, wanted)
        mark.write_text(key)
    return Commands(tree, flags, wanted)
