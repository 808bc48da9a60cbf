"""Fades by eye against grammar/reference.md, "As the eye sees it": how many turns they have, the limits that the choice keeps, and
how far off they are, worked out here a second time: the path of colours by many short chords, what is seen by the error function."""
import math
import random
from fractions import Fraction

from crosswrap_cases import decimal, plan
from model import rounded

CHORDS = 4000
# The path of the program has 256 chords, not these.
NEAR = 1e-4
PRIMARIES, WHITE = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)), (0.3127, 0.3290)


def solved(matrix, right):
    """Of three equations."""
    rows = [list(row) + [value] for row, value in zip(matrix, right)]
    for i in range(3):
        pivot = max(range(i, 3), key=lambda k: abs(rows[k][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        rows[i] = [each / rows[i][i] for each in rows[i]]
        for k in range(3):
            if k != i:
                rows[k] = [a - rows[k][i] * b for a, b in zip(rows[k], rows[i])]
    return [row[3] for row in rows]


COLUMNS = [(x / y, 1, (1 - x - y) / y) for x, y in PRIMARIES]
SCALES = solved(list(zip(*COLUMNS)), (WHITE[0] / WHITE[1], 1, (1 - WHITE[0] - WHITE[1]) / WHITE[1]))
TO_XYZ = [[column[i] * scale for column, scale in zip(COLUMNS, SCALES)] for i in range(3)]


def light(colour):
    """Of #rrggbb, IEC 61966-2-1."""
    codes = [int(colour[i:i + 2], 16) / 255 for i in (1, 3, 5)]
    return [code / 12.92 if code <= 0.04045 else ((code + 0.055) / 1.055) ** 2.4 for code in codes]


def lab(one):
    """CIE 15."""
    f = []
    for row in TO_XYZ:
        t = sum(a * b for a, b in zip(row, one)) / sum(row)
        f.append(t ** (1 / 3) if t > (6 / 29) ** 3 else t * (29 / 6) ** 2 / 3 + 4 / 29)
    return 116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])


def path(old, new):
    """How far along the path each of evenly spaced shares of the new light lies, 0 to 1."""
    points = [lab([a + (b - a) * i / CHORDS for a, b in zip(old, new)]) for i in range(CHORDS + 1)]
    ways = [0.0]
    for one, other in zip(points, points[1:]):
        ways.append(ways[-1] + math.dist(one, other))
    return [way / ways[-1] if ways[-1] else i / CHORDS for i, way in enumerate(ways)]


def at(ways, share):
    place = min(max(share, 0), 1) * CHORDS
    low = min(int(place), CHORDS - 1)
    return ways[low] + (place - low) * (ways[low + 1] - ways[low])


def departure(ways, turns, blur):
    """turns: True where it is the new thread's."""
    def below(x):
        return (1 + math.erf(x / blur / math.sqrt(2))) / 2
    worst = 0
    for i in range(len(turns)):
        x = i + 0.5
        share = 1 - below(len(turns) - x) + sum(below(k + 1 - x) - below(k - x) for k, new in enumerate(turns) if new)
        worst = max(worst, abs(at(ways, share) - (i + 0.5) / len(turns)))
    return worst


def by_steps(s):
    return [new for i in range(1, s + 1) for new in [True] * i + [False] * (s + 1 - i)]


def evenly(turns):
    """After turn k the new thread has made k^2 / 2N of N, halves up."""
    made = [math.floor(Fraction(k * k, 2 * turns) + Fraction(1, 2)) for k in range(turns + 1)]
    return [after > before for before, after in zip(made, made[1:])]


def changes_of(turns):
    """From the band before to the band behind: where the thread changes."""
    whole = [False] + turns + [True]
    return [i for i, (one, other) in enumerate(zip(whole, whole[1:])) if one != other]


class Thread:
    def __init__(self, chance, name):
        self.name, self.pitch = name, Fraction(chance.randint(130, 180), 1000)
        self.colour = '#%06x' % chance.randrange(1 << 24)
        self.text = f'thread {name} {{ diameter: {decimal(self.pitch)} mm, colour: {self.colour} }}\n'


def fade_text(chance, mean):
    """The fade as it is written, and its turns by count."""
    way = chance.randint(0, 2)
    if way == 0:
        steps = chance.randint(1, 7)
        return f'steps: {steps}', by_steps(steps)
    if way == 1:
        turns = chance.randint(2, 60)
        return f'over: {turns} turns', evenly(turns)
    length = Fraction(chance.randint(10, 80), 10)
    return f'over: {decimal(length)} mm', evenly(rounded(length / mean))


def fade(chance):
    """What differs, and the file's text."""
    old, new = Thread(chance, 'navy'), Thread(chance, 'foam')
    if chance.random() < 0.5:
        new.pitch = old.pitch
        new.text = f'thread foam {{ diameter: {decimal(new.pitch)} mm, colour: {new.colour} }}\n'
    mean = (old.pitch + new.pitch) / 2
    written, counted = fade_text(chance, mean)
    shortest, bobbins = chance.choice([1, 1, 2, 3]), chance.choice([0, 0, 2])
    sight, far, hand = Fraction(chance.randint(2, 12), 10), chance.randint(500, 4000), chance.choice([500, 800, 1500, 9000])
    diameter, mirrored = Fraction(chance.randint(30, 140), 10), chance.random() < 0.3
    body = f'band 20 turns of navy  fade to foam {written} by: eye  band 20 turns of foam'
    text = (f'edition 1\n{old.text}{new.text}bench {{ units: mm, shortest: {shortest} turns, bobbins: {bobbins}, sight: {decimal(sight)}, '
            f'far: {far} mm, hand: {hand} mm }}\nblank tube {{ at 0 mm: {decimal(diameter)} mm  at 100 cm: {decimal(diameter)} mm }}\n'
            f'rod "Eye" on tube {{ at 20 cm {{ {f"mirror {{ {body} }}" if mirrored else body} }} }}\n')
    made, wrong = plan(text, 'eye.lay')
    if not made:
        return [wrong], text
    layer = made['rods'][0]['places'][0]['layers'][0]
    item = layer['items'][1]
    chosen = item['chosen']
    laid = [new for run in chosen['runs'] for new in [True] * run['in'] + [False] * run['out']]
    return list(wrong_of(item, layer, chosen, laid, old, new, counted, shortest, mirrored,
                         math.tan(math.radians(float(sight) / 60)) * far / float(mean))), text


def wrong_of(item, layer, chosen, laid, old, new, counted, shortest, mirrored, blur):
    runs = layer['runs'][item['first_run']:item['first_run'] + item['run_count']]
    worked = [run['strands'][0]['thread'] == 'foam' for run in runs for _ in range(run['turns'])]
    if len(laid) != len(counted) or worked != (laid[::-1] if mirrored else laid):
        yield f'{len(laid)} turns, not {len(counted)}, or not those that are laid: {runs}'
        return
    changes = changes_of(laid)
    if len(changes) > len(changes_of(counted)):
        yield f'{len(changes)} changes, more than {len(changes_of(counted))}'
    if True not in laid or False not in laid:
        yield f'no turn of one thread: {chosen["runs"]}'
    if any(other - one < shortest for one, other in zip(changes, changes[1:])):
        yield f'a run is shorter than {shortest}: {chosen["runs"]}'
    ways = path(light(old.colour), light(new.colour))
    mine = departure(ways, laid, blur)
    if abs(mine - chosen['departure']) > NEAR:
        yield f'off by {chosen["departure"]}, not by {mine}'
    mine = departure(ways, counted, blur)
    if abs(mine - chosen['by_count']) > NEAR:
        yield f'by count off by {chosen["by_count"]}, not by {mine}'
    if shortest == 1 and chosen['departure'] > chosen['by_count'] + NEAR or chosen['bound'] > chosen['departure']:
        yield f'not the least: {chosen}'


def all_checks(count, seed):
    """(name, what differs, the file's text) of each."""
    for number in range(count):
        yield f'fade by eye {seed}-{number}', *fade(random.Random(f'eye {seed}/{number}'))
