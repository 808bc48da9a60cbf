"""turnlay: patterns as people write them, some 700 bytes each, and a rod for every fifty."""
SHADES = ["navy", "slate", "mist", "foam", "sand", "rust", "moss", "plum"]
COMMENT = r"//[^\n]*"
HEAD = ("edition 1\n" + "".join(f"thread {name} {{ turns: 67 per cm, colour: #{i:02x}4c6a }}\n" for i, name in enumerate(SHADES))
        + "bench { units: mm, hand: 99 m, measure: 200 turns }\nblank tube { at 0 cm: 14.8 mm  at 60 cm: 11.2 mm  at 213 cm: 2.1 mm }\n")
TAIL = ""


def pattern(dice, number):
    edge, steps, span = dice.randrange(8, 16), dice.randrange(2, 6), dice.randrange(40, 160) / 10
    return f"""
/// Trim number {number}: a main colour with fine inlays between two edges.
pattern trim_{number}(main: thread, edge: thread, shades: threads, span: length = {span} mm) {{
    require count(shades) >= 2, "a fade needs two shades"
    band {edge} turns of edge
    band span of main {{
        inlay 2 turns of edge at: 1/3       // a third of the way
        inlay 2 turns of edge at: 2/3
    }}
    for s in rest(shades) {{
        fade to s steps: {steps}
        band span * 2 + {dice.randrange(1, 9)} mm of s
    }}
    if count(shades) > {dice.randrange(2, 5)} {{
        symmetric {{ band {edge + 2} turns of edge  band span / 2 of first(shades) }}
    }} else {{
        repeat {dice.randrange(2, 5)} {{ band {edge} turns of main  band 8 turns of edge }}
    }}
    band {edge} turns of edge
}}
"""


def rod(dice, number):
    main, edge, *shades = dice.sample(SHADES, 5)
    places = "".join(f"    at {20 + 60 * i} cm {{ trim_{number - i}({main}, edge: {edge}, "
                     f"shades: [{main}, {', '.join(shades)}]) }}\n" for i in range(3))
    return f'\nrod "Rod {number}" on tube {{\n{places}}}\n'


def part(dice, number):
    return pattern(dice, number) + (rod(dice, number) if number % 50 == 49 else "")
