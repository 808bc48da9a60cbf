"""The eye's view: every turn of its strips against a model of its own (the turns of the plan, IEC 61966-2-1, the normal
distribution of Python), crosswraps against the sharp picture blurred pixel by pixel; and pictures for eyes without one kind of
cone against the cones of the papers."""
import json
import math
import operator
import random
import re
import statistics
import xml.etree.ElementTree

from checks import turnlay
from looks import decoded
from picture import ALL_CASES, CASES, MM, Raster
from svg import SVG, points

ROWS_EDGE = 0.02    # mm of the rod about which the row's ends are read
SAME = 2            # levels of a channel


def encoded(light):
    code = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return 255 * min(max(code, 0), 1)


def light(colour):
    return tuple(decoded(int(colour.lstrip("#")[at:at + 2], 16)) for at in (0, 2, 4))


def source(rng):
    """A rod with one wrap of random threads, and what its bench and its threads are."""
    bench = {"sight": rng.choice((0.3, 0.5, 1.1)), "near": rng.choice((0.3, 0.6, 1)), "far": rng.choice((1.5, 2, 5))}
    threads = {}
    for name in ("navy", "rose", "foam", "haze"):
        threads[name] = {"pitch": rng.choice((0.12, 0.15, 0.22)), "colour": f"{rng.randrange(1 << 24):06x}",
                         "bare": rng.choice((None, f"{rng.randrange(1 << 24):06x}")),
                         "opacity": 0.4 if name == "haze" else 1}
    words = ["edition 1"]
    for name, each in threads.items():
        bare = f', bare: #{each["bare"]}' if each["bare"] else ""
        words.append(f'thread {name} {{ diameter: {each["pitch"]} mm, colour: #{each["colour"]}{bare}, '
                     f'opacity: {100 * each["opacity"]:.0f} % }}')
    words.append(f'bench {{ units: mm, sight: {bench["sight"]}, near: {bench["near"]} m, far: {bench["far"]} m }}')
    tube = f"{rng.randrange(1 << 24):06x}"
    words.append(f"blank tube {{ at 0 mm: 12 mm  at 100 cm: 6 mm, colour: #{tube} }}")
    one, other = rng.sample(("navy", "rose", "foam"), 2)
    parts = [f"band {rng.randint(9, 40)} turns of {one}  fade to {other} steps: {rng.randint(2, 6)}  "
             f"band {rng.randint(9, 25)} turns of {other}",
             f"band {rng.randint(9, 20)} turns of [{one}, {other}]", f"band {rng.randint(9, 20)} turns of haze",
             f"gap {rng.randint(1, 6)} mm", f"band {rng.randint(9, 14)} turns of [{other}, spacer({one})]"]
    rng.shuffle(parts)
    words.append(f'rod "Seen" on tube {{ at 40 cm toward: {rng.choice(("tip", "butt"))} {{ '
                 f"under {{ band {rng.randint(10, 90)} turns of foam }} over {{ {'  '.join(parts)} }} }} }}\n")
    return "\n".join(words), bench, threads, tube


class Model:
    """What is seen along the axis, from the plan's runs alone."""

    def __init__(self, layers, threads, tube, bare):
        self.layers, self.threads, self.tube, self.bare = layers, threads, tube, bare
        edges = sorted(edge for layer in layers for run in layer for edge in self.edges(run))
        self.parts = [(a, b, self.at((a + b) / 2)) for a, b in zip([-1e6] + edges, edges + [1e6]) if b - a > 1e-9]

    def edges(self, run):
        turn = (run["end_mm"] - run["start_mm"]) / max(run["turns"], 1)
        widths = [self.threads[each["thread"]]["pitch"] for each in run["strands"]] or [1]
        for number in range(max(run["turns"], 1)):
            for count in range(len(widths)):
                yield run["start_mm"] + turn * (number + sum(widths[:count]) / sum(widths))
        yield run["end_mm"]

    def at(self, x):
        seen = light(self.tube)
        for layer in self.layers:
            for run in layer:
                along = (x - run["start_mm"]) / (run["end_mm"] - run["start_mm"]) if run["end_mm"] != run["start_mm"] else -1
                if not (0 < along < 1 and run["strands"]):
                    continue
                widths = [self.threads[each["thread"]]["pitch"] for each in run["strands"]]
                within = along * run["turns"] % 1 * sum(widths)
                number = 0
                while within > widths[number] and number + 1 < len(widths):
                    within -= widths[number]
                    number += 1
                strand = run["strands"][number]
                if not strand["spacer"]:
                    thread = self.threads[strand["thread"]]
                    colour = light(self.bare and thread["bare"] or thread["colour"])
                    seen = tuple(thread["opacity"] * own + (1 - thread["opacity"]) * below for own, below in zip(colour, seen))
        return seen

    def seen(self, blur, x):
        if not blur:
            return tuple(map(encoded, self.at(x)))
        spread = statistics.NormalDist(x, blur)
        total = [0, 0, 0]
        for a, b, each in self.parts:
            if b < x - 8 * blur or a > x + 8 * blur:
                continue
            share = spread.cdf(b) - spread.cdf(a)
            total = [sum_ + share * part for sum_, part in zip(total, each)]
        return tuple(map(encoded, total))


def draw(text, *options):
    answer = turnlay("draw", "--view", "eye", *options, "-", given=text.encode())
    if answer.code != 0:
        raise ValueError(answer.words())
    return answer.out.decode()


def strips(text):
    """(title, left, right, top, bottom) of each strip on the page, mm."""
    for group in xml.etree.ElementTree.fromstring(text).iter(f"{SVG}g"):
        title = group.find(f"{SVG}title")
        if title is None:
            continue
        corners = [each for path in group.iter(f"{SVG}path") for each in points(path.get("d"))]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        yield title.text, min(xs), max(xs), min(ys), max(ys)


def far_off(got, wanted):
    return max(abs(a - b) for a, b in zip(got, wanted))


def check_strips(checks, folder, number):
    rng = random.Random(f"strips {number}")
    text, bench, threads, tube = source(rng)
    answer = turnlay("plan", "--format", "json", "-", given=text.encode())
    if not checks.check(answer.code == 0, f"a random wrap compiles, case {number}", answer.words()):
        return 0
    plan = json.loads(answer.out)
    (place,) = plan["rods"][0]["places"]
    layers = [each["runs"] for each in place["layers"]]
    ends = [run[end] for layer in layers for run in layer for end in ("start_mm", "end_mm")]
    scale = rng.choice((6, 4, 9))
    picture = draw(text, "--scale", str(scale))
    raster = Raster(folder, picture)
    blurs = {"sharp": 0}
    for name in ("near", "far"):
        blurs[f"from {bench[name]:g} m"] = 1000 * bench[name] * math.tan(math.radians(bench["sight"] / 60))
    models = {bare: Model(layers, threads, tube, bare) for bare in (False, True)}
    begins, wrong, compared, shown = {}, [], 0, set()
    for title, left, right, top, bottom in strips(picture):
        name, _, before = title.partition(", ")
        low = begins.get(title, min(ends) - 2)
        high = begins[title] = low + (right - left) / scale
        shown.add(title)
        turns = [(a, b) for layer in layers[::-1] for run in layer if run["strands"] for a, b in
                 ((run["start_mm"] + (run["end_mm"] - run["start_mm"]) * each / run["turns"],
                   run["start_mm"] + (run["end_mm"] - run["start_mm"]) * (each + 1) / run["turns"]) for each in range(run["turns"]))
                 if len(run["strands"]) == 1]
        for a, b in map(sorted, turns):
            if not low + ROWS_EDGE < a < b < high - ROWS_EDGE or not topmost(layers, a, b):
                continue
            x = left + ((a + b) / 2 - low) * scale
            wanted = models[bool(before)].seen(blurs[name], (a + b) / 2)
            got = raster.at(x, (top + bottom) / 2)
            compared += 1
            if far_off(got, wanted) > SAME:
                wrong.append((title, (a + b) / 2, got, wanted))
        for x in (min(ends) - 1.5, min(ends) - max(blurs[name], 0.2), max(ends) + max(blurs[name] / 2, 0.2)):
            if not low + 0.3 < x < high - 0.3:
                continue
            near_by = [models[bool(before)].seen(blurs[name], x + off * blurs[name] / 7) for off in (-1, 1)]
            got = raster.at(left + (x - low) * scale, (top + bottom) / 2)
            if any(not min(pair) - SAME <= level <= max(pair) + SAME for level, pair in zip(got, zip(*near_by))):
                wrong.append((title, "blank", x, got, near_by))
    bare = any(threads[each["thread"]]["bare"] for layer in layers for run in layer for each in run["strands"])
    checks.check(not wrong, f"turns of strips have the colour that is seen, case {number}", (compared, wrong[:4]))
    checks.check(shown == set(blurs) | ({f"{name}, before finish" for name in blurs if name != "sharp"} if bare else set()),
                 "sharp, from near and from far; before finish where a thread looks otherwise then", shown)
    checks.check(abs(begins["sharp"] - max(ends) - 2) < 0.01, "rows show the whole wrap", (begins, max(ends)))
    return compared


def topmost(layers, a, b):
    """Whether this turn is seen as a whole, or what is seen there is a turn of the layer above with the same ends."""
    ends = [run[end] for layer in layers for run in layer for end in ("start_mm", "end_mm")]
    if any(a + 1e-6 < end < b - 1e-6 for end in ends):
        return False
    for run in layers[1]:
        low, high = sorted((run["start_mm"], run["end_mm"]))
        if run["strands"] and low < (a + b) / 2 < high:
            turn = (high - low) / run["turns"]
            return len(run["strands"]) == 1 and abs((a - low) / turn - round((a - low) / turn)) < 1e-3 and abs(b - a - turn) < 1e-6
    return True


CROSSED = """edition 1
thread rose {{ diameter: 0.3 mm, colour: #{0} }}
thread foam {{ diameter: 0.25 mm, colour: #{1} }}
thread leaf {{ diameter: 0.2 mm, colour: #{2}, bare: #{3} }}
bench {{ units: mm, ends: pins, sight: 1, near: {near} m, far: {far} m }}
blank tube {{ at 0 mm: {size} mm  at 100 cm: {size} mm, colour: #{4} }}
rod "Seen" on tube {{ at 20 cm length: 20 mm angle: {angle} deg {{
    under {{ band 5 mm of rose band fill of foam }}
    {kind} {count} ends: 8 turns of rose {{ strand {a} of leaf strand {b} of rose strand 2 of foam }} }} }}
"""


STEP = 2        # pixels of the sharp picture that are looked at, each way


WHITE = b"\xff\xff\xff"
LIGHTS = [decoded(level) for level in range(256)]


class Sharp:
    """The pixels of a strip as light, row by row: whether there is any, red, green and blue; of what is beside the rod none."""

    def __init__(self, raster, box):
        _, left, right, top, bottom = box
        self.left, self.top = int(left / MM) + 1, int(top / MM) - 2
        self.wide, self.high = int((right - left) / MM) - 2, int((bottom - top) / MM) + 4
        rows = [raster.pixels(self.left, self.top + row, self.wide) for row in range(-1, self.high + 1)]
        paper = [[row[at:at + 3] == WHITE for at in range(0, len(row), 3)] for row in rows]
        self.rows = [self.look(row, zip(*paper[at:at + 3])) for at, row in enumerate(rows[1:-1])]

    @staticmethod
    def look(row, papers):
        """At the rod's edge pixels are partly of paper."""
        there = [not any(paper) for paper in papers]
        return there, *([LIGHTS[level] * each for level, each in zip(row[channel::3], there)] for channel in range(3))

    def has(self, column, row):
        return self.rows[row][0][column]

    def seen(self, spread, column, row):
        """spread: pixels."""
        reach = int(4 * spread) + 1
        weights = [math.exp(-(each / spread) ** 2 / 2) for each in range(reach + 1)]
        across = [weights[abs(each)] for each in range(-reach, reach + 1, STEP)]
        looked_at = slice(column - reach, column + reach + 1, STEP)
        sums = [0, 0, 0, 0]
        for y in range(max(0, row - reach), min(self.high, row + reach + 1), STEP):
            weight = weights[abs(y - row)]
            sums = [each + weight * sum(map(operator.mul, across, part[looked_at])) for each, part in zip(sums, self.rows[y])]
        return tuple(encoded(each / sums[0]) for each in sums[1:])


def check_crosswrap(checks, folder, number):
    """At random points the sharp picture blurred, by as much as half a cell beside them: cells are half a blur wide."""
    rng = random.Random(f"crosswrap {number}")
    near, far = 1.5, 3
    text = CROSSED.format(*(f"{rng.randrange(1 << 24) & 0xfefefe:06x}" for _ in range(5)), near=near, far=far,
                          size=rng.choice((4, 6)), angle=rng.randrange(360), kind=rng.choice(("chevron", "diamond")),
                          count=f"crossings: {rng.randint(1, 3)}", a=rng.randint(1, 3), b=rng.randint(1, 3))
    scale = 5
    picture = draw(text, "--scale", str(scale), *rng.choice(((), ("--turn", "40"))))
    raster = Raster(folder, picture)
    boxes = {box[0]: box for box in boxes_of_rod(picture)}
    checks.check(set(boxes) >= {"sharp", "from 1.5 m", "from 3 m", "from 1.5 m, before finish", "from 3 m, before finish"},
                 f"strips of a crosswrap, case {number}", list(boxes))
    sharp = Sharp(raster, boxes["sharp"])
    for away in (near, far):
        spread = 1000 * away * math.tan(math.radians(1 / 60)) * scale / MM
        box = boxes[f"from {away:g} m"]
        reach, wrong, compared = int(4 * spread) + int(spread / 4) + 2, [], 0
        for _ in range(30):
            column, row = rng.randrange(reach, sharp.wide - reach), rng.randrange(8, sharp.high - 8)
            if not all(sharp.has(column, row + each) for each in (-5, 0, 5)):
                continue      # beside the rod, or at its edge
            off = round(spread / 4)
            near_by = [sharp.seen(spread, column + x, row + y) for x, y in ((0, 0), (-off, 0), (off, 0), (0, -off), (0, off))]
            got = raster.at((sharp.left + column + 0.5) * MM, (sharp.top + row + 0.5) * MM + box[3] - boxes["sharp"][3])
            compared += 1
            if any(not min(levels) - 5 <= level <= max(levels) + 5 for level, levels in zip(got, zip(*near_by))):
                wrong.append((column, row, got, near_by))
        checks.check(compared > 10 and not wrong, f"a crosswrap is blurred from {away} m as it is seen, case {number}",
                     (compared, wrong[:2]))


def boxes_of_rod(picture):
    """strips(), but of those that are clipped the outline of the clip."""
    root = xml.etree.ElementTree.fromstring(picture)
    clips = {each.get("id"): [point for path in each for point in points(path.get("d"))] for each in root.iter(f"{SVG}clipPath")}
    for group in root.iter(f"{SVG}g"):
        title = group.find(f"{SVG}title")
        inner = [each for each in group if each.get("clip-path")]
        if title is None or not inner:
            continue
        corners = clips[inner[0].get("clip-path")[5:-1]]
        yield (title.text, min(x for x, _ in corners), max(x for x, _ in corners), min(y for _, y in corners),
               max(y for _, y in corners))


# Of V. C. Smith and J. Pokorny, for the primaries of IEC 61966-2-1, as F. Vienot, H. Brettel and J. D. Mollon (1999) print them.
CONES = ((17.8824, 43.5161, 4.11935), (3.45565, 27.1554, 3.86714), (0.0299566, 0.184309, 1.46709))
# The missing cone, and lights in which such an eye sees as one with all cones does.
EYES = {"protanopia": (0, ((0, 0, 1),)), "deuteranopia": (1, ((0, 0, 1),)),
        "tritanopia": (2, ((-0.6123952, 0.4629320, 1), (1, -0.1024999, -0.0075121)))}


def solved(matrix, right):
    """Cramer's rule, 3 by 3."""
    def determinant(m):
        return sum(m[0][i] * (m[1][(i + 1) % 3] * m[2][(i + 2) % 3] - m[1][(i + 2) % 3] * m[2][(i + 1) % 3]) for i in range(3))
    return tuple(determinant([[right[r] if c == column else matrix[r][c] for c in range(3)] for r in range(3)]) /
                 determinant(matrix) for column in range(3))


def through_cones(seen):
    return [sum(part * level for part, level in zip(row, seen)) for row in CONES]


def as_seen(eyes, colour):
    """What the other two cones say stays; what the missing one would say follows from them, as in white and the anchor."""
    missing, anchors = EYES[eyes]
    one, other = (each for each in range(3) if each != missing)
    said, white = through_cones(light(colour)), through_cones((1, 1, 1))
    anchor = through_cones(anchors[0])
    if len(anchors) == 2 and said[other] * white[one] < said[one] * white[other]:
        anchor = through_cones(anchors[1])
    rule = solved(((white[one], white[other], 0), (anchor[one], anchor[other], 0), (0, 0, 1)), (white[missing], anchor[missing], 0))
    said[missing] = rule[0] * said[one] + rule[1] * said[other]
    return tuple(map(encoded, solved(CONES, said)))


def check_eyes(checks):
    rng = random.Random("eyes")
    text, *_ = source(rng)
    for view in ("rod", "side", "eye"):
        def colours(*options):
            answer = turnlay("draw", "--view", view, *options, "-", given=text.encode())
            return re.findall('(?:fill|stroke)="#(......)"', answer.out.decode())
        usual = colours()
        checks.check(len(set(usual)) > 5, f"{view}: there are colours", set(usual))
        for eyes in EYES:
            other = colours("--eyes", eyes)
            checks.check(len(other) == len(usual) + 1, f"{view}: one line says for whom it is", (len(usual), len(other)))
            wrong = [(a, b, as_seen(eyes, a)) for a, b in zip(usual, other)
                     if far_off([int(b[at:at + 2], 16) for at in (0, 2, 4)], as_seen(eyes, a)) > 1]
            checks.check(not wrong, f"{view}: colours as seen with {eyes}", wrong[:4])


STRIPS, CROSSWRAPS = (max(1, whole * CASES // ALL_CASES) for whole in (8, 3))


def check_seen(checks, folder):
    compared = sum(check_strips(checks, folder, number) for number in range(STRIPS))
    checks.check(compared > 100 * STRIPS, "turns were compared", compared)
    for number in range(CROSSWRAPS):
        check_crosswrap(checks, folder, number)
    check_eyes(checks)
