"""C: functions that choose and repeat."""
COMMENT = r"/\*.*?\*/|//[^\n]*"
HEAD = "typedef struct { double width; int turns; } Band;\nextern void band(double turns, int thread);\nextern void fade(int thread, int steps);\n"
TAIL = ""


def part(dice, number):
    edge, steps, span = dice.randrange(8, 16), dice.randrange(2, 6), dice.randrange(40, 160) / 10
    return f"""
/* Trim number {number}: a main colour with fine inlays between two edges. */
int trim_{number}(int main_thread, int edge, const int *shades, int count)
{{
    double span = {span};
    if (count < 2)
        return -1;      // a fade needs two shades
    band({edge}, edge);
    band(span / 3.0, main_thread);
    for (int s = 1; s < count; s++) {{
        fade(shades[s], {steps});
        band(span * 2 + {dice.randrange(1, 9)}, shades[s]);
    }}
    if (count > {dice.randrange(2, 5)}) {{
        band({edge + 2}, edge);
        band(span / 2, shades[0]);
    }} else {{
        for (int i = 0; i < {dice.randrange(2, 5)}; i++) {{ band({edge}, main_thread); band(8, edge); }}
    }}
    band({edge}, edge);
    return count + {number % 97};
}}
"""
