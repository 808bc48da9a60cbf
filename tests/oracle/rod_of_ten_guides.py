"""A complete rod: parts, a butt wrap, ten guides in one series, some with a body of their own. What it is written as, and
what grammar/reference.md makes of it in the model: every turn, width, position, diameter and length of thread."""
from fractions import Fraction

from model import Band, Blank, Guide, Inlay, Layer, Place, Strand, Thread, lay_place

TIP = 2130
TEXT = '''edition 1
thread navy { turns: 67 per cm }
thread mist { turns: 67 per cm }
thread foam { turns: 68 per cm }
bench { units: mm, hand: 99 m }
blank inshore { at 0 cm: 14.8 mm  at 60 cm: 11.2 mm  at 140 cm: 6 mm  at 213 cm: 2.1 mm }
guide ring25 { foot: [18 mm, 17 mm], gap: 12 mm, width: 2.6 mm, height: 0.9 mm, ramp: 6 mm, before: 4 mm }
guide ring12 { foot: [13 mm, 13 mm], gap: 8 mm, width: 2 mm, height: 0.7 mm, ramp: 5 mm, before: 3 mm }
guide ring8 { foot: 12 mm, gap: 5 mm, width: 1.8 mm, height: 0.6 mm, ramp: 4 mm, before: 3 mm }
guide ring6 { foot: 10 mm, gap: 4 mm, width: 1.4 mm, height: 0.5 mm, ramp: 4 mm, before: 3 mm, side: butt }
rod "Ten" on inshore {
    part grip at 0 cm length: 24 cm { diameter: 26 mm }
    part check at grip.tip length: 4 mm { diameter: [16 mm, 15 mm] }
    at check.tip until: 30 cm { band 12 turns of foam  band fill of navy  band 12 turns of foam }
    series from: tip {
        at 142 cm: ring25 { under { band fill of foam }  over { band 8 turns of mist  band fill of navy  band 8 turns of mist } }
        at [113 cm, 90 cm]: ring12
        at [715 mm, 555 mm, 41 cm]: ring8
        at [29 cm, 185 mm, 9 cm]: ring6 { band fill of navy { inlay 2 turns of mist at: 1/2 } }
        at 30 mm: ring6 { band 60 turns of mist }
        band 8 turns of mist
        band fill of navy
        band 10 turns of foam
    }
}
'''

NAVY, MIST, FOAM = (Thread(name, Fraction(10, turns), Fraction(10, turns)) for name, turns in (('navy', 67), ('mist', 67), ('foam', 68)))
RING25 = Guide((18, 17), 12, width=2.6, height=0.9, ramp=6, before=4)
RING12 = Guide((13, 13), 8, width=2, height=0.7, ramp=5, before=3)
RING8 = Guide((12,), 5, width=1.8, height=0.6, ramp=4, before=3)
RING6 = Guide((10,), 4, side='butt', width=1.4, height=0.5, ramp=4, before=3)


def turns(count, thread):
    return Band(('turns', count), [Strand(thread)])


def fill(thread, inlays=()):
    return Band(('fill', Fraction(1)), [Strand(thread)], inlays)


def usual():
    return [Layer('over', [turns(8, MIST), fill(NAVY), turns(10, FOAM)])]


def two_layers():
    return [Layer('under', [fill(FOAM)]), Layer('over', [turns(8, MIST), fill(NAVY), turns(8, MIST)])]


def lined():
    return [Layer('over', [fill(NAVY, [Inlay(('turns', 2), MIST, at=('ratio', Fraction(1, 2)))])])]


def plain():
    return [Layer('over', [turns(60, MIST)])]


def rods():
    """As Comparison.rods takes them."""
    blank = Blank([(0, Fraction('14.8')), (600, Fraction('11.2')), (1400, Fraction(6)), (TIP, Fraction('2.1'))])
    places = [Place(Fraction(244), 1, Fraction(56), [Layer('over', [turns(12, FOAM), fill(NAVY), turns(12, FOAM)])])]
    for guide, body, rings in ((RING25, two_layers, (1420,)), (RING12, usual, (1130, 900)), (RING8, usual, (715, 555, 410)),
                               (RING6, lined, (290, 185, 90)), (RING6, plain, (30,))):
        for ring in rings:
            places += guide.places(Fraction(TIP - ring), body)
    for place in places:
        lay_place(blank, place)
    return [(blank, places)]
