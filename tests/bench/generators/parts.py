"""Parts of a rod, in the way of wraps and under them."""
from generators.construct import construct, lines, rod, setting, shade


@construct(20)
def parts_between_places(n):
    return setting() + rod(lines(n, lambda i: f"part p{i} at {i * 4 + 4} cm length: 1 cm {{ diameter: 16 mm, note: \"one\" }}  "
                                              f"at {i * 4 + 6} cm {{ band 20 turns of {shade(i)} }}"))


@construct(20)
def places_by_the_ends_of_parts(n):
    return setting() + rod("part p0 at 0 cm length: 1 cm { wrapped: yes }\n" + lines(n, lambda i: (
        f"part p{i + 1} at p{i}.tip + 1 cm length: 8 mm {{ wrapped: yes, diameter: [15 mm, 16 mm] }}  "
        f"at p{i + 1}.butt until: p{i + 1}.tip {{ band fill of {shade(i)} }}")))


@construct(20)
def notes_near_one_place(n):
    return setting() + rod("at 10 cm length: 10 cm { band fill of navy }\n"
                           + lines(n, lambda i: f"part p{i} at {100000 + i * 97 % 100000} um {{ note: \"one\" }}".replace(" um", "/1000 mm")))


@construct(20)
def parts_over_one_another(n):
    return setting() + rod(lines(n, lambda i: f"part p{i} at {i + 10} mm length: {2 * n} mm {{ wrapped: yes, diameter: [16 mm, 17 mm, 16 mm] }}")
                           + lines(n, lambda i: f"at {(i + 1) * 2} cm {{ band 20 turns of navy }}"))


@construct(20)
def parts_in_gaps(n):
    return setting() + rod("at 10 cm {\n" + lines(n, lambda i: f"band 20 turns of {shade(i)}  gap 17 mm") + "band 20 turns of navy\n}\n"
                           + lines(n, lambda i: f"part p{i} at 10 cm + width({(i + 1) * 20} turns, navy) + {i * 17 + 1} mm length: 15 mm"))


@construct(20)
def parts_laid_on_under_wraps(n):
    return setting() + rod(lines(n, lambda i: f"part p{i} at {i * 2 + 4} cm length: 1 cm {{ wrapped: yes }}  "
                                              f"at {i * 2 + 4} cm {{ band 20 turns of {shade(i)} }}"))


@construct(20)
def parts_that_slide_on(n):
    return setting() + rod(lines(n, lambda i: f"part p{i} at {i * 2 + 4} cm length: 3 mm {{ slides: yes }}  "
                                              f"at {i * 2 + 5} cm {{ band 20 turns of {shade(i)} }}"))


@construct(20)
def parts_that_hide_the_tip(n):
    return setting() + rod(lines(n, lambda i: f"part p{i} at 0 mm from: tip toward: butt length: {i + 1} mm {{ wrapped: yes, diameter: 16 mm }}")
                           + lines(n, lambda i: f"at {(i + 1) * 2} cm {{ band 20 turns of navy }}") + "at 50 cm from: tip { band 20 turns of navy }\n")


@construct(20)
def one_part_of_many_diameters(n):
    return setting() + rod(f"part p at 10 cm length: {n} cm {{ wrapped: yes, diameter: [" + ", ".join(f"{16 + i % 2} mm" for i in range(n + 2))
                           + f"] }}\nat p.butt length: {n} cm {{ band fill of navy }}\n")


@construct(20, errors=True)
def wraps_that_run_into_parts(n):
    return setting() + rod(lines(n, lambda i: f"part p{i} at {i * 4 + 4} cm length: 1 cm  at {i * 4 + 4} cm {{ band 20 turns of navy }}"))
