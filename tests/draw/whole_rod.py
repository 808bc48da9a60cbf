"""The picture of a whole rod as pixels: where wraps and guides lie, how thick the rod is, how large a ring, and the mean
light of turns that are narrower than a pixel, against the plan and the closed formulas."""
import math
import pathlib
import re
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "png"))
from pixels import Pixels

PIXEL = 25.4 / 96          # mm of the page, as a viewer takes them
EDGE = 8                   # mm of the page on all four sides
WHITE = (255, 255, 255)
SAME = 1                   # code values by which two ways to one colour may differ
NAVY, FOAM, TUBE = "#22346b", "#dfe9ef", "#3a4143"

SOURCE = """edition 1
thread navy { turns: 67 per cm, colour: #22346b }
thread foam { turns: 67 per cm, colour: #dfe9ef }
bench { units: mm }
guide ring16 { foot: [15 mm, 15 mm], gap: 10 mm, width: 2 mm, height: 0.8 mm, ramp: 5 mm, before: 3 mm, ring: 16 mm, tall: 25 mm,
               frame: #000000, insert: #000000 }
guide ring6  { foot: 10 mm, gap: 4 mm, width: 1.4 mm, height: 0.5 mm, ramp: 4 mm, before: 3 mm, ring: 6 mm, tall: 11 mm,
               frame: #000000, insert: #000000 }
blank tube { at 0 mm: 14 mm  at 200 cm: 3 mm }
rod "Pixels" on tube {
    at 8 cm { band 30 mm of navy }
    at 20 cm { repeat 100 { band 1 turns of foam  band 3 turns of navy } }
    at 34 cm { under { band 40 mm of foam } over { band 200 turns of [navy, spacer(navy)] } }
    at 50 cm guide: ring16 { band fill of navy }
    at 150 cm guide: ring6 { band fill of navy }
}
"""


class Page(Pixels):
    """A picture as it is seen at 96 pixels an inch."""

    def __init__(self, svg):
        drawn = subprocess.run(["rsvg-convert", "--dpi-x", "96", "--dpi-y", "96", "-b", "white"], input=svg.encode(), capture_output=True,
                               check=True).stdout
        super().__init__(drawn)

    def at(self, x, y):
        """The colour of the pixel at a place of the page, mm."""
        return super().at(int(x / PIXEL), int(y / PIXEL))

    def column(self, x):
        return [super(Page, self).at(int(x / PIXEL), row) for row in range(self.height)]


def light(code):
    code /= 255
    return code / 12.92 if code <= 0.04045 else ((code + 0.055) / 1.055) ** 2.4


def code(value):
    return round(255 * (value * 12.92 if value <= 0.0031308 else 1.055 * value ** (1 / 2.4) - 0.055))


def rgb(colour):
    return tuple(int(colour[at:at + 2], 16) for at in (1, 3, 5))


def mixed(*shares):
    """The colour of lights, each with its share: the mean of what they give (IEC 61966-2-1), not of code values."""
    return tuple(code(sum(share * light(rgb(colour)[channel]) for colour, share in shares)) for channel in range(3))


def like(one, other, may=SAME):
    return all(abs(a - b) <= may for a, b in zip(one, other))


class Row:
    """A row as it stands on the page: scale and axis are found from its own pixels."""

    def __init__(self, pixels, start, end, top, bottom):
        self.pixels, self.start, self.end, self.top, self.bottom = pixels, start, end, top, bottom
        self.scale = None

    def x(self, axial):
        return EDGE + (axial - self.start) * self.scale

    def covered(self, axial):
        """mm of the page that are not paper in the pixels' column there, each by its share, and where their middle is."""
        first, last = int(self.top / PIXEL), int(self.bottom / PIXEL)
        shares = [(255 * 3 - sum(pixel)) for pixel in self.pixels.column(self.x(axial))[first:last]]
        ink = max(shares, default=0)
        whole = [share / ink for share in shares] if ink else shares
        sum_of = sum(whole)
        middle = sum(share * (first + i + 0.5) for i, share in enumerate(whole)) / sum_of * PIXEL if sum_of else 0
        return sum_of * PIXEL, middle


def rows_of(svg, pixels):
    """Rows by the words above them, each down to the ruler below it."""
    words = re.findall(r'<text x="[\d.]+" y="([\d.]+)"[^>]*>([\d.]+) mm to ([\d.]+) mm from the butt<', svg)
    scale = float(re.search(r"rod, ([\d.]+) times", svg)[1])
    rulers = sorted(float(y) for y in re.findall(r'stroke="#a8b2b4" stroke-width="\.08" d="m8 ([\d.]+)h', svg))
    rows = [Row(pixels, float(start), float(end), float(y) + 0.6, ruler - 0.3) for (y, start, end), ruler in zip(words, rulers)]
    longest = max(row.end - row.start for row in rows)
    for row in rows:
        row.scale = (210 - 2 * EDGE) / longest
    return rows, scale


def unlit(svg):
    """Without light and letters; rings keep their edges."""
    return re.sub(r"<text .*?</text>\n", "", re.sub(r'<path fill="url\(#cylinder\)".*?/>\n', "", svg))


def diameter(axial):
    return 14 - 11 * axial / 2000


def check_thickness(checks, rows):
    for axial in (20, 150, 320, 600, 900, 1300, 1700, 1980):
        row = next(row for row in rows if row.start <= axial < row.end)
        got, _ = row.covered(axial)
        checks.check(abs(got - diameter(axial) * row.scale) < 0.5 * PIXEL, f"the rod is as thick as it is at {axial} mm, to half a pixel",
                     f"{got / row.scale:.2f} mm for {diameter(axial):.2f} mm")


def check_places(checks, rows):
    """Where the colour along the axis changes from the tube's to a wrap's and back, as its pixels' shares say."""
    row = rows[0]
    _, axis = row.covered(60)
    navy, tube = rgb(NAVY), rgb(TUBE)
    places = list(steps(row.x(40), row.x(150), PIXEL))
    share = [(row.pixels.at(x, axis)[2] - tube[2]) / (navy[2] - tube[2]) for x in places]
    wide = sum(share) * PIXEL / row.scale
    middle = (sum(part * x for part, x in zip(share, places)) / sum(share) - EDGE) / row.scale
    checks.check(abs(wide - 30) < PIXEL / row.scale, "a band of 30 mm is as wide in the picture", f"{wide:.2f} mm")
    checks.check(abs(middle - 95) < PIXEL / row.scale / 2, "it lies where it is planned, to half a pixel", f"{middle:.2f} mm")


def check_means(checks, rows):
    row = rows[0]
    _, axis = row.covered(60)
    # A pixel holds one to two of the stripes, which are 0.6 mm apart: they differ, but not their mean.
    for words, start, end, wanted, may in (("one turn of foam on three of navy", 205, 255, mixed((FOAM, 0.25), (NAVY, 0.75)), 24),
                                           ("navy with as wide gaps over foam", 344, 376, mixed((FOAM, 0.5), (NAVY, 0.5)), 2)):
        seen = {row.pixels.at(x, axis) for x in steps(row.x(start), row.x(end), PIXEL)}
        off = [pixel for pixel in seen if not like(pixel, wanted, may)]
        mean = mixed_of([row.pixels.at(x, axis) for x in steps(row.x(start), row.x(end), PIXEL)])
        checks.check(not off and like(mean, wanted, 2), f"{words}: the mean of light in every pixel", f"{mean} for {wanted}; {sorted(off)[:5]}")


def mixed_of(colours):
    return tuple(code(sum(light(colour[channel]) for colour in colours) / len(colours)) for channel in range(3))


def steps(start, end, step):
    at = math.ceil(start / step) * step + step / 2
    while at + step / 2 < end:
        yield at
        at += step


def check_rings(checks, rows):
    """Through the ring's middle: its lower edge, and its top as high above the blank as it is tall."""
    for name, axial, ring, tall in (("ring16", 500, 16, 25), ("ring6", 1500, 6, 11)):
        row = next(row for row in rows if row.start <= axial < row.end)
        first, last = int(row.top / PIXEL), int(row.bottom / PIXEL)
        column = row.pixels.column(row.x(axial))[first:last]
        ink = [1 - min(pixel) / 255 for pixel in column]
        foot = max(i for i, share in enumerate(ink) if share > 0.5)
        top = next(i for i, share in enumerate(ink) if share > 0.5)
        got = (foot + 1 - top) * PIXEL / row.scale
        wanted = tall + diameter(axial)
        checks.check(abs(got - wanted) < 1.2 * PIXEL / row.scale, f"{name} stands {tall} mm above the blank", f"{got - diameter(axial):.2f} mm")
        # Down from the top: ring, hole, ring, and then paper or the blank.
        hole = [i for i in range(top, foot) if ink[i] < 0.5]
        below = next((i for i in range(top, foot) if ink[i] < 0.5 and any(ink[j] > 0.5 for j in range(hole[0], i))), None) if hole else None
        if below:
            checks.check(abs((below - top) * PIXEL / row.scale - ring) < 1.2 * PIXEL / row.scale, f"{name} is {ring} mm from edge to edge",
                         f"{(below - top) * PIXEL / row.scale:.2f} mm")
        else:
            checks.check(ring < 8, f"{name} has a hole that can be seen", ink)


def check_whole_rod(checks, folder, draw):
    path = folder / "pixels.lay"
    path.write_text(SOURCE)
    svg = draw(path)
    rows, said = rows_of(svg, Page(unlit(svg)))
    if not checks.check(len(rows) == 3 and rows[0].start == 0 and rows[-1].end == 2000, "the rod is drawn in three rows",
                        [(row.start, row.end) for row in rows]):
        return
    checks.check(all(one.end == other.start for one, other in zip(rows, rows[1:])), "each begins where the one before ends")
    checks.check(abs(rows[0].scale - said) <= 0.005, "their scale is the one that is said", (rows[0].scale, said))
    check_thickness(checks, rows)
    check_places(checks, rows)
    check_means(checks, rows)
    check_rings(checks, rows)
