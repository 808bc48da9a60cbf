"""What reading and checking a large file takes, in instructions and in memory, a byte of its text."""
from checks import BUILD, PROGRAM, ROOT
from counting import count_function, measured, run

TEXT_TO_TREE = 65       # instructions a byte
TREE_MEMORY = 7         # bytes touched an input byte after text to tree, with the text's copy and tokens
CHECK_MEMORY = 12       # after a whole check
RUN_MEMORY = 1000       # bytes a run, of check

READER = ROOT / BUILD / "reader"
READER = READER if READER.exists() else None


def read_in_process(path):
    """{figure: number} as reader.c prints them: a name and a number a line."""
    return {name: float(value) for name, value in (line.split() for line in run([READER, path, 1])[0].splitlines())}


def rows(folder, path, program=PROGRAM):
    """{row: instructions} of a file of 10 MB."""
    total, reading = count_function(folder, "syntax_read", program, "check", path)
    return {"10 MB, text to tree": reading, "10 MB, check": total}


def show(goals, folder, path, found):
    size = path.stat().st_size
    goals.row("10 MB, text to tree: instructions a byte", found["10 MB, text to tree"] / size, most=TEXT_TO_TREE)
    goals.row("10 MB, check: instructions a byte", found["10 MB, check"] / size)
    base = measured(3, PROGRAM, "check", ROOT / "examples/first.lay")[1]
    resident = (measured(3, PROGRAM, "check", path)[1] - base) * 1024
    goals.row("10 MB, check: bytes of memory an input byte", resident / size, most=CHECK_MEMORY)
    if READER:
        goals.row("10 MB, text to tree: bytes of memory an input byte", read_in_process(path)["resident"] / size, most=TREE_MEMORY)
    runs = 40_000
    long_rod = folder / "long_rod.lay"
    long_rod.write_text("edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 900 m: 4 mm }\n"
                        f'rod "Long" on tube {{ at 10 cm {{ repeat {runs // 2} {{ band 8 turns of navy  band 9 turns of mist }} }} }}\n')
    goals.row(f"{runs:,} runs, check: bytes of memory a run", (measured(3, PROGRAM, "check", long_rod)[1] - base) * 1024 / runs, most=RUN_MEMORY)
