#!/usr/bin/python3
"""Pages have limits: at each a page is made, one above it is a finding that names the limit, and whatever is asked for
takes no more than 1 GiB and some seconds. A hundred times the largest of the examples is within all of them, on
paper twenty times."""
import os
import pathlib
import random
import re
import resource
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import PROGRAM, ROOT, Checks, scratch

MEMORY = 1 << 30
SECONDS = 10        # of a processor; some 30 G instructions
LIMITS = dict(re.findall(r"^#define LIMIT_(\w+) \(?(\d+)", (ROOT / "src/base/limits.h").read_text(), re.M))
PAGE_BYTES = int(LIMITS["PAGE_BYTES"]) << 20
BENCH_STEPS = int(LIMITS["BENCH_STEPS"])
PIXELS, PIXEL_ROWS = int(LIMITS["PIXELS"]), int(LIMITS["PIXEL_ROWS"])
EVERY_PAGE = ["check", "check --findings json", "need", "need --format json", "need --format csv", "plan", "plan --format json",
              "plan --format csv", "sheet", "sheet --from 20000", "sheet --format html", "sheet --format json", "draw", "draw --view presentation", "draw --view side", "draw --view unrolled", "draw --view eye", "shades", "shades --format json", "shades --format svg",
              "gather"]
SHOP = """edition 1
thread navy { turns: 67 per cm }
thread %s { turns: 67 per cm }
blank tube { at 0 m: 12 mm  at 1600 m: 4 mm }
"""


def bounded():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def run(words, source, output):
    """Exit code, and what was said; the page is left in output."""
    with open(output, "wb") as page:
        done = subprocess.run([PROGRAM, *words.split(), source], stdout=page, stderr=subprocess.PIPE, preexec_fn=bounded,
                              stdin=subprocess.DEVNULL, timeout=600, check=False)
    return done.returncode, done.stderr.decode(errors="replace")


def refused(checks, name, answer, limit):
    """The finding names the limit, and the exit code says that there are findings."""
    code, said = answer
    checks.check(code == 1 and re.search(f": error: .*{re.escape(limit)}.* \\(T906\\)$", said, re.M), name, f"exit code {code}\n{said[-2000:]}")


def many(example, times):
    """The example with each of its rods so many times, under other titles."""
    text = (ROOT / "examples" / example).read_text(encoding="utf-8")
    start = re.search(r"^rod ", text, re.M).start()
    rods = [re.sub(r'^rod "([^"]*)"', rf'rod "\1 {i}"', text[start:], flags=re.M) for i in range(times)]
    return text[:start] + "\n".join(rods)


def largest_example(checks, folder):
    source, page = folder / "tides.lay", folder / "page"
    source.write_text(many("tides.lay", 100), encoding="utf-8")
    for words in EVERY_PAGE:
        code, said = run(words, source, page)
        checks.check(code == 0, f"a hundred times the largest example: {words}", f"exit code {code}\n{said[-1000:]}")
    if has_pdf():
        source.write_text(many("tides.lay", 20), encoding="utf-8")
        code, said = run("sheet --format pdf", source, page)
        checks.check(code == 0 and page.stat().st_size > 1e6, "twenty times the largest example on paper",
                     f"exit code {code}\n{said[-1000:]}")


def has_pdf():
    return pathlib.Path(PROGRAM + "-pdf").exists()


def pixels_of_a_picture(checks, folder):
    """The widest picture of so many pixels, worked out from the drawing's size; and pictures of too many rows."""
    source, page = folder / "pixels.lay", folder / "page"
    source.write_text((SHOP % "mist") + 'rod "R" on tube { at 20 cm { band 20 turns of navy  band 20 turns of mist } }\n', encoding="utf-8")
    run("draw", source, page)
    width, height = map(float, re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', page.read_text(encoding="utf-8")).groups())
    most = max(each for each in range(1, 20000) if each * max(1, int(each * height / width + 0.5)) <= PIXELS)
    answer = run(f"draw --format png --width {most}", source, page)
    checks.check(answer[0] == 0 and page.stat().st_size > 1e5, f"a picture of as many pixels as may be, {most} wide", answer)
    refused(checks, "a picture one pixel wider", run(f"draw --format png --width {most + 1}", source, page), f"{PIXELS} pixels")
    places = "".join(f"at {i * 30} mm {{ band 20 turns of navy }}\n" for i in range(2000))
    source.write_text((SHOP % "mist") + 'rod "R" on tube {\n' + places + "}\n", encoding="utf-8")
    refused(checks, "a picture of too many rows", run("draw --view side --format png --width 300", source, page), f"{PIXEL_ROWS} pixels high")
    answer = run("draw --format png", source, page)
    checks.check(answer[0] == 0, "where no width is said it is as wide as can be", answer)


def plan_of_size(name, title):
    """A plan of a thousand runs of a thread of this name, written once for every run and more; the title once."""
    return (SHOP % name) + f'about {{ title: "{title}" }}\n' + 'rod "R" on tube { at 20 cm { repeat 500 {' \
        + f" band 8 turns of {name} band 8 turns of navy" + " } } }\n"


def bytes_of_a_page(checks, folder):
    source, page = folder / "names.lay", folder / "page"

    def size(name, title):
        source.write_text(plan_of_size("x" * name, "y" * title), encoding="utf-8")
        answer = run("plan --format json", source, page)
        return answer, page.stat().st_size

    (_, small), (_, wider) = size(100, 10), size(200, 10)
    name = 100 + (PAGE_BYTES - small) // ((wider - small) // 100) - 10
    title = 10 + PAGE_BYTES - size(name, 10)[1]
    answer, length = size(name, title)
    checks.check(answer[0] == 0 and length == PAGE_BYTES, "a page as large as may be", f"{length}\n{answer[1][-1000:]}")
    refused(checks, "a page of one byte more", size(name, title + 1)[0], f"{PAGE_BYTES >> 20} MiB")
    checks.check(run("need", source, page)[0] == 0, "other pages of that file are made")


def steps_of_a_sheet(checks, folder):
    source, page = folder / "steps.lay", folder / "page"

    def steps(coats):
        source.write_text((SHOP % "mist") + f"bench {{ measure: 20 turns, coats: {coats} }}\n"
                          + 'rod "R" on tube { at 20 cm { band 1747500 turns of navy } }\n', encoding="utf-8")
        return run("sheet --depth actions", source, page)

    def shown():
        return len(re.findall(r"^\[ \] +\d+(?:\.\d+)?  ", page.read_text(), re.M))

    steps(1)
    coats = 1 + BENCH_STEPS - shown()
    answer = steps(coats)
    checks.check(answer[0] == 0 and shown() == BENCH_STEPS, "as many actions as may be", answer)
    refused(checks, "one action more", steps(coats + 1), f"{BENCH_STEPS} actions")
    refused(checks, "with a width measured", run("sheet --measured 5=6mm", source, page), f"{BENCH_STEPS} actions")
    checks.check(run("check", source, page)[0] == 0, "a file of so many steps is as it should be")


# Files without measure: what they hold, the pages they are refused, and the limit that is named.
HOSTILE = {
    "ten million turns, each measured": (
        SHOP % "mist" + 'bench { measure: 20 turns, pack: 20 turns }\nrod "R" on tube { at 0 m { band 10000000 turns of navy } }\n',
        {"sheet": "actions", "sheet --format html": "actions", "sheet --format json": "actions", "sheet --format pdf": "actions"}),
    "as many runs as may be": (
        SHOP % "mist" + 'rod "R" on tube { at 20 cm { repeat 32768 { band 8 turns of navy  band 8 turns of mist } } }\n',
        {"sheet": "actions", "sheet --format html": "actions", "sheet --format json": "actions", "sheet --format pdf": "actions"}),
    "half as many": (
        SHOP % "mist" + 'rod "R" on tube { at 20 cm { repeat 12000 { band 8 turns of navy  band 8 turns of mist } } }\n',
        {"sheet --format json": "MiB", "sheet --format pdf": "letters and points"}),
    "a name as long as a book": (
        (SHOP % ("x" * 300000)) + 'rod "R" on tube { at 20 cm { repeat 700 { band 8 turns of navy  band 8 turns of '
        + "x" * 300000 + " } } }\n",
        {"plan": "MiB", "plan --format json": "MiB", "plan --format csv": "MiB", "sheet": "MiB of memory",
         "sheet --format html": "MiB of memory", "sheet --format json": "MiB of memory", "sheet --format pdf": "MiB of memory"}),
    "names in seven scripts": (
        (SHOP % ("a\u0628\u4e00\u0915\u0430\u0e01\u05d0" * 200))
        + 'rod "R" on tube { at 20 cm { repeat 100 { band 8 turns of navy  band 8 turns of '
        + "a\u0628\u4e00\u0915\u0430\u0e01\u05d0" * 200 + " } } }\n",
        {"sheet --format pdf": "letters and points"}),
    "thirty thousand rods": (
        SHOP % "mist" + "".join(f'rod "{i}" on tube {{ at 20 cm {{ band 20 turns of navy }} }}\n' for i in range(30000)),
        {"sheet": "actions", "sheet --format html": "actions", "sheet --format json": "actions", "sheet --format pdf": "actions"}),
}


def threads_to_choose(checks, folder):
    """Each is compared with each; between two of many more only those that lie there are."""
    source, page = folder / "shades.lay", folder / "page"
    most, chance = int(LIMITS["SHADES"]), random.Random(14)

    def shop(count, name="t"):
        colours = [f"{name}{i} {{ turns: 67 per cm, colour: #{chance.randrange(1 << 24):06x} }}" for i in range(count)]
        source.write_text("edition 1\n" + "".join(f"thread {each}\n" for each in colours), encoding="utf-8")

    kinds = ["", " --format json", " --format svg"]
    for name, suffix in (("names of one letter", ""), ("long names", "x" * 2000)):
        shop(most, f"t{suffix}")
        for kind in kinds:
            answer = run("shades" + kind, source, page)
            checks.check(answer[0] == 0, f"as many threads as are compared, {name}: shades{kind}", answer[1][-1000:])
        shop(most + 1, f"t{suffix}")
        for kind in kinds:
            refused(checks, f"one thread more, {name}: shades{kind}", run("shades" + kind, source, page), f"{most} threads")
    shop(20 * most)
    for kind in kinds:
        answer = run(f"shades --between t0,t1{kind}", source, page)
        checks.check(answer[0] == 0, f"between two of {20 * most} threads: shades{kind}", answer[1][-1000:])
    source.write_text("edition 1\n" + "".join(f"thread t{i} {{ turns: 67 per cm, colour: #808080 }}\n" for i in range(most)), encoding="utf-8")
    for kind in kinds:
        answer = run("shades" + kind, source, page)
        checks.check(answer[0] == 0, f"as many threads of one colour: shades{kind}", answer[1][-1000:])


def hostile(checks, folder):
    source, page = folder / "hostile.lay", folder / "page"
    for name, (text, refusals) in HOSTILE.items():
        source.write_text(text, encoding="utf-8")
        for words in EVERY_PAGE + (["sheet --format pdf", "draw --format png"] if has_pdf() else []):
            answer = run(words.replace("20000", "2"), source, page)
            limit = refusals.get(words.replace(" --from 20000", ""))
            if limit:
                refused(checks, f"{name}: {words}", answer, limit)
            else:
                checks.check(answer[0] == 0, f"{name}: {words}", f"exit code {answer[0]}\n{answer[1][-1000:]}")


def main():
    checks = Checks()
    with scratch() as folder:
        for part in (largest_example, bytes_of_a_page, steps_of_a_sheet, threads_to_choose, hostile):
            part(checks, pathlib.Path(folder))
        if has_pdf():
            pixels_of_a_picture(checks, pathlib.Path(folder))
        else:
            checks.skip("limits of a PDF and of a PNG", "they are not built")
    checks.finish()


main()
