#!/usr/bin/python3
"""Records of jobs. A job goes on from its record as from what was given by hand, on every page; what is no record, or belongs
elsewhere, is refused with a finding, wherever its schema refuses it and nowhere else; another job begins with what one teaches,
weighed by the inverse of the variances.
  record.py [SEED=1] [N=400]   random changes of a record: N of them
"""
import html
import json
import os
import pathlib
import random
import re
import shutil
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
import jsonschema

from checks import ROOT, Checks, in_turn, scratch, turnlay
from hostile import HOSTILE, changed, valid_elsewhere
from readings import measurings

JOB, NEXT = ROOT / "tests/record/job.lay", ROOT / "tests/record/next.lay"
SCHEMA = jsonschema.Draft202012Validator(json.loads((ROOT / "grammar/record.schema.json").read_text()))
REFUSALS = {"T701", "T702", "T703", "T704"}
SEED, N = int(os.environ.get("SEED") or 1), int(os.environ.get("N") or 400)
PDF = os.environ.get("PDF") != "no" and shutil.which("pdftotext")


def steps_of(sheet):
    """(rod, part, step) of all of them."""
    return [(number, part, step) for number, rod in enumerate(sheet["rods"]) for section in rod["sections"] for part in section["parts"]
            for step in part["steps"]]


def sheet_of(*arguments):
    answer = turnlay("sheet", "--format", "json", *arguments, JOB)
    assert answer.code == 0, answer.words()
    return json.loads(answer.out)


class Writer:
    """Records of the job, written into a folder."""

    def __init__(self, folder):
        self.folder, self.count, self.mark = folder, 0, sheet_of()["file_id"]

    def record(self, **members):
        return {"turnlay": "record 1", "pattern": self.mark, "title": "Merrow", **members}

    def write(self, record):
        self.count += 1
        path = self.folder / f"record_{self.count}.json"
        path.write_bytes(record if isinstance(record, bytes) else json.dumps(record, ensure_ascii=False).encode())
        return path


# --- the same as by hand ---

def drawn(random_of, count):
    """Widths as they are read one after the other, each at a step of the sheet that those before make: what --measured is given, and
    what a record has."""
    given, items, last = [], [], 0
    for _ in range(count):
        rest = [(step, width) for step, width in measurings(sheet_of(*given)) if step > last]
        if not rest:
            break
        last, width = random_of.choice(rest[:4])
        width = round(width * random_of.gauss(1, 0.01), 2)
        given += ["--measured", f"{last}={width}mm"]
        items.append({"step": last, "width": width})
    return given, items, last


def check_same(checks, writer):
    random_of = random.Random(SEED)
    for trial in range(4):
        given, items, last = drawn(random_of, 2 + trial)
        at = last + 1
        path = writer.write(writer.record(at=at, done=[[1, last]], happened=items))
        for form in ["text", "html"] + ["pdf"] * bool(PDF):
            by_hand = turnlay("sheet", "--format", form, *given, "--from", at, JOB)
            by_record = turnlay("sheet", "--format", form, "--record", path, JOB)
            checks.check(by_hand.code == 0 and by_hand.out == by_record.out, f"{form}: a record of {len(items)} widths gives the sheet that "
                         "--measured and --from give", by_record.words())
        whole, again = sheet_of(*given), sheet_of("--record", path)
        page = turnlay("sheet", "--format", "html", *given, JOB).out.decode()
        told = json.loads(html.unescape(re.search(r' data-happened="([^"]*)"', page)[1]))["happened"]
        read = re.findall(r'<span class="reading" hidden data-at="\d+ \d+ \d+" data-turn="(\d+)" data-width="([\d.]+)">', page)
        checks.check(told == whole["happened"] and [float(width) for _, width in read] == [item["width"] for item in items]
                     and all(int(turn) > 0 for turn, _ in read), "html: what happened, and where widths were measured", (told, read))
        checks.check(whole == again, "json: the same, and whole")
        begun = turnlay("sheet", "--record", path, "--from", 1, JOB)
        checks.check(begun.out == turnlay("sheet", *given, JOB).out, "--from says otherwise than the record, and is heeded")
        for verb in ("plan", "need", "check"):
            hand = turnlay(verb, *(given if verb != "check" else ["--record", path]), JOB)
            checks.check(hand.code == 0 and hand.out == turnlay(verb, "--record", path, JOB).out, f"{verb} by the record", hand.words())
        told = again["happened"]
        round_trip = writer.write(writer.record(at=at, happened=told))
        checks.check(not list(SCHEMA.iter_errors(json.loads(round_trip.read_text()))), "what a sheet says happened is as records have it")
        checks.check([{member: item[member] for member in ("step", "width")} for item in told] == items, "it is told as it was given")
        checks.check(sheet_of("--record", round_trip) == again, "and gives the same sheet again")
        number = items[0]["width"]
        for spelt in (f"{number}00000000000000000000000000", f"{round(number * 100)}E-2", f"0.000{round(number * 100):04}e+5" if number < 100 else f"{number}",
                      f"{round(number * 100)}{'0' * 30}e-32"):
            as_written = json.dumps(writer.record(happened=items)).replace(f'"width": {number}', f'"width": {spelt}', 1)
            checks.check(sheet_of("--record", writer.write(as_written.encode())) == sheet_of(*given), f"a width spelt {spelt}")
        begun = turnlay("sheet", "--from", 20, JOB).out
        for spelt in ("2e1", "0.02e+3", "200e-1"):
            as_written = json.dumps(writer.record(at=20)).replace('"at": 20', f'"at": {spelt}')
            checks.check(turnlay("sheet", "--record", writer.write(as_written.encode()), JOB).out == begun, f"a step spelt {spelt}")
        split = writer.write(writer.record(happened=items[:-1]))
        checks.check(sheet_of("--record", split, *given[-2:]) == again, "what is given beside a record comes after it")


def check_mishaps(checks, writer):
    """In order with widths; and counted on an earlier sheet, with its turns."""
    first = sheet_of()
    width = measurings(first)[0]
    wind = next(step for _, part, step in steps_of(first) if step["kind"] == "wind" and step["turns"] > 30 and step["number"] > width[0])
    kinds = ((wind["number"], "broke", 20, "splice"), (wind["number"], "broke", 20, "restart"), (wind["number"], "spool empty", 12, None),
             (wind["number"], "unwound", wind["layer_turn"] - 15, None))
    for number, kind, turns, way in kinds:
        words = f"{number} {kind} to turn {turns}" if kind == "unwound" else f"{number} {kind} after {turns} turns"
        given = ["--measured", f"{width[0]}={width[1]:.2f}mm", "--mishap", words + (f", {way}" if way else "")]
        items = [{"step": width[0], "width": round(width[1], 2)}, {"step": number, "mishap": kind, "turns": turns, **({"way": way} if way else {})}]
        path = writer.write(writer.record(happened=items))
        by_hand = turnlay("sheet", *given, JOB)
        checks.check(by_hand.code == 0 and by_hand.out == turnlay("sheet", "--record", path, JOB).out, f"{words}: from a record", by_hand.words())
        data = sheet_of("--record", path)
        told = data["happened"][1]
        checks.check({member: told[member] for member in items[1]} == items[1] and data == sheet_of(*given), f"{words}: it is told as it was given", told)
        checks.check(sheet_of("--record", writer.write(writer.record(happened=data["happened"]))) == data, f"{words}: and gives the same sheet again")
        split = writer.write(writer.record(at=2, happened=items[:1]))
        checks.check(turnlay("sheet", "--record", split, *given[2:], JOB).out == by_hand.out, f"{words}: beside a record it is later than where one stands by that")
        earlier = [items[0], {**items[1], "sheet": 0}]
        later = sheet_of("--record", writer.write(writer.record(happened=earlier)))
        checks.check(later["happened"][1]["sheet"] == 0 and later["rods"] == data["rods"], f"{words}: counted on the first sheet")
    drawn_back = next(step["number"] for _, _, step in steps_of(first) if step["kind"] == "draw" and step["number"] > width[0])
    near = {"step": width[0], "width": round(width[1], 2)}
    torn = sheet_of("--measured", f"{near['step']}={near['width']}mm", "--mishap", f"{drawn_back} loop torn")
    counted = writer.write(writer.record(happened=[near, {"step": drawn_back, "mishap": "loop torn", "sheet": 0}]))
    checks.check(sheet_of("--record", counted)["rods"] == torn["rods"], "a loop torn in a step behind others of the same turn, by the first sheet", drawn_back)
    got, finding = refused(writer.write(writer.record(happened=[near, {"step": 2, "mishap": "tag out", "sheet": 0}])))
    checks.check(got == "T704" and "step 2" in finding["message"], "a mishap in a step of no layer, by the first sheet", finding)
    more = round(width[1] * 1.02, 2)
    changed_sheet = sheet_of("--measured", f"{width[0]}={more}mm")
    number = wind["number"]
    place = part_of(first, number)
    begins = place[1] - wind["turns"]
    there = next(step for _, _, step in steps_of(changed_sheet) if part_of(changed_sheet, step["number"])[0] == place[0] and step["turns"]
                 and (step.get("layer_turn") or 0) >= begins + 20)
    turns = begins + 20 - (there["layer_turn"] - there["turns"])
    by_hand = sheet_of("--measured", f"{width[0]}={more}mm", "--mishap", f"{there['number']} broke after {turns} turns")
    items = [{"step": width[0], "width": more}, {"step": number, "mishap": "broke", "turns": 20, "sheet": 0}]
    checks.check(sheet_of("--record", writer.write(writer.record(happened=items)))["rods"] == by_hand["rods"],
                 "a mishap after so many turns of a step of the first sheet lies at the same turn of the layer", (number, there["number"], turns))
    for name, item in (("a step without turns", {"step": 1, "mishap": "broke", "turns": 3}), ("a step that is not there", {"step": 900, "mishap": "tag out"}),
                       ("more turns than it has", {"step": number, "mishap": "broke", "turns": 5000}), ("no loop", {"step": 2, "mishap": "loop torn"}),
                       ("not so many turns", {"step": number, "mishap": "unwound", "turns": 2147483647})):
        got, finding = refused(writer.write(writer.record(happened=[items[0], item])))
        checks.check(got == "T704" and finding["at"]["line"] == 1, f"a mishap in {name}", finding)


def part_of(sheet, number):
    """Where in the work a step is: its part, and the turns of its layer."""
    for rod, part, step in steps_of(sheet):
        if step["number"] == number:
            return (rod, part.get("place"), part.get("layer"), part["heading"]), step.get("layer_turn")
    return None


def check_made(checks, writer):
    """Turns of each thread up to a width, counted from the steps of the sheet."""
    sheet = sheet_of()
    for number, width in measurings(sheet):
        told = sheet_of("--measured", f"{number}={width:.2f}mm")["happened"][0]
        rod, part, _ = next(each for each in steps_of(sheet) if each[2]["number"] == number)
        pieces, made = sheet["rods"][rod]["pieces"], {}
        for step in part["steps"]:
            for action in step["actions"] if step["number"] <= number else ():
                for piece in action.get("pieces", ()) if action["kind"] == "wind" else ():
                    made[pieces[piece]["thread"]] = made.get(pieces[piece]["thread"], 0) + action["turns"]
        checks.check({row["thread"]: row["turns"] for row in told["made"]} == made, f"step {number}: it is of {made}", told)
        alone = sum(row["turns"] * row["nominal_turn"] for row in told["made"]) + told["gaps"]
        checks.check(abs(alone - width) < 0.01, f"step {number}: turns and gaps are as wide as they should be", (alone, width))
        more = sheet_of("--measured", f"{number}={width:.2f}mm after {action_before(part, number) + 1} turns sure")["happened"][0]
        counted = sum(row["turns"] for row in more["made"]) - sum(row["turns"] for row in told["made"])
        checks.check(counted == 1 and more["turns"] and more["sure"], f"step {number}: one turn more, as it was counted", more)


def action_before(part, number):
    """Turns of the band that is measured in that step."""
    return next(action["band_count"] for step in part["steps"] if step["number"] == number for action in step["actions"]
                if action["kind"] == "measure")


def check_other_sheets(checks, writer):
    """Steps that are counted on an earlier sheet are found by their place in the work."""
    sheet = sheet_of()
    found = measurings(sheet)
    near = [(step, round(width, 2)) for step, width in (found[1], found[9])]
    items = [{"step": step, "width": width, "sheet": 0} for step, width in near]
    first = sheet_of("--measured", f"{near[0][0]}={near[0][1]}mm")
    place = part_of(sheet, near[1][0])
    again = next(step["number"] for rod, part, step in steps_of(first) if part_of(first, step["number"]) == place and step["measure"])
    by_hand = sheet_of("--measured", f"{near[0][0]}={near[0][1]}mm", "--measured", f"{again}={near[1][1]}mm")
    stand, noted = near[1][0] + 1, near[0][0]
    path = writer.write(writer.record(happened=items, sheet=0, at=stand, notes=[{"step": noted, "text": "runs tight", "date": "in March"}]))
    by_record = sheet_of("--record", path)
    without = sheet_of("--record", writer.write(writer.record(happened=items)))
    checks.check(without["happened"][1].get("sheet") == 0 and without["rods"] == by_hand["rods"], "widths of one sheet, not planned again between")
    page = turnlay("sheet", "--format", "html", "--record", path, JOB).out.decode()
    opened = int(re.search(r'<body[^>]* data-from="(\d+)"', page)[1])
    checks.check(part_of(by_record, opened) == part_of(sheet, stand), "the page opens at the same place", opened)
    told = [step["number"] for _, _, step in steps_of(by_record) if "Noted, in March: runs tight" in step.get("note", "")]
    checks.check(len(told) == 1 and part_of(by_record, told[0]) == part_of(sheet, noted), "a note stands at the same place", told)


def begins(sheet):
    """Of each step, by its number: its part, and turns of its layer when it begins."""
    made, found = {}, {}
    for rod, part, step in steps_of(sheet):
        key = (rod, part.get("place"), part.get("layer"))
        found[step["number"]] = key, made.get(key, 0)
        made[key] = max(made.get(key, 0), step.get("layer_turn", 0))
    return found


def check_where_one_stands(checks, writer):
    """The step that comes next begins with the turns that are made: from no step of another sheet are turns left out, or
    made twice but for those of the step that they lie in."""
    sheet = sheet_of()
    old, (number, width) = begins(sheet), measurings(sheet)[1]
    for more in (0.8, -0.8):
        for stand in range(number + 1, len(old) + 1):
            path = writer.write(writer.record(happened=[{"step": number, "width": round(width + more, 2), "sure": True}], sheet=0, at=stand))
            again = sheet_of("--record", path)
            new, page = begins(again), turnlay("sheet", "--format", "html", "--record", path, JOB).out.decode()
            found = re.search(r'<body[^>]* data-from="(\d+)"', page)
            opened = int(found[1]) if found else 1
            (place, made), (there, begun) = old[stand], new[opened]
            next_there = min((turn for where, turn in new.values() if where == place and turn > begun), default=made + 1)
            checks.check(there == place and begun <= made and (begun == made or made < next_there), f"step {stand} of the sheet before, {more:+} mm", (old[stand], opened, new[opened]))


def check_all_steps(checks, writer):
    """Where nothing is planned otherwise every step of an earlier sheet is found as itself."""
    sheet = sheet_of()
    step, width = measurings(sheet)[0]
    numbers = [each["number"] for _, _, each in steps_of(sheet)]
    near = [{"step": step, "width": round(width, 3)}]
    again = sheet_of("--record", writer.write(writer.record(happened=near, sheet=0, notes=[{"step": n, "text": f"it is {n}."} for n in numbers])))
    wrong = [each["number"] for _, _, each in steps_of(again) if f"Noted: it is {each['number']}." not in each.get("note", "")]
    checks.check(len(steps_of(again)) == len(numbers) and not wrong, "every step of an earlier sheet is found as itself", wrong)
    last = turnlay("sheet", "--record", writer.write(writer.record(at=numbers[-1])), JOB)
    checks.check(last.out == turnlay("sheet", "--from", numbers[-1], JOB).out, "at the last step the sheet begins there")
    layers = json.loads(turnlay("sheet", "--format", "json", *(word for n in (5, 10, 43) for word in ("--measured", f"{n}=1mm")), ROOT / "examples/harbour.lay").out)
    wraps = [item["wrap"] for item in layers["happened"]]
    checks.check(len(set(wraps)) == len(wraps) == 3, "each layer is a wrap of its own", wraps)


def check_written(checks, writer):
    """Lots and notes on every page."""
    count = len(steps_of(sheet_of()))
    notes = [{"step": 12, "text": "slate <b>sits</b> tight"}, {"step": 5, "text": "packed \u202e twice", "date": "3 March"},
             {"step": count, "text": "done"}, {"step": 5, "text": "checked"}]
    path = writer.write(writer.record(lots=[{"thread": "navy", "lot": "2217-b"}], notes=notes))
    text = " ".join(turnlay("sheet", "--record", path, JOB).out.decode().split())
    checks.check("lot 2217-b" in text and "Noted, 3 March: packed � twice" in text and "Noted: slate <b>sits</b> tight" in text,
                 "text: lots and notes", text[:300])
    checks.check("navy code: ____" in text and "slate code and lot: ____" in text, "text: what is known has no line to write on", text[-300:])
    checks.check(re.search(r"navy 1 (cut piece|spool), lot 2217-b", text), "text: the lot stands in the cut list")
    actions = " ".join(turnlay("sheet", "--depth", "actions", "--record", path, JOB).out.decode().split())
    checks.check("Noted: slate <b>sits</b> tight" in actions, "text, action by action: notes")
    checks.check(0 < text.find("packed � twice") < text.find("Noted: checked") < text.find("<b>sits"), "two notes of a step come as they are written", text)
    page = turnlay("sheet", "--format", "html", "--record", path, JOB).out.decode()
    checks.check("Noted: slate &lt;b&gt;sits&lt;/b&gt; tight" in page and "lot 2217-b" in page and "<b>sits" not in page, "html: lots and notes")
    data = sheet_of("--record", path)
    told = {step["number"]: step["note"] for _, _, step in steps_of(data) if "Noted" in step.get("note", "")}
    checks.check(sorted(told) == [5, 12, count] and told[count].endswith("Noted: done"), "json: each note at its step", told)
    need = turnlay("need", "--record", path, JOB).out.decode()
    checks.check(need.count("lot: 2217-b") == 1, "need: the lot", need)
    rows = json.loads(turnlay("need", "--format", "json", "--record", path, JOB).out)["threads"]
    checks.check([row["thread"] for row in rows if row.get("lot") == "2217-b"] == ["navy"], "need as data: the lot", rows)
    done = writer.write(writer.record(at=count + 1))
    checks.check(turnlay("sheet", "--record", done, JOB).out == turnlay("sheet", JOB).out, "where all is done the sheet is whole")


def letters(words):
    """Without blanks and line ends, which paper sets otherwise."""
    return "".join(words.split())


def check_paper(checks, writer):
    """From a step on: the steps from there, what lies on the blank, every card."""
    if not PDF:
        checks.skip("paper from a step on", "there is no pdftotext, or no PDF is built")
        return
    sheet = sheet_of()
    steps = [step for _, part, step in steps_of(sheet) if "as" not in part]
    number = next(step["number"] for step in steps if step["measure"])
    width = next(action["width_mm"] for step in steps if step["number"] == number for action in step["actions"] if action["kind"] == "measure")
    path = writer.folder / "measured.pdf"
    turnlay("sheet", "--measured", f"{number}={width:.2f}mm", "-o", path, JOB)
    raw = letters(subprocess.run(["pdftotext", path, "-"], capture_output=True, check=True).stdout.decode())
    words = sheet_of("--measured", f"{number}={width:.2f}mm")["widths"]
    checks.check(len(words) == 1 and letters("What happened" + words[0]) in raw, "paper says where the work goes on", (words, raw[:600]))
    for at in (2, 6, 8, 12, len(steps_of(sheet))):
        path = writer.folder / f"from_{at}.pdf"
        answer = turnlay("sheet", "--from", at, "-o", path, JOB)
        if not checks.check(answer.code == 0, f"paper from step {at} on", answer.words()):
            continue
        text = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, check=True).stdout.decode()
        raw = letters(subprocess.run(["pdftotext", path, "-"], capture_output=True, check=True).stdout.decode())
        begins = turnlay("sheet", "--from", at, JOB).out.decode()
        standing = re.search(r"^(When step \d+ begins,.*?)\n\n", begins, re.M | re.S)[1]
        checks.check(f"From step {at} on" in text and letters(standing) in raw, f"paper from step {at} on: what lies on the blank", standing)
        wrong = [step["number"] for step in steps if (letters(step["says"]) in raw) != (step["number"] >= at)
                 and sum(other["says"] == step["says"] for other in steps) == 1]
        checks.check(not wrong, f"paper from step {at} on: these steps, and no others", (wrong, text[-3000:]))
        checks.check(all(letters(card["heading"]) in raw for rod in sheet["rods"] for card in rod["cards"]), f"paper from step {at} on: every card")


# --- refused ---

def refused(path, *more):
    """(code of the error, where) or what went wrong."""
    answer = turnlay("check", "--findings", "json", "--record", path, *more, JOB, limit=60)
    if answer.code not in (0, 1):
        return None, answer.words()
    errors = [finding for finding in answer.findings() if finding["severity"] == "error"]
    return (errors[0]["code"], errors[0]) if errors else ("", answer.findings())


def check_hostile(checks, writer):
    found = measurings(sheet_of())
    whole = writer.record(at=6, done=[[1, 5]], happened=[{"step": found[0][0], "width": round(found[0][1], 2)}])
    work = [(name, code, writer.write(make(whole))) for name, code, make in HOSTILE]

    def check_one(item):
        name, code, path = item
        got, finding = refused(path)
        checks.check(got == code, f"{name}: {code}", f"{got} {str(finding)[:500]}")
        if not code or not isinstance(finding, dict):
            return
        at = finding["at"]
        checks.check(at["file"] == str(path) and at["line"] >= 1 and at["end"] <= path.stat().st_size and len(finding["mend"].split()) > 2, f"{name}: where it is, and a way out", finding)
        other = turnlay("sheet", "--format", "html", "--record", path, JOB)
        checks.check(other.code == 1 and not other.out, f"{name}: no page is made of it", other.words())

    in_turn(check_one, work)
    for cut in range(len(json.dumps(whole))):
        got, finding = refused(writer.write(json.dumps(whole)[:cut].encode()))
        missing = "what stands here is no number" if json.dumps(whole)[:cut].endswith(".") else "its end is missing"
        checks.check(got == "T701" and finding["message"].endswith(missing), f"cut off after {cut} bytes", finding)
    for text, fault in (('"turnlay" "record 1"', "a colon is missing here"), ('"turnlay": "record 1" "at": 5', "a comma is missing here"),
                        ('"turnlay": "record 1", 5', "a name in quotes should stand here")):
        got, finding = refused(writer.write(f"{{{text}}}".encode()))
        checks.check(got == "T701" and finding["message"].endswith(fault), text, finding)
    rows = "".join(f"band 10 turns of {('navy', 'slate')[row % 2]} " for row in range(1000))
    long_job = writer.folder / "long.lay"
    long_job.write_text(re.sub(r"at 20 cm length.*\n.*at 40 cm", f"at 10 cm {{ {rows} }}\n    at 170 cm", JOB.read_text()).replace("100 cm: 6", "200 cm: 6"))
    long_sheet = json.loads(turnlay("sheet", "--format", "json", long_job).out)
    step, width = measurings(long_sheet)[0]
    for count, code in ((100, ""), (4000, "T904")):
        path = writer.write({**writer.record(happened=[{"step": step, "width": round(width, 2)}] * count), "pattern": long_sheet["file_id"]})
        answer = turnlay("check", "--findings", "json", "--record", path, long_job, limit=120)
        errors = {finding["code"] for finding in answer.findings() if finding["severity"] == "error"}
        checks.check(errors == ({code} if code else set()), f"{count} widths of a job of a thousand runs", answer.words() + str(errors))
    full = writer.write(writer.record(happened=[{"step": found[0][0], "width": round(found[0][1], 2)}] * 4096))
    beside = turnlay("plan", "--findings", "json", "--record", full, "--measured", f"{found[0][0]}={found[0][1]:.2f}mm", JOB)
    said = [(finding["code"], finding["message"]) for finding in json.loads(beside.err)["findings"] if finding["severity"] == "error"]
    checks.check(beside.code == 1 and said and said[0][0] == "T702" and "more than 4096" in said[0][1], "more beside a record than may happen", said)
    absent = turnlay("sheet", "--record", writer.folder / "absent.json", JOB)
    checks.check(absent.code == 2 and b"there is no record" in absent.err, "a record that is not there", absent.words())
    folder = turnlay("sheet", "--record", writer.folder, JOB)
    checks.check(folder.code == 2 and b"folder" in folder.err, "a record that is a folder", folder.words())
    twice = turnlay("sheet", "--record", work[0][2], "--record", work[0][2], JOB)
    checks.check(twice.code == 2 and b"twice" in twice.err, "two records", twice.words())


def check_by_schema(checks, writer):
    """A record is refused for what it is if and only if its schema refuses it, but for what no schema can say."""
    random_of = random.Random(SEED)
    found = measurings(sheet_of())
    made = [{"thread": "navy", "nominal_turn": 0.149254, "turns": 60}]
    whole = writer.record(at=6, sheet=1, done=[[1, 5], [7, 7]], lots=[{"thread": "navy", "lot": "1"}], notes=[{"step": 5, "text": "x", "date": "y"}],
                          happened=[{"step": found[0][0], "width": 8.96, "sure": True, "turns": 60, "made": made, "gaps": 0.5, "wrap": 1, "sheet": 0}])
    work = [(seed, changed(random_of, whole)) for seed in range(N)]

    def check_one(item):
        seed, record = item
        good = not list(SCHEMA.iter_errors(record))
        got, finding = refused(writer_path(writer, seed, record))
        if valid_elsewhere(record):
            holds = got in ("", "T702", "T703", "T704")
        else:
            holds = got in ("", "T703", "T704") if good else got == "T702"
        checks.check(holds, f"change {seed} of seed {SEED}: as its schema says", f"{good} {got} {str(finding)[:400]}\n{json.dumps(record)[:800]}")

    in_turn(check_one, work)


def writer_path(writer, seed, record):
    path = writer.folder / f"changed_{seed}.json"
    path.write_text(json.dumps(record))
    return path


def check_bytes(checks, writer):
    """Whatever bytes: a finding or a sheet, within a little time, and never a crash."""
    random_of = random.Random(SEED + 1)
    text = json.dumps(writer.record(at=6, happened=[{"step": 5, "width": 8.96}], notes=[{"step": 5, "text": "\u00e9\U0001f600"}])).encode()
    work = []
    for seed in range(N // 4):
        spoilt = bytearray(text)
        for _ in range(random_of.randint(1, 4)):
            at = random_of.randrange(len(spoilt))
            spoilt[at:at + random_of.randint(0, 3)] = bytes(random_of.choice([0, 34, 44, 58, 91, 92, 93, 123, 125, 0xff, 0xc3, 48, 57, 101, 45])
                                                            for _ in range(random_of.randint(0, 3)))
        path = writer.folder / f"bytes_{seed}.json"
        path.write_bytes(bytes(spoilt))
        work.append((seed, path))

    def check_one(item):
        seed, path = item
        got, finding = refused(path)
        checks.check(got == "" or got in REFUSALS, f"bytes {seed} of seed {SEED}", finding)

    in_turn(check_one, work)


# --- the next job ---

TURN = 10 / 67      # mm, of navy in both files
THREAD, VARIES, READING = 0.01, 0.01, 0.15      # its uncertainty where one count is given; the bench's, where left out


def weighed(wraps):
    """The share by which navy's turn is wider than written: prior and wraps by the inverse of their variances, and a wrap's own widths
    by those of their readings (JCGM 100:2008 5.1.2; from memory)."""
    weights, sum_of = [1 / THREAD ** 2], 0
    for widths in wraps:
        inner = [((READING / (turns * TURN)) ** 2, width / (turns * TURN) - 1) for turns, width in widths]
        precision = sum(1 / variance for variance, _ in inner)
        off = sum(value / variance for variance, value in inner) / precision
        weights.append(1 / (VARIES ** 2 + 1 / precision))
        sum_of += weights[-1] * off
    return sum_of / sum(weights), (1 / sum(weights)) ** 0.5


def learned(path, *more):
    """(width of a turn of navy in the next job's plan, findings, what its sheet says of navy)"""
    plan = turnlay("plan", "--format", "json", "--learned", path, *more, NEXT)
    if plan.code:
        return None, plan.words(), ""
    data = json.loads(plan.out)
    run = data["rods"][0]["places"][0]["layers"][0]["runs"][0]
    sheet = json.loads(turnlay("sheet", "--format", "json", "--learned", path, NEXT).out)
    note = next(row["note"] for row in sheet["threads"] if row["thread"] == "navy")
    return (run["to_mm"] - run["from_mm"]) / run["turns"], data["findings"], note


def navy(turns, width, wrap, **more):
    return {"step": 5, "width": width, "made": [{"thread": "navy", "nominal_turn": round(TURN, 6), "turns": turns}], "wrap": wrap, **more}


def check_next(checks, writer):
    for wraps in ([[(60, 9.1)]], [[(300, 45.6)], [(60, 9.05)]], [[(60, 9.0), (120, 18.2), (250, 37.9)], [(400, 60.4)], [(80, 11.8), (90, 13.3)]]):
        items = [navy(turns, width, number + 1) for number, widths in enumerate(wraps) for turns, width in widths]
        off, uncertainty = weighed(wraps)
        path = writer.write(writer.record(happened=items))
        turn, findings, note = learned(path)
        checks.check(turn is not None and abs(turn - TURN * (1 + off)) < 2e-8, f"{wraps}: weighed by the inverse of the variances",
                     f"{turn} and not {TURN * (1 + off)}\n{findings}")
        said = re.search(r"; ([\d.]+) mm ± ([\d.]+) mm, by the record of Merrow", note)
        checks.check(said and abs(float(said[1]) - TURN * (1 + off)) < 0.000501 and abs(float(said[2]) - TURN * uncertainty) < 0.000501,
                     f"{wraps}: the sheet says what it begins with, and whose record it is", note)
    plain = learned(writer.write(writer.record(happened=[navy(300, 300 * TURN, 1)])))
    checks.check(abs(plain[0] - TURN) < 2e-8, "a width that is as written changes nothing", plain)
    off = weighed([[(300, 45.6)]])[0]
    for name, more in (("with gaps between", navy(300, 46.6, 1, gaps=1.0)), ("one that was not heeded then either", None)):
        items = [more] if more else [navy(300, 45.6, 1), navy(300, 60.0, 2)]
        turn, findings, _ = learned(writer.write(writer.record(happened=items)))
        checks.check(abs(turn - TURN * (1 + off)) < 2e-8, name, findings)
    sure, _, _ = learned(writer.write(writer.record(happened=[navy(300, 60.0, 1, sure=True)])))
    checks.check(abs(sure - TURN * (1 + weighed([[(300, 60.0)]])[0])) < 2e-8, "but that was sure", sure)
    reverse = {**navy(60, 18.0, 4), "made": [{"thread": "slate", "nominal_turn": 0.151515, "turns": 60}, navy(60, 18.0, 4)["made"][0]]}
    both = navy(60, 18.0, 1)
    both["made"].append({"thread": "slate", "nominal_turn": 0.151515, "turns": 60})
    foreign = {**navy(60, 9.0, 3), "made": [{"thread": "plum", "nominal_turn": 0.15, "turns": 60}]}
    turn, findings, _ = learned(writer.write(writer.record(happened=[navy(300, 45.6, 2), both, both, reverse, foreign, foreign])))
    told = sorted(finding["message"].split(":")[0] for finding in findings if finding["code"] == "T705")
    checks.check(abs(turn - TURN * (1 + off)) < 2e-8 and told == ["plum", "slate"], "others are told once, and left", findings)
    for thread in re.findall(r"^thread (\w+)", NEXT.read_text(), re.M):
        thick = {**navy(60, 30.0, 1), "made": [{"thread": thread, "nominal_turn": 0.5, "turns": 60}]}
        said = [finding for finding in learned(writer.write(writer.record(happened=[thick])))[1] if finding["code"] == "T705"]
        checks.check(len(said) == 1 and said[0]["message"].startswith(thread) and "took 0.500 mm there: that is another thread" in said[0]["message"]
                     and said[0].get("mend") == "if it is the same thread, call it the same and count its turns again; else leave it so",
                     f"{thread} of another thickness", said)
    for name, happened in (("nothing happened", []), ("only others", [foreign]), ("nothing was counted", [{"step": 5, "width": 9.0}])):
        turn, findings, note = learned(writer.write(writer.record(happened=happened)))
        checks.check(abs(turn - TURN) < 2e-8 and "T706" in {finding["code"] for finding in findings} and "record" not in note,
                     f"{name}: nothing is learned, and that is said", findings)
    named = json.dumps(writer.record(happened=[navy(300, 45.6, 1)])).replace("Merrow", "\\ud83d\\ude00 \\u00e9\\u20ac")
    checks.check("by the record of 😀 é€" in learned(writer.write(named.encode()))[2], "a title that is spelt in escapes")
    path = writer.write(writer.record(happened=[navy(300, 45.6, 1)]))
    first = json.loads(turnlay("sheet", "--format", "json", "--learned", path, NEXT).out)
    step, width = measurings(first)[0]
    again = json.loads(turnlay("sheet", "--format", "json", "--learned", path, "--measured", f"{step}={width * 1.004:.2f}mm", NEXT).out)
    note = next(row["note"] for row in again["threads"] if row["thread"] == "navy")
    checks.check("by what was measured and the record of Merrow" in note, "then widths of its own are weighed with that", note)
    for name, code, make in HOSTILE:
        if code in ("T701", "T702"):
            answer = turnlay("check", "--findings", "json", "--learned", writer.write(make(writer.record(at=6, done=[[1, 5]], happened=[{"step": 5, "width": 9}]))), NEXT)
            checks.check(answer.code == 1 and code in answer.codes(), f"{name}: refused to learn from, too", answer.words())
    foreign_mark = {**writer.record(happened=[navy(300, 45.6, 1)]), "pattern": "0000-0000-0000"}
    checks.check(learned(writer.write(foreign_mark))[0], "it may be of any pattern")


def main():
    checks = Checks()
    with scratch() as folder:
        writer = Writer(pathlib.Path(folder))
        for check in (check_same, check_mishaps, check_made, check_other_sheets, check_where_one_stands, check_all_steps, check_written, check_paper, check_hostile, check_by_schema, check_bytes, check_next):
            check(checks, writer)
    checks.finish()


main()
