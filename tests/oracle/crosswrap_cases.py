"""Random crosswrap files, each with what it means, and the comparison of the plan with crosswrap_model.

Text and meaning grow side by side; nothing is read back from the text.
"""
import json
import math
import os
import subprocess
import tempfile
from fractions import Fraction

import crosswrap_model as model
from comparison import Differences

NEAR = 1.2e-6  # the plan gives six decimals
RELATIVE = 1e-8
FLATTEST, STEEPEST = 13.0, 67.0  # of the files made here, degrees
LEADS = [(1, 1)] * 5 + [(2, 1), (1, 2), (3, 2), (2, 3), (3, 1), (5, 3), (3, 5), (4, 3), (4, 2), (2, 2)]
MOST_PASSES = 160


def decimal(value):
    text = '%.6f' % float(value)
    assert Fraction(text) == Fraction(value), value
    return text.rstrip('0').rstrip('.')


def plan(text, name='crosswrap.lay'):
    """The plan of a file's text as JSON, and what went wrong if there is none."""
    with tempfile.TemporaryDirectory(prefix='turnlay-oracle-') as folder:
        with open(os.path.join(folder, name), 'w', encoding='utf-8') as file:
            file.write(text)
        done = subprocess.run([os.environ['TURNLAY'], 'plan', '--format', 'json', name], cwd=folder,
                              capture_output=True, text=True, check=False)
    try:
        return json.loads(done.stdout), None
    except ValueError:
        lines = [line for line in done.stderr.splitlines() if ': error: ' in line] or done.stderr.splitlines()
        return None, 'no plan, exit code %d: %s' % (done.returncode, '; '.join(lines[:3]))


# ---------------------------------------------------------------- comparison

class Comparison(Differences):
    def close(self, where, what, got, expected, near=NEAR):
        if got is None or expected is None:
            if got is not None or expected is not None:
                self.differ(where, what, got, expected)
        elif abs(got - float(expected)) > near + RELATIVE * abs(expected):
            self.differ(where, what, got, '%.9g (by %.3g)' % (expected, got - float(expected)))

    def close_round(self, where, what, got, expected, near=NEAR):
        """Degrees that may stand on either side of a full turn."""
        if got is None or abs((got - expected + 180) % 360 - 180) > near:
            self.differ(where, what, got, '%.9g' % expected)

    def lines(self, where, got, expected):
        """Lines in any order: each has its clock and, in rising order, its marks."""
        if not self.same(where, 'lines', len(got), len(expected)):
            return
        left = list(got)
        for clock, marks in expected:
            best = min(left, key=lambda line: abs((line['clock_deg'] - clock + 180) % 360 - 180))
            left.remove(best)
            here = '%s line at %.4f deg' % (where, clock)
            self.close_round(here, 'clock', best['clock_deg'], clock)
            if self.same(here, 'marks', len(best['marks_mm']), len(marks)):
                for number, (seen, mark) in enumerate(zip(sorted(best['marks_mm']), sorted(marks))):
                    self.close(here, 'mark %d' % number, seen, mark)

    def strands(self, where, got, laid):
        if not self.same(where, 'strands', len(got), len(laid.strands)):
            return False
        for number, (seen, strand) in enumerate(zip(got, laid.strands)):
            here = '%s strand %d' % (where, number)
            self.same(here, 'thread', (seen['thread'], seen['spacer']), (strand.thread.name, strand.spacer))
            self.close(here, 'middle', seen['middle_mm'], strand.q)
            self.close(here, 'width', seen['width_mm'], strand.thread.pitch)
            self.same(here, 'side', seen['side'], strand.side)
            self.same(here, 'against', seen['against'], strand.against)
            self.same(here, 'line', seen['line'], strand.line)
        return True

    def passes(self, where, got, laid):
        if not self.same(where, 'passes', len(got), len(laid.passes)):
            return
        for number, (seen, expected) in enumerate(zip(got, laid.passes)):
            here = '%s pass %d' % (where, number)
            self.same(here, 'strand and start', (seen['strand'], seen['start']), (expected.strand, expected.start))
            self.close(here, 'out', seen['out_mm'], expected.out)
            self.close(here, 'back', seen['back_mm'], expected.back)
            self.close_round(here, 'dwell', seen['dwell_deg'], 360 * expected.dwell)
            # Just short of a turn and none at all are told apart by no machine; six decimals may round up to 360.
            if min(360 * expected.dwell % 360, -360 * expected.dwell % 360) > 1e-4:
                self.same(here, 'whole turns of the dwell', int(seen['dwell_deg'] // 360), int(expected.dwell))

    def crosswrap(self, where, got, laid):
        wrap = laid.wrap
        self.same(where, 'kind', got['kind'], wrap.kind)
        self.same(where, 'sense', got['sense'], 'clockwise' if laid.bench.clockwise() else 'counter-clockwise')
        self.same(where, 'starts', got['starts'], laid.starts)
        if not self.same(where, 'crossings', got['crossings'], laid.crossings):
            return
        self.close(where, 'spacing', got['spacing_mm'], laid.spacing)
        self.close(where, 'field start', got['field']['start_mm'], laid.x(0))
        self.close(where, 'field end', got['field']['end_mm'], laid.x(laid.field))
        self.same(where, 'end turns', got['end_turns'], laid.end_turns)
        self.close(where, 'end width', got['end_width_mm'], laid.end_width)
        self.close(where, 'lead out', got['lead_mm']['out'], laid.lead_out)
        self.close(where, 'lead back', got['lead_mm']['back'], laid.lead_back)
        self.lines(where, got['lines'], laid.lines())
        if self.strands(where, got['strands'], laid):
            self.passes(where, got['passes'], laid)
        for seen, name, (x, diameter, out, back, room, left) in zip(got['ends'], ('butt', 'tip'), laid.report()):
            here = '%s %s end' % (where, name)
            self.same(here, 'end', seen['end'], name)
            for key, value in (('at_mm', x), ('diameter_mm', diameter), ('angle_out_deg', out),
                               ('angle_back_deg', back), ('room_mm', room), ('left_mm', left)):
                self.close(here, key, seen[key], value)
        self.close(where, 'turns', got['turns'], laid.turns())
        most, places = laid.slippage()
        self.close(where, 'slippage', got['slippage'], most)
        if most > 1e-9:
            self.close(where, 'slippage at', got['slippage_at_mm'],
                       min(places, key=lambda x: abs(x - got['slippage_at_mm'])))

    def layer(self, where, got, layer):
        """A layer of the file made here: bands or a crosswrap."""
        self.close(where, 'start', got['start_mm'], layer.start)
        runs = got['runs']
        if layer.laid is None:
            self.same(where, 'no crosswrap', 'crosswrap' in got, False)
            if self.same(where, 'runs', len(runs), 1):
                self.same(where, 'turns', runs[0]['turns'], layer.turns)
                self.diameters(where, runs[0], layer.surface, 0.0)
            return
        if not self.same(where, 'has a crosswrap', 'crosswrap' in got, True):
            return
        laid = layer.laid
        self.crosswrap(where, got['crosswrap'], laid)
        if self.same(where, 'runs', len(runs), 3):
            for run, (begin, end, length) in zip((runs[0], runs[2]), laid.end_bands()):
                here = '%s end band at %.3f' % (where, laid.x(begin))
                self.same(here, 'turns', run['turns'], laid.end_turns)
                self.close(here, 'start', run['start_mm'], laid.x(begin))
                self.close(here, 'end', run['end_mm'], laid.x(end))
                self.close(here, 'wound', run['strands'][0]['wound_mm'], length)
                self.diameters(here, run, laid.surface, laid.thickness())
            self.same(where, 'strands of the field', runs[1]['strands'], [])

    def diameters(self, where, run, surface, thickness):
        way = 1e-6 if run['end_mm'] > run['start_mm'] else -1e-6
        for key, inward in (('start', way), ('end', -way)):
            x = run[key + '_mm']
            self.close(where, key + ' diameter', run[key + '_diameter_mm'],
                       surface.diameter(x, x + inward) + 2 * thickness)

    def pieces(self, got, made):
        """Pieces with passes: what each winds, in working order."""
        expected = [piece for place in made.places for number, layer in enumerate(place.layers) if layer.laid
                    for piece in pieces_of(place.number, number, layer.laid)]
        seen = [piece for piece in got['rods'][0]['pieces'] if piece.get('passes')]
        if not self.same('pieces', 'with passes', len(seen), len(expected)):
            return
        for number, (piece, (place, layer, first, count, thread, spacer, wound)) in enumerate(zip(seen, expected)):
            here = 'piece %d' % number
            self.same(here, 'layer', (piece['place'], piece['layer']), (place, layer))
            self.same(here, 'thread', (piece['thread'], piece['spacer']), (thread, spacer))
            self.same(here, 'passes', (piece['passes']['first'], piece['passes']['count']), (first, count))
            self.close(here, 'wound', piece['wound_mm'], wound, NEAR * (1 + count / 10))
            self.close(here, 'cut', piece['cut_mm'], wound + 2 * made.bench.free, NEAR * (2 + count / 10))


def pieces_of(place, layer, laid):
    """(place, layer, first pass, passes, thread, spacer, wound) of each piece: strands of one thread together."""
    found, total = [], 0.0
    first = 0
    for number, one in enumerate(laid.passes):
        strand = laid.strands[one.strand]
        total += one.out
        if one.back is not None:
            total += one.back + one.dwell * laid.round_at(strand, True) + laid.beyond()
        following = laid.passes[number + 1] if number + 1 < len(laid.passes) else None
        other = following and laid.strands[following.strand]
        if (laid.lead_back is not None and following
                and (other.thread.name, other.spacer) == (strand.thread.name, strand.spacer)):
            step = following.start - one.start
            total += laid.return_dwell(strand, other, step) * laid.round_at(strand, False) + laid.beyond()
        else:
            found.append((place, layer, first, number + 1 - first, strand.thread.name, strand.spacer, total))
            first, total = number + 1, 0.0
    return found


# ---------------------------------------------------------------- random files

class Layer:
    def __init__(self, text, surface, start, laid=None, turns=None):
        self.text, self.surface, self.start, self.laid, self.turns = text, surface, start, laid, turns


class Place:
    def __init__(self, number, layers, angle=0):
        self.number, self.layers, self.angle = number, layers, angle % 360


class File:
    """One random file: `text`, `places` with what they mean, `bench`."""

    def __init__(self, random):
        self.random = random
        self.stretches = []  # what was laid: (low, high, thickness)
        self.patterns = []
        self.make_threads()
        self.make_blank()
        self.bench = model.Bench(left=self.pick(['butt', 'tip']), rotation=self.pick(['toward', 'away']),
                                 ends=self.pick(['tape', 'pins', 'none']),
                                 friction=self.pick(['0.2', '0.3', '0.25']), free=self.pick([100, 150, 180]))
        self.line = 0
        self.places = []
        bodies = self.make_places()
        bench = ('bench { units: mm, left: %s, rotation: %s, ends: %s, friction: %s, free: %d mm, flattest: 2 deg, '
                 'steepest: 88 deg, stack: 60, ridge: 9 }' % (self.bench.left, self.bench.rotation, self.bench.ends,
                                                              self.bench.friction, self.bench.free))
        self.text = '\n'.join(self.head() + bodies + [bench] + self.patterns) + '\n'

    def chance(self, part):
        return self.random.random() < part

    def pick(self, choices):
        return self.random.choice(choices)

    # The rod stands first in the file, so that the lines of its strands are known while it is written.
    def head(self):
        return ['edition 1'] + [text for _, text in self.threads] + [self.blank_text, 'rod "Random" on tube {']

    def make_threads(self):
        self.threads = []
        for name in ('navy', 'slate', 'mist', 'foam', 'dusk')[:self.random.randint(2, 5)]:
            diameter = Fraction(self.random.randint(10, 34), 100)
            way = self.random.randrange(4)
            if way == 0:
                rate = self.random.randint(34, 90)
                thread, text = model.Thread(name, Fraction(10, rate), Fraction(10, rate)), 'turns: %d per cm' % rate
            elif way == 1:
                packing = self.pick(['1.05', '1.1', '0.95'])
                thread = model.Thread(name, diameter * Fraction(packing), diameter)
                text = 'diameter: %s mm, packing: %s' % (decimal(diameter), packing)
            elif way == 2:
                rate = math.floor(10 / diameter)
                thread = model.Thread(name, Fraction(10, rate), diameter)
                text = 'turns: %d per cm, diameter: %s mm' % (rate, decimal(diameter))
            else:
                thread, text = model.Thread(name, diameter, diameter), 'diameter: %s mm' % decimal(diameter)
            self.threads.append((thread, 'thread %s { %s }' % (name, text)))

    def thread(self):
        return self.pick(self.threads)[0]

    def make_blank(self):
        x, diameter = Fraction(0), Fraction(self.random.randint(700, 1800), 100)
        stations = [(x, diameter)]
        rising = self.chance(0.15)
        while x < 1000:
            x += self.random.randint(40, 350)
            change = self.pick([0, 2, 5, 5, 8, 10, 15, 20])
            if self.chance(0.8) != rising:
                change = -change
            length = x - stations[-1][0]
            diameter = min(max(diameter + Fraction(round(change * length), 1000), Fraction(3)), Fraction(24))
            stations.append((x, diameter))
        self.stations, self.end = stations, x
        self.blank_text = 'blank tube { %s }' % ' '.join(
            'at %s mm: %s mm' % (decimal(x), decimal(diameter)) for x, diameter in stations)

    def surface(self):
        return model.Surface(self.stations, self.stretches)

    def laid_on(self, low, high, thickness):
        self.stretches.append((*sorted((low, high)), thickness))

    # ------------------------------------------------------------ places

    def make_places(self):
        """Lines of the rod's body; `self.line` is the number of the line that comes next, from 1."""
        self.line = len(self.head()) + 1
        lines, at = [], Fraction(self.random.randint(20, 80))

        def say(text):
            lines.append(text)
            self.line += 1

        for _ in range(self.random.randint(1, 3)):
            length = Fraction(self.random.randint(80, 360), 2)
            if at + length > self.end - 10:
                break
            sign = self.pick([1, 1, -1])
            start = at if sign > 0 else at + length
            self.place(say, start, sign, length)
            if self.chance(0.5):
                self.upon(say)
            at += length + self.random.randint(5, 60)
        say('}')
        return lines

    def mark(self, x):
        if self.chance(0.3):
            return 'at %s mm from: tip' % decimal(self.end - x)
        return 'at %s mm' % decimal(x)

    def place(self, say, start, sign, length):
        angle = self.random.randint(-450, 450) if self.chance(0.3) else 0
        say('    %s toward: %s length: %s mm%s {' % (self.mark(start), 'tip' if sign > 0 else 'butt', decimal(length),
                                                    ' angle: %d deg' % angle if angle else ''))
        layers = []
        for _ in range(self.pick([0, 0, 1, 1, 2])):
            self.band_layer(say, layers, start, sign, length)
        for _ in range(self.pick([1, 1, 1, 2])):
            self.crosswrap_layer(say, layers, start, sign, length)
        if not layers:  # nothing would fit: something must stand there
            self.band_layer(say, layers, start, sign, length)
        say('    }')
        for layer in layers:
            if layer.laid:
                layer.laid.angle = float(angle)
        self.places.append(Place(len(self.places), layers, angle))

    def upon(self, say):
        """A later place that lies wholly within a crosswrap's layer: a few turns on it, or a crosswrap again."""
        wraps = [layer.laid for layer in self.places[-1].layers if layer.laid]
        if not wraps:
            return
        laid, thread, turns = wraps[-1], self.thread(), self.random.randint(14, 30)
        width = turns * thread.pitch
        low = min(laid.x(0), laid.x(laid.field))
        if self.chance(0.3) and laid.field > 60:
            length = Fraction(self.random.randint(100, int(laid.field * 2) - 8), 2)
            begin = Fraction(math.ceil(low * 2), 2)
            sign = self.pick([1, -1])
            self.place(say, begin if sign > 0 else begin + length, sign, length)
            return
        x = Fraction(math.floor((low + float(laid.field) * self.random.uniform(0.05, 0.5)) * 10), 10)
        if float(x + width) > low + float(laid.field):
            return
        say('    %s { band %d turns of %s }' % (self.mark(x), turns, thread.name))
        self.places.append(Place(len(self.places), [Layer('', self.surface(), x, turns=turns)]))
        self.laid_on(x, x + width, thread.diameter)

    def part(self, length, least):
        """A layer's own offset and length within the place, as text and numbers."""
        if self.chance(0.5) or length < least + 12:
            return '', Fraction(0), length
        offset = Fraction(self.random.randint(1, 20), 2)
        if self.chance(0.5):
            return ' offset: %s mm' % decimal(offset), offset, length - offset
        own = Fraction(self.random.randint(int(least * 2), int((length - offset) * 2)), 2)
        return ' offset: %s mm length: %s mm' % (decimal(offset), decimal(own)), offset, own

    def band_layer(self, say, layers, start, sign, length):
        thread = self.thread()
        text, offset, own = self.part(length, 20)
        if self.chance(0.5):
            extent, turns = 'fill', math.floor(own / thread.pitch + Fraction(1, 10**9))
        else:
            turns = self.random.randint(20, max(20, int(own / thread.pitch * 9 / 10)))
            extent = '%d turns' % turns
        say('        under%s { band %s of %s }' % (text, extent, thread.name))
        begin = start + sign * offset
        layers.append(Layer('', self.surface(), begin, turns=turns))
        self.laid_on(begin, begin + sign * turns * thread.pitch, thread.diameter)

    def crosswrap_layer(self, say, layers, start, sign, length):
        for _ in range(40):
            text, offset, own = self.part(length, 40)
            first_line = self.line
            begin = start + sign * offset
            made = self.crosswrap(begin, sign, own)
            self.line = first_line
            if made is None:
                continue
            head, lines, laid = made
            if text or self.chance(0.3):
                say('        %s%s { %s {' % (self.pick(['under', 'over']), text, head))
                closing = '        } }'
            else:
                say('        %s {' % head)
                closing = '        }'
            for line in lines:
                say('            ' + line)
            say(closing)
            layers.append(Layer('', laid.surface, begin, laid=laid))
            self.stack(laid, begin, sign, own)
            return

    def stack(self, laid, begin, sign, own):
        """What a crosswrap leaves for those above: itself all over its layer, and its end bands."""
        end = begin + sign * own
        self.laid_on(begin, end, laid.thickness())
        thread = laid.wrap.ends[2]
        for a, b in ((begin, begin + sign * laid.end_width), (end - sign * laid.end_width, end)):
            self.laid_on(a, b, thread.diameter)

    # ------------------------------------------------------------ crosswraps

    def ends(self):
        thread = self.thread()
        turns = self.random.randint(12, 34)
        if self.chance(0.5):
            return 'ends: %d turns of %s' % (turns, thread.name), ('turns', turns, thread)
        asked = Fraction(round(turns * thread.pitch * 10), 10)
        return 'ends: %s mm of %s' % (decimal(asked), thread.name), ('length', asked, thread)

    def strand_lines(self, kind, fill):
        """Lines of the source, and the model's lines; those of the head come first."""
        count = self.pick([1, 2, 2, 3, 4])
        filled = self.random.randrange(count) if fill else None
        texts, lines = [], []
        for number in range(count):
            thread, many = self.thread(), self.random.randint(1, 5)
            spacer = self.chance(0.15) and count > 1 and (number > 0 or not lines)
            name = 'spacer(%s)' % thread.name if spacer else thread.name
            many = None if number == filled else many
            texts.append('strand %s of %s' % ('fill' if many is None else many, name))
            lines.append(model.Line(many, thread, spacer, self.line + 1 + number))
        return texts, lines

    def given(self, kind, field, starts):
        """The option that sets the crosswrap out; None where what is written would be doubtful."""
        if kind == 'spiral':
            way = self.pick(['turns', 'lead', 'angle'])
            if way == 'turns':
                turns = self.pick(['2', '3', '4', '5', '7', '2.5', '3.25'])
                # `turns` behind a decimal: a spiral's turns need not be whole.
                return 'turns: %s turns' % turns, ('turns', Fraction(turns))
            if way == 'lead':
                lead = Fraction(self.random.randint(40, 240), 4)
                return 'lead: %s mm' % decimal(lead), ('lead', lead)
            angle = self.random.randint(20, 60)
            return 'angle: %d deg' % angle, ('angle', angle)
        way = self.pick(['crossings', 'crossings', 'spacing', 'angle'])
        if way == 'crossings':
            crossings = self.random.randint(1, 8)
            return 'crossings: %d' % crossings, ('crossings', crossings)
        if way == 'spacing':
            crossings = self.random.randint(1, 8)
            spacing = Fraction(round(field / crossings * 100), 100)
            if abs(spacing * crossings - field) > Fraction(4, 10):
                return None
            return 'spacing: %s mm' % decimal(spacing), ('spacing', spacing)
        return ('angle: %d deg' % (angle := self.random.randint(20, 60))), ('angle', angle)

    def crosswrap(self, begin, sign, length):
        """(head, strand lines, laid) of a crosswrap that can be wound in this layer, or None."""
        kind = self.pick(['chevron', 'chevron', 'diamond', 'diamond', 'spiral'])
        starts = self.pick([1, 1, 2, 3, 4])
        ends_text, ends = self.ends()
        leads = (1, 1) if kind == 'spiral' else self.pick(LEADS)
        field = length - 2 * model.Crosswrap(kind, ends, None, [], 1).end_turns() * ends[2].pitch
        if field < 12:
            return None
        given = self.given(kind, field, starts)
        if given is None:
            return None
        facing = 1
        if kind != 'spiral' and self.chance(0.5):
            facing = self.random.randint(1, sum(leads) // math.gcd(*leads))
        pointing = self.pick(['tip', 'butt']) if kind == 'chevron' else 'tip'
        fill = self.chance(0.3)
        texts, lines = self.strand_lines(kind, fill)
        wrap = model.Crosswrap(kind, ends, given[1], lines, starts, leads, facing, pointing)
        laid = model.Laid(wrap, self.surface(), begin, sign, length,
                          model.Bench(self.bench.left, self.bench.rotation, self.bench.ends,
                                      float(self.bench.friction), self.bench.free))
        if not self.can_be_wound(laid, fill):
            return None
        options = [given[0], ends_text]
        if starts > 1 or self.chance(0.1):
            options.append('starts: %d' % starts)
        if leads != (1, 1) or (kind != 'spiral' and self.chance(0.1)):
            options.append('leads: [%d, %d]' % leads)
        if facing > 1:
            options.append('facing: %d' % facing)
        if pointing == 'butt' or (kind == 'chevron' and self.chance(0.2)):
            options.append('pointing: %s' % pointing)
        self.random.shuffle(options)
        # `starts: 3 turns: 4 turns` reads as three turns: see that a bare number never stands before `turns`.
        options.sort(key=lambda option: not option.startswith('turns'))
        return '%s %s' % (kind, ' '.join(options)), texts, laid

    def can_be_wound(self, laid, fill):
        if len(laid.strands) * laid.starts > MOST_PASSES or not laid.thickness():
            return False
        surface = laid.surface
        for w in range(0, 11):
            x = laid.x(-laid.end_width + (laid.field + 2 * laid.end_width) * Fraction(w, 10))
            near = laid.near(float(-laid.end_width + (laid.field + 2 * laid.end_width) * Fraction(w, 10)),
                             1 if w < 5 else -1)
            for lead in (laid.lead_out, laid.lead_back or laid.lead_out):
                if not FLATTEST < math.degrees(math.atan(laid.tangent(lead, x, near))) < STEEPEST:
                    return False
        left = [room - laid.width for _, _, _, _, room, _ in laid.report()]
        if fill:
            rest = laid.filled - math.floor(laid.filled)
            if laid.filled < 1 or abs(rest - 0.5) < 1e-3:
                return False
        elif min(left) < 0:
            return False
        if laid.wrap.given[0] == 'angle' and laid.wrap.kind != 'spiral' and not self.clear_angle(laid):
            return False
        if laid.slippage()[0] > 0.1:
            return False
        if self.bench.ends == 'none' and laid.lead_back:
            return all(laid.needed_along(lead, far) < 0.95 * float(laid.end_width)
                       and (laid.needed_round(far) % 1) > 1e-3
                       for lead in (laid.lead_out, laid.lead_back) for far in (True, False))
        return True

    def clear_angle(self, laid):
        """Whether the whole number nearest to the wished one also comes nearest in degrees."""
        if laid.wished < 0.6:
            return False
        middle = laid.surface.diameter(laid.x(laid.field / 2))

        def angle(crossings):
            lead = laid.starts * float(laid.field) / crossings / min(laid.a, laid.b)
            return math.degrees(math.atan(lead / (math.pi * (middle + laid.first))))

        below = max(1, math.floor(laid.wished))
        nearest = min((below, below + 1), key=lambda n: abs(angle(n) - laid.wrap.given[1]))
        rest = laid.wished - math.floor(laid.wished)
        return nearest == laid.crossings and abs(rest - 0.5) > 0.05


def compare_random(random):
    """Differences of one random file, and its text."""
    made = File(random)
    got, wrong = plan(made.text)
    if wrong:
        return [wrong], made.text
    comparison = Comparison()
    places = got['rods'][0]['places']
    if comparison.same('rod', 'places', len(places), len(made.places)):
        for place in made.places:
            seen = places[place.number]['layers']
            comparison.close('place %d' % place.number, 'angle', places[place.number]['angle_deg'], place.angle)
            if comparison.same('place %d' % place.number, 'layers', len(seen), len(place.layers)):
                for number, layer in enumerate(place.layers):
                    comparison.layer('place %d layer %d' % (place.number, number), seen[number], layer)
        if not comparison.differences:
            comparison.pieces(got, made)
    return comparison.differences, made.text
