#!/usr/bin/python3
"""Texts that a builder or a stranger wrote, on every page: what could hide, turn round or run is shown by a sign, what
spells words stays, and a program reads back what was written."""
import csv
import html.parser
import io
import json
import pathlib
import re
import shutil
import subprocess
import sys
import unicodedata
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import Checks, scratch, turnlay

SIGN = "\ufffd"
# Format characters that spell words, by the reference; all others of that kind are shown.
SPELLING = {*range(0x600, 0x606), 0x61C, 0x6DD, 0x70F, 0x890, 0x891, 0x8E2, 0x180E, *range(0x200B, 0x2010), 0x110BD,
            0x110CD}
NONCHARACTERS = [*range(0xFDD0, 0xFDF0), *(plane << 16 | low for plane in range(17) for low in (0xFFFE, 0xFFFF))]
OVERRIDES = [*range(0x202A, 0x202F), *range(0x2066, 0x206A)]
OTHERS = [each for each in range(0x110000) if unicodedata.category(chr(each)) in ("Cf", "Zl", "Zp")]
HIDDEN = "".join(chr(each) for each in sorted({*range(0x80, 0xA0), *NONCHARACTERS, *OVERRIDES, *OTHERS} - SPELLING))
# Words as their scripts spell them: joiners, marks of direction, a space without width, marks on letters.
WORDS = {
    "Arabic": "\u062e\u064a\u0637 \u0623\u0632\u0631\u0642",
    "Persian": "\u0645\u06cc\u200c\u0628\u0646\u062f\u0645",
    "Hebrew": "\u05d7\u05d5\u05d8 C++\u200e \u200f(12)",
    "Devanagari": "\u0915\u094d\u200d\u0937 \u0930\u094d\u200c\u092f",
    "Sinhala": "\u0dc1\u0dca\u200d\u0dbb\u0dd3",
    "Khmer": "\u1781\u17d2\u179f\u17c2\u200b\u1796\u178e\u17cc",
    "Mongolian": "\u182e\u1823\u1829\u182d\u1823\u182f\u180e\u180b",
    "emoji": "\U0001f469\u200d\U0001f52c \u2764\ufe0f\u200d\U0001f525",
    "number sign": "\u0600\u0661\u0662",
}
PLAIN = " ".join(WORDS.values())

PAGES = {
    "plan": ("plan",), "plan.json": ("plan", "--format", "json"), "plan.csv": ("plan", "--format", "csv"),
    "need": ("need",), "need.json": ("need", "--format", "json"), "need.csv": ("need", "--format", "csv"),
    "sheet": ("sheet",), "sheet.html": ("sheet", "--format", "html"), "sheet.json": ("sheet", "--format", "json"),
    "rod.svg": ("draw",), "presentation.svg": ("draw", "--view", "presentation"),
    "side.svg": ("draw", "--view", "side"), "unrolled.svg": ("draw", "--view", "unrolled"), "eye.svg": ("draw", "--view", "eye"),
    "template.svg": ("draw", "--view", "template", "--rod", "2"), "shades": ("shades",),
    "shades.json": ("shades", "--format", "json"), "shades.svg": ("shades", "--format", "svg"), "findings": ("check",),
    "findings.json": ("check", "--findings", "json"),
}
# Where a page says which text: title of the file, of the first rod, of the second; else only the file's name.
SAYS = {
    "plan": "title rod second path", "plan.json": "title rod second path", "plan.csv": "rod second path",
    "need": "title rod second", "need.json": "title rod second", "need.csv": "title rod second",
    "sheet": "title rod second", "sheet.html": "title rod second", "sheet.json": "title rod second",
    "rod.svg": "rod", "presentation.svg": "rod", "side.svg": "rod path", "unrolled.svg": "rod path", "eye.svg": "rod", "template.svg": "second",
    "shades": "title", "shades.json": "title", "shades.svg": "title", "findings": "path", "findings.json": "path",
}


LONGEST_DRAWN = 40   # characters of a title that a picture surely has room for


def shown(text):
    return "".join(SIGN if each in HIDDEN else each for each in text)


def quoted(text):
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def source(title, rods):
    """A file of one rod a title, each with a wrap; the second with a crosswrap too, and nothing in stock."""
    lines = [f"edition 1\nabout {{ title: {quoted(title)}, author: {quoted(title)}, version: {quoted(title)}, "
             f"licence: {quoted(title)} }}",
             f"thread \u0646\u064a\u0644\u064a {{ turns: 67 per cm, colour: #22346b, stock: 1 m, code: {quoted(title)} }}",
             "thread \u0928\u0940\u0932 { turns: 60 per cm, colour: #8f5a35 }",
             "blank \u7aff { at 0 mm: 12 mm  at 100 cm: 4 mm }",
             "guide \u0e27\u0e07 { foot: 14 mm, gap: 6 mm, width: 2 mm, height: 1 mm, ramp: 5 mm, before: 3 mm }"]
    for index, rod in enumerate(rods):
        lines.append(f"rod {quoted(rod)} on \u7aff {{ at 20 cm {{ band 20 turns of \u0646\u064a\u0644\u064a  "
                     "band 200 turns of [\u0646\u064a\u0644\u064a, \u0928\u0940\u0932] }"
                     "  at 60 cm guide: \u0e27\u0e07 { band fill of \u0928\u0940\u0932 }" +
                     ("  at 40 cm length: 60 mm { diamond crossings: 3 ends: 12 turns of \u0928\u0940\u0932 "
                      "{ strand 2 of \u0646\u064a\u0644\u064a } }" if index == 1 else "") + " }")
    return "\n".join(lines) + "\n"


class Tags(html.parser.HTMLParser):
    """Holds that every tag is closed in its turn, and gathers what stands in and between them."""
    VOID = {"meta", "input", "br", "hr", "img", "link"}

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.faults, self.words = [], [], []
        self.feed(text)
        self.close()
        self.faults += self.open

    def handle_starttag(self, tag, attributes):
        self.words += [value for _, value in attributes if value]
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.words += [value for _, value in attributes if value]

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"/{tag}")

    def handle_data(self, data):
        self.words.append(data)


def words_of(page, text):
    """The texts that a page holds as its readers get them, and whether it is well formed."""
    if page.endswith(".json"):
        return json.dumps(json.loads(text), ensure_ascii=False), True
    if page.endswith(".svg"):
        root = ElementTree.fromstring(text)
        return "\n".join([*root.itertext(), *(value for each in root.iter() for value in each.attrib.values())]), True
    if page.endswith(".html"):
        tags = Tags(text)
        return "\n".join(tags.words), not tags.faults
    if page.endswith(".csv"):
        return "\n".join(field for row in csv.reader(io.StringIO(text, newline="")) for field in row), True
    return text, True


def check_page(checks, name, page, folder, path, texts):
    answer = turnlay(*PAGES[page], path, folder=folder)
    name = f"{name}: {page}"
    if not checks.check(answer.code == 0, f"{name} is made", answer.words()):
        return
    text = answer.out.decode()
    found = {f"U+{ord(each):04X}" for each in text if each in HIDDEN}
    checks.check(not found, f"{name}: nothing hidden stands in its bytes", " ".join(sorted(found)))
    try:
        words, whole = words_of(page, text)
    except (ElementTree.ParseError, ValueError) as error:
        words, whole = "", error
    checks.check(whole is True, f"{name} is well formed", whole)
    if page in ("plan.json", "need.json", "sheet.json"):
        about = json.loads(text)["about"]
        checks.check(set(about.values()) == {texts["title"]}, f"{name}: what it is about is as it was written", about)
    if page == "sheet":   # sets long words on several lines
        words = "".join(words.split())
    for which in SAYS[page].split():
        wanted = json.dumps(texts[which], ensure_ascii=False)[1:-1] if page.endswith(".json") else shown(texts[which])
        if page == "sheet":
            wanted = "".join(wanted.split())
        if page == "shades.svg" or page.endswith(".svg") and page != "template.svg" and which == "rod":
            wanted = wanted[:LONGEST_DRAWN]
        checks.check(wanted in words, f"{name}: its {which} is there as it should be", f"{wanted!r}\n{words[:2000]!r}")


def check_hidden(checks, folder):
    """All that may hide, in every text there is; the file's name has them too, as far as a name may be so long."""
    title = f"Title {HIDDEN} end {PLAIN}"
    rods = [f"One {HIDDEN} end {PLAIN}", f"Two {HIDDEN} end {PLAIN}"]
    path = f"file {HIDDEN[:20]}\u202e\ufffe {WORDS['Persian']}.lay"
    (folder / path).write_text(source(title, rods), encoding="utf-8")
    for page in PAGES:
        check_page(checks, "hidden", page, folder, path,
                   {"title": title, "rod": rods[0], "second": rods[1], "path": path})
    check_pdf(checks, folder, path, title)


def check_findings(checks, folder):
    """A finding shows the line it is about, whatever stands there."""
    pieces = [HIDDEN[start:start + 20] for start in range(0, len(HIDDEN), 20)]
    lines = [f'at {index + 1} cm {{ band 9 turns of nobody }} // {piece} end' for index, piece in enumerate(pieces)]
    (folder / "faults.lay").write_text("edition 1\nblank t { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                                       'rod "One" on t {\n' + "\n".join(lines) + "\n}\n", encoding="utf-8")
    for page, arguments in (("findings", ("check",)), ("findings.json", ("check", "--findings", "json"))):
        answer = turnlay(*arguments, "faults.lay", folder=folder)
        text = answer.out.decode()
        checks.check(answer.code == 1, f"faults: {page} is made", answer.words())
        checks.check(not set(text) & set(HIDDEN), f"faults: {page}: nothing hidden stands in its bytes")
        if page == "findings":
            missing = [piece for piece in pieces if f"// {shown(piece)} end" not in text]
            checks.check(not missing, f"faults: {page}: the lines are shown", missing)


def check_messages(checks, folder):
    """What the program says of the command line: names of files that are not there, titles of rods."""
    for start in range(0, len(HIDDEN), 40):
        name = f"no {HIDDEN[start:start + 40]} end.lay"
        answer = turnlay("gather", "-v", name, folder=folder)
        checks.check(answer.code in (2, 3) and shown(name) in answer.err.decode() and
                     not set(answer.err.decode()) & set(HIDDEN), f"messages: a missing file's name, from {start}",
                     answer.words())
    (folder / "two.lay").write_text(source("", [f"\x9b1m {HIDDEN} end", "Two"]), encoding="utf-8")
    said = turnlay("draw", "two.lay", folder=folder).err.decode()
    checks.check(shown(f"\x9b1m {HIDDEN} end") in said and not set(said) & set(HIDDEN), "messages: a rod's title", said)


def check_words(checks, folder):
    """Words of many scripts come through unchanged, byte for byte, on every page."""
    for script, word in WORDS.items():
        checks.check(shown(word) == word, f"{script}: nothing in it is hidden")
        (folder / "words.lay").write_text(source(word, [word, word]), encoding="utf-8")
        for page in PAGES:
            check_page(checks, script, page, folder, "words.lay",
                       {"title": word, "rod": word, "second": word, "path": "words.lay"})


def check_pdf(checks, folder, path, title):
    if not shutil.which("pdftotext"):
        checks.skip("texts in PDF", "poppler-utils is NOT INSTALLED; make deps installs it")
        return
    answer = turnlay("sheet", "--format", "pdf", "-o", "page.pdf", path, folder=folder)
    if b"without cairo and pango" in answer.err:
        checks.skip("texts in PDF", "this turnlay was built without pango")
        return
    if not checks.check(answer.code == 0, "hidden: a PDF is made", answer.words()):
        return
    tool = {"cwd": folder, "capture_output": True, "check": True}
    words = subprocess.run(["pdftotext", "page.pdf", "-"], **tool).stdout.decode(errors="surrogateescape")
    about = subprocess.run(["pdfinfo", "-enc", "UTF-8", "page.pdf"], **tool).stdout.decode(errors="surrogateescape")
    # pdftotext itself puts round words that run from right to left what makes a terminal show them so.
    found = {f"U+{ord(each):04X}" for each in words if each in HIDDEN} - {"U+202A", "U+202B", "U+202C"}
    checks.check(not found, "hidden: no page of the PDF has anything hidden", " ".join(sorted(found)))
    checks.check(SIGN in words, "hidden: the PDF's pages show signs", words[:1000])
    for field in ("Title", "Author"):
        line = re.search(f"^{field}: *(.*)$", about, re.M)
        checks.check(line and line[1] == shown(title), f"hidden: the PDF's {field} is as shown elsewhere",
                     f"{line and line[1]!r}\n{shown(title)!r}")


# Texts that a spreadsheet takes for a formula, texts that look as if they had been mended already, and harmless ones.
TEXTS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "'=1", "''=1", "'''-", "'\t", "'", "''", "'plain", "plain", "a=1", "1",
         "=cmd|'/c calc'!A1", '=HYPERLINK("x","y")', 'a,"b"', '-"x",', " =1", "\t", "1'=", "\u062e=", "=\u062e"]
FILES = ["=2+5.lay", "+a.lay", "./-a.lay", "@a.lay", "\ta.lay", "\ra.lay", "'=a.lay", "'\ra.lay", "''@.lay", "'a.lay",
         'a"b,c.lay', "a\nb\r\nc.lay"]
FORMULA = re.compile(r"'*[=+\-@\t\r]")
NUMBERS = {"turns", "angle_deg", "turns_done", "layer", "run", "item", "line", "column", "pieces", "spools", "too_long", "price", "cost", "pass",
           "strand", "start", "dwell_deg"}


def taken_off(field):
    """A text field as it was written: the reference's rule."""
    return field[1:] if re.match(r"'+[=+\-@\t\r]", field) else field


def rows_of(text):
    rows = list(csv.reader(io.StringIO(text, newline="")))
    return [dict(zip(rows[0], row)) for row in rows[1:]]


def texts_of(row):
    return {name: taken_off(field) for name, field in row.items() if name not in NUMBERS and not name.endswith("_mm")}


def planned_rows(plan):
    """The text fields of the plan as CSV, made from the plan as JSON."""
    for rod in plan["rods"]:
        for place in rod["places"]:
            for layer in place["layers"]:
                for run in layer["runs"]:
                    threads = " + ".join(each["thread"] for each in run["strands"])
                    yield {"rod": rod["title"], "place": place["label"], "kind": layer["kind"], "role": run["role"],
                           "thread": threads, "file": run["at"]["file"]}


def needed_rows(need):
    for each in need["threads"]:
        yield {"scope": "all", "rod": "", "place": "", "thread": each["thread"], "code": each.get("code", "")}
    for each in need["places"]:
        yield {"scope": "place", "rod": each["rod"], "place": each["place"], "thread": each["thread"], "code": ""}


def check_csv(checks, folder, path, verb, wanted_rows):
    name = f"CSV of {verb}, {path!r}"
    made = {kind: turnlay(verb, "--format", kind, path, folder=folder) for kind in ("csv", "json")}
    if not checks.check(all(each.code == 0 for each in made.values()), f"{name}: is made", made["csv"].words()):
        return
    rows = rows_of(made["csv"].out.decode())
    wanted = list(wanted_rows(json.loads(made["json"].out)))
    got = [texts_of(row) for row in rows if row.get("role") != "pass"]
    checks.check(got == wanted, f"{name}: all texts are read back",
                 [pair for pair in zip(got, wanted) if pair[0] != pair[1]] or (len(got), len(wanted)))
    titles = {title for title in TEXTS}
    checks.check({row["rod"] for row in got} - {""} == titles, f"{name}: the rods have their titles")
    run = [field for row in rows for key, field in row.items() if key in texts_of(row) and field[:1] in tuple("=+-@\t\r")]
    checks.check(not run, f"{name}: no text reads as a formula", run)
    numbers = [field for row in rows for key, field in row.items() if key not in texts_of(row) and key != "wound_mm"]
    checks.check(not [each for each in numbers if "'" in each], f"{name}: no number is a text")
    if verb == "need":
        left = [float(row["left_mm"]) for row in rows if row["left_mm"]]
        checks.check(min(left) < 0, f"{name}: what is short is below nothing", left)
    mended = [field for row in rows for key, field in row.items() if FORMULA.match(field) and key in texts_of(row)]
    checks.check(all(field.startswith("'") for field in mended) and mended, f"{name}: formulas have their apostrophe")


def check_formulas(checks, folder):
    for path in FILES:
        (folder / path).write_text(source("=1+1", TEXTS), encoding="utf-8")
        check_csv(checks, folder, path, "plan", planned_rows)
        check_csv(checks, folder, path, "need", needed_rows)


def main():
    checks = Checks()
    with scratch() as folder:
        check_hidden(checks, pathlib.Path(folder))
        check_findings(checks, pathlib.Path(folder))
        check_messages(checks, pathlib.Path(folder))
        check_words(checks, pathlib.Path(folder))
        check_formulas(checks, pathlib.Path(folder))
    checks.finish()


main()
