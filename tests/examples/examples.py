#!/usr/bin/python3
"""Every example and every file of the standard library compiles; every page of it is well formed, always the same
bytes, and says the same as the others: the picture is measured back from its own coordinates."""
import csv
import io
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import unicodedata

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import PROGRAM, ROOT, Checks, in_turn, scratch, turnlay
from said import check_said
from schema import faults as schema_faults
from steps import check_steps
from sums import PAGES as ADDED, check_exact_sums
from sure import check_sure
from svg import Picture

PAGES = {
    "plan": ("plan",), "plan.json": ("plan", "--format", "json"), "plan.csv": ("plan", "--format", "csv"),
    "need": ("need",), "need.json": ("need", "--format", "json"), "need.csv": ("need", "--format", "csv"),
    "sheet": ("sheet",), "actions": ("sheet", "--depth", "actions"), "sheet.html": ("sheet", "--format", "html"), "sheet.json": ("sheet", "--format", "json"), "sheet.pdf": ("sheet", "--format", "pdf"),
    "findings.json": ("check", "--findings", "json"), "gather": ("gather",), "shades": ("shades",),
    "shades.json": ("shades", "--format", "json"), "shades.svg": ("shades", "--format", "svg"), "shades.png": ("shades", "--format", "png", "--width", "400"),
    "rod.png": ("draw", "--format", "png", "--width", "200"), "rod.svg": ("draw",), "presentation.svg": ("draw", "--view", "presentation"),
    "side.svg": ("draw", "--view", "side"), "unrolled.svg": ("draw", "--view", "unrolled"), "eye.svg": ("draw", "--view", "eye"),
}
if not os.access(f"{PROGRAM}-pdf", os.X_OK):
    del PAGES["sheet.pdf"], PAGES["rod.png"], PAGES["shades.png"]                # this build cannot write them
PICTURES = ("rod.svg", "presentation.svg", "side.svg", "unrolled.svg", "eye.svg")
COLUMNS = 80
NEAR = 0.01   # mm
# A line that ends between a number and its unit, or within a mixed number; and such a blank.
UNIT = r"(?:mm|cm|m|in(?! (?:the|all|stock)\b)|ft|yd|deg|turns?|o'clock|\d+/\d+)\b"
TORN = re.compile(rf"(?:[ (]|^)(?:[\d.,/]*\d)\n *{UNIT}.*", re.M)
LOOSE = re.compile(rf'<p class="(?:action|detail|where|running|clock|note|orientation)"[^>]*>[^<]*?\b(?:[\d.,/]*\d) {UNIT}[^<]*')


def columns(line):
    """Columns that a terminal takes for the line."""
    if line.isascii():
        return len(line)
    return sum(0 if unicodedata.combining(each) or unicodedata.category(each) in ("Mn", "Me", "Cf")
               else 2 if unicodedata.east_asian_width(each) in "WF" else 1 for each in line)


def check_lines(checks, name, text):
    long = [line for line in text.splitlines() if columns(line) > COLUMNS]
    checks.check(not long, f"{name}: no line is wider than {COLUMNS} columns", "\n".join(long[:5]))
    torn = TORN.search(re.sub(r"^(\[ \]  .*?)  \d+$", r"\1", text, flags=re.M))     # a row of the cut list ends with its step
    checks.check(not torn, f"{name}: no line ends between a number and its unit", torn and torn[0])
    checks.check(not any(line != line.rstrip() for line in text.splitlines()), f"{name}: no blanks at line ends")


def check_schema(checks, name, page, text):
    schema = page.removesuffix(".json")
    faults = schema_faults(ROOT / f"grammar/{schema}.schema.json", json.loads(text))
    checks.check(not faults, f"{name}: {page} follows its schema", "\n".join(faults))


def check_conditions(checks):
    """Each kind of action that a condition of the sheet's schema names is one: else that holds for none."""
    action = json.loads((ROOT / "grammar/sheet.schema.json").read_text())["$defs"]["action"]
    kinds = set(action["properties"]["kind"]["enum"])
    named = [kind for each in action["allOf"] for kind in each["if"]["properties"]["kind"]["enum"]]
    checks.check(named and set(named) <= kinds, "conditions of the sheet's schema are of kinds of actions", sorted(set(named) - kinds))


def check_csv(checks, name, page, text):
    rows = list(csv.reader(io.StringIO(text)))
    checks.check(rows and all(len(row) == len(rows[0]) for row in rows), f"{name}: {page} has one width",
                 {len(row) for row in rows})


def drawn_layers(rod):
    """Of each layer, in the order drawn: its runs, gaps among them."""
    for place in rod["places"]:
        for layer in place["layers"]:
            yield layer["runs"]


def check_layer(checks, name, page, runs, drawn):
    """The picture's run edges against the plan's, both from the layer's first edge on. A run may reach under the next
    one to close the seam, so a run's width is known from where the next one begins."""
    forward = runs[0]["end_mm"] >= runs[0]["start_mm"]
    edge = (lambda each: each[1]) if forward else (lambda each: -each[2])
    sign = 1 if forward else -1
    faults = []
    for run, each in zip(runs, drawn):
        wanted = sign * (run["start_mm"] - runs[0]["start_mm"])
        got = edge(each) - edge(drawn[0])
        if abs(wanted - got) > NEAR:
            faults.append(f"{each[0]}: begins at {got:.4f} mm in the picture, {wanted:.4f} mm in the plan")
    wanted = abs(runs[-1]["end_mm"] - runs[0]["start_mm"])
    got = max(each[2] for each in drawn) - min(each[1] for each in drawn)
    if abs(wanted - got) > NEAR:
        faults.append(f"the layer is {got:.4f} mm wide in the picture, {wanted:.4f} mm in the plan")
    checks.check(not faults, f"{name}: {page}: a layer's runs lie where the plan has them", "\n".join(faults))


def check_picture(checks, name, page, text, rod):
    picture = Picture(text)
    checks.check(picture.box == [0, 0, picture.width, picture.height], f"{name}: {page}: a unit of the picture is 1 mm",
                 f"{picture.width} x {picture.height} mm, viewBox {picture.box}")
    ids = picture.ids + picture.strands
    checks.check(len(set(ids)) == len(ids), f"{name}: {page}: no id stands twice")
    bundles = [layer["crosswrap"]["strands"] for place in rod["places"] for layer in place["layers"]
               if "crosswrap" in layer]
    least = sum(len({(strand["line"], strand["thread"], strand["spacer"]) for strand in strands}) for strands in bundles)
    checks.check(least <= len(picture.strands) <= sum(map(len, bundles)), f"{name}: {page}: every `strand` line is drawn",
                 f"{len(picture.strands)} drawn, of {least} lines at least")
    checks.check(not picture.outside, f"{name}: {page}: takes nothing from outside", picture.outside)
    layers = list(drawn_layers(rod))
    if not checks.check(len(picture.runs) == sum(map(len, layers)), f"{name}: {page}: every run is drawn",
                        f"{len(picture.runs)} drawn, {sum(map(len, layers))} planned"):
        return
    at = 0
    for runs in layers:
        if runs:
            check_layer(checks, name, page, runs, picture.runs[at:at + len(runs)])
        at += len(runs)


def check_pictures(checks, name, pages, rod):
    with scratch() as folder:
        paths = {page: pathlib.Path(folder) / page for page in pages}
        for page, path in paths.items():
            path.write_bytes(pages[page])
        lint = subprocess.run(["xmllint", "--noout", *paths.values()], capture_output=True, text=True)
    for page, path in paths.items():
        faulty = lint.returncode and (str(path) in lint.stderr or not any(str(each) in lint.stderr for each in paths.values()))
        checks.check(not faulty, f"{name}: {page} is well-formed XML", lint.stderr)
        if page in ("side.svg", "unrolled.svg"):
            check_picture(checks, name, page, pages[page].decode(), rod)


def check_sums(checks, name, pages):
    """One number, wherever it stands."""
    plan, need = json.loads(pages["plan.json"]), json.loads(pages["need.json"])
    layers = [layer for rod in plan["rods"] for place in rod["places"] for layer in place["layers"]]
    checks.check(sum(layer["turns"] for layer in layers) == plan["turns"] == need["turns"], f"{name}: turns add up")
    for page in ("plan.csv", "need.csv"):
        check_csv(checks, name, page, pages[page].decode())


def crosswraps(plan):
    """(rod, indices of place and layer, layer) of each."""
    for rod in plan["rods"]:
        for p, place in enumerate(rod["places"]):
            for index, layer in enumerate(place["layers"]):
                if "crosswrap" in layer:
                    yield rod, (p, index), layer


def check_set_out(checks, name, crosswrap):
    """Crossings at equal distances, lines evenly round, and one that faces up; a spiral has none."""
    lines, spacing = crosswrap["lines"], crosswrap["spacing_mm"]
    if crosswrap["kind"] == "spiral":
        checks.check(not lines and spacing is None, f"{name}: no lines")
        return
    steps = [abs(after - before) for line in lines for before, after in zip(line["marks_mm"], line["marks_mm"][1:])]
    checks.check(all(abs(step - spacing) < 3e-6 for step in steps), f"{name}: marks at the spacing", steps)
    clocks = sorted(line["clock_deg"] for line in lines)
    even = [abs(clock - i * 360 / len(clocks)) for i, clock in enumerate(clocks)]
    checks.check(max(even) < 3e-6, f"{name}: lines evenly round the blank, one at 0", clocks)
    facing = [len(line["marks_mm"]) for line in lines if line["clock_deg"] == 0]
    checks.check(facing == [crosswrap["crossings"]] or facing == [crosswrap["crossings"] - 1],
                 f"{name}: crossings on the line that faces up", facing)


def check_bundle(checks, name, crosswrap):
    """Strands touch: each lies beside the one it is laid against, on the outside of all before it."""
    low = high = None
    faults = []
    for index, strand in enumerate(crosswrap["strands"]):
        bottom, top = (strand["middle_mm"] + half * strand["width_mm"] / 2 for half in (-1, 1))
        if index == 0:
            low, high = bottom, top
            faults += [] if strand["side"] == "first" and strand["against"] is None else [index]
            continue
        edge = abs(bottom - high) if strand["side"] == "up" else abs(top - low)
        beside = crosswrap["strands"][strand["against"]]
        apart = abs(strand["middle_mm"] - beside["middle_mm"]) - (strand["width_mm"] + beside["width_mm"]) / 2
        faults += [index] if edge > 3e-6 or abs(apart) > 3e-6 else []
        low, high = min(low, bottom), max(high, top)
    checks.check(not faults, f"{name}: strands touch", faults)
    for end in crosswrap["ends"]:
        checks.check(abs(end["room_mm"] - end["left_mm"] - (high - low)) < 3e-6, f"{name}: room at the {end['end']}", end)
        lead = min(lead for lead in crosswrap["lead_mm"].values() if lead)
        angle = min(end["angle_out_deg"], end["angle_back_deg"] or 90)
        room = lead * math.cos(math.radians(angle)) / crosswrap["starts"]
        checks.check(abs(end["room_mm"] - room) < 3e-6, f"{name}: room by the angle at the {end['end']}", f"{room} {end}")


def check_passes(checks, name, crosswrap, pieces):
    """Every strand for all starts before the next strand; pieces wind them all, each once."""
    passes, starts = crosswrap["passes"], crosswrap["starts"]
    wanted = [(at // starts, at % starts) for at in range(len(crosswrap["strands"]) * starts)]
    checks.check([(one["strand"], one["start"]) for one in passes] == wanted, f"{name}: order of passes")
    at = 0
    for piece in pieces:
        own = passes[at:at + piece["passes"]["count"]]
        strands = [crosswrap["strands"][one["strand"]] for one in own]
        checks.check(piece["passes"]["first"] == at and own and all(
            (strand["thread"], strand["spacer"]) == (piece["thread"], piece["spacer"]) for strand in strands),
            f"{name}: the piece from pass {at} on", piece)
        wound = sum(one["out_mm"] + (one["back_mm"] or 0) for one in own)
        checks.check(wound - 1e-5 * len(own) <= piece["wound_mm"], f"{name}: thread of the piece from pass {at} on", piece)
        at += len(own)
    checks.check(at == len(passes), f"{name}: every pass has its piece", at)


def check_crosswraps(checks, name, pages):
    plan = json.loads(pages["plan.json"])
    rows = list(csv.DictReader(io.StringIO(pages["plan.csv"].decode())))
    planned = []
    for rod, at, layer in crosswraps(plan):
        crosswrap = layer["crosswrap"]
        where = f"{name}: {crosswrap['kind']} at {layer['start_mm']} mm"
        check_set_out(checks, where, crosswrap)
        check_bundle(checks, where, crosswrap)
        pieces = [piece for piece in rod["pieces"] if (piece["place"], piece["layer"]) == at and "passes" in piece]
        check_passes(checks, where, crosswrap, pieces)
        planned += [(rod["title"], str(at[1]), one["out_mm"], one["back_mm"], one["dwell_deg"])
                    for one in crosswrap["passes"]]
        words = rf"^  {crosswrap['kind']}\b"
        checks.check(re.search(words, pages["plan"].decode(), re.M), f"{where}: stands in the plan in words")
    said = [(row["rod"], row["layer"], float(row["out_mm"]), float(row["back_mm"]) if row["back_mm"] else None,
             float(row["dwell_deg"])) for row in rows if row["role"] == "pass"]
    checks.check(said == planned, f"{name}: the same passes in plan.csv and plan.json")
    checks.check(bool(planned) == ("pass" in rows[0] if rows else False), f"{name}: columns for passes only with crosswraps")
    if "sheet.html" in pages:
        check_legs_on_page(checks, name, pages["sheet.html"].decode(), plan)


def check_legs_on_page(checks, name, page, plan):
    """Each leg, alone on its card or one of its actions, counts its crossings, and lights up a group that is in the picture."""
    legs, leg = [], r'(?: data-turns="(\d+)" data-unit="crossing")? data-run="([^"]+)"(?: data-after="\d+")?>'
    for card in re.findall(r'<li class="card step leg"(.*?)(?=<li class="card|</section>)', page, re.S):
        legs += re.findall(f"<li{leg}", card) or re.findall(f'^ id="[^"]*"{leg}', card)
    wanted = []
    for _rod, _at, layer in crosswraps(plan):
        crosswrap = layer["crosswrap"]
        marks = sum(len(line["marks_mm"]) for line in crosswrap["lines"]) // crosswrap["starts"]
        wanted += [str(marks or "")] * len(crosswrap["passes"]) * (2 if crosswrap["lines"] else 1)
    checks.check([marks for marks, _ in legs] == wanted, f"{name}: every leg is on a card, with its crossings",
                 f"{len(legs)} on cards, {len(wanted)} legs")
    ids = set(re.findall(r'<g id="([^"]+)" class="run strands"', page))
    checks.check(all(run in ids for _, run in legs), f"{name}: every leg lights up its strands", legs[:3])


def made(path):
    """Every page twice: (page, first answer, second answer)."""
    return [(page, turnlay(*arguments, path), turnlay(*arguments, path)) for page, arguments in PAGES.items()]


def check_file(checks, path, answers):
    name = str(path.relative_to(ROOT))
    plan = next((first for page, first, _ in answers if page == "plan.json"), None)
    rods = json.loads(plan.out)["rods"] if plan and plan.code == 0 else []
    rodless = plan and plan.code == 1 and "(T024)" in plan.err.decode()
    pages = {}
    for page, first, second in answers:
        if rodless and page.split(".")[0] in ("plan", "sheet", "actions", "rod", "presentation", "side", "unrolled", "eye"):
            checks.check(first.code == 1 and not first.out, f"{name}: without a rod there is no {page}", first.words())
            continue
        if not checks.check(first.code == 0, f"{name}: {page} is made", first.words()):
            continue
        checks.check(first.out == second.out and first.err == second.err, f"{name}: {page} is the same bytes again")
        pages[page] = first.out
        if page.endswith(".json"):
            check_schema(checks, name, page, first.out)
    for page in ("plan", "need", "sheet", "actions", "shades"):
        if page in pages:
            check_lines(checks, f"{name}: {page}", pages[page].decode())
    if "sheet.json" in pages:
        printed = path.parent == ROOT / "examples"      # of others the text and the page are enough
        measured = "measured:" in path.read_text(encoding="utf-8")     # turns are not as wide as declared then, and surer
        check_steps(checks, name, json.loads(pages["sheet.json"]), json.loads(plan.out), measured)
        if not measured:
            check_sure(checks, name, json.loads(plan.out), json.loads(pages["sheet.json"]))
        check_said(checks, name, path, {page: text for page, text in pages.items() if page != "sheet.pdf" or printed})
    loose = LOOSE.search(pages["sheet.html"].decode()) if "sheet.html" in pages else None
    checks.check(not loose, f"{name}: on the page in HTML no line can end between a number and its unit", loose and loose[0])
    if rods:
        check_pictures(checks, name, {page: pages[page] for page in PICTURES if page in pages}, rods[0])
    if {"plan.json", "need.json", "plan.csv", "need.csv"} <= set(pages):
        check_sums(checks, name, pages)
        if plan.code == 0:
            check_crosswraps(checks, name, pages)
    return pages


def in_units(folder, path, units):
    """The pages of a copy whose bench prints in other units."""
    text = re.sub(r"(bench \{.*?units: )\w+", rf"\g<1>{units}", path.read_text(), count=1, flags=re.S)
    copy = pathlib.Path(folder) / f"{path.stem}-{units}.lay"
    copy.write_text(text)
    answers = [(page, turnlay(*PAGES[page], "-I", path.parent, copy)) for page in ("need", "plan", "sheet")]
    return {page: answer.out for page, answer in answers if answer.code == 0}


def check_added(checks, folder, made_of):
    """Every page of every file, and the pages for people in every unit."""
    counted = dict.fromkeys((*ADDED, "sheet"), 0)
    for path, own in made_of.items():
        name = str(path.relative_to(ROOT))
        for pages, which in [(own, name)] + [(in_units(folder, path, units), f"{name} in {units}")
                                             for units in ("mm", "cm", "in")]:
            for page in {"plan", "need", "sheet"} & pages.keys() if pages is not own else ():
                check_lines(checks, f"{which}: {page}", pages[page].decode())
            for page, sums in check_exact_sums(checks, which, pages):
                counted[page] += sums
    for page, sums in counted.items():
        checks.check(sums > 150, f"{page}: sums were found and added up", sums)


def check_readme_finding(checks):
    """The finding that the README shows is what turnlay says of its first pattern, the unit of its first band left out."""
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    pattern, shown = re.search(r"^```\n(edition 1\n.*?)^```$", page, re.M | re.S), re.search(r"^```\n(first\.lay:.*?)^```$", page, re.M | re.S)
    if not checks.check(pattern and shown, "the README has a pattern and a finding"):
        return
    with scratch() as folder:
        (pathlib.Path(folder) / "first.lay").write_text(pattern[1].replace("12 mm of", "12 of"), encoding="utf-8")
        said = turnlay("check", "first.lay", folder=folder).out.decode()
    checks.check(said.startswith(shown[1]), "the README's finding is as turnlay says it", said)


def main():
    checks = Checks()
    if sys.argv[1:]:                             # those alone
        for path in map(pathlib.Path, sys.argv[1:]):
            check_file(checks, path.resolve(), made(path.resolve()))
        checks.finish()
    check_conditions(checks)
    examples = sorted((ROOT / "examples").rglob("*.lay"))
    library = sorted((ROOT / "stdlib").rglob("*.lay"))
    checks.check(examples, "there are examples")
    checks.check(library, "there is a standard library")
    if "sheet.pdf" not in PAGES:
        checks.skip("sheet.pdf and side.png", "this build cannot write them; make deps installs what that needs")
    made_of = {path: check_file(checks, path, answers) for path, answers in zip(examples + library, in_turn(made, examples + library))}
    # The golden files, and the sheet's of crosswraps and equal wraps, show every feature of the language: their pictures and pages too.
    golden = [path for files in ("tests/golden/*.lay", "tests/sheet/crosswraps*.lay", "tests/sheet/equal.lay")
              for path in sorted(ROOT.glob(files)) if turnlay("check", path).code == 0]
    made_of |= {path: check_file(checks, path, answers) for path, answers in zip(golden, in_turn(made, golden))}
    drawn = turnlay("draw", "examples/whole_rod.lay", folder=ROOT).out
    checks.check(drawn == (ROOT / "examples/whole_rod.svg").read_bytes(), "the README's picture is as turnlay draws it")
    check_readme_finding(checks)
    with scratch() as folder:
        check_added(checks, folder, {path: made_of[path] for path in examples + golden})
    checks.finish()


if __name__ == "__main__":
    main()
