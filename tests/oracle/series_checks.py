"""Series against grammar/reference.md: where each place lies, also by rule, and what its body reads of the place, worked out
here from what is said of stations, guides and marks, and compared with turns and positions of the plan."""
import random
from fractions import Fraction

from crosswrap_cases import decimal, plan

PITCH = Fraction(1, 10)  # mm, of all threads
NEAR = 1.5e-6


def half_up(value):
    """Halves go away from zero; here nothing is below it."""
    return int(value + Fraction(1, 2))


class Guide:
    def __init__(self, chance, number):
        double = chance.random() < 0.5
        self.name = f'ring{number}'
        self.feet = [Fraction(chance.randint(44, 60)) for _ in range(2 if double else 1)]
        self.gap = Fraction(chance.randint(0, 20), 2)
        self.before = Fraction(chance.randint(0, 8), 2)
        self.side = 'both' if double else chance.choice(['tip', 'butt'])
        foot = ', '.join(f'{each} mm' for each in self.feet)
        self.text = f'guide {self.name} {{ foot: {f"[{foot}]" if double else foot}, gap: {decimal(self.gap)} mm, before: {decimal(self.before)} mm' \
            + (f', side: {self.side}' if not double else '') + ' }\n'

    def ends(self, ring):
        """(length, outer end, toward) of each foot with the ring there; the one toward the butt first."""
        if self.side != 'tip':
            yield self.feet[0], ring - self.gap / 2 - self.feet[0], 1
        if self.side != 'butt':
            yield self.feet[-1], ring + self.gap / 2 + self.feet[-1], -1


def spaced(first, last, ratio, count):
    """Each gap is `ratio` times the one before it; between the ends to the millimetre."""
    gaps = [ratio ** i for i in range(count - 1)]
    marks = [first + (last - first) * sum(gaps[:i], Fraction(0)) / sum(gaps) for i in range(count)]
    return [mark if i in (0, count - 1) else Fraction(half_up(mark)) for i, mark in enumerate(marks)]


def expected_runs(number, count, foot, diameter):
    """[(thread, turns)] of the body below."""
    runs = [('navy', half_up(diameter / Fraction(1, 2)) + number * 10), ('mist', half_up(foot / 4 / PITCH))]
    if number in (1, count):
        runs.append(('navy', 20))
    return runs


BODY = '''    let wide = round(here.diameter / 0.5 mm) * 1 turn
    band wide + here.number * 10 turns of navy
    band here.foot / 4 of mist
    if here.number == 1 or here.number == here.count { band 20 turns of navy }
'''


def series(chance):
    """What differs, and the file's text."""
    stations = [(Fraction(0), Fraction(chance.randint(120, 160), 10))]
    while stations[-1][0] < 3000:
        x, d = stations[-1]
        stations.append((x + chance.randint(400, 1500), max(Fraction(2), d - Fraction(chance.randint(0, 25), 10))))
    tip = stations[-1][0]
    guides = [Guide(chance, i) for i in range(3)]
    count, by_rule, from_tip = chance.randint(3, 6), chance.random() < 0.4, chance.random() < 0.5
    rows = []  # (mark as written, guide or None, length)
    if by_rule:
        ratio = Fraction(chance.randint(90, 125), 100)
        marks = spaced(Fraction(200), Fraction(chance.randint(400, 550) * (count - 1)), ratio, count)
        listed = [chance.choice(guides) for _ in marks]
        rows = [(mark, guide, None) for mark, guide in zip(marks, listed)]
        header = f' first: 20 cm last: {decimal(marks[-1])} mm progression: {decimal(ratio)} guides: [{", ".join(each.name for each in listed)}]'
        lines = []
    else:
        header, lines, at = '', [], Fraction(chance.randint(200, 300))
        while len(rows) < count:
            guide = chance.choice([*guides, None])
            marks = [at + i * Fraction(chance.randint(1300, 1400), 5) for i in range(min(chance.randint(1, 2), count - len(rows)))]
            marks = sorted(set(marks))
            length = None if guide else Fraction(chance.randint(44, 80))
            text = ', '.join(decimal(mark) + ' mm' for mark in marks)
            lines.append(f'    at {f"[{text}]" if len(marks) > 1 else text}' + (f': {guide.name}' if guide else f' length: {length} mm'))
            rows += [(mark, guide, length) for mark in marks]
            at = marks[-1] + chance.randint(220, 300)
    text = ('edition 1\nthread navy { turns: 100 per cm }\nthread mist { turns: 100 per cm }\nbench { units: mm, hand: 99 m }\nblank tube {\n'
            + ''.join(f'    at {decimal(x)} mm: {decimal(d)} mm\n' for x, d in stations) + '}\n' + ''.join(each.text for each in guides)
            + f'rod "Series" on tube {{\nseries{" from: tip" if from_tip else ""}{header} {{\n' + '\n'.join(lines) + f'\n{BODY}}}\n}}\n')

    def diameter(x):
        (x0, d0), (x1, d1) = next((a, b) for a, b in zip(stations, stations[1:]) if a[0] <= x <= b[0])
        return d0 + (x - x0) / (x1 - x0) * (d1 - d0)

    places = []
    for number, (mark, guide, length) in enumerate(rows, 1):
        mark = tip - mark if from_tip else mark
        if guide:
            places += [(end - toward * guide.before, expected_runs(number, len(rows), foot, diameter(end)))
                       for foot, end, toward in guide.ends(mark)]
        else:
            places.append((mark, expected_runs(number, len(rows), length, diameter(mark))))
    made, wrong = plan(text, 'series.lay')
    if not made:
        return [wrong], text
    got = made['rods'][0]['places']
    if len(got) != len(places):
        return [f'{len(got)} places, not {len(places)}'], text
    found = []
    for one, (start, runs) in zip(got, places):
        if abs(one['start_mm'] - float(start)) > NEAR:
            found.append(f'{one["label"]} starts at {one["start_mm"]}, not at {float(start)}')
        laid = [(run['strands'][0]['thread'], run['turns']) for layer in one['layers'] for run in layer['runs']]
        if laid != runs:
            found.append(f'{one["label"]}: {laid}, not {runs}')
    return found, text


def all_checks(count, seed):
    """(name, what differs, the file's text) of each."""
    for number in range(count):
        yield f'series {seed}-{number}', *series(random.Random(f'series {seed}/{number}'))
