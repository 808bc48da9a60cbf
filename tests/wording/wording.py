#!/usr/bin/python3
"""One word for one thing, and plain words: no text that a builder can read holds a word of grammar/avoided_words.txt.

  --list       prints every such text: file, line, words
  --left-out   prints every string of the program that is none, and by which rule

tests/wording/exceptions.txt  where one of the words stands nevertheless, and why
tests/wording/not_yet.txt     folders and files not yet gone through: what stands there is named and passed over
"""
import collections
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks
from texts_read import Text, all_left_out, all_texts

HERE = pathlib.Path(__file__).resolve().parent
LIST = ROOT / "grammar/avoided_words.txt"
REFERENCE = ROOT / "grammar/reference.md"


def rows(path, cells):
    """The rows of a table of ours: cells between `|`, comments and blank lines left out."""
    for line in path.read_text(encoding="utf-8").split("\n"):
        if line.strip() and not line.startswith("#"):
            found = [each.strip() for each in line.split("|")]
            yield found + [""] * (cells - len(found))


def pattern(words):
    """One pattern for all of them, as whole words, in any case, over blanks and line breaks; the longest first."""
    ordered = sorted(words, key=len, reverse=True)
    each = [re.escape(word).replace(r"\ ", r"\s+").replace(r"\*", "[a-z]*") for word in ordered]
    return re.compile(r"(?<!\w)(?:" + "|".join(f"({one})" for one in each) + r")(?!\w)", re.I), ordered


def find(matcher, texts):
    """(path, line, word of the list, what stands round it)"""
    compiled, ordered = matcher
    for text in texts:
        for found in compiled.finditer(text.words):
            around = text.words[max(0, found.start() - 30):found.end() + 30]
            yield text.path, text.line_at(found.start()), ordered[found.lastindex - 1], " ".join(around.split())


def glossary():
    section = REFERENCE.read_text(encoding="utf-8").partition("\n## Glossary\n")[2].partition("\n## ")[0]
    return re.findall(r"^\| ([^|]*) \| [^|]* \|$", section, re.M)[1:]


def check_list(checks, avoided, matcher):
    words = [row[0] for row in avoided]
    checks.check(len(words) == len(set(words)), "each word is in the list once",
                 [word for word, count in collections.Counter(words).items() if count > 1])
    for word, instead, *_ in avoided:
        checks.check(instead, f"the list says what is written for `{word}`")
        said = word.replace("*", "")
        broken = said.replace(" ", "\n   ")
        hits = list(find(matcher, [Text("made up", [(1, f"Then {said}, and {broken.capitalize()}.")])]))
        checks.check([hit[2] for hit in hits] == [word, word], f"`{word}` is found in a sentence, and over a line break", hits)
        longer = "" if word.endswith("*") else f"{said}zx"
        inside = list(find(matcher, [Text("made up", [(1, f"x{said} {longer} _{said} {said}_mm")])]))
        checks.check(not [hit for hit in inside if hit[2] == word], f"`{word}` is not found within another word", inside)


def check_glossary(checks, avoided, matcher):
    heads = glossary()
    words = [word for head in heads for word in head.split(", ")]
    checks.check(len(words) > 50, "the reference has its glossary", words)
    checks.check(len(words) == len(set(words)), "the glossary has each word once")
    checks.check(heads == sorted(heads, key=str.lower), "the glossary is in order",
                 [b for a, b in zip(heads, heads[1:]) if a.lower() > b.lower()])
    used = list(find(matcher, (Text("glossary", [(1, word)]) for word in words)))
    checks.check(not used, "the glossary has no word of the list", used)
    instead = list(find(matcher, (Text("instead", [(1, row[1])]) for row in avoided)))
    checks.check(not instead, "nothing of the list is written in the place of another", instead)


# One text of each kind that a builder reads: were they not found, the rest would prove nothing.
KNOWN = (
    ("src/base/finding_table.h", "an unknown unit"),
    ("src/check/rules/held.c", "is not held before its first turn"),
    ("src/cli/tables.c", "the version of the program"),
    ("src/emit/sheet/sheet_html.c", "All steps"),
    ("src/emit/sheet/moves.js", "Next step"),
    ("src/words/trade_words.c", "butt"),
    ("grammar/parser.y", "a text in quotes"),
    ("grammar/reference.md", "A pattern file is plain text"),
    ("grammar/findings/T401.md", "The new thread of a fade"),
    ("grammar/plan.schema.json", "The thread's name."),
    ("stdlib/fades.lay", "a fade needs at least 2 shades"),
    ("examples/harbour.lay", "Shades in order"),
    ("README.md", "Every finding shows"),
    ("Makefile", "build the program"),
)


def check_reading(checks, texts):
    for path, words in KNOWN:
        checks.check(any(text.path == path and words in text.words for text in texts),
                     f"{path}: `{words}` is among the texts")


def in_room(path, rooms):
    return any(path == room or path.startswith(room.rstrip("/") + "/") for room in rooms)


def check_words(checks, texts, instead, matcher):
    exceptions = {(path, word): why for path, word, why in rows(HERE / "exceptions.txt", 3)}
    not_yet = [row[0] for row in rows(HERE / "not_yet.txt", 1)]
    used, waiting, standing = set(), collections.Counter(), collections.defaultdict(list)
    for path, line, word, around in find(matcher, texts):
        if (path, word) in exceptions:
            used.add((path, word))
        elif in_room(path, not_yet):
            waiting[path] += 1
        else:
            standing[path].append(f"{path}:{line}: `{word}`, write `{instead[word]}`: {around}")
    for path in sorted({text.path for text in texts}):
        checks.check(not standing[path], f"{path} has no word of the list", "\n".join(standing[path]))
    for (path, word), why in exceptions.items():
        checks.check((path, word) in used and why, f"the exception for `{word}` in {path} is needed, and says why", why)
    for path, count in sorted(waiting.items()):
        checks.skip(path, f"not yet gone through: {count} words of the list")


def print_lists(texts):
    if "--list" in sys.argv:
        for text in texts:
            print(f"{text.path}:{text.line}: {' '.join(text.words.split())}")
    if "--left-out" in sys.argv:
        for path, line, words, rule in all_left_out():
            print(f"{path}:{line}: {rule}: {words!r}")


def main():
    texts = list(all_texts())
    if sys.argv[1:]:
        print_lists(texts)
        return
    checks = Checks()
    avoided = [row[:3] for row in rows(LIST, 3)]
    instead = {row[0]: row[1] for row in avoided}
    matcher = pattern(instead)
    check_list(checks, avoided, matcher)
    check_glossary(checks, avoided, matcher)
    check_reading(checks, texts)
    check_words(checks, texts, instead, matcher)
    checks.finish()


main()
