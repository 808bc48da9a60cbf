"""Hostile inputs: what a text file, or a person, can do to the program. All the same in every run."""
import random
import re

SHOP = """edition 1
thread navy { diameter: 0.15 mm }
thread mist { diameter: 0.15 mm }
blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }
"""


def layer(statements):
    return SHOP + 'rod "R" on tube { at 20 cm length: 60 mm {\n' + statements + "\n} }\n"


def nested(opening, closing, depth, within=""):
    return opening * depth + within + closing * depth


BAND = "band 20 turns of navy"
MILLION = 1_000_000
# name: (text, exit codes, a code of a finding that must be among those shown, or None)
TEXTS = {
    "an empty file": ("", {0}, "T010"),
    "blanks alone": (" \n\t\n", {0}, "T010"),
    "no new line at the end": (layer(BAND).rstrip("\n"), {0}, None),
    "a comment without an end": (layer(BAND) + "// end", {0}, None),
    "a NUL": (layer("band 20\0 turns of navy"), {1}, "T002"),
    "a NUL first": ("\0" + layer(BAND), {1}, "T002"),
    "a NUL in a name": (layer("band 20 turns of na\0vy"), {1}, "T002"),
    "a NUL in a text": (SHOP + 'rod "R\0" on tube { at 20 cm { band 20 turns of navy } }', {1}, "T002"),
    "a NUL in a path": (SHOP + 'use "std/trims\0x"\n', {1}, None),
    "a million NULs": ("\0" * MILLION, {1}, "T002"),
    "invalid UTF-8": (b"\xff\xfe" + layer(BAND).encode(), {1}, "T001"),
    "a cut UTF-8 sequence at the end": (layer(BAND).encode() + b"// \xe6\xb8", {1}, "T001"),
    "a surrogate": (layer(BAND).encode() + b"// \xed\xa0\x80", {1}, "T001"),
    "an overlong slash": (layer(BAND).encode() + b"\xc0\xaf", {1}, "T001"),
    "UTF-16": (layer(BAND).encode("utf-16"), {1}, "T001"),
    "nothing but a million of 0xff": (b"\xff" * MILLION, {1}, "T001"),
    "30 MB of brackets": ("[" * (30 * MILLION), {1}, None),
    "16 MiB of figures in a list": ("edition 1\nlet l = [" + "1," * (8 * (1 << 20) - 20) + "1]", {1}, "T904"),
    "10 MB of braces": ("{" * (10 * MILLION), {1}, None),
    "10 MB of closing braces": ("}" * (10 * MILLION), {1}, "T009"),
    "10 MB of new lines": ("\n" * (10 * MILLION), {0}, "T010"),
    "10 MB of a": ("a" * (10 * MILLION), {1}, None),
    "10 MB of quotes": ('"' * (10 * MILLION), {1}, None),
    "10,000 parentheses": (layer("band " + nested("(", ")", 10000, "20 turns") + " of navy"), {1}, "T902"),
    "10,000 lists": (layer("band 20 turns of " + nested("[", "]", 10000, "navy")), {1}, "T902"),
    "10,000 calls": (layer("band " + nested("round(", ")", 10000, "20 turns") + " of navy"), {1}, "T902"),
    "10,000 braces at the top": (nested("{", "}", 10000), {1}, None),
    "10,000 rods": ('rod "R" on tube {' * 10000, {1}, None),
    "100,000 terms in one sum": (layer("band " + "1 turn + " * 100000 + "1 turn of navy"), {1}, "T902"),
    "100,000 terms in a product": (layer("band " + "1 * " * 100000 + "9 turns of navy"), {1}, "T902"),
    "100,000 comparisons": (layer("if " + "yes == " * 100000 + "yes { } " + BAND), {0, 1}, None),
    "100,000 times minus": (layer("band " + "-" * 100000 + "20 turns of navy"), {1}, "T902"),
    "100,000 times not": (layer("if " + "not " * 100000 + "yes { } " + BAND), {1}, "T902"),
    "100,000 times else if": (layer("if no { }" + " else if no { }" * 100000 + " " + BAND), {0, 1}, None),
    "100,000 threads in a list": (layer("band 9 turns of first([" + "navy, " * 100000 + "navy])"), {0, 1}, None),
    "100,000 patterns in a row": (SHOP + "".join(
        f"pattern p{i}() {{ p{i + 1}() }}\n" for i in range(100000)) + "pattern p100000() { }\n"
        + 'rod "R" on tube { at 20 cm { p0() } }', {1}, None),
    "100,000 rods like one another in a row": (SHOP + 'rod "0" on tube { }\n' + "".join(
        f'rod "{i + 1}" like "{i}" {{ }}\n' for i in range(100000)), {1}, "T902"),
    "100,000 rods like one another in a circle": (SHOP + "".join(
        f'rod "{i}" like "{(i + 1) % 100000}" {{ }}\n' for i in range(100000)), {1}, None),
    "100,000 rods like one": (SHOP + 'rod "0" on tube { at 20 cm { band 20 turns of navy } }\n' + "".join(
        f'rod "{i + 1}" like "0" {{ navy: navy }}\n' for i in range(100000)), {1}, "T904"),
    "100,000 times one swap": (SHOP + 'rod "0" on tube { }\nrod "1" like "0" {' + " navy: navy" * 100000 + " }", {1}, "T102"),
    "100,000 names handed on": (SHOP + 'use "x" pass_on: [' + ", ".join(f"n{i}" for i in range(100000)) + "] { edition 1 }", {1}, "T101"),
    "100,000 values in a row": ("edition 1\n" + "".join(
        f"let v{i} = v{i + 1} + 1 mm\n" for i in range(100000)) + "let v100000 = 1 mm\n", {0, 1}, None),
    "patterns that double 60 times": (SHOP + "".join(
        f"pattern p{i}() {{ p{i + 1}() p{i + 1}() }}\n" for i in range(60)) + "pattern p60() { band 8 turns of navy }\n"
        + 'rod "R" on tube { at 20 cm { p0() } }', {1}, "T904"),
    "lists that double 60 times": (SHOP + "".join(
        f"let l{i} = [l{i + 1}, l{i + 1}]\n" for i in range(60)) + "let l60 = [1, 2]\n", {0, 1}, None),
    "a number with an exponent": (layer("band 1e308 mm of navy"), {1}, "T005"),
    "a number of 16 digits": (layer("band 9999999999999999 mm of navy"), {1}, "T005"),
    "a number of a million digits": (layer("band " + "9" * MILLION + " mm of navy"), {1}, "T005"),
    "a product beyond all measure": (layer("band 999999999999999 * 999999999999999 turns of navy"), {1}, None),
    "products beyond all measure": (SHOP + "let a = 999999999999 * 999999999999\nlet b = a * a\nlet c = b * b - b * b\n"
                                    'rod "R" on tube { at 20 cm { band round(c) turns of navy } }', {1}, "T202"),
    "zero by zero": (SHOP + "let z = 0 / 0\n" + 'rod "R" on tube { at 20 cm { band round(z) turns of navy } }', {1}, "T201"),
    "zero by zero, by way of values": (SHOP + "let a = 1 mm - 1 mm\nlet z = a / a\n"
                                       'rod "R" on tube { at 20 cm { band round(z * 10) turns of navy } }', {1}, "T201"),
    "one by zero": (layer("band 20 turns / 0 of navy"), {1}, "T201"),
    "a fraction by zero": (layer("band 1/0 mm of navy"), {1}, None),
    "nothing per nothing": (SHOP + "thread z { turns: 0 per cm }\n"
                            'rod "R" on tube { at 20 cm { band 20 turns of z } }', {1}, None),
    "turns per no length": (SHOP + "thread z { turns: 20 turns / 0 mm }\n"
                            'rod "R" on tube { at 20 cm { band 20 turns of z } }', {1}, "T201"),
    "10^12 turns": (layer("band 1000000000000 turns of navy"), {1}, None),
    "10^12 mm": (layer("band 1000000000000 mm of navy"), {1}, None),
    "10^12 copies": (layer("repeat 1000000000000 { band 20 turns of navy }"), {1}, None),
    "a million copies of a fault": (layer("repeat 1000000 { band 0.1 turns of navy }"), {1}, "T904"),
    "a fault of 1 MB, 100,000 times": (layer("repeat 100000 { band 0.1 turns" + " * 1" * 900 + " " * MILLION + " of "
                                             + "navy }"), {1}, "T204"),
    "faults at a name of 1 MB": (SHOP.replace("navy", "n" * MILLION) + 'rod "R" on tube { at 20 cm { '
                                 + f"repeat 5000 {{ band 0.01 mm of {'n' * MILLION} }} }} }}", {1}, None),
    "a list of 1,000 turned round 100,000 times": (SHOP + "let l = [" + "1," * 1000 + "]\n"
                                                   + layer("for i in 1 to 100000 { let k = reverse(l) } " + BAND)[len(SHOP):], {1}, "T904"),
    "a list of 1,000 threads wound 60,000 times": (SHOP + "let l = [" + "navy," * 1000 + "]\n"
                                                   + layer("repeat 60000 { band 1 turn of l }")[len(SHOP):], {1}, "T904"),
    "a fade of 1,000 runs 60,000 times": (SHOP + "let l = [" + "in 1 out 1," * 1000 + "]\n"
                                          + layer(BAND + " repeat 60000 { fade to mist runs: l }")[len(SHOP):], {1}, "T904"),
    "a pattern of 400 locals called 200,000 times": (
        SHOP + "pattern p() { if no {" + "".join(f" let l{i} = 1" for i in range(400)) + " } }\n"
        + layer("repeat 200000 { p() } " + BAND)[len(SHOP):], {1}, "T904"),
    "as many inlays as steps": (layer("band 9000000 turns of navy { for i in 1 to 1000000 { inlay 1 turn of mist at: i * 8 turns } }"),
                                {1}, "T904"),
    "three threads on 32,000 stretches, 60 times": (
        SHOP.replace("100 cm", "9000 m") + "bench { holders: 3, stack: 100, ridge: 100 }\n"
        + 'rod "R" on tube { at 20 cm { under { repeat 16000 { band 20 turns of navy gap 2 mm } } '
        + "over { band 20 m of [navy, navy, mist] } " * 60 + "} }", {1}, "T904"),
    "10,000 guests of a crosswrap over 60,000 runs": (
        SHOP.replace("100 cm", "9000 m") + "bench { stack: 100, ridge: 100, flattest: 1 deg, steepest: 89 deg }\n"
        + 'rod "R" on tube { at 20 cm length: 8000 m { under { repeat 30000 { band 20 turns of navy gap 200 mm } } '
        + "spiral turns: 3000 turns ends: 24 turns of navy { strand 1 of mist } }\n"
        + "".join(f"at {i + 1} m toward: butt {{ band 20 turns of navy }}\n" for i in range(7900)) + "}", {1}, "T904"),
    "10,000 threads on 10,000 rods": (
        SHOP + "".join(f"thread a{i} {{ turns: 67 per cm }}\n" for i in range(10000))
        + "".join(f'rod "R" on tube {{ at 20 cm {{ band 20 turns of a{i} }} }}\n' for i in range(10000)), {0}, None),
    "a blank of 20,000 stations under 60 layers": (
        SHOP.replace("at 0 mm: 12 mm  at 100 cm: 4 mm", "".join(f"at {i} m: 4 mm\n" for i in range(20000)))
        + "bench { stack: 100, ridge: 100 }\n"
        + 'rod "R" on tube { at 20 cm { ' + "over { gap 10000 m band 20 turns of navy } " * 60 + "} }", {0}, None),
    "60,000 spacers and no thread": (layer("band 9 turns of [" + "spacer(navy)," * 60000 + "]"), {1}, "T203"),
    "60,000 spacers and no thread, 70 times": (
        SHOP + "let l = [" + "spacer(navy)," * 60000 + "]\n" + layer("repeat 70 { band 9 turns of l }")[len(SHOP):], {1}, "T203"),
    "a foot of 100,000 numbers": (SHOP + "guide g { foot: [" + "1," * 100000 + "1] }", {1}, None),
    "round of 100,000 arguments": (layer("band round(" + "1," * 100000 + "1) turns of navy"), {1}, None),
    "64 parameters of 400,000 letters, and none given": (
        SHOP + "pattern p(" + ", ".join(f"{chr(97 + i % 26)}{'n' * 400000}{i}: count" for i in range(64)) + ") { }\n"
        + layer("p()")[len(SHOP):], {1}, None),
    "a fault in an extent of 1 MB, 5,000 times": (
        layer("repeat 5000 { band 0.5 turns" + " * 1" * 900 + " " * MILLION + "* 1 of navy }"), {1}, "T204"),
    "10^12 copies of nothing": (layer("repeat 1000000000000 { } " + BAND), {0, 1}, None),
    "10^12 times round": (layer("for i in 1 to 1000000000000 { } " + BAND), {1}, None),
    "10^12 steps": (layer(BAND + " fade to mist steps: 1000000000000"), {1}, None),
    "a fade over 10^12 turns": (layer(BAND + " fade to mist over: 1000000000000 turns"), {1}, None),
    "10^12 inlays": (layer("band 9000000 turns of navy { inlay 1 turn of mist every: 2 turns }"), {1}, None),
    "a fade in of 10^12": (layer(BAND + " fade to mist runs: [in 1000000000000 out 1000000000000]"), {1}, None),
    "copies of copies, 2^40": (layer("repeat 1024 {" * 4 + BAND + "}" * 4), {1}, None),
    "copies of copies of nothing, 10^36": (layer("repeat 1000000 {" * 6 + "}" * 6), {0, 1}, None),
    "symmetric 2^58": (layer("symmetric {" * 58 + BAND + "}" * 58), {1}, None),
    "symmetric 2^58 of a fill": (layer("symmetric {" * 58 + "band fill of navy" + "}" * 58), {1}, None),
    "mirrors within mirrors": (layer("mirror {" * 58 + BAND + "}" * 58), {0}, None),
    "100,000 fills": (layer("band fill of navy\n" * 100000), {1}, None),
    "a weight of 10^12": (layer("band fill of navy weight: 1000000000000 band fill of mist weight: 1/100000"), {0, 1}, None),
    "a weight of nothing": (layer("band fill of navy weight: 0"), {0, 1}, None),
    "a negative weight": (layer("band fill of navy weight: -1"), {1}, None),
    "a thread without width": (layer(BAND).replace("0.15 mm", "0 mm", 1), {1}, "T203"),
    "a thread of 10^12 mm": (layer(BAND).replace("0.15 mm", "1000000000000 mm", 1), {1}, "T203"),
    "100,000 stations": (SHOP + "blank b {" + "".join(f"at {i} mm: 4 mm\n" for i in range(100000)) + "}", {0, 1}, None),
    "10,000 places": (SHOP + 'rod "R" on tube {' + "at 20 cm { band 20 turns of navy }\n" * 10000 + "}", {1}, "T304"),
    "10,000 parts, each from the end of the one before": (SHOP + 'rod "R" on tube { part p0 at 1 mm\n' + "".join(
        f"part p{i + 1} at p{i}.tip + 1/100 mm\n" for i in range(10000)) + "at 20 cm { band 20 turns of navy } }", {0}, None),
    "8,000 parts over one another, and as many wraps on them": (SHOP + 'rod "R" on tube {' + "".join(
        f"part p{i} at {i}/100 mm length: 200 mm {{ wrapped: yes, diameter: [20 mm, 21 mm] }} at 20 cm {{ band 20 turns of navy }}\n"
        for i in range(8000)) + "}", {1}, "T304"),
    "100,000 parts by a loop": (SHOP + 'rod "R" on tube { for i in 1 to 100000 { part p at 1 mm } at 20 cm { band 20 turns of navy } }', {1}, "T904"),
    "100,000 diameters of a part": (SHOP + 'rod "R" on tube { part p at 1 mm length: 20 cm { wrapped: yes, diameter: ['
                                    + ", ".join(["20 mm"] * 100000) + "] } at 5 cm { band 20 turns of navy } }", {0, 1}, None),
    "a part of no length, of 10^12 mm, and beyond all": (SHOP + 'rod "R" on tube { part p at 1 mm until: 1 mm part q at 1000000000000 mm length: '
                                                         "1000000000000 mm part r at -1000000000000 mm until: 1000000000000 mm "
                                                         "at r.tip until: q.butt { band fill of navy } }", {1}, None),
    "10,000 layers": (SHOP + 'rod "R" on tube { at 20 cm {' + "under { band 8 turns of navy }\n" * 10000 + "} }", {0, 1}, None),
    "10,000 rods of one name": (SHOP + 'rod "R" on tube { at 20 cm { band 20 turns of navy } }\n' * 10000, {0, 1}, None),
    "100,000 undeclared names": (layer("".join(f"band 20 turns of n{i}\n" for i in range(100000))), {1}, "T101"),
    "100,000 undeclared names beside as many declared": (SHOP + "".join(
        f"let value{i} = {i}\n" for i in range(100000)) + 'rod "R" on tube { at 20 cm {' + "".join(
        f"band 20 turns of valve{i}\n" for i in range(100000)) + "} }", {1}, "T101"),
    "100,000 declarations of one name": ("edition 1\n" + "let a = 1\n" * 100000, {1}, "T102"),
    "100,000 options": (SHOP + "thread z {" + "turns: 67 per cm\n" * 100000 + "}", {1}, "T108"),
    "100,000 unknown options": (SHOP + "thread z {" + "".join(f"o{i}: 1\n" for i in range(100000)) + "}", {1}, "T107"),
    "100,000 names in one block": (layer("".join(f"let a{i} = {i}\n" for i in range(100000)) + BAND), {0, 1}, None),
    "10,000 parameters": ("edition 1\npattern p(" + ", ".join(f"a{i}: count" for i in range(10000)) + ") { }", {0, 1}, None),
    "a name of 1 MB": (SHOP.replace("navy", "n" * MILLION) + "", {0}, None),
    "an unknown name of 1 MB": (layer("band 20 turns of " + "n" * MILLION), {1}, "T101"),
    "an unknown name of 1 MB beside a name of 1 MB": (layer("band 20 turns of " + "n" * MILLION + "m").replace(
        "thread navy", "thread " + "n" * MILLION), {1}, "T101"),
    "a text of 1 MB": (SHOP + f'rod "{"R" * MILLION}" on tube {{ at 20 cm {{ band 20 turns of navy }} }}', {0}, None),
    "a text of 1 MB of strokes": (SHOP + f'rod "{chr(92) * 2 * MILLION}" on tube {{ at 20 cm {{ band 20 turns of navy }} }}',
                                  {0}, None),
    "a text of 1 MB that is not closed": (SHOP + '"' + "R" * MILLION, {1}, "T004"),
    "a line of 10 MB": (layer((BAND + " ") * 2 + "//" + "x" * (10 * MILLION)), {0}, None),
    "a line of 10 MB with faults": (layer("bnad 20 turns of navy " * 450000), {1}, None),
    "10 MB of wide letters": (layer("band 20 turns of " + "港" * (3 * MILLION)), {1}, None),
    "10 MB of combining accents": (layer("band 20 turns of e" + "\u0301" * (5 * MILLION)), {1}, None),
    "a colour without digits": (SHOP + "thread z { turns: 67 per cm, colour: # }", {1}, "T003"),
    "a million signs": ("?" * MILLION, {1}, "T003"),
    "right to left marks": (layer("band 20 turns of \u202enavy"), {1}, None),
    "a used file without end": (SHOP + 'use "' + "a/" * 100000 + 'a"', {1}, None),
    "10,000 used files": (SHOP + "".join(f'use "f{i}"\n' for i in range(10000)), {1}, "T905"),
    "uses held within one another": ("edition 1\n" + nested('use "a" {', "}", 10000), {1}, "T902"),
    "escapes for terminals": (layer('band 20 turns of \x1b[31mnavy "\x1b]0;x\x07"'), {1}, "T002"),
}

def crossed(options, strands="strand 2 of navy", kind="chevron", ends="24 turns of navy"):
    """A crosswrap in the place."""
    return layer(f"{kind} {options} ends: {ends} {{ {strands} }}")


def coloured(colours, period="9 cm", strands="strand 2 of dusk"):
    """A crosswrap of a variegated thread, and a band of it."""
    return (f"{SHOP}thread dusk {{ diameter: 0.15 mm, colours: {colours}, period: {period} }}\n"
            f'rod "R" on tube {{ at 20 cm length: 60 mm {{ under {{ band fill of dusk }}\n'
            f"chevron crossings: 3 ends: 24 turns of dusk {{ {strands} }} }} }}\n")


# Files of many runs: {name: (text, runs)}. As many as a file may have, where the form allows just that; threads that are
# wound together count one by one, and all come to some 65,536.
ROOM = SHOP.replace("100 cm", "9000 m").replace("diameter: 0.15 mm", "turns: 67 per cm")


def roomy(statements, shop=ROOM, place="20 cm"):
    return f'{shop}rod "R" on tube {{ at {place} {{ {statements} }} }}\n'


RUNS = {
    "bands": (roomy("repeat 32768 { band 8 turns of navy  band 9 turns of mist }"), 65536),
    "bands of a turn": (roomy("repeat 32768 { band 1 turn of navy  band 1 turn of mist }"), 65536),
    "bands of lengths": (roomy("repeat 32768 { band 3.3 mm of navy  band 2.7 mm of mist }"), 65536),
    "bands and gaps": (roomy("repeat 32768 { band 20 turns of navy  gap 2 mm }"), 65536),
    "bands of two threads": (roomy("repeat 32768 { band 20 turns of [navy, mist] }"), 32768),
    "mirrors": (roomy("mirror {" * 50 + "symmetric { repeat 16384 { band 8 turns of navy  band 9 turns of mist } }" + "}" * 50), 65536),
    "inlays": (roomy("repeat 7281 { band 50 turns of navy { inlay 2 turns of mist every: 10 turns } }"), 65529),
    "a fade in steps": (roomy("band 20 turns of navy fade to mist runs: [" + "in 1 out 9, " * 32767 + "] band 20 turns of mist"), 65536),
    "fades": (roomy("for i in 1 to 13107 { band 20 turns of navy fade to mist steps: 2 }"), 65535),
    "shades": (roomy("repeat 16384 { fade 40 mm of [navy, mist] steps: 1 }"), 65536),
    "bands measured": (roomy("repeat 32768 { band 20 turns of navy measured: 3 mm  band 20 turns of mist }"), 65536),
    "layers": (roomy("".join("over { repeat 512 { band 8 turns of navy  band 8 turns of mist } } " for _ in range(64)),
                     ROOM + "bench { stack: 100, ridge: 100 }\n"), 65536),
    "layers with gaps": (roomy("".join(f"over {{ repeat 512 {{ band 8 turns of navy  gap {i + 1} mm }} }} " for i in range(64)),
                               ROOM + "bench { stack: 100, ridge: 100 }\n"), 65536),
    "two feet": (roomy("repeat 16384 { band 8 turns of navy  band 8 turns of mist }",
                       ROOM + "guide ring { foot: [900 m, 900 m], gap: 9 mm }\n", "2000 m guide: ring"), 65536),
    "pieces from spools": (roomy("repeat 32768 { band 8 turns of navy  band 9 turns of mist }",
                                 ROOM.replace("cm }", "cm, spool: 3 m, stock: 900 m, price: 2 }")), 65536),
    "turns measured one by one": (roomy("repeat 32768 { band 150 turns of navy  band 150 turns of mist }",
                                        ROOM + "bench { measure: 1 turn, pack: 4 turns }\n"), 65536),
}

PATTERN = "pattern cross(t: thread) { chevron crossings: 3 ends: 24 turns of t { strand 2 of t } }\n"
CROSS = "chevron crossings: 3 ends: 24 turns of navy { strand 2 of navy }"
TRILLION = 1_000_000_000_000
TEXTS |= {
    "10^12 strands": (crossed("crossings: 3", f"strand {TRILLION} of navy"), {1}, None),
    "10^12 strands by way of 10^6 lines": (crossed("crossings: 3", "for i in 1 to 1000000 { strand 1000000 of navy }"), {1}, None),
    "100,000 lines of strands": (crossed("crossings: 3", "strand 1 of navy\n" * 100000), {1}, None),
    "10^12 lines of strands": (crossed("crossings: 3", f"for i in 1 to {TRILLION} {{ strand 1 of navy }}"), {1}, None),
    "10^12 times no line of strands": (crossed("crossings: 3", f"for i in 1 to {TRILLION} {{ }} strand 1 of navy"), {1}, None),
    "10^12 starts": (crossed(f"crossings: 3 starts: {TRILLION}"), {1}, None),
    "20,000 starts of 2 strands": (crossed("crossings: 3 starts: 20000"), {1}, None),
    "10,000 starts of 2 strands": (crossed("crossings: 3 starts: 10000"), {0, 1}, None),
    "as many passes as a file may have": (crossed("crossings: 3", "strand 20000 of navy"), {0, 1}, None),
    "one pass more than a file may have": (crossed("crossings: 3", "strand 20001 of navy"), {1}, None),
    "10^12 crossings": (crossed(f"crossings: {TRILLION}"), {1}, None),
    "1,000,000 crossings": (crossed("crossings: 1000000"), {0, 1}, None),
    "10,000 crossings": (crossed("crossings: 10000"), {0, 1}, None),
    "10^12 turns of a spiral": (crossed(f"turns: {TRILLION} turns", kind="spiral"), {1}, None),
    "1,000,000 turns of a spiral": (crossed("turns: 1000000 turns", kind="spiral"), {0, 1}, None),
    "a spiral of hardly any turn": (crossed("turns: 0.0000000001 turns", kind="spiral"), {0, 1}, None),
    "10^12 mm lead": (crossed(f"lead: {TRILLION} mm", kind="spiral"), {0, 1}, None),
    "a lead of hardly anything": (crossed("lead: 0.000000001 mm", kind="spiral"), {0, 1}, None),
    "10^12 mm of end bands": (crossed("crossings: 3", ends=f"{TRILLION} mm of navy"), {1}, None),
    "10^12 turns of end bands": (crossed("crossings: 3", ends=f"{TRILLION} turns of navy"), {1}, None),
    "end bands longer than the layer": (crossed("crossings: 3", ends="61 mm of navy"), {1}, None),
    "end bands that leave no field": (crossed("crossings: 3", ends="200 turns of navy"), {1}, None),
    "end bands that leave hardly a field": (crossed("crossings: 3", ends="199 turns of navy"), {0, 1}, None),
    "end bands of nothing": (crossed("crossings: 3", ends="0 turns of navy"), {1}, None),
    "end bands of less than nothing": (crossed("crossings: 3", ends="-24 turns of navy"), {1}, None),
    "end bands that fill": (crossed("crossings: 3", ends="fill of navy"), {1}, None),
    "end bands of a spacer": (crossed("crossings: 3", ends="24 turns of spacer(navy)"), {1}, None),
    "end bands of two threads": (crossed("crossings: 3", ends="24 turns of [navy, mist]"), {0, 1}, None),
    "end bands of no thread": (crossed("crossings: 3", ends="24 turns"), {1}, None),
    "end bands of a count": (crossed("crossings: 3", ends="24 turns of 3"), {1}, None),
    "end bands by zero": (crossed("crossings: 3", ends="24 turns / 0 of navy"), {1}, "T201"),
    "a spacing larger than the field": (crossed("spacing: 61 mm"), {1}, None),
    "a spacing of 10^12 mm": (crossed(f"spacing: {TRILLION} mm"), {1}, None),
    "a spacing of hardly anything": (crossed("spacing: 0.00000001 mm"), {1}, None),
    "a spacing of nothing": (crossed("spacing: 0 mm"), {1}, None),
    "a spacing of less than nothing": (crossed("spacing: -10 mm"), {1}, None),
    "a spacing by zero": (crossed("spacing: 10 mm / 0"), {1}, "T201"),
    "a spacing of zero by zero, by way of values": (
        crossed("spacing: q").replace("blank", "let z = 0 mm\nlet q = z / z * 1 mm\nblank", 1), {1}, "T201"),
    "a spacing that is a count": (crossed("spacing: 3"), {1}, None),
    "an angle of nothing": (crossed("angle: 0 deg"), {1}, None),
    "an angle of less than nothing": (crossed("angle: -30 deg"), {1}, None),
    "a right angle": (crossed("angle: 90 deg"), {1}, None),
    "more than a right angle": (crossed("angle: 91 deg"), {1}, None),
    "just less than a right angle": (crossed("angle: 89.9999999999 deg"), {0, 1}, None),
    "hardly an angle": (crossed("angle: 0.0000000001 deg"), {0, 1}, None),
    "a spiral of hardly an angle": (crossed("angle: 0.0000000001 deg", kind="spiral"), {0, 1}, None),
    "a spiral just less than a right angle": (crossed("angle: 89.9999999999 deg", kind="spiral"), {0, 1}, None),
    "an angle of 10^12 deg": (crossed(f"angle: {TRILLION} deg"), {1}, None),
    "a closed field at hardly an angle": (crossed("angle: 0.001 deg field: closed", "strand fill of navy"), {0, 1}, None),
    "a field closed by one start of 10^12": (crossed(f"crossings: 3 starts: {TRILLION}", "strand fill of navy"), {1}, None),
    "a field closed of the finest thread": (crossed("crossings: 1", "strand fill of navy").replace("0.15", "0.01"), {0, 1}, None),
    "a spiral closed by steep strands": (crossed("turns: 0.001 turns field: closed", "strand fill of navy", kind="spiral"),
                                         {0, 1}, None),
    "no crossings": (crossed("crossings: 0"), {1}, None),
    "crossings less than none": (crossed("crossings: -3"), {1}, None),
    "half a crossing": (crossed("crossings: 1/2"), {1}, None),
    "crossings by zero": (crossed("crossings: 3 / 0"), {1}, None),
    "no starts": (crossed("crossings: 3 starts: 0"), {1}, None),
    "starts less than none": (crossed("crossings: 3 starts: -1"), {1}, None),
    "no strands": (crossed("crossings: 3", "strand 0 of navy"), {0, 1}, None),
    "strands less than none": (crossed("crossings: 3", "strand -3 of navy"), {1}, None),
    "half a strand": (crossed("crossings: 3", "strand 1/2 of navy"), {1}, None),
    "strands by zero": (crossed("crossings: 3", "strand round(3 / 0) of navy"), {1}, "T201"),
    "a crosswrap of spacers alone": (crossed("crossings: 3", "strand 3 of spacer(navy)"), {0, 1}, None),
    "a spacer of a spacer": (crossed("crossings: 3", "strand 3 of spacer(spacer(navy))"), {0, 1}, None),
    "a fill of spacers": (crossed("crossings: 3", "strand 1 of navy strand fill of spacer(mist)"), {0, 1}, None),
    "an empty crosswrap": (crossed("crossings: 3", ""), {1}, "T611"),
    "a crosswrap emptied by `if`": (crossed("crossings: 3", "if no { strand 2 of navy }"), {1}, "T611"),
    "fill twice": (crossed("crossings: 3", "strand fill of navy strand fill of mist"), {1}, None),
    "fill twice, by way of for": (crossed("crossings: 3", "for i in 1 to 2 { strand fill of navy }"), {1}, None),
    "fill 100,000 times": (crossed("crossings: 3", "for i in 1 to 100000 { strand fill of navy }"), {1}, None),
    "fill with a weight": (crossed("crossings: 3", "strand fill of navy weight: 2"), {1}, None),
    "leads [0, 1]": (crossed("crossings: 3 leads: [0, 1]"), {1}, None),
    "leads [1]": (crossed("crossings: 3 leads: [1]"), {1}, None),
    "leads []": (crossed("crossings: 3 leads: []"), {1}, None),
    "leads [1, 2, 3]": (crossed("crossings: 3 leads: [1, 2, 3]"), {1}, None),
    "leads [-1, -1]": (crossed("crossings: 3 leads: [-1, -1]"), {1}, None),
    "leads [1000000, 999999]": (crossed("crossings: 3 leads: [1000000, 999999]"), {1}, None),
    "leads [1000000, 1000000]": (crossed("crossings: 3 leads: [1000000, 1000000]"), {0, 1}, None),
    "leads [1.5, 2]": (crossed("crossings: 3 leads: [1.5, 2]"), {1}, None),
    "leads of threads": (crossed("crossings: 3 leads: [navy, mist]"), {1}, None),
    "leads [8, 7]": (crossed("crossings: 3 leads: [8, 7] facing: 15"), {0, 1}, None),
    "leads [9, 1]": (crossed("crossings: 3 leads: [9, 1]"), {1}, None),
    "100,000 leads": (crossed("crossings: 3 leads: [" + "1, " * 100000 + "1]"), {1}, None),
    "facing 0": (crossed("crossings: 3 facing: 0"), {1}, None),
    "facing -1": (crossed("crossings: 3 facing: -1"), {1}, None),
    "facing beyond": (crossed("crossings: 3 facing: 3"), {1}, None),
    "facing 10^12": (crossed(f"crossings: 3 facing: {TRILLION}"), {1}, None),
    "a way to point that there is not": (crossed("crossings: 3 pointing: sideways"), {1}, None),
    "a field that there is not": (crossed("crossings: 3 field: ploughed"), {1}, None),
    "an option twice": (crossed("crossings: 3 crossings: 4"), {1}, "T108"),
    "two ways to space it": (crossed("crossings: 3 spacing: 10 mm"), {1}, None),
    "no way to space it": (crossed(""), {1}, None),
    "100,000 options of a crosswrap": (crossed("starts: 1 " * 100000 + "crossings: 3"), {1}, "T108"),
    "a crosswrap in a band": (layer(f"band 20 turns of navy {{ {CROSS} }}"), {1}, None),
    "a crosswrap in an inlay": (layer(f"band 40 turns of navy {{ inlay 2 turns of mist at: 1/2 {{ {CROSS} }} }}"), {1}, None),
    "a crosswrap as an inlay": (layer("band 40 turns of navy { inlay chevron of mist at: 1/2 }"), {1}, None),
    "a crosswrap in a crosswrap": (crossed("crossings: 3", CROSS), {1}, None),
    "a crosswrap in repeat": (layer(f"repeat 2 {{ {CROSS} }}"), {1}, "T609"),
    "a crosswrap in repeat once": (layer(f"repeat 1 {{ {CROSS} }}"), {0, 1}, None),
    "a crosswrap in repeat, never": (layer(f"repeat 0 {{ {CROSS} }}"), {0, 1}, None),
    "a crosswrap in repeat 10^12": (layer(f"repeat {TRILLION} {{ {CROSS} }}"), {1}, None),
    "a crosswrap in mirror": (layer(f"mirror {{ {CROSS} }}"), {0, 1}, None),
    "a crosswrap in symmetric": (layer(f"symmetric {{ {CROSS} }}"), {1}, None),
    "a crosswrap in for": (layer(f"for i in 1 to 2 {{ {CROSS} }}"), {0, 1}, None),
    "crosswraps in 100,000 times for": (layer(f"for i in 1 to 100000 {{ {CROSS} }}"), {1}, None),
    "a crosswrap beside a band": (layer(f"band 20 turns of navy {CROSS}"), {1}, "T113"),
    "a band beside a crosswrap": (layer(f"{CROSS} band 20 turns of navy"), {1}, "T113"),
    "a crosswrap beside a band, in over": (layer(f"over {{ band 20 turns of navy {CROSS} }}"), {1}, "T609"),
    "a crosswrap in a pattern called from a band": (
        layer("band 20 turns of navy { cross(navy) }").replace("rod", PATTERN + "rod", 1), {1}, None),
    "a crosswrap in a pattern called from a crosswrap": (
        crossed("crossings: 3", "cross(navy)").replace("rod", PATTERN + "rod", 1), {1}, None),
    "a crosswrap in a pattern called beside a band": (
        layer("band 20 turns of navy cross(mist)").replace("rod", PATTERN + "rod", 1), {1}, "T609"),
    "a crosswrap that calls its own pattern": (
        SHOP + "pattern own() { chevron crossings: 3 ends: 24 turns of navy { own() } }\n"
        'rod "R" on tube { at 20 cm length: 60 mm { own() } }', {1}, None),
    "a pattern of strands called in a crosswrap": (
        crossed("crossings: 3", "two()").replace("rod", "pattern two() { strand 2 of navy }\nrod", 1), {1}, None),
    "a strand outside a crosswrap": (layer("strand 2 of navy"), {1}, None),
    "a strand in a band": (layer("band 20 turns of navy { strand 2 of mist }"), {1}, None),
    "a strand in a pattern": (SHOP + "pattern p() { strand 2 of navy }\n", {1}, None),
    "a strand at the top": (SHOP + "strand 2 of navy\n", {1}, None),
    "a chevron at the top": (SHOP + CROSS + "\n", {1}, None),
    "an inlay in a crosswrap": (crossed("crossings: 3", "inlay 2 turns of navy at: 1/2"), {1}, None),
    "a fade in a crosswrap": (crossed("crossings: 3", "strand 2 of navy fade to mist steps: 3"), {1}, None),
    "a fade after a crosswrap": (layer(f"{CROSS} fade to mist steps: 3"), {1}, None),
    "a crosswrap without length": (SHOP + f'rod "R" on tube {{ at 20 cm {{ {CROSS} }} }}', {1}, None),
    "a crosswrap of length 0": (SHOP + f'rod "R" on tube {{ at 20 cm length: 0 mm {{ {CROSS} }} }}', {1}, None),
    "a crosswrap off the end of the blank": (SHOP + f'rod "R" on tube {{ at 99 cm length: 60 mm {{ {CROSS} }} }}', {1}, None),
    "a crosswrap of 10^12 mm": (SHOP + f'rod "R" on tube {{ at 20 cm length: {TRILLION} mm {{ {CROSS} }} }}', {1}, None),
    "a crosswrap on a guide": (SHOP + 'guide ring { foot: 14 mm }\nrod "R" on tube { at 20 cm guide: ring { '
                               + CROSS.replace("24", "8") + " } }", {1}, "T610"),
    "a crosswrap under a guide's foot": (SHOP + 'guide ring { foot: 40 mm }\nrod "R" on tube { at 20 cm guide: ring { under { '
                                         + CROSS + " } over { band fill of navy } } }", {0, 1}, None),
    "a crosswrap on a cone of 45 deg": (
        SHOP + f'blank cone {{ at 0 mm: 200 mm at 100 mm: 1 mm }}\nrod "R" on cone {{ at 10 mm length: 80 mm {{ {CROSS} }} }}',
        {0, 1}, None),
    "a crosswrap that nothing holds": (layer(CROSS) + "bench { ends: none }", {0, 1}, None),
    "a crosswrap that nothing holds, without friction": (layer(CROSS) + "bench { ends: none, friction: 0 }", {0, 1}, None),
    "a crosswrap that nothing holds, almost along the blank": (
        crossed("angle: 89 deg") + "bench { ends: none, friction: 0.01, steepest: 89.9 deg }", {0, 1}, None),
    "passes held by glue": (layer(CROSS) + "bench { ends: glue }", {1}, None),
    "flattest above steepest": (layer(CROSS) + "bench { flattest: 70 deg, steepest: 10 deg }", {0, 1}, None),
    "a steepest angle of 90 deg": (layer(CROSS) + "bench { steepest: 90 deg }", {0, 1}, None),
    "no stack": (layer(CROSS) + "bench { stack: 0 }", {0, 1}, None),
    "a stack of 10^12": (layer(CROSS) + f"bench {{ stack: {TRILLION} }}", {0, 1}, None),
    "no paper": (layer(CROSS) + "bench { paper: 0 mm }", {0, 1}, None),
    "paper of 10^12 mm": (layer(CROSS) + f"bench {{ paper: {TRILLION} mm }}", {0, 1}, None),
    "32 crosswraps stacked": (layer(f"{CROSS}\n" * 32), {0, 1}, None),
    "64 crosswraps stacked": (layer(f"{CROSS}\n" * 64), {0, 1}, None),
    "65 crosswraps stacked": (layer(f"{CROSS}\n" * 65), {0, 1}, None),
    "10,000 crosswraps stacked": (layer(f"{CROSS}\n" * 10000), {0, 1}, None),
    "64 spirals of 300 strands stacked": (
        layer("spiral turns: 3 turns ends: 24 turns of navy { strand 300 of navy }\n" * 64), {0, 1}, None),
    "a closed field of 60 m": (
        SHOP.replace("100 cm: 4 mm", "100 m: 12 mm") + 'rod "R" on tube { at 20 cm length: 60 m { '
        + CROSS.replace("crossings: 3", "crossings: 3000") + " } }", {0, 1}, None),
    "a crosswrap measured": (layer(f"{CROSS} measured: 3 mm"), {1}, None),
    "10,000 times if in a crosswrap": (crossed("crossings: 3", nested("if yes {", "}", 10000, "strand 1 of navy")), {1}, "T902"),
    "10,000 parentheses in a strand": (crossed("crossings: 3", f"strand {nested('(', ')', 10000, '2')} of navy"), {1}, "T902"),
    "10,000 braces in a crosswrap": (crossed("crossings: 3", nested("{", "}", 10000)), {1}, None),
    "a crosswrap without an end": (layer("chevron crossings: 3 ends: 24 turns of navy { strand 2 of navy"), {1}, None),
    "a crosswrap without braces": (layer("chevron crossings: 3 ends: 24 turns of navy"), {1}, None),
    "a crosswrap of nothing at all": (layer("chevron"), {1}, None),
    "100,000 times chevron": (layer("chevron " * 100000), {1}, None),
    "100,000 times strand": (crossed("crossings: 3", "strand " * 100000), {1}, None),
    "100,000 times `of`": (crossed("crossings: 3", ends="24 turns " + "of navy " * 100000), {1}, None),
    "colours without a period": (coloured("[#22346b, #9db8d6]").replace(", period: 9 cm", ""), {1}, None),
    "a period without colours": (coloured("[]").replace("colours: [], ", ""), {1}, None),
    "a period of nothing": (coloured("[#22346b, #9db8d6]", "0 mm"), {1}, None),
    "a period of less than nothing": (coloured("[#22346b, #9db8d6]", "-9 cm"), {1}, None),
    "a period of hardly anything": (coloured("[#22346b, #9db8d6]", "0.000000001 mm"), {0, 1}, None),
    "a period of 10^12 mm": (coloured("[#22346b, #9db8d6]", f"{TRILLION} mm"), {0, 1}, None),
    "a period by zero": (coloured("[#22346b, #9db8d6]", "9 cm / 0"), {1}, "T201"),
    "a list of no colours": (coloured("[]"), {1}, None),
    "a list of one colour": (coloured("[#22346b]"), {0, 1}, None),
    "one colour, and no list": (coloured("#22346b"), {1}, None),
    "colours that are threads": (coloured("[navy, mist]"), {1}, None),
    "a colour that is a count": (coloured("[#22346b, 3]"), {1}, None),
    "64 colours": (coloured("[" + "#22346b, " * 63 + "#9db8d6]"), {0, 1}, None),
    "1,000,000 colours": (coloured("[" + "#22346b, " * 999999 + "#9db8d6]"), {0, 1}, None),
    "100,000 colours in 1 mm": (coloured("[" + "#22346b, #9db8d6, " * 49999 + "#9db8d6]", "1 mm"), {0, 1}, None),
}
# Each kind of block, 10,000 deep.
for opening in ("under {", "over {", "repeat 1 {", "mirror {", "symmetric {", "for i in 1 to 1 {", "if yes {",
                "if no { } else {", "band 20 turns of navy {", "at 20 cm {",
                "chevron crossings: 3 ends: 24 turns of navy {", "spiral turns: 3 turns ends: 24 turns of navy {"):
    TEXTS[f"10,000 times {opening}"] = (layer(nested(opening, "}", 10000)), {1}, "T902")
    TEXTS[f"10,000 times {opening} and no end"] = (layer(opening * 10000), {1}, None)

TOKENS = """edition about use size thread bench blank guide pattern rod let band fade inlay gap repeat mirror symmetric for
if else require under over at as on of to in out per fill turns turn and or not yes no chevron diamond spiral strand
mm cm m ft yd deg % navy mist tube ring a b i width( round( first( rest( count( spacer( min( list: turns: diameter:
size: steps: over: runs: every: at: weight: offset: length: from: toward: guide: foot: gap: units: bind: colour:
crossings: spacing: angle: lead: ends: starts: leads: facing: field: build: pointing: colours: period: [1, [2, closed down
{ } { } { } ( ) [ ] , : . = == != < <= > >= + - * / 0 1 2 3 8 20 0.15 1/2 3/4 100 999999999999999 "R" "std/trims"
#22346b #12 ? @ 1e9 1.2.3 " é 港 // ///""".split()


def soup(seed):
    """Tokens of the language in no order."""
    dice = random.Random(seed)
    text = " ".join(dice.choice(TOKENS) + ("\n" if dice.random() < 0.1 else "") for _ in range(dice.randrange(1, 200)))
    return layer(text) if seed % 2 else text


def stirred(seed, text):
    """A good file with some tokens taken out, doubled, or taken for others."""
    dice = random.Random(seed)
    pieces = re.findall(r'"[^"\n]*"|\w+|\s+|[^\w\s]', text)
    for _ in range(dice.randrange(1, 12)):
        at = dice.randrange(len(pieces))
        pieces[at:at + 1] = dice.choice(([], [pieces[at]] * 2, [" ", dice.choice(TOKENS), " "], [dice.choice(pieces)]))
    return "".join(pieces)


def noise(seed):
    """Random bytes."""
    dice = random.Random(seed)
    return dice.randbytes(dice.randrange(1, 400))
