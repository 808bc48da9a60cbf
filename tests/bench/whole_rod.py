"""A rod of nine guides through every page. The file and what it uses stand beside this one, so that the figures mean the
same whatever becomes of the example."""
from checks import PROGRAM, ROOT
from counting import count, measured

WHOLE_ROD = ROOT / "tests/bench/whole_rod.lay"
PAGES = [["check"], ["plan"], ["plan", "--format", "csv"], ["plan", "--format", "json"], ["need"], ["sheet"],
         ["sheet", "--format", "html"], ["sheet", "--format", "json"], ["draw"], ["draw", "--view", "side"], ["draw", "--view", "unrolled"], ["gather"]]
PDF = ["sheet", "--format", "pdf"]
MOST = {"sheet": 13, "draw": 12, "draw --view side": 8, "sheet --format html": 20, "sheet --format json": 30, "sheet --format pdf": 1200}     # million instructions
ONE_PAGE = 2            # milliseconds for a file of one page


def rows(program=PROGRAM):
    """{row: instructions}"""
    found = {f"whole rod, {' '.join(page)}": count(program, *page, WHOLE_ROD) for page in PAGES}
    pdf = f"{program}-pdf"
    try:
        found[f"whole rod, {' '.join(PDF)}"] = count(pdf, *PDF, "-o", "/dev/null", WHOLE_ROD)
    except SystemExit:
        print(f"whole rod, {' '.join(PDF)}: left out, {pdf} is not there")
    return found


def show(goals, found):
    for name, instructions in found.items():
        goals.row(f"{name}: million instructions", instructions / 1e6, most=MOST.get(name.partition(", ")[2]))
    for file, page, most in ((WHOLE_ROD, "check", None), (WHOLE_ROD, "sheet", None), (ROOT / "examples/first.lay", "check", ONE_PAGE),
                             (ROOT / "examples/first.lay", "sheet", ONE_PAGE)):
        goals.row(f"{file.stem}, {page}: milliseconds, best of 20", measured(20, PROGRAM, page, file)[0] / 1000, most=most)
