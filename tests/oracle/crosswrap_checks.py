"""Crosswraps against published values, against helices intersected numerically, and against themselves turned round.

Each check is a function that gives the lines of what differs; none where all is well.
"""
import csv
import math
import os
import random
import re

import crosswrap_cases as cases

HERE = os.path.dirname(os.path.abspath(__file__))
PUBLISHED = os.path.join(os.path.dirname(HERE), 'published')
FILE = '''edition 1
thread warp { turns: %(rate)s per cm, diameter: %(thread)s mm }
thread ends { diameter: %(ends)s mm }
blank tube { at 0 mm: %(blank)s mm  at 2000 mm: %(blank)s mm }
bench { units: mm, ends: %(holds)s, friction: %(friction)s, flattest: 1 deg, steepest: 89 deg, stack: 90 }
rod "Even" on tube {
    at 100 mm length: %(length)s mm { %(wrap)s }
}
'''


def number(value):
    return ('%.9f' % value).rstrip('0').rstrip('.')


def even(wrap, length, radius, thread=0.2, width=None, ends=0.2, holds='tape', friction='0.2'):
    """The crosswrap of a file on a blank without taper; radius is that of the thread's centre line."""
    text = FILE % {'blank': number(2 * radius - thread), 'thread': number(thread), 'ends': number(ends),
                   'rate': number(10 / (width or thread)), 'holds': holds, 'friction': friction,
                   'length': number(length), 'wrap': wrap}
    got, wrong = cases.plan(text)
    if wrong:
        return None, ['%s: %s' % (wrong, wrap)]
    return got['rods'][0]['places'][0]['layers'][0]['crosswrap'], []


def rows(name):
    with open(os.path.join(PUBLISHED, name), encoding='utf-8') as file:
        return list(csv.DictReader(file))


def differ(what, got, expected, near):
    if abs(got - expected) > near:
        return ['%s is %.9g, expected %s (within %g)' % (what, got, expected, near)]
    return []


def printed(text):
    """Half a unit of the last decimal of a number as it was printed, and a little."""
    return 0.5001 * 10.0 ** -len(text.partition('.')[2])


# ---------------------------------------------------------------- crossings.csv

def crossing_table(row):
    starts = int(row['starts_per_hand_k'])
    lead, length, diameter = (float(row[key]) for key in ('lead_mm', 'length_mm', 'D_mm'))
    spacing = 2 * float(row['axial_level_spacing_mm'])
    wrap = 'chevron crossings: %d starts: %d ends: 20 turns of ends { strand 1 of warp }' % (
        round(length / spacing), starts)
    got, wrong = even(wrap, length + 8, diameter / 2)
    if wrong:
        return wrong
    marks = [(mark, line['clock_deg'] % 360) for line in got['lines'] for mark in line['marks_mm']]
    levels = sorted({round(mark, 5) for mark, _ in marks})
    clocks = sorted(line['clock_deg'] % 360 for line in got['lines'])
    found = []
    # The table counts the first level; the plan marks what lies within the field, without those at its very ends.
    found += differ('crossings in all', len(marks) + starts, int(row['crossings_total']), 0)
    found += differ('axes', len(clocks), int(row['number_of_axes_2k']), 0)
    for level in levels:
        found += differ('crossings at %g mm' % level, sum(abs(mark - level) < 1e-4 for mark, _ in marks),
                        int(row['crossings_per_level']), 0)
    for low, high in zip(levels, levels[1:]):
        found += differ('level spacing', high - low, float(row['axial_level_spacing_mm']), 2e-5)
    for low, high in zip(clocks, clocks[1:] + [clocks[0] + 360]):
        found += differ('axis spacing', high - low, float(row['axis_spacing_deg']), 2e-6)
    for line in got['lines']:
        for low, high in zip(sorted(line['marks_mm']), sorted(line['marks_mm'])[1:]):
            found += differ('diamond along', high - low, float(row['diamond_axial_diag_mm']), 2e-6)
    found += differ('diamond round', math.pi * diameter * 2 * (clocks[1] - clocks[0]) / 360,
                    float(row['diamond_circ_diag_mm_at_D']), 1e-6)
    for end in got['ends']:
        # Both legs are equally steep: across the axis is what is left of a half turn.
        found += differ('crossing angle', 180 - end['angle_out_deg'] - end['angle_back_deg'],
                        float(row['crossing_angle_between_threads_deg']), 2e-6)
    found += differ('lead', got['lead_mm']['out'], lead, 1e-6)
    return found


# ---------------------------------------------------------------- dalibor2019.csv; named in full in tests/published/README.md

def dalibor(row):
    radius, alpha = float(row['radius_to_centre_line_mm']), float(row['alpha_from_axis_deg'])
    published, near, ours = float(row['published']), printed(row['published']), float(row['recomputed'])
    what = row['quantity']
    if what == 'full_dwell':
        return full_dwell(radius, alpha, row['friction'], published, ours)
    width = float(row['band_width_mm'] or 0.2)
    length = float(row['length_mm'] or 200)
    fill = 'fill' if row['band_width_mm'] else '1'
    got, wrong = even('spiral angle: %s deg ends: 20 turns of ends { strand %s of warp }' % (number(90 - alpha), fill),
                      length + 8, radius, thread=width if width < 1 else 2.0, width=width)
    if wrong:
        return wrong
    lead = got['lead_mm']['out']
    field = abs(got['field']['end_mm'] - got['field']['start_mm'])
    closing = got['ends'][0]['room_mm'] / width
    bands = len(got['strands'])
    if what == 'lead':
        return differ(what, lead, published, near) + differ(what, lead, ours, 2e-6)
    if what == 'remainder_of_length':
        rest = field - math.floor(field / lead) * lead
        # Printed with one decimal, cut off after 18.62: the last decimal counts.
        return differ(what, rest, published, near) + differ(what, rest, ours, 5e-6)
    if what == 'remainder_as_angle':
        rest = (field / lead % 1) * 360
        return differ(what, rest, published, near) + differ(what, rest, ours, 2e-5)
    if what == 'bands_to_close_low':
        found = differ('whole bands that the room takes', math.floor(closing), published, 0)
        return found + differ('room in bands', closing, ours, 2e-6) + nearest(bands, ours)
    if what == 'bands_to_close_high':
        found = differ('whole bands that cover the room', math.ceil(closing), published, 0)
        return found + differ('room in bands', closing, ours, 2e-6) + nearest(bands, ours)
    if what == 'bands_to_close':
        return differ(what, bands, published, 0) + differ('room in bands', closing, ours, 2e-6)
    cover = 100 * float(row['bands']) / closing
    if what == 'cover_misprint':
        found = differ(what, cover, ours, 1e-5)
        return found if abs(cover - published) > 0.1 else found + ['a known misprint agrees: %g' % cover]
    return differ(what, cover, published, near) + differ(what, cover, ours, 1e-5)


def nearest(bands, ours):
    return differ('strands of the fill', bands, math.floor(ours + 0.5), 0)


def full_dwell(radius, alpha, friction, published, ours):
    """The whole turns that `ends: none` adds change just where the way round reaches the published dwell.

    With one start and a field of whole leads the way round without friction is 1 - 2E/lead of a turn, E an end band's
    width: E is chosen so that this lies a little over, and a little under, the dwell less its whole turns. The lead is
    so near to that of the angle as six decimals of a length make it.
    """
    lead = 2 * math.pi * radius / math.tan(math.radians(alpha))
    found = []
    for step in (0.02, 0.5, -0.02, -0.5):
        wished = (ours + step) / 360 % 1
        rest = lead * (1 - wished) / 2
        # Long enough for the way along the blank that turning round takes.
        width = rest + lead / 2
        turns = 200
        ends = round(width / turns, 9)
        got, wrong = even('chevron crossings: 4 ends: %d turns of ends { strand 1 of warp }' % turns,
                          round(4 * lead, 9) + 2 * turns * ends, radius, ends=ends, holds='none', friction=friction)
        if wrong:
            found += wrong
            continue
        dwell = got['passes'][0]['dwell_deg']
        expected = ours + step if step > 0 else ours + step + 360
        if abs(dwell - expected) > 0.01:
            found.append('friction %s, %.2f deg %s the full dwell %s: goes round by %.4f deg, expected %.4f' % (
                friction, abs(step), 'over' if step > 0 else 'under', published, dwell, expected))
    if abs(published - ours) > 0.02:
        found.append('full dwell recomputed as %s, published %s' % (ours, published))
    return found


def crossing_circles():
    """Eq. (5): neighbouring crossing circles are Lr / 2p apart, Lr the lead, p the starts round."""
    found = []
    lead = 2 * math.pi * 25 / math.tan(math.radians(60))
    for starts in (1, 2, 3, 4, 5):
        # 4 p crossings on a line: four leads.
        wrap = 'chevron crossings: %d starts: %d ends: 20 turns of ends { strand 1 of warp }' % (4 * starts, starts)
        got, wrong = even(wrap, round(4 * lead, 9) + 8, 25)
        if wrong:
            return wrong
        levels = sorted({round(mark, 4) for line in got['lines'] for mark in line['marks_mm']})
        for low, high in zip(levels, levels[1:]):
            found += differ('%d starts: distance of crossing circles' % starts, high - low, lead / (2 * starts), 2e-4)
        found += differ('%d starts: crossing circles' % starts, len(levels), 8 * starts - 1, 0)
    return found


# ---------------------------------------------------------------- slip.csv

SLOPING = '''edition 1
thread warp { diameter: 0.1 mm }
blank cone { at 0 mm: %s mm  at 120 mm: %s mm }
bench { units: mm, friction: 0.5, flattest: 1 deg, steepest: 89 deg }
rod "Cone" on cone { at 60 mm length: 60 mm { spiral lead: %s mm ends: 12 turns of warp { strand 1 of warp } } }
'''


def slip_table(row):
    """The friction that a spiral on a cone needs, at the thin end where it needs most."""
    radius, slope = float(row['r_mm']), float(row['dr_dz'])
    thin = 2 * radius - 0.1
    got, wrong = cases.plan(SLOPING % (number(thin - 240 * slope), number(thin), row['axial_pitch_mm']))
    if wrong:
        return [wrong]
    wrap = got['rods'][0]['places'][0]['layers'][0]['crosswrap']
    found = differ('slippage', wrap['slippage'], float(row['lambda_closed_form']), 6e-7)
    return found + differ('where', wrap['slippage_at_mm'], 120, 1e-6)


# ---------------------------------------------------------------- crossings found by intersecting

def intersections(got):
    """(w, turns round before the facing line is known) of all crossings of the middle strand, also at the field's end.

    The legs back are not known from levels or lines: a leg back begins where the leg out has ended and has gone round
    by the dwell. Angles in turns, in the sense of the thread.
    """
    out, back = got['lead_mm']['out'], got['lead_mm']['back']
    starts, dwell = got['starts'], middle_pass(got)['dwell_deg'] / 360
    field = abs(got['field']['end_mm'] - got['field']['start_mm'])
    turn = field + got['end_width_mm']

    def apart(w, i, j):
        begun = i / starts + turn / out
        returning = j / starts + turn / out + dwell + (turn - w) / back
        return begun - (turn - w) / out - returning

    found, samples = [], 64 * got['crossings']
    for i in range(starts):
        for j in range(starts):
            values = [apart(1e-5 + field * n / samples, i, j) for n in range(samples + 1)]
            for n, (low, high) in enumerate(zip(values, values[1:])):
                whole = math.floor(high)
                if math.floor(low) == whole:
                    continue
                left, right = (1e-5 + field * m / samples for m in (n, n + 1))
                for _ in range(60):
                    middle = (left + right) / 2
                    if apart(middle, i, j) < whole:
                        left = middle
                    else:
                        right = middle
                found.append((left, (i / starts + left / out) % 1))
    return sorted(found)


def middle_pass(got):
    """A pass of the strand on the bundle's line, or None."""
    for one in got['passes']:
        if abs(got['strands'][one['strand']]['middle_mm']) < 1e-9:
            return one
    return None


def crossings(where, got, facing, leads, angle):
    """What differs between the crosswrap's lines and marks and the crossings of its helices."""
    if got['kind'] == 'spiral' or middle_pass(got) is None:
        return None
    found, met = [], intersections(got)
    sign = 1 if got['field']['end_mm'] > got['field']['start_mm'] else -1
    sense = 1 if got['sense'] == 'clockwise' else -1
    marks = [(abs(mark - got['field']['start_mm']), line['clock_deg']) for line in got['lines']
             for mark in line['marks_mm']]
    families = sum(leads) // math.gcd(*leads)
    if len(got['lines']) != got['starts'] * families:
        found.append('%s: %d lines, expected %d starts * %d' % (where, len(got['lines']), got['starts'], families))
    clocks = {round(turn * 1e4) % 10000 for _, turn in met}
    clocks = {clock for clock in clocks if (clock + 1) % 10000 not in clocks}  # one that fell on either side
    if len(clocks) != len(got['lines']):
        found.append('%s: crossings lie on %d lines, the plan has %d' % (where, len(clocks), len(got['lines'])))
    # The blank is turned so that the facing level's first crossing is at the place's angle.
    levels = []
    for w, turn in met:
        if not levels or w - levels[-1][0] > 1e-4:
            levels.append((w, turn))
    zero = levels[facing - 1][1]
    field = abs(got['field']['end_mm'] - got['field']['start_mm'])
    met = [one for one in met if one[0] < field - 1e-4]  # the last level is not marked
    if len(met) != len(marks):
        return found + ['%s: %d crossings, the plan has %d marks' % (where, len(met), len(marks))]
    left = list(met)
    for w, clock in sorted(marks):
        turn = (clock - angle) / 360 * sense % 1
        best = min(left, key=lambda one: abs(one[0] - w) + 100 * abs((one[1] - zero - turn + 0.5) % 1 - 0.5))
        left.remove(best)
        if abs(best[0] - w) > 2e-5 or abs((best[1] - zero - turn + 0.5) % 1 - 0.5) > 1e-6:
            found.append('%s: mark %.6f at %.6f deg, the helices cross at %.6f, %.6f deg' % (
                where, got['field']['start_mm'] + sign * w, clock, got['field']['start_mm'] + sign * best[0],
                (angle + sense * (best[1] - zero) * 360) % 360))
    return found


def random_crossings(number):
    """What differs between the helices of a random file and its lines, and the text; None where it has none."""
    made = cases.File(random.Random('crossings/%d' % number))
    wraps = [(place.number, index, layer.laid) for place in made.places for index, layer in enumerate(place.layers)
             if layer.laid and layer.laid.wrap.kind != 'spiral']
    if not wraps:
        return None
    got, wrong = cases.plan(made.text)
    if wrong:
        return [wrong], made.text
    found, any_met = [], False
    for place, index, laid in wraps:
        seen = got['rods'][0]['places'][place]['layers'][index]['crosswrap']
        differences = crossings('place %d layer %d' % (place, index), seen, laid.wrap.facing, laid.wrap.leads, laid.angle)
        any_met = any_met or differences is not None
        found += differences or []
    return (found, made.text) if any_met else None


# ---------------------------------------------------------------- end for end

def turned_text(made):
    """A random file's text with the blank turned end for end: what the strands lie on, mirrored."""
    text = re.sub(r'blank tube \{.*\}', 'blank tube { %s }' % ' '.join(
        'at %s mm: %s mm' % (cases.decimal(made.end - x), cases.decimal(diameter))
        for x, diameter in reversed(made.stations)), made.text)
    swap = {'tip': 'butt', 'butt': 'tip'}
    lines = []
    for line in text.split('\n'):
        if line.startswith('    at '):
            if ' from: tip' in line:
                line = line.replace(' from: tip', '')
            else:
                line = re.sub(r'at (\S+) mm', r'at \1 mm from: tip', line, count=1)
            if 'toward:' in line:
                line = re.sub(r'toward: (\w+)', lambda found: 'toward: ' + swap[found.group(1)], line)
            else:
                line = line.replace(' {', ' toward: butt {', 1)
        elif 'chevron ' in line:
            if 'pointing:' in line:
                line = re.sub(r'pointing: (\w+)', lambda found: 'pointing: ' + swap[found.group(1)], line)
            else:
                line = line.replace('chevron ', 'chevron pointing: butt ')
        lines.append(line)
    return '\n'.join(turn_spirals(lines))


def turn_spirals(lines):
    """A spiral's bundle is laid butt-most strand first, so its strand lines are turned round."""
    made, inside = [], None
    for line in lines:
        if 'spiral ' in line:
            inside = []
            made.append(line)
        elif inside is not None and line.strip().startswith('strand '):
            inside.append(line)
        else:
            if inside:
                made += reversed(inside)
            inside = None
            made.append(line)
    return made


def turned(number):
    """What differs between a random file and the same turned end for end, and both texts; None where it has none."""
    made = cases.File(random.Random('turned/%d' % number))
    # The first thread of a bundle decides its angles: a spiral turned round begins with its last.
    for place in made.places:
        for layer in place.layers:
            if layer.laid and layer.laid.wrap.kind == 'spiral':
                lines = layer.laid.wrap.lines
                if lines[0].thread.diameter != lines[-1].thread.diameter:
                    return None
    if not any(layer.laid for place in made.places for layer in place.layers):
        return None
    text = turned_text(made)
    (one, wrong), (other, also_wrong) = cases.plan(made.text), cases.plan(text)
    if wrong or also_wrong:
        return ['%s / turned: %s' % (wrong, also_wrong)], made.text + text
    found, end = [], float(made.end)
    for place in made.places:
        for index, layer in enumerate(place.layers):
            if layer.laid:
                pair = [plan['rods'][0]['places'][place.number]['layers'][index]['crosswrap'] for plan in (one, other)]
                found += compare_turned('place %d layer %d' % (place.number, index), *pair, end)
    return found, made.text + text


def compare_turned(where, one, other, end):
    comparison = cases.Comparison()
    comparison.lines(where, other['lines'], [(line['clock_deg'], [end - mark for mark in line['marks_mm']])
                                             for line in one['lines']])
    for key in ('crossings', 'starts', 'end_turns', 'sense'):
        comparison.same(where, key, other[key], one[key])
    comparison.close(where, 'slippage', other['slippage'], one['slippage'])
    for name, place in (('start_mm', 'start_mm'), ('end_mm', 'end_mm')):
        comparison.close(where, 'field ' + name, other['field'][name], end - one['field'][place])
    for seen, expected in zip(reversed(other['ends']), one['ends']):
        for key in ('diameter_mm', 'angle_out_deg', 'angle_back_deg', 'room_mm', 'left_mm'):
            comparison.close(where, key, seen[key], expected[key])

    def by_place(wrap, sign):
        """Passes by start and the place of their strand across the bundle."""
        return sorted((one['start'], round(sign * wrap['strands'][one['strand']]['middle_mm'], 5) + 0.0,
                       one['out_mm'], one['back_mm'], one['dwell_deg']) for one in wrap['passes'])

    first, second = by_place(one, 1), by_place(other, -1)
    if comparison.same(where, 'passes', len(second), len(first)):
        for seen, expected in zip(second, first):
            here = '%s start %d strand at %.4f' % (where, *expected[:2])
            comparison.same(here, 'strand', seen[:2], expected[:2])
            comparison.close(here, 'out', seen[2], expected[2], 2e-6)
            comparison.close(here, 'back', seen[3], expected[3], 2e-6)
            if expected[4] is not None and seen[4] is not None:
                comparison.close_round(here, 'dwell', seen[4], expected[4], 3e-6)
    return comparison.differences


# ---------------------------------------------------------------- edges that meet

def same_ends(toward):
    """A chevron on a spiral with the same end bands: its field ends where that below begins to be thicker.

    The diameter at a field's ends is that of the field, whatever the machine makes of the sum of the widths.
    """
    places, starts = [], []
    for place in range(12):
        length = 50 + place * 1.3
        start = 40 + place * 80 + (length if toward == 'butt' else 0)
        starts.append((start, length))
        places.append('at %s mm toward: %s length: %s mm { spiral turns: 3 turns %s chevron crossings: 2 %s }' % (
            number(start), toward, number(length), *['ends: 21 turns of slate { strand 1 of slate }'] * 2))
    text = ('edition 1 thread slate { diameter: 0.27 mm } blank tube { at 0 mm: 16 mm at 1000 mm: 8 mm } '
            'rod "Edges" on tube { %s }' % '\n'.join(places))
    got, wrong = cases.plan(text)
    if wrong:
        return [wrong], text
    found = []
    for (start, length), place in zip(starts, got['rods'][0]['places']):
        low = start - (length if toward == 'butt' else 0)
        for end, x in zip(place['layers'][1]['crosswrap']['ends'], (low + 5.67, low + length - 5.67)):
            where = 'place at %g, %s end' % (start, end['end'])
            found += differ(where, end['at_mm'], x, 1e-6)
            found += differ(where + ', diameter', end['diameter_mm'], 16 - 0.008 * x + 2 * 0.27, 2e-6)
    return found, text


# ---------------------------------------------------------------- without taper

def untapered(number):
    """Every leg of a long crosswrap on an even blank is sqrt((pi (D + d) / lead)^2 + 1) of its way, to 1e-9."""
    chance = random.Random('untapered/%d' % number)
    starts, (a, b) = chance.randint(1, 4), chance.choice([(1, 1), (2, 1), (1, 3), (3, 2)])
    diameter, thread = chance.randint(80, 160) / 10, chance.choice([0.15, 0.2, 0.3])
    kind = chance.choice(['chevron', 'diamond'])
    # Flat enough that a leg is more than a metre long: six decimals of it are 1e-9.
    crossings = math.ceil(600 * starts * math.tan(math.radians(60)) / (math.pi * diameter * min(a, b)))
    wrap = '%s crossings: %d starts: %d leads: [%d, %d] ends: 20 turns of ends { %s }' % (
        kind, crossings, starts, a, b, 'strand 2 of warp strand 1 of ends')
    length = chance.randint(6000, 8000) / 10
    got, wrong = even(wrap, length, (diameter + thread) / 2, thread=thread)
    if wrong:
        return wrong
    found = []
    for one in got['passes']:
        own = {'warp': thread, 'ends': 0.2}[got['strands'][one['strand']]['thread']]
        for way in ('out', 'back'):
            lead = starts * (length - 8) / crossings / {'out': b, 'back': a}[way]
            expected = length * math.hypot(math.pi * (diameter + own) / lead, 1)
            if abs(one[way + '_mm'] / expected - 1) > 1e-9:
                found.append('pass %s %s: %.9g mm, cylinder %.12g' % (one, way, one[way + '_mm'], expected))
    return found


# ---------------------------------------------------------------- all

def all_checks(random_files, seed):
    """(name, what differs, the file's text or None) of every check, as they are made."""
    for row in rows('crossings.csv'):
        name = 'published crossings, %s starts, lead %s' % (row['starts_per_hand_k'], row['lead_mm'])
        yield name, crossing_table(row), None
    for row in rows('slip.csv'):
        if float(row['alpha_from_meridian_deg']) < 89:  # the others are close turns, too flat for a crosswrap
            yield 'published slip, %s %s' % (row['r_mm'], row['axial_pitch_mm']), slip_table(row), None
    for row in rows('dalibor2019.csv'):
        name = 'dalibor2019 %s %s %s' % (row['quantity'], row['band_width_mm'], row['friction'])
        yield name, dalibor(row), None
    yield 'dalibor2019 distance of crossing circles', crossing_circles(), None
    for toward in ('tip', 'butt'):
        yield 'crosswraps of the same ends toward the %s' % toward, *same_ends(toward)
    for number in range(12):
        yield 'untapered crosswrap %d' % number, untapered(number), None
    for name, check, wished in (('crossings', random_crossings, 24), ('turned', turned, 24)):
        number = made = 0
        while made < wished:
            found = check(number)
            if found is not None:
                yield 'crosswrap %s %d' % (name, number), found[0], found[1]
                made += 1
            number += 1
    for number in range(random_files):
        found, text = cases.compare_random(random.Random('crosswrap %s/%d' % (seed, number)))
        yield 'random crosswraps %s-%d' % (seed, number), found, text
