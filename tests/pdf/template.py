"""Wrap-around templates measured back from the printed page: the outline, the line on which edges meet, every crossing
and the way of the first strand are found in the picture by their colours, measured in mm, and rolled onto the cone as
a builder rolls the paper; piece upon piece. Where they should come to lie is said by the plan."""
import json
import math
import re
import subprocess

from checks import ROOT, in_turn, turnlay
from raster import Page

DOTS_PER_INCH = 300
MM = 25.4 / DOTS_PER_INCH
CUT, MEET, CROSSING, WAY = (0, 0, 0), (0xbd, 0x2b, 0x22), (0xb0, 0x11, 0x7c), (0x3f, 0x6f, 0xae)
NEAR, NEAR_DEGREES = 0.1, 0.5        # mm along the blank; round it
WAY_NEAR = 0.25                      # mm from the helix to any point of its line, which is 0.18 mm wide
PEN = 0.2                            # of the cut
TAB = 6
HEADING = "Wrap-around templates, true size"


class Coloured:
    """One page; what of it is of one colour, as level runs (y, first, end) in pixels."""

    def __init__(self, path, number):
        command = ["pdftoppm", "-r", DOTS_PER_INCH, "-aaVector", "no", "-aa", "no", "-f", number, "-l", number, path]
        picture = subprocess.run(map(str, command), capture_output=True, check=True).stdout
        kind, width, _, most, self.pixels = Page.head(picture)
        if (kind, most) != (b"P6", b"255"):
            raise ValueError("pdftoppm wrote something else than a coloured picture")
        self.width = int(width)

    def runs(self, colour):
        found, colour, at = [], bytes(colour), 0
        while (at := self.pixels.find(colour, at)) >= 0:
            if at % 3:
                at += 1
                continue
            end = at + 3
            while self.pixels.startswith(colour, end):
                end += 3
            y, first = divmod(at // 3, self.width)
            found.append((y, first, first + (end - at) // 3))
            at = end
        return found


def blots(runs):
    """Runs that touch, together."""
    parent = list(range(len(runs)))

    def root(i):
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    above, row, row_y = [], [], None
    for i, (y, first, end) in enumerate(runs):
        if y != row_y:
            above, row, row_y = (row if row_y == y - 1 else []), [], y
        for j in above:
            if runs[j][1] <= end and runs[j][2] >= first:
                parent[root(j)] = root(i)
        row.append(i)
    together = {}
    for i, run in enumerate(runs):
        together.setdefault(root(i), []).append(run)
    return list(together.values())


def mended(found):
    """Marks that a line runs through come in parts, beside one another."""
    whole = []
    for blot in sorted(found, key=lambda blot: min(run[1] for run in blot)):
        for other in whole:
            near = abs(middle(other)[1] - middle(blot)[1]) < 0.5
            if near and 0 <= min(run[1] for run in blot) - max(run[2] for run in other) < 0.5 / MM:
                other += blot
                break
        else:
            whole.append(list(blot))
    return whole


def tall(blot):
    return (blot[-1][0] - blot[0][0]) * MM


def middle(blot):
    """Of the box round it, in mm."""
    return ((min(run[1] for run in blot) + max(run[2] for run in blot)) / 2 * MM,
            (min(run[0] for run in blot) + max(run[0] for run in blot) + 1) / 2 * MM)


def fitted(points):
    """x = a + b y through the points, by least squares."""
    count = len(points)
    mean_x, mean_y = sum(x for x, _ in points) / count, sum(y for _, y in points) / count
    slope = sum((y - mean_y) * (x - mean_x) for x, y in points) / sum((y - mean_y) ** 2 for _, y in points)
    return mean_x - slope * mean_y, slope


class Piece:
    """A piece of a template as it is cut out: its outline, and what is printed near it."""

    def __init__(self, outline, page):
        self.outline = outline
        self.left, self.right = min(run[1] for run in outline) * MM, max(run[2] for run in outline) * MM
        self.top, self.bottom = outline[0][0] * MM, (outline[-1][0] + 1) * MM
        red = max((blot for blot in page.red if self.holds(*middle(blot))), key=tall)
        self.left_edge = fitted(self.along(outline))
        self.red_line = fitted(self.along(red))
        # Half way between the two, by their angles; the foot is where the lower end meets it.
        lean = (math.atan(self.left_edge[1]) + math.atan(self.red_line[1])) / 2
        y = self.bottom
        for _ in range(5):
            x = ((self.left_edge[0] + self.left_edge[1] * y) + (self.red_line[0] + self.red_line[1] * y)) / 2
            y = self.end_at(x, lower=True)
        self.foot, self.lean = (x, y), lean
        self.length = y - self.end_at(x + lean * (self.top - y), lower=False)
        self.crossings = [middle(blot) for blot in page.crossings if self.holds(*middle(blot))]
        self.way = [((run[1] + run[2]) / 2 * MM, (run[0] + 0.5) * MM) for run in page.way if
                    self.holds((run[1] + run[2]) / 2 * MM, (run[0] + 0.5) * MM)]

    def holds(self, x, y):
        return self.left - 2.5 < x < self.right and self.top - 1 < y < self.bottom + 1

    def along(self, blot):
        """The middles of a line's first run in every row but those near its ends."""
        top, height = blot[0][0], blot[-1][0] - blot[0][0]
        first = {}
        for y, start, end in blot:
            if top + 0.1 * height < y < top + 0.9 * height:
                first[y] = min(first.get(y, (math.inf, 0)), (start, end))
        usual = sorted(end - start for start, end in first.values())[len(first) // 2]
        return [((start + end) / 2 * MM, (y + 0.5) * MM) for y, (start, end) in first.items()
                if end - start <= usual + 1]

    def end_at(self, x, lower):
        """The middle of the lower (upper) end's line at x."""
        column = x / MM
        rows = sorted((run[0] for run in self.outline if run[1] <= column < run[2]), reverse=lower)
        last = rows[0]
        for row in rows:
            if abs(row - last) > 1:
                break
            last = row
        return (rows[0] + last + 1) / 2 * MM

    def flat(self, x, y):
        """From the foot: to the right, and upward."""
        dx, dy = x - self.foot[0], self.foot[1] - y
        lean = -self.lean   # x grows by lean for each mm downward
        return dx * math.cos(lean) - dy * math.sin(lean), dx * math.sin(lean) + dy * math.cos(lean)


class Cone:
    """Paper rolled up: its inner half lies on the surface, so that its middle is as long as it was flat."""

    def __init__(self, x, diameter, taper, paper, piece):
        self.x, self.piece, self.taper = x, piece, taper / 2
        self.radius = (diameter + paper) / 2
        self.slope = math.hypot(1, self.taper)
        self.length = piece.length / self.slope

    def rolled(self, x, y):
        """Along the blank, and turns from the piece's middle line."""
        right, up = self.piece.flat(x, y)
        if abs(self.taper) < 1e-9:
            return self.x + up, right / (2 * math.pi * self.radius)
        shrink = self.taper / self.slope
        apex = self.radius / shrink
        way = math.copysign(math.hypot(right, apex + up), apex)
        angle = math.atan2(right * math.copysign(1, apex), abs(apex + up))
        return self.x + (way - apex) / self.slope, angle / shrink / (2 * math.pi)

    def edge(self, line, share):
        """Turns at which a line lies, at a share of the piece's height from its lower end."""
        y = self.piece.foot[1] - share * self.piece.length
        return self.rolled(line[0] + line[1] * y, y)[1]


class Stations:
    """A blank's diameters as its file says."""

    def __init__(self, text):
        self.at = [tuple(map(float, pair)) for pair in re.findall(r"at (\d+) mm: ([\d.]+) mm", text)]

    def between(self, low, high):
        """Where cones may begin and end, from low to high."""
        return [low] + [x for x, _ in self.at if low + 0.5 < x < high - 0.5] + [high]

    def cone(self, x):
        """Diameter at x and its change a mm, toward the tip."""
        for (a, da), (b, db) in zip(self.at, self.at[1:]):
            if x < b - 1e-6:
                return da + (x - a) / (b - a) * (db - da), (db - da) / (b - a)
        raise ValueError(x)


def check_near(checks, name, what, pairs, most):
    worst = max(abs(got - want) for got, want in pairs)
    checks.check(worst < most, f"{name}: {what}", f"off by {worst:.4f}\n{pairs}")


class Wrapped:
    """What the pieces of one layer give when they are rolled on one behind the other."""

    def __init__(self, layer, blank, paper):
        self.low = min(layer["start_mm"], layer["end_mm"])
        self.high = max(layer["start_mm"], layer["end_mm"])
        self.blank, self.paper = blank, paper
        self.x, self.turn = self.low, -0.5
        self.crossings, self.way, self.edges, self.ends = [], [], [], []
        self.parts = 0

    def done(self):
        return self.x > self.high - 0.5

    def wrap(self, piece):
        cone = Cone(self.x, *self.blank.cone(self.x), self.paper, piece)
        lefts = [cone.edge(piece.left_edge, share) for share in (0.05, 0.5, 0.95)]
        rights = [cone.edge(piece.red_line, share) for share in (0.05, 0.5, 0.95)]
        half = (rights[1] - lefts[1]) / 2
        self.edges += [(each * 360, -half * 360) for each in lefts] + [(each * 360, half * 360) for each in rights]
        middle_turn = self.turn + half
        for found, points in ((self.crossings, piece.crossings), (self.way, piece.way[::10])):
            for point in points:
                x, turn = cone.rolled(*point)
                found.append((x, turn + middle_turn, cone.radius + cone.taper * (x - cone.x)))
        self.turn += 2 * half
        self.parts += 1
        if self.turn > 0.49:
            self.ends.append((self.turn * 360, 180))
            self.x, self.turn = self.x + cone.length, -0.5
            for stop in self.blank.between(self.low, self.high):
                if abs(stop - self.x) < NEAR:   # a break: as near as the cut is, then from there on
                    self.ends.append((self.x, stop))
                    self.x = stop


def check_crossings(checks, name, wrapped, crosswrap):
    wanted = [(line["clock_deg"], x) for line in crosswrap["lines"] for x in line["marks_mm"]]
    missed, stray = list(wanted), []
    for x, turn, _ in wrapped.crossings:
        near = [each for each in wanted if abs(each[1] - x) < NEAR and
                abs((turn * 360 - each[0] + 180) % 360 - 180) < NEAR_DEGREES]
        missed = [each for each in missed if each not in near]
        if not near:
            stray.append((turn * 360 % 360, x))
    checks.check(wanted and not missed, f"{name}: every crossing is in its place", f"{missed}\n{stray}")
    checks.check(not stray, f"{name}: no other crossings", stray)
    twice = sum(clock == 180 for clock, _ in wanted)
    checks.check(len(wrapped.crossings) >= len(wanted) + twice, f"{name}: those on the cut are on both edges")


def check_way(checks, name, wrapped, crosswrap):
    """Every point of the way lies on a helix through a crossing, of the lead out or back."""
    sense = 1 if crosswrap["sense"] == "clockwise" else -1
    toward = 1 if crosswrap["field"]["end_mm"] > crosswrap["field"]["start_mm"] else -1
    worst = 0
    for x, turn, radius in wrapped.way:
        off = []
        for lead, way in ((crosswrap["lead_mm"]["out"], toward), (crosswrap["lead_mm"]["back"], -toward)):
            for line in crosswrap["lines"]:
                there = line["clock_deg"] / 360 + sense * way * (x - line["marks_mm"][0]) / lead
                slant = 2 * math.pi * radius / math.hypot(1, 2 * math.pi * radius / lead)
                off.append(abs((turn - there + 0.5) % 1 - 0.5) * slant)
        worst = max(worst, min(off))
    checks.check(len(wrapped.way) > 100 and worst < WAY_NEAR, f"{name}: the way is where a thread goes",
                 f"off by {worst:.3f} mm at most of {len(wrapped.way)} points")


def pieces_of(page):
    """From left to right, row below row."""
    page.red, page.crossings = blots(page.runs(MEET)), mended(blots(page.runs(CROSSING)))
    page.way = page.runs(WAY)
    outlines = [blot for blot in blots(page.runs(CUT)) if tall(blot) > 5]
    pieces = sorted((Piece(outline, page) for outline in outlines), key=lambda piece: piece.top)
    rows = []
    for piece in pieces:
        if rows and piece.top < rows[-1][0].top + 10:
            rows[-1].append(piece)
        else:
            rows.append([piece])
    return [piece for row in rows for piece in sorted(row, key=lambda piece: piece.left)]


def check_templates(checks, folder, paper, sizes, whole, printed, check_size, check_rulers, pages_of):
    """All templates, or (whole: False) just the first, which must lie on the first page."""
    source = ROOT / "tests/pdf/templates.lay"
    name = f"templates-{paper}"
    path = printed(checks, folder, source, paper, name)
    if not path:
        return
    count = check_size(checks, name, path, paper)
    words = pages_of(path)
    first = next((number for number, page in enumerate(words, 1) if HEADING in page), None)
    if not checks.check(first, f"{name}: there are templates"):
        return
    numbers = list(range(first, count + 1))
    for sentence in ("Print at 100 %", "printed side out", "the left edge meets the red line"):
        checks.check(sentence in " ".join(words[first - 1].split()), f"{name}: '{sentence}' is on the first page")
    numbers = numbers if whole else numbers[:1]
    for page in in_turn(lambda number: Page(path, number), numbers):
        check_rulers(checks, name, page.lines(75)[:2])
    pieces = [piece for page in in_turn(lambda number: Coloured(path, number), numbers) for piece in pieces_of(page)]
    text = source.read_text(encoding="utf-8")
    millimetres = float(re.search(r"paper: ([\d.]+) mm", text)[1])
    blanks = {rod: Stations(re.search(rf"blank {blank} (.*)", text)[1])
              for rod, blank in re.findall(r'rod "(\w+)" on (\w+)', text)}
    plan = json.loads(turnlay("plan", "--format", "json", source).out)
    room = sizes[paper][0] - 2 * 12
    checks.check(all(piece.right - piece.left <= room for piece in pieces), f"{name}: all fit the page")
    layers = [(rod["title"], place["label"], layer) for rod in plan["rods"] for place in rod["places"]
              for layer in place["layers"]]
    for rod, place, layer in layers if whole else layers[:1]:
        wrapped = Wrapped(layer, blanks[rod], millimetres)
        while pieces and not wrapped.done():
            wrapped.wrap(pieces.pop(0))
        check_layer(checks, f"{name}, {rod}, {place}", wrapped, layer["crosswrap"])
    checks.check(not whole or not pieces, f"{name}: no other pieces", len(pieces))


def check_layer(checks, name, wrapped, crosswrap):
    if not checks.check(wrapped.parts, f"{name}: there are pieces"):
        return
    check_near(checks, name, "the pieces go from end to end", [(wrapped.x, wrapped.high)], NEAR)
    check_near(checks, name, "edges meet all along", wrapped.edges, NEAR_DEGREES)
    check_near(checks, name, "the pieces go all round", [each for each in wrapped.ends if each[1] == 180],
               NEAR_DEGREES * 2)
    check_crossings(checks, name, wrapped, crosswrap)
    check_way(checks, name, wrapped, crosswrap)
