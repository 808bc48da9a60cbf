#!/usr/bin/python3
"""Every example and every file of the standard library compiles; every page of it is well formed, always the same
bytes, and says the same as the others: the picture is measured back from its own coordinates."""
import csv
import io
import json
import pathlib
import subprocess
import sys
import unicodedata

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, in_turn, scratch, turnlay
from svg import Picture

PAGES = {
    "plan": ("plan",), "plan.json": ("plan", "--format", "json"), "plan.csv": ("plan", "--format", "csv"),
    "need": ("need",), "need.json": ("need", "--format", "json"), "need.csv": ("need", "--format", "csv"),
    "sheet": ("sheet",), "sheet.html": ("sheet", "--format", "html"), "sheet.pdf": ("sheet", "--format", "pdf"),
    "findings.json": ("check", "--json"), "fold": ("fold",),
    "side.svg": ("draw", "--view", "side"), "unrolled.svg": ("draw", "--view", "unrolled"),
}
COLUMNS = 80
NEAR = 0.01   # mm


def columns(line):
    """Columns that a terminal takes for the line."""
    return sum(0 if unicodedata.combining(each) or unicodedata.category(each) in ("Mn", "Me", "Cf")
               else 2 if unicodedata.east_asian_width(each) in "WF" else 1 for each in line)


def check_lines(checks, name, text):
    long = [line for line in text.splitlines() if columns(line) > COLUMNS]
    checks.check(not long, f"{name}: no line is wider than {COLUMNS} columns", "\n".join(long[:5]))
    checks.check(not any(line != line.rstrip() for line in text.splitlines()), f"{name}: no blanks at line ends")


def check_schema(checks, folder, name, page, text):
    path = pathlib.Path(folder) / f"{name.replace('/', '-')}.{page}"
    path.write_bytes(text)
    schema = {"plan.json": "plan", "need.json": "need", "findings.json": "findings"}[page]
    done = subprocess.run([ROOT / "tests/schema.py", ROOT / f"grammar/{schema}.schema.json", path], capture_output=True)
    checks.check(done.returncode == 0, f"{name}: {page} follows its schema", done.stderr.decode())


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
    checks.check(len(set(picture.ids)) == len(picture.ids), f"{name}: {page}: no id stands twice")
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


def check_sums(checks, name, pages):
    """One number, wherever it stands."""
    plan, need = json.loads(pages["plan.json"]), json.loads(pages["need.json"])
    layers = [layer for rod in plan["rods"] for place in rod["places"] for layer in place["layers"]]
    checks.check(sum(layer["turns"] for layer in layers) == plan["turns"] == need["turns"], f"{name}: turns add up")
    widths = [abs(sum(abs(run["end_mm"] - run["start_mm"]) for run in layer["runs"]) - layer["width_mm"])
              for layer in layers]
    checks.check(all(each < 1e-4 for each in widths), f"{name}: the runs' widths add up to the layer's", widths)
    for thread in plan["threads"]:
        pieces = [each for rod in plan["rods"] for each in rod["pieces"] if each["thread"] == thread["thread"]]
        said = sum(each["cut_mm"] for each in pieces)
        needed = [each["total_mm"] for each in need["threads"] if each["thread"] == thread["thread"]]
        checks.check(len(needed) == 1 and abs(needed[0] - thread["total_mm"]) < 1e-5 and
                     abs(said - needed[0]) < 1e-5 * max(1, len(pieces)), f"{name}: the pieces of {thread['thread']} "
                     "add up to its need", f"pieces {said}, need {needed}, plan {thread['total_mm']}")
    for page in ("plan.csv", "need.csv"):
        check_csv(checks, name, page, pages[page].decode())


def made(path):
    """Every page twice: (page, first answer, second answer)."""
    return [(page, turnlay(*arguments, path), turnlay(*arguments, path)) for page, arguments in PAGES.items()]


def check_file(checks, folder, path, answers):
    name = str(path.relative_to(ROOT))
    plan = next((first for page, first, _ in answers if page == "plan.json"), None)
    rods = json.loads(plan.out)["rods"] if plan.code == 0 else []
    pages = {}
    for page, first, second in answers:
        if page.endswith(".svg") and plan.code == 0 and not rods:
            checks.check(first.code == 1, f"{name}: without a rod there is nothing to draw", first.words())
            continue
        if not checks.check(first.code == 0, f"{name}: {page} is made", first.words()):
            continue
        checks.check(first.out == second.out and first.err == second.err, f"{name}: {page} is the same bytes again")
        pages[page] = first.out
        if page.endswith(".json"):
            check_schema(checks, folder, name, page, first.out)
    for page in ("plan", "need", "sheet"):
        if page in pages:
            check_lines(checks, f"{name}: {page}", pages[page].decode())
    for page in ("side.svg", "unrolled.svg"):
        if page in pages and rods:
            lint = subprocess.run(["xmllint", "--noout", "-"], input=pages[page], capture_output=True)
            checks.check(lint.returncode == 0, f"{name}: {page} is well-formed XML", lint.stderr.decode())
            check_picture(checks, name, page, pages[page].decode(), rods[0])
    if {"plan.json", "need.json", "plan.csv", "need.csv"} <= set(pages):
        check_sums(checks, name, pages)


def main():
    checks = Checks()
    examples = sorted((ROOT / "examples").rglob("*.lay"))
    library = sorted((ROOT / "stdlib").rglob("*.lay"))
    checks.check(examples, "there are examples")
    checks.check(library, "there is a standard library")
    with scratch() as folder:
        for path, answers in zip(examples + library, in_turn(made, examples + library)):
            check_file(checks, folder, path, answers)
        # The golden files show every feature of the language once: their pictures and pages too.
        golden = [path for path in sorted((ROOT / "tests/golden").glob("*.lay"))
                  if turnlay("check", path).code == 0]
        for path, answers in zip(golden, in_turn(made, golden)):
            check_file(checks, folder, path, answers)
    checks.finish()


if __name__ == "__main__":
    main()
