"""A second way to every number of a crosswrap, written from grammar/reference.md alone ("Crosswraps").

Lengths in mm, angles in turns unless the name says otherwise. `w` is the way from the field's start in working
direction, `x` the place from the butt, `q` the distance of a strand's middle from the bundle's line, across the
strands and up (toward the tip) positive. Paths are integrated numerically; no closed form of a length is used.
"""
import math
from fractions import Fraction
from functools import cached_property

# Gauss-Legendre on [-1, 1]: nodes found by Newton's method from the Legendre polynomials.


def legendre(count):
    found = []
    for number in range(count):
        node = math.cos(math.pi * (number + 0.75) / (count + 0.5))
        for _ in range(60):
            before, value = 1.0, node
            for order in range(2, count + 1):
                before, value = value, ((2 * order - 1) * node * value - (order - 1) * before) / order
            slope = count * (node * value - before) / (node * node - 1)
            step = value / slope
            node -= step
            if abs(step) < 1e-16:
                break
        found.append((node, 2 / ((1 - node * node) * slope * slope)))
    return found


NODES = legendre(10)


def integral(function, low, high):
    """Of a function without a kink: what is integrated here is smooth between the edges of a surface."""
    half, middle = (high - low) / 2, (low + high) / 2
    return half * sum(weight * function(middle + half * node) for node, weight in NODES)


def half_up(value):
    """A whole number; halves up. Numbers that agree to nine digits count as equal."""
    return math.floor(value + 0.5 + 1e-9 * max(1.0, abs(value)))


def part_of_turn(turns):
    """What is left of whole turns; what is a turn but for nine digits is none."""
    rest = turns % 1
    return 0.0 if rest > 1 - 1e-9 else rest


class Thread:
    def __init__(self, name, pitch, diameter):
        self.name, self.pitch, self.diameter = name, Fraction(pitch), Fraction(diameter)


class Surface:
    """A tapered blank and what was laid on it: stretches (low, high, thickness on either side)."""

    def __init__(self, stations, stretches=()):
        self.stations = [(float(x), float(diameter)) for x, diameter in stations]
        self.stretches = [(float(low), float(high), float(thickness)) for low, high, thickness in stretches]

    def leg(self, x):
        pairs = list(zip(self.stations, self.stations[1:]))
        for (x0, d0), (x1, d1) in pairs:
            if x <= x1 or (x1, d1) == pairs[-1][1]:
                return x0, d0, (d1 - d0) / (x1 - x0)

    def slope(self, near):
        """Change of the radius along the axis."""
        return self.leg(near)[2] / 2

    def diameter(self, x, near=None):
        """At x; `near`, a place just beside x, tells on which side of an edge."""
        near = x if near is None else near
        x0, d0, change = self.leg(near)
        return d0 + change * (x - x0) + 2 * sum(t for low, high, t in self.stretches if low < near < high)

    def cuts(self, low, high):
        edges = {x for x, _ in self.stations} | {x for stretch in self.stretches for x in stretch[:2]}
        return [low] + sorted(x for x in edges if low + 1e-9 < x < high - 1e-9) + [high]

    def sections(self, low, high):
        """Stretches without an edge: (from, to, slope of the radius, function of the diameter)."""
        for a, b in zip(cuts := self.cuts(low, high), cuts[1:]):
            slope = self.slope((a + b) / 2)
            yield a, b, slope, lambda x, a=a, at_a=self.diameter(a, (a + b) / 2), s=slope: at_a + 2 * s * (x - a)


class Strand:
    """One thread of the bundle: q its middle, `against` the number of the strand it lies against."""

    def __init__(self, thread, spacer, q, side, against, line):
        self.thread, self.spacer, self.q, self.side, self.against, self.line = \
            thread, spacer, q, side, against, line


class Line:
    """A `strand` line: count is None for a fill."""

    def __init__(self, count, thread, spacer=False, line=0):
        self.count, self.thread, self.spacer, self.line = count, thread, spacer, line


class Bench:
    def __init__(self, left='butt', rotation='toward', ends='tape', friction=0.2, free=150):
        self.left, self.rotation, self.ends, self.friction, self.free = left, rotation, ends, friction, free

    def clockwise(self):
        """The sense in which the thread goes round, seen from the butt."""
        return (self.left == 'butt') != (self.rotation == 'toward')


class Crosswrap:
    """What the file says. `given` is the option that sets it out and its value, as ('crossings', 5)."""

    def __init__(self, kind, ends, given, lines, starts=1, leads=(1, 1), facing=1, pointing='tip'):
        self.kind, self.ends, self.given, self.lines = kind, ends, given, lines
        self.starts, self.leads, self.facing, self.pointing = starts, leads, facing, pointing

    def end_turns(self):
        how, value, thread = self.ends
        if how == 'turns':
            return value
        ratio = Fraction(value) / thread.pitch
        return math.floor(ratio + Fraction(1, 2))


class Pass:
    def __init__(self, strand, start, out, back, dwell):
        self.strand, self.start, self.out, self.back, self.dwell = strand, start, out, back, dwell


class Laid:
    """A crosswrap laid in a layer that begins at x = start and is `length` long; sign is 1 toward the tip."""

    def __init__(self, wrap, surface, start, sign, length, bench):
        self.wrap, self.surface, self.bench, self.sign = wrap, surface, bench, sign
        self.angle = 0.0   # degrees clockwise from the rod's line at which its place stands
        self.length = Fraction(length)
        self.end_turns = wrap.end_turns()
        self.end_width = self.end_turns * wrap.ends[2].pitch
        self.field = self.length - 2 * self.end_width
        self.field_start = Fraction(start) + sign * self.end_width
        self.first = float(wrap.lines[0].thread.diameter)  # of the bundle's first thread
        self.starts = wrap.starts
        common = math.gcd(*wrap.leads)
        self.a, self.b = wrap.leads[0] // common, wrap.leads[1] // common
        self.set_out()
        self.make_strands()

    # ------------------------------------------------------------ set-out

    def x(self, w):
        return float(self.field_start) + self.sign * float(w)

    def near(self, w, inward):
        """A place beside w on the side of the field; inward is the way there in w."""
        return self.x(float(w) + 1e-6 * inward)

    def set_out(self):
        how, value = self.wrap.given
        middle = self.surface.diameter(self.x(self.field / 2))
        if self.wrap.kind == 'spiral':
            self.crossings = self.spacing = self.lead_back = None
            self.lead_out = {'turns': lambda: float(self.field / value), 'lead': lambda: float(value),
                             'angle': lambda: math.pi * (middle + self.first) * math.tan(math.radians(value))}[how]()
            return
        if how == 'crossings':
            self.crossings = value
        elif how == 'spacing':
            self.crossings = half_up(float(self.field / Fraction(value)))
        else:
            lead = math.pi * (middle + self.first) * math.tan(math.radians(value))
            self.wished = self.starts * float(self.field) / (lead * min(self.a, self.b))  # of the greater lead
            self.crossings = max(1, half_up(self.wished))
        self.spacing = float(self.field / self.crossings)
        self.lead_out = self.starts * self.spacing / self.b
        self.lead_back = self.starts * self.spacing / self.a

    def turned(self, turns):
        """A way round in the sense of the thread, as degrees clockwise seen from the butt."""
        return (360.0 * turns if self.bench.clockwise() else -360.0 * turns) % 360.0

    def lines(self):
        """(clock in degrees, marks from the butt) of each line where threads cross.

        The levels within the field: those at its very ends, where the end bands begin, are not marked.
        """
        if self.wrap.kind == 'spiral':
            return []
        families = self.a + self.b
        facing = self.wrap.facing * self.b / (families * self.starts)
        found = []
        for family in range(1, families + 1):
            levels = range(family, self.crossings * families, families)
            marks = [self.x(level * self.spacing / families) for level in levels]
            for start in range(self.starts):
                turn = family * self.b / (families * self.starts) + start / self.starts - facing
                found.append(((self.angle + self.turned(turn)) % 360.0, marks))
        return found

    # ------------------------------------------------------------ strands

    def tangent(self, lead, x, near):
        return lead / (math.pi * (self.surface.diameter(x, near) + self.first))

    def secant(self, lead, x, near):
        return math.hypot(1, self.tangent(lead, x, near))

    def smaller_lead(self):
        return self.lead_out if self.lead_back is None else min(self.lead_out, self.lead_back)

    def larger_lead(self):
        return self.lead_out if self.lead_back is None else max(self.lead_out, self.lead_back)

    def field_ends(self):
        """(w, way into the field) of the end toward the butt, then of that toward the tip."""
        ends = [(0, 1), (float(self.field), -1)]
        return ends if self.sign > 0 else ends[::-1]

    def room(self, w, inward):
        lead = self.smaller_lead()
        return lead / self.secant(lead, self.x(w), self.near(w, inward)) / self.starts

    def make_strands(self):
        kind, lines = self.wrap.kind, self.wrap.lines
        counts = [line.count for line in lines]
        self.filled = None
        if None in counts:
            at = counts.index(None)
            sides = [2 if kind == 'diamond' and number > 0 else 1 for number in range(len(lines))]
            others = sum(line.count * side * float(line.thread.pitch)
                         for line, side in zip(lines, sides) if line.count is not None)
            most = max(self.room(*end) for end in self.field_ends())
            self.filled = (most - others) / float(lines[at].thread.pitch) / sides[at]
            counts[at] = max(1, half_up(self.filled))
        self.strands = []
        {'chevron': self.chevron, 'diamond': self.diamond, 'spiral': self.spiral}[kind](list(zip(lines, counts)))
        self.width = sum(float(strand.thread.pitch) for strand in self.strands)

    def add(self, line, q, side, against):
        self.strands.append(Strand(line.thread, line.spacer, float(q), side, against, line.line))

    def chevron(self, lines):
        sign, edge = (1 if self.wrap.pointing == 'tip' else -1), None
        for line, count in lines:
            for _ in range(count):
                number, half = len(self.strands), line.thread.pitch / 2
                if number == 0:
                    self.add(line, 0, 'first', None)
                    edge = half
                else:
                    self.add(line, sign * (edge + half), 'up' if sign > 0 else 'down', number - 1)
                    edge += 2 * half

    def diamond(self, lines):
        """The laid strands are a row: `row` has their numbers from the lowest to the uppermost."""
        row = []
        low = high = Fraction(0)  # the row's edges

        def lay(line, up):
            nonlocal low, high
            half, number = line.thread.pitch / 2, len(self.strands)
            if up:
                self.add(line, high + half, 'up', row[-1])
                high += 2 * half
                row.append(number)
            else:
                self.add(line, low - half, 'down', row[0])
                low -= 2 * half
                row.insert(0, number)

        (first, count), further = lines[0], lines[1:]
        pitch = first.thread.pitch
        begin = (count - 1) // 2
        middle = (begin - Fraction(count - 1, 2)) * pitch
        self.add(first, middle, 'first', None)
        row.append(0)
        low, high = middle - pitch / 2, middle + pitch / 2
        for number in range(1, count):
            lay(first, up=number % 2 == 1)
        for line, each in further:
            for _ in range(each):
                lay(line, up=True)
                lay(line, up=False)

    def spiral(self, lines):
        edge = -sum(line.thread.pitch * count for line, count in lines) / 2
        for line, count in lines:
            for _ in range(count):
                number = len(self.strands)
                self.add(line, edge + line.thread.pitch / 2, 'up' if number else 'first',
                         number - 1 if number else None)
                edge += line.thread.pitch

    # ------------------------------------------------------------ passes

    def leg(self, strand, lead):
        """Length of a strand's way over the whole layer, on the surface, half its own diameter above it.

        The bundle's line goes round by dx / lead; the strand follows it moved along by q / cos b, so that it goes
        round by (1 - q d(1/cos b)/dx) dx / lead.
        """
        ends = sorted((self.x(-self.end_width), self.x(self.field + self.end_width)))
        own, total = float(strand.thread.diameter), 0.0
        for low, high, slope, diameter in self.surface.sections(*ends):
            def path(x, slope=slope, diameter=diameter):
                round_first = math.pi * (diameter(x) + self.first)
                secant = math.hypot(1, lead / round_first)
                # d/dx of sqrt(1 + (lead / round)^2), with d round / dx = 2 pi slope
                change = -(lead / round_first) ** 2 / secant * 2 * math.pi * slope / round_first
                moved = 1 - strand.q * change
                return math.hypot(math.pi * (diameter(x) + own) / lead * moved, math.hypot(1, slope))
            total += integral(path, low, high)
        return total

    def layer_end(self, far):
        """w of an end of the layer and the way inward from there."""
        return (float(self.field + self.end_width), -1) if far else (-float(self.end_width), 1)

    def phase(self, strand, lead, back, far):
        """Turns round from level 0, in the sense of the thread, of a strand where a leg meets a layer's end."""
        w, inward = self.layer_end(far)
        moved = w - self.sign * strand.q * self.secant(lead, self.x(w), self.near(w, inward))
        return (-moved if back else moved) / lead

    def alpha(self, lead, w, inward):
        """Angle to the blank's length where a leg meets the place, radians."""
        near = self.near(w, inward)
        slope = self.surface.slope(near)
        return math.atan(math.pi * (self.surface.diameter(self.x(w), near) + self.first)
                         / (lead * math.hypot(1, slope)))

    def needed_round(self, far):
        """Turns that a pass needs at least to turn round without anything to hold it: out of one leg, into the other."""
        alphas = [self.alpha(lead, *self.layer_end(far)) for lead in (self.lead_out, self.lead_back)]
        return sum(math.log(math.sin(alpha) / (1 - math.cos(alpha))) for alpha in alphas) / self.bench.friction / (
            2 * math.pi)

    def needed_along(self, lead, far):
        """Way along the blank that the same takes."""
        w, inward = self.layer_end(far)
        radius = (self.surface.diameter(self.x(w), self.near(w, inward)) + self.first) / 2
        return radius / self.bench.friction * (1 / math.sin(self.alpha(lead, w, inward)) - 1)

    def beyond(self):
        """Thread that runs out onto tape or pins and back where a pass turns round."""
        return 0 if self.bench.ends == 'none' else 2 * 10

    def whole_turns(self, way, far):
        """The way round, with the whole turns that it takes without anything to hold it."""
        if self.bench.ends == 'none':
            way += max(0, math.ceil(self.needed_round(far) - way - 1e-9))
        return way

    def dwell(self, strand):
        """Turns from the end of the leg out to the beginning of the leg back."""
        way = part_of_turn(self.phase(strand, self.lead_back, True, True)
                           - self.phase(strand, self.lead_out, False, True))
        return self.whole_turns(way, True)

    def return_dwell(self, strand, following, step):
        """Turns from the end of a leg back to the beginning of the next pass's leg out, `step` starts on."""
        way = part_of_turn(self.phase(following, self.lead_out, False, False) + step / self.starts
                           - self.phase(strand, self.lead_back, True, False))
        return self.whole_turns(way, False)

    def round_at(self, strand, far):
        """Way round the blank of a strand's centre line at an end of the layer."""
        w, inward = self.layer_end(far)
        return math.pi * (self.surface.diameter(self.x(w), self.near(w, inward)) + float(strand.thread.diameter))

    @cached_property
    def passes(self):
        """In working order: each strand on all starts, going round, before the next."""
        found = []
        for number, strand in enumerate(self.strands):
            out = self.leg(strand, self.lead_out)
            back = self.leg(strand, self.lead_back) if self.lead_back else None
            dwell = self.dwell(strand) if self.lead_back else 0.0
            for start in range(self.starts):
                found.append(Pass(number, start, out, back, dwell))
        return found

    # ------------------------------------------------------------ what is reported

    def turns(self):
        """Turns of the bundle's line over the whole layer, on all passes, without turning round."""
        one_turn = 1 / self.lead_out + (1 / self.lead_back if self.lead_back else 0)
        return float(self.length) * one_turn * len(self.passes)

    def thickness(self):
        """On either side, for what lies above."""
        stay = [float(strand.thread.diameter) for strand in self.strands if not strand.spacer]
        return max(stay, default=0.0) * (1 if self.wrap.kind == 'spiral' else 2)

    def end_bands(self):
        """(w from, w to, length of the thread wound): closely wound on the strands, working direction."""
        thread = self.wrap.ends[2]
        pitch, own, raised = float(thread.pitch), float(thread.diameter), self.thickness()
        for w in (-self.end_width, self.field):
            low, high = sorted((self.x(w), self.x(w + self.end_width)))
            total = 0.0
            for a, b, slope, diameter in self.surface.sections(low, high):
                def path(x, slope=slope, diameter=diameter):
                    return math.hypot(math.pi * (diameter(x) + 2 * raised + own) / pitch, math.hypot(1, slope))
                total += integral(path, a, b)
            yield w, w + self.end_width, total

    def slippage(self):
        """Greatest friction that a leg needs, and all places where it is that great (within 1e-9)."""
        ends = sorted((self.x(-self.end_width), self.x(self.field + self.end_width)))
        lead, found = self.larger_lead(), []
        for low, high, slope, diameter in self.surface.sections(*ends):
            for x in (low, high):
                alpha = math.atan(math.pi * (diameter(x) + self.first) / (lead * math.hypot(1, slope)))
                found.append((abs(slope) * (1 + math.cos(alpha) ** 2) / math.sin(alpha), x))
        most = max(found)[0]
        return most, [x for value, x in found if value > most - 1e-9]

    def report(self):
        """For each end, butt first: (x, diameter, angle out, angle back, room, left), angles in degrees."""
        found = []
        for w, inward in self.field_ends():
            x, near = self.x(w), self.near(w, inward)
            angles = [lead and math.degrees(math.atan(self.tangent(lead, x, near)))
                      for lead in (self.lead_out, self.lead_back)]
            room = self.room(w, inward)
            found.append((x, self.surface.diameter(x, near), angles[0], angles[1], room, room - self.width))
        return found
