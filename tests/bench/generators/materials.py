"""What the shop has: threads, sizes, spools, blanks, guides."""
from generators.construct import bare, construct, layer, lines, rod, setting, shade


@construct(800)
def threads(n):
    return bare(lines(n, lambda i: f"thread t{i} {{ turns: {60 + i % 9} per cm, colour: #{i % 4096:06x} }}"))


@construct(40)
def threads_each_wound(n):
    return (setting() + lines(n, lambda i: f"thread t{i} {{ turns: 67 per cm, colour: #{i % 4096:06x} }}")
            + rod("at 10 cm {\n" + lines(n, lambda i: f"band 20 turns of t{i}") + "}\n"))


@construct(600)
def threads_by_their_yarn(n):
    return bare(lines(n, lambda i: f"thread y{i} {{ tex: {20 + i % 9}, fibre: nylon, fullness: 75 %, packing: 1.05, preserver: yes, bare: #c0d4e8 }}"))


@construct(600)
def sizes(n):
    return bare(lines(n, lambda i: f"size S{i} {{ diameter: 0.15 mm, uncertainty: {5 + i % 20} % }}\nthread t{i} {{ size: S{i} }}"))


@construct(20)
def pieces_from_spools(n):
    return (setting().replace("thread navy {", "thread navy { spool: 40 m, stock: 100 m, price: 5,")
            + rod(lines(n, lambda i: f"at {10 + i * 5} cm {{ band {100 + i * 37 % 90} turns of navy }}")))


@construct(20)
def stocks_and_spools_of_many_threads(n):
    return (setting() + lines(n, lambda i: f"thread t{i} {{ turns: 67 per cm, spool: 9 m, stock: 30 m, price: 4 }}")
            + rod("at 10 cm {\n" + lines(2 * n, lambda i: f"band 60 turns of t{i % n}") + "}\n"))


VARIEGATED = "thread dusk { turns: 67 per cm, colours: [#4c6a9c, #9db8d6, #dfe9ef], period: 9 cm }\n"


@construct(1000)
def turns_of_a_variegated_thread(n):
    return setting() + VARIEGATED + rod(f"at 10 cm {{ band {n} turns of dusk }}\n")


@construct(20)
def bands_of_a_variegated_thread(n):
    return setting() + VARIEGATED + rod("at 10 cm {\n" + lines(n, lambda i: "band 20 turns of dusk  band 20 turns of navy") + "}\n")


@construct(20)
def variegated_threads(n):
    return (setting() + lines(n, lambda i: f"thread v{i} {{ turns: 67 per cm, colours: [#4c6a9c, #9db8d6, #{i:06x}], period: {5 + i % 7} cm }}")
            + rod("at 10 cm {\n" + lines(n, lambda i: f"band 20 turns of v{i}") + "}\n"))


def tapering(n):
    """A station every 10 mm, and some room behind the last but one."""
    return "  ".join(f"at {i * 10} mm: {14 - i * 8 / n:.4f} mm" for i in range(n)) + f"  at {n * 10 + 90} mm: 6 mm"


@construct(1800)
def stations(n):
    return setting(blank=tapering(n)) + rod(f"at 10 mm {{ band 20 turns of navy }}\nat {n * 9 + 20} mm {{ band 20 turns of mist }}\n")


@construct(100)
def a_long_band_over_many_stations(n):
    return setting(blank=tapering(n)) + rod(f"at 10 mm length: {n * 9} mm {{ band fill of navy }}\n")


@construct(40)
def places_over_many_stations(n):
    return setting(blank=tapering(n)) + rod(lines(n - 2, lambda i: f"at {i * 10 + 2} mm {{ band 20 turns of {shade(i)} }}"))


@construct(600)
def blanks(n):
    return bare(lines(n, lambda i: f"blank b{i} {{ at 0 mm: 12 mm  at {60 + i % 9} cm: 9 mm  at 200 cm: 4 mm }}"))


@construct(400)
def guides(n):
    return bare(lines(n, lambda i: f"guide g{i} {{ foot: [19 mm, 17 mm], gap: 9 mm, width: 2.6 mm, height: 0.{i % 9 + 1} mm, ramp: 6 mm, before: 4 mm }}"))


DOUBLE = "guide double { foot: [19 mm, 19 mm], gap: 9 mm, width: 2.6 mm, height: 0.9 mm, ramp: 6 mm, before: 4 mm }\n"
SINGLE = "guide single { foot: 14 mm, gap: 4 mm, width: 2.2 mm, height: 0.7 mm, ramp: 5 mm, before: 3 mm }\n"


@construct(4)
def guides_of_two_feet(n):
    return setting() + DOUBLE + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm guide: double {{ band 8 turns of mist  band fill of navy }}"))


@construct(4)
def guides_of_two_feet_with_layers_below(n):
    return setting() + DOUBLE + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm guide: double {{ over {{ band fill of navy }} under {{ band fill of foam }} }}"))


@construct(6)
def guides_of_one_foot(n):
    return setting() + SINGLE + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm guide: single {{ under {{ band fill of foam }} over {{ band fill of navy }} }}"))


@construct(12)
def guides_each_of_its_own(n):
    return (setting() + lines(n, lambda i: SINGLE.replace("single", f"single_{i}"))
            + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm guide: single_{i} {{ band fill of navy }}")))


@construct(40)
def colours_by_name(n):
    names = ("navy", "teal", "rebeccapurple", "lightgoldenrodyellow", "own")
    return bare("let own = #22346b\n" + lines(n, lambda i: f"thread y{i} {{ turns: 67 per cm, colour: {names[i % 5]}, "
                                              f"colours: [{names[i % 4]}, {names[(i + 1) % 5]}], period: 9 cm, opacity: 60 % }}"))
