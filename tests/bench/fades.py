"""Fades whose turns are chosen: how far from even beside the plain fade, and what the search costs."""
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import BUILD, ROOT
from counting import count_function, run

FADES = str((ROOT / BUILD / "fades").resolve())
TURNS = [20, 30, 42, 56]
BLURS = {"blur 1 to 3 turns": (1, 3, 0.35), "blur 1 turn": (1, 1, 0.45)}     # least, most, the goal of the median
PAIRS, COUNTED = 500, 40
MOST_MILLISECONDS = 20
MOST_INSTRUCTIONS = 60          # million: what 20 ms are at three thousand million a second


def show(goals, folder):
    for turns in TURNS:
        for name, (least, most, goal) in BLURS.items():
            of = [FADES, turns, least, most]
            ratio, proven, milliseconds = map(float, run([*of, PAIRS], codes=(0,))[0].split())
            instructions = count_function(folder, "choose_fade", *map(str, [*of, COUNTED]))[1] / COUNTED
            row = f"{turns} turns, {name}"
            goals.row(f"{row}: departure beside the plain fade's", ratio, most=goal)
            goals.row(f"{row}: proven to be the least, %", 100 * proven)
            goals.row(f"{row}: million instructions, mean", instructions / 1e6, most=MOST_INSTRUCTIONS)
            goals.row(f"{row}: milliseconds, median", milliseconds, most=MOST_MILLISECONDS)
