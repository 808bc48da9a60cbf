"""The counting rules and the geometry of grammar/reference.md, worked out a second time.

Counts and positions are exact fractions. Lengths come from numerical integration of the
helix and of the support function of a guide's foot, never from a closed form.
"""
import math
from fractions import Fraction
from functools import lru_cache

HALF = Fraction(1, 2)


def rounded(value):
    """Whole number next to it, halves away from zero."""
    value = Fraction(value)
    return int(math.floor(value + HALF)) if value >= 0 else -int(math.floor(-value + HALF))


class Thread:
    def __init__(self, name, pitch, diameter):
        self.name, self.pitch, self.diameter = name, Fraction(pitch), Fraction(diameter)


class Strand:
    def __init__(self, thread, spacer=False):
        self.thread, self.spacer = thread, spacer


def pitch_of(strands):
    """A turn takes the sum of the pitches of its strands."""
    return sum((strand.thread.pitch for strand in strands), Fraction(0))


class Run:
    """Turns without a change of thread; the position is filled in by `Layer.lay`."""

    def __init__(self, role, strands, turns, width):
        self.role, self.strands, self.turns, self.width = role, strands, turns, width
        self.start = self.end = None


# ---------------------------------------------------------------- statements

class Gap:
    kind = 'gap'
    fill = False

    def __init__(self, width):
        self.width = Fraction(width)

    def runs(self, source, turns):
        return [Run('gap', [], 0, self.width)]

    def first_thread(self, source):
        return None

    last_thread = first_thread


class Inlay:
    """`at` or `every` is a pair (kind, value): ratio, length or turns."""

    def __init__(self, extent, thread, at=None, every=None):
        self.extent, self.thread, self.at, self.every = extent, thread, at, every

    def turns(self):
        kind, value = self.extent
        return int(value) if kind == 'turns' else rounded(value / self.thread.pitch)

    def stands_for(self, pitch):
        return max(1, rounded(self.turns() * self.thread.pitch / pitch))

    def first_turns(self, band_turns, pitch):
        """Numbers of the band's turns, from 0, at which it begins."""
        stands = self.stands_for(pitch)
        if self.at is not None:
            kind, value = self.at
            middle = {'ratio': value * band_turns, 'length': value / pitch, 'turns': value}[kind]
            return [rounded(middle - Fraction(stands, 2))]
        kind, value = self.every
        step = value / pitch if kind == 'length' else Fraction(value)
        found, middle = [], step
        while True:
            first = rounded(middle - Fraction(stands, 2))
            if first + stands > band_turns - 1:
                return found
            found.append(first)
            middle += step


class Band:
    kind = 'band'

    def __init__(self, extent, strands, inlays=()):
        self.extent, self.strands, self.inlays = extent, strands, list(inlays)
        self.pitch = pitch_of(strands)
        self.fill = extent[0] == 'fill'

    def count(self):
        kind, value = self.extent
        return int(value) if kind == 'turns' else rounded(value / self.pitch)

    def runs(self, source, turns):
        turns = self.count() if turns is None else turns
        set_in = sorted((first, index, inlay) for index, inlay in enumerate(self.inlays)
                        for first in inlay.first_turns(turns, self.pitch))
        result, done = [], 0
        for first, _, inlay in set_in:
            if first - done < 1:
                raise ValueError('inlays touch')
            result.append(Run('band', self.strands, first - done, (first - done) * self.pitch))
            count = inlay.turns()
            result.append(Run('inlay', [Strand(inlay.thread)], count, count * inlay.thread.pitch))
            done = first + inlay.stands_for(self.pitch)
        if turns - done < 1:
            raise ValueError('an inlay leaves its band')
        result.append(Run('band', self.strands, turns - done, (turns - done) * self.pitch))
        return result

    def first_thread(self, source):
        return self.strands[0].thread if len(self.strands) == 1 else None

    last_thread = first_thread


class Fade:
    """`mode`: ('steps', n), ('over', ('turns', n) or ('length', w)), ('runs', [(in, out), ...])."""
    kind = 'fade'
    fill = False

    def __init__(self, target, mode, source=None):
        self.target, self.mode, self.source = target, mode, source

    def steps(self, source):
        """Pairs (is it the new thread, turns) in order."""
        kind, value = self.mode
        if kind == 'steps':
            return [step for i in range(1, value + 1) for step in ((True, i), (False, value + 1 - i))]
        if kind == 'runs':
            return [step for new, old in value for step in ((True, new), (False, old))]
        extent, amount = value
        total = int(amount) if extent == 'turns' else \
            rounded(amount / ((source.pitch + self.target.pitch) / 2))
        made, steps = 0, []
        for turn in range(1, total + 1):
            due = math.floor(Fraction(turn * turn, 2 * total) + HALF)
            if due - made not in (0, 1):
                raise AssertionError('an even fade gains at most a turn a turn')
            is_new, made = due > made, due
            if steps and steps[-1][0] == is_new:
                steps[-1][1] += 1
            else:
                steps.append([is_new, 1])
        return steps

    def runs(self, source, turns):
        result = []
        for is_new, count in self.steps(source):
            thread = self.target if is_new else source
            result.append(Run('fade in' if is_new else 'fade out', [Strand(thread)], count, count * thread.pitch))
        return result

    def first_thread(self, source):
        """That of the first turn: it is laid last where the fade is turned round."""
        is_new = next(is_new for is_new, count in self.steps(source) if count)
        return self.target if is_new else source

    def last_thread(self, source):
        return self.target


class Repeat:
    def __init__(self, times, body):
        self.times, self.body = times, body


class Mirror:
    def __init__(self, body):
        self.body = body


class Symmetric:
    def __init__(self, body):
        self.body = body


def share(total, parts):
    """Whole numbers that share a total evenly, the first ones taking what does not share out."""
    whole, more = divmod(total, parts)
    return [whole + (1 if i < more else 0) for i in range(parts)]


def spread(extent, threads, mode):
    """`fade EXTENT of THREADS` as bands and fades."""
    kind, value = extent
    pairs = list(zip(threads, threads[1:]))
    if kind == 'fill':
        bands = [Band(('fill', Fraction(1)), [Strand(thread)]) for thread in threads]
    else:
        if mode is None:
            mean = sum(old.pitch + new.pitch for old, new in pairs) / (2 * len(pairs))
            total = int(value) if kind == 'turns' else rounded(value / mean)
            return [Fade(new, ('over', ('turns', turns)), old)
                    for (old, new), turns in zip(pairs, share(total, len(pairs)))]
        fades = [(new if comes_in else old, count) for old, new in pairs
                 for comes_in, count in Fade(new, mode, old).steps(old)]
        mean = sum(thread.pitch for thread in threads) / len(threads)
        left = value - sum(thread.pitch * count for thread, count in fades) if kind == 'length' else None
        total = int(value) - sum(count for _, count in fades) if kind == 'turns' else rounded(max(left, Fraction(0)) / mean)
        if total < len(threads):
            raise ValueError('the crossovers do not fit')
        bands = [Band(('turns', turns), [Strand(thread)])
                 for turns, thread in zip(share(total, len(threads)), threads)]
    result = [bands[0]]
    for (old, new), band in zip(pairs, bands[1:]):
        result += [Fade(new, mode, old), band]
    return result


class Item:
    """A statement at one place in the working order."""

    def __init__(self, node, mirrored, source):
        self.node, self.mirrored, self.source = node, mirrored, source
        self.laid = []

    def turned(self):
        return Item(self.node, not self.mirrored, self.source)

    def last_thread(self):
        return (self.node.first_thread if self.mirrored else self.node.last_thread)(self.source)


def in_working_order(nodes, before=None):
    """Items of a body. `before` is the item before it, which gives a fade its running thread."""
    items = []
    for node in nodes:
        last = items[-1] if items else before
        if isinstance(node, Repeat):
            for _ in range(node.times):
                items += in_working_order(node.body, items[-1] if items else before)
        elif isinstance(node, Mirror):
            items += [item.turned() for item in reversed(in_working_order(node.body, last))]
        elif isinstance(node, Symmetric):
            body = in_working_order(node.body, last)
            items += body + [item.turned() for item in reversed(body)]
        elif isinstance(node, Fade) and node.source is None:
            source = last.last_thread() if last else None
            if source is None:
                raise ValueError('a fade without a running thread')
            items.append(Item(node, False, source))
        else:
            items.append(Item(node, False, getattr(node, 'source', None)))
    return items


def fills_in_source_order(nodes, found):
    for node in nodes:
        if isinstance(node, (Repeat, Mirror, Symmetric)):
            fills_in_source_order(node.body, found)
        elif node.fill and node not in found:
            found.append(node)
    return found


def share_out(left, fills, copies):
    """Turns of each fill, in the order of `fills`."""
    total = sum(fill.extent[1] * copies[fill] for fill in fills)
    quota = {fill: fill.extent[1] / total * left / fill.pitch for fill in fills}
    turns = {fill: math.floor(quota[fill]) for fill in fills}
    left -= sum(turns[fill] * copies[fill] * fill.pitch for fill in fills)
    order = sorted(fills, key=lambda fill: turns[fill] - quota[fill])  # a stable sort: ties stay in order
    took = True
    while took:
        took = False
        for fill in order:
            if copies[fill] * fill.pitch <= left:
                turns[fill] += 1
                left -= copies[fill] * fill.pitch
                took = True
    return turns


class Layer:
    def __init__(self, kind, nodes, offset=0, length=None):
        self.kind, self.nodes, self.offset, self.own_length = kind, nodes, Fraction(offset), length

    def lay(self, place_length):
        """Lays the runs; their positions count from the place's start in working direction."""
        self.length = self.own_length
        if self.length is None and place_length is not None:
            self.length = place_length - self.offset
        self.items = in_working_order(self.nodes)
        fills = fills_in_source_order(self.nodes, [])
        turns, at = {}, self.offset
        if fills:
            copies = {fill: sum(item.node is fill for item in self.items) for fill in fills}
            fixed = sum(run.width for item in self.items if not item.node.fill
                        for run in item.node.runs(item.source, None))
            turns = share_out(self.length - fixed, fills, copies)
        self.runs = []
        for item in self.items:
            item.laid = item.node.runs(item.source, turns.get(item.node))
            if item.mirrored:
                item.laid.reverse()
                for run in item.laid: # as it is worked, what came in goes out
                    run.role = {'fade in': 'fade out', 'fade out': 'fade in'}.get(run.role, run.role)
            for run in item.laid:
                run.start, run.end = at, at + run.width
                at = run.end
                self.runs.append(run)
        self.width = at - self.offset
        self.unfilled = self.length - self.width if fills else None


# ---------------------------------------------------------------- places

class Blank:
    def __init__(self, stations):
        self.stations = [(Fraction(x), Fraction(diameter)) for x, diameter in stations]
        self.points = [(float(x), float(diameter)) for x, diameter in self.stations]

    def ends(self):
        """Where what shows of each section ends: of one piece the tip."""
        return [self.stations[-1][0]]

    def diameter(self, x, _near=None):
        for (x0, d0), (x1, d1) in zip(self.points, self.points[1:]):
            if x <= x1 or x1 == self.points[-1][0]:
                return d0 + (d1 - d0) * (x - x0) / (x1 - x0)

    def slope(self, x):
        """Change of the radius along the axis."""
        for (x0, d0), (x1, d1) in zip(self.points, self.points[1:]):
            if x <= x1 or x1 == self.points[-1][0]:
                return (d1 - d0) / (x1 - x0) / 2


class Joined:
    """A rod of several sections, each a Blank measured from its own butt end. Each is looked up by itself: what shows
    at a place is the outermost section that reaches it."""

    def __init__(self, sections, overlaps, tip_inside):
        self.sections, self.tip_inside, self.butts = sections, tip_inside, [Fraction(0)]
        for section, overlap in zip(sections, overlaps):
            self.butts.append(self.butts[-1] + section.stations[-1][0] - overlap)
        self.tips = [butt + section.stations[-1][0] for butt, section in zip(self.butts, sections)]
        self.reaches = [(float(butt), float(tip)) for butt, tip in zip(self.butts, self.tips)]
        self.joints = self.tips[:-1] if tip_inside else self.butts[1:]
        self.stations = [sections[0].stations[0], (self.tips[-1], sections[-1].stations[-1][1])]
        self.points = [(float(butt + x), None) for butt, section in zip(self.butts, sections) for x, _ in section.stations]

    def ends(self):
        return self.joints + [self.tips[-1]]

    def starts(self):
        return [self.sections[0].stations[0][0]] + self.joints

    def shows(self, near):
        reach = [i for i, (butt, tip) in enumerate(self.reaches) if butt <= near <= tip]
        return (min(reach) if self.tip_inside else max(reach)) if reach else 0 if near < 0 else len(self.sections) - 1

    def diameter(self, x, near=None):
        section = self.shows(x if near is None else near)
        return self.sections[section].diameter(x - self.reaches[section][0])

    def slope(self, x):
        section = self.shows(x)
        return self.sections[section].slope(x - self.reaches[section][0])


class Wrapped:
    """A blank, of one piece or of several, with the wrapped parts on it in the order of the source: where each begins
    and ends, and its diameters, set out evenly from its butt end to its tip end. The last that lies at a place is on
    top."""

    def __init__(self, blank):
        self.blank, self.stations, self.points, self.parts = blank, blank.stations, list(blank.points), []

    def __getattr__(self, name):
        return getattr(self.blank, name)

    def wrap_over(self, low, high, diameters):
        low, high, steps = float(low), float(high), max(1, len(diameters) - 1)
        if len(diameters) == 1:
            diameters = 2 * diameters
        part = [(low + (high - low) * i / steps, float(each)) for i, each in enumerate(diameters)]
        self.parts.append(part)
        self.points += part

    def cone(self, near):
        """The two ends of the part's cone that is on top there; None where the blank shows."""
        on_top = [part for part in self.parts if part[0][0] < near < part[-1][0]]
        return next((ends for ends in zip(on_top[-1], on_top[-1][1:]) if near <= ends[1][0]), None) if on_top else None

    def diameter(self, x, near):
        """At x, on the side of it where `near` lies."""
        cone = self.cone(near)
        if not cone:
            return self.blank.diameter(x, near)
        (x0, d0), (x1, d1) = cone
        return d0 + (d1 - d0) * (x - x0) / (x1 - x0)

    def slope(self, near):
        cone = self.cone(near)
        return (cone[1][1] - cone[0][1]) / (cone[1][0] - cone[0][0]) / 2 if cone else self.blank.slope(near)


class Foot:
    """A guide's foot along the axis: from its tip, up the ramp, to its inner end."""

    def __init__(self, tip, ramp_end, end, width, height):
        self.tip, self.ramp_end, self.end = float(tip), float(ramp_end), float(end)
        self.width, self.height = float(width), float(height)

    def rise(self, x):
        """How much of its width and height it has at x: from 0 to 1."""
        if not min(self.tip, self.end) <= x <= max(self.tip, self.end):
            return 0.0
        if self.ramp_end == self.tip:
            return 1.0
        return min(1.0, (x - self.tip) / (self.ramp_end - self.tip))


class Place:
    def __init__(self, start, sign, length, layers, foot=None):
        self.start, self.sign, self.length, self.layers, self.foot = Fraction(start), sign, length, layers, foot
        self.angle = Fraction(0)   # degrees, 0 to 360

    def x(self, along):
        return self.start + self.sign * along


class Guide:
    def __init__(self, feet, gap=0, side='tip', width=0, height=0, ramp=0, before=0):
        self.feet, self.gap, self.side = [Fraction(foot) for foot in feet], Fraction(gap), side
        self.width, self.height, self.ramp, self.before = width, height, Fraction(ramp), Fraction(before)

    def places(self, ring, layers_of):
        """A place for each foot; `layers_of()` gives its layers afresh."""
        sides = [-1, 1] if len(self.feet) == 2 else [1 if self.side == 'tip' else -1]
        for side, length in zip(sides, self.feet):
            inner = ring + side * self.gap / 2
            tip = inner + side * length
            foot = Foot(tip, tip - side * self.ramp, inner, self.width, self.height)
            yield Place(tip + side * self.before, -side, length + self.before, layers_of(), foot)


# ---------------------------------------------------------------- lengths

def simpson(function, low, high, panels):
    step = (high - low) / (2 * panels)
    total = function(low) + function(high)
    for i in range(1, 2 * panels):
        total += function(low + i * step) * (4 if i % 2 else 2)
    return total * step / 3


def halved(function, low, high):
    """Where the function changes its sign between the two."""
    begins = function(low) < 0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if (function(middle) < 0) == begins else (low, middle)
    return (low + high) / 2


@lru_cache(maxsize=200000)
def hull(radius, half_width, top):
    """Round the hull of a circle and a rectangle whose underside touches its top.

    Cauchy's formula: the length of a convex outline is the integral of its support function,
    here the largest of those of the circle and the rectangle's corners, each known by its integral.
    The places where another one becomes the largest are found by bisection; right and left are alike.
    """
    def circle(angle):
        return radius * angle

    def upper(angle):
        return half_width * math.sin(angle) - top * math.cos(angle)

    def lower(angle):
        return half_width * math.sin(angle) - radius * math.cos(angle)

    def largest(angle):
        across, up = half_width * math.cos(angle), math.sin(angle)
        if radius >= across + max(top * up, radius * up):
            return circle
        return upper if top * up >= radius * up else lower

    low, high, parts = -math.pi / 2, math.pi / 2, 24
    grid = [low + (high - low) * i / parts for i in range(parts + 1)]
    total, begun = 0.0, low
    holder = largest(low + 1e-9)
    for left, right in zip(grid, grid[1:]):
        taker = largest(right - 1e-9)
        while taker is not holder:
            inner, outer, next_holder = left, right, taker
            for _ in range(48):
                middle = (inner + outer) / 2
                seen = largest(middle)
                if seen is holder:
                    inner = middle
                else:
                    outer, next_holder = middle, seen
            total += holder(outer) - holder(begun)
            begun, left, holder = outer, outer, next_holder
    return 2 * (total + holder(high) - holder(begun))


class Surface:
    """What lies below a layer: the blank, a guide's foot, and the layers laid before."""

    def __init__(self, blank, place, index):
        self.blank, self.foot = blank, place.foot
        kind = place.layers[index].kind
        self.over_foot = self.foot is not None and kind == 'over'
        self.inside, self.outside = [], []  # stretches (low, high, thread diameter) below the foot, above it
        for layer in place.layers[:index]:
            stretches = self.outside if self.over_foot and layer.kind == 'over' else self.inside
            for run in layer.runs:
                stay = [strand.thread.diameter for strand in run.strands if not strand.spacer]
                if stay:
                    ends = sorted((float(place.x(run.start)), float(place.x(run.end))))
                    stretches.append((ends[0], ends[1], float(max(stay))))

    def edges(self):
        found = [x for x, _ in self.blank.points]
        for low, high, _ in self.inside + self.outside:
            found += [low, high]
        if self.over_foot:
            found += [self.foot.tip, self.foot.ramp_end, self.foot.end]
        return found

    @staticmethod
    def thickness(stretches, x):
        return sum(diameter for low, high, diameter in stretches if low < x < high)

    def diameter(self, x, near):
        """Diameter at x without the foot; `near` tells on which side of an edge."""
        added = self.thickness(self.inside, near) + self.thickness(self.outside, near)
        return self.blank.diameter(x, near) + 2 * added

    def length(self, start, end, pitch, diameter):
        """Length of a thread wound from start to end with this pitch."""
        low, high = sorted((float(start), float(end)))
        cuts = [low] + sorted(x for x in set(self.edges()) if low + 1e-9 < x < high - 1e-9) + [high]
        return sum(self.piece(a, b, pitch, diameter) for a, b in zip(cuts, cuts[1:]))

    def piece(self, low, high, pitch, diameter):
        middle = (low + high) / 2
        inside, outside = self.thickness(self.inside, middle), self.thickness(self.outside, middle)
        slope = self.blank.slope(middle)

        def helix(x, round_it):
            return math.sqrt((round_it / pitch) ** 2 + 1 + slope * slope)

        def plain(x):
            return helix(x, math.pi * (self.blank.diameter(x, middle) + 2 * (inside + outside) + diameter))

        if not self.over_foot or self.foot.rise(middle) == 0:
            return simpson(plain, low, high, 4)

        def over(x):
            rise = self.foot.rise(min(max(x, low), high))
            radius = self.blank.diameter(x, middle) / 2 + inside
            outline = hull(radius, self.foot.width / 2 * rise, radius + self.foot.height * rise)
            return helix(x, outline + 2 * math.pi * (outside + diameter / 2))

        if self.foot.rise(middle) == 1:
            return simpson(over, low, high, 4)
        # The hull leaves the circle with the power 3/2 of the way up the ramp: smooth in its root.
        toward = 1 if self.foot.ramp_end > self.foot.tip else -1
        ends = sorted(math.sqrt(max(0.0, toward * (x - self.foot.tip))) for x in (low, high))

        def wider(s):
            """By how much the foot is wider there than what it stands on: the hull bends where it begins to be."""
            x = min(max(self.foot.tip + toward * s * s, low), high)
            return self.foot.width * self.foot.rise(x) - self.blank.diameter(x, middle) - 2 * inside

        if (wider(ends[0]) < 0) != (wider(ends[1]) < 0):
            ends.insert(1, halved(wider, ends[0], ends[1]))
        return sum(simpson(lambda s: over(self.foot.tip + toward * s * s) * 2 * s, a, b, 10) for a, b in zip(ends, ends[1:]))


def lay_place(blank, place):
    """Lays all layers of a place and measures every strand; keeps lengths in run.lengths."""
    for index, layer in enumerate(place.layers):
        layer.lay(place.length)
        surface = Surface(blank, place, index)
        for run in layer.runs:
            start, end = place.x(run.start), place.x(run.end)
            near = float(end - start) * 1e-6
            run.diameters = (surface.diameter(float(start), float(start) + near),
                             surface.diameter(float(end), float(end) - near))
            pitch = float(pitch_of(run.strands))
            run.lengths = [surface.length(start, end, pitch, float(strand.thread.diameter))
                           for strand in run.strands]
