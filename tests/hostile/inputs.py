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
# Each kind of block, 10,000 deep.
for opening in ("under {", "over {", "repeat 1 {", "mirror {", "symmetric {", "for i in 1 to 1 {", "if yes {",
                "if no { } else {", "band 20 turns of navy {", "at 20 cm {"):
    TEXTS[f"10,000 times {opening}"] = (layer(nested(opening, "}", 10000)), {1}, "T902")
    TEXTS[f"10,000 times {opening} and no end"] = (layer(opening * 10000), {1}, None)

TOKENS = """edition about use size thread bench blank guide pattern rod let band fade inlay gap repeat mirror symmetric for
if else require under over at as on of to in out per fill turns turn and or not yes no chevron diamond spiral strand
mm cm m ft yd deg % navy mist tube ring a b i width( round( first( rest( count( spacer( min( list: turns: diameter:
size: steps: over: runs: every: at: weight: offset: length: from: toward: guide: foot: gap: units: bind: colour:
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
