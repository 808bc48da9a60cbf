"""A second way to what the plan says of a fade's looks, written from grammar/reference.md alone ("As the eye sees it").

From the plan's runs and the threads' colours: what a normal distribution spreads of every run, in light; the path of
colours by many small steps in CIELAB; the eyes without one kind of cone by equations solved in what cones see.
The cones, over light and over the modified XYZ, and 485 and 660 nm in the latter, are those that F. Vienot, H. Brettel and J. D. Mollon use,
"Digital video colourmaps for checking the legibility of displays by dichromats", Color Research & Application 24(4), 243-252 (1999), secondary.
"""
import bisect
import collections
import csv
import glob
import itertools
import json
import math
import os
import random
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..'))
from comparison import Differences
from generated import programs

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
with open(os.path.join(ROOT, 'grammar/plan.schema.json'), encoding='utf-8') as schema:
    # With all cones, without those for long, middle, short waves.
    EYES = tuple(json.load(schema)['$defs']['seen']['properties']['eyes']['enum'])
STEPS = 400  # of a path: positions to 0.00015
MOST_TURNS = 1500  # of a fade that is looked at here
NEAR = {'difference': 1e-5, 'departure': 6e-4, 'jump': 5e-4, 'stripes': 2e-3}  # the last of itself
# sRGB's primaries and white (IEC 61966-2-1), light to XYZ.
XYZ = ((0.4123907992659595, 0.35758433938387796, 0.1804807884018343), (0.21263900587151036, 0.7151686787677559, 0.07219231536073371),
       (0.01933081871559185, 0.11919477979462599, 0.9505321522496606))
CONES = ((17.8824, 43.5161, 4.11935), (3.45565, 27.1554, 3.86714), (0.0299566, 0.184309, 1.46709))
CONES_OF_XYZ = ((0.15514, 0.54312, -0.03286), (-0.15514, 0.45684, 0.03286), (0, 0, 0.01608))
WAVES = ((0.056985, 0.16987, 0.5864), (0.16161, 0.061, 1.1906e-5))


def times(matrix, vector):
    return [sum(a * b for a, b in zip(row, vector)) for row in matrix]


def solved(matrix, vector):
    """Cramer's rule."""
    def determinant(m):
        return (m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
                + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]))
    whole = determinant(matrix)
    return [determinant([[vector[i] if j == k else matrix[i][j] for j in range(3)] for i in range(3)]) / whole for k in range(3)]


def mixed(a, b, share):
    return [x + share * (y - x) for x, y in zip(a, b)]


def mean(lights):
    return [sum(values) / len(lights) for values in zip(*lights)]


def light_of(colour):
    def light(code):
        return code / 12.92 if code <= 0.04045 else ((code + 0.055) / 1.055) ** 2.4
    return [light(int(colour[at:at + 2], 16) / 255) for at in (1, 3, 5)]


def seen_by(eyes, light):
    """In what the cones see: the missing one's share is that of the plane through black, white and an anchor."""
    if eyes == EYES[0]:
        return light
    missing = EYES.index(eyes) - 1
    cones, white = times(CONES, light), times(CONES, (1, 1, 1))
    anchor = times(CONES, (0, 0, 1))
    if missing == 2:
        anchor = times(CONES_OF_XYZ, WAVES[cones[1] * white[0] < white[1] * cones[0]])
    normal = [white[(i + 1) % 3] * anchor[(i + 2) % 3] - white[(i + 2) % 3] * anchor[(i + 1) % 3] for i in range(3)]
    cones[missing] = -sum(normal[i] * cones[i] for i in range(3) if i != missing) / normal[missing]
    return solved(CONES, cones)


WHITE = times(XYZ, (1, 1, 1))


def bent(ratio):
    return ratio ** (1 / 3) if ratio > 216 / 24389 else ratio * 841 / 108 + 4 / 29


def lab(light):
    x, y, z = (bent(value / whole) for value, whole in zip(times(XYZ, light), WHITE))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def ciede2000(one, other):
    def seventh(chroma):
        return math.sqrt(chroma ** 7 / (chroma ** 7 + 25 ** 7))
    lightness = (one[0] + other[0]) / 2
    stretch = 1 + 0.5 * (1 - seventh((math.hypot(*one[1:]) + math.hypot(*other[1:])) / 2))
    a, b = [(c[1] * stretch, c[2]) for c in (one, other)]
    chromas = math.hypot(*a), math.hypot(*b)
    chroma = sum(chromas) / 2
    hues = [math.degrees(math.atan2(c[1], c[0])) % 360 for c in (a, b)]
    turn = hues[1] - hues[0]
    hue = sum(hues) / 2
    if chromas[0] * chromas[1] == 0:
        turn, hue = 0, sum(hues)
    elif abs(turn) > 180 + 1e-9:
        turn -= math.copysign(360, turn)
        hue += 180 if sum(hues) < 360 else -180
    weight = (1 - 0.17 * math.cos(math.radians(hue - 30)) + 0.24 * math.cos(math.radians(2 * hue))
              + 0.32 * math.cos(math.radians(3 * hue + 6)) - 0.2 * math.cos(math.radians(4 * hue - 63)))
    low = (lightness - 50) ** 2
    parts = ((other[0] - one[0]) / (1 + 0.015 * low / math.sqrt(20 + low)), (chromas[1] - chromas[0]) / (1 + 0.045 * chroma),
             2 * math.sqrt(chromas[0] * chromas[1]) * math.sin(math.radians(turn / 2)) / (1 + 0.015 * chroma * weight))
    rotation = -math.sin(math.radians(60 * math.exp(-((hue - 275) / 25) ** 2))) * 2 * seventh(chroma)
    return math.sqrt(max(0, sum(part * part for part in parts) + rotation * parts[1] * parts[2]))


class Path:
    """Of the colours that two lights mix to; the steps are short at both ends."""
    SHARES = [(step / STEPS) ** 2 * (3 - 2 * step / STEPS) for step in range(STEPS + 1)]

    def __init__(self, old, new):
        ends = [[value / whole for value, whole in zip(times(XYZ, light), WHITE)] for light in (old, new)]
        columns = [[bent(a + share * (b - a)) for share in self.SHARES] for a, b in zip(*ends)]
        places = [(116 * y, 500 * (x - y), 200 * (y - z)) for x, y, z in zip(*columns)]
        self.ways = list(itertools.accumulate(map(math.dist, places, places[1:]), initial=0))

    def position(self, share):
        if self.ways[-1] < 1e-6:
            return share
        step = min(max(bisect.bisect(self.SHARES, share) - 1, 0), STEPS - 1)
        part = (share - self.SHARES[step]) / (self.SHARES[step + 1] - self.SHARES[step])
        return (self.ways[step] + part * (self.ways[step + 1] - self.ways[step])) / self.ways[-1]


def sensitivity(frequency):
    """A. B. Watson and A. J. Ahumada, "A standard model for foveal detection of spatial contrast", Journal of Vision 5(9), 717-740
    (2005); secondary."""
    def secant(value):
        return 0 if value > 700 else 1 / math.cosh(value)
    return 373.08 * (secant((frequency / 4.1726) ** 0.7786) - 0.8493 * secant(frequency / 1.3625))


class Fade:
    """Runs in working order: (is it the new shade, turns, from, to), lengths along the axis."""

    def __init__(self, runs):
        start, end = runs[0][2], runs[-1][3]
        way = 1 if end >= start else -1
        self.length, self.toward_tip = abs(end - start), way > 0
        self.runs = [(new, turns, (a - start) * way, (b - start) * way) for new, turns, a, b in runs]
        before = next((b - a) / turns for new, turns, a, b in self.runs if not new)  # what a turn takes there
        behind = [(b - a) / turns for new, turns, a, b in self.runs if new][-1]
        self.middles = [a + (b - a) * (n + 0.5) / turns for _, turns, a, b in self.runs for n in range(turns)]
        self.middles = [-before / 2, *self.middles, self.length + behind / 2]
        self.shares = {}

    def seen(self, blur):
        """How much of the new shade is seen at each middle."""
        if blur not in self.shares:
            def before(offset):
                return 0.5 + math.erf(offset / blur / math.sqrt(2)) / 2
            self.shares[blur] = [1 - before(self.length - x) + sum(before(b - x) - before(a - x) for new, _, a, b in self.runs if new)
                                 for x in self.middles]
        return self.shares[blur]

    def looks(self, eye, old, new, eyes):
        """What is said of it, and all turns' departures and jumps."""
        minutes = math.radians(eye['sight_minutes'] / 60)
        shares = self.seen(eye['far_mm'] * math.tan(minutes))
        ends = [seen_by(eyes, light) for light in (old, new)]
        path = Path(*ends)
        colours = [lab(seen_by(eyes, mixed(old, new, share))) for share in shares]
        departures = [0] + [abs(path.position(share) - x / self.length) for share, x in zip(shares[1:-1], self.middles[1:-1])]
        jumps = [ciede2000(a, b) for a, b in zip(colours, colours[1:])]
        old_y, new_y = (times(XYZ, end)[1] for end in ends)
        stripes = 0
        for one, other in zip(self.runs, self.runs[1:]):
            widths = [run[3] - run[2] for run in (one, other)]
            share = widths[not one[0]] / sum(widths)  # of the new shade
            whole = share * new_y + (1 - share) * old_y
            if one[0] != other[0] and whole > 0:
                contrast = 2 / math.pi * math.sin(math.pi * share) * abs(new_y - old_y) / whole
                stripes = max(stripes, contrast * sensitivity(1 / math.degrees(math.atan(sum(widths) / eye['near_mm']))))
        return {'difference': ciede2000(*map(lab, ends)), 'departure': max(departures), 'jump': max(jumps), 'stripes': stripes}, departures, jumps


class Comparison(Differences):
    def fade(self, where, seen, fade, eye, old, new):
        self.same(where, 'eyes', [each['eyes'] for each in seen], list(EYES))
        for got in seen:
            looks, departures, jumps = fade.looks(eye, old, new, got['eyes'])
            for name, value in looks.items():
                if not abs(got[name] - value) <= NEAR[name] * (value if name == 'stripes' else 1) + 1e-6:
                    self.differ(where, got['eyes'] + ' ' + name, got[name], '%.6f' % value)
            for name, values in (('departure', departures), ('jump', jumps)):
                turn = got[name + '_turn']
                if not (0 <= turn < len(values) and values[turn] >= looks[name] - 2 * NEAR[name]):
                    self.differ(where, got['eyes'] + ' ' + name + '_turn', turn, values.index(max(values)))


class Looks:
    """The light of what lies in a file's places; None where that is not known from the plan and the text."""

    def __init__(self, plan, text):
        self.threads = {thread['thread']: thread for thread in plan['threads']}
        found = re.findall(r'blank\s+(\w+)\s*\{[^}]*?\bcolour:\s*(#[0-9a-f]{6})', text)
        self.blanks = {name: light_of(colour) for name, colour in found}

    def own(self, name):
        """Of a thread of several colours the plan gives the mean, to whole digits, where none was written."""
        return light_of(self.threads[name]['colour'])

    def over(self, name, ground):
        opacity, own = self.threads[name].get('opacity', 1), self.own(name)
        if opacity < 1:
            return ground and own and mixed(ground, own, opacity)
        return own

    def together(self, strands, ground):
        looks = [ground if strand['spacer'] else self.over(strand['thread'], ground) for strand in strands]
        return mean(looks) if all(looks) else None

    def ground(self, rod, place, layer, x):
        """Where parts lie on the blank, or one place on another, more would have to be known."""
        alone = len(rod['places']) == 1 or all(abs(other['start_mm'] - x) > 150 for other in rod['places'] if other is not place)
        look = self.blanks.get(rod['blank']) if alone and not rod.get('parts') else None
        for below in place['layers'][:layer]:
            for run in below['runs']:
                if min(run['start_mm'], run['end_mm']) <= x <= max(run['start_mm'], run['end_mm']) and run['strands']:
                    look = self.together(run['strands'], look)
            if below.get('crosswrap'):
                return None
        return look


def fades(plan, text):
    """(where, what is said, Fade, old shade, new shade) of each fade of a plan that is looked at."""
    looks = Looks(plan, text)
    for rod in plan['rods']:
        for place in rod['places']:
            for number, layer in enumerate(place['layers']):
                for item in layer['items']:
                    if item['kind'] != 'fade' or 'seen' not in item:
                        continue
                    runs = layer['runs'][item['first_run']:item['first_run'] + item['run_count']]
                    strands = {run['role']: run['strands'] for run in runs}
                    if len(strands) < 2 or item['turns'] > MOST_TURNS:
                        continue
                    fade = Fade([(run['role'] == 'fade in', run['turns'], run['start_mm'], run['end_mm']) for run in runs])
                    middle = (runs[0]['start_mm'] + runs[-1]['end_mm']) / 2
                    ground = looks.ground(rod, place, number, middle)
                    old, new = (looks.together(strands[role], ground) for role in ('fade out', 'fade in'))
                    if old and new:
                        yield '%s, line %d' % (place['label'], item['at']['line']), item['seen'], fade, old, new


def compare(plan, text):
    comparison, count = Comparison(), 0
    for where, seen, fade, old, new in fades(plan, text):
        comparison.fade(where, seen, fade, plan['eye'], old, new)
        count += 1
    return comparison.differences, count


def planned(path):
    done = subprocess.run([os.environ['TURNLAY'], 'plan', '--format', 'json', path], cwd=ROOT, capture_output=True, text=True, check=False)
    try:
        return json.loads(done.stdout)
    except ValueError:
        return None


def made(seed):
    """A file of fades between random shades, looked at by a random eye."""
    rnd = random.Random('evenness %s' % seed)

    def colour():
        return '#' + ''.join('%02x' % (rnd.randrange(256) if rnd.random() < 0.8 else rnd.choice((0, 8, 255))) for _ in range(3))
    lines = ['edition 1', 'bench { units: mm, hand: 90 m, sight: %.2f, far: %.1f m, near: %d cm }' % (
        rnd.choice((0.5, rnd.uniform(0.1, 3))), rnd.uniform(0.6, 5), rnd.randrange(20, 120))]
    shades = []
    for name in ('hay', 'moss', 'plum', 'sky'):
        option = rnd.choice(('colour: %s' % colour(),) * 3 + ('colours: [%s, %s, %s], period: 9 cm' % (colour(), colour(), colour()),))
        if rnd.random() < 0.3:
            option += ', opacity: %.2f' % rnd.uniform(0.2, 0.95)
        lines.append('thread %s { diameter: %.3f mm, %s }' % (name, rnd.uniform(0.1, 0.4), option))
        shades.append(name)
    lines.append('blank tube { colour: %s, at 0 mm: 12 mm  at 200 cm: 6 mm }' % colour())
    lines.append('rod "Made" on tube {')
    at = 100
    for _ in range(3):
        rnd.shuffle(shades)
        how = rnd.choice(('steps: %d' % rnd.randrange(1, 7), 'over: %d turns' % rnd.randrange(12, 60), 'runs: [%s]' % ', '.join(
            'in %d out %d' % (rnd.randrange(1, 5), rnd.randrange(1, 5)) for _ in range(rnd.randrange(1, 8)))))
        way = rnd.choice(('', ' toward: butt'))
        below = 'under { band 400 turns of %s }\n' % shades[3] if rnd.random() < 0.5 else ''
        wrap = 'band 9 turns of %s  fade to %s %s  band 9 turns of %s' % (shades[0], shades[1], how, shades[1])
        if rnd.random() < 0.3:
            wrap = 'mirror { %s }' % wrap
        lines.append('    at %d mm%s {\n%s over { %s }\n    }' % (at + 200 * bool(way), way, below, wrap))
        at += 450
    return '\n'.join(lines + ['}']) + '\n'


def check_itself():
    with open(os.path.join(ROOT, 'tests/published/ciede2000.csv'), encoding='utf-8') as file:
        for row in list(csv.reader(file))[1:]:
            numbers = [float(cell) for cell in row[:7]]
            assert abs(ciede2000(numbers[:3], numbers[3:6]) - numbers[6]) <= 1e-4, row


def all_checks(files, seed):
    """(name, differences, text to keep) of each file that stands here and of as many random ones, of two kinds."""
    check_itself()
    sources = [(os.path.relpath(path, ROOT), None) for folder in ('examples', 'tests/golden')
               for path in sorted(glob.glob(os.path.join(ROOT, folder, '*.lay')))]
    sources += [('fades %s.%d' % (seed, number), made('%s.%d' % (seed, number))) for number in range(files)]
    rnd = random.Random('programs %s' % seed)
    numbers = [rnd.randrange(10 ** 6) for _ in range(files)]
    sources += [('program %d' % number, text.decode()) for number, text in zip(numbers, programs(numbers), strict=True)]
    found = collections.Counter()
    with tempfile.TemporaryDirectory(prefix='turnlay-fades-') as folder:
        for name, text in sources:
            path = os.path.join(folder, 'made.lay') if text else name
            if text:
                with open(path, 'w', encoding='utf-8') as file:
                    file.write(text)
            plan = planned(path)
            if plan is None:
                if name.startswith('fades'):
                    yield name, ['no plan'], text
                continue
            if not text:
                with open(os.path.join(ROOT, name), encoding='utf-8', errors='replace') as file:
                    differences, count = compare(plan, file.read())
            else:
                differences, count = compare(plan, text)
            found[name.split()[0] if text else 'here'] += count
            yield name, differences, text
    least = {'here': 50, 'fades': 2 * files, 'program': files // 4}
    yield 'fades are found', ['%s: %d only' % (kind, found[kind]) for kind in least if found[kind] < least[kind]], None
