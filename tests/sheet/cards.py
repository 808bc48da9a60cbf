#!/usr/bin/python3
"""Reads the cards' text alone, as somebody who has wrapped before reads them, and rebuilds from it what is wound: every run
with its turns and where it ends, every fade step, every piece from where it comes in to where it goes out, what is cut,
how fades look, and the strands of crosswraps in the order in which they are laid. All of it is held against the plan; and each tag and
end lies under turns that are there."""
import collections
import json
import math
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, in_turn, turnlay
from rebuild import Fault, length, read_to

LAYER = re.compile(r"Layer (\d+) of (\d+), (.*): (\d+) turns?, (.*) wide(?:, begins (.*) from the mark)?$")
ROW = re.compile(r" *(\d+)  +(\S.*?)  +(\S.*?)  +(\S.*)$")
LOOK = re.compile(r"from [\d.]+ (m|in): ")
CUT = re.compile(r"\[ \] (.+?)  +(cut piece|bobbin|spool, as a spacer|spool|of strong line)(, code .+?)?  +(\S.*?)(  each)?$")
NAME = r"[^\s,;()]+(?: \([^()]*\))?"
STRAND = rf"(?:spacer )?{NAME}"
TOGETHER = rf"{STRAND}(?:(?:, {STRAND})* and {STRAND} together)?"
WAYS = [(kind, re.compile(words)) for kind, words in {
    "cut": r"cut off leaving (\d[\d./ ]* ?(?:m|cm|in|yd)(?: [\d /]+in)?), the last (\d+) by hand",
    "by hand": r"(?:(?:the last )?(\d+) )?by hand",
    "from": r"from line (\d+)",
    "start": r"starts over its tag",
    "bobbin": r"on a bobbin",
    "laid in": rf"laid in under (?:(\d+) of ({TOGETHER})|the (\d+) turns before)",
    "to": r"on to line (\d+)",
    "end": r"end under the next (\d+)",
    "pulled": r"pulled through under the last (\d+)",
    "taken off": r"taken off at the end",
}.items()]
STEP = re.compile(r"(in|out) (\d+)(?:, (out) (\d+))?(?: \((\d+) times\))?$")
GROUP = re.compile(rf"(\d+) ({STRAND}) (along the marks|first|on the tip side|on the butt side|alternately tip, butt side|alternately butt, tip side)$")
SIDES = {"along the marks": ["first"], "first": ["first"], "on the tip side": ["up"], "on the butt side": ["down"],
         "alternately tip, butt side": ["up", "down"], "alternately butt, tip side": ["down", "up"]}


class Misread(Exception):
    """A card that says something nobody could follow."""


def strands_of(words):
    words = re.sub(r" together$", "", words)
    return tuple(re.split(r", | and ", words))


def ways_of(words):
    """'by hand, laid in under 6 of navy' as what it says, kind by kind."""
    ways = {}
    while words:
        for kind, pattern in WAYS:
            match = pattern.match(words)
            if match and (match.end() == len(words) or words.startswith(", ", match.end())):
                ways[kind] = match
                words = words[match.end() + 2:]
                break
        else:
            raise Misread(f"not a way of a thread: {words}")
    return ways


class Line:
    """A run, or a fade as its runs: (strands, turns) one after the other; what each thread does in it."""

    def __init__(self, row, how, look=""):
        self.look = look
        self.number, self.count, self.thread, self.end = int(row[1]), row[2], row[3], row[4]
        self.runs, self.shares = [], []         # shares: strands, turns (None: all of theirs), ways by strand
        parts = how.split("; ") if how else []
        self.crosswrap = self.thread in ("chevron", "diamond", "spiral")
        if self.crosswrap:
            self.groups = parts
        elif self.thread != "gap":
            fade = re.fullmatch(rf"({TOGETHER}) to ({TOGETHER})", self.thread)
            if fade:
                self.read_fade(strands_of(fade[1]), strands_of(fade[2]), parts)
            else:
                self.read_band(strands_of(self.thread), parts)

    def read_fade(self, old, new, parts):
        while parts and STEP.match(parts[0]):
            step = STEP.match(parts.pop(0))
            for _ in range(int(step[5] or 1)):
                for word, turns in (step[1], step[2]), (step[3], step[4]):
                    if word:
                        self.runs.append((new if word == "in" else old, int(turns)))
        for strands in (old, new):
            named = " and ".join([", ".join(strands[:-1]), strands[-1]] if len(strands) > 1 else strands)
            named += " together" if len(strands) > 1 else ""
            said = [part[len(named):].strip() for part in parts if part == named or part.startswith(named + " ")]
            said = said[0] if said else ""
            said = said[5:] if said.startswith("each ") else said
            self.shares.append((strands, None, [ways_of(said)] * len(strands)))
        if sum(turns for _, turns in self.runs) != int(self.count):
            raise Misread(f"line {self.number}: the fade's steps are not its turns")

    def read_band(self, strands, parts):
        self.runs = [(strands, int(self.count))]
        while parts:
            part = parts.pop(0)
            share = re.match(r"(?:first|next) (\d+) ", part)
            part = part[share.end():] if share else part
            turns = int(share[1]) if share else None
            if len(strands) == 1 or part.startswith("each "):
                part = re.sub("^each ", "", part)
                ways = [ways_of(part)] * len(strands)
            else:
                own = [part] + [parts.pop(0) for _ in strands[1:]]
                if any(not words.startswith(name + " ") for name, words in zip(strands, own)):
                    raise Misread(f"line {self.number}: not a way for each strand: {own}")
                ways = [ways_of(words[len(name) + 1:]) for name, words in zip(strands, own)]
            self.shares.append((strands, turns, ways))


class Card:
    def __init__(self, heading):
        self.heading, self.layers, self.cuts = heading, [], []


def cards_in(text):
    """Cards with their layers, each a list of lines."""
    cards, lines, heading = [], text.splitlines(), None
    for number, line in enumerate(lines):
        if re.fullmatch("-+", line) and lines[number - 1]:
            heading = number - 1
            while heading and lines[heading].startswith(" "):
                heading -= 1
            cards.append(Card(lines[heading]))
        elif cards:
            read_line(cards[-1], line, lines[number + 1:])
    return cards


def read_line(card, line, rest):
    if line.startswith("Layer ") and not LAYER.match(line) and rest:     # what is too long goes on below
        line += " " + rest[0]
    cut, layer = CUT.match(line), LAYER.match(line)
    if cut:
        card.cuts.append(cut)
    elif layer:
        card.layers.append((layer, []))
    elif card.layers and ROW.match(line) and line.startswith(" "):
        how = []
        indent = len(line) - len(line.lstrip()) + 6
        for below in rest:
            if not below.startswith(" " * indent):
                break
            how.append(below.strip())
        row = ROW.match(line)
        if row[2] != "turns" and row[1].isdigit():
            measures = [number for number, words in enumerate(how) if words.startswith("measure")]
            how = how[:measures[0]] if measures else how
            looks = [number for number, words in enumerate(how) if LOOK.match(words)] or [len(how)]
            card.layers[-1][1].append(Line(row, " ".join(how[:looks[0]]), " ".join(how[looks[0]:])))


# --- what comes of it ---

Piece = collections.namedtuple("Piece", "name first end turns")


def wind(lines):
    """Follows the lines turn by turn; gives every piece, once each tag and end is known to lie under turns."""
    turns = []                                    # what each turn of the layer is of; None: a gap before the next
    gaps = set()
    for line in lines:
        if line.thread == "gap" or line.crosswrap:
            gaps.add(len(turns))
        for strands, count in line.runs:
            turns += [strands] * count
    running, pieces, at = {}, [], 0
    for line in lines:
        at = follow(line, at, turns, gaps, running, pieces)
    if running:
        raise Misread(f"goes on, but nowhere: {sorted(running)}")
    return sorted(pieces)


def follow(line, at, turns, gaps, running, pieces):
    end_of_line = at + sum(count for _, count in line.runs)
    own_at = at
    for strands, count, all_ways in line.shares:
        own = [turn for turn in range(at, end_of_line) if turns[turn] == strands]
        if count is not None:
            own = [turn for turn in own if own_at <= turn < own_at + count]
            own_at += count
        for name, ways in zip(strands, all_ways):
            one_piece(line, name, ways, own, turns, gaps, running, pieces)
    return end_of_line


def one_piece(line, name, ways, own, turns, gaps, running, pieces):
    first, end = own[0], own[-1] + 1
    fade = len(line.runs) > 1
    if "start" in ways or "laid in" in ways:
        piece = [name, first, None, 0]
        if "laid in" in ways:
            said = ways["laid in"]
            under = range(first - int(said[1] or said[3]), first)
            if under.start < 0 or any(gap in range(under.start + 1, first + 1) for gap in gaps) or \
                    said[1] and any(turns[turn] != strands_of(said[2]) for turn in under):
                raise Misread(f"line {line.number}: no such turns before {name}")
    else:
        source = int(ways["from"][1]) if "from" in ways else line.number - 1 if fade else None
        if (name, source) not in running:
            raise Misread(f"line {line.number}: {name} comes from nowhere")
        piece = running.pop((name, source))
    piece[3] += len(own)
    out = [kind for kind in ("to", "end", "pulled", "taken off") if kind in ways]
    if out == ["to"] or not out and fade:
        running[name, line.number] = piece
        target = int(ways["to"][1]) if out else line.number + 1
        if target <= line.number:
            raise Misread(f"line {line.number}: {name} goes back")
        return
    if len(out) != 1:
        raise Misread(f"line {line.number}: {name} goes out {out}")
    if out == ["end"] and (int(ways["end"][1]) < 1 or end + int(ways["end"][1]) > len(turns) or
                           any(gap in range(end, end + int(ways["end"][1])) for gap in gaps)):
        raise Misread(f"line {line.number}: no such turns after {name}")
    if out == ["pulled"] and (end < int(ways["pulled"][1]) or
                              any(gap in range(end - int(ways["pulled"][1]) + 1, end) for gap in gaps)):
        raise Misread(f"line {line.number}: no such turns over the loop for {name}")
    pieces.append(Piece(name, piece[1], end, piece[3]))


# --- against the plan ---

def up(number, digits):
    """As it is said: no less than it is, to so many digits."""
    return f"{math.ceil(number * 10 ** digits - 1e-9) / 10 ** digits:.{digits}f}".rstrip("0").rstrip(".") if digits else str(math.ceil(number - 1e-9))


def look_of(eye, turns, seen):
    """How a fade looks, from the plan's numbers: without where it is looked at from."""
    if seen["difference"] < eye["alike"]:
        return "its two shades look the same"
    off, jump, limit = up(100 * seen["departure"], 0), up(seen["jump"], 2), f"{eye['jump']:g}"
    first = seen["jump_turn"]
    where = ("before the fade's first turn" if first == 0 else "behind the fade's last turn" if first == turns
             else f"between the fade's turns {first} and {first + 1}")
    line = (f"a line shows {where}: the jump there is {jump}, above {limit}" if seen["jump"] > eye["jump"]
            else f"largest jump {jump}; above {limit} shows as a line")
    return f"off by at most {off} % of the way; {line}"


def check_looks(checks, name, eye, layer, lines):
    """Each fade's looks, those of equal ones once."""
    fades = [item for item in layer["items"] if item["kind"] == "fade" and item["turns"]]
    wanted, known = [], set()
    for item in fades:
        runs = layer["runs"][item["first_run"]:item["first_run"] + item["run_count"]]
        kind = json.dumps([[(run["role"], run["turns"]) for run in runs], item.get("seen")])
        wanted.append("" if "seen" not in item or kind in known else look_of(eye, item["turns"], item["seen"][0]))
        known.add(kind)
    got = [line.look.partition(": ")[2] for line in lines if " to " in line.thread]
    checks.check(got == wanted, f"{name}: how fades look", f"{got}\n{wanted}")
    froms = {line.look.partition(":")[0] for line in lines if line.look}
    checks.check(all(abs(float(words.split()[1]) * (25.4 if words.endswith("in") else 1000) - eye["far_mm"])
                     <= (12.7 if words.endswith("in") else 5) for words in froms), f"{name}: from where fades are looked at", froms)


def name_of(strand):
    return ("spacer " if strand["spacer"] else "") + strand["thread"]


def runs_of_plan(layer):
    return [(tuple(name_of(strand) for strand in run["strands"]), run["turns"]) for run in layer["runs"] if run["role"] != "gap"]


def near(words, mm, tool="rule"):
    """'9 mm', '23/64 in' as the plan's length, to the nearest that the tool is read to."""
    try:
        value, rounding = length(words, tool)
    except (Fault, AttributeError):
        return False
    return abs(value - mm) <= rounding


def check_layer(checks, name, plan_pieces, eye, layer, lines):
    check_looks(checks, name, eye, layer, lines)
    checks.check([each.number for each in lines] == list(range(1, len(lines) + 1)), f"{name}: lines are numbered")
    got = [run for line in lines for run in line.runs]
    checks.check(got == runs_of_plan(layer), f"{name}: every run", f"{got}\n{runs_of_plan(layer)}")
    ends = []
    for item in layer["items"]:
        runs = layer["runs"][item["first_run"]:item["first_run"] + item["run_count"]]
        ends += runs[-1:] if item["kind"] == "fade" else runs
    off = [(line.end, run["to_mm"]) for line, run in zip(lines, ends) if not near(line.end, run["to_mm"])]
    off += [(line.count, run) for line, run in zip(lines, ends)
            if line.thread == "gap" and not near(line.count, abs(run["end_mm"] - run["start_mm"]), "callipers")]
    checks.check(len(ends) == len(lines) and not off, f"{name}: every end", f"{len(ends)} {len(lines)} {off}")
    try:
        pieces = wind(lines)
    except Misread as fault:
        checks.check(False, f"{name}: can be followed", fault)
        return
    wanted = sorted(Piece(name_of(each), each["first_turn"], each["end_turn"], each["turns"]) for each in plan_pieces
                    if each["turns"])
    checks.check(pieces == wanted, f"{name}: every piece", f"{pieces}\n{wanted}")
    for line in lines:
        if line.crosswrap:
            check_strands(checks, name, layer["crosswrap"], line)


def check_strands(checks, name, crosswrap, line):
    got, groups = [], list(line.groups)
    groups[0] = groups[0].removeprefix("in this order: ")
    for group in groups:
        match = GROUP.match(group)
        if match:
            sides = SIDES[match[3]]
            got += [(match[2], sides[number % len(sides)]) for number in range(int(match[1]))]
    wanted = [(name_of(strand), strand["side"]) for strand in crosswrap["strands"]]
    checks.check(got == wanted, f"{name}: every strand", f"{got}\n{wanted}")
    checks.check(line.count.split()[0] == str(len(wanted) * crosswrap["starts"]), f"{name}: every pass", line.count)


def check_cuts(checks, name, pieces, cuts):
    """So many pieces of each thread, cut, on bobbins, or from a spool."""
    got, wanted = collections.Counter(), collections.Counter()
    for cut in cuts:
        if cut[2] == "of strong line":
            continue
        match = re.match(rf"({NAME}) (\d.*)$", cut[1])
        if not match:
            checks.check(False, f"{name}: a cut can be read", cut[0])
            continue
        for numbers in re.split(r", | and ", match[2]):
            first, _, last = numbers.partition(" to ")
            got[match[1], {"cut piece": "cut", "bobbin": "bobbin"}.get(cut[2], "spool")] += int(last or first) - int(first) + 1
    for piece in pieces:
        wanted[piece["thread"], "bobbin" if piece.get("bobbin") else "cut" if piece["by_hand"] else "spool"] += 1
    checks.check(got == wanted, f"{name}: what is cut", f"{got}\n{wanted}")


def check_rod(checks, name, eye, rod, cards):
    number = 0
    for card in cards:
        both = card.heading.endswith(", both feet")
        for place in rod["places"][number:number + 1 + both]:
            index = rod["places"].index(place)
            wound = [layer for layer in place["layers"] if layer["runs"]]
            checks.check(len(wound) == len(card.layers), f"{name}, {card.heading}: every layer")
            for layer, (heading, lines) in zip(wound, card.layers):
                layer_number = place["layers"].index(layer)
                checks.check(heading[1] == str(layer_number + 1) and heading[2] == str(len(place["layers"]))
                             and int(heading[4]) == layer["turns"], f"{name}, {card.heading}: layer {heading[1]}")
                checks.check(near(heading[5], abs(layer["end_mm"] - layer["start_mm"]), "callipers"),
                             f"{name}, {card.heading}: how wide layer {heading[1]} is", heading[0])
                checks.check(near(heading[6], abs(layer["start_mm"] - place["start_mm"])),
                             f"{name}, {card.heading}: where layer {heading[1]} begins", heading[0])
                pieces = [each for each in rod["pieces"] if each["place"] == index and each["layer"] == layer_number]
                check_layer(checks, f"{name}, {place['label']}, layer {layer_number + 1}", pieces, eye, layer, lines)
        own = [each for each in rod["pieces"] if number <= each["place"] < number + 1 + both]
        check_cuts(checks, f"{name}, {card.heading}", own, card.cuts)
        said = collections.Counter(thread for _, lines in card.layers for line in lines for strands, _, all_ways in line.shares
                                   for thread, ways in zip(strands, all_ways) if "bobbin" in ways)
        checks.check(said == collections.Counter(each["thread"] for each in own if each.get("bobbin")),
                     f"{name}, {card.heading}: what is on a bobbin", said)
        number += 1 + both
    checks.check(number == len(rod["places"]), f"{name}: every place", number)


def check_file(checks, path):
    answer = turnlay("sheet", "--depth", "cards", path)
    plan = turnlay("plan", "--format", "json", path)
    if answer.code or plan.code:
        return
    text = answer.out.decode()
    read_to(text)
    rods = re.split(r"\n\nRod: .*\n=+\n", text)[1:]
    data = json.loads(plan.out)
    checks.check(len(rods) == len(data["rods"]), f"{path.name}: every rod")
    for rod, text in zip(data["rods"], rods):
        try:
            cards = cards_in(text)
        except Misread as fault:
            checks.check(False, f"{path.name}: can be read", fault)
            continue
        check_rod(checks, path.name, data["eye"], rod, cards)


def main():
    checks = Checks()
    paths = [pathlib.Path(each).resolve() for each in sys.argv[1:]] or [
        path for folder in ("examples", "tests/golden", "tests/sheet") for path in sorted((ROOT / folder).glob("*.lay"))]
    for path in paths:
        check_file(checks, path)
    checks.finish()


main()
