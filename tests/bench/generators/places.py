"""Rods, places, layers, and the bench they are worked at."""
from generators.construct import construct, layer, lines, rod, setting, shade


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


@construct(30)
def places_between_as_many_stations(n):
    return (setting(blank="  ".join(f"at {i * 2} cm: {14 - 6 * i / (n + 2):.6f} mm" for i in range(n + 3)))
            + rod(lines(n, lambda i: f"at {(i + 1) * 2} cm {{ band 20 turns of {shade(i)} }}")))


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
    return (setting(bench="units: mm, hand: 99 m, ends: pins")
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
