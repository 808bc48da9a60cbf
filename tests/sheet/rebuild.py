#!/usr/bin/python3
"""Reads the bench sheet's text alone, follows its steps with nothing but a builder's common sense, and compares
what comes out with the plan: every turn, lay-in, change, ending and cut, and every pass of a crosswrap, of every file
of examples/, tests/golden/ and tests/sheet/, or of the files named."""
import json
import math
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, in_turn, turnlay
from readings import readings
from rows import Table, is_table

PIECE = r"\S+(?: \([^()]*\))? \d+"                  # "navy 2", "navy (2) 1"
PIECES = rf"{PIECE}(?:(?:, | and ){PIECE})*"
STEP = re.compile(r"\[ \] +(\d+)(?:\.\d+)?  (.*)")         # its number, and action by action which of its actions
CUT = re.compile(r"\[ \]  (.+?) +((?:spool, as a spacer|spool|cut piece|bobbin|loop of strong line)(?:, code .+?)?)  +(?:(\d+) x )?(\S.*?)  (\d+)$")
ACTIONS = [(kind, re.compile(words + "$")) for kind, words in {
    "load": rf"Load a bobbin with (?P<length>.+) of .+: ({PIECE})",
    "start": rf"Start (?:the spacer )?({PIECES}) over its own tag",
    "lay in": rf"Lay in ({PIECES}): its tag along the blank, under the next turns",
    "loop": rf"Lay a loop for ({PIECES}), eye toward the (?:butt|tip)",
    "take up": rf"Take up ({PIECES})",
    "wind": rf"(?:Wind|Wrap) (\d+) turns? of ({PIECES})( together)?( by hand)?"
            r"(?: over (?P<over>.*?))?(, blank still)?",
    "stand": rf"Let ({PIECES}) stand(?:: .*)?",
    "tape": rf"Tape down (?P<thing>the tag of |the end of |the loop for |the bobbin of )?({PIECES})",
    "untape": rf"Take the tape off (?P<thing>the tag of |the end of |the loop for |the bobbin of )?({PIECES})",
    "cut free": rf"Cut ({PIECE}) from its spool, (?P<left>.+) from its last turn",
    "lay end": rf"Cut ({PIECES}), lay (?:its end|their ends) along the blank, under the next turns",
    "pull": rf"Cut ({PIECES}), end through the loop, draw it back under the last (\d+) turns?",
    "trim tag": rf"Trim the tag of ({PIECES})",
    "trim end": rf"Trim the end of ({PIECES})",
    "spacer": rf"Unwind the spacer ({PIECES})",
    "set out": r"Set out the (chevron|diamond|spiral): .*",
    "hold ends": r"(?:Tape|Set pins) round the blank, just outside both end bands",
    "tie on": rf"Tape on (the spacer )?({PIECE})",
    "leg": rf"((?:Out|Back) toward the (?:tip|butt)): ({PIECE}), "
           r"(?:along the marks|from its mark|against pass (\d+), on its (tip|butt) side)",
    "tie off": rf"Tape down and cut (?:the spacer )?({PIECE})",
    "symmetry": r"Check the first pass(?:es)? before adding strands: .*",
    "unwind": rf"Take off the spacer ({PIECE})",
    "sealing": r"(?:Brush colour preserver on the (?:chevron|diamond|spiral) and let it dry, then seal it|Seal the (?:chevron|diamond|spiral))"
               r" and let it cure hard",
    "take ends": r"Cut all strands at both end bands(?: and take the (?:tape off|pins out))?",
    "part": r"(?:Put (\S+) on|Lay (\S+) on): (?:at )?.* from the butt(?: end of \S+)?",
    "around": r"(?:Take grease|Mark the rod's line|Take the marks|Put the mark|Dress|Tape|Pack|Close up|Measure|Take the tape|Take off the fuzz|Sight|Seal|Brush|Coat) ?.*",
}.items()]


# --- reading ---

def paragraphs(lines, margin, deeper):
    """Lines joined that begin at the margin, each with those after it that are set in deeper."""
    joined = []
    for line in lines:
        inside = len(line) - len(line.lstrip(" "))
        if inside >= margin + deeper and joined:
            joined[-1] += " " + line.strip()
        else:
            joined.append(line[margin:])
    return joined


class Step:
    def __init__(self, number, margin, line):
        self.number, self.margin = number, margin
        self.lines = [line]                      # all of it, the action first

    def said(self):
        """All of it but a caution, which stands where its danger is met first on a sheet."""
        return re.sub(r" Caution: .*?(?= measured:| -- |$)", "", " ".join(line.strip() for line in self.lines))

    def read(self):
        """The action, and all that is said below it as one text."""
        action, below = self.lines[0], []
        for line in self.lines[1:]:
            if not below and line.startswith(" " * (self.margin + 4)):
                action += " " + line.strip()
            else:
                below.append(line.strip())
        return action, " ".join(below)


NOTES = "Parts and notes, measured from the butt"


class Sheet:
    """Sections by their headings. A heading is what stands above a rule, after an empty line."""

    def __init__(self, text):
        self.threads, self.rods = [], []
        read_to(text)
        block = []
        lines = text.split("\n")
        for at, line in enumerate(lines):
            rule = re.fullmatch(r"-+|=+", line)
            if rule and block and at:
                self.section(paragraphs(block, 0, 4)[0], line[0])
                block = []
            elif not line:
                self.content(block)
                block = []
            else:
                block.append(line)
        self.content(block)

    def section(self, heading, rule):
        self.here = heading
        if rule == "=" and heading.startswith("Rod: "):
            self.rod(heading[5:])
        elif rule == "-" and heading not in ("Cautions", "Threads", "What happened", NOTES, "Cut and mount first"):
            self.rods[-1]["parts"].append({"heading": heading, "steps": [], "table": None})

    def rod(self, title):
        """A rod, or one of its sections: these go on until all are wound."""
        section = re.fullmatch(r"(.*), (?:section (\d+) of (\d+): (.*)|all sections)", title)
        going_on = section and self.rods and self.rods[-1]["going_on"]
        if not going_on:
            self.rods.append({"title": section[1] if section else title, "notes": [], "cuts": [], "parts": [], "sections": [],
                              "going_on": bool(section)})
        if section:
            self.rods[-1]["sections"].append({"number": section[2], "of": section[3], "name": section[4], "note": [],
                                              "part": len(self.rods[-1]["parts"])})
            self.rods[-1]["going_on"] = section[2] is not None

    def content(self, lines):
        if self.rods and self.here.startswith("Rod: "):
            for section in self.rods[-1]["sections"][-1:]:
                section["note"] += lines
            return
        for line in lines:
            if self.here == "Threads" and not line.startswith("    "):
                self.threads.append(re.fullmatch(r"(\S+(?: \([^()]*\))?) +(?:code and )?lot: _+", line)[1])
            elif self.here == NOTES and line.startswith(" "):
                self.rods[-1]["notes"][-1][1] += " " + line.strip()
            elif self.here == NOTES:
                self.rods[-1]["notes"].append(list(re.fullmatch(r"(\S+) +(.*)", line).groups()))
            elif self.here == "Cut and mount first":
                self.cut_line(line)
            elif self.rods and self.rods[-1]["parts"] and is_table(lines):
                self.rods[-1]["parts"][-1]["table"] = Table(lines)
                return self.table(self.rods[-1]["parts"][-1])
            elif self.rods and self.rods[-1]["parts"]:
                self.step_line(self.rods[-1]["parts"][-1]["steps"], line)

    def cut_line(self, line):
        """Pieces alike, or the heading of the place that the next ones are for. Labels that are wide go on below."""
        cuts = self.rods[-1]["cuts"]
        if line.startswith("     piece "):
            self.place, self.wide = None, ""
        elif line.startswith(("[ ]", "    ")) and not CUT.fullmatch(self.wide + line):
            self.wide += line.rstrip() + " "
        elif line.startswith(("[ ]", "    ")):
            found = CUT.fullmatch(self.wide + line)
            labels, what, count, length, step = found.groups()
            own = labels_of(" ".join(labels.split()))
            must(len(own) == int(count or 1) and count != "1", f"{count} of {own}")
            columns = None if self.wide else (found.start(2), found.end(4))
            cuts += [{"label": label, "what": what, "mm": cut_length(length), "step": int(step), "columns": columns, "line": line,
                      "place": self.place, "section": len(self.rods[-1]["sections"])} for label in own]
            self.wide = ""
        else:
            self.place = f"{self.place}{line.strip()}" if line.startswith(" ") else line

    def table(self, part):
        """Its steps as if they were told at length, as far as its rows tell them."""
        told = {step.number: step for other in self.rods[-1]["parts"] for step in other["steps"]}
        for row in part["table"].rows:
            there = told[row.there]
            says, below = there.read()
            step = Step(row.number, there.margin, row.says(says, part["table"].renaming))
            gap = re.search(r"Leave a gap of .+? first\.", row.own().get("note", below))
            step.lines += [" " * there.margin + gap[0]] if gap else []
            step.lines += [f"{' ' * there.margin}{row.layer} in the layer; {row.at} from the mark"] if row.at else []
            part["steps"].append(step)

    @staticmethod
    def step_line(steps, line):
        begins = STEP.fullmatch(line)
        if begins:
            steps.append(Step(int(begins[1]), begins.start(2), begins[2]))
        else:
            steps[-1].lines.append(line)


def labels_of(words):
    """ "mist 1, 3 and 5 to 7": each of them."""
    name, _, numbers = re.fullmatch(r"(.+?)( )(\d[\d, andto]*)", words).groups()
    found = []
    for each in re.split(r", | and ", numbers):
        first, _, last = each.partition(" to ")
        found += range(int(first), int(last or first) + 1)
    return [f"{name} {each}" for each in found]


def number(text):
    """ "3 1/4" """
    total = 0.0
    for part in text.split():
        above, _, below = part.partition("/")
        total += float(above) / float(below or 1)
    return total


def cut_length(text):
    units = {"cm": 10, "m": 1000, "in": 25.4, "yd": 914.4}
    return sum(number(value) * units[unit] for value, unit in re.findall(r"([\d./ ]+) (cm|m|in|yd)\b", text))


# What the rule and the callipers are read to, mm, as the sheet at hand says at its head.
READ_TO = {}
HEAD = re.compile(r"rule,? to the nearest (?P<rule>[\d./ ]+ (?:mm|cm|in)), each from .*?callipers,? to the nearest "
                  r"(?P<callipers>[\d./ ]+ (?:mm|cm|in))")
FROM_MARK = r"(?:at the mark|(-?[\d./ ]+ (?:mm|cm|in)) from the mark)"


def mm_of(text):
    """mm of "12.35 mm", "1.235 cm", "0.486 in" or "1 1/2 in"."""
    sign, amount, unit = re.fullmatch(r"(-?)([\d./ ]+) (mm|cm|in)", text).groups()
    return number(amount) * {"mm": 1, "cm": 10, "in": 25.4}[unit] * (-1 if sign else 1)


def read_to(text):
    READ_TO.update((tool, mm_of(words)) for tool, words in HEAD.search(" ".join(text.split())).groupdict().items())


def length(text, tool):
    """mm, and how far it may be rounded: to the nearest that the tool is read to; None is "at the mark"."""
    mm, step = mm_of(text) if text else 0.0, READ_TO[tool]
    whole = abs(mm / step - round(mm / step)) < 1e-6
    if not whole and 0 < abs(mm) < step / 2:         # what is not 0 is not told as 0
        return mm, step / 20
    if not whole:
        raise Fault(f"{text} is not to the nearest {step} mm")
    return mm, step / 2 + 1e-6


CLOCK = r"(\d+) deg \(((?:about )?\d+)(?: o'clock|:(30))\)"
PASS = re.compile(r"pass (\d+) of (\d+)(?:, strand (\d+), start (\d+))?(?:; (\d+) crossings?)?; ([\d.]+) turns; "
                  rf"from {CLOCK} to {CLOCK}")
WAY_ON = re.compile(r"At the (tip|butt) end (?:carry the thread round the (?:tape|pins|blank) )?by (\d+) deg")
# In steps, after the first pass of a crosswrap: whole degrees, and crossings and turns where they are not those of the first.
LATER = re.compile(r"pass (\d+) of (\d+)(?:, strand (\d+), start (\d+))?(?:(?:; (\d+) crossings?)?; ([\d.]+) turns)?; "
                   r"from (\d+) to (\d+) deg(?:; back from (\d+) to (\d+) deg)?")


def facts_of_later_legs(below, first):
    """The same as facts_of_legs; first: what that finds of the first leg of all."""
    for *numbers, crossings, turns, out, end, back, home in (found.groups() for found in LATER.finditer(below)):
        told = (*numbers, crossings, turns) if turns else (*numbers, *first[4:6])
        yield (*told, out, None, None, end, None, None)
        if back:
            yield (*told, back, None, None, home, None, None)


def facts_of_legs(below):
    """What PASS finds of each leg in turn; of a leg back that is alike only its hours are said."""
    for found in PASS.finditer(below):
        yield found.groups()
        back = re.match(rf"[^;]*; back from {CLOCK} to {CLOCK}", below[found.end():])
        if back:
            yield found.groups()[:6] + back.groups()


def clock(degrees, hour, minutes):
    """Degrees, and the hour hand that says the same, to the nearest half hour: "about" where it is not the same. Of later passes
    no hour is said."""
    if hour is None:
        return int(degrees)
    about, said = hour.startswith("about "), int(hour.split()[-1]) % 12 * 60 + int(minutes or 0)
    apart = (said - int(degrees) * 2 + 360) % 720 - 360
    must(0 <= int(degrees) < 360 and abs(apart) <= 15 and about == (apart != 0),
         f"{degrees} deg is not {hour}:{minutes or 0}")
    return int(degrees)


def pieces(text):
    return re.findall(PIECE, text.replace(", ", " ").replace(" and ", " "))


def thread(label):
    return label.rpartition(" ")[0]


# --- following ---

class Fault(Exception):
    pass


def must(holds, why):
    if not holds:
        raise Fault(why)


class Piece:
    def __init__(self, number_of_step, turn):
        self.step, self.laid = number_of_step, turn
        self.state = "laid in"
        self.first = self.end = self.ended = self.tag = self.trimmed = self.loop = None
        self.turns, self.spacer, self.unwound, self.passed, self.cut = 0, False, False, False, False
        self.passes = []                         # of a crosswrap, in the order wound
        self.loaded = None                       # onto a bobbin: what length the step says


class Leg:
    """One leg of a pass, as its step says; all counts from 0."""

    def __init__(self, word, label, against, side, says, below):
        """word: "Out toward the tip"; against, side: as words say them, None for no other pass; says: what PASS finds of it."""
        must(says, f"no facts of a leg: {below}")
        self.word, self.label = word, label
        self.against = int(against) - 1 if against else None
        self.side = {None: "first", "tip": "up", "butt": "down"}[side]
        self.index, self.of = int(says[0]) - 1, int(says[1])
        self.strand, self.start = (int(says[2]) - 1, int(says[3]) - 1) if says[2] else (self.index, 0)
        self.marks, self.turns = int(says[4] or 0), float(says[5])
        self.clocks = clock(*says[6:9]), clock(*says[9:12])
        self.dwell = int(dict(WAY_ON.findall(below)).get(word.split()[-1], 0))


class Crosswrap:
    """What a layer's steps make of its crosswrap."""

    def __init__(self, kind):
        self.kind, self.legs = kind, []
        self.held = self.looked_over = self.sealed = self.cut_free = False

    def starts(self):
        return max(leg.start for leg in self.legs) + 1


class Layer:
    """One layer followed step by step."""

    def __init__(self, steps):
        self.turn = 0
        self.pieces, self.runs, self.counts, self.fades = {}, [], [], []
        self.loops, self.loads = {}, {}
        self.taped = {}                          # (what, label): turns of the layer that may be made before it is off
        self.laid = []                           # since the last turns: (kind, label)
        self.gaps = []                           # (turn, mm, rounding)
        self.crosswrap = None
        self.before = {}                         # by number of step: pieces on the blank, each with its state
        for step in steps:
            self.before.setdefault(step.number, {label: piece.state for label, piece in self.pieces.items()
                                                 if piece.state != "ended"})
            try:
                self.follow(step)
            except Fault as fault:
                raise Fault(f"step {step.number}: {fault}") from None
        for label, piece in self.pieces.items():
            trimmed = bool(piece.passes) or piece.tag is not None and piece.trimmed is not None
            done = piece.unwound if piece.spacer else trimmed
            must(piece.state == "ended" and done, f"{label} is not done with")
        must(not self.loops and not self.loads, "a loop is left, or a bobbin")
        must(not self.taped, f"tape is left: {self.taped}")
        must(not self.crosswrap or self.crosswrap.cut_free, "the crosswrap's ends are not cut free")

    def follow(self, step):
        action, below = step.read()
        for kind, words in ACTIONS:
            found = words.fullmatch(action)
            if found:
                break
        else:
            raise Fault(f"not understood: {action}")
        gap = re.search(r"Leave a gap of (.+?) first\.", below)
        if gap:
            self.gaps.append((self.turn, *length(gap[1], "callipers")))
        if kind in ("wind", "leg"):
            getattr(self, kind)(found, below)
        elif kind in ("set out", "hold ends", "symmetry", "sealing", "take ends"):
            getattr(self, kind.replace(" ", "_"))(found)
        elif kind == "load":
            self.load(found[2], step.number, found["length"])
        elif kind == "tie on":
            self.tie_on(found[2], step.number, found)
        elif kind in ("tape", "untape"):
            for label in pieces(found[2]):
                getattr(self, kind)(label, found["thing"] or "", below)
        elif kind not in ("around", "part"):
            for label in pieces(found[1]):
                getattr(self, kind.replace(" ", "_"))(label, step.number, found)
        if kind in ("tie on", "tie off"):
            self.laid.clear()                    # taped on and down, not wound over

    def running(self):
        return [label for label, piece in self.pieces.items() if piece.state == "running"]

    def load(self, label, step, length):
        must(label not in self.pieces and label not in self.loads, f"{label} is loaded too late, or twice")
        self.loads[label] = step, length

    def lay_in(self, label, step, _found):
        must(label not in self.pieces, f"{label} was laid in before")
        loaded_at, loaded = self.loads.pop(label, (step, None))
        self.pieces[label] = Piece(loaded_at, self.turn)
        self.pieces[label].loaded = loaded
        self.laid.append(("tag", label))

    def start(self, label, step, found):
        self.lay_in(label, step, found)
        self.pieces[label].state = "running"
        self.pieces[label].spacer = found[0].startswith("Start the spacer")

    def loop(self, label, _step, _found):
        must(label not in self.loops, f"{label} has a loop already")
        self.loops[label] = self.turn
        self.laid.append(("loop", label))

    def take_up(self, label, _step, _found):
        must(self.pieces[label].state in ("laid in", "standing"), f"{label} is not there to be taken up")
        self.pieces[label].state = "running"

    def stand(self, label, _step, _found):
        must(self.pieces[label].state == "running", f"{label} does not run")
        self.pieces[label].state = "standing"

    def tape(self, label, thing, below):
        must(label in (self.loops if thing == "the loop for " else self.pieces), f"{thing}{label} is not there")
        must((thing, label) not in self.taped, f"{thing}{label} is taped twice")
        clear = re.search(r"clear of the next (?:(\d+) turns|turn)", below)
        behind = "behind the turns" in below
        self.taped[thing, label] = math.inf if behind else self.turn + (int(clear[1] or 1) if clear else 0)

    def untape(self, label, thing, _below):
        must((thing, label) in self.taped, f"{thing}{label} is not taped")
        del self.taped[thing, label]

    def cut_free(self, label, _step, found):
        must(self.pieces[label].state == "running" and not self.pieces[label].cut, f"{label} does not run from a spool")
        self.pieces[label].cut = self.turn, cut_length(found["left"])

    def lay_end(self, label, _step, _found):
        must(self.pieces[label].state in ("running", "standing"), f"{label} cannot be cut")
        self.pieces[label].state, self.pieces[label].ended = "ended", self.turn
        self.laid.append(("end", label))

    def pull(self, label, step, found):
        must(label in self.loops, f"{label} has no loop")
        must(self.turn - self.loops.pop(label) == int(found[2]), f"not {found[2]} turns over the loop")
        self.lay_end(label, step, found)
        self.laid.pop()

    def trim_tag(self, label, _step, _found):
        must(self.pieces[label].tag is None, f"the tag of {label} is trimmed twice")
        self.pieces[label].tag = self.turn

    def trim_end(self, label, _step, _found):
        piece = self.pieces[label]
        must(piece.state == "ended" and piece.trimmed is None, f"{label} has no end to trim")
        piece.trimmed = self.turn

    def spacer(self, label, step, found):
        piece = self.pieces[label]
        must(piece.spacer and not piece.unwound, f"{label} is no spacer to be unwound")
        piece.unwound = True
        self.taped = {on: until for on, until in self.taped.items() if on[1] != label}
        if piece.state != "ended":
            self.lay_end(label, step, found)
            self.laid.pop()

    def set_out(self, found):
        must(not self.crosswrap and not self.pieces, "set out too late")
        self.crosswrap = Crosswrap(found[1])

    def hold_ends(self, _found):
        must(not self.crosswrap.legs, "the ends are held too late")
        self.crosswrap.held = True

    def symmetry(self, _found):
        must(len({leg.index for leg in self.crosswrap.legs}) == self.crosswrap.starts(), "looked over at another time")
        self.crosswrap.looked_over = True

    def tie_on(self, label, step, found):
        must(self.crosswrap and not self.runs and not self.running(), f"{label} is tied on too soon or too late")
        self.start(label, step, found)
        self.pieces[label].spacer = bool(found[1])

    def leg(self, found, below):
        leg, before = Leg(*found.group(1, 2, 3, 4), next(facts_of_legs(below), None), below), self.crosswrap.legs
        must(self.running() == [leg.label], f"running are {self.running()}")
        must(leg.strand == 0 or self.crosswrap.looked_over, "nobody has looked the first passes over")
        must(leg.word.startswith("Back") == bool(before and before[-1].index == leg.index), "out, or back?")
        if not leg.word.startswith("Back"):
            must(leg.index == (before[-1].index + 1 if before else 0), "not the next pass")
            self.pieces[leg.label].passes.append(leg.index)
        before.append(leg)

    def tie_off(self, label, _step, _found):
        must(self.running() == [label], f"{label} does not run")
        must(self.crosswrap.legs[-1].dwell == 0, f"{label} was to go on round")
        self.pieces[label].state, self.pieces[label].ended = "ended", self.turn
        self.laid.append(("end", label))

    def unwind(self, label, _step, _found):
        piece = self.pieces[label]
        must(piece.spacer and piece.passes and piece.state == "ended" and not piece.unwound and not self.runs,
             f"{label} is no spacer to be taken off")
        piece.unwound = True

    def sealing(self, _found):
        must(self.runs and not self.running(), "sealed too soon")
        self.crosswrap.sealed = True

    def take_ends(self, _found):
        must(self.crosswrap.sealed, "cut free before it is sealed")
        self.crosswrap.cut_free = True

    def wound_over(self, said, labels):
        """What was laid since the last turns is named, with what it is of; only more than two are not."""
        must(bool(said) == bool(self.laid), f"laid are {self.laid}, wound over is {said}")
        for kind, label in self.laid:
            own = kind == "tag" and label in labels and re.search(r"\b(?:its tag|their tags)\b", said)
            named = re.search(rf"the {kind} (?:of|for) [^.]*{re.escape(label)}", said)
            must(own or named or len(self.laid) > 2 and said == "all that is laid there",
                 f"the {kind} of {label} is not named in: {said}")
        self.laid = []

    def wind(self, found, below):
        turns, labels = int(found[1]), pieces(found[2])
        by_hand = found[0].startswith("Wrap")
        must(by_hand == bool(found[4]) == bool(found[6]), "by hand, or not?")
        self.wound_over(found["over"], labels)
        must(bool(found[3]) == (len(labels) > 1), "together, or not?")
        must(sorted(labels) == sorted(self.running()), f"running are {self.running()}")
        if self.runs and self.runs[-1][0] == labels and not any(at == self.turn for at, *_ in self.gaps):
            self.runs[-1][1] += turns
        else:
            self.runs.append([labels, turns])
        for label in labels:
            piece = self.pieces[label]
            piece.first = self.turn if piece.first is None else piece.first
            piece.end = self.turn + turns
            piece.turns += turns
            piece.passed |= by_hand
        self.turn += turns
        for (thing, label), until in self.taped.items():
            must(self.turn <= until and (thing or label not in labels), f"turns go over the tape on {thing}{label}")
        count = re.search(rf"(\d+) in the (band|fade|end band)(?:, (\d+) in| and) the layer; {FROM_MARK}", below)
        must(count and int(count[3] or count[1]) == self.turn, f"{self.turn} turns are made")
        self.counts.append((self.turn, int(count[1]), count[2], *length(count[4], "rule")))
        told = re.search(rf"Fade from ({PIECE}) to ({PIECE}): ([^.]+)", below)
        if told:
            self.fades.append((self.turn - turns, told[1], told[2], told[3]))


# --- comparing ---

def planned_runs(layer):
    """Runs with their threads, merged until the thread changes or a gap comes; and the gaps."""
    runs, gaps, turn, after_gap = [], [], 0, True
    for run in layer["runs"]:
        if run["role"] == "gap" and "crosswrap" in layer:
            continue                             # the field; the sheet tells of no gap
        if run["role"] == "gap":
            width = abs(run["end_mm"] - run["start_mm"])
            if after_gap and gaps and gaps[-1][0] == turn:
                gaps[-1][1] += width
            else:
                gaps.append([turn, width])
            after_gap = True
            continue
        names = [strand["thread"] for strand in run["strands"]]
        if runs and not after_gap and runs[-1][0] == names:
            runs[-1][1] += run["turns"]
        else:
            runs.append([names, run["turns"]])
        turn += run["turns"]
        after_gap = False
    return runs, [gap for gap in gaps if gap[0] < turn]


def sheet_runs(layer, names):
    """The sheet's runs by thread: a spool that goes on for a cut piece is no change of thread."""
    runs, turn, gap_turns = [], 0, {at for at, *_ in layer.gaps}
    for labels, turns in layer.runs:
        threads = [names[thread(label)] for label in labels]
        if runs and runs[-1][0] == threads and turn not in gap_turns:
            runs[-1][1] += turns
        else:
            runs.append([threads, turns])
        turn += turns
    return runs


def planned_place_at(layer, turn):
    """From the datum after so many turns of the layer, and the item that the last of them belongs to."""
    made = 0
    for run in layer["runs"]:
        if made < turn <= made + run["turns"]:
            share = (turn - made) / run["turns"]
            return run["from_mm"] + share * (run["to_mm"] - run["from_mm"]), run["item"]
        made += run["turns"]
    return None, None


def item_starts(layer):
    starts, turn = [], 0
    for item in layer["items"]:
        starts.append(turn)
        turn += item["turns"]
    return starts


def compare_counts(checks, name, layer, planned):
    starts = item_starts(planned)
    good = True
    first_band = planned["runs"][0]["turns"] if "crosswrap" in planned else None
    for turn, band, word, mm, rounding in layer.counts:
        place, item = planned_place_at(planned, turn)
        good &= place is not None and abs(place - mm) <= rounding
        if first_band:
            good &= word == "end band" and band == (turn if turn <= first_band else turn - first_band)
        elif place is not None:
            good &= word == planned["items"][item]["kind"] and band == turn - starts[item]
    checks.check(good, f"{name}: counts and places")


def told_turns(words):
    return [(word, int(turns)) for word, turns in re.findall(r"(in|out) (\d+)", words)]


def compare_fades(checks, name, layer, planned, names):
    starts = item_starts(planned)
    told = {turn: fade for turn, *fade in layer.fades}
    for start, item in zip(starts, planned["items"]):
        if item["kind"] != "fade":
            continue
        runs = planned["runs"][item["first_run"]:item["first_run"] + item["run_count"]]
        _old, new, words = told.get(start, (None, None, ""))
        coming = names.get(thread(new or ""))
        wanted = [("in" if run["strands"][0]["thread"] == coming else "out", run["turns"]) for run in runs]
        said = told_turns(words)
        whole = len(said) == len(wanted) or "and so on" in words
        checks.check(said and whole and said == wanted[:len(said)], f"{name}: the fade at turn {start} in words",
                     f"{words}\n{wanted}")


class Geometry:
    """Where a crosswrap's strands lie, worked out anew from the reference and the plan's own numbers."""

    def __init__(self, planned, toward, threads):
        crosswrap = self.crosswrap = planned["crosswrap"]
        self.direction = 1 if toward == "tip" else -1
        self.sense = 1 if crosswrap["sense"] == "clockwise" else -1
        self.starts = crosswrap["starts"]
        self.leads = [crosswrap["lead_mm"]["out"], crosswrap["lead_mm"]["back"]]
        self.ends = planned["start_mm"], planned["end_mm"]
        diameters = {thread["thread"]: thread["diameter_mm"] for thread in threads}
        self.thread = diameters[crosswrap["strands"][0]["thread"]]
        thickest = max([diameters[strand["thread"]] for strand in crosswrap["strands"] if not strand["spacer"]],
                       default=0)
        below = 2 * thickest * (2 if self.leads[1] else 1)   # end bands lie on the strands
        self.diameters = [planned["runs"][0]["start_diameter_mm"] - below,
                          planned["runs"][-1]["end_diameter_mm"] - below]
        self.base = 0
        if crosswrap["lines"]:                   # of family 1 and the first start: level 1
            spacing = crosswrap["spacing_mm"]
            out, back = (round(self.starts * spacing / lead) for lead in reversed(self.leads))
            self.base = crosswrap["lines"][0]["clock_deg"] / 360 - self.sense * back / ((out + back) * self.starts)

    def turn(self, strand, start, leg, end):
        """Turns round the blank, at an end of the layer (0: where it begins), of a strand on one of its legs."""
        lead, along = self.leads[leg], self.ends[end] - self.crosswrap["field"]["start_mm"]
        slant = math.hypot(1, lead / (math.pi * (self.diameters[end] + self.thread)))
        rate = self.sense * self.direction / lead * (-1 if leg else 1)
        return (self.base + self.sense * start / self.starts
                + rate * (along - self.crosswrap["strands"][strand]["middle_mm"] * slant))

    def way_round(self, before, after):
        """Degrees on in the sense of turning, 0 to 360."""
        return self.sense * (after - before) % 1 * 360


def near_round(said, turns):
    off = (said - turns * 360) % 360
    return min(off, 360 - off) <= 0.5 + 1e-3


def check_leg(geometry, leg, marks, way_on):
    """What is wrong with a leg, or nothing. way_on: degrees behind it."""
    crosswrap = geometry.crosswrap
    back = int(leg.word.startswith("Back"))
    strand = crosswrap["strands"][leg.strand]
    begins, ends = (geometry.turn(leg.strand, leg.start, back, end) for end in ((1, 0) if back else (0, 1)))
    up = geometry.direction > 0 if not back else geometry.direction < 0
    against = None if strand["against"] is None else strand["against"] * geometry.starts + leg.start
    return [what for what, right in {
        "way": leg.word.lower().endswith("tip" if up else "butt"),
        "side": leg.side == strand["side"], "neighbour": leg.against == against,
        "begin": near_round(leg.clocks[0], begins), "end": near_round(leg.clocks[1], ends),
        "turns": abs(leg.turns - abs(ends - begins)) < 0.0051, "crossings": leg.marks == marks,
        "way on": abs(leg.dwell - way_on) <= 0.5 + 1e-3 or abs(leg.dwell - way_on - 360) <= 0.5,
    }.items() if not right]


def check_legs(geometry, legs, labels):
    """labels: by pass, the piece that winds it."""
    crosswrap, faults = geometry.crosswrap, []
    marks = sum(len(line["marks_mm"]) for line in crosswrap["lines"]) // geometry.starts
    per_pass = 2 if crosswrap["lead_mm"]["back"] else 1
    if len(legs) != len(crosswrap["passes"]) * per_pass:
        return [f"{len(legs)} legs of {len(crosswrap['passes'])} passes"]
    for at, leg in enumerate(legs):
        planned = crosswrap["passes"][at // per_pass]
        behind = legs[at + 1] if at + 1 < len(legs) else None
        way_on = 0
        if at % per_pass == 0 and per_pass == 2:
            way_on = planned["dwell_deg"]
        elif per_pass == 2 and behind and behind.label == leg.label:
            way_on = geometry.way_round(geometry.turn(leg.strand, leg.start, 1, 0),
                                        geometry.turn(behind.strand, behind.start, 0, 0))
            way_on += (leg.dwell - way_on + 180) // 360 * 360   # by friction alone, whole turns more
        wrong = check_leg(geometry, leg, marks, way_on)
        if (leg.strand, leg.start, leg.index) != (planned["strand"], planned["start"], at // per_pass):
            wrong.append("order")
        if leg.label != labels[leg.index] or leg.of != len(crosswrap["passes"]):
            wrong.append("piece")
        if wrong:
            faults.append(f"{leg.word} of pass {leg.index + 1}: {', '.join(wrong)}: {vars(leg)}")
    return faults


def compare_crosswrap(checks, name, layer, at, plan, rod):
    """at: indices of the place and its layer in the planned rod."""
    place = rod["places"][at[0]]
    planned = place["layers"][at[1]]
    wanted = planned["crosswrap"]
    if not checks.check(layer.crosswrap and layer.crosswrap.kind == wanted["kind"], f"{name}: a {wanted['kind']}"):
        return
    labels = []
    for label, piece in zip(numbered(rod), rod["pieces"]):
        if (piece["place"], piece["layer"]) == at and "passes" in piece:
            labels += [label] * piece["passes"]["count"]
    faults = check_legs(Geometry(planned, place["toward"], plan["threads"]), layer.crosswrap.legs, labels)
    checks.check(not faults, f"{name}: every leg of every pass", "\n".join(faults[:4]))


def numbered(planned):
    """Labels of the rod's pieces, counted as the sheet counts; threads of one name cannot be told apart here."""
    counts, labels = {}, []
    for piece in planned["pieces"]:
        counts[piece["thread"]] = counts.get(piece["thread"], 0) + 1
        labels.append(f"{piece['thread']} {counts[piece['thread']]}")
    return labels


def compare_piece(checks, name, made, planned, cut, rounding, code):
    spacer = planned["spacer"]
    what = "spool, as a spacer" if spacer else "bobbin" if planned.get("bobbin") else "cut piece" if planned["by_hand"] else "spool"
    what += f", code {code}" if code else ""
    if "passes" in planned:
        first, count = planned["passes"]["first"], planned["passes"]["count"]
        checks.check(made.passes == list(range(first, first + count)) and made.spacer == spacer, f"{name}: its passes",
                     f"{vars(made)}\n{planned}")
        checks.check(cut and cut["what"] == what and cut["step"] <= made.step
                     and -1e-4 < cut["mm"] - planned["cut_mm"] < rounding + 1e-4,
                     f"{name}: its cut", f"{cut}\n{planned}")
        return
    same = ([made.first, made.end, made.turns, made.spacer]
            == [planned[key] for key in ("first_turn", "end_turn", "turns", "spacer")])
    checks.check(bool(made.loaded) == planned.get("bobbin", False) and (not made.loaded or cut_length(made.loaded) == cut["mm"]),
                 f"{name}: its bobbin", f"{vars(made)}\n{planned}")
    checks.check(same and made.laid <= made.first and made.ended >= made.end and made.passed <= (planned["by_hand"] or bool(made.cut)),
                 f"{name}: its turns", f"{vars(made)}\n{planned}")
    checks.check(cut and cut["what"] == what and cut["step"] <= made.step
                 and -1e-4 < cut["mm"] - planned["cut_mm"] < rounding + 1e-4,
                 f"{name}: its cut", f"{cut}\n{planned}")
    turn, left = made.cut or (None, 0)
    checks.check(turn == planned.get("cut_turn") and ("cut_off_mm" in planned) == ("cut_turn" in planned)
                 and (turn is None or -1e-4 < left - planned["cut_off_mm"] < rounding + 1e-4),
                 f"{name}: where it is cut from its spool", f"{vars(made)}\n{planned}")


def layer_parts(rod, planned):
    """The sheet's part for each planned layer that has turns, by place and layer."""
    parts = {part["heading"]: part for part in rod["parts"] if part["steps"]}
    found = {}
    for p, place in enumerate(planned["places"]):
        for index, layer in enumerate(place["layers"]):
            count = len(place["layers"])
            words = "underwrap" if layer["kind"] == "under" else "wrap" if count == 1 else "overwrap"
            words = layer["crosswrap"]["kind"] if "crosswrap" in layer else words
            if count > 1:
                words = f"layer {index + 1} of {count}, {words}"
            if layer["turns"]:
                found[p, index] = parts.get(f"{place['label']}: {words}")
    return found


def compare_states(checks, name, file, before):
    """A sheet that begins at a step says what lies on the blank by then: once for each way in which pieces lie."""
    ways = {tuple(sorted(lying.values())): number for number, lying in before.items()}
    for number in ways.values():
        rest = " ".join(turnlay("sheet", "--format", "text", "--depth", "actions", "--from", number, file).out.decode().split())
        told = re.search(rf"When step {number} begins, .*? On the blank: (.*?)\. ", rest)
        found = dict(re.findall(rf"({PIECE}) \((running|standing|laid in)\)", told[1])) if told else None
        checks.check(found == before[number], f"{name}: what lies on the blank at step {number}",
                     f"{told and told[1]}\n{before[number]}")


def compare_cut_order(checks, name, cuts):
    """Place by place, in each as needed, loops first of all; and places as they are needed."""
    places = list(dict.fromkeys((cut["section"], cut["place"]) for cut in cuts))
    steps = [[cut["step"] for cut in cuts if (cut["section"], cut["place"]) == place] for place in places]
    checks.check(all(needed == sorted(needed) for needed in steps), f"{name}: order of cuts", steps)
    firsts = [(place[0], place[1] is not None, needed[0]) for place, needed in zip(places, steps)]
    checks.check(firsts == sorted(firsts), f"{name}: order of places to cut for", firsts)
    checks.check(all((cut["place"] is None) == cut["what"].startswith("loop") for cut in cuts), f"{name}: loops serve at all places")


def compare_cut_lines(checks, name, cuts, made, planned):
    """A line has equal pieces of one place, and the step that needs one of them first."""
    lines = {}
    for cut in cuts:
        lines.setdefault((cut["section"], cut["line"]), []).append(cut)
    labels = dict(zip(numbered(planned), (planned["places"][piece["place"]]["label"] for piece in planned["pieces"])))
    for (_, line), own in lines.items():
        steps = [made[cut["label"]].step for cut in own if cut["label"] in made]
        checks.check(not steps or min(steps) == own[0]["step"], f"{name}: for which step", line)
        places = {re.sub(", (butt|tip)-side foot$", "", labels[cut["label"]]) for cut in own if cut["label"] in labels}
        heading = re.sub(", (both feet|(butt|tip)-side foot)$", "", own[0]["place"] or "")
        checks.check(places <= {heading}, f"{name}: for which place", f"{line}: {heading}, and {places}")
    merged = [(cut["section"], cut["place"], thread(cut["label"]), cut["what"], cut["mm"], cut["line"]) for cut in cuts]
    checks.check(len({each[:5] for each in merged}) == len(set(merged)), f"{name}: equal pieces on one line", merged)


def compare_rod(checks, name, rod, planned, names, whole_plan):
    units = whole_plan["bench_units"]
    checks.check(" ".join(planned["title"].split()) == " ".join(rod["title"].split()), f"{name}: title")
    cuts = {cut["label"]: cut for cut in rod["cuts"]}
    numbers = [step.number for part in rod["parts"] for step in part["steps"]]
    numbers = list(dict.fromkeys(numbers))
    checks.check(numbers == list(range(numbers[0], numbers[0] + len(numbers))), f"{name}: numbers of steps")
    columns = {(cut["section"], cut["columns"]) for cut in rod["cuts"] if cut["label"].isascii() and len(cut["label"]) < 24 and cut["columns"]}
    checks.check(len(columns) == len({section for section, _ in columns}), f"{name}: cuts stand in columns", columns)
    compare_sections(checks, name, rod, planned)
    compare_cut_order(checks, name, rod["cuts"])
    made, most_loops, before = {}, 0, {}
    for (p, index), part in layer_parts(rod, planned).items():
        where = f"{name}, {planned['places'][p]['label']}, layer {index + 1}"
        if not checks.check(part, f"{where}: is on the sheet"):
            continue
        try:
            layer = Layer(part["steps"])
        except (Fault, KeyError) as fault:
            checks.check(False, f"{where}: can be followed", fault)
            continue
        plan = planned["places"][p]["layers"][index]
        runs, gaps = planned_runs(plan)
        worked = sheet_runs(layer, names)
        checks.check(worked == runs, f"{where}: threads and turns", f"{worked}\n{runs}")
        checks.check([gap[0] for gap in gaps] == [gap[0] for gap in layer.gaps]
                     and all(abs(a[1] - b[1]) <= b[2] for a, b in zip(gaps, layer.gaps)),
                     f"{where}: gaps", f"{layer.gaps}\n{gaps}")
        compare_counts(checks, where, layer, plan)
        compare_fades(checks, where, layer, plan, names)
        if "crosswrap" in plan:
            compare_crosswrap(checks, where, layer, (p, index), whole_plan, planned)
        made.update(layer.pieces)
        before.update(layer.before)
        most_loops = max(most_loops, loops_at_once(part["steps"]))
    compare_cut_lines(checks, name, rod["cuts"], made, planned)
    labels = numbered(planned)
    codes = {thread["thread"]: thread.get("code") for thread in whole_plan["threads"]}
    if len(set(names.values())) < len(names):
        return before
    checks.check(sorted(labels) == sorted(made), f"{name}: pieces", f"{sorted(made)}\n{sorted(labels)}")
    rounding = 25.4 / 4 if units == "in" else 10
    for label, piece in zip(labels, planned["pieces"]):
        if label in made:
            compare_piece(checks, f"{name}, {label}", made[label], piece, cuts.get(label), rounding, codes.get(piece["thread"]))
    loops = [cut["label"] for cut in rod["cuts"] if cut["what"].startswith("loop")]
    wanted = [f"loop {i + 1}" for i in range(most_loops)]
    checks.check(loops == wanted, f"{name}: loops to cut", f"{loops}\n{wanted}")
    return before


def near_length(text, wanted):
    value, rounding = length(text, "rule")
    return abs(value - wanted) <= rounding


def compare_sections(checks, name, rod, planned):
    """Each section that is worked comes once, with its places, its marks from its own butt end, and what of it lies in
    a joint; then what is done to the whole rod."""
    sections, told = planned.get("sections", []), rod["sections"]
    worked = list(dict.fromkeys(place.get("section") for place in planned["places"]))
    wanted = [(str(i + 1), str(len(sections)), sections[i]["name"]) for i in worked] if sections else []
    checks.check([(one["number"], one["of"], one["name"]) for one in told if one["number"]] == wanted, f"{name}: sections", told)
    for one, end in zip(told, [after["part"] for after in told[1:]] + [None]):
        steps = [step.read() for part in rod["parts"][one["part"]:end] for step in part["steps"]]
        marks = [re.fullmatch(r"Put the mark (?:(.*) from|at) the butt end of (.*)", action)
                 for action, _ in steps if action.startswith("Put the mark")]
        index = int(one["number"]) - 1 if one["number"] else None
        section = sections[index] if one["number"] else None
        places = [place for place in planned["places"] if place["section"] == index]
        checks.check(len(marks) == len(places) and all(
            mark and mark[2] == section["name"] and near_length(mark[1], place["start_mm"] - section["butt_mm"])
            for mark, place in zip(marks, places)), f"{name}, {one['name']}: marks from its own butt end", marks)
        along = [re.match(r"Along the whole rod that is (.*?) from the (butt|bare tip)\.", words) for action, words in steps
                 if action.startswith("Put the mark")]
        checks.check(all(found and near_length(found[1], place["start_mm"] if found[2] == "butt" else
                                               sections[-1]["end_mm"] - place["start_mm"])
                         for found, place in zip(along, places)), f"{name}, {one['name']}: marks along the rod", along)
        hidden = re.findall(r"Its (butt|tip) end goes (.*?) into (.*?): keep", " ".join(one["note"]))
        inside = [("tip", section["tip_mm"] - section["end_mm"], index + 1), ("butt", section["start_mm"] - section["butt_mm"], index - 1)] \
            if section else []
        inside = [each for each in inside if each[1] > 1e-6 and 0 <= each[2] < len(sections)]
        checks.check(len(hidden) == len(inside) and all(
            a[0] == b[0] and near_length(a[1], b[1]) and a[2] == sections[b[2]]["name"] for a, b in zip(hidden, inside)),
            f"{name}, {one['name']}: what lies in a joint", hidden)


def loops_at_once(steps):
    lying = most = 0
    for step in steps:
        action, _ = step.read()
        lying += action.startswith("Lay a loop ") - ("end through the loop" in action)
        most = max(most, lying)
    return most


def without_cautions(text):
    return re.sub(r"^ *Caution: .*?(?=^(?:\[ \]|$| *(?:--|measured:))|\Z)", "", text, flags=re.M | re.S)


def compare_rest(checks, name, file, text):
    """From a step in its middle the sheet is the whole sheet's end, and cuts no more than that needs. Cautions come
    where they are met first on either."""
    steps = re.findall(r"^\[ \] +(\d+)(?:\.\d+)?  \S", text, re.M)
    numbers = sorted({int(number) for number in re.findall(r"^\[ \] +(\d+)(?:\.\d+)?  (?=[A-Z])", text, re.M)})
    if not steps or not numbers:
        return
    middle = numbers[len(numbers) // 2]
    rest = turnlay("sheet", "--format", "text", "--depth", "actions", "--from", middle, file).out.decode()
    begins = re.compile(rf"^\[ \] +{middle}(?:\.1)?  (?=[A-Z])", re.M)
    found, whole = begins.search(rest), begins.search(text)
    checks.check(found and without_cautions(rest[found.start():]) == without_cautions(text[whole.start():]), f"{name}: from step {middle}")
    early = [cut["step"] for rod in Sheet(rest).rods for cut in rod["cuts"] if cut["step"] < middle]
    checks.check(not early, f"{name}: cuts from step {middle}", early)


def compare_one_section(checks, name, file, whole):
    """The sheet of one section has its steps and those of the whole rod, its pieces, and as many loops as lie at once."""
    names = {section["name"] for rod in whole.rods for section in rod["sections"] if section["name"]}
    for one in sorted(names):
        read = Sheet(turnlay("sheet", "--format", "text", "--depth", "actions", "--section", one, file).out.decode())
        wanted = [rod for rod in whole.rods if any(section["name"] == one for section in rod["sections"])]
        checks.check(len(read.rods) == len(wanted), f"{name}, {one}: rods")
        for got, rod in zip(read.rods, wanted):
            begins = [section["part"] for section in rod["sections"]] + [len(rod["parts"])]
            index = next(i for i, section in enumerate(rod["sections"]) if section["name"] == one)
            own, last = rod["parts"][begins[index]:begins[index + 1]], rod["parts"][begins[-2]:]
            lines = lambda parts: [(part["heading"], [(step.number, " ".join(without_cautions("\n".join(step.lines)).split())) for step in part["steps"]]) for part in parts]
            checks.check(lines(got["parts"]) == lines(own + last), f"{name}, {one}: steps")
            numbers = {step.number for part in own for step in part["steps"]}
            pieces = [(cut["label"], cut["mm"], cut["step"]) for cut in rod["cuts"]
                      if cut["step"] in numbers and not cut["what"].startswith("loop")]
            given = [(cut["label"], cut["mm"], cut["step"]) for cut in got["cuts"] if not cut["what"].startswith("loop")]
            checks.check(given == pieces, f"{name}, {one}: pieces", f"{given}\n{pieces}")
            loops = [cut for cut in got["cuts"] if cut["what"].startswith("loop")]
            most = max((loops_at_once(part["steps"]) for part in own), default=0)
            checks.check([cut["label"] for cut in loops] == [f"loop {i + 1}" for i in range(most)], f"{name}, {one}: loops", loops)
            laid = {step.number for part in own for step in part["steps"] if step.read()[0].startswith("Lay a loop ")}
            checks.check(all(cut["step"] in laid for cut in loops), f"{name}, {one}: a loop's first step", loops)
            compare_cut_order(checks, f"{name}, {one}", got["cuts"])


def compare_notes(checks, name, notes, rod):
    """Every part of the plan from the butt on: its name, where it lies (from the butt of its own section), its note, and
    whether thread may lie on it."""
    parts = sorted(rod.get("parts", []), key=lambda part: part["start_mm"])
    checks.check([note[0] for note in notes] == [part["name"] for part in parts], f"{name}: parts and notes", notes)
    for (_, words), part in zip(notes, parts):
        mark = part["start_mm"] == part["end_mm"]
        lies = re.match(r"at (\S+) (\w+)" if mark else r"(\S+) to (\S+) (\w+)", words)
        scale = {"mm": 1, "cm": 10}.get(lies[lies.lastindex] if lies else "")
        butt = max(((section["start_mm"], section["butt_mm"]) for section in rod.get("sections", [])[1:]
                    if section["start_mm"] <= part["start_mm"]), default=(0, 0))[1]
        ends = [end - butt for end in (part["start_mm"], part["end_mm"])[:1 if mark else 2]]
        read = [float(each) * scale for each in lies.groups()[:-1]] if scale else None
        checks.check(read and all(abs(a - b) < 0.006 for a, b in zip(read, ends)), f"{name}: where {part['name']} lies", words)
        use = "" if mark else "; thread lies on it" if part["wrapped"] else "; keep it free of thread"
        checks.check(words.endswith(("; " + part["note"] if "note" in part else "") + use), f"{name}: use of {part['name']}", words)
        wide = [float(each) for each in re.findall(r"([\d.]+) mm", words.partition("; diameter")[2].partition(";")[0])]
        checks.check(len(wide) == len(part.get("diameters_mm", [])) and all(
            abs(a - b) < 0.006 for a, b in zip(wide, part.get("diameters_mm", []))), f"{name}: diameters of {part['name']}", words)


def compare_moments(checks, name, rod, parts):
    """Every part goes on once: what has a thickness before anything is wound on its section, what thread lies on before
    that, all else between the last turn and the finish."""
    words = next(words for kind, words in ACTIONS if kind == "part")
    actions = [step.read()[0] for part in rod["parts"] for step in part["steps"]]
    put_on = [(at, words.fullmatch(action)) for at, action in enumerate(actions) if words.fullmatch(action)]
    names = sorted(found[1] or found[2] for _, found in put_on)
    checks.check(names == sorted(part["name"] for part in parts), f"{name}: parts that go on", put_on)
    ways = {part["name"]: "Lay Put" if part["wrapped"] and "diameters_mm" not in part else "Put" for part in parts}
    last = {part["name"] for part in parts if "diameters_mm" not in part}
    wound = [at for at, action in enumerate(actions) if action.startswith(("Wind ", "Wrap "))] or [0]
    coated = next((at for at, action in enumerate(actions) if action.startswith("Coat ")), len(actions))
    for at, found in put_on:
        part, way = found[1] or found[2], found[0].split()[0]
        good = way in ways.get(part, "") and (way == "Lay" or part not in last or max(wound) < at < coated)
        good &= way == "Lay" or part in last or len(rod["sections"]) > 1 or at < min(wound)
        checks.check(good, f"{name}: when {part} goes on", f"{found[0]}, as {ways.get(part)}, step {at + 1} of the rod")


def compare_file(file):
    return (file, turnlay("plan", "--format", "json", file), turnlay("sheet", "--depth", "actions", file),
            turnlay("sheet", "--depth", "actions", file))


def planned_again(file):
    """(how, plan, sheet) of a file from each of some widths that were measured."""
    sheet = turnlay("sheet", "--format", "json", file)
    given = readings(json.loads(sheet.out), 0.02) if sheet.code == 0 else []
    return file, [(reading, turnlay("plan", "--format", "json", "--measured", reading, file),
                   turnlay("sheet", "--depth", "actions", "--measured", reading, file)) for reading in given]


def compare_again(checks):
    """Sheets that are planned again are those of the plan that is, and say what changed; all examples can be wound so."""
    for file, found in in_turn(planned_again, sorted(ROOT.glob("examples/*.lay"))):
        for reading, plan, sheet in found:
            name = f"{file.name} with {reading} measured"
            if not checks.check(plan.code == 0 and sheet.code == 0, f"{name}: a sheet", sheet.words()):
                continue
            planned, read = json.loads(plan.out), Sheet(sheet.out.decode())
            names = dict(zip(read.threads, (thread["thread"] for thread in planned["threads"])))
            asked = "T320" in sheet.words()
            said = " ".join(sheet.out.decode().split())
            checks.check(("Planned again after measuring." in said) != asked, f"{name}: it is said", sheet.words())
            top = re.search(r" What happened -+ (.*?) Cautions ---", said)
            wanted = ": a width is left out, for it is too far off. " if asked else ": measured up to turn "
            checks.check(top and wanted in top[1], f"{name}: the sheet's top says it", said[:1500])
            for rod, plan_rod in zip(read.rods, planned["rods"], strict=True):
                compare_rod(checks, f"{name}, {plan_rod['title']}", rod, plan_rod, names, planned)


def main():
    from told import compare_told                # which reads with what stands above
    checks = Checks()
    folders = ("examples", "tests/golden", "tests/sheet")
    files = sys.argv[1:] or sorted(file for folder in folders for file in ROOT.glob(f"{folder}/*.lay"))
    for file, plan, sheet, again in in_turn(compare_file, files):
        name = pathlib.Path(file).name
        if plan.code != 0:
            checks.check(sheet.code == 1 and not sheet.out, f"{name}: errors, so no sheet", sheet.words())
            continue
        if not checks.check(sheet.code == 0, f"{name}: a sheet", sheet.words()):
            continue
        checks.check(sheet.out == again.out, f"{name}: the same bytes twice")
        text, planned = sheet.out.decode(), json.loads(plan.out)
        read = Sheet(text)
        names = dict(zip(read.threads, (thread["thread"] for thread in planned["threads"])))
        checks.check(len(read.threads) == len(planned["threads"]), f"{name}: threads")
        checks.check(len(read.rods) == len(planned["rods"]), f"{name}: rods")
        for rod, plan_rod in zip(read.rods, planned["rods"]):
            compare_notes(checks, f"{name}, {plan_rod['title']}", rod["notes"], plan_rod)
            compare_moments(checks, f"{name}, {plan_rod['title']}", rod, plan_rod.get("parts", []))
            before = compare_rod(checks, f"{name}, {plan_rod['title']}", rod, plan_rod, names, planned)
            compare_states(checks, name, file, before)
        compare_rest(checks, name, file, text)
        compare_told(checks, name, file, planned, names)
        compare_one_section(checks, name, file, read)
    if not sys.argv[1:]:
        compare_again(checks)
    checks.finish()


if __name__ == "__main__":
    main()
