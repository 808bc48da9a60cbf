"""Where a C file can be changed by one small fault, and how: read from its tokens, without a parser. What does not
compile is found out by the compiler."""
import re

TOKEN = re.compile(r"""
    (?P<blank>\s+|/\*.*?\*/|//[^\n]*|\\\n)
  | (?P<string>"(?:\\.|[^"\\\n])*")
  | (?P<char>'(?:\\.|[^'\\\n])*')
  | (?P<number>\.?\d(?:[eEpP][+-]|[\w.])*)
  | (?P<name>[A-Za-z_]\w*)
  | (?P<sign>>>=|<<=|\.\.\.|->|\+\+|--|<=|>=|==|!=|&&|\|\||[-+*/%&|^]=|<<|>>|\#\#|[^\w\s])
""", re.X | re.S)
DIRECTIVE = re.compile(r"^[ \t]*#[ \t]*(\w+)(?:\\\n|[^\n])*", re.M)
DEFINE = re.compile(r"[ \t]*#[ \t]*define[ \t]+\w+(\([^)]*\))?")

# Operators, each with those that may stand in its place.
BINARY = {
    "<": ("<=", ">"), "<=": ("<", ">="), ">": (">=", "<"), ">=": (">", "<="), "==": ("!=",), "!=": ("==",),
    "+": ("-",), "-": ("+",), "*": ("/",), "/": ("*",), "%": ("*",), "&&": ("||",), "||": ("&&",),
    "&": ("|",), "|": ("&",), "<<": (">>",), ">>": ("<<",),
    "+=": ("-=",), "-=": ("+=",), "*=": ("/=",), "/=": ("*=",), "|=": ("&=",), "&=": ("|=",),
}
COUNTING = {"++": "--", "--": "++"}
# Words that a builder acts on, and what would lead him astray.
OPPOSITES = dict([pair for a, b in (
    ("left", "right"), ("butt", "tip"), ("never", "always"), ("tight", "loose"), ("above", "below"), ("before", "after"),
    ("first", "last"), ("under", "over"), ("in", "out"), ("up", "down"), ("outside", "inside"), ("from", "to"),
    ("more", "less"), ("longer", "shorter"), ("wider", "narrower"), ("toward", "away"), ("cut", "keep"), ("on", "off"),
    ("start", "end"), ("begin", "end"), ("clockwise", "anticlockwise")) for pair in ((a, b), (b, a))])
NOTS = {"not": "", "never": "", "no": "a", "nothing": "all", "cannot": "can", "without": "with"}
KEYWORDS = {"if", "while", "for", "switch", "return", "sizeof", "case", "else", "do", "break", "continue", "default", "goto"}
TYPES = {"const", "static", "struct", "enum", "union", "unsigned", "signed", "int", "double", "bool", "char", "float",
         "long", "short", "void", "typedef", "extern", "inline", "LIST_OF", "_Static_assert", "size_t"}
# Calls within whose brackets nothing is changed: what a compiler alone reads; and room in memory, where more changes nothing,
# and less is found by the sanitizers (stage sanitized), which are too slow to look at every fault.
UNTOUCHED = {"_Static_assert", "arena_take", "arena_take_many"}
OPENING, CLOSING = {"(": ")", "[": "]", "{": "}"}, {")": "(", "]": "[", "}": "{"}


class Token:
    __slots__ = ("kind", "text", "start", "end")

    def __init__(self, kind, text, start):
        self.kind, self.text, self.start, self.end = kind, text, start, start + len(text)


class Site:
    """One place of a file, and the changes that can be made there: each replaces the bytes from start to end."""
    __slots__ = ("path", "start", "end", "kind", "changes", "line", "text", "inside")

    def __init__(self, source, start, end, kind, changes, inside):
        self.path, self.start, self.end, self.kind, self.changes = source.path, start, end, kind, changes
        self.line = source.text.count("\n", 0, start) + 1
        self.text = source.lines[self.line - 1].strip()
        self.inside = inside                      # a function: its lines say whether it was run

    def words(self, source_text, change):
        """`<` to `<=`, on one line and not too long."""
        old, new = (" ".join(each.split()) for each in (source_text[self.start:self.end], change))
        old, new = (text if len(text) <= 60 else text[:40] + " ... " + text[-15:] for text in (old, new))
        return f"{self.kind}: `{old}` removed" if new in ("", ";") else f"{self.kind}: `{old}` to `{new}`"


class Source:
    def __init__(self, path, text):
        self.path, self.text, self.lines = path, text, text.split("\n")
        self.tokens = list(self.read())
        self.match, self.scope = {}, {}
        self.pair_up()

    def read(self):
        """Tokens without blanks; of directives only what a #define says."""
        skipped, at = {}, 0
        for found in DIRECTIVE.finditer(self.text):
            define = DEFINE.match(found[0]) if found[1] == "define" else None
            skipped[found.start()] = found.start() + define.end() if define else found.end()
        while at < len(self.text):
            if at in skipped and skipped[at] > at:
                at = skipped[at]
                continue
            found = TOKEN.match(self.text, at)
            if found.lastgroup == "blank":        # a directive may begin within it
                inside = [each for each in skipped if at < each < found.end()]
                at = min(inside, default=found.end())
                continue
            yield Token(found.lastgroup, found[0], at)
            at = found.end()

    def pair_up(self):
        """match: by index, the other bracket. scope: of every `{`: body, data or type."""
        stack = []
        for i, token in enumerate(self.tokens):
            if token.kind != "sign":
                continue
            if token.text in OPENING:
                stack.append(i)
            elif token.text in CLOSING and stack and self.tokens[stack[-1]].text == CLOSING[token.text]:
                other = stack.pop()
                self.match[other], self.match[i] = i, other
        self.in_round = set()                     # within round brackets, as the head of a `for` is
        self.untouched = set()
        for i, token in enumerate(self.tokens):
            if token.text == "(" and i in self.match:
                self.in_round.update(range(i + 1, self.match[i]))
                if i and self.tokens[i - 1].text in UNTOUCHED:
                    self.untouched.update(range(i + 1, self.match[i]))
        depth = []
        for i, token in enumerate(self.tokens):
            while depth and self.match.get(depth[-1], len(self.tokens)) < i:
                depth.pop()
            if token.text == "{" and token.kind == "sign":
                self.scope[i] = self.kind_of_brace(i, self.scope[depth[-1]] if depth else None)
                depth.append(i)

    def kind_of_brace(self, i, outer):
        before = self.tokens[i - 1].text if i else ""
        if outer == "data" or before in ("=", ",", "return", "("):
            return "data"
        if before == ")":
            opening = self.match.get(i - 1, 0)
            head = self.tokens[opening - 1] if opening else None
            if head and (head.text in ("if", "while", "for", "switch") or outer is None and head.kind == "name"):
                return "body"
            return "data"
        if before in ("else", "do", ";", "{", "}", ":"):
            return "body" if outer == "body" else "type"
        return "type"

    def sites(self):
        found = []
        braces = []
        for i, token in enumerate(self.tokens):
            while braces and self.match.get(braces[-1], len(self.tokens)) < i:
                braces.pop()
            inside = any(self.scope[b] == "body" for b in braces)
            innermost = self.scope[braces[-1]] if braces else None
            self.add_token_sites(found, i, inside)
            if inside and innermost == "body":
                self.add_statement_sites(found, i)
            if token.text == "{" and i in self.scope:
                if self.scope[i] == "data" and i >= 2 and self.tokens[i - 2].text == "]" and self.tokens[i - 1].text == "=":
                    self.add_row_sites(found, i, inside)
                braces.append(i)
        self.add_listed_sites(found)
        return found

    def add(self, found, first, last, kind, changes, inside):
        found.append(Site(self, self.tokens[first].start, self.tokens[last].end, kind, changes, inside))

    # --- single tokens ---

    def is_binary(self, i):
        """Operators between two values. The tree is set by clang-format: only those stand between blanks, and neither
        a pointer's `*` nor a sign does."""
        return self.tokens[i - 1].end < self.tokens[i].start and self.tokens[i].end < self.tokens[i + 1].start

    def add_token_sites(self, found, i, inside):
        token = self.tokens[i]
        if i in self.untouched:
            return
        if token.kind == "number":
            changes = number_changes(token.text)
            if changes and not self.is_array_size(i) and not self.is_empty_value(i):
                self.add(found, i, i, "number", changes, inside)
        elif token.kind == "string":
            changes = string_changes(token.text)
            if changes:
                self.add(found, i, i, "words", changes, inside)
        elif token.kind == "sign" and 0 < i < len(self.tokens) - 1:
            if token.text in BINARY and self.is_binary(i):
                self.add(found, i, i, "operator", BINARY[token.text], inside)
            elif token.text in COUNTING:
                self.add(found, i, i, "operator", (COUNTING[token.text],), inside)
            elif token.text == "!" or token.text == "-" and self.tokens[i + 1].kind in ("name", "number") \
                    and self.tokens[i - 1].text in ("(", ",", "=", "?", ":", "return", "*"):
                self.add(found, i, i, "operator", ("",), inside)

    def is_array_size(self, i):
        """Of a declaration: more room changes nothing that can be seen."""
        if i < 3 or self.tokens[i - 1].text != "[" or self.tokens[i - 2].kind != "name":
            return False
        before = self.tokens[i - 3]
        return before.text == "*" or before.kind == "name" and before.text not in KEYWORDS

    def is_empty_value(self, i):
        """`{0}`: not the number, but a value with nothing in it."""
        return 0 < i < len(self.tokens) - 1 and [token.text for token in self.tokens[i - 1:i + 2]] == ["{", "0", "}"]

    # --- statements and conditions ---

    def add_statement_sites(self, found, i):
        token, before = self.tokens[i], self.tokens[i - 1]
        if token.text in ("if", "while") and self.tokens[i + 1].text == "(" and i + 1 in self.match:
            first, last = i + 1, self.match[i + 1]
            condition = self.text[self.tokens[first].start:self.tokens[last].end]
            self.add(found, first, last, "condition", (f"(!{condition})",), True)
        if i in self.in_round:
            return
        begins = before.text in (";", "{", "}", "else", "do") or before.text == ")" and self.is_header(i - 1) \
            or before.text == ":" and self.is_label(i - 1)
        if begins:
            end = self.statement_end(i)
            if end and self.may_go(i, end):
                self.add(found, i, end, "statement", (";",), True)

    def is_header(self, closing):
        opening = self.match.get(closing)
        return opening is not None and self.tokens[opening - 1].text in ("if", "while", "for", "switch")

    def is_label(self, colon):
        return self.tokens[colon - 1].text == "default" or self.tokens[colon - 2].text == "case"

    def statement_end(self, i):
        while i < len(self.tokens):
            if self.tokens[i].text in OPENING and self.tokens[i].kind == "sign":
                if i not in self.match:
                    return None
                i = self.match[i]
            elif self.tokens[i].text == ";":
                return i
            elif self.tokens[i].text == "}":
                return None
            i += 1
        return None

    def may_go(self, first, last):
        one, two, three = (self.tokens[first:last + 1] + [Token("", "", 0)] * 2)[:3]
        if one.text in ("break", "continue"):
            return True
        if one.kind == "name" and (one.text in KEYWORDS | TYPES or two.kind == "name" or two.text == ":"):
            return False
        if one.kind == "name" and two.text == "*" and (three.kind == "name" or three.text == "*"):
            return False                          # a pointer is declared
        return one.kind == "name" or one.text in ("*", "++", "--", "(")

    # --- rows of tables ---

    def elements(self, opening):
        """Of the braces' list: first and last token of each."""
        parts, first, i, last = [], opening + 1, opening + 1, self.match.get(opening, opening)
        while i < last:
            if self.tokens[i].text in OPENING and self.tokens[i].kind == "sign" and i in self.match:
                i = self.match[i]
            elif self.tokens[i].text == ",":
                parts.append((first, i - 1))
                first = i + 1
            i += 1
        if first < last:
            parts.append((first, last - 1))
        return [part for part in parts if part[0] <= part[1]]

    def value_of(self, part):
        """Without its designator."""
        first, last = part
        while first < last and self.tokens[first].text == "[" and first in self.match:
            first = self.match[first] + 1
            if self.tokens[first].text == "=":
                first += 1
        return first, last

    def text_of(self, part):
        return self.text[self.tokens[part[0]].start:self.tokens[part[1]].end]

    def keys_of(self, part):
        """Of a row that begins with words, `{"word", ...}` or `{KIND, "word", ...}`: where each of its first two ends, outermost
        first. Where such a table is looked up by them, the order of its rows means nothing, and what stands behind them is exchanged."""
        first, last = part
        ends = []
        for i in range(first + 1, min(first + 5, last - 1), 2):
            if self.tokens[i].kind not in ("string", "name") or self.tokens[i + 1].text != ",":
                break
            ends.append(i)
        if self.tokens[first].text != "{" or not any(self.tokens[i].kind == "string" for i in ends):
            return []
        return ends

    def behind_keys(self, a, b):
        """(key, what stands behind it) of each of two rows, or None. Words that are the same in both do not tell them apart: then
        the next belongs to the key as well."""
        one, other = self.keys_of(a), self.keys_of(b)
        for cut, cut_other in zip(one, other):
            pairs = []
            for (first, last), at in ((a, cut), (b, cut_other)):
                end = self.tokens[at].end
                pairs.append((self.text[self.tokens[first].start:end], self.text[end:self.tokens[last].end]))
            if pairs[0][0] != pairs[1][0] and self.tokens[cut].kind == "string":
                return pairs
        return None

    def is_signal(self, part):
        """`SIGTERM`: signals are listed as a set of those that something is done to, in any order."""
        return part[0] == part[1] and re.fullmatch(r"SIG[A-Z0-9]+", self.text_of(part)) is not None

    def add_row_sites(self, found, opening, inside):
        rows = self.elements(opening)
        for row, following in zip(rows, rows[1:]):
            a, b = self.value_of(row), self.value_of(following)
            pairs = self.behind_keys(a, b)
            if pairs:
                (key, behind), (other, behind_other) = pairs
                between = self.text[self.tokens[a[1]].end:self.tokens[b[0]].start]
                if behind != behind_other:
                    self.add(found, a[0], b[1], "row", (key + behind_other + between + other + behind,), inside)
                continue
            if self.text_of(a) == self.text_of(b) or self.is_signal(a) and self.is_signal(b):
                continue
            between = self.text[self.tokens[a[1]].end:self.tokens[b[0]].start]
            self.add(found, a[0], b[1], "row", (self.text_of(b) + between + self.text_of(a),), inside)
        if len(rows) > 2:
            for row, following in zip(rows, rows[1:]):
                end = following[0] - 1            # with its comma
                self.add(found, row[0], end, "row", ("",), inside)

    def add_listed_sites(self, found):
        """Tables written as `X(NAME, ...)`: what stands behind the names of two rows is exchanged."""
        rows = re.compile(r"(X\(\w+),((?:[^()\"]|\"(?:\\.|[^\"])*\"|\([^()]*\))*)\)")
        found_rows = list(rows.finditer(self.text))
        for one, two in zip(found_rows, found_rows[1:]):
            between = self.text[one.end():two.start()]
            if one[2].strip() == two[2].strip() or not re.fullmatch(r"(\s|\\\n|/\*.*?\*/)*", between):
                continue
            change = self.text[one.start():one.start(2)] + two[2] + self.text[one.end(2):two.start(2)] + one[2] + ")"
            found.append(Site(self, one.start(), two.end(), "row", (change,), False))


def number_changes(text):
    number = re.fullmatch(r"(\d+)([uUlL]*)", text)
    if number and (text[0] != "0" or len(number[1]) == 1):
        value = int(number[1])
        others = {value + 1, value - 1, value * 2} if value > 2 else {value + 1, max(value - 1, 0)}
        return tuple(f"{other}{number[2]}" for other in sorted(others - {value}))
    if re.fullmatch(r"0[xX].*|.*[pP].*", text):
        return ()
    try:
        value = float(text)
    except ValueError:
        return ()
    # A bound that only keeps rounding apart has to move far to mean anything.
    others = [1.0] if value == 0 else [value * 1e4] if value < 1e-4 else [value * 2, value / 2, value * 1.1]
    return tuple(repr(other) for other in others)


def string_changes(text):
    """Words in texts that a person reads: two words at least, and nothing of a format for machines (markup, JSON, path
    data). One word that says which way, when or not is turned round; where there is none, a long word is left out."""
    inner = text[1:-1]
    plain = re.sub(r"%[-+0 #]*\d*(?:\.[\d*]+)?(?:ll|[lhz])?[a-zA-Z]|\\.", " ", inner)
    words = re.findall(r"(?<![\w-])[A-Za-z]{2,}(?![\w-])", plain)
    if len(words) < 2 or re.search(r"[<>={}#]|://|\w:\w|\d[.,]\d", inner) or " " not in inner.strip():
        return ()
    changes = []
    for found in re.finditer(r"(?<![\w%\\-])[A-Za-z]{2,}(?![\w-])", inner):
        word = found[0].lower()
        other = OPPOSITES.get(word, NOTS.get(word))
        if other is not None:
            other = other.capitalize() if found[0][0].isupper() else other
            changes.append(f'"{inner[:found.start()]}{other}{inner[found.end():]}"')
    if not changes:
        for found in re.finditer(r"(?<![\w%\\-])[A-Za-z]{4,}(?![\w-])", inner):
            changes.append(f'"{inner[:found.start()]}{inner[found.end():].lstrip(" ")}"')
    return tuple(changes)
