"""Words of the eye's view: none runs off the page, none is covered by what is drawn later, none lies on a strip or on other
words. Over all examples and golden files, those with fades also with a colour before finish and at other scales; and over fades
that crowd."""
import concurrent.futures
import os
import random
import re
import unicodedata
import xml.etree.ElementTree

from checks import ROOT, turnlay
from picture import ALL_CASES, CASES, SVG, points

# Of a letter's size: how wide words are at most with common fonts, how far they reach above and below their line.
WIDE, ABOVE, BELOW = 0.6, 0.75, 0.22
CROWDED = 12


def columns(text):
    """Wide letters take two, marks on others none."""
    return sum(0 if unicodedata.category(each) in ("Mn", "Me", "Cf") else 2 if unicodedata.east_asian_width(each) in "WF" else 1
               for each in text)


def box_of_words(element):
    x, y, size = (float(element.get(name)) for name in ("x", "y", "font-size"))
    width = columns(element.text) * WIDE * size
    left = x - width * {"middle": 0.5, "end": 1}.get(element.get("text-anchor"), 0)
    return left, left + width, y - ABOVE * size, y + BELOW * size


def box_of_path(element):
    across, down = zip(*points(element.get("d")))
    return min(across), max(across), min(down), max(down)


def touch(one, other):
    return one[0] < other[1] - 1e-6 and other[0] < one[1] - 1e-6 and one[2] < other[3] - 1e-6 and other[2] < one[3] - 1e-6


def common(one, other):
    return max(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), min(one[3], other[3])


def together(one, other):
    return min(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), max(one[3], other[3])


def seen_of(root):
    """Boxes of strips, of words with their texts, and of what is filled beside strips, each with its number in the order drawn."""
    clips = {f"url(#{clip.get('id')})": box_of_path(next(iter(clip))) for clip in root.iter(f"{SVG}clipPath")}
    strips, words, filled, number = {}, [], [], 0
    waiting = [(root, None, (-1e9, 1e9, -1e9, 1e9))]
    while waiting:
        element, strip, window = waiting.pop()
        number += 1
        if element.tag in (f"{SVG}clipPath", f"{SVG}defs"):
            continue
        if element.get("clip-path"):
            window = common(window, clips[element.get("clip-path")])
        if element.tag == f"{SVG}g" and element.find(f"{SVG}title") is not None:
            strip = id(element)
        if element.tag == f"{SVG}text":
            words.append((number, box_of_words(element), element.text))
        elif element.tag == f"{SVG}path" and strip:
            box = common(window, box_of_path(element))
            strips[strip] = together(strips.get(strip, box), box)
        elif element.tag == f"{SVG}path" and element.get("fill") not in ("none", None):
            filled.append((number, common(window, box_of_path(element))))
        waiting += [(each, strip, window) for each in reversed(element)]
    return list(strips.values()), words, filled


def faults(text):
    """What is wrong with the words of a picture, and how many there are."""
    root = xml.etree.ElementTree.fromstring(text)
    page = float(root.get("viewBox").split()[2]), float(root.get("viewBox").split()[3])
    strips, words, filled = seen_of(root)
    wrong = []
    for count, (number, box, said) in enumerate(words):
        if box[0] < 0 or box[1] > page[0] or box[2] < 0 or box[3] > page[1]:
            wrong.append(f"off the page: {said}")
        wrong += [f"on a strip: {said}" for strip in strips if touch(box, strip)]
        wrong += [f"covered: {said}" for later, other in filled if later > number and touch(box, other)]
        wrong += [f"{said} | {other}" for _, beside, other in words[:count] if touch(box, beside)]
    return wrong, len(words)


def with_bare(text):
    """Every thread with a colour has another before finish."""
    return re.sub(r"(thread[^\n{]*\{[^}\n]*?\bcolour: #\w{6})(?![^}\n]*bare:)", r"\1, bare: #f7f4ea", text)


def crowded(number):
    """Fades close to one another, long and short, light and dark, many with a jump."""
    rng = random.Random(f"crowded {number}")
    shades = "abcdefgh"
    lines = ["edition 1", f"bench {{ units: {rng.choice(('mm', 'cm', 'in'))}, far: {rng.choice(('2 m', '1.25 m', '98.75 m'))}, "
             f"jump: {rng.choice((0.5, 1, 3))} }}"]
    lines += [f"thread {name} {{ turns: 66 per cm, colour: #{rng.randrange(1 << 24):06x}, bare: #{rng.randrange(1 << 24):06x} }}"
              for name in shades]
    lines.append("blank tube { at 0 mm: 13 mm  at 200 cm: 2 mm }")
    body, before = ["band 9 turns of a"], "a"
    for _ in range(rng.randint(3, 14)):
        new = rng.choice([each for each in shades if each != before])
        how = rng.choice((f"steps: {rng.randint(1, 4)}", f"over: {rng.randint(2, 40)} turns", "runs: [in 0 out 9, in 9 out 0]"))
        body.append(f"fade to {new} {how}")
        before = new
        if rng.random() < 0.3:
            body.append(f"band {rng.randint(1, 90)} turns of {before}")
    lines.append('rod "Crowded" on tube { at 30 cm { %s } }' % "  ".join(body))
    return "\n".join(lines) + "\n"


def look(name, text, scale, folder):
    """Of a file's picture what is wrong; None where there is no picture."""
    answer = turnlay("draw", "--view", "eye", "--scale", scale, "-", given=text.encode(), folder=folder)
    if answer.code != 0:
        return None
    wrong, count = faults(answer.out.decode())
    return [f"{name}, --scale {scale}: {each}" for each in wrong], count


def check_eye_words(checks):
    asked = []
    for folder in ("examples", "tests/golden"):
        for path in sorted((ROOT / folder).glob("*.lay")):
            text = path.read_text(encoding="utf-8", errors="replace")
            asked.append((path.name, text, "6", path.parent))
            if "fade" in text or "bare:" in text:
                asked += [(path.name, text, "17", path.parent), (path.name, with_bare(text), "1.5", path.parent)]
    asked += [(f"crowded {number}", crowded(number), scale, ROOT) for number in range(CROWDED) for scale in ("6", "17", "0.8")]
    every = max(1, ALL_CASES // CASES)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        answers = [each for each in pool.map(lambda each: look(*each), asked[::every]) if each]
    wrong = [each for answer in answers for each in answer[0]]
    checks.check(not wrong, "words of the eye's view are seen whole", "\n".join([f"{len(wrong)} of them", *wrong]))
    counts = len(answers), sum(answer[1] for answer in answers)
    checks.check(counts[0] > 150 // every and counts[1] > 10 * counts[0], "pictures were looked at", counts)
