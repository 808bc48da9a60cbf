#!/usr/bin/python3
"""Nothing is left out of a plan in silence: the last check of a compilation.

Muted: `mute` is turnlay that keeps a finding to itself. What the finding was about is then left out and nothing says so;
       the last check notices, says so in plain words, and no page is written.
Fuzz:  the program as it is never gets there: whatever is done to a file, all that is left out has its finding.
       The seed is printed; SEED= and N= repeat and lengthen it.
"""
import os
import pathlib
import random
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from changes import TOKEN, mutant
from checks import BUILD, ROOT, Checks, in_turn, scratch, turnlay

MUTE = str((ROOT / BUILD / "mute").resolve())
SEED = int(os.environ.get("SEED", random.randrange(1_000_000)))
COUNT = int(os.environ.get("N", 600))

# Errors that leave nothing out: edition 1 is read for an unknown one, the nearest bound is taken for a value outside its
# range, and all further ones are rules about what is planned whole.
NOTHING_LEFT_OUT = {"T011", "T203", "T304", "T305", "T306", "T314", "T315", "T316", "T317", "T401", "T402", "T403", "T408", "T601", "T603", "T605",
                    "T607", "T608"}

# Deeper than the limit, the pattern that calls nothing first, and last.
LIMIT_CALLS = 64


def chain(length, leaf_first):
    """Patterns that call one another: so many, one below the other."""
    patterns = ["pattern p0() { band 20 turns of navy }"]
    patterns += [f"pattern p{i}() {{ p{i - 1}() }}" for i in range(1, length)]
    return "\n".join(["edition 1", "thread navy { turns: 67 per cm }", "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }",
                      *(patterns if leaf_first else reversed(patterns)),
                      f'rod "R" on tube {{ at 20 cm {{ band 20 turns of navy p{length - 1}() }} }}', ""])


def errors():
    text = (ROOT / "src/base/finding_table.h").read_text(encoding="utf-8")
    return re.findall(r'X\("(T\d+)", \w+, SEVERITY_ERROR', text)


def failing_example(code):
    page = (ROOT / f"grammar/findings/{code}.md").read_text(encoding="utf-8")
    block = re.search(r"^Fails:\n+```lay[^\n]*\n(.*?)^```$", page, re.M | re.S)
    return block[1] if block else None


def check_muted(checks, folder):
    for code in errors():
        text = failing_example(code)
        if text is None or code in NOTHING_LEFT_OUT:
            continue
        source, page = pathlib.Path(folder) / f"{code}.lay", pathlib.Path(folder) / f"{code}.plan"
        source.write_text(text, encoding="utf-8")
        answer = turnlay("plan", "-o", page, source, environment={"MUTE": code}, program=MUTE)
        said = answer.err.decode()
        checks.check(answer.code == 3 and "bug in turnlay" in said and "send the file in" in said
                     and re.search(r"line \d+ of \S+", said) and not page.exists(),
                     f"{code} kept silent: noticed, and no page is written", answer.words())
        answer = turnlay("plan", "-o", page, source, environment={"MUTE": ""}, program=MUTE)
        checks.check(answer.code == 1 and code in answer.err.decode(), f"{code} said: an error like any other",
                     answer.words())


def check_call_depth(checks, folder):
    for leaf_first in (True, False):
        for length in (LIMIT_CALLS, LIMIT_CALLS + 1, LIMIT_CALLS + 2, 3 * LIMIT_CALLS):
            source = pathlib.Path(folder) / "chain.lay"
            source.write_text(chain(length, leaf_first), encoding="utf-8")
            answer = turnlay("check", "--findings", "json", source)
            order = "leaf first" if leaf_first else "leaf last"
            wanted = ["T902"] if length > LIMIT_CALLS else []
            told = [each["code"] for each in answer.findings()] if answer.code in (0, 1) else None
            checks.check(told == wanted and answer.code == len(wanted),
                         f"{length} calls deep, {order}: {wanted or 'planned'}", answer.words() + answer.out.decode())


# --- fuzz ---

def sources():
    """Texts to begin with: every file of the tests and examples, and every example in a page."""
    texts = [path.read_text(encoding="utf-8", errors="replace") for folder in ("examples", "stdlib", "tests")
             for path in sorted((ROOT / folder).rglob("*.lay")) if path.stat().st_size < 20_000]
    for page in sorted((ROOT / "grammar").rglob("*.md")):
        texts += re.findall(r"^```lay[^\n]*\n(edition 1\n.*?)^```$", page.read_text(encoding="utf-8"), re.M | re.S)
    return [text for text in texts if len(TOKEN.findall(text)) > 1]  # some of a corpus are next to nothing


def check_fuzz(checks, folder):
    chance = random.Random(SEED)
    texts = sources()
    words = sorted({word for text in texts for word in TOKEN.findall(text)})
    words += ["1 mm / 0", "0", "-1", "1e9", "first([])", "1/0", "[]", "999999999", "nobody", '"', "{", "}", "\u00e9", "@"] * 20
    made = [mutant(chance.choice(texts), words, chance) for _ in range(COUNT)]

    def run(index):
        path = pathlib.Path(folder) / f"fuzz-{index}.lay"
        path.write_text(made[index], encoding="utf-8")
        return turnlay("check", "-I", ROOT / "examples", path)

    print(f"fuzz: SEED={SEED} N={COUNT}")
    seen = set()
    for index, answer in enumerate(in_turn(run, range(COUNT))):
        seen.add(answer.code)
        checks.check(answer.code in (0, 1), f"mutant {index} of seed {SEED}: a plan or findings",
                     answer.words()[-300:] + "\n" + made[index])
    checks.check(seen == {0, 1}, "some mutants are sound and some are not", seen)


def main():
    checks = Checks()
    with scratch() as folder:
        check_muted(checks, folder)
        check_call_depth(checks, folder)
        check_fuzz(checks, folder)
    checks.finish()


main()
