"""Wraps that a bench sheet tells as an equal one, by a table with a row for each step: from the rows alone, and the steps that
they name, every step is put together again as if it had been told at length."""
import json
import re

from checks import turnlay

INTRO = re.compile(r"The same steps as (\d+) to (\d+), of .+?, with these counts\.(?: Take (.+?)\.)?"
                   r"( Worked the other way: tip there is butt here, left is right, and the reverse\.)?"
                   r" It is safe to stop where a row says so\.$")
LABELS = re.compile(r"(\S+(?: \(.+?\))?) (\d+)(?: (?:and|to) \d+)? for \1 (\d+)(?: (and|to) (\d+))?$")
LENGTH = r"at the mark|-?\d[\d./ -]*? (?:mm|cm|in)(?: \(-?[\d.]+ in\))?"
ROW = re.compile(rf"\[ \] +(\d+) +(\d+)(?:  (\S.*?))?(?:  +(\d+(?: \+ \d+)*)(?=  +\d+  ))?(?:  +(\d+))?(?:  +({LENGTH}))?(?:  +(stop))?$")
SIDES = {"tip": "butt", "butt": "tip", "left": "right", "right": "left"}


class Renaming:
    """What the words above a table say of the steps it goes by."""

    def __init__(self, words):
        found = INTRO.match(words)
        assert found, words
        self.first, self.last = int(found[1]), int(found[2])
        self.labels, self.guides, self.other_way = {}, None, bool(found[4])
        for each in re.split(r", (?=.+? for )", found[3] or ""):
            pieces = LABELS.match(each)
            if pieces:
                name, here, there, _, end = pieces.groups()
                for number in range(int(there), int(end or there) + 1):
                    self.labels[f"{name} {number}"] = f"{name} {number - int(there) + int(here)}"
            elif each:
                self.guides = each.split(" for ")

    def words(self, text):
        """Of the step that is told at length, as they read here."""
        if self.labels:
            known = sorted(self.labels, key=len, reverse=True)
            text = re.sub(rf"(?<!\w)(?:{'|'.join(map(re.escape, known))})(?!\d)", lambda found: self.labels[found[0]], text)
        if self.other_way:
            text = re.sub(r"\b(?:tip|butt|left|right)\b", lambda found: SIDES[found[0]], text)
        if self.guides:
            text = text.replace(f"this foot of {self.guides[1]}", f"this foot of {self.guides[0]}")
        return text


class Row:
    """A row's cells, and what is written below it."""

    def __init__(self, line):
        found = ROW.fullmatch(line)
        assert found, line
        self.number, self.there = int(found[1]), int(found[2])
        self.thread, _, self.hour = (found[3] or "").partition(" at ")
        self.turns = [int(each) for each in (found[4] or "").split(" + ") if each]
        self.layer, self.at, self.stop = found[5], found[6], bool(found[7])
        self.below = []

    def read_below(self):
        """A thread that is too wide for its cell stands below it."""
        self.text = " ".join(line.strip() for line in self.below)
        wide = re.match(r"of (\S.*? \d+)(?: at (\d+ o'clock))?(?=$| [A-Z]| here:| \d+ o'clock| should be | measured:| --)", self.text)
        if wide and not self.thread:
            self.thread, self.hour, self.text = wide[1], wide[2] or "", self.text[wide.end():]

    def own(self):
        """Its own words, by what they are."""
        text, own = self.text, {}
        for name, pattern in (("stop", r" ?-- (.*) --$"), ("measured", r" ?(?:should be (.+?), is|measured:) _+ \S+$"), ("caution", r" ?(Caution: .*)$"),
                              ("says", r"here: (.*?)(?=$| \d+ o'clock|(?<=[a-z\d]) [A-Z])"), ("clock", r"^ ?(\d+ o'clock(?:, (?:this ring|the rod's line|the line at \S+ deg) at 12)?(?:; then \d+ o'clock)*)"),
                              ("note", r"^ ?(.+)$")):
            found = re.search(pattern, text)
            if found:
                own[name] = found[1] or ""
                text = text[:found.start()] + text[found.end():]
        return own

    def says(self, there, renaming):
        """The sentence of the other step, with this row's turns and its width; or its own."""
        own = self.own()
        return own["says"] if "says" in own else self.as_there(there, renaming)

    def as_there(self, there, renaming):
        own, turns = self.own(), iter(self.turns)
        says = re.sub(r"\b([Ww]ind|[Ww]rap) \d+ turns?\b", lambda found: f"{found[1]} {self.take(turns)}", renaming.words(there))
        assert not list(turns), f"{self.number}: turns are left of {self.turns}: {says}"
        return re.sub(r"should be [^;]+", f"should be {own.get('measured', '')}", says)

    @staticmethod
    def take(turns):
        count = next(turns, None)
        return "no turns" if count is None else f"{count} turn{'s' * (count != 1)}"


class Table:
    """The table of a part, as its lines stand on the page."""

    def __init__(self, lines):
        start = next(at for at, line in enumerate(lines) if re.fullmatch(r" +as  thread .*ends at", line))
        self.renaming, self.rows = Renaming(" ".join(lines[:start])), []
        for line in lines[start + 1:]:
            if line.startswith("[ ]"):
                self.rows.append(Row(line))
            else:
                self.rows[-1].below.append(line)
        for row in self.rows:
            row.read_below()


def is_table(lines):
    return bool(lines) and lines[0].startswith("The same steps as ")


def actions_of(rod, part):
    """What is done: kinds, threads and which of the wrap's pieces, with which hands, step by step."""
    first = min((piece for step in part["steps"] for action in step["actions"] for piece in action.get("pieces", ())), default=0)
    return tuple((step["kind"], *((action["kind"], *((piece - first, rod["pieces"][piece]["thread"], rod["pieces"][piece]["spacer"])
                                                     for piece in action.get("pieces", ())),
                                   action.get("by_hand"), action.get("thing"), action.get("final"), action["hands"],
                                   action["after"]["fingers"], action["after"]["blank_held"]) for action in step["actions"]))
                 for step in part["steps"])


def equal_faults(rod):
    """Wraps of a section that are equal to one before and are not told as it, and those that are told as one that they do not equal."""
    faults = []
    for section in rod["sections"]:
        first = {}
        for part in section["parts"]:
            turns = "layer" in part and "passes" in rod["places"][part["place"]]["layers"][part["layer"]]
            if not turns or rod["places"][part["place"]]["layers"][part["layer"]]["crosswrap"]:
                continue
            there = first.setdefault(actions_of(rod, part), part)
            named = part["steps"][0]["as"]["step"] if "as" in part else None
            if named != (None if there is part else there["steps"][0]["number"]):
                faults.append(f"{part['heading']}: as {named}")
    return faults


def compare_rows(checks, name, sheet, file):
    """Each step of a table, put together again, against the sheet as data; and each wrap that has an equal one before it is told so."""
    data = json.loads(turnlay("sheet", "--format", "json", file).out)
    faults = [fault for rod in data["rods"] for fault in equal_faults(rod)]
    checks.check(not faults, f"{name}: equal wraps are told once", "\n".join(faults))
    parts = [{**part, "rod": at} for at, rod in enumerate(data["rods"]) for section in rod["sections"] for part in section["parts"]]
    tables = [part["table"] for rod in sheet.rods for part in rod["parts"] if part["table"]]
    wanted = [part for part in parts if "as" in part]
    if not checks.check([table.rows[0].number for table in tables] == [part["steps"][0]["number"] for part in wanted],
                        f"{name}: wraps that are told as an equal one"):
        return
    steps = {step["number"]: step for part in parts for step in part["steps"]}
    for table, part in zip(tables, wanted):
        renaming = table.renaming
        rows = [(row.number, row.there) for row in table.rows]
        checks.check(rows == list(zip([step["number"] for step in part["steps"]], range(renaming.first, renaming.last + 1), strict=True)),
                     f"{name}: steps {rows[0][0]} to {rows[-1][0]}, one by one", rows)
        guides = [data["rods"][part["rod"]]["places"][place].get("guide") or "" for place in (part["place"], part["as"]["place"])]
        named = any("this foot of" in step["says"] for step in part["steps"]) and guides[0] != guides[1]
        checks.check(renaming.guides == (guides if named else renaming.guides), f"{name}: {guides[0]} for {guides[1]}", renaming.guides)
        faults = [fault for row, step in zip(table.rows, part["steps"]) for fault in row_faults(row, step, steps[row.there], renaming)]
        checks.check(not faults, f"{name}: steps {rows[0][0]} to {rows[-1][0]} from their rows", "\n".join(faults[:6]))


def row_faults(row, step, there, renaming):
    """What of a step cannot be read from its row and the step that it names."""
    own, faults = row.own(), []

    def same(what, read, wanted):
        if read != wanted:
            faults.append(f"{row.number}, {what}: read {read!r}, wanted {wanted!r}")

    same("says", row.says(there["says"], renaming), step["says"])
    same("thread", row.thread, step.get("thread", ""))
    same("turns", sum(row.turns), step["turns"])
    clock = re.sub("^[^,;]*", row.hour, there.get("clock", "")) if row.hour else there.get("clock", "")
    same("clock", own.get("clock", clock), step.get("clock", ""))
    if "clock" in own and row.hour:
        faults.append(f"{row.number}: its clock is needless")
    if "says" in own and "measured" not in own and row.as_there(there["says"], renaming) == step["says"]:
        faults.append(f"{row.number}: its own sentence is needless")
    same("caution", own.get("caution", ""), step.get("caution", ""))
    same("measured", "measured" in own, step["measure"])
    if "stop" not in own:
        same("stop", renaming.words(there.get("stop", "")) if row.stop else "", step.get("stop", ""))
    else:
        same("stop", own["stop"], step["stop"])
        same("stop", row.stop, False)
    count = [action["layer_count"] for action in step["actions"] if action["kind"] == "wind"] or [step["actions"][0].get("layer_count", 0)]
    same("in the layer", row.layer, str(count[-1]) if "progress" in step else None)
    same("ends at", f"{row.at} from the mark".replace("at the mark from the mark", "at the mark") if row.at else "", step.get("where", ""))
    same("note", own.get("note", ""), step["as"].get("note", ""))
    told = renaming.words(" ".join([there.get("note", "")] + [action.get("detail", "") for action in there["actions"]])) + " " + own.get("note", "")
    faults += [f"{row.number}, note: {each}" for each in re.split(r"(?<=\.) ", step.get("note", "")) if each not in told]
    own_note = own.get("note", "")
    faults += [f"{row.number}, needless: {own_note}"] * bool(own_note and own_note in renaming.words(there.get("note", "")))
    return faults
