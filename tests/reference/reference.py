#!/usr/bin/python3
"""The reference cannot lie: its examples compile, its words are kept, its options, functions and limits are there."""
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, turnlay
from sources import sources

PAGE = (ROOT / "grammar/reference.md").read_text(encoding="utf-8")
SHOP = """edition 1
thread navy { diameter: 0.15 mm, colour: #22346b }
thread slate { diameter: 0.15 mm, colour: #4c6a9c }
thread mist { diameter: 0.15 mm, colour: #9db8d6 }
thread foam { diameter: 0.15 mm, colour: #dfe9ef }
blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }
"""
PLACE = SHOP + 'rod "Example" on tube { at 20 cm length: 60 mm {\n%s\n} }\n'
LAYER = PLACE % "over {\n%s\n}"
RINGS = "guide ring { foot: 14 mm %s }\n"

# Options whose kind alone does not say a value that fits, by section and name.
VALUES = {
    ("thread", "turns"): "67 per cm", ("thread", "diameter"): "0.15 mm", ("thread", "size"): "A",
    ("thread", "tex"): "24", ("guide", "tall"): "30 mm", ("guide", "foot"): "[19 mm, 17 mm]", ("guide", "ramp"): "5 mm",
    ("bench", "bind"): "6 turns", ("bench", "ridge"): "3", ("bench", "friction"): "0.2", ("bench", "bobbins"): "2",
    ("bench", "coat"): "0.25 mm", ("bench", "coats"): "2", ("bench", "hand"): "9 m", ("bench", "paper"): "0.2 mm",
    ("bench", "rule"): "1 mm", ("bench", "callipers"): "0.05 mm", ("bench", "reading"): "0.1 mm", ("bench", "varies"): "2 %",
    ("bench", "sight"): "0.7", ("bench", "near"): "50 cm", ("bench", "far"): "3 m", ("bench", "jump"): "2.5",
    ("bench", "flattest"): "12 deg", ("bench", "steepest"): "60 deg",
    ("thread", "colours"): "[#22346b, #9db8d6], period: 9 cm", ("thread", "period"): "9 cm, colours: [#22346b, #9db8d6]",
    ("rod", "overlap"): "40 mm",
    ("at", "from"): "butt", ("at", "toward"): "tip", ("at", "length"): "60 mm", ("at", "guide"): "ring", ("at", "angle"): "30 deg",
    ("series", "first"): "10 cm last: 50 cm count: 3", ("series", "last"): "50 cm first: 10 cm count: 3",
    ("series", "guides"): "[ring, ring] first: 10 cm last: 50 cm", ("series", "count"): "3 first: 10 cm last: 50 cm",
    ("series", "progression"): "110 % first: 10 cm last: 50 cm count: 3",
    ("at", "until"): "30 cm", ("part", "from"): "butt", ("part", "toward"): "tip", ("part", "length"): "10 cm",
    ("part", "until"): "15 cm", ("part", "diameter"): "[26 mm, 24 mm, 26 mm]",
    ("fade", "over"): "24 turns", ("fade", "steps"): "4",
    ("fade", "runs"): "[in 1 out 3, in 2 out 2, in 3 out 1]",
    # With end bands of 12 turns the field of the layer is 56.4 mm.
    ("crosswrap", "ends"): "12 turns of slate", ("crosswrap", "crossings"): "4", ("crosswrap", "spacing"): "14.1 mm",
    ("crosswrap", "angle"): "24 deg", ("crosswrap", "turns"): "3 turns", ("crosswrap", "lead"): "18.8 mm",
    ("crosswrap", "starts"): "2", ("crosswrap", "leads"): "[2, 1]", ("crosswrap", "facing"): "2",
}
KINDS = {"rate": "67 per cm", "length": "10 mm", "ratio": "80 %", "colour": "#22346b", "truth": "yes", "text": '"as written"',
         "turns": "7 turns", "count": "10", "a guide": "ring"}
# What a crosswrap cannot do without, in groups of which it takes just one.
CROSSWRAPS = {
    "chevron": {"ends": ("ends",), "crossings": ("crossings", "spacing", "angle")},
    "diamond": {"ends": ("ends",), "crossings": ("crossings", "spacing", "angle")},
    "spiral": {"ends": ("ends",), "turns": ("turns", "lead", "angle")},
}
# In each section of options: a file in which the option stands for %s.
HOMES = {
    "thread": SHOP + "thread extra { tex: 24, fibre: nylon, %s }\n" + 'rod "R" on tube { at 20 cm { band 20 turns of navy } }',
    "bench": LAYER % "band 20 turns of navy" + "bench { %s }",
    "guide": SHOP + "guide ring { foot: 14 mm, gap: 6 mm, %s }\n"
             + 'rod "R" on tube { at 60 cm guide: ring { band fill of navy } }',
    "rod": SHOP + "blank thin { at 0 mm: 5 mm  at 90 cm: 2 mm }\n" + 'rod "R" on [tube, thin] %s { at 60 cm { band 20 turns of navy } }',
    "blank": SHOP + "blank other { %s, at 0 mm: 12 mm  at 100 cm: 4 mm }\n" + 'rod "R" on other { at 20 cm { band 20 turns of navy } }',
    "series": SHOP + RINGS % "" + 'rod "R" on tube { series %s { band 20 turns of navy } }',
    "at": SHOP + RINGS % "" + 'rod "R" on tube { at 60 cm %s { band 20 turns of navy } }',
    "part": SHOP + 'rod "R" on tube { part grip at 5 cm { %s } at 20 cm { band 20 turns of navy } }',
    "fade": LAYER % "band 20 turns of navy fade to slate %s band 20 turns of slate",
    **{kind: PLACE % (kind + " %s { strand 1 of mist strand 2 of navy }") for kind in CROSSWRAPS},
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
    return turnlay("check", "--findings", "json", "-", given=text.encode())


def without_errors(checks, name, text):
    answer = check_text(text)
    checks.check(answer.code == 0, name, text + "\n" + "\n".join(
        f"{each['at']['line']}:{each['at']['column']}: {each['code']}: {each['message']}"
        for each in answer.findings() if each["severity"] == "error") if answer.code == 1 else answer.words())


def gives(checks, code, name, text):
    answer = check_text(text)
    checks.check(answer.code == 1 and code in answer.codes(), name, f"{text}\n{answer.words()}")


# What stands round an example, by its tag.
TEMPLATES = {"file": "%s", "place": PLACE, "": LAYER}


def blocks():
    """(line, tag, text) of every ```lay block."""
    for match in re.finditer(r"^```lay([^\n]*)\n(.*?)^```$", PAGE, re.M | re.S):
        yield PAGE.count("\n", 0, match.start()) + 1, match[1].strip(), match[2]


def examples(checks):
    found = list(blocks())
    checks.check(len(found) >= 15, "the reference has its examples", f"only {len(found)} found")
    for line, tag, text in found:
        checks.check(tag in TEMPLATES, f"reference.md:{line}: a known tag", tag)
        without_errors(checks, f"reference.md:{line}: the example compiles", TEMPLATES.get(tag, LAYER) % text)
    for tag in TEMPLATES:
        checks.check(any(each[1] == tag for each in found), f"the reference has examples tagged {tag!r}")


def words(checks):
    named = re.search(r"words\s+of\s+the\s+language\s+cannot\s+be\s+names:\s*`([^`]*)`\.", PAGE)
    if not checks.check(named, "the reference lists the words of the language"):
        return
    for word in named[1].split():
        gives(checks, "T013", f"{word} cannot be a name", f"edition 1\nthread {word} {{ diameter: 0.15 mm }}\n")
    scanner = (ROOT / "grammar/scanner.re").read_text(encoding="utf-8")
    known = set(re.findall(r'^    "([a-z]+)" \{ TOKEN', scanner, re.M))
    listed = set(named[1].split())
    checks.check(known == listed, "the scanner's words are those of the reference", sorted(known ^ listed))
    soft = re.search(r"The\s+words\s+`([a-z ]+)`\s+are\s+words\s+of\s+the\s+language\s+only\s+where", PAGE)
    if checks.check(soft, "the reference lists the words that may be names"):
        known = sorted(re.findall(r'^    "([a-z]+)" \{ emit\(reader, soft_word', scanner, re.M))
        checks.check(known == soft[1].split(), "the scanner's words that may be names are those of the reference", known)
        for word in known:
            text = f'edition 1\nthread {word} {{ diameter: 0.15 mm }}\nblank b {{ at 0 mm: 9 mm  at 1 m: 4 mm }}\n'
            answer = check_text(text + f'rod "R" on b {{ at 20 cm {{ band 40 turns of {word} }} }}\n')
            checks.check(answer.code == 0, f"{word} may be a name", answer.words())


def table_options():
    """(section, option, kind) of every row of the tables of options. A crosswrap's options are those of each kind of it
    that the column "of" names."""
    section, header = None, []
    for line in PAGE.splitlines():
        if line.startswith("#"):
            section, header = {"Places and layers": "at"}.get(line.lstrip("# "), line.lstrip("# ")), []
        if not line.startswith("|"):
            header = []
            continue
        cells = [each.strip() for each in line.strip("|").split(" | ")]
        if not set(line) - set("|-"):
            continue
        if not header:
            header = cells
        elif header[:2] == ["option", "kind"] and section in HOMES:
            yield from ((section, option, cells[1]) for option in re.findall(r"`(\w+)`", cells[0]))
        elif header[:3] == ["option", "of", "kind"] and section == "Crosswraps":
            kinds = CROSSWRAPS if cells[1] == "all" else cells[1].split(", ")
            yield from ((kind, option, cells[2]) for kind in kinds for option in re.findall(r"`(\w+)`", cells[0]))


def values(section, option, kind):
    """What the option is given here: every choice it has, or a value that fits."""
    chosen = VALUES.get(("crosswrap" if section in CROSSWRAPS else section, option))
    choices = re.fullmatch(r"`\w+`(, `\w+`)*", kind)
    return ([chosen] if chosen else re.findall(r"`(\w+)`", kind) if choices else
            [KINDS[kind]] if kind in KINDS else [])


def in_its_home(section, option, chosen):
    """A file in which the option stands where it belongs, once."""
    given = f"{option}: {chosen}"
    if section in CROSSWRAPS:
        given = " ".join([given, *(f"{need}: {VALUES['crosswrap', need]}"
                                   for need, either in CROSSWRAPS[section].items() if option not in either)])
    text = HOMES[section] % given
    # What a thread or guide has already may not stand there twice.
    if section == "thread" and option in ("tex", "fibre"):
        text = text.replace({"tex": "tex: 24, ", "fibre": "fibre: nylon, "}[option], "", 1)
    elif section == "guide" and option in ("foot", "gap"):
        text = text.replace({"foot": "foot: 14 mm, ", "gap": "gap: 6 mm, "}[option], "", 1)
    elif section == "at" and option == "guide":
        text = text.replace("band 20 turns of navy", "band fill of navy")
    elif section == "fade" and option == "by":
        text = text.replace("by:", "steps: 4 by:")
    elif section in CROSSWRAPS and chosen == "closed":
        text = text.replace("strand 2 of navy", "strand fill of navy")
    return text


def options(checks):
    found = list(table_options())
    for section in HOMES:
        checks.check(any(each[0] == section for each in found), f"a table of the options of {section}")
        # Among stations only what is known is read as an option.
        gives(checks, "T006" if section == "blank" else "T107", f"an unknown option of {section} is found",
              in_its_home(section, "sparkle", 1))
    for section, option, kind in found:
        chosen = values(section, option, kind)
        checks.check(chosen, f"{section} {option}: a value of the kind {kind} is known to this test")
        for each in chosen:
            without_errors(checks, f"{section} takes {option}: {each}", in_its_home(section, option, each))
    crosswrap_options(checks, {each[:2] for each in found if each[0] in CROSSWRAPS})
    told = {option for _, option, _ in found} | {option for _, option in SPOKEN.values()} | set(SPOKEN_IN_LAYER.values())
    for table in ("option_table.h", "bench_table.h"):
        for option in re.findall(r'\w\([A-Z_]+, "(\w+)"', (ROOT / "src/meaning" / table).read_text(encoding="utf-8")):
            checks.check(option in told or f"`{option}:`" in PAGE, f"{table}: the reference tells of `{option}`")
    for text, (section, option) in SPOKEN.items():
        without_errors(checks, f"{section} takes {option}", LAYER % "band 20 turns of navy" + text)
    for text, option in SPOKEN_IN_LAYER.items():
        without_errors(checks, f"a layer takes {text}", PLACE % text)
        gives(checks, "T107", f"a layer does not take {text} misspelt",
              PLACE % text.replace(f" {option}:", f" {option}x:"))


def crosswrap_options(checks, found):
    """What one kind of crosswrap takes and another does not; and what none can do without."""
    for option in sorted({option for _, option in found}):
        for kind in CROSSWRAPS:
            if (kind, option) not in found:
                gives(checks, "T107", f"a {kind} does not take {option}", in_its_home(
                    kind, option, VALUES.get(("crosswrap", option), "up")))
    for kind, needs in CROSSWRAPS.items():
        for need in needs:
            text = in_its_home(kind, need, VALUES["crosswrap", need])
            answer = check_text(text.replace(f"{need}: {VALUES['crosswrap', need]}", ""))
            checks.check(answer.code == 1, f"a {kind} cannot do without {need}", answer.words())


def functions(checks):
    named = set()
    for row in re.findall(r"^\| (`.*?`) \|", PAGE, re.M):
        named |= set(re.findall(r"`([a-z]+)\(", row))
    checks.check(named == set(CALLS), "the functions of the reference are those tried here", sorted(named ^ set(CALLS)))
    for name, call in CALLS.items():
        without_errors(checks, f"{name}() is known", LAYER % f"let tried = {call}\nband 20 turns of navy")
    gives(checks, "T101", "an unknown function is found", LAYER % "let tried = sparkle(1)\nband 20 turns of navy")


# How the row of each limit in the reference begins; "" where it says nothing of one, since nobody meets it as a number.
LIMITS = {
    "FILE_BYTES": "size of a file", "ALL_BYTES": "size of all files", "FILES": "files in all", "MISSING_FILES": "used files that cannot be read",
    "NESTING": "braces, brackets and parentheses within one another", "OPEN": "",
    "EXPRESSION_DEPTH": "parts of a value one within the other", "CALL_DEPTH": "patterns calling one another",
    "PLACES": "places and parts of a file's rods", "TURNS": "turns in a file's plan", "RUNS": "runs in a file's plan", "ITEMS": "bands, fades, gaps and inlays of a file",
    "STEPS": "steps of working out", "LAYERS": "layers on a place, parameters of a pattern",
    "PARAMETERS": "layers on a place, parameters of a pattern", "COLOURS": "colours of a variegated thread",
    "TURNS_SEEN": "turns of a file's fades that are looked at", "SECTIONS": "sections of a rod", "PASSES": "passes of a file's crosswraps", "CROSSINGS": "crossings of a file's `strand` lines",
    "BENCH_STEPS": "actions on the bench sheets of a file", "PAGE_BYTES": "size of a page",
    "PAGE_MEMORY": "memory that a page is made in", "PRINTED": "letters and points of lines on a PDF or PNG",
    "PIXELS": "pixels of a PNG", "PIXEL_ROWS": "pixels that a PNG is high",
    "PRINT_SECONDS": "seconds of a processor that a PDF or PNG takes to be printed",
    "SHADES": "threads that are compared by their colours", "SHADE_PAIRS": "pairs of threads that would be mistaken",
    "FINDINGS_MADE": "findings made", "FINDINGS": "findings shown", "DIGITS": "digits of a number",
    "MEASURED": "a width measured at the bench", "READINGS": "widths measured and mishaps at the bench",
    "SPLICES_TRIED": "turns at which a splice is tried",
    "RECORD_BYTES": "size of a record", "RUNS_AGAIN": "runs planned again", "RECORD_ENTRIES": "things that happened", "RECORD_LINE": "letters of a title", "RECORD_NOTE": "letters of a note",
    "CHOSEN_TURNS": "turns of a fade that are chosen by eye", "FADE_NODES": "tries in search of the turns of one fade",
    "FADES_NODES": "tries in search of the turns of all fades",
    "LEARNED": "threads that they teach about", "MAGNITUDE": "a value: mm, turns, counts",
}
UNITS = {"": 1, " MiB": 1 << 20, " deep": 1, " km": 1e6}


def limits_by_name():
    """Of limits.h: the number of each."""
    header = (ROOT / "src/base/limits.h").read_text(encoding="utf-8")
    numbers = {}
    for name, text in re.findall(r"^#define LIMIT_(\w+) (.+)$", header, re.M):
        shift = re.fullmatch(r"\((\d+)u << (\d+)\)", text)
        numbers[name] = (int(shift[1]) << int(shift[2]) if shift else
                         numbers[text[len("LIMIT_"):]] if text.startswith("LIMIT_") else float(text))
    return numbers


def limits(checks):
    """Each limit of limits.h has its row, with the same number, and each row is one of them."""
    table = re.search(r"^\| limit \| value \|\n\|---\|---\|\n((?:\|.*\n?)+)", PAGE, re.M)
    rows = [line.strip("| ").rsplit(" | ", 1) for line in table[1].splitlines()]
    numbers = limits_by_name()
    checks.check(set(numbers) == set(LIMITS), "the limits known here are those of limits.h", sorted(set(numbers) ^ set(LIMITS)))
    said_of = set()
    for name, begins in LIMITS.items():
        if not begins:
            continue
        found = [(words_, value) for words_, value in rows if words_.startswith(begins)]
        if not checks.check(len(found) == 1, f"{name} has its row", found):
            continue
        said_of.add(found[0][0])
        number = re.fullmatch(r"([\d,]+)( \w+)?", found[0][1])
        said = number and int(number[1].replace(",", "")) * UNITS[number[2] or ""]
        checks.check(said == numbers[name], f"the limit of {begins}", f"{said} in the reference, {numbers[name]} in limits.h")
    checks.check(said_of == {words_ for words_, _ in rows}, "every row is a limit", sorted({words_ for words_, _ in rows} - said_of))


# A rod on which the bench's settings show: long bands, an inlay, a fade, a guide, a crosswrap.
SHOWN = SHOP + """
guide ring { foot: [14 mm, 14 mm], gap: 6 mm, height: 0.6 mm, ramp: 5 mm }
thread silk { diameter: 0.15 mm, preserver: yes }
rod "Shown" on tube {
    at 8 cm { band 130 turns of navy { inlay 2 turns of slate at: 1/2 }  fade to mist steps: 3  band 2 turns of slate
              band 60 turns of mist  gap 2 mm  band 30 turns of silk }
    at 25 cm guide: ring { under { band fill of navy }  over { band fill of mist } }
    at 50 cm length: 60 mm { diamond crossings: 3 ends: 12 turns of slate { strand 2 of mist  strand 1 of navy } }
}
bench { units: mm, %s }
"""


def pages(bench):
    """All that is printed of it but what depends on the source's bytes: its mark, and where edits go."""
    given = re.sub(r", }$", " }", SHOWN % bench, flags=re.M).encode()
    said = [turnlay(*page, "-", given=given) for page in (("plan", "--format", "json"), ("sheet",), ("draw", "--view", "template"))]
    return [answer.code for answer in said], [
        re.sub(rb"(?:pattern|file.id).{0,24}[0-9a-f-]{12,}|line \d+|id=\"[^\"]*\"|#?r?t[0-9a-f]{16}|\"edit\": {.*?}", b"", answer.out)
        for answer in said]


def defaults(checks):
    """What the reference says counts if a bench setting is left out: to say it changes no page."""
    section = PAGE[PAGE.index("### bench"):PAGE.index("### blank")]
    codes, plain = pages("")
    checks.check(codes == [0, 0, 0], "the rod on which settings show compiles", codes)
    for names, standard in re.findall(r"^\| ((?:`\w+`(?:, )?)+) \| [^|]*\| ([^|]+) \|", section, re.M):
        names, standards = re.findall(r"\w+", names), standard.strip().strip("`").split(", ")
        if names == ["units"] or standards == ["none"]:
            continue
        for name, value in zip(names, standards * len(names) if len(standards) < len(names) else standards):
            codes, said = pages(f"{name}: {value}")
            checks.check(codes == [0, 0, 0] and said == plain, f"{name} left out is {value}", codes)


def main():
    checks = Checks()
    for part in (examples, words, options, functions, limits, defaults, sources):
        part(checks)
    checks.finish()


if __name__ == "__main__":
    main()
