"""Findings of every chapter, of each more and more."""
from generators.construct import AWAY, bare, construct, layer, lines, rod, setting, shade


@construct(600, errors=True)
def strange_signs(n):
    return bare(lines(n, lambda i: f"let a{i} = {i + 1} mm ?"))


@construct(600, errors=True)
def texts_without_an_end(n):
    return bare(lines(n, lambda i: f'let a{i} = "not closed'))


@construct(6400, errors=True)
def statements_that_cannot_be_read(n):
    return layer(lines(n, lambda i: "band 20 turns navy"))


@construct(3200, errors=True)
def misspelt_words(n):
    return layer(lines(n, lambda i: "bnad 20 turns of navy"))


@construct(800, errors=True)
def braces_not_closed(n):
    return bare(lines(n, lambda i: f"pattern p{i}() {{ repeat 2 {{ band 9 turns of navy }}"))


@construct(400, errors=True)
def braces_too_many(n):
    return bare(lines(n, lambda i: f"pattern p{i}() {{ band 9 turns of navy }} }}"))


@construct(4000, least=100, errors=True)
def braces_one_within_another(n):
    return bare("pattern p() {" + "repeat 2 { " * n + "}" * n + "}\n")


@construct(3200, errors=True)
def unknown_units(n):
    return bare(lines(n, lambda i: f"let a{i} = {i + 1} furlong"))


@construct(200, errors=True)
def unknown_names(n):
    return bare(lines(n, lambda i: f"let a{i} = nowhere_{i} + 1 mm"))


@construct(100, errors=True)
def unknown_names_beside_many_known(n):
    return bare(lines(n, lambda i: f"let edge_{i} = {i + 1} mm\nlet other_{i} = edgo_{i} + 1 mm"))


@construct(1200, errors=True)
def names_declared_twice(n):
    return bare(lines(n, lambda i: f"let same = {i + 1} mm"))


@construct(500, errors=True)
def pairs_of_one_name(n):
    return bare(lines(n, lambda i: f"let twin_{i} = {i + 1} mm\nthread twin_{i} {{ turns: 60 per cm }}"))


@construct(400, errors=True)
def wrong_kinds(n):
    return bare(lines(n, lambda i: f"let a{i} = {i} turns + {i} mm\nlet b{i} = width(navy, {i})"))


@construct(100, errors=True)
def unknown_options(n):
    return bare(lines(n, lambda i: f"thread t{i} {{ turns: 60 per cm, colur: #123456, colour: #123456, colour: #123456 }}"))


@construct(400, errors=True)
def calls_that_do_not_fit(n):
    return "pattern trim(main: thread) { band 9 turns of main }\n".join([setting(), ""]) + rod("at 10 cm {\n" + lines(n, lambda i: "trim(9 mm, colour: navy)") + "}\n")


@construct(450, most=900, errors=True)
def values_in_a_circle(n):
    return bare(lines(n, lambda i: f"let c{i} = c{(i + 1) % n}"))


@construct(1200, errors=True)
def patterns_in_a_circle(n):
    return bare(lines(n, lambda i: f"pattern c{i}() {{ c{(i + 1) % n}() }}"))


@construct(25, most=50, errors=True)
def files_that_are_not_there(n):
    return bare(lines(n, lambda i: f'use "missing{i}"'))


@construct(64, most=250, errors=True)
def names_that_two_files_give(n):
    files = {f"part{i}.lay": "edition 1\nthread warm { turns: 67 per cm }\n" for i in range(n)}
    files["main.lay"] = lines(n, lambda i: f'use "part{i}"').join([setting(), ""]) + rod("at 10 cm {\n" + lines(n, lambda i: "band 9 turns of warm") + "}\n")
    return files


@construct(600, errors=True)
def divisions_by_zero(n):
    return bare(lines(n, lambda i: f"let a{i} = {i} mm / ({i} - {i})"))


@construct(2000, errors=True)
def requirements_not_met(n):
    return layer(lines(n, lambda i: f'require {i} > {i}, "number {i} is not so"'))


@construct(4000, errors=True)
def one_fault_again_and_again(n):
    return layer(f"for i in 1 to {n} {{ gap 2 mm  fade to navy steps: 3 }}\n")


@construct(360, errors=True)
def fades_from_nothing(n):
    return layer(lines(n, lambda i: "gap 2 mm  fade to navy steps: 3"))


@construct(240, errors=True)
def bands_of_less_than_a_turn(n):
    return layer(lines(n, lambda i: "band 0.01 mm of navy"))


@construct(60)
def widths_that_round_far(n):
    return layer(lines(n, lambda i: f"band 1.{i % 5}1 mm of {('coarse', 'navy')[i % 2]}"), bench="units: mm, hand: 99 m, tolerance: 0.01 mm").replace("bench", "thread coarse { turns: 6 per cm }\nbench", 1)


@construct(200, errors=True)
def places_that_overlap(n):
    return setting() + rod(lines(n, lambda i: f"at {100 + i * 2} mm {{ band 20 turns of {shade(i)} }}"))


@construct(200, errors=True)
def places_on_one_mark(n):
    return setting() + rod(lines(n, lambda i: f"at 100 mm {{ band 20 turns of {shade(i)} }}"))


@construct(80, errors=True)
def places_off_the_blank(n):
    return setting(blank="at 0 mm: 14 mm  at 1 m: 8 mm") + rod(lines(n, lambda i: f"at {1000 + i} cm {{ band 20 turns of {shade(i)} }}"))


@construct(80, errors=True)
def wraps_longer_than_their_places(n):
    return setting() + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm length: 3 mm {{ band 90 turns of {shade(i)} }}"))


@construct(80, errors=True)
def fills_with_nothing_left(n):
    return setting() + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm length: 3 mm {{ band 90 turns of {shade(i)}  band fill of {shade(i + 1)} }}"))


@construct(80, errors=True)
def fades_that_do_not_fit(n):
    return layer(lines(n, lambda i: "fade 9 turns of [navy, mist, foam] steps: 9"))


@construct(360, errors=True)
def inlays_that_touch(n):
    return layer("band 900 turns of navy {\n" + lines(n, lambda i: f"inlay 4 turns of mist at: {10 + i * 2} turns") + "}\n")


@construct(80, errors=True)
def threads_not_held(n):
    return setting() + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm {{ band {2 + i % 3} turns of {shade(i)} }}"))


@construct(600, errors=True)
def threads_not_held_in_a_loop(n):
    return layer(f"for i in 1 to {n} {{ band 2 turns of navy  gap 2 mm }}\n")


@construct(4)
def ridges(n):
    return layer("band 20 turns of foam\n" + lines(n, lambda i: f"fade 60 turns of [foam, navy, slate, mist, foam]\nband 20 turns of foam"), bench="units: mm, hand: 99 m, ridge: 1, apart: 3 mm")


@construct(8)   # of fewer none shows a line, whose shades are looked for
def pieces_too_long(n):
    return layer(lines(n, lambda i: f"band 60 turns of {shade(i)}\nfade to {shade(i + 1)} over: 200 turns"), bench="units: mm, hand: 20 cm")


@construct(8)
def fades_that_show_lines(n):
    return layer("band 20 turns of foam\n" + lines(n, lambda i: f"fade to {shade(i)} runs: [in 2 out {3 + i % 5}, in 3 out 1]\nband 20 turns of {shade(i)}"),
                 bench="units: mm, hand: 99 m, jump: 0.1, alike: 0")


@construct(8)
def shades_that_look_the_same(n):
    return layer("band 20 turns of foam\n" + lines(n, lambda i: f"fade to {shade(i)} steps: 3\nband 20 turns of {shade(i)}"),
                 bench="units: mm, hand: 99 m, alike: 100")


@construct(10)
def threads_that_differ(n):
    return (layer("band 20 turns of navy\n" + lines(n, lambda i: f"fade to {('coarse', 'navy')[i % 2]} steps: 3\nband 20 turns of {('coarse', 'navy')[i % 2]}"))
            .replace("bench", "thread coarse { turns: 40 per cm, preserver: yes }\nbench", 1))


@construct(15)
def threads_nobody_measured(n):
    return (setting() + lines(n, lambda i: f"thread n{i} {{ size: A }}")
            + rod("at 10 cm {\n" + lines(n, lambda i: f"band 300 turns of n{i}") + "}\n"))


@construct(20)
def stocks_too_short(n):
    return (setting() + lines(n, lambda i: f"thread t{i} {{ turns: 67 per cm, stock: 20 cm, spool: 40 cm }}")
            + rod("at 10 cm {\n" + lines(n, lambda i: f"band 60 turns of t{i}") + "}\n"))


@construct(40)
def layers_without_turns(n):
    return setting() + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm {{ }}") + "at 5 cm { band 20 turns of navy }\n")


def crossed(n, options, body="strand 4 of navy", bench=""):
    return (setting(bench=f"units: mm, hand: 99 m, {AWAY}{bench}", blank="at 0 mm: 14 mm  at 200 m: 8 mm")
            + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm length: 80 mm {{ {options} {{ {body} }} }}")))


@construct(24, errors=True)
def crossings_that_do_not_divide(n):
    return crossed(n, "chevron spacing: 17 mm ends: 12 turns of mist")


@construct(6)
def angles_not_obtained(n):
    return crossed(n, "chevron angle: 41 deg ends: 12 turns of mist", bench=", stack: 2")


@construct(12, errors=True)
def bundles_too_wide(n):
    return crossed(n, "chevron crossings: 4 starts: 4 ends: 12 turns of mist", "strand 90 of navy")


@construct(24, errors=True)
def end_bands_too_few(n):
    return crossed(n, "diamond crossings: 4 ends: 2 turns of mist", bench=", ends: none")


@construct(80, errors=True)
def crosswraps_without_strands(n):
    return crossed(n, "diamond crossings: 4 ends: 12 turns of mist", "")


@construct(80, errors=True)
def crosswraps_not_alone(n):
    return setting() + rod(lines(n, lambda i: f"at {(i + 1) * 10} cm length: 80 mm {{ over {{ band 9 turns of navy  chevron crossings: 4 ends: 12 turns of mist {{ strand 4 of navy }} }} }}"))
