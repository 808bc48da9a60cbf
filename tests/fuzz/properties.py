#!/usr/bin/python3
"""What must hold of any program, over generated ones (generate.py):

   planned      all that the program lays is planned, and its sheet is proven by the replay (no error: so no T408)
   looks        turns are not packed or measured again within a few turns, and every stretch is packed at its end (tests/hands/looks.py)
   twice        compiled twice it gives the same bytes, on every page
   order        the order of declarations changes nothing of plan, needs and sheet
   mirrors      two mirrors, one in the other, leave what they hold as it is; in one it is wound back to front
   seen         what is said of a fade's looks is possible; back to front each fade looks the same, to all eyes
   singly       places in series, loops, cases and patterns are those written one by one
   round_the_blank  all places 100 deg farther round the blank: the same plan, crosswraps as much farther round
   scale        all lengths twice as long: the same turns at places twice as far, of threads twice as thick
   gather       gathered it gives the same plan
   kept         gathered with the turns that are chosen by eye it gives the same plan, and nothing is chosen any more but what is laid
                several times with several turns; what is chosen is no further off than by count, and changes no more often
   likes        rods that are like its rods, with threads of their own for its threads, are the same; by --swap, too
   mends        a mend that is offered as an edit, applied to the letter, takes its finding away and brings no error that it
                had not hidden; looked at where a builder's hand has slipped
   steps        no step of several actions is told in more than 160 letters, whatever threads are called; where labels have
                at most 9 letters, no step that tells of at most three pieces at once
   tools        what the sheet says of marks and widths is the nearest that rule and callipers are read to; what is not 0 is not 0
   holes        where a value is missing, or the unit of a length, there is a finding

The seed is printed; SEED= and N= repeat and lengthen it; with TIME= it goes on for so many seconds. ONLY= names some of them."""
import collections
import itertools
import json
import os
import pathlib
import random
import re
import sys
import time

sys.path[:0] = [str(pathlib.Path(__file__).resolve().parent.parent / folder) for folder in (".", "sheet")]
from checks import Checks, in_turn, turnlay
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "hands"))
from generate import MARKS, Program
from rebuild import mm_of
from looks import badly_looked_at

SEED = int(os.environ.get("SEED") or random.randrange(1_000_000))
COUNT = int(os.environ.get("N") or 60)
TIME = float(os.environ.get("TIME") or 0)
PLAN = ("plan", "--format", "json")
PAGES = (PLAN, ("plan",), ("plan", "--format", "csv"), ("need",), ("need", "--format", "json"), ("need", "--format", "csv"),
         ("sheet",), ("sheet", "--format", "html"), ("sheet", "--format", "json"), ("draw",), ("draw", "--view", "presentation", "--turn", "200"), ("draw", "--view", "side"), ("draw", "--view", "unrolled"), ("draw", "--view", "eye", "--eyes", "deuteranopia"), ("check", "--findings", "json"))
SAME_BUT_PLACES = (("need", "--format", "csv"), ("sheet",))
# Where in the file something stands, and what the file as a whole is, is no part of the plan.
PLACES = {"at", "line", "file", "column", "sources", "file_id", "findings", "errors", "warnings", "notes"}
# What is printed has this many mm, and a sum of many such has some more.
NEAR = 2e-6


def page(text, *verb):
    return turnlay(*verb, "-", given=text.encode())


def bare(value):
    """A plan without the places in the file."""
    if isinstance(value, dict):
        return {key: bare(each) for key, each in value.items() if key not in PLACES}
    return [bare(each) for each in value] if isinstance(value, list) else value


def plan_of(text):
    """The plan, or None where there are errors."""
    answer = page(text, *PLAN)
    return json.loads(answer.out) if answer.code == 0 else None


def layers_of(plan, feet=True):
    """feet: also those on guides' feet, which the generator turns by no mirror."""
    return [layer for rod in plan["rods"] for place in rod["places"] if feet or not place["guide"] for layer in place["layers"]]


def difference(one, other, way="plan"):
    """Where two plans differ first, in words; nothing if they do not."""
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        return next(filter(None, (difference(one[key], other[key], f"{way}.{key}") for key in one)), "")
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        return next(filter(None, (difference(a, b, f"{way}[{i}]") for i, (a, b) in enumerate(zip(one, other)))), "")
    return "" if one == other else f"{way}: {str(one)[:300]} and {str(other)[:300]}"


class Made:
    """A generated program with its plan."""

    def __init__(self, seed):
        self.seed = seed
        self.program = Program(seed)
        self.text = self.program.text()
        self.answer = page(self.text, *PLAN)
        self.plan = json.loads(self.answer.out) if self.answer.code == 0 else None


def planned(made):
    laid, written = [len(layer["items"]) for layer in layers_of(made.plan)], made.program.layers
    in_order = not re.search("order: (butt|tip)", made.text)
    if (laid, sorted(laid)) != (written if in_order else laid, sorted(written)):
        yield f"items of its layers: {laid} planned, {written} written"


def looks(made):
    sheet = json.loads(page(made.text, "sheet", "--format", "json").out)
    for rod in sheet["rods"]:
        yield from badly_looked_at(rod, sheet["bench"])


def twice(made):
    for verb in PAGES:
        if page(made.text, *verb).out != page(made.text, *verb).out:
            yield f"{' '.join(verb)} is another the second time"


def order(made):
    # Without `units` the first length decides, and that may be another.
    text = made.program.text(random.Random(made.seed))
    if "units:" not in text:
        return
    answer = page(text, *PLAN)
    if answer.code:
        yield f"{answer.words()}\n{text}"
        return
    differs = difference(bare(made.plan), bare(json.loads(answer.out)))
    if differs:
        yield f"{differs}\n{text}"
    for verb in SAME_BUT_PLACES:
        one, other = (words_of(each, verb) for each in (made.text, text))
        if one != other:
            yield f"{' '.join(verb)}: {[pair for pair in zip(one, other) if pair[0] != pair[1]][:2]}\n{text}"


def words_of(text, verb):
    """The page's words, but for the file id and lines of the file, which break its lines elsewhere."""
    return re.sub(r"file id\s+[0-9a-f-]+|line\s+\d+", "", page(text, *verb).out.decode()).split()


def wound(layer):
    """What is wound one after the other; runs of one thread that follow one another are one."""
    runs = [([strand["thread"] for strand in run["strands"]], run["turns"]) for run in layer["runs"]]
    return [(threads, sum(turns for _, turns in same)) for threads, same in itertools.groupby(runs, lambda run: run[0])]


def differs_from(made, text):
    """How another way to write the program differs in its plan, or what is said of it."""
    plan = plan_of(text)
    return difference(bare(made.plan), bare(plan)) if plan else page(text, *PLAN).words()


def mirrors(made):
    text = Program(made.seed, mirrors=True).text()
    differs = differs_from(made, text)
    if differs:
        yield f"{differs}\n{text}"
    # Turned round, a thread may come in too late to be held: not every such program can be wound. What is measured is
    # planned again for what comes after it, which is another thing then.
    if "measured:" in made.text:
        return
    text = Program(made.seed, turned=True).text()
    for one, other in zip(layers_of(made.plan, False), layers_of(plan_of(text) or {"rods": []}, False)):
        if "crosswrap" not in one and wound(one) != wound(other)[::-1]:
            yield f"{wound(one)} and turned round {wound(other)}\n{text}"
            return


def fades_of(layer):
    return [item for item in layer["items"] if "seen" in item]


def possible(item):
    return all(0 <= each["departure"] <= 1 and each["departure_turn"] <= item["turns"] and each["jump_turn"] <= item["turns"]
               and each["jump"] >= 0 and each["stripes"] >= 0 and each["difference"] >= 0 for each in item["seen"])


def looks_alike(one, other):
    """Two fades, of which one is the other back to front: of equal jumps and departures either may be named."""
    return one["turns"] == other["turns"] and all(
        abs(a[name] - b[name]) <= NEAR * max(1, a[name]) for a, b in zip(one["seen"], other["seen"])
        for name in ("difference", "departure", "jump", "stripes"))


def seen(made):
    for layer in layers_of(made.plan):
        for item in fades_of(layer):
            if not possible(item):
                yield f"{item}\n{made.text}"
    # What lies below a fade may lie elsewhere when all is turned round; measured turns are other ones.
    if "measured:" in made.text or "opacity" in made.text:
        return
    text = Program(made.seed, turned=True).text()
    for one, other in zip(layers_of(made.plan, False), layers_of(plan_of(text) or {"rods": []}, False)):
        fades, others = fades_of(one), fades_of(other)[::-1]
        if len(fades) != len(others) or not all(map(looks_alike, fades, others)):
            yield f"{fades} and turned round {others}\n{text}"
            return


def singly(made):
    text = Program(made.seed, singly=True).text()
    differs = differs_from(made, text)
    if differs:
        yield f"{differs}\n{made.text}\n-- singly\n{text}"


def farther_round(value, degrees):
    """A plan as it is where all stands so many degrees farther round the blank; names of places say so, too."""
    if isinstance(value, dict):
        return {key: round((each + degrees) % 360, 3) % 360 if key in ("angle_deg", "clock_deg") else farther_round(each, degrees)
                for key, each in value.items() if key != "label"}
    return [farther_round(each, degrees) for each in value] if isinstance(value, list) else value


def round_the_blank(made):
    text = Program(made.seed, farther=100).text()
    plan = plan_of(text)
    differs = difference(farther_round(bare(made.plan), 100), farther_round(bare(plan), 0)) if plan else page(text, *PLAN).words()
    if differs:
        yield f"{differs}\n{text}"


def measures(plan, scale):
    """What a plan has of lengths along the blank and of turns, lengths divided by the scale."""
    keep = ("start_mm", "end_mm", "from_mm", "to_mm", "start_diameter_mm", "end_diameter_mm")
    for layer in layers_of(plan):
        for run in layer["runs"]:
            yield [run["turns"], run["role"]], [run[key] / scale for key in keep] + [
                strand["wound_mm"] / scale for strand in run["strands"]]
        wrap = layer.get("crosswrap")
        if wrap:
            yield [wrap["crossings"], wrap["starts"], wrap["end_turns"], len(wrap["strands"])], [
                strand["middle_mm"] / scale for strand in wrap["strands"]]


def scale(made):
    texts = [Program(made.seed, scale=by, whole_bench=True).text() for by in (1, 2)]
    plans = [plan_of(text) for text in texts]
    if not all(plans):
        yield f"{[page(text, *PLAN).words() for text in texts]}\n{texts[1]}"
        return
    runs = [list(measures(plan, by)) for plan, by in zip(plans, (1, 2))]
    if len(runs[0]) != len(runs[1]):
        yield f"{len(runs[0])} and {len(runs[1])} runs\n{texts[1]}"
        return
    for number, (one, other) in enumerate(zip(*runs)):
        far = [(a, b) for a, b in zip(one[1], other[1]) if abs(a - b) > NEAR * max(1, abs(a) / 100)]
        if one[0] != other[0] or far:
            yield f"run {number}: {one[0]} and {other[0]}; {far[:2]}\n{texts[1]}"
            return


def gather(made):
    answer = page(made.text, "gather")
    gathered = answer.out.decode()
    again = plan_of(gathered) if answer.code == 0 else None
    differs = difference(bare(made.plan), bare(again)) if again else answer.words()
    if differs:
        yield f"{differs}\n{gathered}"
    elif again["file_id"] != made.plan["file_id"]:
        yield f"gathered it is another pattern\n{gathered}"


def chosen_of(plan):
    for rod in plan["rods"]:
        for layer in (layer for place in rod["places"] for layer in place["layers"]):
            yield from (item for item in layer["items"] if "chosen" in item)


def changes(item):
    """Of thread, from the band before to the band behind."""
    turns = [each for run in item["chosen"]["runs"] for each in "+" * run["in"] + "-" * run["out"]]
    return sum(a != b for a, b in zip(["-"] + turns, turns + ["+"])), len(turns)


def most_changes(turns):
    """Of a fade by count: even, or by steps."""
    steps = max([1] + [s for s in range(1, 23) if s * (s + 1) <= turns])
    made = [(k * k + turns) // (2 * turns) for k in range(turns + 1)]
    new = [False] + [after > before for before, after in zip(made, made[1:])] + [True]
    return max(2 * steps + 1, sum(a != b for a, b in zip(new, new[1:])))


def kept(made):
    for item in chosen_of(made.plan):
        chosen, (times, turns) = item["chosen"], changes(item)
        if (turns != item["turns"] or times > most_changes(turns)
                or not 0 < sum(run["in"] for run in chosen["runs"]) < turns):
            yield f"{turns} turns with {times} changes: {item}"
        most = 1 if "shortest: 2" in made.text else chosen["by_count"] + NEAR
        if not chosen["bound"] <= chosen["departure"] <= most:
            yield f"further off than by count: {item}"
    answer = page(made.text, "gather", "--kept")
    text = answer.out.decode()
    again = plan_of(text) if answer.code == 0 else None
    differs = difference(without_chosen(bare(made.plan)), without_chosen(bare(again))) if again else answer.words()
    if differs:
        yield f"{differs}\n{text}"
    elif any(chosen_of(again)) and "stay" not in answer.words():
        yield f"not kept, and not a word of it\n{text}"


def without_chosen(value):
    """Of a plan what is on the rod: a fade of several threads is kept as bands and fades of their own."""
    if isinstance(value, dict):
        return {key: without_chosen(each) for key, each in value.items() if key not in ("chosen", "items", "item", "shared_lengths")}
    return [without_chosen(each) for each in value] if isinstance(value, list) else value


THREAD = re.compile(r"^thread (\w+) (\{.*\})$", re.M)


def differs_by_names(made, text, *options):
    """From the program's plan, but for threads that have `own_` before their names."""
    answer = page(text, *PLAN, *options)
    if answer.code:
        return answer.words()
    return difference(bare(made.plan), bare(json.loads(answer.out.decode().replace('"own_', '"'))))


def likes(made):
    threads = THREAD.findall(made.text)
    own = "".join(f"thread own_{name} {options}\n" for name, options in threads)
    swaps = ", ".join(f"{name}: own_{name}" for name, _ in threads)
    about = re.search("^about .*\n", made.text, re.M)
    rods = "".join(f'rod "{title}" like "{title}" {{ {swaps} }}\n' for title in re.findall('^rod "([^"]*)"', made.text, re.M))
    text = f"edition 1\n{about[0] if about else ''}use \"sent\" {{\n{made.text}}}\n{own}{rods}"
    # Without `units` the file's own lengths decide.
    differs = differs_by_names(made, text) if "units:" in made.text else ""
    if differs:
        yield f"{differs}\n{text}"
    used = [name for name, _ in threads if re.search(rf"(?<!^thread )\b{name}\b", made.text, re.M)]
    met = [name for name in used if not page(made.text + own, "check", "--swap", f"{name}=own_{name}").code == 2]
    differs = differs_by_names(made, made.text + own, *(word for name in met for word in ("--swap", f"{name}=own_{name}")))
    if differs:
        yield f"by --swap: {differs}\n{made.text}{own}"


# --- steps ---

MOST_LETTERS, USUAL_LABEL, FEW_PIECES = 160, 9, 3


def long_steps(text):
    """Steps that are longer than promised."""
    answer = page(text, "sheet", "--format", "json")
    if answer.code:
        return
    for rod in json.loads(answer.out)["rods"]:
        usual = all(len(piece["label"]) <= USUAL_LABEL for piece in rod["pieces"])
        for step in (step for section in rod["sections"] for part in section["parts"] for step in part["steps"]):
            several = len(step["actions"]) > 1
            few = usual and all(len(action.get("pieces", [])) <= FEW_PIECES for action in step["actions"])
            if len(step["says"]) > MOST_LETTERS and (several or few):
                yield f"{len(step['says'])} letters: {step['says']}"


def steps(made):
    """Also with longer names; `navy` is a colour, too."""
    yield from long_steps(made.text)
    for letters in (6, 7, 12, 30):
        text = made.text
        for name in {name for name, _ in THREAD.findall(made.text)} - {"navy"}:
            text = re.sub(rf"\b{name}\b", (name + "_of_which_there_is_plenty_here")[:letters], text)
        yield from long_steps(text)


# --- tools ---

def is_read(words, mm, step):
    """Whether the length in words is mm to the nearest step; what is less than half a step may be said more finely."""
    said = mm_of(words)
    finer = 0 < abs(mm) < step / 2 and 0 < abs(said) < step / 2
    return abs(said - mm) <= step / 2 + 1e-5 and (finer or abs(said / step - round(said / step)) < 1e-6 and (said != 0 or abs(mm) < 1e-5))


def tools(made):
    answer = page(made.text, "sheet", "--format", "json")
    sheet = json.loads(answer.out) if answer.code == 0 else {"rods": []}
    for rod in sheet["rods"]:
        for action in (action for section in rod["sections"] for part in section["parts"] for step in part["steps"] for action in step["actions"]):
            where, width = re.fullmatch("(.*) from the mark", action.get("where", "")), re.search("it should be (.*)", action["says"])
            at_mark = action.get("where") == "at the mark" and abs(action["from_mark_mm"]) > sheet["bench"]["rule_mm"] / 2 + 1e-5
            if at_mark or where and not is_read(where[1], action["from_mark_mm"], sheet["bench"]["rule_mm"]):
                yield f"{action['says']}: {action['where']} is not {action['from_mark_mm']} mm"
            if width and not is_read(width[1], action["width_mm"], sheet["bench"]["callipers_mm"]):
                yield f"{action['says']}: it is {action['width_mm']} mm"


# --- findings ---

NUMBER = re.compile(r"(?<![\w.#])\d+(\.\d+)?(?![\w.])")
UNIT = re.compile(r"(?<=\d) (mm|cm|turns)\b")
WORD = re.compile(r"(?<![\w\"#.])[a-z]{4,}(?![\w\"])")


def faulty(text, chance):
    """The text with one slip of a builder's hand: a number many times too large or small, a unit forgotten or another, two
    letters of a word exchanged, a name for another."""
    def change(pattern, new):
        found = chance.choice(list(pattern.finditer(text)))
        return text[:found.start()] + new(found[0]) + text[found.end():]

    def exchanged(word):
        at = chance.randrange(len(word) - 1)
        return word[:at] + word[at + 1] + word[at] + word[at + 2:]

    return chance.choice([lambda: change(NUMBER, lambda number: chance.choice(["0", "1", "3", "1000", number + "0"])),
                          lambda: change(UNIT, lambda unit: chance.choice(["", " mm", " turns", " deg"])),
                          lambda: change(WORD, exchanged),
                          lambda: change(WORD, lambda _: chance.choice(WORD.findall(text)))])()


def findings_of(text):
    answer = page(text, "check", "--findings", "json")
    return json.loads(answer.out)["findings"] if answer.code in (0, 1) else None


def told(findings, text):
    """How often each is found, by its code, its message and the words of the text that it marks, wherever they stand."""
    found = collections.Counter()
    for each in findings:
        found[each["code"], each["message"], text.encode()[each["at"]["start"]:each["at"]["end"]]] += each["times"]
    return found


def applied(edit, text):
    source = text.encode()
    return (source[:edit["start"]] + edit["text"].encode() + source[edit["end"]:]).decode()


# The words of these mends are guesses at what was meant: what is written then may not fit where it stands.
GUESSES = {"T006", "T013", "T101", "T106", "T107", "T110", "T115", "T201"}


def uncovered(code, found):
    """Whether an error may have been hidden by that finding: what stands in a later chapter is looked for only where the
    earlier ones are well, and layouts only with all their values."""
    return code in GUESSES or found[:2] > code[:2] or found[:2] == code[:2] == "T3"


def mends(made):
    chance = random.Random(made.seed)
    for text in (made.text, *(faulty(made.text, chance) for _ in range(4))):
        before = findings_of(text)
        if before is None:
            yield f"neither plan nor findings\n{text}"
            continue
        known = {each["code"] for each in before}
        # Later mends go by what is left of what has errors.
        last = min((each["code"][:2] for each in before if each["severity"] == "error"), default="T9")
        for finding in [each for each in before if each.get("edit", {}).get("file") == "<input>" and each["code"][:2] <= last]:
            mended = applied(finding["edit"], text)
            code, after = finding["code"], findings_of(mended)
            new = [(each["code"], each["message"]) for each in after or () if each["severity"] == "error"
                   and each["code"] not in known and not uncovered(code, each["code"])]
            one = next(iter(told([finding], text)))
            gone = after is not None and (code == "T006" or told(after, mended)[one] < told(before, text)[one])
            if new or not gone:
                yield f"{code}, {finding['message']}, line {finding['at']['line']}: {finding['edit']}; then {new}\n{text}"


def holes(made):
    marked = made.program.text(keep_marks=True)
    values = list(re.finditer("\x02([A-Z])([^\x02\x03]*)\x03", marked))
    chance = random.Random(made.seed)
    for value in chance.sample(values, min(len(values), 6)):
        kind, words = value.groups()
        unit = re.fullmatch(r"([\d./ ]+) (mm|cm|m|in)", words)
        left = unit[1] if unit and kind == "L" and chance.random() < 0.5 else ""
        text = MARKS.sub("", marked[:value.start()] + left + marked[value.end():])
        answer = page(text, "check")
        if answer.code != 1:
            yield f"`{words}` is now `{left}`: {answer.words()}\n{text}"


PROPERTIES = {each.__name__: each for each in (planned, looks, twice, order, mirrors, seen, singly, round_the_blank, scale, gather, kept, likes, steps, tools, mends, holes)}


def faults_of(seed):
    """Whether it could be planned, and what does not hold, as (property, words)."""
    made = Made(seed)
    if not made.plan:
        return False, [("planned", f"{made.answer.words()}\n{made.text}")] if made.answer.code != 1 or "T408" in made.answer.words() else []
    chosen = os.environ.get("ONLY", "").split() or PROPERTIES
    return True, [(name, words) for name in chosen for words in PROPERTIES[name](made)]


def main():
    checks, begun, seed, good = Checks(), time.monotonic(), SEED, 0
    print(f"programs: SEED={SEED} N={COUNT}")
    while seed < SEED + COUNT or time.monotonic() - begun < TIME:
        seeds = range(seed, seed + min(20, COUNT if TIME else SEED + COUNT - seed))
        for number, (planned_whole, faults) in zip(seeds, in_turn(faults_of, seeds)):
            good += planned_whole
            checks.check(not faults, f"program of seed {number}: " + ", ".join(sorted({name for name, _ in faults})),
                         "\n".join(words for _, words in faults))
        seed = seeds.stop
    checks.check(good * 10 >= (seed - SEED) * 9, "nine of ten generated programs can be planned", f"{good} of {seed - SEED}")
    checks.finish()


main()
