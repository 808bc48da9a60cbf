"""Rods, places, layers, and the bench they are worked at."""
from generators.construct import AWAY, construct, layer, lines, rod, setting, shade


@construct(15)
def rods(n):
    return setting() + lines(n, lambda i: rod("at 10 cm { band 20 turns of navy  band 20 turns of mist }\n", title=f"Rod {i}"))


@construct(20)
def rods_each_on_its_blank(n):
    return setting() + lines(n, lambda i: f"blank b{i} {{ at 0 mm: 12 mm  at {60 + i % 9} cm: 9 mm  at 200 cm: 4 mm }}\n"
                             + rod("at 10 cm { band 20 turns of navy }\n", title=f"Rod {i}", blank=f"b{i}"))


@construct(20)
def places(n):
    return setting() + rod(lines(n, lambda i: f"at {(i + 1) * 2} cm {{ band 20 turns of {shade(i)} }}"))


@construct(20)
def places_worked_from_the_tip(n):
    return (setting(bench="units: mm, hand: 99 m, order: tip, left: tip, rotation: away")
            + rod(lines(n, lambda i: f"at {(i * 7919 % n + 1) * 2} cm from: tip toward: butt {{ band 20 turns of {shade(i)} }}")))


@construct(20)
def places_from_the_butt_written_in_any_order(n):
    return setting(bench="units: mm, hand: 99 m, order: butt") + rod(lines(n, lambda i: f"at {(i * 7919 % n + 1) * 2} cm {{ band 20 turns of {shade(i)} }}"))


@construct(15)
def guides_round_the_blank(n):
    return (setting() + "guide single { foot: 14 mm, gap: 4 mm, width: 2.2 mm, height: 0.7 mm, ramp: 5 mm, before: 3 mm }\n"
            + rod(lines(n, lambda i: f"at {(i + 1) * 5} cm angle: {i * 7 % 360 + 1} deg guide: single {{ band fill of {shade(i)} }}")))


@construct(30)
def places_between_as_many_stations(n):
    return (setting(blank="  ".join(f"at {i * 2} cm: {14 - 6 * i / (n + 2):.6f} mm" for i in range(n + 3)))
            + rod(lines(n, lambda i: f"at {(i + 1) * 2} cm {{ band 20 turns of {shade(i)} }}")))


@construct(20)
def places_by_a_loop(n):
    return setting() + rod(f"for i in 1 to {n} {{ at i * 2 cm {{ band 20 turns of navy }} }}\n")


@construct(20)
def places_by_calls_of_a_pattern(n):
    return (setting() + "pattern wrap(mark: length) { at mark { band 20 turns of navy } }\n"
            + rod(lines(n, lambda i: f"wrap({(i + 1) * 2} cm)")))


@construct(10)
def layers_by_calls_of_a_pattern(n):
    return (setting() + "pattern coats() { under { band 20 turns of navy } over { band 20 turns of mist } }\n"
            + rod(lines(n, lambda i: f"at {(i + 1) * 2} cm {{ coats() }}")))


@construct(20)
def rows_of_a_series(n):
    return setting() + rod("series {\n" + lines(n, lambda i: f"at {(i + 1) * 2} cm") + "band 20 turns of navy\n}\n")


@construct(20)
def rows_of_a_list(n):
    return setting() + rod(f"series {{ at [{', '.join(f'{(i + 1) * 2} cm' for i in range(n))}]  band 20 turns of navy }}\n")


@construct(10)
def rows_of_two_feet_that_read_what_is_here(n):
    return (setting() + "guide ring { foot: [19 mm, 19 mm], gap: 9 mm }\n"
            + rod(f"series {{\nfor i in 1 to {n} {{ at i * 10 cm: ring }}\nlet wide = here.foot / 2 + here.number / here.count * 1 mm\n"
                  "let more = wide + wide\nif here.diameter > 1 mm { band wide of navy }\n}\n"))


@construct(20)
def rows_with_braces_of_their_own(n):
    return setting() + rod("series {\nlet wide = here.number * 0 turns + 20 turns\n"
                           + lines(n, lambda i: f"at {(i + 1) * 2} cm {{ band wide of {shade(i)} }}") + "}\n")


@construct(10)
def series_of_a_rod(n):
    return setting() + rod(lines(n, lambda i: f"series length: 9 mm {{ at {(i + 1) * 4} cm at {(i + 1) * 4 + 2} cm  band fill of {shade(i)} }}"))


@construct(20)
def places_by_rule(n):
    return setting() + rod(f"series first: 10 cm last: {10 + n * 4} cm count: {n + 1} {{ band 20 turns of navy }}\n")


SECTIONS = "blank low { at 0 mm: 14 mm  at 400 m: 9 mm }\nblank high { at 0 mm: 9.4 mm  at 400 m: 5 mm }\n"


@construct(15)
def rods_of_two_sections(n):
    return setting() + SECTIONS + lines(n, lambda i: rod("at 10 cm { band 20 turns of navy }\nat 500 m { band 20 turns of mist }\n",
                                                         title=f"Rod {i}", blank="[low, high] overlap: 6 cm"))


@construct(20)
def places_on_two_sections_by_turns(n):
    return (setting() + SECTIONS
            + rod(lines(n, lambda i: f"at {(i + 1) * 2 + i % 2 * 50000} cm {{ band 20 turns of {shade(i)} }}"), blank="[low, high] overlap: 6 cm"))


@construct(16, most=32)
def sections_of_a_rod(n):
    return (setting() + lines(n, lambda i: f"blank b{i} {{ at 0 mm: {140 - i}/10 mm  at 40 cm: {138 - i}/10 mm }}")
            + rod(lines(n, lambda i: f"at {(i + 1) * 400 - 200} mm {{ band 20 turns of {shade(i)} }}"),
                  blank="[" + ", ".join(f"b{i}" for i in range(n)) + "]"))


@construct(15)
def rods_each_of_its_thread(n):
    return (setting() + lines(n, lambda i: f"thread t{i} {{ turns: 67 per cm }}")
            + lines(n, lambda i: rod(f"at 10 cm {{ band 20 turns of t{i}  band 20 turns of mist }}\n", title=f"Rod {i}")))


@construct(20)
def places_on_a_wrap(n):
    return (setting(bench=f"units: mm, hand: 99 m, ends: pins, {AWAY}")
            + rod(f"at 5 cm length: {n * 20 + 40} mm {{ chevron crossings: {n + 1} ends: 20 turns of navy {{ strand 4 of mist }} }}\n"
                  + lines(n, lambda i: f"at {70 + i * 20} mm {{ band 20 turns of {shade(i)} }}")))


@construct(10)
def layers_on_many_places(n):
    return setting() + rod(lines(n, lambda i: f"at {(i + 1) * 6} cm length: 40 mm {{ under {{ band fill of navy }} over offset: 5 mm length: 30 mm {{ band fill of mist }} over {{ band 20 turns of foam }} }}"))


@construct(20, most=64)
def many_layers_on_a_place(n):
    return setting() + rod("at 10 cm length: 40 mm {\n" + lines(n, lambda i: f"over {{ band fill of {shade(i)} }}") + "}\n")


@construct(10)
def steps_with_every_habit(n):
    return (setting(bench="units: in, hand: 50 cm, measure: 20 turns, pack: 10 turns, seal: yes, lock: yes, coats: 3")
            .replace("thread mist {", "thread mist { preserver: yes,")
            + "guide single { foot: 14 mm, gap: 4 mm, width: 2.2 mm, height: 0.7 mm, ramp: 5 mm, before: 3 mm }\n"
            + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm guide: single {{ band fill of navy  band 20 turns of mist }}")))


@construct(4000)
def stops_to_measure_and_pack(n):
    return layer(f"band {n} turns of navy\n", bench="units: mm, hand: 99 m, measure: 40 turns, pack: 20 turns")


@construct(6)
def long_pieces(n):
    return layer(lines(n, lambda i: f"band 300 turns of {shade(i)}\nfade to {shade(i + 1)} steps: 4"), bench="units: mm, hand: 60 cm")


@construct(8000, most=4_000_000)
def turns(n):
    return layer(f"band {n} turns of navy\n")
