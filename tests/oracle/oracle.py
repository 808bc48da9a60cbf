#!/usr/bin/python3
"""Compares turnlay's plans with those of an independent model of grammar/reference.md.

usage: TURNLAY=path/to/turnlay oracle.py [FILES [SEED]]

Plans FILES random pattern files (200 if left out) and every file in cases/, then half as many of
crosswraps with the other checks of crosswrap_checks.py, and of series, looks at the fades of examples, golden files
and a quarter as many random files (evenness.py), at the curves of the eye's view of some more (eye_curves.py), and prints
a line for each difference, then `N passed, N failed`.
A failed random file is kept for reading. Exit code 1 if anything differs.
"""
import glob
import itertools
import json
import os
import random
import subprocess
import sys
import tempfile
from fractions import Fraction

import crosswrap_checks
import eye_checks
import eye_curves
import evenness
import rod_of_ten_guides
import series_checks
import generate
import model
from comparison import Differences

HERE = os.path.dirname(os.path.abspath(__file__))
NEAR = 1.5e-6  # mm; the plan gives six decimals
MOST_SHOWN = 5  # differences of one file

# D, width, height and the hull round them; 40-digit quadrature of the support function and, for the
# first five, the hull of a 200,000-gon: tests/published/hull.csv has the same numbers.
HULLS = ((10, 3, 1.2, 33.2645635409516992), (5, 2, 0.8, 17.1878518324490187), (2, 1.2, 0.6, 7.64560010998494105),
         (14, 4, 1.5, 46.2166008838210785), (8, 3, 0, 25.3924105043891904), (1.5, 2, 0.5, 6.93050332637985316))
# Radii of the thread's axis at both ends, pitch, turns and length of a helix on a cone, 50-digit quadrature:
# tests/published/helix.csv has the same numbers.
HELICES = ((5.075, 5.075, 0.15, 100, 3188.7518238508754), (6.08, 5.88, 0.16, 250, 9393.4472104412121),
           (7.125, 5.125, 0.25, 400, 15394.131869087775), (4.1, 3.812, 6, 12, 306.84596477995627))


def check_model():
    """The numerics of the model against published and derived values."""
    for diameter, width, height, outline in HULLS:
        got = model.hull(diameter / 2, width / 2, diameter / 2 + height)
        assert abs(got / outline - 1) < 2e-8, (diameter, width, height, got)
    for first, last, pitch, turns, length in HELICES:
        span = pitch * turns
        blank = model.Blank([(0, Fraction(first) * 2), (Fraction(span), Fraction(last) * 2)])
        layer = model.Layer('over', [])
        layer.runs = []
        surface = model.Surface(blank, model.Place(0, 1, None, [layer]), 0)
        got = surface.length(0, span, pitch, 0)
        assert abs(got / length - 1) < 1e-8, (first, last, got)


def plan(path):
    """The plan as JSON, and what went wrong if there is none."""
    done = subprocess.run([os.environ['TURNLAY'], 'plan', '--format', 'json', os.path.basename(path)],
                          cwd=os.path.dirname(path), capture_output=True, text=True, check=False)
    try:
        return json.loads(done.stdout), None
    except ValueError:
        lines = [line for line in done.stderr.splitlines() if ': error: ' in line] or done.stderr.splitlines()
        return None, 'no plan, exit code %d: %s' % (done.returncode, '; '.join(lines[:3]))


def near(got, expected):
    return got is not None and abs(got - float(expected)) <= NEAR


class Comparison(Differences):
    def close(self, where, what, got, expected):
        if expected is None:
            self.same(where, what, got, None)
        elif not near(got, expected):
            self.differ(where, what, got, float(expected))

    def run(self, where, got, run, place):
        shown = [(strand['thread'], strand['spacer']) for strand in got['strands']]
        self.same(where, 'thread', shown, [(strand.thread.name, strand.spacer) for strand in run.strands])
        self.same(where, 'role', got['role'], run.role)
        self.same(where, 'turns', got['turns'], run.turns)
        self.close(where, 'from', got['from_mm'], run.start)
        self.close(where, 'to', got['to_mm'], run.end)
        self.close(where, 'start', got['start_mm'], place.x(run.start))
        self.close(where, 'end', got['end_mm'], place.x(run.end))
        self.close(where, 'start diameter', got['start_diameter_mm'], run.diameters[0])
        self.close(where, 'end diameter', got['end_diameter_mm'], run.diameters[1])
        for strand, length in zip(got['strands'], run.lengths):
            if abs(strand['wound_mm'] - length) > NEAR + 1e-6 * length:
                self.differ(where, 'length of ' + strand['thread'], strand['wound_mm'], '%.6f' % length)

    def items(self, where, got, layer):
        first = 0
        if not self.same(where, 'statements', len(got), len(layer.items)):
            return
        for index, (shown, item) in enumerate(zip(got, layer.items)):
            here = '%s statement %d' % (where, index)
            width = sum(run.width for run in item.laid)
            self.same(here, 'kind', shown['kind'], item.node.kind)
            self.same(here, 'mirrored', shown['mirrored'], item.mirrored)
            self.same(here, 'runs', (shown['first_run'], shown['run_count']), (first, len(item.laid)))
            self.same(here, 'turns', shown['turns'], sum(run.turns for run in item.laid))
            self.close(here, 'obtained', shown['obtained_mm'], width)
            if shown['asked_mm'] is not None:
                self.close(here, 'error', shown['error_mm'], width - Fraction(str(shown['asked_mm'])))
            first += len(item.laid)

    def layer(self, where, got, layer, place):
        if not self.same(where, 'laid', got['laid'], True):
            return
        self.same(where, 'kind', got['kind'], layer.kind)
        self.close(where, 'start', got['start_mm'], place.x(layer.offset))
        self.close(where, 'end', got['end_mm'], place.x(layer.offset + layer.width))
        self.close(where, 'length', got['length_mm'], layer.length)
        self.close(where, 'width', got['width_mm'], layer.width)
        self.close(where, 'unfilled', got['unfilled_mm'], layer.unfilled)
        self.same(where, 'turns', got['turns'], sum(run.turns for run in layer.runs))
        self.items(where, got['items'], layer)
        if self.same(where, 'runs', len(got['runs']), len(layer.runs)):
            done = 0
            for index, (shown, run) in enumerate(zip(got['runs'], layer.runs)):
                done += run.turns
                self.same('%s run %d' % (where, index), 'turns done', shown['turns_done'], done)
                self.run('%s run %d' % (where, index), shown, run, place)

    def place(self, where, got, place):
        self.same(where, 'toward', got['toward'], 'tip' if place.sign > 0 else 'butt')
        self.close(where, 'start', got['start_mm'], place.start)
        self.close(where, 'angle', got['angle_deg'], place.angle)
        self.close(where, 'length', got['length_mm'], place.length)
        foot = place.foot
        for name, value in (('foot_tip_mm', foot and foot.tip), ('ramp_end_mm', foot and foot.ramp_end),
                            ('foot_end_mm', foot and foot.end)):
            self.close(where, name, got[name], value)
        if self.same(where, 'layers', len(got['layers']), len(place.layers)):
            for index, (shown, layer) in enumerate(zip(got['layers'], place.layers)):
                self.layer('%s layer %d' % (where, index), shown, layer, place)

    def threads(self, got, rods):
        """The totals of each thread: those of its strands and those of its pieces."""
        turns, wound = {}, {}
        for _, places in rods:
            for place in places:
                for layer in place.layers:
                    for run in layer.runs:
                        for strand, length in zip(run.strands, run.lengths):
                            name = strand.thread.name
                            turns[name] = turns.get(name, 0) + run.turns
                            wound[name] = wound.get(name, 0.0) + length
        pieces = [piece for rod in got['rods'] for piece in rod['pieces']]
        for thread in got['threads']:
            name = thread['thread']
            own = [piece for piece in pieces if piece['thread'] == name]
            self.same('thread ' + name, 'turns', thread['turns'], turns.pop(name, 0))
            if abs(thread['wound_mm'] - wound.get(name, 0)) > NEAR + 1e-6 * wound.get(name, 0):
                self.differ('thread ' + name, 'wound', thread['wound_mm'], wound.get(name, 0))
            self.same('thread ' + name, 'pieces', thread['pieces'], len(own))
            self.same('thread ' + name, 'turns of its pieces', sum(piece['turns'] for piece in own),
                      thread['turns'])
            cut = sum(piece['cut_mm'] for piece in own)
            if abs(cut - thread['total_mm']) > NEAR * (len(own) + 1):
                self.differ('thread ' + name, 'total', thread['total_mm'], cut)
        self.same('plan', 'threads without a line', sorted(turns), [])

    def sections(self, where, got, blank, places):
        """Of a rod of several: where each lies, and on which each place does."""
        shown = got.get('sections', [])
        if not self.same(where, 'sections', len(shown), len(blank.ends()) if len(blank.ends()) > 1 else 0) or not shown:
            return
        for index, section in enumerate(shown):
            here = '%s section %d' % (where, index)
            for key, value in (('start', blank.starts()), ('end', blank.ends()), ('butt', blank.butts), ('tip', blank.tips)):
                self.close(here, key, section[key + '_mm'], value[index])
        for index, (place, planned) in enumerate(zip(got['places'], places)):
            x = planned.x(Fraction(1, 1000)) if planned.foot is None else (planned.foot.tip + planned.foot.end) / 2
            self.same('%s place %d' % (where, index), 'section', place['section'], sum(joint <= x for joint in blank.joints))

    def rods(self, got, rods):
        if not self.same('plan', 'rods', len(got['rods']), len(rods)):
            return
        for number, (shown, (blank, places)) in enumerate(zip(got['rods'], rods)):
            self.sections('rod %d' % number, shown, blank, places)
            if self.same('rod %d' % number, 'places', len(shown['places']), len(places)):
                for index, place in enumerate(places):
                    self.place('rod %d place %d' % (number, index), shown['places'][index], place)
        if not self.differences:
            self.threads(got, rods)


def compare_random(number, seed, folder):
    """Differences of one random file, and its path."""
    made = generate.File(random.Random('%s/%d' % (seed, number))).write()
    path = os.path.join(folder, 'random-%s-%d.lay' % (seed, number))
    with open(path, 'w', encoding='utf-8') as file:
        file.write(made.text)
    got, wrong = plan(path)
    if wrong:
        return [wrong], path
    for blank, places in made.rods:
        for place in places:
            model.lay_place(blank, place)
    comparison = Comparison()
    comparison.rods(got, made.rods)
    return comparison.differences, path


def compare_rod(folder):
    """Differences of the rod of ten guides."""
    path = os.path.join(folder, 'ten.lay')
    with open(path, 'w', encoding='utf-8') as file:
        file.write(rod_of_ten_guides.TEXT)
    got, wrong = plan(path)
    os.remove(path)
    if wrong:
        return [wrong]
    comparison = Comparison()
    comparison.rods(got, rod_of_ten_guides.rods())
    return comparison.differences


def read_expected(path):
    """Lines of a .expect file, as words; what follows a `#` is a comment.

    layer PLACE LAYER           the lines after it are about this layer; both count from 0
    THREADS TURNS [START END]   its runs in working order: `navy 12`, `navy+~slate 10 203 206.5` (a
                                spacer has `~`), `gap 0`; positions are mm from the butt
    width MM, unfilled MM       of the layer
    """
    with open(path, encoding='utf-8') as file:
        return [words for words in (line.split('#')[0].split() for line in file) if words]


def compare_case(path):
    """Differences of a case worked out by hand."""
    got, wrong = plan(path)
    expected = read_expected(path[:-len('.lay')] + '.expect')
    if wrong:
        return [wrong]
    comparison, layers, layer, runs, where = Comparison(), {}, None, 0, 'case'
    for rod in got['rods']:
        for place_index, place in enumerate(rod['places']):
            for layer_index, shown in enumerate(place['layers']):
                layers[place_index, layer_index] = shown

    def finish():
        if layer is not None:
            comparison.same(where, 'runs', len(layer['runs']), runs)

    for words in expected:
        if words[0] == 'layer':
            finish()
            where, runs = 'place %s layer %s' % tuple(words[1:]), 0
            layer = layers.get((int(words[1]), int(words[2])))
            if layer is None:
                return comparison.differences + [where + ': missing']
        elif words[0] in ('width', 'unfilled'):
            comparison.close(where, words[0], layer[words[0] + '_mm'], Fraction(words[1]))
        else:
            if runs < len(layer['runs']):
                shown = layer['runs'][runs]
                names = '+'.join(('~' if s['spacer'] else '') + s['thread'] for s in shown['strands']) or 'gap'
                here = '%s run %d' % (where, runs)
                comparison.same(here, 'thread and turns', [names, str(shown['turns'])], words[:2])
                if len(words) == 4:
                    comparison.close(here, 'start', shown['start_mm'], Fraction(words[2]))
                    comparison.close(here, 'end', shown['end_mm'], Fraction(words[3]))
            runs += 1
    finish()
    return comparison.differences


def main():
    if 'TURNLAY' not in os.environ:
        sys.exit('oracle.py: set TURNLAY to the program')
    os.environ['TURNLAY'] = os.path.abspath(os.environ['TURNLAY'])
    files = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    seed = sys.argv[2] if len(sys.argv) > 2 else '1'
    check_model()
    folder = tempfile.mkdtemp(prefix='turnlay-oracle-')
    passed = failed = 0
    cases = sorted(glob.glob(os.path.join(HERE, 'cases', '*.lay')))
    for number in range(len(cases) + files):
        if number < len(cases):
            path = cases[number]
            differences = compare_case(path)
        else:
            differences, path = compare_random(number - len(cases), seed, folder)
            if not differences:
                os.remove(path)
        passed, failed = passed + (not differences), failed + bool(differences)
        for difference in differences[:MOST_SHOWN]:
            print('%s: %s' % (path, difference))
        if len(differences) > MOST_SHOWN:
            print('%s: and %d more' % (path, len(differences) - MOST_SHOWN))
    for name, differences, text in itertools.chain([('rod of ten guides', compare_rod(folder), rod_of_ten_guides.TEXT)],
                                                   crosswrap_checks.all_checks(files // 2, seed),
                                                   series_checks.all_checks(files // 2, seed),
                                                   evenness.all_checks(files // 8, seed),
                                                   eye_curves.all_checks(files // 16, seed),
                                                   eye_checks.all_checks(files // 2, seed)):
        passed, failed = passed + (not differences), failed + bool(differences)
        where = name
        if differences and text is not None:
            where = os.path.join(folder, name.replace(' ', '-') + '.lay')
            with open(where, 'w', encoding='utf-8') as file:
                file.write(text)
        for difference in differences[:MOST_SHOWN]:
            print('%s: %s' % (where, difference))
    if not failed:
        os.rmdir(folder)
    print('%d passed, %d failed' % (passed, failed))
    sys.exit(1 if failed else 0)


if __name__ == '__main__':
    main()
