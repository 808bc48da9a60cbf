#!/usr/bin/python3
"""The pages behind `turnlay explain`: each finding has one, and its examples do what it says of them.

Fails:         gives the finding; its edit, if it has one, makes Mended of it byte for byte
At the limit:  does not give it; where there is a limit
Mended:        does not give it, nor any that Fails did not give; always there if the finding has an edit
A page whose finding lies not in one file's text has a line `No example: why` instead.
"""
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, scratch, turnlay
from mends import check_way_out, mends

PARTS = ("Fails", "At the limit", "Mended")


def table():
    """(code, title) of every finding."""
    text = (ROOT / "src/base/finding_table.h").read_text(encoding="utf-8")
    return re.findall(r'X\("(T\d+)", \w+, \w+, "([^"]*)"\)', text)


def examples(page):
    """The block after each of the lines `Fails:`, `At the limit:`, `Mended:`."""
    found = {}
    for part in PARTS:
        block = re.search(rf"^{part}:\n+```lay[^\n]*\n(.*?)^```$", page, re.M | re.S)
        if block:
            found[part] = block[1]
    return found


def compiled(folder, code, part, text):
    """(findings, what went wrong)"""
    path = pathlib.Path(folder) / f"{code}-{part.replace(' ', '-')}.lay"
    path.write_bytes(text.encode())
    answer = turnlay("check", "--findings", "json", path)
    if answer.code not in (0, 1):
        return [], answer.words()
    return answer.findings(), ""


def said(findings):
    return "\n".join(f"{each['at']['line']}:{each['at']['column']}: {each['code']}: {each['message']}"
                     for each in findings)


def apply(edit, text):
    source = text.encode()
    return (source[:edit["start"]] + edit["text"].encode() + source[edit["end"]:]).decode()


def difference(wanted, got):
    import difflib
    return "\n".join(difflib.unified_diff(wanted.splitlines(), got.splitlines(), "Mended", "the edit's result", lineterm=""))


def check_examples(checks, folder, code, found):
    results = {part: compiled(folder, code, part, text) for part, text in found.items()}
    for part, (_, fault) in results.items():
        checks.check(not fault, f"{code}: {part} can be compiled", fault)
    codes = {part: {each["code"] for each in findings} for part, (findings, _) in results.items()}
    fails = results["Fails"][0]
    checks.check(code in codes["Fails"], f"{code}: Fails gives it", said(fails))
    for part in codes:
        if part != "Fails":
            checks.check(code not in codes[part], f"{code}: {part} does not give it", said(results[part][0]))
    edits = [each["edit"] for each in fails if each["code"] == code and "edit" in each]
    if "Mended" in found:
        checks.check(codes["Mended"] <= codes["Fails"], f"{code}: Mended gives nothing new", said(results["Mended"][0]))
    if edits:
        got = apply(edits[0], found["Fails"])
        checks.check(got == found.get("Mended"), f"{code}: its edit makes Mended of Fails",
                     difference(found.get("Mended", ""), got))


def check_page(checks, folder, code, title):
    path = ROOT / "grammar/findings" / f"{code}.md"
    answer = turnlay("explain", code)
    checks.check(answer.code == 0, f"{code}: turnlay explains it", answer.words())
    if not checks.check(path.exists(), f"{code}: has a page"):
        return
    page = path.read_text(encoding="utf-8")
    checks.check(page.startswith(f"# {code}: {title}\n"), f"{code}: its page has the table's title", page[:100])
    for part in ("The rule", "Mend: "):
        checks.check(re.search(rf"^{part}", page, re.M), f"{code}: its page has {part.strip(': ').lower()}")
    checks.check(answer.out.decode().strip() == page.strip(), f"{code}: turnlay prints its page",
                 "build the program anew if the page was changed since")
    found = examples(page)
    reason = re.search(r"^No example: \S.*", page, re.M)
    if not found and reason:
        checks.check(True, f"{code}: says why it has no example")
    elif checks.check("Fails" in found and len(found) > 1 and not reason,
                      f"{code}: has Fails with At the limit or Mended, or a line `No example: ...`",
                      f"it has only {', '.join(found) or 'none'}"):
        check_examples(checks, folder, code, found)


def main():
    checks = Checks()
    codes = table()
    checks.check(len(codes) > 50, "the table of findings can be read")
    with scratch() as folder:
        for code, title in codes:
            check_page(checks, folder, code, title)
    failing = [(code, examples((ROOT / "grammar/findings" / f"{code}.md").read_text(encoding="utf-8")).get("Fails"))
               for code, _ in codes]
    mends(checks, [each for each in failing if each[1]])
    for path in sorted((ROOT / "tests/golden").glob("*.lay")):
        for finding in turnlay("check", "--findings", "json", path).findings():
            check_way_out(checks, path.name, finding)
    for path in sorted((ROOT / "grammar/findings").glob("*")):
        checks.check(path.stem in dict(codes), f"{path.name}: is the page of a finding")
    listed = turnlay("explain").out.decode()
    for code, title in codes:
        checks.check(re.search(rf"^{code} .*{re.escape(title)}$", listed, re.M), f"{code}: stands in the list", listed[:300])
    checks.finish()


if __name__ == "__main__":
    main()
