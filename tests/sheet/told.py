"""The bench sheet at its usual depth, step by step, with nothing but its sentences: what comes out is the plan's turns, every
piece is begun, ended and trimmed, all tape comes off again, gaps are as wide, and the passes of a crosswrap are the plan's."""
import re

from rebuild import (READ_TO, PIECE, PIECES, Crosswrap, Fault, Leg, Sheet, compare_crosswrap, facts_of_later_legs, facts_of_legs, layer_parts, length, must, pieces,
                     planned_runs, sheet_runs)
from rows import compare_rows
from checks import turnlay

CLAUSES = [(kind, re.compile(words + "$", re.I)) for kind, words in {
    "set out": r"set out the (chevron|diamond|spiral): .*",
    "tie on": rf"tape on (?P<spacer>the spacer )?({PIECES})",
    "leg": rf"(?P<word>(?:out|back) toward the (?:tip|butt)): ({PIECES}), "
           r"(?:along the marks|from its mark|against pass (?P<against>\d+), on its (?P<side>tip|butt) side)",
    "likewise": r"(?P<word>back toward the (?:tip|butt)) likewise",
    "tie off": rf"tape down and cut (?:the spacer )?({PIECES})",
    "unwind": rf"take off the spacer ({PIECES})",
    "take ends": r"cut all strands at both end bands.*",
    "start": rf"start (?P<spacer>the spacer )?({PIECES}) over (?:its own tag|their own tags)"
             r"(?:, (?P<at>[^,;]+) from the mark)?(?P<taped>, its tag taped)?",
    "lay in": rf"lay in ({PIECES})(?: under the next (?P<cover>\d+ turns|turn)|: its tag along the blank, under the next turns)"
              r"(?P<taped>, its (?:tag|long end|tag and long end|bobbin|tag and bobbin) taped)?",
    "loop": rf"lay a loop for ({PIECES})(?: under the next (?P<cover>\d+ turns|turn)|, eye toward the (?:butt|tip))(?P<taped>, taped)?",
    "free": rf"cut ({PIECES}) from (?:its spool|their spools), .*",
    "end": rf"(?P<untaped>untape and )?cut ({PIECES}), (?:lay )?(?:its end|their ends)(?: under the next (?P<cover>\d+ turns|turn)| along the blank(?:, under the next turns)?)"
           r"(?P<taped>, taped)?",
    "pull": rf"(?P<untaped>untape and )?cut ({PIECES}), (?:draw its end back by|end through) the loop(?:, draw it back)? under the last (?P<cover>\d+) turns?",
    "stand": rf"let ({PIECES}) stand(?:: .*)?",
    "take up": rf"take up ({PIECES})",
    "wind": rf"(?:untape (?P<untaped>{PIECES}), )?(?:wind|wrap) (?P<turns>\d+) turns?(?: of (?P<of>{PIECES})( together)?)?( by hand)?"
            r"(?: over .*?)?(?:, blank still)?(?P<packing>, packing toward the (?:butt|tip) .*?)?(?P<taped>, tape (?:it|its bobbin) down)?",
    "trim": r"(?P<untape>untape and )?trim (?P<what>.*)",
    "untape": rf"(?:untape|take the tape off) (?:(?P<thing>the tag of |the end of |the loop for |the bobbin of )?({PIECES}))",
    "tape_": rf"tape down (?P<thing>the tags? of |the ends? of |the loops? for |the bobbin of )?({PIECES}).*",
    "load": rf"load a bobbin with .* of .*: ({PIECE})",
    "spacer": rf"unwind the spacer ({PIECES})",
    "around": r"(?:pack|close up|measure|seal|brush colour preserver|take the tape off this foot|tape round|set pins round|check the first pass).*",
}.items()]
TRIMMED = re.compile(rf"(the tag of|the end of|its tag|its end)(?: ({PIECES}))?")
THINGS = {"the tag of": "tag", "its tag": "tag", "the end of": "end", "its end": "end"}


class Piece:
    def __init__(self, turn, spacer=False):
        self.laid, self.spacer, self.ended, self.tag, self.end, self.turns = turn, spacer, None, False, False, 0


class Told:
    """A layer's steps followed by their sentences. A thread that is wound runs; what ran before stands."""

    def __init__(self, steps):
        self.turn, self.pieces, self.runs, self.gaps, self.running, self.named = 0, {}, [], [], [], []
        self.begins = []                         # where turns begin elsewhere than at the mark
        self.tape, self.loops, self.loaded = set(), {}, set()
        self.crosswrap, self.below, self.facts, self.first_leg = None, "", iter(()), None
        for step in steps:
            says, below = step.read()
            self.below = below
            self.facts = facts_of_later_legs(below, self.first_leg) if self.first_leg else facts_of_legs(below)
            gap = re.search(r"Leave a gap of (.+?) first\.", below)
            if gap:
                self.gaps.append((self.turn, gap[1]))
            try:
                for clause in re.split(r"; |, then (?=wind|wrap|untape)", says):
                    self.follow(clause)
                count = re.search(r"(\d+) in the (?:(?:end )?band and the |fade and the )?layer; .*? from the mark", below)
                must(not count or int(count[1]) == self.turn, f"{self.turn} turns, {count and count[0]}")
            except (Fault, KeyError) as fault:
                raise Fault(f"step {step.number}: {says}: {fault}") from None
        must(not self.tape, f"tape is left on {self.tape}")
        must(not self.loops, "a loop is left")
        for label, piece in self.pieces.items():
            must(piece.spacer or (piece.ended is not None and piece.tag and piece.end), f"{label} is not done with")

    def follow(self, clause):
        for kind, words in CLAUSES:
            found = words.fullmatch(clause)
            if found:
                break
        else:
            raise Fault(f"not understood: {clause}")
        getattr(self, kind.replace(" ", "_"))(found)

    def labels(self, found):
        self.named = pieces(found[found.re.groups and next(i for i in range(1, found.re.groups + 1)
                                                          if found[i] and re.match(rf"{PIECE}", found[i]))])
        return self.named

    def put_tape(self, found, labels, *things):
        if found["taped"]:
            self.tape |= {("long end" if thing == "bobbin" else thing, label)
                          for thing in things if thing in found["taped"] or thing in ("end", "loop") for label in labels}

    def start(self, found):
        for label in self.labels(found):
            must(label not in self.pieces, f"{label} is begun twice")
            self.pieces[label] = Piece(self.turn, bool(found["spacer"]))
        if found["at"]:
            self.begins.append(found["at"])
        self.put_tape(found, self.named, "tag")

    def set_out(self, found):
        must(not self.crosswrap and not self.pieces, "set out too late")
        self.crosswrap = Crosswrap(found[1].lower())

    def tie_on(self, found):
        for label in self.labels(found):
            must(label not in self.pieces and not self.runs, f"{label} is taped on twice, or too late")
            self.pieces[label] = Piece(self.turn, bool(found["spacer"]))

    def put_leg(self, word, label, against, side):
        must(label in self.pieces and self.pieces[label].ended is None, f"{label} is not there to be led")
        facts = next(self.facts, None)
        self.first_leg = self.first_leg or facts
        self.crosswrap.legs.append(Leg(word.capitalize(), label, against, side, facts, self.below))

    def leg(self, found):
        self.put_leg(found["word"], self.labels(found)[0], found["against"], found["side"])

    def likewise(self, found):
        out = self.crosswrap.legs[-1]
        side = {"up": "tip", "down": "butt", "first": None}[out.side]
        self.put_leg(found["word"], out.label, None if out.against is None else out.against + 1, side)

    def tie_off(self, found):
        for label in self.labels(found):
            must(self.crosswrap.legs[-1].label == label and self.crosswrap.legs[-1].dwell == 0, f"{label} was to go on")
            self.pieces[label].ended = self.turn

    def unwind(self, found):
        for label in self.labels(found):
            must(self.pieces[label].spacer and self.pieces[label].ended is not None and not self.runs, f"{label} is no spacer to be taken off")

    def take_ends(self, _found):
        must(self.runs and all(piece.ended is not None for piece in self.pieces.values()), "cut free too soon")
        for label in {leg.label for leg in self.crosswrap.legs}:
            self.pieces[label].tag = self.pieces[label].end = True

    def load(self, found):
        for label in self.labels(found):
            must(label not in self.loaded and label not in self.pieces, f"{label} is loaded twice")
            self.loaded.add(label)

    def lay_in(self, found):
        for label in self.labels(found):
            must("bobbin" not in (found["taped"] or "") or label in self.loaded, f"{label} is not loaded")
            must(label not in self.pieces, f"{label} is begun twice")
            self.pieces[label] = Piece(self.turn)
        self.put_tape(found, self.named, "tag", "long end", "bobbin")

    def loop(self, found):
        for label in self.labels(found):
            self.loops[label] = self.turn
        self.put_tape(found, self.named, "loop")

    def free(self, found):
        self.labels(found)

    def off_its_tape(self, found):
        for label in self.named:
            must((("long end", label) in self.tape) == bool(found["untaped"]), f"{label}: taped, or not?")
            self.tape.discard(("long end", label))

    def end(self, found):
        self.labels(found)
        self.off_its_tape(found)
        for label in self.named:
            must(self.pieces[label].ended is None, f"{label} is cut twice")
            self.pieces[label].ended = self.turn
        self.running = [label for label in self.running if label not in self.named]
        self.put_tape(found, self.named, "end")

    def pull(self, found):
        self.labels(found)
        self.off_its_tape(found)
        for label in self.named:
            must(self.turn - self.loops.pop(label) == int(found["cover"]), f"not {found['cover']} turns over the loop")
            self.pieces[label].ended = self.turn

    def stand(self, found):
        self.labels(found)

    take_up = stand

    def spacer(self, found):
        for label in self.labels(found):         # its tape comes off with it
            self.tape = {(thing, other) for thing, other in self.tape if other != label}

    def wind(self, found):
        labels = pieces(found["of"] or found["untaped"] or "") or self.named
        self.named = labels
        must(not found["untaped"] or all(("long end", label) in self.tape for label in labels), "untaped, and was not taped")
        if found["untaped"]:
            self.tape -= {("long end", label) for label in labels}
        must(all(label in self.pieces and self.pieces[label].ended is None for label in labels), f"{labels} cannot be wound")
        must(not any(("long end", label) in self.tape for label in labels), f"{labels} are taped")
        turns = int(found["turns"])
        if self.runs and self.runs[-1][0] == labels and not any(at == self.turn for at, _ in self.gaps):
            self.runs[-1][1] += turns
        else:
            self.runs.append([labels, turns])
        for label in labels:
            self.pieces[label].turns += turns
        self.turn += turns
        self.tape |= {("long end", label) for label in labels if found["taped"]}

    def trim(self, found):
        for what, of in TRIMMED.findall(found["what"]):
            labels, thing = pieces(of) or self.named, THINGS[what]
            self.named = labels
            for label in labels:
                must(((thing, label) in self.tape) == bool(found["untape"]), f"the {thing} of {label}: taped, or not?")
                must(not getattr(self.pieces[label], thing), f"the {thing} of {label} is trimmed twice")
                setattr(self.pieces[label], thing, True)
                self.tape.discard((thing, label))

    def untape(self, found):
        thing = {"the tag of ": "tag", "the end of ": "end", "the loop for ": "loop", None: "long end", "the bobbin of ": "long end"}[found["thing"]]
        for label in self.labels(found):
            must((thing, label) in self.tape, f"the {thing} of {label} is not taped")
            self.tape.discard((thing, label))

    def tape_(self, found):
        words = (found["thing"] or "").replace("tags", "tag").replace("ends", "end").replace("loops", "loop")
        thing = {"the tag of ": "tag", "the end of ": "end", "the loop for ": "loop", "": "long end", "the bobbin of ": "long end"}[words]
        self.tape |= {(thing, label) for label in self.labels(found)}

    def around(self, _found):
        pass


def begins_away(layer):
    """From the mark, in mm: where turns begin that lie beside none that were made before, but for those at the mark."""
    runs = layer["runs"]
    return [run["from_mm"] for before, run in zip([None, *runs], runs) if run["role"] != "gap"
            and (before is None or before["role"] == "gap") and run["from_mm"] >= READ_TO["rule"] / 2]


def agree(said, wanted):
    read = [length(text, "rule") for text in said]
    return len(said) == len(wanted) and all(abs(mm - at) <= apart for (mm, apart), at in zip(read, wanted))


def same_gaps(said, wanted):
    """As many, at the same turns, each as wide as callipers tell."""
    read = [(at, *length(text, "callipers")) for at, text in said]
    return len(read) == len(wanted) and all(at == turn and abs(mm - width) <= apart for (at, mm, apart), (turn, width) in zip(read, wanted))


def compare_told(checks, name, file, planned, names):
    """names: of the plan's threads, by their names on the sheet."""
    read = Sheet(turnlay("sheet", file).out.decode())
    compare_rows(checks, name, read, file)
    for rod, plan in zip(read.rods, planned["rods"]):
        for (p, index), part in layer_parts(rod, plan).items():
            layer = plan["places"][p]["layers"][index]
            where = f"{name}, {plan['places'][p]['label']}, layer {index + 1}, in steps"
            if not checks.check(part, f"{where}: is on the sheet"):
                continue
            try:
                told = Told(part["steps"])
            except Fault as fault:
                checks.check(False, f"{where}: can be followed", fault)
                continue
            checks.check(agree(told.begins, begins_away(layer)), f"{where}: begins where it is said",
                         f"{told.begins} {begins_away(layer)}")
            runs, gaps = planned_runs(layer)
            worked = sheet_runs(told, names)
            checks.check(worked == runs, f"{where}: threads and turns", f"{worked}\n{runs}")
            checks.check(same_gaps(told.gaps, gaps), f"{where}: gaps", f"{told.gaps}\n{gaps}")
            if "crosswrap" in layer:
                compare_crosswrap(checks, where, told, (p, index), planned, plan)
