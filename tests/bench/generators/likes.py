"""Rods that are like others, their swaps, and names that are handed on."""
from generators.construct import SMALL_ROD, bare, construct, lines, rod, setting, shade

PLACE = "at 10 cm { band 20 turns of navy  band 20 turns of foam }\n"


@construct(60)
def rods_like_one(n):
    return setting() + rod(PLACE) + lines(n, lambda i: f'rod "Rod {i}" like "Growing" {{ navy: {shade(i % 2 + 1)} }}')


@construct(60)
def rods_like_one_each_in_a_colour_of_its_own(n):
    return (setting() + "let deep = #22346b\nthread own { turns: 67 per cm, colour: deep }\n" + rod(PLACE.replace("navy", "own")) +
            lines(n, lambda i: f'rod "Rod {i}" like "Growing" {{ deep: #{i * 7919 % 0xffffff:06x} }}'))


@construct(200)
def swaps_of_one_rod(n):
    return (setting() + lines(n, lambda i: f"let turns_{i} = {i % 9 + 8} turns") +
            rod("at 10 cm {\n" + lines(n, lambda i: f"band turns_{i} of {shade(i)}") + "}\n") +
            'rod "Other" like "Growing" {\n' + lines(n, lambda i: f"turns_{i}: {i % 7 + 9} turns") + "}\n")


@construct(800)
def values_that_rest_on_what_is_swapped(n):
    return (setting() + "let edge = 9 turns\n" + lines(n, lambda i: f"let turns_{i} = edge + {i % 9} turns") +
            rod("at 10 cm {\n" + lines(n // 20, lambda i: f"band max({', '.join(f'turns_{i * 20 + j}' for j in range(20))}) of {shade(i)}") +
                "}\n") + 'rod "Other" like "Growing" { edge: 11 turns }\n')


@construct(60)
def rods_like_the_one_before(n):
    """Of eight in a row each goes through all before it; how many may be is limited."""
    return setting() + rod(PLACE, title="Rod 0") + lines(
        n, lambda i: f'rod "Rod {i + 1}" like "Rod {i if i % 8 else 0}" {{ {shade(i) if i % 8 else "navy"}: {shade(i + 1)} }}')


@construct(800)
def rods_of_other_titles(n):
    return setting() + lines(n, lambda i: f'rod "Rod {i}" on tube {{ }}') + lines(n // 8, lambda i: f'rod "Like {i}" like "Rod {i * 8}" {{ }}')


@construct(1600)
def names_handed_on(n):
    names = ", ".join(f"name_{i}" for i in range(n))
    return {"main.lay": bare('use "all"\n' + lines(n, lambda i: f"let own_{i} = name_{i}")),
            "all.lay": f'edition 1\nuse "values" pass_on: [{names}]\n',
            "values.lay": "edition 1\n" + lines(n, lambda i: f"let name_{i} = {i + 1} mm")}


@construct(20, most=120)
def files_that_hand_on_a_name(n):
    files = {f"file_{i}.lay": f'edition 1\nuse "file_{i + 1}" pass_on: [edge]\n' for i in range(n)}
    files[f"file_{n}.lay"] = "edition 1\nlet edge = 9 turns\n"
    files["main.lay"] = setting() + 'use "file_0"\n' + rod("at 10 cm { band edge + 9 turns of navy }\n") + SMALL_ROD
    return files
