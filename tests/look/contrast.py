#!/usr/bin/python3
"""Every text on every page stands out from what it is set on, and is set in fonts that every system names.

The contrast ratio, (lighter + 0.05) / (darker + 0.05) of the relative luminances of two sRGB colours, and the least that
is enough, 4.5 for texts and 3 for the edges of what one presses, are those of WCAG 2.2: W3C, Web Content Accessibility
Guidelines 2.2, 2023, success criteria 1.4.3 and 1.4.11, and the definitions of both words in section 6.
"""
import pathlib
import re
import shutil
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, scratch, turnlay

TEXT, EDGE = 4.5, 3.0
GENERIC = {"serif", "sans-serif", "monospace"}
WHITE, BLACK = "#ffffff", "#000000"

# What a colour of the sheet's page is set on: the grounds of what has it. Black and white are those of paper.
GROUNDS = {
    "--ink": ("--ground", "--card", "--accent-soft"),
    "--soft": ("--ground", "--card"),
    "--accent": ("--ground", "--card"),
    "--on-accent": ("--accent",),
    "--caution": ("--caution-ground",),
    "--on-paper": ("#fff",),
    "#000": ("#fff",),
}
# Filled with these, but no text stands on it: the way done and to do, what lies behind the list of steps.
BARE = {"--line", "--accent", "--paper", "#000a", "none"}
EDGES = {"--edge": ("--ground", "--card"), "--accent": ("--ground", "--card", "--paper")}


def luminance(colour):
    codes = (int(colour[at:at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (code / 12.92 if code <= 0.04045 else ((code + 0.055) / 1.055) ** 2.4 for code in codes)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first, second):
    darker, lighter = sorted((luminance(first), luminance(second)))
    return (lighter + 0.05) / (darker + 0.05)


def full(colour):
    """"#17a" as "#1177aa"."""
    return "#" + "".join(digit * 2 for digit in colour[1:]) if len(colour) == 4 else colour


def check_formula(checks):
    """Black on white has the greatest ratio, by the definition; the others are worked out by hand from it."""
    for first, second, ratio in ((BLACK, WHITE, 21), (WHITE, WHITE, 1), ("#777777", WHITE, 4.478), ("#ff0000", WHITE, 3.998)):
        checks.check(abs(contrast(first, second) - ratio) < 0.001, f"the contrast of {first} and {second} is {ratio}",
                     contrast(first, second))


def enough(checks, name, first, second, least=TEXT):
    ratio = contrast(first, second)
    checks.check(ratio >= least, f"{name}: {first} on {second} has a contrast of {least}", f"it has {ratio:.2f}")


# --- the page for a browser ---

def schemes(css):
    """The page's named colours on a light and a dark screen, and on paper. A colour is said twice, light-dark(#fff, #000),
    or once for both."""
    screen, paper = (re.findall(r"(--[\w-]+):\s*(?:light-dark\((#\w+), (#\w+)\)|(#\w+))", root) for root in
                     (re.search(r":root \{([^}]*)\}", css)[1], re.search(r":root, :root\[data-scheme\] \{([^}]*)\}", css)[1]))
    light = {name: day or both for name, day, _, both in screen}
    dark = {name: night or both for name, _, night, both in screen}
    return {"light": light, "dark": dark, "on paper": {**light, **{name: both for name, _, _, both in paper}}}


def check_schemes(checks, css, named):
    """The switch takes one of both; what is said to be dark is dark, the pictures' ground too."""
    for scheme in ("light", "dark"):
        checks.check(f':root[data-scheme="{scheme}"] {{ color-scheme: {scheme}; }}' in css, f"the page: its switch knows {scheme}")
    for name in ("--ground", "--card", "--paper", "--caution-ground", "--accent-soft"):
        checks.check(luminance(full(named["light"][name])) > 0.7, f"the page, light: {name} is light", named["light"][name])
        checks.check(luminance(full(named["dark"][name])) < 0.04, f"the page, dark: {name} is dark", named["dark"][name])


def words_of(css, name):
    """What the properties of that name are set to."""
    return {re.sub(r"var\((--[\w-]+)\)", r"\1", value.strip()) for value in re.findall(rf"[{{;\s]{name}:\s*([^;}}]+)", css)}


def check_fonts(checks, name, families):
    families = [family.strip() for each in families for family in each.split(",")]
    checks.check(families and set(families) <= GENERIC, f"{name}: is set in generic families", families)


def check_page(checks):
    css = re.search(r"<style>(.*?)</style>", turnlay("sheet", "--format", "html", "harbour.lay",
                                                     folder=ROOT / "examples").out.decode(), re.S)[1]
    css = re.sub(r"/\*.*?\*/", "", css, flags=re.S)
    texts = words_of(css, "color") | {each for each in words_of(css, "fill") if each != "none"}
    checks.check(texts == set(GROUNDS), "the page: what each colour of a text is set on is known", texts ^ set(GROUNDS))
    grounds = {ground for each in GROUNDS.values() for ground in each}
    filled = words_of(css, "background")
    checks.check(filled == grounds - {"#fff"} | BARE, "the page: every ground is known", filled ^ (grounds | BARE))
    check_schemes(checks, css, schemes(css))
    for scheme, named in schemes(css).items():
        for pairs, least in ((GROUNDS, TEXT), (EDGES, EDGE)):
            for colour, under in pairs.items():
                for ground in under:
                    enough(checks, f"the page, {scheme}: {colour} on {ground}", full(named.get(colour, colour)),
                           full(named.get(ground, ground)), least)
    check_fonts(checks, "the page", [re.sub(r"^.*?[\d.]+(?:rem|px|pt|em)(?:/[\d.]+)?\s+", "", font)
                                     for font in words_of(css, "font") if font != "inherit"] +
                list(words_of(css, "font-family")))


# --- pictures ---

def check_picture(checks, name, svg):
    """Texts of a picture stand on the paper, those of a template also on its tint."""
    paper = re.search(r'<path fill="(#\w{6})"', svg)[1]
    checks.check(paper == WHITE, f"{name}: the paper comes first, and is white", paper)
    colours = set(re.findall(r'<text [^>]*fill="(#\w{6})"', svg))
    checks.check(colours, f"{name}: has texts")
    for colour in sorted(colours):
        enough(checks, name, colour, paper)
    check_fonts(checks, name, re.findall(r'font-family="([^"]*)"', svg))
    return colours


def check_pictures(checks):
    for example in ("harbour", "heron", "tern"):
        for view in ("rod", "presentation", "side", "unrolled", "eye", "template"):
            answer = turnlay("draw", "--view", view, f"{example}.lay", folder=ROOT / "examples")
            if answer.code == 0:
                check_picture(checks, f"{example}, {view}", answer.out.decode())
    for words in ((), ("--between", "navy,foam"), ("--between", "navy,foam", "--eyes", "tritanopia")):
        answer = turnlay("shades", "--format", "svg", *words, "harbour.lay", folder=ROOT / "examples")
        if checks.check(answer.code == 0, f"harbour, shades {words}", answer.words()):
            check_picture(checks, f"harbour, shades {words}", answer.out.decode())
    svg = turnlay("draw", "--view", "template", "harbour.lay", folder=ROOT / "examples").out.decode()
    tints = set(re.findall(r'<path fill="(#\w{6})" d=', svg)) - {WHITE}
    inks = set(re.findall(r'<text [^>]*fill="(#\w{6})"', svg))
    checks.check(tints, "a template has tints")
    for tint in sorted(tints):
        for ink in sorted(inks):
            if luminance(tint) > 0.5:
                enough(checks, "a template's tint", ink, tint)


# --- paper ---

FONTS = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
<dir>/usr/share/fonts</dir>
<cachedir>{folder}</cachedir>
<alias binding="same"><family>sans-serif</family><prefer><family>DejaVu Serif</family></prefer></alias>
</fontconfig>
"""


def check_paper(checks, folder):
    if not shutil.which("pdftocairo"):
        checks.skip("texts on paper", "poppler-utils is NOT INSTALLED; make deps installs it")
        return
    fonts = folder / "fonts.conf"
    fonts.write_text(FONTS.format(folder=folder))
    sheet, page = folder / "sheet.pdf", folder / "page.svg"
    answer = turnlay("sheet", "--format", "pdf", "-o", sheet, "first.lay", folder=ROOT / "examples",
                     environment={"FONTCONFIG_FILE": str(fonts)})
    if not checks.check(answer.code == 0, "a sheet is printed", answer.words()):
        return
    names = subprocess.run(["pdffonts", sheet], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
    checks.check(names and all("Serif" in name for name in names), "the font on paper is the one that stands for sans-serif here",
                 "\n".join(names))
    pages = int(re.search(r"Pages: *(\d+)", subprocess.run(["pdfinfo", sheet], capture_output=True, text=True, check=True).stdout)[1])
    colours = set()
    for number in range(1, pages + 1):
        subprocess.run(["pdftocairo", "-svg", "-f", str(number), "-l", str(number), sheet, page], check=True)
        for red, green, blue in re.findall(r'<g (?:style="fill:|fill=")rgb\(([\d.]+)%, ?([\d.]+)%, ?([\d.]+)%\)[^>]*>\s*<use ',
                                           page.read_text()):
            colours.add("#" + "".join(f"{round(float(share) * 2.55):02x}" for share in (red, green, blue)))
    checks.check(len(colours) > 1, "the colours of texts on paper can be read", colours)
    for colour in sorted(colours):
        enough(checks, "a printed sheet", colour, WHITE)


def main():
    checks = Checks()
    check_formula(checks)
    check_page(checks)
    check_pictures(checks)
    with scratch() as folder:
        check_paper(checks, pathlib.Path(folder))
    checks.finish()


if __name__ == "__main__":
    main()
