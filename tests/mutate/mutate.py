#!/usr/bin/python3
"""Are the tests any good? Makes small faults in the program, one at a time, and looks whether a stage that reaches the place
notices. `make mutate`, SEED= (printed; the same seed draws the same faults of the same tree) and N= (400 if not said);
WITHOUT= names stages to leave out, ONLY= the folders or files to draw from (src/plan src/trade/hull.c). DEVELOPERS.md says how to read what it prints. Exit code 1 when more than one in twenty survives."""
import collections
import os
import pathlib
import random
import sys
import threading
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
from shadow import BUILD, Shadow, digest
from sites import Source
from stages import Known, all_stages, sanitized_stages, whole_tree
from tried import Tried

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
FOLDER = pathlib.Path(os.environ.get("BUILD") or "build").resolve() / "mutate"
AT_A_TIME = 2
MOST_SURVIVING = 0.05
LISTED = ROOT / "tests/mutate/equivalent.txt"
# As it is given away, but without notes for debuggers: equal code is equal bytes.
PLAIN = ["CFLAGS=-O2"]
SANITIZED = ["CC=clang", "CFLAGS=-O1 -fsanitize=address,undefined -fno-sanitize-recover=all", "HARDEN=no"]
KILLED, SURVIVED, SAME_CODE, LISTED_EQUIVALENT = "killed", "survived", "same code", "listed"
NO_PROGRAM = "does not compile"


def say(*words):
    print(*words, flush=True)


def say_of(word, mutant, more):
    say(f"{word:<12}{mutant.site.path}:{mutant.site.line}  {mutant.words}{more}")


class Mutant:
    def __init__(self, number, source, site, change):
        self.number, self.source, self.site, self.change = number, source, site, change
        self.words = site.words(source.text, change)
        self.key = (site.path, site.text, self.words)
        self.verdict = self.by = None            # by: the stage that killed it, or those that let it live

    def room(self):
        return "/".join(self.site.path.split("/")[:2])

    def text(self):
        return self.source.text[:self.site.start] + self.change + self.source.text[self.site.end:]


def listed_equivalents():
    """By path, line and change: the reason. Three lines each, and an empty one."""
    reasons = {}
    for block in LISTED.read_text(encoding="utf-8").split("\n\n"):
        lines = [line for line in block.splitlines() if not line.startswith("#")]
        if not lines:
            continue
        if len(lines) < 4:
            raise SystemExit(f"{LISTED.name}: path, line, change and reason are wanted:\n{block}")
        reasons[tuple(line.strip() for line in lines[:3])] = " ".join(line.strip() for line in lines[3:])
    return reasons


def drawn(seed, root, only):
    """All mutants of the tree in the order drawn: a site comes once, with one of its changes. only: paths they begin with."""
    dice = random.Random(seed)
    sites = []
    for path in sorted(root.glob("src/**/*.[ch]")):
        name = str(path.relative_to(root))
        if only and not name.startswith(tuple(only)):
            continue
        source = Source(name, path.read_text(encoding="utf-8"))
        sites += [(source, site) for site in source.sites()]
    dice.shuffle(sites)
    return [Mutant(number, source, site, dice.choice(site.changes)) for number, (source, site) in enumerate(sites)]


class Trial:
    """Puts mutants to the stages, two at a time, until N of them compile. plain, sanitized: (stages, tree, commands). before: what came
    of some of them when the round was stopped."""

    def __init__(self, mutants, wanted, plain, sanitized, reach, reasons, before):
        self.mutants, self.reach, self.before = mutants, reach, before
        self.stages, self.whole, self.commands = plain
        self.sanitized, self.reasons = sanitized, reasons
        self.lock, self.started = threading.Lock(), time.monotonic()
        self.next, self.wanted, self.tried, self.fault = 0, wanted, [], None

    def take(self):
        with self.lock:
            if self.next >= min(self.wanted, len(self.mutants)) or self.fault:
                return None
            self.next += 1
            return self.mutants[self.next - 1]

    def redraw(self):
        with self.lock:
            self.wanted += 1

    def done(self, mutant):
        with self.lock:
            self.tried.append(mutant)
            if mutant.verdict == SURVIVED:
                say_of("survived", mutant, "")
            if len(self.tried) % 20 == 0:
                alive = sum(each.verdict == SURVIVED for each in self.tried)
                say(f"{len(self.tried)} tried, {alive} survived, {time.monotonic() - self.started:.0f} s")

    def work(self, number):
        try:
            shadow = Shadow(self.whole, self.commands, FOLDER / f"shadow{number}")
            stages, whole, commands = self.sanitized
            second = Shadow(whole, commands, FOLDER / f"sanitized{number}")
            while mutant := self.take():
                if not self.recall(mutant):
                    self.try_out(mutant, shadow, second, stages)
                if mutant.verdict == NO_PROGRAM:
                    self.redraw()
                else:
                    self.done(mutant)
        except BaseException as fault:
            self.fault = fault
            raise

    def recall(self, mutant):
        """Whether it was tried before the round was stopped."""
        mutant.verdict, mutant.by = self.before.known.get(mutant.number, (None, None))
        if mutant.verdict == SURVIVED and mutant.key in self.reasons:
            mutant.verdict, mutant.by = LISTED_EQUIVALENT, self.reasons[mutant.key]
        return mutant.verdict is not None

    def try_out(self, mutant, shadow, second, stages):
        if not self.judge(shadow, mutant):
            mutant.verdict = NO_PROGRAM
        elif mutant.verdict == SURVIVED:
            self.put_to(second, mutant, stages)
        shadow.restore()
        with self.lock:
            self.before.note(mutant.number, mutant.verdict, mutant.by)

    def stages_for(self, mutant):
        objects = self.commands.objects_of(self.whole, mutant.site.path)
        includers = {self.commands.compile[made][self.commands.compile[made].index("-c") + 1] for made in objects}
        names = self.reach.stages_at(mutant.site, includers | {mutant.site.path})
        reaching = [stage for stage in self.stages if stage.name in names and (not stage.only or stage.only in mutant.site.path)]
        return sorted(reaching, key=lambda stage: stage.price(mutant.room()))

    def judge(self, shadow, mutant):
        """False if it does not compile."""
        differs = shadow.change(mutant.site.path, mutant.text())
        if differs is None:
            return False
        if not differs:
            mutant.verdict = SAME_CODE
        elif mutant.key in self.reasons:
            mutant.verdict, mutant.by = LISTED_EQUIVALENT, self.reasons[mutant.key]
        else:
            reaching = self.stages_for(mutant)
            mutant.verdict, mutant.by = SURVIVED, ", ".join(stage.name for stage in reaching) or "no stage reaches it"
            return self.run_stages(shadow, mutant, reaching)
        return True

    @staticmethod
    def run_stages(shadow, mutant, stages):
        """Until one notices. False if a program cannot be linked."""
        for stage in stages:
            if not shadow.link(stage.needs):
                return False
            passes = stage.run(shadow.folder)[0]
            stage.note(mutant.room(), not passes)
            if not passes:
                mutant.verdict, mutant.by = KILLED, stage.name
                break
        return True

    def put_to(self, shadow, mutant, stages):
        """One that survived, to stages in a tree built otherwise."""
        if shadow.change(mutant.site.path, mutant.text()):
            self.run_stages(shadow, mutant, stages)
        shadow.restore()

    def run(self):
        workers = [threading.Thread(target=self.work, args=(number,), daemon=True) for number in range(AT_A_TIME)]
        for worker in workers:
            worker.start()
        for worker in workers:
            worker.join()
        if self.fault:
            raise SystemExit(3)


def report(tried):
    """Says what came of each that was not killed; whether more survived than may."""
    def those(verdict):
        return sorted((mutant for mutant in tried if mutant.verdict == verdict), key=lambda each: (each.site.path, each.site.line))

    for mutant in those(SAME_CODE):
        say_of("equivalent", mutant, ": the same object code")
    for mutant in those(LISTED_EQUIVALENT):
        say_of("equivalent", mutant, f": {mutant.by}")
    for mutant in those(SURVIVED):
        say_of("SURVIVED", mutant, f"\n            {mutant.site.text}\n            {mutant.by}")
    kills = collections.Counter(mutant.by for mutant in those(KILLED))
    say("killed by: " + ", ".join(f"{name} {count}" for name, count in kills.most_common()))
    equal = len(those(SAME_CODE)) + len(those(LISTED_EQUIVALENT))
    alive, judged = len(those(SURVIVED)), len(tried) - equal
    share = alive / judged if judged else 0
    say(f"{len(tried)} mutants: {len(those(KILLED))} killed, {equal} equivalent, {alive} survived; "
        f"{share * 100:.1f} % of those not proven equivalent, {MOST_SURVIVING * 100:.0f} % allowed")
    return share > MOST_SURVIVING


def main():
    seed = int(os.environ.get("SEED") or random.randrange(1, 1_000_000))
    wanted = int(os.environ.get("N") or 400)
    FOLDER.mkdir(parents=True, exist_ok=True)
    reasons = listed_equivalents()
    only = (os.environ.get("ONLY") or "").split()
    mutants = drawn(seed, ROOT, only)
    say(f"SEED={seed} N={wanted}: drawn from {len(mutants)} sites under {' '.join(only) or 'src/'}")
    whole = FOLDER / "whole"
    key = digest(ROOT)
    commands = whole_tree(ROOT, whole, key, PLAIN)
    second = FOLDER / "whole-sanitized"
    second_commands = whole_tree(ROOT, second, key, SANITIZED, [f"{BUILD}/turnlay", f"{BUILD}/many_pages"])
    left_out = (os.environ.get("WITHOUT") or "").split()
    stages = all_stages(whole, left_out)
    known = Known(FOLDER, key)
    reach = known.reach(stages, ROOT, FOLDER / "coverage", say)
    known.measure(stages, whole, say)
    sanitized = sanitized_stages()
    known.measure(sanitized, second, say)
    trial = Trial(mutants, wanted, (stages, whole, commands), (sanitized, second, second_commands), reach, reasons, Tried(FOLDER, key, (seed, only, left_out)))
    trial.run()
    sys.exit(report(trial.tried))


if __name__ == "__main__":
    main()
