#!/usr/bin/python3
"""Pictures show what lies on top: random crosswraps, unrolled and from the side, as pixels against crosswrap_shows (by
points.c); bands of a thread of several colours against the length wound, worked out here; colours as they look (looks.py); and
how pictures grow."""
import json
import math
import os
import pathlib
import random
import re
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import BUILD, ROOT, Checks, scratch, turnlay
from eye_words import check_eye_words
from looks import check_names, check_opacity
from picture import CASES, MM, TUBE, Raster, Shown
from seen import check_seen
from whole_rod import check_whole_rod

POINTS = str((ROOT / os.environ.get("BUILD", BUILD) / "draw_points").resolve())
COLOURS = {"navy": "22346b", "slate": "4c8a9c", "mist": "9db8f6", "foam": "e8e9e0", "ember": "c8502c", "gold": "d9a411",
           "moss": "2f6b22", "plum": "7a1f6f"}
DUSK, FIRE = ["303a9c", "9d38d6", "dfc9ff"], ["7a1f1f", "f0502c", "f9d441", "301010"]
SAME = 3          # levels of a channel that pixels may be off
PALETTE = [*COLOURS.values(), *DUSK, *FIRE, TUBE]
TINGED = 0.003    # of all points


def head(rng):
    threads = [f"thread {name} {{ turns: {rng.choice((40, 55, 67))} per cm, colour: #{colour} }}"
               for name, colour in COLOURS.items()]
    for name, colours, period in (("dusk", DUSK, rng.choice((21, 90, 130))), ("fire", FIRE, rng.choice((37, 300)))):
        threads.append(f"thread {name} {{ turns: 50 per cm, colours: [{', '.join('#' + each for each in colours)}], "
                       f"period: {period} mm }}")
    bench = f"bench {{ units: mm, ends: pins, left: {rng.choice(('butt', 'tip'))}, rotation: " \
            f"{rng.choice(('toward', 'away'))} }}"
    blank = "blank tube { at 0 mm: %s mm  at 14 cm: %s mm  at 100 cm: 4 mm }" % (
        rng.choice((9, 13, 16.5)), rng.choice((8, 9, 12.5)))
    return "\n".join(["edition 1"] + threads + [bench, blank])


def strands(rng, fills):
    names = list(COLOURS)
    lines = []
    for number in range(rng.randint(1, 5)):
        thread = rng.choice(names[1:] + ["dusk", "fire"])
        if number and rng.random() < 0.15:
            thread = f"spacer({thread})" if thread not in ("dusk", "fire") else "spacer(gold)"
        lines.append(f"strand {rng.randint(1, 6)} of {thread}")
    if fills:
        lines.insert(rng.randint(1, len(lines)), "strand fill of navy")
    return "\n".join("    " + line for line in lines)


def crosswrap(rng, fills):
    """One crosswrap in braces, without its place."""
    kind = rng.choice(("chevron", "chevron", "diamond", "diamond", "spiral"))
    options = [f"starts: {rng.choice((1, 1, 2, 3))}"]
    if kind == "spiral":
        options.append(f"turns: {rng.choice((1.5, 3, 4))} turns")
    else:
        leads = rng.choice(((1, 1), (1, 1), (1, 1), (1, 2), (3, 2)))
        options += [f"crossings: {rng.randint(2, 5)}", f"leads: [{leads[0]}, {leads[1]}]", f"facing: {rng.randint(1, sum(leads))}"]
    if kind == "chevron":
        options.append(f"pointing: {rng.choice(('tip', 'butt'))}")
    return f"{kind} {' '.join(options)} ends: {rng.choice(('12 turns', '3 mm'))} of plum {{\n{strands(rng, fills)}\n}}"


def random_file(rng):
    """The text, and the colour of what lies below."""
    fills = rng.random() < 0.25
    # Where bundles just meet, pixels take a little of what lies below: let it be of one colour with the background.
    below = "whole" if fills else rng.choice(("", "", "half", "whole", "whole"))
    toward = rng.choice(("tip", "butt"))
    length = rng.randint(50, 90)
    mark = 150 if toward == "tip" and rng.random() < 0.5 else 100 if toward == "tip" else 190
    under = {"": "", "whole": "under { band fill of navy }\n", "half": f"under {{ band {length // 2} mm of navy }}\n"}[below]
    upper = f"over {{ {crosswrap(rng, fills)} }}\n"
    place = f"at {mark} mm toward: {toward} length: {length} mm {{\n{under}{upper}}}"
    return f'{head(rng)}\nrod "Random" on tube {{ {place} }}\n', {"": TUBE, "whole": COLOURS["navy"], "half": None}[below]


def rgb(colour):
    return tuple(int(colour[at:at + 2], 16) for at in (0, 2, 4))


def near(got, wanted):
    return max(abs(a - b) for a, b in zip(got, rgb(wanted))) <= SAME


def between(got, one, other):
    return all(min(a, b) - SAME <= level <= max(a, b) + SAME for level, a, b in zip(got, rgb(one), rgb(other)))


def tinged(got, wanted):
    """Where two strands of one colour meet, a pixel keeps at most a quarter of what was painted below them."""
    for other in PALETTE:
        parts = [(level - a) / (b - a) for level, a, b in zip(got, rgb(wanted), rgb(other)) if abs(b - a) > 40]
        part = sum(parts) / len(parts) if parts else 1
        if 0 < part < 0.27 and all(abs(a + part * (b - a) - level) <= 2 * SAME
                                   for level, a, b in zip(got, rgb(wanted), rgb(other))):
            return True
    return False


def draw(path, *options):
    answer = turnlay("draw", *options, path)
    if answer.code != 0:
        raise ValueError(answer.words())
    return answer.out.decode()


def check_case(checks, folder, number):
    rng = random.Random(number)
    for attempt in range(20):     # a bundle may be too wide for its room, or its angle too steep
        text, below = random_file(rng)
        path = pathlib.Path(folder) / "random.lay"
        path.write_text(text)
        answer = turnlay("check", path)
        if answer.code == 0:
            break
    if not checks.check(answer.code == 0, f"case {number}: a crosswrap that can be wound is found", text + answer.words()):
        return 0, 0
    total = [0, 0]
    facing = rng.choice((0, 0, 37.5, 90, 200, 359))
    for side in (False, True):
        scale = rng.choice((1.5, 4))   # single strands are drawn from about 2.5 on
        options = ("--view", "side", "--turn", f"{facing} deg") if side else ("--view", "unrolled")
        svg = draw(path, "--scale", scale, *options)
        away = 1.6 * MM / scale
        clock = facing if side else 0
        done = subprocess.run([POINTS, path, str(number), "4000", str(away), "0.235" if side else "0.498", str(clock)],
                              capture_output=True, text=True, check=True).stdout.splitlines()
        low, high = map(float, done[0].split())
        shown = Shown(svg, "gap", side, clock / 360)
        raster, faults, strands_seen, pale = Raster(folder, svg, shown.box()), [], 0, 0
        for line in done[1:]:
            x, turn, colour = line.split()
            page_x = shown.left + (float(x) - low) / (high - low) * (shown.right - shown.left)
            got = raster.at(page_x, shown.page(page_x, float(turn)))
            strands_seen += colour != "-"
            wanted = below if colour == "-" else colour
            if wanted is None:     # the band below goes on for half the length: either of the two, or its end
                right = between(got, TUBE, COLOURS["navy"])
            else:
                right = near(got, wanted)
            if not right and wanted and tinged(got, wanted):
                pale += 1
            elif not right:
                faults.append(f"at {x} mm, {float(turn) * 360:.1f} deg: {wanted or 'what lies below'}, "
                              f"in the picture {'%02x%02x%02x' % got}")
        name = f"case {number}, {'from the side' if side else 'unrolled'}, scale {scale}"
        checks.check(not faults, f"{name}: what shows is what was laid last", f"{len(faults)} of {len(done) - 1} points\n" +
                     "\n".join(faults[:8]) + "\n" + text)
        checks.check(pale <= TINGED * len(done), f"{name}: few pixels show what was painted below", f"{pale} of {len(done)}")
        checks.check(len(done) > 400, f"{name}: enough points to tell", len(done))
        total = [total[0] + len(done) - 1, total[1] + strands_seen]
    return total


def check_band(checks, folder, sense_words, toward, facing):
    """Bands of one thread of several colours, and a fade: every turn by the length wound."""
    text = f"""edition 1
thread dusk {{ turns: 20 per cm, colours: [#{DUSK[0]}, #{DUSK[1]}, #{DUSK[2]}], period: 77 mm }}
thread navy {{ turns: 20 per cm, colour: #22346b }}
bench {{ units: mm, {sense_words} }}
blank tube {{ at 0 mm: 12 mm  at 100 cm: 4 mm }}
rod "Bands" on tube {{ at 30 cm toward: {toward} {{ band 31 turns of dusk  fade to navy steps: 3  band 5 turns of navy }} }}
"""
    path = pathlib.Path(folder) / "bands.lay"
    path.write_text(text)
    plan = turnlay("plan", "--format", "json", path)
    checks.check(plan.code == 0, "bands of several colours can be planned", plan.words())
    runs = json.loads(plan.out)["rods"][0]["places"][0]["layers"][-1]["runs"]
    sense = -1 if ("butt" in sense_words) == ("toward" in sense_words) else 1
    for side in (False, True):
        options = ("--view", "side", "--turn", str(facing)) if side else ("--view", "unrolled")
        svg = draw(path, "--scale", "6", *options)
        clock = facing if side else 0
        bands = [(run, Shown(svg, f"dusk, {run['turns']} turn", side, clock / 360)) for run in runs
                 if [each["thread"] for each in run["strands"]] == ["dusk"]]
        low, high = (tuple(map(which, zip(*(shown.box() for _, shown in bands)))) for which in (min, max))
        raster, wound, faults, seen = Raster(folder, svg, low[:2] + high[2:]), 0, [], 0
        for run, shown in bands:
            length = run["strands"][0]["wound_mm"]
            faults_here, seen_here = check_run(shown, raster, run, length, wound, side, clock, sense)
            faults, seen = faults + faults_here, seen + seen_here
            wound += length
        checks.check(not faults, f"bands, {sense_words}, {toward}, {'side' if side else 'unrolled'} {facing}: colours "
                     "follow from the length wound", "\n".join(faults[:8]))
        checks.check(seen > 1500, "bands: enough points to tell", seen)


def check_run(shown, raster, run, length, wound, side, facing, sense):
    turns, start, end = run["turns"], run["start_mm"], run["end_mm"]
    width = (end - start) / turns
    rng = random.Random(turns)

    def colour(x, turn):
        part = sense * turn - math.floor(sense * turn)
        made = round((x - start) / width - part) + part      # the turn whose helix passes nearest
        if not 0 <= made < turns:
            return None
        return DUSK[int((wound + made * length / turns) / (77 / 3)) % 3]

    faults, seen = [], 0
    for _ in range(4000 if turns > 5 else 300):
        x = start + (end - start) * rng.uniform(0.01, 0.99)
        off = rng.uniform(-0.22, 0.22) if side else rng.uniform(-0.49, 0.49)
        turn = facing / 360 + off
        around = [colour(x + dx * 0.05, turn + dt * 0.008) for dx in (-1, 0, 1) for dt in (-1, 0, 1)]
        if len(set(around)) > 1 or around[0] is None:
            continue
        page_x = shown.left + (x - start) * 6 if width > 0 else shown.right - (start - x) * 6
        got = raster.at(page_x, shown.page(page_x, turn))
        seen += 1
        if not near(got, around[0]):
            faults.append(f"at {x:.3f} mm, {turn * 360:.1f} deg: {around[0]}, in the picture {'%02x%02x%02x' % got}")
    return faults, seen


def plain_file(path, strands_each, lines, crossings, length=900, starts=1, kind="chevron"):
    names = ["navy", "foam", "ember", "gold", "moss"]
    threads = "\n".join(f"thread {name} {{ turns: 67 per cm, colour: #{COLOURS[name]} }}" for name in names)
    body = "\n".join(f"strand {strands_each} of {names[i % 5]}" for i in range(lines))
    path.write_text(f"""edition 1
{threads}
bench {{ units: mm, ends: pins }}
blank tube {{ at 0 mm: 14 mm  at 200 cm: 9 mm }}
rod "Plain" on tube {{ at 10 cm length: {length} mm {{
{kind} crossings: {crossings} starts: {starts} ends: 12 turns of navy {{
{body}
}} }} }}
""")
    return path


def strand_bytes(svg):
    return sum(len(group) for group in re.findall(r'<g [^>]*class="run strands".*?</g>', svg, re.S))


def check_growth(checks, folder):
    path = pathlib.Path(folder) / "growth.lay"
    most = {"unrolled": 110, "side": 110}      # bytes a strip and turn, as src/draw/drawing.h promises
    for view, limit in most.items():
        def size(*given, **named):
            return strand_bytes(draw(plain_file(path, *given, **named), "--view", view))
        few, many = size(1, 3, 20), size(40, 3, 20)
        checks.check(many < 1.3 * few, f"{view}: forty times the strands take no more bytes", f"{few}, {many}")
        table = {(lines, crossings): size(2, lines, crossings) for lines in (2, 4, 8) for crossings in (10, 20, 40)}
        for (lines, crossings), got in table.items():
            each = got / (2 * lines * (crossings + 1))
            print(f"{view}: {lines} lines, {crossings} crossings: {got} bytes, {each:.1f} a strip and turn")
            checks.check(each < limit + 120 / crossings, f"{view}: {lines} lines, {crossings} crossings: small", f"{each:.1f} bytes")
        for lines in (2, 4, 8):
            first, second = (table[lines, 20] - table[lines, 10]) / 10, (table[lines, 40] - table[lines, 20]) / 20
            checks.check(abs(first - second) < 0.15 * first, f"{view}: {lines} lines: bytes grow with crossings", (first, second))
        grown = [table[lines, 40] / lines for lines in (2, 4, 8)]
        checks.check(max(grown) < 1.15 * min(grown), f"{view}: bytes grow with lines", grown)
    woven = strand_bytes(draw(plain_file(path, 20, 3, 40), "--view", "side", "--scale", 4))
    checks.check(woven < 1500 * 350, "single strands are not shown where there would be too many", woven)


def check_blended(checks, folder):
    """Far more changes of colour than can be looked at: the mean, and a note."""
    path = pathlib.Path(folder) / "blended.lay"
    path.write_text("""edition 1
thread dusk { turns: 67 per cm, colours: [#000000, #ffffff], period: 2 mm }
blank tube { at 0 mm: 14 mm  at 200 cm: 9 mm }
rod "Blended" on tube { at 10 cm length: 90 cm { band fill of dusk } }
""")
    svg = draw(path, "--view", "side")
    checks.check("drawn in their mean" in svg, "a note says that colours are blended")
    checks.check(len(svg) < 60000, "a picture of very many changes of colour stays small", len(svg))
    checks.check('fill="#bcbcbc"' in svg, "the mean is that of light: half of white's is #bcbcbc")


def main():
    checks = Checks()
    with scratch() as folder:
        points, strands_seen = map(sum, zip(*(check_case(checks, folder, number) for number in range(CASES))))
        print(f"{points} points, {strands_seen} on strands")
        checks.check(strands_seen > 0.3 * points, "a good part of the points lies on strands", (points, strands_seen))
        for words in ("left: butt, rotation: toward", "left: tip, rotation: toward"):
            for toward, facing in (("tip", 0), ("butt", 130)):
                check_band(checks, folder, words, toward, facing)
        check_names(checks, folder)
        check_opacity(checks, folder)
        check_growth(checks, folder)
        check_blended(checks, folder)
        check_whole_rod(checks, pathlib.Path(folder), draw)
        check_seen(checks, folder)
        check_eye_words(checks)
    checks.finish()


main()
