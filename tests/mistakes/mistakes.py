#!/usr/bin/python3
"""Single mistakes of those who are new to the language, each with the file that was meant: every one is found, and the edits that
are offered, applied one after another, end in a file with the plan of the one that was meant. README.md says how a list is
written.

mistakes.py                  the stage: all lists, held against open.txt, the record of what does not end as meant yet
mistakes.py --renew          writes open.txt and said.record anew, and says what has got worse
mistakes.py --show WORDS     the cases that hold WORDS: each finding and edit, round for round
mistakes.py LIST.txt ...     how the cases of other lists end, without a record
"""
import collections
import json
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import Checks, in_turn, scratch, turnlay

HERE = pathlib.Path(__file__).resolve().parent
RECORD = HERE / "open.txt"
SAID = HERE / "said.record"      # every word that is said of each mistake, so that none changes unread
FINDINGS = ("check", "--findings", "json")
LEAST_WITH_EDIT = 0.85
LEAST_CASES = 3100
MOST_OPEN = 23
MOST_ROUNDS = 10
FILES_AT_A_TIME = 30
MARK = b"\xef\xbb\xbf"

# How a case may end, worst first.
ENDS = {
    "unseen": "another meaning than was meant, and not a word about it",
    "no-edit": "found, but nothing is offered that a program could apply",
    "stuck": "errors are left after all edits",
    "other-plan": "no errors are left, and another plan than was meant",
    "mended": "the plan that was meant",
    "understood": "the plan that was meant, without any edit: the language reads it so",
}
OPEN = list(ENDS)[:4]

Case = collections.namedtuple("Case", "base line wrong meant")
# A file after its edits: `rounds` has the findings and the text that they are about, of each round.
Mended = collections.namedtuple("Mended", "text rounds")


def unescaped(words):
    return re.sub(r"\\(n|t|\\|u[0-9a-f]{4})",
                  lambda found: {"n": "\n", "t": "\t", "\\": "\\"}.get(found[1]) or chr(int(found[1][1:], 16)), words)


def changed(text, right, written, line):
    if right not in text:
        sys.exit(f"mistakes: this is not in the file that was meant: {right!r}, of the case\n    {line}")
    return text.replace(right, written, 1)


def case_of(base, text, line):
    wrong = meant = text
    for change in line.split(" ;; "):
        parts = [unescaped(part) for part in re.split(r" =>(?: |$)", change)]
        if len(parts) not in (2, 3):
            sys.exit(f"mistakes: `right => wrong` or `right => wrong => meant` is wanted:\n    {line}")
        wrong = changed(wrong, parts[0], parts[1], line)
        meant = changed(meant, parts[0], parts[-1], line) if len(parts) == 3 else meant
    return Case(base, line, wrong.encode(), meant.encode())


def cases_of(path):
    """A list's cases; `in FILE.lay:` says which file was meant by those that follow."""
    base, text = None, None
    for line in path.read_text(encoding="utf-8").splitlines():
        named = re.fullmatch(r"in (\S+\.lay):", line)
        if named:
            base, text = named[1], (HERE / named[1]).read_text(encoding="utf-8")
        elif line.strip() and not line.startswith("// "):
            yield case_of(base, text, line)


def answers(folder, command, texts):
    """The JSON that a command prints for each of the texts, None for one that ends by itself in no lawful way. A file with errors
    has no plan, so that a plan's command takes only files without."""
    paths = []
    for number, text in enumerate(texts):
        paths.append(f"{number}.lay")
        (folder / paths[-1]).write_bytes(text)

    def some(names):
        answer = turnlay(*command, "-I", HERE, *names, folder=folder)
        try:
            pages = [json.loads(page, parse_float=str) for page in re.split(r"(?<=^})\n(?=\{$)", answer.out.decode(), flags=re.M)]
        except ValueError:
            pages = []
        if answer.code in (0, 1) and len(pages) == len(names):
            return pages
        return [page for name in names for page in some([name])] if len(names) > 1 else [None]

    batches = [paths[first:first + FILES_AT_A_TIME] for first in range(0, len(paths), FILES_AT_A_TIME)]
    return [page for pages in in_turn(some, batches) for page in pages]


def applied(edit, text):
    before = len(MARK) if text.startswith(MARK) else 0
    return text[:edit["start"] + before] + edit["text"].encode() + text[edit["end"] + before:]


def own_edits(page):
    """The edits of the file that the builder wrote, and so can change."""
    edits = (each.get("edit") for each in page["findings"])
    return [edit for edit in edits if edit and re.fullmatch(r"\d+\.lay", edit["file"])]


def first_edit(page):
    return next(iter(own_edits(page)), None)


def mended(folder, texts):
    """Applies the first edit of each text, asks again, and so on."""
    all_rounds = [[] for _ in texts]
    now = list(texts)
    going = range(len(texts))
    for number in range(MOST_ROUNDS + 1):
        pages = answers(folder, FINDINGS, [now[each] for each in going])
        goes_on = []
        for each, page in zip(going, pages):
            all_rounds[each].append((page, now[each]))
            edit = page and first_edit(page)
            if edit and number < MOST_ROUNDS:
                now[each] = applied(edit, now[each])
                goes_on.append(each)
        going = goes_on
    return [Mended(text, rounds) for text, rounds in zip(now, all_rounds)]


def without_places(page):
    if isinstance(page, dict):
        return {key: without_places(value) for key, value in page.items() if key != "at"}
    return [without_places(value) for value in page] if isinstance(page, list) else page


def plans(folder, texts):
    pages = answers(folder, ("plan", "--format", "json"), texts)
    for page in filter(None, pages):
        del page["file_id"], page["sources"]  # the file's words and names, which may be others for the same plan
    return [page and without_places(page) for page in pages]


def errors(page):
    return page is None or page["errors"] > 0


def nonsense(rounds):
    """What no finding may say, and advice that is none."""
    for page, text in rounds:
        if page is None:
            yield "no page of findings: a crash, or an exit code above 1", text.decode()
            continue
        for each in page["findings"]:
            said = [each["message"], each["mend"], each["at"]["label"], each.get("edit", {}).get("text", "")]
            if any("(null)" in words for words in said) or not each["message"] or len(each["mend"].split()) < 2:
                yield "nonsense, or no advice", f"{each['code']}: {each['message']} | {each['mend']} | {each.get('edit')}"
        for edit in own_edits(page):
            if applied(edit, text) == text:
                yield "an edit that changes nothing", edit


def is_vague(page):
    return page is not None and any("what is missing" in each["mend"] for each in page["findings"])


def end_of(case, result, plan, meant_plan):
    first = result.rounds[0][0]
    last = result.rounds[-1][0]
    if errors(first) and (first is None or not first_edit(first)):
        return "no-edit"
    if errors(last):
        return "stuck"
    if len(result.rounds) == 1:
        return "understood" if plan == meant_plan else "unseen"
    return "mended" if plan == meant_plan else "other-plan"


def ends_of(cases):
    """For each case how it ends, and its Mended. What was meant is mended too: a band of half a millimetre may be what was
    meant and yet too short to hold."""
    with scratch() as name:
        folder = pathlib.Path(name)
        meant = sorted({case.meant for case in cases})
        results = mended(folder, [case.wrong for case in cases] + meant)
        for text, result in zip(meant, results[len(cases):]):
            if errors(result.rounds[-1][0]):
                said = [each["message"] for page, _ in result.rounds if page for each in page["findings"]]
                sys.exit(f"mistakes: a file that was meant has errors: {said}\n{text.decode()}")
        texts = sorted({result.text for result in results if not errors(result.rounds[-1][0])})
        plan = dict(zip(texts, plans(folder, texts)))
    meant_plan = {text: plan.get(result.text) for text, result in zip(meant, results[len(cases):])}
    return [(end_of(case, result, plan.get(result.text), meant_plan[case.meant]), result)
            for case, result in zip(cases, results)]


def recorded():
    rows = [line.split(None, 2) for line in RECORD.read_text(encoding="utf-8").splitlines()] if RECORD.exists() else []
    return {(base, line): word for word, base, line in rows}


def record(case, word):
    return f"{word:<10}  {case.base:<14}  {case.line}"


def path_of(result):
    """What was said and done, round for round."""
    for page, _ in result.rounds:
        for each in page["findings"] if page else ():
            also = [each["at"]["label"], *(f"{more['line']}: {more['label']}" for more in each.get("related", []))]
            message = each["message"].replace(f"{HERE.parent.parent}/", "")  # where the library was looked for
            yield " | ".join([f"{each['code']} {message}: {each['mend']}", *filter(None, also)])
            if "edit" in each:
                yield "    {start}-{end}: {text!r}".format(**each["edit"])
        yield "--"


def all_said(cases, ends):
    """A block a case: its line, then what was said, round for round."""
    return ["\n".join([f"{case.base}: {case.line}", *(f"    {line}" for line in path_of(result))])
            for case, (_, result) in zip(cases, ends)]


def check_said(checks, cases, ends):
    kept = dict(block.partition("\n")[::2] for block in SAID.read_text(encoding="utf-8").split("\n\n"))
    for block in all_said(cases, ends):
        name, _, said = block.partition("\n")
        checks.check(kept.get(name) == said, f"{name}: what is said is what {SAID.name} has", f"{kept.get(name)}\n now\n{said}")


def shares(ends):
    """The summary line, and the share with an edit, of those mistakes that are read otherwise than they were meant."""
    words = collections.Counter(word for word, _ in ends)
    mistakes = max(1, len(ends) - words["understood"])
    found = mistakes - words["unseen"]
    with_edit = found - words["no-edit"]
    print(f"{len(ends)} cases, {words['understood']} read as meant; of {mistakes} mistakes {found} found, {with_edit} "
          f"({with_edit / mistakes:.1%}) with an edit, {words['mended']} ({words['mended'] / mistakes:.1%}) end as meant; "
          f"{', '.join(f'{words[word]} {word}' for word in OPEN)}")
    return with_edit / mistakes


def stage(cases, ends):
    checks = Checks()
    known = recorded()
    for case, (word, result) in zip(cases, ends):
        name = f"{case.base}: {case.line}"
        for what, details in dict(nonsense(result.rounds)).items():
            checks.check(False, f"{name}: {what}", details)
        expected = known.pop((case.base, case.line), None)
        got = word if word in OPEN else None
        checks.check(got == expected, f"{name}: ends `{word}`, recorded is `{expected or 'as meant'}`",
                     "\n".join(path_of(result)))
    check_said(checks, cases, ends)
    for base, line in known:
        checks.check(False, f"{base}: {line}: recorded, but in no list")
    share = shares(ends)
    still_open = sum(1 for word, _ in ends if word in OPEN)
    vague = [f"{case.base}: {case.line}" for case, (_, result) in zip(cases, ends)
             if any(is_vague(page) for page, _ in result.rounds)]
    checks.check(not vague, f"no advice leaves the builder to look for what is missing: {len(vague)} do", "\n".join(vague))
    checks.check(len({(case.base, case.line) for case in cases}) == len(cases), "no case stands twice",
                 [each for each, times in collections.Counter((case.base, case.line) for case in cases).items() if times > 1])
    checks.check(len(cases) >= LEAST_CASES, f"there are {LEAST_CASES} cases", len(cases))
    checks.check(share >= LEAST_WITH_EDIT, f"{LEAST_WITH_EDIT:.0%} of the mistakes carry an edit", f"{share:.1%}")
    checks.check(still_open <= MOST_OPEN, f"at most {MOST_OPEN} cases are open", still_open)
    checks.finish()


def renew(cases, ends):
    known = recorded()
    for case, (word, _) in zip(cases, ends):
        was = known.get((case.base, case.line))
        if word in OPEN and known and (was is None or OPEN.index(word) < OPEN.index(was)):
            print(f"new or worse (recorded: {was}): {record(case, word)}")
    RECORD.write_text("".join(sorted(record(case, word) + "\n" for case, (word, _) in zip(cases, ends) if word in OPEN)),
                      encoding="utf-8")
    SAID.write_text("\n\n".join(all_said(cases, ends)), encoding="utf-8")
    shares(ends)


def show(cases, ends, only=OPEN):
    for case, (word, result) in zip(cases, ends):
        if word in only:
            print(record(case, word))
            for line in path_of(result):
                print(f"        {line}")
    shares(ends)


def main(arguments):
    others = [pathlib.Path(name) for name in arguments if name.endswith(".txt")]
    lists = others or sorted(path for path in HERE.glob("*.txt") if path != RECORD)
    cases = [case for path in lists for case in cases_of(path)]
    if arguments[:1] == ["--show"]:
        cases = [case for case in cases if arguments[1] in case.line]
        show(cases, ends_of(cases), ENDS)
    elif arguments[:1] == ["--renew"]:
        renew(cases, ends_of(cases))
    elif others:
        show(cases, ends_of(cases))
    else:
        stage(cases, ends_of(cases))


main(sys.argv[1:])
