"""PHP: functions that choose and repeat."""
COMMENT = r"//[^\n]*"
HEAD = "<?php\n"
TAIL = ""


def part(dice, number):
    edge, steps, span = dice.randrange(8, 16), dice.randrange(2, 6), dice.randrange(40, 160) / 10
    return f"""
// Trim number {number}: a main colour with fine inlays between two edges.
function trim_{number}($main, $edge, array $shades, $span = {span})
{{
    if (count($shades) < 2) {{ throw new Exception("a fade needs two shades"); }}
    band({edge}, $edge);
    band($span / 3, $main);     // a third of the way
    foreach ($shades as $s) {{
        fade($s, ["steps" => {steps}]);
        band($span * 2 + {dice.randrange(1, 9)}, $s);
    }}
    if (count($shades) > {dice.randrange(2, 5)}) {{
        band({edge + 2}, $edge);
        band($span / 2, $shades[0]);
    }} else {{
        for ($i = 0; $i < {dice.randrange(2, 5)}; $i++) {{ band({edge}, $main); band(8, $edge); }}
    }}
    band({edge}, $edge);
}}
"""
