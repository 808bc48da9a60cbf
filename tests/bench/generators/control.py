"""What repeats, chooses and calls: repeat, mirror, symmetric, for, if, require, patterns, used files."""
from generators.construct import bare, construct, layer, lines, rod, setting, shade

PAIR = "band 9 turns of navy  band 8 turns of mist"


@construct(20)
def a_repeat(n):
    return layer(f"repeat {n} {{ {PAIR} }}\n")


@construct(20)
def repeats(n):
    return layer(lines(n, lambda i: f"repeat 2 {{ {PAIR} }}"))


@construct(40)
def repeats_within_one_another(n):
    return layer(lines(n, lambda i: "repeat 1 { " * 40 + "band 9 turns of navy" + " }" * 40))


@construct(60)
def a_mirror(n):
    return layer("mirror {\n" + lines(n, lambda i: f"band {8 + i % 9} turns of {shade(i)}") + "}\n")


@construct(20)
def mirrors_within_one_another(n):
    return layer(lines(n, lambda i: "mirror { " * 20 + "symmetric { band 9 turns of navy  band 9 turns of mist }" + " }" * 20))


@construct(10)
def a_mirror_of_fades(n):
    return layer("mirror {\nband 20 turns of foam\n" + lines(n, lambda i: f"fade to {shade(i)} steps: 3\nband 20 turns of {shade(i)}") + "}\n")


@construct(20)
def a_symmetric_body(n):
    return layer("symmetric {\n" + lines(n, lambda i: f"band {8 + i % 9} turns of {shade(i)}") + "}\n")


@construct(6)
def symmetric_bodies_with_fills(n):
    return layer(lines(n, lambda i: f"symmetric {{ band 9 turns of navy  band fill of mist  fade to foam steps: 2  band 9 turns of foam }}"), f"length: {n * 20} mm")


@construct(25)
def a_loop_over_counts(n):
    return layer(f"for i in 1 to {n} {{ band (min(i, 9) + 8) turns of navy  band 8 turns of mist }}\n")


@construct(50)
def a_loop_over_a_list(n):
    return layer(f"for s in [{', '.join(shade(i) for i in range(n))}] {{ band 9 turns of s }}\n")


@construct(25)
def loops_within_one_another(n):
    return layer(f"for i in 1 to {n} {{ for j in 1 to 3 {{ if j == 2 {{ band 9 turns of navy }} else {{ band 9 turns of mist }} }} }}\n")


@construct(2400)
def a_loop_that_winds_nothing(n):
    return layer(f"for i in 1 to {n} {{ let a = i * 2  let b = [i, a]  require count(b) == 2, \"a pair\" }}\nband 20 turns of navy\n")


@construct(100)
def choices(n):
    return layer(lines(n, lambda i: f"if {i} > {n // 2} {{ band 9 turns of navy }} else {{ band 9 turns of mist }}"))


@construct(30)
def a_long_choice(n):
    return layer(lines(n, lambda i: " else ".join(f"if {k} == 19 {{ band {9 + k} turns of {shade(i)} }}" for k in range(20))))


@construct(600)
def requirements(n):
    return layer(lines(n, lambda i: f'require {i} < {n}, "number {i} of what is asked for"') + "band 20 turns of navy\n")


@construct(20)
def lists_taken_apart_in_a_loop(n):
    shades = ", ".join(shade(i) for i in range(20))
    return layer(f"for i in 1 to {n} {{ let r = reverse([{shades}])  band 9 turns of first(r)  band 9 turns of last(rest(rest(r))) }}\n")


@construct(240)
def patterns(n):
    return bare(lines(n, lambda i: f"/// Number {i}.\npattern p{i}(main: thread, edge: turns = {i + 8} turns) {{ band edge of main  band edge * 2 of navy }}"))


@construct(40)
def calls(n):
    return ("pattern trim(main: thread, edge: turns = 9 turns) { band edge of main }\n".join([setting(), ""])
            + rod("at 10 cm {\n" + lines(n, lambda i: f"trim({shade(i)}, edge: {9 + i % 7} turns)") + "}\n"))


@construct(40)
def patterns_each_called(n):
    return (setting() + lines(n, lambda i: f"pattern p{i}(main: thread) {{ band {9 + i % 7} turns of main }}")
            + rod("at 10 cm {\n" + lines(n, lambda i: f"p{i}({shade(i)})") + "}\n"))


@construct(64)
def calls_within_one_another(n):
    depth = 50
    return (setting() + "pattern p0(main: thread, edge: turns) { band edge of main }\n"
            + lines(depth, lambda i: f"pattern p{i + 1}(main: thread, edge: turns) {{ p{i}(main, edge) }}")
            + rod("at 10 cm {\n" + lines(n, lambda i: f"p{depth}({shade(i)}, 9 turns)") + "}\n"))


@construct(20)
def arguments(n):
    many = ", ".join(f"a{i}: turns = 3 turns" for i in range(60))
    given = ", ".join(f"a{59 - i}: {9 + i % 5} turns" for i in range(60))
    return setting() + f"pattern wide({many}) {{ band a0 + a59 of navy  band 9 turns of mist }}\n" + rod("at 10 cm {\n" + lines(n, lambda i: f"wide({given})") + "}\n")


@construct(16, most=250)
def used_files(n):
    files = {f"part{i}.lay": f"edition 1\nthread t{i} {{ turns: 67 per cm }}\npattern p{i}(main: thread) {{ band 9 turns of main  band 9 turns of t{i} }}\n" for i in range(n)}
    files["main.lay"] = lines(n, lambda i: f'use "part{i}"').join([setting(), ""]) + rod("at 10 cm {\n" + lines(n, lambda i: f"p{i}(navy)") + "}\n")
    return files


@construct(32, most=250)
def used_files_with_names_of_their_own(n):
    files = {f"part{i}.lay": "edition 1\nthread warm { turns: 67 per cm }\nlet edge = 9 turns\n" for i in range(n)}
    files["main.lay"] = lines(n, lambda i: f'use "part{i}" as part{i}').join([setting(), ""]) + rod("at 10 cm {\n" + lines(n, lambda i: f"band part{i}.edge of part{i}.warm") + "}\n")
    return files


@construct(96, most=250)
def files_that_use_the_next(n):
    files = {f"part{i}.lay": f'edition 1\nuse "part{i + 1}"\npattern p{i}(main: thread) {{ {f"p{i + 1}(main)" if i % 30 != 29 else "band 9 turns of main"} }}\n' for i in range(n)}
    files[f"part{n}.lay"] = f"edition 1\npattern p{n}(main: thread) {{ band 9 turns of main }}\n"
    files["main.lay"] = setting() + 'use "part0"\n' + rod("at 10 cm { p0(navy) }\n")
    return files


@construct(32, most=250)
def gathered_files(n):
    return (setting() + lines(n, lambda i: f'use "part{i}" {{ edition 1  thread t{i} {{ turns: 67 per cm }} }}')
            + rod("at 10 cm {\n" + lines(n, lambda i: f"band 9 turns of t{i}") + "}\n"))
