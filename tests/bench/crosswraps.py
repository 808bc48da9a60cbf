"""Crosswraps of 400 passes."""
from checks import PROGRAM
from counting import count, measured

FOUR_HUNDRED_THREADS = 100      # million instructions for their picture


def crosswrap(threads, strands, crossings=60):
    """A chevron of one start whose crossings lie 13 mm apart, on a blank long enough. strands: lines of `strand`."""
    return ("edition 1\n" + "".join(f"thread {name} {{ diameter: 0.02 mm, colour: {colour} }}\n" for name, colour in threads)
            + "bench { units: mm, flattest: 2 deg }\nblank tube { at 0 mm: 14 mm  at 9 m: 8 mm }\n"
            f'rod "Crossed" on tube {{ at 10 cm length: {crossings * 13 + 2} mm {{ chevron crossings: {crossings}'
            f" ends: 40 turns of {threads[0][0]} {{ {'  '.join(strands)} }} }} }}\n")


def of_few_threads(passes):
    return crosswrap([("navy", "#22346b"), ("mist", "#9db8d6")], [f"strand {passes // 2} of navy", f"strand {passes // 2} of mist"])


def each_of_its_thread(passes):
    return crosswrap([(f"t{i}", f"#{i * 324679 % 0x1000000:06x}") for i in range(passes)], [f"strand 1 of t{i}" for i in range(passes)])


def rows(folder, program=PROGRAM):
    """{row: instructions}"""
    few, many = folder / "few.lay", folder / "many.lay"
    few.write_text(of_few_threads(400))
    many.write_text(each_of_its_thread(400))
    found = {f"400 passes of two threads, {verb}": count(program, verb, few) for verb in ("check", "plan", "sheet", "draw")}
    found["400 passes of 400 threads, draw"] = count(program, "draw", many)
    return found


def show(goals, folder, found):
    for name, instructions in found.items():
        goals.row(f"{name}: million instructions", instructions / 1e6, most=FOUR_HUNDRED_THREADS if "400 threads" in name else None)
    goals.row("400 passes of 400 threads, draw: milliseconds, best of 20", measured(20, PROGRAM, "draw", folder / "many.lay")[0] / 1000)
