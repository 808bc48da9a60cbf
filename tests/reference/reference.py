#!/usr/bin/python3
"""The reference cannot lie: its examples compile, its words are kept, its options, functions and limits are there."""
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, turnlay

PAGE = (ROOT / "grammar/reference.md").read_text(encoding="utf-8")
SHOP = """edition 1
thread navy { diameter: 0.15 mm }
thread slate { diameter: 0.15 mm }
thread mist { diameter: 0.15 mm }
thread foam { diameter: 0.15 mm }
blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }
"""
LAYER = SHOP + 'rod "Example" on tube { at 20 cm length: 60 mm {\n%s\n} }\n'
RINGS = "guide ring { foot: 14 mm %s }\n"

# Options whose kind alone does not say a value that fits, by section and name.
VALUES = {
    ("thread", "turns"): "67 per cm", ("thread", "diameter"): "0.15 mm", ("thread", "size"): "A",
    ("thread", "tex"): "24", ("guide", "foot"): "[19 mm, 17 mm]", ("guide", "ramp"): "5 mm",
    ("bench", "bind"): "6 turns", ("bench", "ridge"): "3", ("bench", "friction"): "0.2",
    ("bench", "coat"): "0.25 mm", ("bench", "coats"): "2", ("bench", "hand"): "9 m",
    ("at", "from"): "butt", ("at", "toward"): "tip", ("at", "length"): "60 mm", ("at", "guide"): "ring",
    ("fade", "over"): "24 turns", ("fade", "steps"): "4",
    ("fade", "runs"): "[in 1 out 3, in 2 out 2, in 3 out 1]",
}
KINDS = {"rate": "67 per cm", "length": "10 mm", "ratio": "80 %", "colour": "#22346b", "truth": "yes",
         "turns": "7 turns", "count": "10", "a guide": "ring"}
# In each section of options: a file in which the option stands for %s.
HOMES = {
    "thread": SHOP + "thread extra { tex: 24, fibre: nylon, %s }\n" + 'rod "R" on tube { at 20 cm { band 20 turns of navy } }',
    "bench": LAYER % "band 20 turns of navy" + "bench { %s }",
    "guide": SHOP + "guide ring { foot: 14 mm, gap: 6 mm, %s }\n"
             + 'rod "R" on tube { at 60 cm guide: ring { band fill of navy } }',
    "at": SHOP + RINGS % "" + 'rod "R" on tube { at 60 cm %s { band 20 turns of navy } }',
    "fade": LAYER % "band 20 turns of navy fade to slate %s band 20 turns of slate",
}
# Options that the reference names in its running text.
SPOKEN = {
    'about { title: "Harbour" }': ("about", "title"), 'about { author: "Shop copy" }': ("about", "author"),
    'about { version: "2" }': ("about", "version"), 'about { licence: "CC-BY-4.0" }': ("about", "licence"),
    "size Z { diameter: 0.15 mm }": ("size", "diameter"),
    "size Z { diameter: 0.15 mm, uncertainty: 20 % }": ("size", "uncertainty"),
}
SPOKEN_IN_LAYER = {
    "band fill of navy weight: 2": "weight", "band 40 turns of navy { inlay 2 turns of mist at: 1/2 }": "at",
    "band 60 turns of navy { inlay 1 turn of mist every: 10 turns }": "every",
    "over offset: 3 mm { band 20 turns of navy }": "offset", "over length: 30 mm { band fill of navy }": "length",
}
# One call of each function, with the kind that makes it a value.
CALLS = {
    "count": "count([navy, mist])", "first": "first([1, 2])", "last": "last([1, 2])", "rest": "rest([1, 2])",
    "reverse": "reverse([1, 2])", "round": "round(2.5)", "floor": "floor(2.5)", "ceil": "ceil(2.5)",
    "min": "min(1 mm, 2 mm)", "max": "max(1 mm, 2 mm)", "abs": "abs(-1 mm)", "width": "width(10 turns, navy)",
    "spacer": "spacer(navy)",
}


def check_text(text):
    return turnlay("check", "--json", "-", given=text.encode())


def without_errors(checks, name, text):
    answer = check_text(text)
    checks.check(answer.code == 0, name, text + "\n" + "\n".join(
        f"{each['at']['line']}:{each['at']['column']}: {each['code']}: {each['message']}"
        for each in answer.findings() if each["severity"] == "error") if answer.code == 1 else answer.words())


def gives(checks, code, name, text):
    answer = check_text(text)
    checks.check(answer.code == 1 and code in answer.codes(), name, f"{text}\n{answer.words()}")


def blocks():
    """(line, tag, text) of every ```lay block."""
    for match in re.finditer(r"^```lay([^\n]*)\n(.*?)^```$", PAGE, re.M | re.S):
        yield PAGE.count("\n", 0, match.start()) + 1, match[1].strip(), match[2]


def examples(checks):
    found = list(blocks())
    checks.check(len(found) >= 15, "the reference has its examples", f"only {len(found)} found")
    for line, tag, text in found:
        checks.check(tag in ("", "file"), f"reference.md:{line}: a known tag", tag)
        without_errors(checks, f"reference.md:{line}: the example compiles", text if tag == "file" else LAYER % text)


def words(checks):
    named = re.search(r"words of the language cannot be names:\s*`([^`]*)`,\s*nor can\s*`([^`]*)`", PAGE)
    if not checks.check(named, "the reference lists the words of the language"):
        return
    for word in named[1].split():
        gives(checks, "T013", f"{word} cannot be a name", f"edition 1\nthread {word} {{ diameter: 0.15 mm }}\n")
    for word in named[2].split():
        gives(checks, "T013", f"{word} cannot be a name", f"edition 1\nthread {word} {{ diameter: 0.15 mm }}\n")
        gives(checks, "T014", f"{word} is kept for crosswraps", LAYER % f"{word} 4 of navy")
    scanner = (ROOT / "grammar/scanner.re").read_text(encoding="utf-8")
    known = set(re.findall(r'^    "([a-z]+)" \{ TOKEN', scanner, re.M))
    listed = set(named[1].split())
    checks.check(known == listed, "the scanner's words are those of the reference", sorted(known ^ listed))


def table_options():
    """(section, option, kind) of every row of the tables of options."""
    section = None
    for line in PAGE.splitlines():
        if line.startswith("#"):
            section = {"Places and layers": "at"}.get(line.lstrip("# "), line.lstrip("# "))
        row = re.match(r"\| ((?:`\w+`(?:, )?)+) \| ([^|]*) \|", line)
        if row and section in HOMES:
            for option in re.findall(r"`(\w+)`", row[1]):
                yield section, option, row[2].strip()


def value(section, option, kind):
    choice = re.match(r"`(\w+)`", kind)
    return VALUES.get((section, option)) or (choice[1] if choice else KINDS.get(kind))


def options(checks):
    found = list(table_options())
    for section in HOMES:
        checks.check(any(each[0] == section for each in found), f"a table of the options of {section}")
        gives(checks, "T107", f"an unknown option of {section} is found", HOMES[section] % "sparkle: 1")
    for section, option, kind in found:
        chosen = value(section, option, kind)
        if not checks.check(chosen, f"{section} {option}: a value of the kind {kind} is known to this test"):
            continue
        text = HOMES[section] % f"{option}: {chosen}"
        # What a thread or guide has already may not stand there twice.
        if section == "thread" and option in ("tex", "fibre"):
            text = text.replace({"tex": "tex: 24, ", "fibre": "fibre: nylon, "}[option], "", 1)
        elif section == "guide" and option in ("foot", "gap"):
            text = text.replace({"foot": "foot: 14 mm, ", "gap": "gap: 6 mm, "}[option], "", 1)
        if section == "at" and option == "guide":
            text = text.replace("band 20 turns of navy", "band fill of navy")
        without_errors(checks, f"{section} takes {option}: {chosen}", text)
    for text, (section, option) in SPOKEN.items():
        without_errors(checks, f"{section} takes {option}", LAYER % "band 20 turns of navy" + text)
    for text, option in SPOKEN_IN_LAYER.items():
        without_errors(checks, f"a layer takes {text}", LAYER % text)
        gives(checks, "T107", f"a layer does not take {text} misspelt",
              LAYER % text.replace(f" {option}:", f" {option}x:"))


def functions(checks):
    named = set()
    for row in re.findall(r"^\| (`.*?`) \|", PAGE, re.M):
        named |= set(re.findall(r"`([a-z]+)\(", row))
    checks.check(named == set(CALLS), "the functions of the reference are those tried here", sorted(named ^ set(CALLS)))
    for name, call in CALLS.items():
        without_errors(checks, f"{name}() is known", LAYER % f"let tried = {call}\nband 20 turns of navy")
    gives(checks, "T101", "an unknown function is found", LAYER % "let tried = sparkle(1)\nband 20 turns of navy")


def limits(checks):
    header = (ROOT / "src/base/limits.h").read_text(encoding="utf-8")
    values = {name: eval(text.replace("u", "")) for name, text in
              re.findall(r"#define (LIMIT_\w+) (\(.*?\)|[\d.e]+)$", header, re.M)}
    for words_, name in {
            "size of a file": "LIMIT_FILE_BYTES", "files in all": "LIMIT_FILES",
            "braces, brackets and parentheses within one another": "LIMIT_NESTING",
            "patterns calling one another": "LIMIT_CALL_DEPTH", "turns in a file's plan": "LIMIT_TURNS",
            "runs in a file's plan": "LIMIT_RUNS", "steps of reckoning": "LIMIT_STEPS",
            "findings shown": "LIMIT_FINDINGS"}.items():
        row = re.search(rf"^\| {words_} \| ([\d,]+)( MiB| deep)? \|$", PAGE, re.M)
        said = row and int(row[1].replace(",", "")) * (1 << 20 if row[2] == " MiB" else 1)
        checks.check(said == values[name], f"the limit of {words_}", f"{said} in the reference, {values[name]} in limits.h")


def main():
    checks = Checks()
    for part in (examples, words, options, functions, limits):
        part(checks)
    checks.finish()


if __name__ == "__main__":
    main()
