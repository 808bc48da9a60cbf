"""Crosswraps: strands, passes, crossings, starts, and what lies on and under them."""
from generators.construct import AWAY, construct, lines, rod, setting, shade

# Strands by the dozen have to be fine; where they are few, stout ones are told apart in pictures by fewer looks.
THREADS = ("thread fine { diameter: 0.02 mm, colour: #22346b }\nthread thin { diameter: 0.02 mm, colour: #9db8d6 }\n"
           "thread dusk { diameter: 0.02 mm, colours: [#4c6a9c, #9db8d6, #dfe9ef], period: 9 cm }\n"
           "thread cord { diameter: 0.5 mm, colour: #22346b }\nthread twine { diameter: 0.5 mm, colour: #9db8d6 }\n"
           "thread string { diameter: 0.2 mm, colour: #4c6a9c }\n"
           "thread haze { diameter: 0.5 mm, colour: #dfe9ef, opacity: 40 % }\n"
           "thread dawn { diameter: 0.5 mm, colours: [#4c6a9c, #9db8d6, #dfe9ef], period: 9 cm }\n")


def crossed(wrap, length, more="", before=""):
    return (setting(bench=f"units: mm, hand: 99 m, flattest: 2 deg, {AWAY}", blank="at 0 mm: 14 mm  at 20 m: 8 mm") + THREADS + before
            + rod(f"at 10 cm length: {length} mm {{ {wrap} }}\n{more}"))


@construct(80, most=300)
def strands_of_a_chevron(n):
    return crossed(f"chevron crossings: 6 ends: 40 turns of thin {{ strand {n} of fine  strand {n} of thin }}", 80)


@construct(60, most=200)
def strands_of_a_diamond(n):
    return crossed(f"diamond crossings: 6 ends: 40 turns of thin {{ strand {n} of fine  strand {n} of thin }}", 80)


@construct(80, most=300)
def strands_of_a_spiral(n):
    return crossed(f"spiral turns: 6 turns ends: 40 turns of thin {{ strand {n} of fine  strand {n} of thin }}", 80)


# The bundle keeps its share of the field: where it is wider, more of its turns are cut at the field's ends, once.
def field_for(strands):
    return 3 * strands + 8


@construct(25, most=300)
def strand_lines(n):
    body = "  ".join(f"strand 1 of {('fine', 'thin')[i % 2]}" for i in range(n))
    return crossed(f"chevron crossings: 6 ends: 40 turns of thin {{ {body} }}", field_for(n))


@construct(20, most=300)
def strands_each_of_its_thread(n):
    threads = lines(n, lambda i: f"thread x{i} {{ diameter: 0.02 mm, colour: #{i * 7919 % 0xffffff:06x} }}")
    body = "  ".join(f"strand 1 of x{i}" for i in range(n))
    return crossed(f"chevron crossings: 6 ends: 40 turns of thin {{ {body} }}", field_for(n), before=threads)


@construct(25, most=300)
def spacers_among_strands(n):
    body = "  ".join(f"strand 1 of {('fine', 'spacer(thin)')[i % 2]}" for i in range(n))
    return crossed(f"diamond crossings: 6 ends: 40 turns of thin {{ {body}  strand 1 of fine }}", field_for(n))


@construct(30, most=1000)
def crossings_of_a_chevron(n):
    return crossed(f"chevron crossings: {n} ends: 40 turns of thin {{ strand 3 of cord  strand 2 of twine }}", n * 13 + 2)


@construct(30, most=1000)
def crossings_seen_through(n):
    return crossed(f"chevron crossings: {n} ends: 40 turns of thin {{ strand 3 of haze  strand 2 of cord }}", n * 13 + 2)


@construct(30, most=300)
def bands_seen_through_on_a_crosswrap(n):
    wraps = "  ".join(f"band 12 turns of {('haze', 'cord')[i % 2]}" for i in range(n))
    return crossed(f"under {{ chevron crossings: {n} ends: 40 turns of thin {{ strand 3 of cord }} }}  over {{ {wraps} }}", n * 13 + 2)


@construct(30, most=1000)
def crossings_of_a_diamond(n):
    """From as near as any: of as much work as a picture may take there is no more for twice as many."""
    seen = crossed(f"diamond crossings: {n} ends: 40 turns of thin {{ strand 3 of cord  strand 2 of twine }}", n * 13 + 2)
    return seen.replace(f", {AWAY}", "")


@construct(60, most=1000)
def turns_of_a_spiral(n):
    return crossed(f"spiral turns: {n} turns ends: 40 turns of thin {{ strand 3 of cord  strand 2 of twine }}", n * 13 + 2)


@construct(20, most=500)
def unequal_leads(n):
    return crossed(f"chevron crossings: {n} leads: [3, 2] ends: 40 turns of thin {{ strand 2 of cord  strand 2 of twine }}", n * 30 + 2)


@construct(32, most=64)
def starts(n):
    return crossed(f"diamond crossings: 6 starts: {n} ends: 40 turns of thin {{ strand 2 of fine }}", 80)


@construct(20, most=1000)
def crossings_of_a_variegated_thread(n):
    return crossed(f"chevron crossings: {n} ends: 40 turns of thin {{ strand 2 of dawn  strand 1 of cord }}", n * 13 + 2)


@construct(20, most=300)
def strands_of_a_variegated_thread(n):
    return crossed(f"diamond crossings: 6 ends: 40 turns of thin {{ strand {n} of dusk }}", 80)


@construct(32, most=1000)
def crossings_of_a_closed_field(n):
    return crossed(f"diamond crossings: {n} field: closed ends: 12 turns of mist {{ strand 1 of foam  strand fill of navy }}", n * 13 + 2)


@construct(4, most=150)
def crosswraps(n):
    places = lines(n, lambda i: f"at {30 + i * 10} cm length: 80 mm {{ chevron crossings: 4 ends: 40 turns of thin {{ strand 4 of cord }} }}")
    return crossed("band 20 turns of navy", 80, more=places)


@construct(4, most=64)
def crosswraps_on_one_another(n):
    wraps = "  ".join(f"chevron crossings: {3 + i % 3} ends: 40 turns of thin {{ strand 2 of string }}" for i in range(n))
    return crossed(wraps, 80).replace("flattest: 2 deg", "flattest: 2 deg, stack: 99")


@construct(10, most=800)
def wraps_on_a_crosswrap(n):
    places = lines(n, lambda i: f"at {150 + i * 20} mm {{ band 20 turns of {shade(i)} }}")
    return crossed("chevron crossings: 6 ends: 40 turns of thin { strand 2 of cord }", n * 20 + 120, more=places)


@construct(30, most=200)
def strands_chosen_in_a_loop(n):
    return crossed(f"chevron crossings: 6 ends: 40 turns of thin {{ for i in 1 to {n} {{ if i < 3 {{ strand 1 of fine }} else {{ strand 2 of thin }} }} }}", 80)
