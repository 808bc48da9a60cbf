"""Colours as pictures show them: names of colours as another program draws them; threads that hide only a part of what they
lie on, at random points, by the closed formula."""
import csv
import json
import os
import pathlib
import random
import subprocess

from checks import BUILD, ROOT, turnlay
from picture import MM, TUBE, Raster, Shown

POINTS = str((ROOT / os.environ.get("BUILD", BUILD) / "draw_points").resolve())

SQUARE = 2       # mm


def squares(fills):
    """A picture of so many squares in a row."""
    return (f'<svg xmlns="http://www.w3.org/2000/svg" width="{SQUARE * len(fills)}mm" height="{SQUARE}mm" '
            f'viewBox="0 0 {SQUARE * len(fills)} {SQUARE}">' +
            "".join(f'<rect x="{SQUARE * i}" width="{SQUARE}" height="{SQUARE}" fill="{fill}"/>'
                    for i, fill in enumerate(fills)) + "</svg>")


def check_names(checks, folder):
    """The colours of threads that are given names: as the table says that was read, and as librsvg, which has its own, draws
    these names."""
    with open(ROOT / "tests/published/css_colours.csv", encoding="ascii") as table:
        published = [(row["name"], row["colour"]) for row in csv.DictReader(table)]
    names = [name for name, _ in published]
    threads = "\n".join(f"thread t{i} {{ turns: 67 per cm, colour: {name} }}" for i, name in enumerate(names))
    bands = "\n".join(f"band 9 turns of t{i}" for i in range(len(names)))
    answer = turnlay("plan", "--format", "json", "-", given=f"""edition 1
{threads}
blank tube {{ at 0 mm: 12 mm  at 200 cm: 4 mm }}
rod "Names" on tube {{ at 20 cm {{
{bands}
}} }}
""".encode())
    if not checks.check(answer.code == 0, "threads take names of colours", answer.words()):
        return
    got = [each["colour"].lstrip("#") for each in json.loads(answer.out)["threads"]]
    checks.check(got == [colour for _, colour in published], "the colours of names are the published ones",
                 [(name, colour) for name, colour in zip(names, got) if (name, colour) not in published])
    raster = Raster(folder, squares(names))
    drawn = ["%02x%02x%02x" % raster.at(SQUARE * (i + 0.5), SQUARE / 2) for i in range(len(names))]
    checks.check(drawn == got, "librsvg draws these names in these colours",
                 [each for each in zip(names, got, drawn) if each[1] != each[2]])


# Colour and opacity.
LOOKS = {"navy": ("22346b", 1), "foam": ("e8e9e0", 0.4), "ember": ("c8502c", 0.65), "gold": ("d9a411", 0.1),
         "moss": ("2f6b22", 0.85), "glass": ("ffffff", 0), "plum": ("7a1f6f", 1)}
SAME = 2          # levels of a channel that pixels may be off
MOST_PALE = 0.01  # of points that may lie on an edge that is painted with what lies below


def decoded(level):
    """IEC 61966-2-1, of a level of 255."""
    code = level / 255
    return code / 12.92 if code <= 0.04045 else ((code + 0.055) / 1.055) ** 2.4


def encoded(light):
    return 255 * (12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055)


def channels(colour):
    return [int(colour[at:at + 2], 16) for at in (0, 2, 4)]


def look(ground, threads):
    """Levels of a stack on a ground, the lowest thread first: opacity top + (1 - opacity) ground of light, again and again."""
    light = [decoded(level) for level in channels(ground)]
    for thread in threads:
        colour, opacity = LOOKS[thread]
        light = [opacity * decoded(level) + (1 - opacity) * below for level, below in zip(channels(colour), light)]
    return [encoded(each) for each in light]


def bands(rng, length):
    """Bands and gaps over so many mm."""
    texts, left = [], length
    while left > 14:
        width = rng.randint(5, 9)
        left -= width
        texts.append(f"band {width} mm of {rng.choice(list(LOOKS))}" if rng.random() < 0.85 else f"gap {width} mm")
    return "  ".join(texts) + f"  band {left} mm of {rng.choice(list(LOOKS))}"


def strands(rng):
    names = rng.sample(list(LOOKS), rng.randint(1, 4))
    return "  ".join(f"strand {rng.randint(2, 4)} of {name}" for name in names)


def layers(rng, number):
    """Bands on bands, crosswraps on bands, crosswraps on one another, bands on them."""
    length, texts = 60, []
    if number % 4 != 3:
        texts.append(f"under {{ {bands(rng, length)} }}")
    if number % 4 == 0:
        texts += [f"over {{ {bands(rng, length)} }}" for _ in range(3)]
    for _ in range((0, 1, 2, 2)[number % 4]):
        kind = rng.choice(("chevron", "diamond", "spiral"))
        way = f"turns: {rng.choice((2, 3))} turns" if kind == "spiral" else f"crossings: {rng.randint(2, 4)}"
        texts.append(f"{kind} {way} starts: {rng.choice((1, 1, 2))} ends: 3 mm of navy {{ {strands(rng)} }}")
    if number % 4 == 2:
        texts.append(f"over offset: 9 mm length: 40 mm {{ {bands(rng, 40)} }}")
    return "\n    ".join([*texts, f"over {{ gap {length} mm }}"])


def check_opacity(checks, folder):
    seen = 0
    for number in range(8):
        rng = random.Random(number)
        threads = "\n".join(f"thread {name} {{ turns: 30 per cm, colour: #{colour}, opacity: {opacity} }}"
                            for name, (colour, opacity) in LOOKS.items())
        text = f"""edition 1
{threads}
bench {{ units: mm, ends: pins, stack: 90, flattest: 2 deg, steepest: 88 deg }}
blank tube {{ at 0 mm: 11 mm  at 100 cm: 9 mm }}
rod "Through" on tube {{
  at 20 cm length: 60 mm {{
    {layers(rng, number)}
  }}
}}
"""
        path = pathlib.Path(folder) / "through.lay"
        path.write_text(text)
        for side in (False, True):
            scale, facing = 4, rng.choice((0, 30, 200))
            answer = turnlay("draw", "--scale", str(scale), "--view", "side" if side else "unrolled",
                             *(("--turn", str(facing)) if side else ()), path)
            if not checks.check(answer.code == 0, f"case {number}: layers that are seen through can be drawn", text + answer.words()):
                return
            svg, clock = answer.out.decode(), facing if side else 0
            done = subprocess.run([POINTS, path, str(number), "3000", str(1.6 * MM / scale), "0.235" if side else "0.498",
                                   str(clock), "stack"], capture_output=True, text=True, check=True).stdout.splitlines()
            low, high = map(float, done[0].split())
            shown = Shown(svg, "gap", side, clock / 360)
            raster, faults = Raster(folder, svg, shown.box()), []
            for line in done[1:]:
                x, turn, stack = line.split()
                wanted = look(TUBE, [] if stack == "-" else stack.split(","))
                page_x = shown.left + (float(x) - low) / (high - low) * (shown.right - shown.left)
                got = raster.at(page_x, shown.page(page_x, float(turn)))
                if max(abs(a - b) for a, b in zip(got, wanted)) > SAME:
                    faults.append(f"at {x} mm, {float(turn) * 360:.1f} deg: {stack}: {[round(each) for each in wanted]}, "
                                  f"in the picture {got}")
            name = f"case {number}, {'from the side' if side else 'unrolled'}"
            checks.check(len(faults) <= MOST_PALE * len(done), f"{name}: what shows through is what the formula says",
                         f"{len(faults)} of {len(done) - 1} points\n" + "\n".join(faults[:8]) + "\n" + text)
            checks.check(len(done) > 400, f"{name}: enough points to tell", len(done))
            seen += len(done) - 1
    checks.check(seen > 15000, "what shows through: points enough", seen)
