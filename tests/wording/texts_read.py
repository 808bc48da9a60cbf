"""Every text that a builder can read, from the sources: where it stands, and its words. Decided by the rules here, one for
each kind of file; what is left out is left out by a rule with a name."""
import json
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests/mutate"))
from sites import TOKEN

ESCAPES = {"n": "\n", "t": "\t", '"': '"', "\\": "\\", "'": "'", "r": "\r", "0": "\0"}


class Text:
    """Words as they follow one another, put together from parts, each with the line it stands on."""

    def __init__(self, path, parts):
        self.path, self.words, self.starts = path, "", []
        for line, part in parts:
            self.starts.append((len(self.words), line))
            self.words += part

    @property
    def line(self):
        return self.starts[0][1]

    def line_at(self, offset):
        start, line = max(each for each in self.starts if each[0] <= offset)
        return line + self.words.count("\n", start, offset)


class Literal(Text):
    """Of a string of C: a new line in it is none of the source."""

    def line_at(self, offset):
        return max(each for each in self.starts if each[0] <= offset)[1]


def line_of(text, offset):
    return text.count("\n", 0, offset) + 1


# --- C, and what has its strings: re2c, bison ---

def plain(literal):
    return re.sub(r"\\(x[0-9a-fA-F]{2}|.)", lambda found: ESCAPES.get(found[1], " "), literal[1:-1], flags=re.S)


def without_markup(words):
    """Without tags; what a screen reader says of them stays."""
    words = re.sub(r'<[^<>]*?aria-label="([^"]*)"[^<>]*>?', r" \1 ", words)
    words = re.sub(r"<[a-zA-Z/!][^<>]*>?", " ", words)
    return re.sub(r'^[^<>"]*"[^<>"]*>', " ", words)


def left_out(path, words, before, after):
    """The name of the rule by which a string is none that a builder reads; None if he reads it."""
    bare = re.sub(r"%[-+0 #]*\d*(?:\.[\d*]+)?(?:ll|[lhz])?[a-zA-Z]", " ", without_markup(words))
    bare = re.sub(r"&\w+;", " ", bare)
    if before == "include":
        return "an #include"
    if not re.search(r"[A-Za-z]{2}", bare):
        return "a format: no word in it"
    if re.search(r"_(json|csv)\.c$|json_page\.[ch]$|csv_page\.[ch]$", path) and " " not in words.strip():
        return "a key of JSON or CSV"
    if re.fullmatch(r"\S*[/_$]\S*|\.[\w-]+|\w[\w.]*\.[a-z]+", words.strip()) or words.startswith("$("):
        return "a path, a key, a macro of make"
    if path == "grammar/scanner.re" and after == "{":
        return "a word of the language in the scanner"
    return None


def literals(path, text):
    """(its parts with their lines, the rule that leaves it out) of every string; those beside one another are one."""
    pieces, before, asserting, depth = [], "", False, 0

    def finish(after):
        if not pieces:
            return None
        words = "".join(piece for _, piece in pieces)
        rule = "said by the compiler" if asserting else left_out(path, words, before, after)
        found = (list(pieces), rule)
        pieces.clear()
        return found

    for token in TOKEN.finditer(text):
        if token.lastgroup == "blank":
            continue
        if token.lastgroup == "string":
            pieces.append((line_of(text, token.start()), plain(token[0])))
            continue
        found = finish(token[0])
        if found:
            yield found
        before = token[0]
        if token[0] == "_Static_assert":
            asserting, depth = True, 0
        elif asserting and token[0] in "()":
            depth += 1 if token[0] == "(" else -1
            asserting = depth > 0
    found = finish("")
    if found:
        yield found


def read_c(path, text):
    for pieces, rule in literals(path, text):
        if rule is None:
            shown = [(line, without_markup(piece)) for line, piece in pieces]
            yield Literal(path, shown)


def c_comments(path, text):
    for found in re.finditer(r"/\*.*?\*/|(?://[^\n]*(?:\n\s*(?=//))?)+", text, re.S):
        yield Text(path, [(line_of(text, found.start()), re.sub(r"^[ \t]*(?:///?|/?\*)", " ", found[0], flags=re.M))])


def read_example_in_c(path, text):
    yield from read_c(path, text)
    yield from c_comments(path, text)


# --- patterns ---

def read_pattern(path, text, first_line=1):
    """Comments, those of lines that follow one another as one; and texts in quotes."""
    comment = []
    for number, line in enumerate(text.split("\n"), first_line):
        code, quoted, at = "", [], 0
        for found in re.finditer(r'"(?:\\.|[^"\\])*"|//.*', line):
            if found[0].startswith("//"):
                break
            quoted.append(found[0])
        else:
            found = None
        if found is None:
            if comment:
                yield Text(path, comment)
                comment = []
        else:
            if comment and line[:found.start()].strip():
                yield Text(path, comment)
                comment = []
            comment.append((number, found[0].lstrip("/") + " "))
        for each in quoted:
            if re.search(r"[A-Za-z]{2}", each):
                yield Text(path, [(number, plain(each))])
    if comment:
        yield Text(path, comment)


# --- pages ---

def read_markdown(path, text):
    """Paragraphs, rows of tables and headings; of examples what is no code."""
    paragraph, fence, block, block_line = [], None, [], 0
    for number, line in enumerate(text.split("\n") + [""], 1):
        if line.startswith("```"):
            if paragraph:
                yield Text(path, paragraph)
                paragraph = []
            if fence is None:
                fence, block, block_line = line[3:].strip(), [], number + 1
                continue
            if fence.startswith("lay") or "edition 1" in block:
                yield from read_pattern(path, "\n".join(block), block_line)
            else:
                yield from (Text(path, [(block_line + i, each)]) for i, each in enumerate(block) if each.strip())
            fence = None
        elif fence is not None:
            block.append(line)
        elif not line.strip() or line.startswith(("|", "#", "- ")):
            if paragraph:
                yield Text(path, paragraph)
            paragraph = [(number, line + " ")] if line.strip() else []
        else:
            paragraph.append((number, line + " "))


def read_schema(path, text):
    for found in re.finditer(r'"(?:description|title)"\s*:\s*("(?:\\.|[^"\\])*")', text):
        yield Text(path, [(line_of(text, found.start()), json.loads(found[1]))])


def read_script(path, text):
    """Of a script only strings are shown: words with blanks or a capital; all else are names of the page's parts."""
    for found in re.finditer(r'"((?:\\.|[^"\\\n])*)"|`((?:\\.|[^`\\])*)`', text):
        words = found[1] or found[2] or ""
        if re.search(r"[A-Za-z]{2}", words) and re.search(r"[A-Z]|[a-z] | [a-z]", words):
            yield Text(path, [(line_of(text, found.start()), re.sub(r"\$\{[^}]*\}", " ", words))])


def read_style(path, text):
    for found in re.finditer(r'content:\s*"([^"]*[A-Za-z]{2}[^"]*)"', text):
        yield Text(path, [(line_of(text, found.start()), found[1])])


def read_makefile(path, text):
    """What `make help` and the targets say."""
    for number, line in enumerate(text.split("\n"), 1):
        for found in re.finditer(r"echo '((?:[^']|'\\'')*)'", line):
            yield Text(path, [(number, found[1].replace("'\\''", "'"))])


READERS = (
    ("src", "**/*.[ch]", read_c),
    ("grammar", "*.y", read_c),
    ("grammar", "*.re", read_c),
    ("grammar", "**/*.md", read_markdown),
    ("grammar", "*.schema.json", read_schema),
    ("stdlib", "*.lay", read_pattern),
    ("src/cli", "*.lay", read_pattern),
    ("examples", "**/*.lay", read_pattern),
    ("examples", "*.c", read_example_in_c),
    ("src", "**/*.js", read_script),
    ("src", "**/*.css", read_style),
    (".", "README.md", read_markdown),
    (".", "Makefile", read_makefile),
)


def files():
    for folder, names, reader in READERS:
        for path in sorted((ROOT / folder).glob(names)):
            yield str(path.relative_to(ROOT)), path.read_text(encoding="utf-8"), reader


def all_texts():
    for name, text, reader in files():
        yield from reader(name, text)


def all_left_out():
    """(path, line, words, rule) of every string of C that nobody is shown."""
    for name, text, reader in files():
        if reader in (read_c, read_example_in_c):
            for pieces, rule in literals(name, text):
                if rule is not None:
                    yield name, pieces[0][0], "".join(piece for _, piece in pieces), rule
