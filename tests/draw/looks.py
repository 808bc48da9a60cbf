"""Colours as pictures show them: names of colours as another program draws them."""
import csv
import json

from checks import ROOT, turnlay
from picture import Raster

SQUARE = 2       # mm


def squares(fills):
    """A picture of so many squares in a row."""
    return (f'<svg xmlns="http://www.w3.org/2000/svg" width="{SQUARE * len(fills)}mm" height="{SQUARE}mm" '
            f'viewBox="0 0 {SQUARE * len(fills)} {SQUARE}">' +
            "".join(f'<rect x="{SQUARE * i}" width="{SQUARE}" height="{SQUARE}" fill="{fill}"/>'
                    for i, fill in enumerate(fills)) + "</svg>")


def check_names(checks, folder):
    """The colours of threads that are given names: as the table says that was read, and as librsvg, which has its own, draws
    these names."""
    with open(ROOT / "tests/published/css_colours.csv", encoding="ascii") as table:
        published = [(row["name"], row["colour"]) for row in csv.DictReader(table)]
    names = [name for name, _ in published]
    threads = "\n".join(f"thread t{i} {{ turns: 67 per cm, colour: {name} }}" for i, name in enumerate(names))
    bands = "\n".join(f"band 9 turns of t{i}" for i in range(len(names)))
    answer = turnlay("plan", "--format", "json", "-", given=f"""edition 1
{threads}
blank tube {{ at 0 mm: 12 mm  at 200 cm: 4 mm }}
rod "Names" on tube {{ at 20 cm {{
{bands}
}} }}
""".encode())
    if not checks.check(answer.code == 0, "threads take names of colours", answer.words()):
        return
    got = [each["colour"].lstrip("#") for each in json.loads(answer.out)["threads"]]
    checks.check(got == [colour for _, colour in published], "the colours of names are the published ones",
                 [(name, colour) for name, colour in zip(names, got) if (name, colour) not in published])
    raster = Raster(folder, squares(names))
    drawn = ["%02x%02x%02x" % raster.at(SQUARE * (i + 0.5), SQUARE / 2) for i in range(len(names))]
    checks.check(drawn == got, "librsvg draws these names in these colours",
                 [each for each in zip(names, got, drawn) if each[1] != each[2]])
