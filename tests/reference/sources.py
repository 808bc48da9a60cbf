"""Every number of the trade says where it comes from. Beside it, in a comment or on the page, stands a published source, or
"common practice, no source", or "from memory".

C: every constant in the rooms that know the trade (`#define`, `enum`, `static const`, tables, ranges of options), by the comment on
its line, or the last one above it with nothing but other lines of its group between. Patterns: the defaults of parameters and
the numbers in `require`, by the comment at the top of their file or the one that documents them. Pages: the rule of each finding, and
each table of the reference. Works are cited in full at least once in every file that names them.
"""
import re

from checks import ROOT

ROOMS = ("trade", "meaning", "plan", "bench", "check")
MARKS = ("common practice, no source", "from memory")
# Constants in these rooms that are no facts of the trade. Those of rounding and of searching change no number that is printed.
OTHERS = {
    "rounding": "snap rounding INSIDE PART LAYOUT_SLACK SLACK NEARLY_EQUAL CROSSWRAP_SLACK TOUCHING REACH clock_slack "
                "length_slack SAME LEAST_LENGTH HALF_CIRCLE slack EVEN NO_GAP NO_LENGTH MIX_CHORDS",
    "mathematics": "TRADE_PI whole seconds matrix LEAST_OF_LIGHTNESS FEWEST_OF_FADE",
    "limits of the program": "PANELS LOOKED_INTO SEARCHED_PIECES MOST_TRIES FEW SUGGESTIONS MOST_LISTED OPTIONS_MOST LOCAL_BUCKETS MOST_DECIMALS CALL_STEPS "
                             "MOST_STEPS FUNCTION_TABLE MOST_IN_ALL_WAYS MOST_BOBBINS_TRIED MOST_ROUNDS MOST_WRONG "
                             "MOST_MELTING_STEPS MOST_UNWRITTEN MOST_WALKED MOST_LOOKED_AT MOST_NAMED",
    "how far the turns of a fade are searched": "STATES_A_NODE PARTS_OF_NODES NEAR_ENOUGH LEAST_GAIN FURTHEST MOST_LOOKS MOST_CHOSEN_TURNS SAME_DEPARTURE "
                                               "WINDOW_HALF WINDOW WINDOW_STATES NO_WAY MOST_COUNTED LEAN_HALVES NEAR_TURNS MOST_MOVES",
    "guesses at what was meant": "SLIPS PLACES USUAL SHORTEST_PART WIDER ROD",
    "marks and bits": "INDENT NOT_HELD LOOP_TOO_SHORT NOT_ENDED MID_GREY TYPE_LIST ANY_LIST ANY_NUMBER CHANGES_FOLLOW AS_PLANNED "
                      "lengths unlikely PLACE_LAYERED PLACE_EACH_FOOT HERE_TABLE READS_HERE READS_FOOT NO_PIECES PATTERN_COUNT pattern_table",
}
# In rooms that are not of the trade otherwise: numbers of the trade.
ELSEWHERE = {
    "draw": "TEMPLATE_MISS TEMPLATE_BRIDGE TEMPLATE_TAB VISIBLE_TURN LAP RING_HEIGHT RING_HIGHEST",
    "words": "STRIP_END SHORTEST_STRIP SAME_MARK",
}
# Advice to a builder that counts turns.
ADVICE = r'(?i)"[^"]*(\b(two|three|four|five|six|eight|ten)\b(?: \w+)? turns\b|\bhalf ?way\b)'

# How each work is named, and what has to stand in a file that names it: title, year, page or section; the trust where it was not read.
WORKS = {
    r"\bFrazer\b": ("Rodmaking for Beginners", "1908", r"pp?\. 1\d\d"),
    r"\bD3108\b": ("Coefficient of Friction, Yarn to Solid Material", "2007"),
    r"\bHearle\b": ("Physical Properties of Textile Fibres", "4th ed", "2008", r"table 5\.1|section 25", "secondary|published"),
    r"Textile and Technical Fibres": ("Bunsell", "2018", "table 1.1", "from memory|secondary|published"),
    r"\bStegun\b": ("Handbook of Mathematical Functions", "1964", "table 25.4", "from memory"),
    r"\bNeumaier\b": ("Rundungsfehleranalyse", "Z. Angew. Math. Mech. 54", "1974", "from memory"),
    r"\bVienot\b": ("Digital video colourmaps for checking the legibility of displays by dichromats", "1999", "243-252", "(?i)secondary"),
    r"\bComputerized simulation of color": ("Brettel", "1997", "2647-2655", "(?i)secondary"),
    r"\bPokorny\b": ("Spectral sensitivity of the foveal cone photopigments between 400 and 500 nm", "1975", "161-171", "secondary"),
    r"\bVos\b": ("Colorimetric and photometric properties of a 2 ?deg fundamental observer", "1978", "125-128", "secondary|from memory"),
    r"\bPeirce\b": ("The Geometry of Cloth Structure", "1937", "T45", "secondary"),
    r"\bSharma\b": ("The CIEDE2000 Color-Difference Formula", "2005", "21-30", "(?i)secondary"),
    r"\bDalibor\b": ("A geometric approach for filament winding pattern generation", "41:576", "2019"),
    r"\bD[oó]sa\b": ("The Tight Bound of First Fit Decreasing", "2007"),
    r"\bJCGM\b": ("Guide to the expression of uncertainty in measurement", "2008"),
    r"\bTaylor\b": ("Cotton Weaving and Designing", "6th ed"),
    r"\bPorter\b": ("Compositing Digital Images", "253-259", "1984", "from memory"),
    r"\bWatson\b": ("A standard model for foveal detection of spatial contrast", "2005", "717-740", "secondary"),
    r"\bGeisler\b": ("Ideal discriminators in spatial vision: two-point stimuli", "1985", "1483-1497", "secondary"),
    r"\bGubisch\b": ("Optical quality of the human eye", "1966", "558-578", "secondary"),
    r"\bRobson\b": ("Application of Fourier analysis to the visibility of gratings", "1968", "551-566", "from memory"),
    r"\bCSS Color Module\b": ("Level 4", "W3C", "2024"),
    r"\bPetrulis\b": ("Properties of Close Packing of Filaments in Yarn", "2003", "from memory"),
}
NAMING = ("src", "stdlib", "examples", "grammar", "tests/unit", "tests/published", "tests/oracle", "tests/reference")


def flat(text):
    """Words one blank apart, without the signs that begin lines of comments."""
    return re.sub(r"\s+", " ", re.sub(r"^\s*(?:/\*+|\*/?|//+|\\)", " ", text, flags=re.M).replace("*/", " ").replace("\\\n", " "))


def marked(text):
    text = flat(text).lower()
    return any(mark in text for mark in MARKS) or any(
        re.search(name.lower(), text) and re.search(r"\b(1[89]|20)\d\d\b", text) for name in WORKS)


def beside(lines, at):
    """The comment on the line, and the last one above it in its group: up to a blank line."""
    own = re.search(r"/\*.*", lines[at])
    found = own[0] if own else ""
    row = at - 1
    while row >= 0 and lines[row].strip() and not lines[row].rstrip().rstrip("\\").rstrip().endswith("*/"):
        row -= 1
    if row < 0 or not lines[row].strip():
        return found
    end = row
    while row > 0 and "/*" not in lines[row]:
        row -= 1
    return "\n".join(lines[row:end + 1]) + "\n" + found


NUMBER = r"[^\"\w]-?\d"
CONSTANTS = (
    re.compile(r"^\s*#\s*define (\w+) [^\"]*\d"),
    re.compile(r"^\s*#\s*define (\w+_TABLE)\("),
    re.compile(r"^\s*(?:static )?const (?!char\b|void\b|struct\b)(?:unsigned )?\w+ (\w+)(?:\[[^=]*\])* ="),
)


def whole(lines, at):
    """The statement or definition that begins there."""
    end = at
    if lines[at].lstrip().startswith("#"):
        while end + 1 < len(lines) and lines[end].rstrip().endswith("\\"):
            end += 1
    else:
        while end + 1 < len(lines) and ";" not in lines[end]:
            end += 1
    return re.sub(r"/\*.*?\*/", "", "\n".join(lines[at:end + 1]), flags=re.S)


def constants(lines):
    """(line, names) of every constant that a number is written for."""
    for at, line in enumerate(lines):
        for pattern in CONSTANTS:
            match = pattern.match(line)
            if match and re.search(r"(?<![\w\"])-?\.?\d", whole(lines, at)[match.end(1):]):
                yield at, [match[1]]
                break
        if re.match(r"^\s*(?:typedef )?enum\b.*\{", line):
            names = re.findall(r"\b([A-Z]\w+) = -?[\dU]", whole(lines, at))
            if names:
                yield at, names


def read(path):
    return path.read_text(encoding="utf-8")


def check_c(checks):
    others = {name: 0 for names in OTHERS.values() for name in names.split()}
    elsewhere = {name for names in ELSEWHERE.values() for name in names.split()}
    seen, marked_ones = set(), 0
    for room in (*ROOMS, *ELSEWHERE):
        files = sorted(path for path in (ROOT / "src" / room).rglob("*") if path.suffix in (".c", ".h"))
        checks.check(files, f"src/{room}: there are sources")
        for path in files:
            lines = read(path).splitlines()
            for at, names in constants(lines):
                if room in ELSEWHERE:
                    names = [name for name in names if name in elsewhere]
                    seen |= set(names)
                left = [name for name in names if name not in others]
                for name in names:
                    others[name] = others.get(name, 0) + 1
                if left:
                    marked_ones += 1
                    checks.check(marked(beside(lines, at)), f"{path.relative_to(ROOT)}:{at + 1}: where {', '.join(left)} comes from",
                                 beside(lines, at))
            nameless = [f"{at + 1}: {line}" for at, line in enumerate(lines) if re.search(r"\(Range\)\{[^}]*\d", line)
                        and not line.startswith("static Range")]
            checks.check(not nameless, f"{path.relative_to(ROOT)}: its ranges have names", "\n".join(nameless))
    checks.check(marked_ones > 20, "constants of the trade are found", marked_ones)
    checks.check(seen == elsewhere, "those of other rooms are found", sorted(elsewhere - seen))
    unknown = sorted(name for names in OTHERS.values() for name in names.split() if not others[name])
    checks.check(not unknown, "every constant that is let pass is there", unknown)


def check_advice(checks):
    found = 0
    for path in sorted((ROOT / "src/words").glob("*.c")):
        lines = read(path).splitlines()
        for at, line in enumerate(lines):
            if re.search(ADVICE, line) and not line.startswith("#include"):
                found += 1
                checks.check(marked("\n".join(lines[max(0, at - 12):at])), f"{path.name}:{at + 1}: where the advice comes from", line)
    checks.check(found, "there is advice that counts turns")


def check_patterns(checks):
    for path in sorted((ROOT / "stdlib").glob("*.lay")):
        text = read(path)
        head = text[:text.index("\nabout")]
        defaults = re.findall(r"\w+: \w+ = [^,)]*\d", text)
        asked = [each for each in re.findall(r"^\s*require ([^\n]*), \"", text, re.M) if re.search(r"(?<!\w)\d", each)]
        sizes = re.findall(r"^size .*", text, re.M)
        said = flat(head)
        checks.check(not defaults or marked(head) and "default" in said, f"{path.name}: where its defaults come from", said)
        checks.check(not asked or marked(head) and "require" in said, f"{path.name}: where the numbers of `require` come from", said)
        for each in sizes:
            checks.check(marked(each), f"{path.name}: where a size comes from", each)


def sections(text):
    """Of a page: (heading, text) of each."""
    parts = re.split(r"^(#+ .*)$", text, flags=re.M)
    return list(zip(parts[1::2], parts[2::2]))


def check_pages(checks):
    quantity = r"\b\d[\d.,]*(?: to \d[\d.]*)? ?(?:mm|cm|m|deg|%|turns?|g/cm)\b|\b\d[\d.]* %"
    for path in sorted((ROOT / "grammar/findings").glob("T[1-6]*.md")):
        rule = re.search(r"^The rule.*?(?=^Mend:|^Fails)", read(path), re.M | re.S)
        if rule and re.search(quantity, rule[0]):
            page = read(path)
            checks.check(marked(page) or "the program's own" in flat(page), f"{path.name}: where the numbers of its rule come from", rule[0])
    for heading, text in sections(read(ROOT / "grammar/reference.md")):
        text = re.sub(r"`[^`\n]*`", "", re.sub(r"^```.*?^```", "", text, flags=re.M | re.S))
        if re.search(r"if left out", text) and re.search(quantity, text):
            checks.check(marked(text), f"reference.md, {heading}: where its numbers come from", text[:600])


def check_works(checks):
    for folder in NAMING:
        for path in sorted((ROOT / folder).rglob("*")):
            if path.suffix not in (".c", ".h", ".md", ".lay", ".py") or path.name == "sources.py":
                continue
            text = flat(read(path))
            for name, needed in WORKS.items():
                if re.search(name, text):
                    missing = [each for each in needed if not re.search(each, text)]
                    checks.check(not missing, f"{path.relative_to(ROOT)}: {name.strip(chr(92) + 'b')} is cited in full", missing)


def sources(checks):
    for part in (check_c, check_advice, check_patterns, check_pages, check_works):
        part(checks)
