"""The curves of the eye's view against a second working out of grammar/reference.md, "Pictures": for each kind of eyes which fades have
one, how light they are along it, its numbers and marks. Random files, from the plan's runs alone."""
import math
import os
import re
import subprocess
import xml.etree.ElementTree

from crosswrap_cases import plan
from evenness import EYES, NEAR, fades, lab, made, mixed, seen_by

SVG = '{http://www.w3.org/2000/svg}'
SCALE = 2       # so that every wrap is in one row
SEEN_PEN, ONE_HIGH = '.3', 0.3
CLOSE = 0.02    # of a lightness; coordinates of pictures have three digits at least


def picture(text, eyes):
    done = subprocess.run([os.environ['TURNLAY'], 'draw', '--view', 'eye', '--scale', str(SCALE), '--eyes', eyes, '-'], input=text, capture_output=True, text=True,
                          check=True)
    return xml.etree.ElementTree.fromstring(done.stdout)


def points(data):
    """Of a path with straight edges."""
    x = y = 0.0
    for letter, rest in re.findall(r'([mlhv])([^a-zA-Z]*)', data):
        numbers = [float(each) for each in re.findall(r'-?\d*\.?\d+', rest)]
        steps = {'h': [(each, 0) for each in numbers], 'v': [(0, each) for each in numbers]}.get(
            letter, list(zip(numbers[::2], numbers[1::2])))
        for one, other in steps:
            x, y = x + one, y + other
            yield x, y


class Course:
    """A fade that has a curve: (axial position, lightness) of its turns from the butt on; its jump."""

    def __init__(self, where, fade, lights, jump):
        way = 1 if fade.toward_tip else -1
        self.where, self.jump = where, jump
        self.turns = sorted((way * x, light) for x, light in zip(fade.middles, lights))

    def is_drawn_by(self, curve):
        """Of very fine turns some alone are drawn, with the first and the last."""
        turns, off = iter(self.turns), []
        for x, y in curve:
            along = self.turns[0][0] + (x - curve[0][0]) / SCALE
            light = next((light for at, light in turns if abs(at - along) < CLOSE), None)
            if light is None:
                return False
            off.append(y + light * ONE_HIGH)
        return max(off) - min(off) < CLOSE * ONE_HIGH and abs(along - self.turns[-1][0]) < CLOSE


def expected(made_plan, text, eyes):
    eye = made_plan['eye']
    blur = eye['far_mm'] * math.tan(math.radians(eye['sight_minutes'] / 60))
    for where, _, fade, old, new in fades(made_plan, text):
        ends = [lab(seen_by(eyes, light))[0] for light in (old, new)]
        if abs(ends[0] - ends[1]) >= eye['alike']:
            lights = [lab(seen_by(eyes, mixed(old, new, share)))[0] for share in fade.seen(blur)]
            yield Course(where, fade, lights, fade.looks(eye, old, new, eyes)[0]['jump'])


def differences(made_plan, text, eyes):
    root = picture(text, eyes)
    drawn = [sorted(points(path.get('d'))) for path in root.iter(f'{SVG}path') if path.get('stroke-width') == SEEN_PEN]
    words = [each.text.strip() for each in root.iter(f'{SVG}text')]
    said = sorted(float(each.split()[-1]) for each in words if each.startswith('line, jump '))
    courses = list(expected(made_plan, text, eyes))
    if len(drawn) != len(courses):
        yield f'{eyes}: {len(drawn)} curves, not {len(courses)}'
    for course in courses:
        curves = [curve for curve in drawn if course.is_drawn_by(curve)]
        if not curves:
            yield f'{eyes}, {course.where}: no curve is as light as {course.turns[:3]} ... {course.turns[-3:]}'
        for _, light in (course.turns[0], course.turns[-1]):
            if abs(light % 1 - 0.5) > CLOSE and f'{light:.0f}' not in words:
                yield f'{eyes}, {course.where}: {light:.0f} is not said'
    limit = made_plan['eye']['jump']
    lines = sorted(course.jump for course in courses if course.jump > limit)
    sure = all(abs(course.jump - limit) > NEAR['jump'] for course in courses)
    if sure and (len(said) != len(lines) or any(not -NEAR['jump'] <= a - b <= 0.01 + NEAR['jump'] for a, b in zip(said, lines))):
        yield f'{eyes}: lines of {said}, not of {lines}'


def all_checks(files, seed):
    """(name, what differs, the file's text) of each."""
    curves = lines = 0
    for number in range(files):
        name = 'curves %s.%d' % (seed, number)
        text = made(name)
        made_plan, wrong = plan(text, 'curves.lay')
        if not made_plan:
            yield name, [wrong], text
            continue
        found = [list(expected(made_plan, text, eyes)) for eyes in EYES]
        curves += sum(map(len, found))
        lines += sum(course.jump > made_plan['eye']['jump'] for courses in found for course in courses)
        yield name, [each for eyes in EYES for each in differences(made_plan, text, eyes)], text
    yield 'curves are found', [] if min(curves / 6, lines) > files else ['%d curves, %d lines only' % (curves, lines)], None
