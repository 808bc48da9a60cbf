#!/usr/bin/python3
"""Pictures as PNG, read back from their pixels: the same picture as the SVG, which another program paints; the very
colours of the threads; as wide as asked for; the same bytes everywhere; texts of strangers."""
import os
import pathlib
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import PROGRAM, ROOT, Checks, in_turn, scratch, turnlay
from pixels import Pixels

SVG = "{http://www.w3.org/2000/svg}"
WIDTH = 500
# Levels of a channel: of one pixel in a thousand edges may be off by more than FEW, of none by more than MOST; and the
# mean. Two programs round the edges of shapes in other places, by parts of a pixel.
FEW, MOST, MEAN = 6, 48, 0.05
INK = 0.1            # of a text's ink: letters are not set in quite the same places
PICTURES = {
    "side": ("harbour.lay", ("--view", "side")),
    "unrolled": ("reeds.lay", ("--view", "unrolled")),
    "turned": ("tern.lay", ("--view", "side", "--turn", "200")),
    "enlarged": ("first.lay", ("--view", "side", "--scale", "4")),
    "reduced": ("whole_rod.lay", ("--view", "side", "--scale", "0.2")),
    "crosswraps": ("std_crosswraps.lay", ("--view", "side", "--rod", "1")),
    # 254 mm wide: where an SVG is painted, at 96 pixels an inch, the same means of fine turns are drawn as 960 pixels wide.
    "rod": ("whole_rod.lay", ("--view", "rod", "--scale", "1.2095238095")),
}
WIDTHS = {"rod": 960}
COLOURS = {"navy": 0x22346B, "ember": 0xC8502C, "foam": 0xDFE9EF}
PLAIN = """edition 1
bench { units: mm }
blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }
""" + "\n".join(f"thread {name} {{ turns: 10 per cm, colour: #{colour:06x} }}" for name, colour in COLOURS.items()) + """
rod "Three" on tube { at 20 cm { band 20 turns of navy  band 20 turns of ember  band 20 turns of foam } }
"""


def drawn(checks, folder, name, source, *options, **how):
    """The bytes of the picture, None where there is none."""
    path = pathlib.Path(folder) / f"{name}.png"
    answer = turnlay("draw", "-o", path, *options, source, **how)
    if not checks.check(answer.code == 0 and path.exists(), f"{name}: a PNG is written", answer.words()):
        return None
    return path.read_bytes()


class Texts:
    """Where an SVG has letters, in pixels."""

    def __init__(self, root, factor):
        self.boxes = [self.box(text, factor) for text in root.iter(f"{SVG}text")]

    @staticmethod
    def box(text, factor):
        x, y, size = (float(text.get(name)) for name in ("x", "y", "font-size"))
        words = "".join(text.itertext())
        length = (len(words) * 0.75 + 1) * size
        left = x - {"start": 0.3 * size, "middle": length / 2, "end": length}[text.get("text-anchor", "start")]
        return words, max(0, int(left * factor)), int((y - size) * factor), int((left + length) * factor) + 1, \
            int((y + 0.4 * size) * factor) + 1

    def cover(self, width, height):
        """A row of bytes for each row of the picture, 0 under letters."""
        rows = [bytearray(b"\1" * width) for _ in range(height)]
        for _, left, top, right, bottom in self.boxes:
            for row in rows[max(0, top):bottom]:
                row[left:right] = bytes(min(right, width) - left)
        return rows


def ink(picture, left, top, right, bottom):
    rows = picture.rows[max(0, top):bottom]
    return sum(255 * len(row[3 * left:3 * right]) - sum(row[3 * left:3 * right]) for row in rows)


def compared(ours, theirs, cover):
    """How many levels each channel of each pixel without letters is off: {levels: times}."""
    off = {}
    for row, other, free in zip(ours.rows, theirs.rows, cover):
        if row == other:
            off[0] = off.get(0, 0) + 3 * sum(free)
            continue
        for x, clear in enumerate(free):
            for at in range(3 * x, 3 * x + 3) if clear else ():
                levels = abs(row[at] - other[at])
                off[levels] = off.get(levels, 0) + 1
    return off


def check_against_svg(checks, folder, name, source, options):
    across = WIDTHS.get(name, WIDTH)
    png = drawn(checks, folder, name, ROOT / "examples" / source, "--width", across, *options)
    svg = turnlay("draw", *options, ROOT / "examples" / source).out
    if not png:
        return
    ours = Pixels(png)
    painted = subprocess.run(["rsvg-convert", "-w", str(across)], input=svg, capture_output=True, check=True).stdout
    theirs = Pixels(painted)
    root = ElementTree.fromstring(svg)
    width, height = (float(root.get(name)[:-2]) for name in ("width", "height"))
    checks.check((ours.width, ours.height) == (across, round(across * height / width)),
                 f"{name}: as high for its width as the SVG", (ours.width, ours.height, width, height))
    checks.check(abs(ours.height - theirs.height) <= 1, f"{name}: as high as the other program has it")
    texts = Texts(root, across / width)
    off = compared(ours, theirs, texts.cover(across, ours.height))
    points = sum(off.values())
    checks.check(points > across * ours.height, f"{name}: most of the picture is without letters", points)
    many = sum(times for levels, times in off.items() if levels > FEW)
    mean = sum(levels * times for levels, times in off.items()) / points
    checks.check(max(off) <= MOST and many <= points / 1000 and mean <= MEAN, f"{name}: the same picture as the SVG",
                 f"most {max(off)}, {many} of {points} by more than {FEW}, mean {mean:.4f}")
    for words, *box in texts.boxes:
        here, there = ink(ours, *box), ink(theirs, *box)
        checks.check(abs(here - there) <= INK * there, f"{name}: '{words}' has as many letters", f"{here}, not {there}")


def check_colours(checks, folder):
    """In the unrolled view nothing lies over the threads but grooves between turns, which are a mm apart here."""
    source = pathlib.Path(folder) / "plain.lay"
    source.write_text(PLAIN, encoding="utf-8")
    png = drawn(checks, folder, "colours", source, "--view", "unrolled", "--width", "1500")
    if not png:
        return
    picture = Pixels(png)
    counts = {}
    for row in picture.rows:
        for x in range(0, len(row), 3):
            counts[row[x:x + 3]] = counts.get(row[x:x + 3], 0) + 1
    # 20 turns of 1 mm, each with a groove, and pi times 12 mm round: at least half of that area.
    svg = turnlay("draw", "--view", "unrolled", source).out
    factor = 1500 / float(ElementTree.fromstring(svg).get("width")[:-2])
    least = 20 * 12 * 3.14 * factor ** 2 / 2
    for name, colour in COLOURS.items():
        count = counts.get(colour.to_bytes(3, "big"), 0)
        checks.check(least < count < 2.2 * least, f"{name} is #{colour:06x}, to the level", f"{count} pixels, not {least}")
    row = picture.rows[next(y for y in range(picture.height) if picture.rows[y].count(COLOURS["navy"].to_bytes(3, "big")) > 50)]
    order = [row.find(colour.to_bytes(3, "big")) for colour in COLOURS.values()]
    checks.check(-1 < order[0] < order[1] < order[2], "the threads follow one another as they are wound", order)


def check_means(checks, folder):
    """Turns of black and white by turns, finer than a pixel: half the light, which is 1.055 * 0.5^(1 / 2.4) - 0.055 of the
    highest code value (IEC 61966-2-1), and nowhere half the code value, but for a pixel where a line to a close-up ends."""
    source = pathlib.Path(folder) / "grey.lay"
    source.write_text("edition 1\nbench { holders: 2 }\nblank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
                      "thread black { turns: 67 per cm, colour: #000000 }\nthread white { turns: 67 per cm, colour: #ffffff }\n"
                      'rod "Grey" on tube { at 20 cm { band 1000 turns of [black, white] } }\n', encoding="utf-8")
    mean = bytes([round(255 * (1.055 * 0.5 ** (1 / 2.4) - 0.055))] * 3)
    for width in (300, 600):
        png = drawn(checks, folder, f"grey-{width}", source, "--view", "rod", "--width", width)
        rows = Pixels(png).rows if png else []
        lit, half = (sum(row[x:x + 3] == colour for row in rows for x in range(0, len(row), 3))
                     for colour in (mean, bytes([128] * 3)))
        checks.check(lit > 0.8 * width and half <= 2, f"grey is that of half the light, {width} pixels wide", f"{lit}, {half}")


def check_same(checks, folder):
    source = ROOT / "examples" / "harbour.lay"
    once = drawn(checks, folder, "once", source, "--width", 300)
    elsewhere = {"environment": {"LC_ALL": "de_DE.UTF-8", "TZ": "Asia/Tokyo"}}
    for where, options in (("again", {}), ("elsewhere", elsewhere)):
        again = drawn(checks, folder, where, source, "--width", 300, **options)
        checks.check(once and once == again, f"the same bytes {where}")
    if once:
        kinds = set(Pixels(once).kinds)
        checks.check(kinds == {b"IHDR", b"bKGD", b"IDAT", b"IEND"}, "no time, place or program is written into it", kinds)
    svg = ElementTree.fromstring(turnlay("draw", source).out)
    usual = drawn(checks, folder, "usual", source)
    wide = int.from_bytes(usual[16:20], "big") if usual else 0
    checks.check(0 <= wide - 8 * float(svg.get("width")[:-2]) < 1, "8 pixels a mm where no width is said", wide)
    checks.check(turnlay("draw", "--format", "png", source).out == usual, "the same on standard output")


def check_texts(checks, folder):
    """What could hide or turn words round is painted as its sign: the picture is that of a title with signs."""
    pictures = []
    for name, title in (("hidden", "Shop\u202e\u2066 copy"), ("shown", "Shop\ufffd\ufffd copy"), ("other", "Shop?? copy")):
        source = pathlib.Path(folder) / "titles.lay"
        source.write_text(PLAIN.replace('"Three"', f'"{title}"').replace("edition 1", f'edition 1\nabout {{ title: "{title}" }}'),
                          encoding="utf-8")
        pictures.append(drawn(checks, folder, name, source, "--width", 600))
    titles = [picture and Pixels(picture).rows[:40] for picture in pictures]
    checks.check(titles[0] and titles[0] == titles[1], "characters that are not shown are painted as their sign")
    checks.check(titles[0] != titles[2], "another title looks otherwise")
    source = pathlib.Path(folder) / "scripts.lay"
    title = "<&> \u0645\u06cc\u200c\u0628\u0646\u062f\u0645 \u05d7\u05d5\u05d8 \u0915\u094d\u200d\u0937 \u7aff \u041f\u043e\u043b\u043e\u0441\u044b"
    source.write_text(PLAIN.replace('"Three"', f'"{title}"'), encoding="utf-8")
    picture = drawn(checks, folder, "scripts", source, "--width", 600)
    if picture:
        pixels = Pixels(picture)
        svg = ElementTree.fromstring(turnlay("draw", source).out)
        words, *box = Texts(svg, 600 / float(svg.get("width")[:-2])).boxes[0]
        checks.check(words == title and ink(pixels, *box) > 20000, "a title in six scripts is painted", words)


def main():
    checks = Checks()
    if not os.access(f"{PROGRAM}-pdf", os.X_OK):
        checks.skip("all of this", "this build cannot write PNG; make deps installs what that needs")
        checks.finish()
    with scratch() as folder:
        check_colours(checks, folder)
        check_means(checks, folder)
        check_same(checks, folder)
        check_texts(checks, folder)
        if shutil.which("rsvg-convert"):
            in_turn(lambda name: check_against_svg(checks, folder, name, *PICTURES[name]), PICTURES)
        else:
            checks.skip("the same picture as the SVG", "librsvg2-bin is NOT INSTALLED; make deps installs it")
    checks.finish()


main()
