"""Every finding says a way out, and a mend does what it says, on other benches than its page's, too: applied to the letter the
finding is gone and no other kind of error has come; and a number is not changed by more than is needed: a fifth of the way back
it is there again."""
import re

from checks import in_turn, turnlay

# Settings put into every failing file that has no bench of its own, or none of these.
BENCHES = ("", "units: in", "units: cm, bind: 8 turns, final: 11 turns, loop: 5 turns", "ridge: 6, apart: 1.5 mm, friction: 0.3")
MOST_FARTHER = 0.2
# Mends that rightly go farther than the finding is gone.
FARTHER = {
    "T307": "a fill gets room for turns that can be bound and ended, not for one turn",
    "T602": "the angle that there is, where one within a degree of it would do",
}


def on_bench(text, settings):
    if not settings:
        return text
    found = re.search(r"^bench \{ *", text, re.M)
    if not found:
        return text.rstrip("\n") + f"\nbench {{ {settings} }}\n"
    named = [each for each in settings.split(", ") if not re.search(rf"\b{each.split(':')[0]}:", text[found.start():])]
    return text[:found.end()] + "".join(each + ", " for each in named) + text[found.end():]


def findings_of(text):
    answer = turnlay("check", "--findings", "json", "-", given=text.encode())
    return answer.findings() if answer.code in (0, 1) else None


def apply(edit, text, words=None):
    source = text.encode()
    return (source[:edit["start"]] + (words or edit["text"]).encode() + source[edit["end"]:]).decode()


def count(findings, code):
    return sum(each["times"] for each in findings if each["code"] == code)


def part_of_the_way(old, new):
    """The new text with its number four fifths as far from the old one; None where the two are not one number each."""
    number = r"-?\d+(?:\.\d+)?"
    before, after = re.findall(number, old), re.findall(number, new)
    if len(before) != 1 or len(after) != 1 or re.sub(number, "", old) != re.sub(number, "", new) or "/" in new:
        return None
    was, becomes = float(before[0]), float(after[0])
    whole = "." not in before[0] and "turns" in new
    way = becomes - (becomes - was) * MOST_FARTHER
    step = 1 if whole else 10.0 ** -len(after[0].partition(".")[2])
    if abs(becomes - way) < 2 * step:
        return None
    return re.sub(number, f"{round(way)}" if whole else f"{way:.4f}", new)


def check_way_out(checks, name, finding):
    checks.check(len(finding["mend"].split()) > 1, f"{name}: {finding['code']} says a way out", finding["message"])


def check_mends(checks, name, text):
    before = findings_of(text)
    if before is None:
        checks.check(False, f"{name}: can be compiled", text)
        return
    known = {each["code"] for each in before}
    for finding in before:
        edit, code = finding.get("edit"), finding["code"]
        check_way_out(checks, name, finding)
        if not edit or edit["file"] != "<input>":
            continue
        after = findings_of(apply(edit, text))
        errors = {each["code"] for each in after or () if each["severity"] == "error"}
        checks.check(after is not None and count(after, code) < count(before, code) and errors <= known,
                     f"{name}: {code}'s mend mends",
                     f"{finding['message']}\n{edit}\n{after and [(a['code'], a['message']) for a in after]}\n{text}")
        part = part_of_the_way(text.encode()[edit["start"]:edit["end"]].decode(), edit["text"])
        if part and code not in FARTHER:
            again = findings_of(apply(edit, text, part))
            checks.check(again is not None and count(again, code) >= 1,
                         f"{name}: {code}'s mend is no more than is needed",
                         f"{finding['message']}\n{edit}\n{part}\n{text}")


def mends(checks, texts):
    """texts: (name, failing file)."""
    work = [(f"{name} with bench {{ {settings} }}" if settings else name, on_bench(text, settings))
            for name, text in texts for settings in BENCHES]
    in_turn(lambda each: check_mends(checks, *each), work)
