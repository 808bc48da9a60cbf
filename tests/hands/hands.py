#!/usr/bin/python3
"""What two hands do, worked through once more, with nothing but grammar/bench_protocol.md and the sheet as data.

Every action of every example and golden file that compiles, at four benches (a pedal or a hand drive, with a brake and
without), has to be lawful, and leave what the sheet says that it leaves. Where to stop for the night is counted once more, turn by
turn. Then actions are spoilt, one law at a time, and each has to be refused for that law.
"""
import json
import os
import pathlib
import re
import shutil
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, in_turn, scratch, turnlay
from looks import badly_looked_at
from night import night_differs
from readings import readings

BENCHES = [None] + [(drive, brake) for drive in ("pedal", "hand") for brake in ("yes", "no")]
CUTS = {"lay end", "pull through", "trim tag", "trim end"}
BETWEEN_TURNS_OF_A_PASS = {"lay in", "lay loop", "lay end", "tape down", "untape"}
ONE_HAND = {"take up", "stand", "pack", "symmetry"}
BEGIN = {"start", "lay in", "lay loop"}
# What an action handles of its pieces, where that does not rest on the action's own data.
HANDLES = {
    "start": ("tag", "line"), "lay in": ("tag", "line"), "lay loop": ("loop",), "take up": ("line",), "stand": ("line",),
    "cut from spool": ("line",),
    "lay end": ("line", "end"), "pull through": ("line", "loop", "end"), "trim tag": ("tag",), "trim end": ("end",),
    "leg": ("line",), "wind": ("line",),
    **{kind: ("tag", "line", "end", "loop") for kind in ("take spacer", "tape on", "tape off", "unwind", "take ends")},
}
ROUNDED = 1e-5  # mm, twice as much as a sum of lengths in the data may differ by
OWN_TURNS = 3  # of a piece that was laid in, before turns hold its tag


class Refused(Exception):
    """An action breaks a law of the page; 0 for one that its row of the table does not allow."""

    def __init__(self, law, why):
        super().__init__(f"law {law}: {why}")
        self.law = law


def law(number, holds, why):
    if not holds:
        raise Refused(number, why)


class Piece:
    def __init__(self, at, data):
        self.at, self.spool, self.spacer = at, data["from"] == "spool", data["spacer"]
        self.bobbin, self.loaded, self.length = data["from"] == "bobbin", False, data["cut_mm"]
        self.layer, self.turns, self.passes = (data["place"], data["layer"]), data["turns"], data["passes"]
        self.state, self.made, self.legs, self.laid_in, self.pulled = "off", 0, 0, False, False
        self.things = {}   # thing: turns of the stretch when it was laid
        self.tape = {}     # thing: (turns of the stretch when it was taped, turns that the tape is clear of or None)
        self.stretch = None


def guides_of(places):
    """Feet stand one behind the other, from 0."""
    guides = []
    for at, place in enumerate(places):
        if place["foot"]:
            guides[-1].append(at)
            guides.append(guides[-1])
        else:
            guides.append([at])
    return guides


class Bench:
    """The state of a rod on the bench; work(action) does one action or refuses it."""

    def __init__(self, rod, bench):
        self.rules, self.windings = bench, rod["windings"]
        self.pieces = [Piece(at, data) for at, data in enumerate(rod["pieces"])]
        self.layers = {(p, l): layer for p, place in enumerate(rod["places"]) for l, layer in enumerate(place["layers"])}
        # The page leaves it to the plan whether a pass comes back; the plan is not in the data, but its legs are.
        self.legs_of_pass = dict.fromkeys(self.layers, 1)
        for action, layer in actions_of(rod):
            if action["kind"] == "leg" and action["leg"] == "back":
                self.legs_of_pass[layer] = 2
        self.stretch_of, self.stretch_turns, self.stretch_pieces = [], {}, {}
        for winding in self.windings:
            layer = winding["place"], winding["layer"]
            runs = self.layers[layer]["runs"][:winding["run"]]
            stretch = (*layer, sum(run["role"] == "gap" for run in runs))
            self.stretch_of.append(stretch)
            self.stretch_turns[stretch] = self.stretch_turns.get(stretch, 0) + winding["turns"]
            for at in winding["pieces"]:
                self.pieces[at].stretch = stretch
                self.stretch_pieces.setdefault(stretch, {})[at] = True
        self.made = {stretch: 0 for stretch in self.stretch_turns}
        self.live = {}          # pieces that are in work or have something left
        self.stretch = None     # the one that is worked
        self.winding, self.wound = 0, 0
        self.layer_made = {}
        self.last_wind, self.between = None, set()
        self.packed = self.pulled = False
        self.cut = False
        self.unpacked, self.spacer_taken = {}, set()
        self.passes, self.marked, self.prepared, self.sealed = {}, set(), set(), set()
        self.last_made = None
        self.unwound = {}       # spacers of crosswraps: their layers
        self.bobbins = 0        # in use
        self.places = rod["places"]
        self.guides = guides_of(self.places)  # of each place the places that are feet of its guide
        self.lies, self.guide_tape, self.closed = set(), set(), set()  # places
        self.run_made = {}

    # What holds what

    def cover(self, piece, thing):
        return self.made[piece.stretch] - piece.things[thing] if piece.stretch else 0

    def holder(self, piece, thing):
        if thing in piece.tape:
            return "bobbin" if thing == "line" and piece.bobbin else "tape"
        bind = self.rules["bind_turns"]
        if thing == "line":
            return "spool" if piece.spool else "finger"
        if piece.stretch:
            over = self.cover(piece, thing)
            if thing == "tag" and over >= bind and (not piece.laid_in or piece.made >= min(OWN_TURNS, piece.turns)):
                return "turns"
            if thing == "end" and (piece.pulled or over >= bind):
                return "turns"
            if thing == "loop" and over >= min(bind, self.rules["loop_turns"]):
                return "turns"
        return "finger"

    def held(self):
        return {(piece.at, thing): self.holder(piece, thing) for piece in self.live.values() for thing in piece.things}

    def hands_beside(self, held, handled, wound=()):
        """Fingers, and whether a hand holds the blank, for what an action does not handle. wound: pieces it winds."""
        fingers, together, line_with_tag = 0, [], set()
        for piece in self.live.values():
            at = piece.at
            own = [thing for thing in piece.things if held[at, thing] == "finger"]
            if "tag" in own and "line" in piece.things and not piece.made and at not in wound and "line" not in piece.tape:
                line_with_tag.add(at)
                fingers += not {(at, "tag"), (at, "line")} & handled
                own = [thing for thing in own if thing not in ("tag", "line")]
            if "line" in own and piece.state == "running":
                together.append((at, "line"))
                own.remove("line")
            fingers += sum((at, thing) not in handled for thing in own)
        fingers += bool(together) and not handled & set(together)
        touched = {at for at, _ in handled}
        blank = not self.rules["brake"] and any(
            holder == "spool" and at not in line_with_tag and at not in touched for (at, _), holder in held.items())
        return fingers, blank

    # Actions

    def hands_of(self, action):
        kind = action["kind"]
        if kind == "leg" or kind == "wind" and not action["by_hand"]:
            return 1 if self.rules["drive"] == "pedal" else 2
        return 1 if kind in ONE_HAND else 2

    def work(self, action, layer):
        kind = action["kind"]
        pieces = [self.pieces[at] for at in action.get("pieces", ())]
        handles = (action["thing"],) if kind in ("tape down", "untape") else HANDLES.get(kind, ())
        handled = {(piece.at, thing) for piece in pieces for thing in handles}
        driven = kind == "leg" or kind == "wind" and not action["by_hand"]
        fingers, blank = self.hands_beside(self.held(), handled, {p.at for p in pieces} if kind in ("wind", "leg") else ())
        law(1, self.hands_of(action) + fingers + (blank and not driven) <= 2,
            f"{self.hands_of(action)} hands for it, {fingers} fingers, blank held: {blank}")
        if driven:
            self.before_driving()
        if kind in CUTS:
            self.cut = True
        getattr(self, kind.replace(" ", "_"), self.other)(action, pieces, layer)
        if kind != "wind":
            self.between.add(kind)
        for piece in pieces:
            if piece.things or piece.state not in ("off", "ended"):
                self.live[piece.at] = piece
            else:
                self.live.pop(piece.at, None)
        for piece in pieces:
            law(2, piece.spool or piece.state != "standing" or "line" in piece.tape, "a cut piece stands and is not taped")
        fingers, blank = self.hands_beside(self.held(), set())
        law(1, fingers + blank <= 2, f"after it {fingers} fingers, blank held: {blank}")

    def before_driving(self):
        running = 0
        for piece in self.live.values():
            if piece.state == "laid in":
                law(2, "line" in piece.tape, "the line of a piece laid in hangs loose while the blank turns")
            law(3, not piece.spool or piece.state not in ("laid in", "standing"), "a spool stands while the blank turns")
            running += piece.spool and piece.state == "running"
        law(3, running <= self.rules["holders"], "more spools run than there are holders")

    def begin_stretch(self, stretch):
        if stretch == self.stretch:
            return
        self.leave()
        self.stretch = stretch

    def leave(self):
        """Law 9 and the last of law 7."""
        if self.stretch is None:
            return
        law(9, self.made[self.stretch] == self.stretch_turns[self.stretch], "turns of the stretch are not made")
        for at in self.stretch_pieces[self.stretch]:
            piece = self.pieces[at]
            law(9, piece.state == "ended", f"piece {at} is {piece.state} when its stretch is left")
            law(7, not piece.tape, f"tape stays on piece {at}")
            law(9, not piece.things, f"piece {at} has {list(piece.things)} left")
        self.stretch = None

    def lay(self, piece, thing):
        piece.things[thing] = self.made[piece.stretch] if piece.stretch else 0

    def drop(self, piece, thing, number=7):
        law(0, thing in piece.things, f"piece {piece.at} has no {thing}")
        law(number, thing not in piece.tape, f"the {thing} of piece {piece.at} is taped")
        del piece.things[thing]

    def begin(self, pieces, state, laid_in):
        for piece in pieces:
            law(0, piece.state == "off" and piece.stretch, f"piece {piece.at} is {piece.state}")
            law(12, piece.loaded or not piece.bobbin, f"piece {piece.at} is not on its bobbin")
            self.begin_stretch(piece.stretch)
            self.ready_for_turns(piece.layer)
            piece.state, piece.laid_in = state, laid_in
            self.lay(piece, "tag")
            self.lay(piece, "line")

    def ready_for_turns(self, layer):
        data = self.layers[layer]
        law(10, not data["crosswrap"] or self.passes.get(layer, 0) == self.legs_of_pass[layer] * data["passes"], "end bands before all passes are laid")

    def load_bobbin(self, action, pieces, layer):
        law(0, len(pieces) == 1, "several pieces onto one bobbin")
        piece = pieces[0]
        law(0, piece.state == "off" and piece.bobbin and not piece.loaded, f"piece {piece.at} is not to be loaded")
        law(12, self.bobbins < self.rules["bobbins"], "more bobbins than there are")
        law(12, abs(action["thread_mm"] - piece.length) < ROUNDED, f"piece {piece.at} is {piece.length} mm")
        piece.loaded, self.bobbins = True, self.bobbins + 1

    def start(self, action, pieces, layer):
        self.begin(pieces, "running", False)

    def lay_in(self, action, pieces, layer):
        self.begin(pieces, "laid in", True)

    def lay_loop(self, action, pieces, layer):
        for piece in pieces:
            law(0, piece.state != "ended" and "loop" not in piece.things, "a second loop, or one for a piece that is ended")
            self.begin_stretch(piece.stretch)
            self.lay(piece, "loop")

    def take_up(self, action, pieces, layer):
        named = {piece.at for piece in pieces}
        law(0, not any(p.state == "running" and p.at not in named for p in self.live.values()), "another piece runs")
        for piece in pieces:
            law(0, piece.state in ("laid in", "standing"), f"piece {piece.at} is {piece.state}")
            if piece.state == "laid in":
                law(8, self.cover(piece, "tag") >= self.rules["bind_turns"], "too few turns over what is taken up")
            piece.state = "running"

    def wind(self, action, pieces, layer):
        named, turns = {piece.at for piece in pieces}, action["turns"]
        law(10, self.winding < len(self.windings), "turns after the last")
        plan = self.windings[self.winding]
        law(10, action["winding"] == self.winding and named == set(plan["pieces"]), "not the turns that come next")
        law(10, 0 < turns <= plan["turns"] - self.wound, "more turns than the plan has")
        stretch, layer = self.stretch_of[self.winding], (plan["place"], plan["layer"])
        law(10, stretch == self.stretch, "turns of another stretch")
        law(0, named == {p.at for p in self.live.values() if p.state == "running"}, "not just those wind that run")
        law(7, not any("line" in piece.tape for piece in pieces), "a line that winds is taped")
        law(3, not action["by_hand"] or not any(piece.spool for piece in pieces), "a piece from a spool is wound by hand")
        law(12, not action["by_hand"] or len(pieces) == 1 or not any(piece.bobbin for piece in pieces), "a bobbin and another thread")
        one_pass = action["by_hand"] and self.last_wind == (True, named, stretch)
        law(4, not one_pass or self.between <= BETWEEN_TURNS_OF_A_PASS, f"a pass by hand is parted by {self.between}")
        self.above_and_below(layer)
        self.short_of_guide_tape(layer, plan["run"], turns)
        self.made[stretch] += turns
        for piece in pieces:
            piece.made += turns
        for at in self.stretch_pieces[stretch]:
            for thing, (put, clear) in self.pieces[at].tape.items():
                law(7, clear is None or self.made[stretch] - put <= clear, f"turns run into the tape on the {thing} of piece {at}")
        self.layer_made[layer] = self.layer_made.get(layer, 0) + turns
        self.wound += turns
        if self.wound == plan["turns"]:
            self.winding, self.wound = self.winding + 1, 0
        self.last_wind, self.between = (action["by_hand"], named, stretch), set()
        self.packed = self.cut = self.pulled = False
        self.unpacked.setdefault(layer, set()).add(stretch)
        self.last_made = "turns"

    # Guides

    def goes_on(self, place):
        for foot in self.guides[place]:
            self.lies.add(foot)
            under = self.places[foot]["on_place"]
            while under is not None:
                self.closed.add(under)
                under = self.places[under]["on_place"]

    def above_and_below(self, layer):
        """Law 11, before turns or a leg."""
        place, over = layer[0], self.layers[layer]["kind"] == "over"
        law(11, place not in self.closed, "a guide lies on this crosswrap already")
        if self.places[place]["guide"] is None:
            return
        law(11, over or place not in self.lies, "the guide lies already")
        law(11, not over or place in self.lies or not self.rules["guides_taped"], "the guide is not taped yet")
        if over and place not in self.lies:
            self.goes_on(place)

    def short_of_guide_tape(self, layer, run, turns):
        place, data = self.places[layer[0]], self.layers[layer]["runs"][run]
        made = self.run_made[layer, run] = self.run_made.get((layer, run), 0) + turns
        if layer[0] in self.guide_tape and self.layers[layer]["kind"] == "over":
            reached = data["from_mm"] + (data["to_mm"] - data["from_mm"]) * made / data["turns"]
            middle = abs((place["foot_tip_mm"] + place["foot_end_mm"]) / 2 - place["start_mm"])
            law(11, reached <= middle + 1e-5, "turns run into the guide's tape")

    def tape_guide(self, action, pieces, layer):
        law(11, self.rules["guides_taped"] and layer[0] not in self.lies, "a guide is taped once")
        self.leave()
        law(10, not self.live, "the passes of a crosswrap are not taken off")
        self.goes_on(layer[0])
        self.guide_tape.update(self.guides[layer[0]])

    def take_tape(self, action, pieces, layer):
        law(11, layer[0] in self.guide_tape, "there is no tape on this foot")
        self.guide_tape.remove(layer[0])

    def stand(self, action, pieces, layer):
        for piece in pieces:
            law(0, piece.state == "running", f"piece {piece.at} is {piece.state}")
            piece.state = "standing"

    def cut_from_spool(self, action, pieces, layer):
        for piece in pieces:
            law(0, piece.spool and piece.state == "running", f"piece {piece.at} is {piece.state}, or a cut piece")
            piece.spool = False

    def end_pieces(self, pieces):
        for piece in pieces:
            law(0, piece.state in ("running", "standing"), f"piece {piece.at} is {piece.state}")
            self.drop(piece, "line")
            piece.state = "ended"
            self.bobbins -= piece.loaded

    def lay_end(self, action, pieces, layer):
        self.end_pieces(pieces)
        for piece in pieces:
            self.lay(piece, "end")

    def pull_through(self, action, pieces, layer):
        self.end_pieces(pieces)
        for piece in pieces:
            at_end = self.made[piece.stretch] == self.stretch_turns[piece.stretch]
            law(0, "loop" in piece.things, "there is no loop")
            law(8, self.cover(piece, "loop") >= self.rules["final_turns" if at_end else "loop_turns"], "too few turns over the loop")
            self.drop(piece, "loop")
            self.lay(piece, "end")
            piece.pulled = True
        self.pulled = True

    def trim(self, pieces, thing):
        for piece in pieces:
            law(0, thing in piece.things, f"piece {piece.at} has no {thing}")
            law(7, thing not in piece.tape, f"the {thing} is taped")
            law(8, self.holder(piece, thing) == "turns", f"turns do not hold the {thing}")
            self.drop(piece, thing)

    def trim_tag(self, action, pieces, layer):
        self.trim(pieces, "tag")

    def trim_end(self, action, pieces, layer):
        self.trim(pieces, "end")

    def tape_down(self, action, pieces, layer):
        thing, clear = action["thing"], action.get("clear_of")
        for piece in pieces:
            law(0, thing in piece.things and thing not in piece.tape, f"no {thing} of piece {piece.at} to be taped")
            back = thing == "loop" or thing == "tag" and piece.laid_in or not piece.stretch
            law(7, back or clear is not None, f"turns come nearer to tape on the {thing}, and it is clear of all")
            piece.tape[thing] = self.made[piece.stretch] if piece.stretch else 0, clear

    def untape(self, action, pieces, layer):
        thing = action["thing"]
        for piece in pieces:
            law(0, thing in piece.tape, f"the {thing} of piece {piece.at} is not taped")
            law(2, thing != "line" or piece.state in ("running", "taped on"), "tape is taken off a line that does not run")
            del piece.tape[thing]

    def pack(self, action, pieces, layer):
        if self.last_made == "passes":
            return
        law(5, not self.cut or self.pulled, "packed after a cut")
        since = self.unpacked.pop(self.stretch[:2] if self.stretch else layer, set())
        law(6, len(since) <= 1, "packed across a gap")
        law(6, not (since | {self.stretch}) & self.spacer_taken, "packed where a spacer was taken out")
        self.packed = True

    def measure(self, action, pieces, layer):
        law(5, self.packed, "measured before packing")
        law(5, not self.cut, "measured after a cut")

    def take_spacer(self, action, pieces, layer):
        for piece in pieces:
            law(0, piece.spacer and piece.state != "off", "not a spacer that was wound")
            law(0, self.made[piece.stretch] == self.stretch_turns[piece.stretch], "a spacer taken before the last turn")
            self.spacer_taken.add(piece.stretch)
            self.clear(piece)

    def clear(self, piece):
        piece.state = "ended"
        piece.things.clear()
        piece.tape.clear()

    # Crosswraps

    def tape_on(self, action, pieces, layer):
        for piece in pieces:
            law(0, piece.state == "off" and piece.passes, f"piece {piece.at} is {piece.state}")
            law(10, piece.layer in self.marked and piece.layer in self.prepared, "passes before it is set out and its ends prepared")
            self.leave()
            piece.state = "taped on"
            self.lay(piece, "tag")
            self.lay(piece, "line")
            piece.tape["tag"] = 0, None

    def leg(self, action, pieces, layer):
        for piece in pieces:
            law(0, piece.state == "taped on", f"piece {piece.at} is {piece.state}")
            law(7, "line" not in piece.tape, "a line that winds is taped")
            piece.legs += 1
        layer = pieces[0].layer
        self.above_and_below(layer)
        legs, a_pass = self.passes.get(layer, 0), self.legs_of_pass[layer]
        law(10, (action["pass"], action["leg"]) == (legs // a_pass, ("out", "back")[legs % a_pass]), "not the leg that comes next")
        law(10, legs < a_pass * self.layers[layer]["passes"], "more passes than the plan has")
        self.passes[layer] = legs + 1
        self.last_made = "passes"

    def tape_off(self, action, pieces, layer):
        for piece in pieces:
            law(0, piece.state == "taped on", f"piece {piece.at} is {piece.state}")
            law(10, piece.legs == self.legs_of_pass[piece.layer] * piece.passes, "taped off before its last leg")
            self.drop(piece, "line")
            piece.state = "taped off"
            self.lay(piece, "end")
            piece.tape["end"] = 0, None

    def unwind(self, action, pieces, layer):
        for piece in pieces:
            law(0, piece.state == "taped off" and piece.spacer, f"piece {piece.at} is {piece.state}")
            self.clear(piece)
            self.unwound[piece.at] = piece.layer

    def take_ends(self, action, pieces, layer):
        law(10, layer in self.sealed, "ends are taken before it is sealed")
        for piece in [p for p in self.live.values() if p.passes]:
            law(0, piece.state == "taped off", f"piece {piece.at} is {piece.state}")
            self.clear(piece)
            self.live.pop(piece.at)

    def other(self, action, pieces, layer):
        kind = action["kind"]
        if kind == "set out":
            self.marked.add(layer)
        elif kind == "hold ends":
            self.prepared.add(layer)
        elif kind == "seal":
            self.sealed.add(layer)

    # What the sheet says of a state

    def after(self):
        held = self.held()
        fingers, blank = self.hands_beside(held, set())
        states = [piece.state for piece in self.live.values()]
        # A piece of passes that is taped on counts among those that run. Of a crosswrap all is listed that is taped off
        # together, spacers that are unwound already among them.
        listed = self.without_cut_spacers(held)
        for at, layer in self.unwound.items():
            if any(piece.state == "taped off" and piece.layer == layer for piece in self.live.values()):
                listed[at, "tag"] = listed[at, "end"] = "tape"
        running = states.count("running") + states.count("taped on")
        return {"running": running, "standing": states.count("standing"), "laid_in": states.count("laid in"),
                "fingers": fingers, "blank_held": blank, "held": listed, "stop": self.stop(held, fingers)}

    def without_cut_spacers(self, held):
        """held, but for spacers that were cut and of which turns hold all that is left."""
        loose = {at for (at, _), by in held.items() if by != "turns"}
        return {(at, thing): by for (at, thing), by in held.items()
                if at in loose or not self.pieces[at].spacer or self.pieces[at].state != "ended"}

    def stop(self, held, fingers):
        bind, loop = self.rules["bind_turns"], self.rules["loop_turns"]
        if fingers:
            return "no"
        for piece in self.live.values():
            for thing in piece.things:
                if thing != "line" and not piece.passes and not (thing == "end" and piece.pulled):
                    if self.cover(piece, thing) < (min(bind, loop) if thing == "loop" else bind):
                        return "no"
        if not held:
            return "finished"
        return "tape" if "spool" in held.values() else "held"

    def covered(self, action):
        """Turns over the tag, loop or end that the action is about, before it is done."""
        thing = {"take up": "tag", "trim tag": "tag", "trim end": "end", "pull through": "loop"}[action["kind"]]
        over = [self.cover(piece, thing) for piece in (self.pieces[at] for at in action["pieces"])
                if thing in piece.things and not (thing == "end" and piece.pulled)]
        return min(over, default=0)


def claimed(after):
    held = {(at, each["thing"]): each["by"] for each in after["held"] for at in range(each["pieces"][0], each["pieces"][1] + 1)}
    return {**after, "held": held}


def actions_of(rod):
    """(action, layer), in order."""
    return [(action, (part.get("place"), part.get("layer"))) for section in rod["sections"] for part in section["parts"]
            for step in part["steps"] for action in step["actions"]]


def simulate(rod, rules, actions, compare=True):
    """The refusal or None, and where the sheet says something else than the simulation."""
    bench, differences = Bench(rod, rules), []
    for action, layer in actions:
        say = f"action {action['number']} {action['kind']} {action.get('pieces', '')}"
        if compare and "covered" in action:
            if bench.covered(action) != action["covered"]:
                differences.append(f"{say}: covered {bench.covered(action)}, the sheet says {action['covered']}")
        try:
            bench.work(action, layer)
        except Refused as refusal:
            refusal.where = say
            return refusal, differences
        if not compare:
            continue
        if bench.hands_of(action) != action["hands"]:
            differences.append(f"{say}: hands {bench.hands_of(action)}, the sheet says {action['hands']}")
        if "layer_count" in action and bench.layer_made.get(layer, 0) != action["layer_count"]:
            differences.append(f"{say}: turns of the layer {bench.layer_made.get(layer, 0)}, the sheet says {action['layer_count']}")
        ours, theirs = bench.after(), claimed(action["after"])
        for name in ours:
            if ours[name] != theirs[name]:
                differences.append(f"{say}: {name} {ours[name]}, the sheet says {theirs[name]}")
    try:
        bench.leave()
        law(9, not bench.live, "something is left at the end")
        law(10, bench.winding == len(bench.windings), "turns are left at the end")
        for place in bench.guide_tape:
            law(11, all(layer["kind"] != "over" for layer in bench.places[place]["layers"]), "tape is left on a foot")
        for layer, data in bench.layers.items():
            law(10, bench.passes.get(layer, 0) == bench.legs_of_pass[layer] * data["passes"], "passes are left at the end")
    except Refused as refusal:
        refusal.where = "the end"
        return refusal, differences
    return None, differences


def with_bench(text, drive, brake):
    line = f"drive: {drive}, brake: {brake}"
    if not re.search(r"^bench\s*\{", text, re.M):
        return f"{text}\nbench {{ {line} }}\n"
    body = re.search(r"^bench\s*\{([^}]*)\}", text, re.M)
    rest = re.sub(r"\b(drive|brake)\s*:\s*\w+\s*,?", "", body[1])
    return text[:body.start(1)] + f" {line}," + rest + text[body.end(1):]


def sheets(folder):
    """(name, bench, sheet) of every file that compiles, at every bench; None for one that compiles at its own bench alone. Of
    the examples also planned again, from a width that was measured; the bench is then what was given."""
    work = []
    for path in sorted([*(ROOT / "examples").glob("*.lay"), *(ROOT / "tests/golden").glob("*.lay")]):
        work.append((path, None, path))
    found = []

    def ask(item):
        path, bench, at = item
        again = ["--measured", bench] if isinstance(bench, str) else []
        answer = turnlay("sheet", "--format", "json", *again, at)
        return path, bench, json.loads(answer.out) if answer.code == 0 else None

    good = [each for each in in_turn(ask, work) if each[2] and each[2].get("rods")]
    found += good
    for part in ("examples", "tests/golden"):
        shutil.copytree(ROOT / part, folder / part)
    variants = []
    for path, _, _ in good:
        for drive, brake in BENCHES[1:1 + int(os.environ.get("HANDS_BENCHES", len(BENCHES)))]:
            at = folder / path.relative_to(ROOT).parent / f"{path.stem}__{drive}_{brake}.lay"
            at.write_text(with_bench(path.read_text(), drive, brake))
            variants.append((path, (drive, brake), at))
    again = [(path, reading, path) for path, _, sheet in good if path.parent.name == "examples" for reading in readings(sheet, 0.02)]
    return found + in_turn(ask, variants + again)


def check_sheets(checks, everything):
    for path, bench, sheet in everything:
        again = isinstance(bench, str)
        how = f" with {bench} measured" if again else " with drive %s, brake %s" % bench if bench else ""
        name = f"{path.relative_to(ROOT)}{how}"
        if bench and not again and sheet:
            rules = sheet["bench"]
            checks.check((rules["drive"], rules["brake"]) == (bench[0], bench[1] == "yes"), f"{name}: the sheet is for this bench")
        if not checks.check(sheet is not None, f"{name}: it compiles"):
            continue
        for number, rod in enumerate(sheet["rods"]):
            refusal, differences = simulate(rod, sheet["bench"], actions_of(rod))
            say = f"{name}: rod {number}"
            checks.check(refusal is None, f"{say} is lawful", f"{getattr(refusal, 'where', '')}: {refusal}")
            checks.check(not differences, f"{say} leaves what the sheet says", "\n".join(differences))
            if refusal is None:
                check_nights(checks, say, rod, sheet["bench"])
            close = badly_looked_at(rod, sheet["bench"])
            checks.check(not close, f"{say} is packed at its ends, and not packed or measured again within a few turns", "\n".join(close))


NIGHTS = [0, 0, 0]  # steps; those where one may not stop at their beginning; of these, where one may unwind


def check_nights(checks, say, rod, rules):
    differences, counts = night_differs(rod, rules, Bench(rod, rules))
    NIGHTS[:] = [sum(both) for both in zip(NIGHTS, counts)]
    checks.check(not differences, f"{say}: where to stop for the night", "\n".join(differences))


def check_noticed_nights(checks, everything):
    """Another place to stop, or other words for it, is noticed."""
    path, sheet = next((path, sheet) for path, bench, sheet in everything if path.name == "tides.lay" and not bench)
    rules = sheet["bench"]
    for name, member in (("before", "turns"), ("after", "turns"), ("after", "actions_done"), ("after", "stop"), ("within", 0), ("says", None)):
        rod = json.loads(json.dumps(sheet["rods"][0]))
        night = [step["night"] for section in rod["sections"] for part in section["parts"] for step in part["steps"]
                 if step["night"]["within"] and "before" in step["night"]][24]
        if name == "within":
            night[name][member][0] += 1
        elif name == "says":
            night[name] += " "
        else:
            night[name][member] = "no" if member == "stop" else night[name][member] + 1
        checks.check(len(night_differs(rod, rules, Bench(rod, rules))[0]) == 1, f"noticed: another {name} {member}")


# Spoilt lists. Each gives, of a list of actions, those that are left when it is spoilt at one place, or None.

def is_kind(pair, kind, **data):
    return pair[0]["kind"] == kind and all(pair[0].get(name) == value for name, value in data.items())


def with_data(pair, **data):
    return {**pair[0], **data}, pair[1]


def first(actions, holds):
    return next((at for at in range(len(actions)) if holds(at)), None)


def drop(kind, **data):
    def spoil(actions, rod):
        at = first(actions, lambda at: is_kind(actions[at], kind, **data))
        return None if at is None else actions[:at] + actions[at + 1:]
    return spoil


def reorder(kinds, order):
    """Actions of these kinds, one after the other, in another order; those that order leaves out are dropped."""
    def spoil(actions, rod):
        at = first(actions, lambda at: [pair[0]["kind"] for pair in actions[at:at + len(kinds)]] == kinds)
        return None if at is None else actions[:at] + [actions[at + each] for each in order] + actions[at + len(kinds):]
    return spoil


def change(kind, new, holds=lambda action, rod: True):
    def spoil(actions, rod):
        at = first(actions, lambda at: is_kind(actions[at], kind) and holds(actions[at][0], rod))
        return None if at is None else actions[:at] + [with_data(actions[at], **new(actions[at][0]))] + actions[at + 1:]
    return spoil


def after(kind, added, **data):
    """One more action of kind added, about the same pieces, right after one of kind."""
    def spoil(actions, rod):
        at = first(actions, lambda at: is_kind(actions[at], kind, **data))
        return None if at is None else actions[:at + 1] + [with_data(actions[at], kind=added)] + actions[at + 1:]
    return spoil


def drop_pieces_actions(*kinds):
    """Drops what is done to a piece with the first action of the first kind, and with all of the others later."""
    def spoil(actions, rod):
        at = first(actions, lambda at: is_kind(actions[at], kinds[0]))
        if at is None:
            return None
        pieces = actions[at][0]["pieces"]
        return [pair for pair in actions if pair[0]["kind"] not in kinds or pair[0].get("pieces") != pieces]
    return spoil


def leave_tape(actions, rod):
    at = first(actions, lambda at: is_kind(actions[at], "untape", thing="end"))
    if at is None:
        return None
    pieces = actions[at][0]["pieces"]
    return [pair for pair in actions[:at] + actions[at + 1:] if not is_kind(pair, "trim end", pieces=pieces)]


def part_a_pass(actions, rod):
    at = first(actions, lambda at: is_kind(actions[at], "wind", by_hand=True) and actions[at][0]["turns"] > 1)
    if at is None:
        return None
    wind = actions[at]
    pack = ({"kind": "pack", "number": wind[0]["number"]}, wind[1])
    return actions[:at] + [with_data(wind, turns=1), pack, with_data(wind, turns=wind[0]["turns"] - 1)] + actions[at + 1:]


def pack_across_a_gap(actions, rod):
    """Without a packing before a gap, and without the measuring that needs it."""
    def stretch(winding):
        winding = rod["windings"][winding]
        runs = rod["places"][winding["place"]]["layers"][winding["layer"]]["runs"][:winding["run"]]
        return winding["place"], winding["layer"], sum(run["role"] == "gap" for run in runs)

    wound = None
    for at, (action, _) in enumerate(actions):
        if action["kind"] == "wind":
            now = stretch(action["winding"])
            if wound and now[:2] == wound[:2] and now != wound:
                return [pair for each, pair in enumerate(actions) if each >= at or pair[0]["kind"] not in ("pack", "measure")]
            wound = now
    return None


def guide_before_its_second_foot(actions, rod):
    """Taped when what lies below its first foot is wound, as if that were all."""
    for at, (action, layer) in enumerate(actions):
        if action["kind"] == "tape guide":
            other = first(actions, lambda each: actions[each][1][0] == layer[0] + 1)
            if other is not None and other < at:
                return actions[:other] + [actions[at]] + actions[other:at] + actions[at + 1:]
    return None


def guide_tape_a_turn_later(actions, rod):
    at = first(actions, lambda at: is_kind(actions[at], "take tape") and is_kind(actions[at + 1], "wind")
               and actions[at + 1][0]["turns"] > 2)
    if at is None:
        return None
    wind = actions[at + 1]
    return actions[:at] + [with_data(wind, turns=2), actions[at], with_data(wind, turns=wind[0]["turns"] - 2)] + actions[at + 2:]


def last_wind_too_few(actions, rod):
    at = first(actions[::-1], lambda at: is_kind(actions[-1 - at], "wind") and actions[-1 - at][0]["turns"] > 1)
    if at is None:
        return None
    at = len(actions) - 1 - at
    return actions[:at] + [with_data(actions[at], turns=actions[at][0]["turns"] - 1)] + actions[at + 1:]


def unspoilt(actions, rod):
    return actions


def together(actions, rod):
    """The actions as they are, of a rod where the drive winds threads of several spools at once."""
    spools = [piece["from"] == "spool" for piece in rod["pieces"]]
    several = any(is_kind(pair, "wind", by_hand=False) and sum(spools[at] for at in pair[0]["pieces"]) > 1 for pair in actions)
    return actions if several else None


def on_bobbins(actions, rod):
    return actions if any(is_kind(pair, "load bobbin") for pair in actions) else None


def of_bobbin(action, rod):
    return comes_near(action, rod) and action["thing"] == "line" and rod["pieces"][action["pieces"][0]]["from"] == "bobbin"


def cut_piece(action, rod):
    return action["by_hand"]


def from_spool(action, rod):
    return not action["by_hand"] and rod["pieces"][action["pieces"][0]]["from"] == "spool"


def comes_near(action, rod):
    return action.get("clear_of", 0) > 1


SPOILT = (
    # what is done, how, laws that it breaks, and what else holds at the bench
    ("turns before the thread is there", reorder(["start", "wind"], [1, 0]), {10}),
    ("a tag is never trimmed", drop("trim tag"), {9}),
    ("an end is never trimmed", drop("trim end"), {9}),
    # 1: the finger that holds its end is wanted for what comes next
    ("a thread is never ended", drop_pieces_actions("pull through", "trim end"), {1, 9}),
    ("an end is never laid", drop("lay end"), {0, 9}),
    ("no thread is pulled through, its end is trimmed", drop("pull through"), {0, 1}),
    ("no loop is laid", drop("lay loop"), {0}),
    ("a second loop", after("lay loop", "lay loop"), {0}),
    ("a thread ended twice", after("lay end", "lay end"), {0}),
    ("a line is wound with its tape on", drop("untape", thing="line"), {7}),
    ("a tag is trimmed under tape", drop("untape", thing="tag"), {7}),
    ("an end is trimmed under tape", drop("untape", thing="end"), {7}),
    ("a tape is left", leave_tape, {7}),
    ("a line laid in hangs loose", drop("tape down", thing="line"), {1, 2}),
    ("a tag hangs loose", drop("tape down", thing="tag"), {0, 1}),
    ("tape on what is taped", after("tape down", "tape down"), {0, 1}),
    ("tape is clear of nothing", change("tape down", lambda action: {"clear_of": 0}, comes_near), {7}),
    ("tape that turns come nearer to is clear of all", change("tape down", lambda action: {"clear_of": None}, comes_near), {7}),
    ("tape is taken off a line that stands", reorder(["take up", "untape"], [1, 0]), {2}),
    ("a cut piece stands, then is taped", reorder(["tape down", "stand"], [1, 0]), {2}),
    ("a pass by hand is parted by a packing", part_a_pass, {4}),
    ("packed across a gap", pack_across_a_gap, {6}),
    ("measured before it is packed", reorder(["pack", "measure"], [1, 0]), {5}),
    ("measured after a thread is cut", reorder(["measure", "pull through"], [1, 0]), {5}),
    ("packed after a tag is cut", after("trim tag", "pack"), {5}),
    ("a tag is trimmed before its turns", reorder(["wind", "trim tag"], [1, 0]), {1, 8}),
    ("taken up before its turns", reorder(["wind", "stand", "take up"], [1, 2, 0]), {3, 8}),
    ("pulled through before the turns over the loop", reorder(["lay loop", "wind", "pack", "measure", "pull through"], [0, 4, 1, 2, 3]), {8}),
    ("taken up while another runs", reorder(["stand", "take up"], [1]), {0}),
    ("taken up and not stood before", reorder(["stand", "take up"], [1, 0]), {0}),
    ("a spool stands while the blank turns", change("wind", lambda action: {"by_hand": False}, cut_piece), {2, 3}),
    ("a spool is led by hand", change("wind", lambda action: {"by_hand": True}, from_spool), {1, 3}),
    ("cut from no spool", after("cut from spool", "cut from spool"), {0}),
    ("not cut from its spool", drop("cut from spool"), {3}),
    ("more turns than the plan has", change("wind", lambda action: {"turns": 10 ** 6}), {10}),
    ("a turn too few at the end", last_wind_too_few, {0, 8, 9, 10}),
    ("turns of another winding", change("wind", lambda action: {"winding": action["winding"] + 1}), {10}),
    ("turns of another piece", change("wind", lambda action: {"pieces": [action["pieces"][0] + 1]}), {10}),
    ("turns left out", drop("wind"), {0, 1, 8, 9, 10}),
    ("a list for a brake, and there is none", unspoilt, {1}, {"brake": False}),
    ("a list for a pedal at a hand drive", unspoilt, {1}, {"drive": "hand"}),
    ("more spools than holders", together, {3}, {"holders": 1}),
    ("no bobbin there", on_bobbins, {12}, {"bobbins": 0}),
    ("a bobbin that is not loaded", drop("load bobbin"), {12}),
    ("loaded twice", after("load bobbin", "load bobbin"), {0}),
    ("loaded when it is there", reorder(["load bobbin", "start"], [1, 0]), {1}),
    ("loaded with too little", change("load bobbin", lambda action: {"thread_mm": action["thread_mm"] - 1}), {12}),
    ("turns over a taped bobbin", change("tape down", lambda action: {"clear_of": action["clear_of"] - 1}, of_bobbin), {7}),
    ("a turn more has to bind", unspoilt, {7, 8}, {"bind_turns": 11}),
    ("a turn more over a loop at the end", unspoilt, {8}, {"final_turns": 30}),
    ("a crosswrap that is not set out", drop("set out"), {10}),
    ("a crosswrap's ends are not prepared", drop("hold ends"), {10}),
    ("a leg left out", drop("leg"), {10}),
    ("two legs in the other order", reorder(["leg", "leg"], [1, 0]), {10}),
    ("a leg twice", after("leg", "leg"), {10}),
    ("taped off before the last leg", reorder(["leg", "tape off"], [1, 0]), {10}),
    ("never taped off", drop("tape off"), {0, 1, 10}),
    ("ends taken before sealing", reorder(["seal", "take ends"], [1, 0]), {10}),
    ("a spacer never taken", drop("take spacer"), {7, 9}),
    ("packed where a spacer was taken", after("take spacer", "pack"), {5, 6}),
    ("a guide is taped before its second foot is ready", guide_before_its_second_foot, {11}),
    ("a guide is never taped", drop("tape guide"), {11}),
    ("a guide is taped twice", after("tape guide", "tape guide"), {11}),
    ("turns run into the tape of the guide", guide_tape_a_turn_later, {11}),
    ("the tape of a guide is left", drop("take tape"), {11}),
    ("the tape of a guide is taken twice", after("take tape", "take tape"), {11}),
    ("a spacer of a crosswrap taken twice", after("unwind", "unwind"), {0}),
)
OFTEN = 3  # rods that each is tried with


def check_spoilt(checks, everything):
    """Each list is lawful as it is (and only such are spoilt), and refused for the law that it breaks when it is spoilt."""
    rods = [(path, sheet["bench"], rod, actions_of(rod)) for path, bench, sheet in everything if sheet and not bench
            for rod in sheet["rods"]]
    lawful = {}
    for what, spoil, laws, *rest in SPOILT:
        tried, refused, said = 0, 0, []
        for at, (path, rules, rod, actions) in enumerate(rods):
            spoilt = spoil(actions, rod)
            if spoilt is None or spoilt is actions and not rest:
                continue
            if at not in lawful:
                lawful[at] = simulate(rod, rules, actions, compare=False)[0] is None
            if not lawful[at]:
                continue
            refusal, _ = simulate(rod, {**rules, **(rest[0] if rest else {})}, spoilt, compare=False)
            tried += 1
            refused += refusal is not None and refusal.law in laws
            said.append(f"{path.name}: {getattr(refusal, 'where', '')}: {refusal}")
            if tried == OFTEN:
                break
        checks.check(tried and refused == tried, f"refused: {what}", "\n".join(said) or "no list has a place for it")


def check_looks(checks, everything):
    """A packing more, two turns after one, and one that is missing at the end of a stretch, are noticed."""
    path, sheet = next((path, sheet) for path, bench, sheet in everything if path.name == "brook.lay" and not bench)
    for spoil in (pack_again, never_pack):
        rod = json.loads(json.dumps(sheet["rods"][0]))
        for section in rod["sections"]:
            for part in section["parts"]:
                for step in part["steps"]:
                    step["actions"] = spoil(step["actions"])
        checks.check(badly_looked_at(rod, sheet["bench"]), f"noticed: {spoil.__doc__}")


def pack_again(actions):
    """packed once more"""
    found = []
    for action in actions:
        if action["kind"] == "wind" and action["turns"] > 20:
            found += [{**action, "turns": 2}, {"kind": "pack"}, {**action, "turns": 2}, {"kind": "pack"},
                      {**action, "turns": action["turns"] - 4}]
        else:
            found.append(action)
    return found


def never_pack(actions):
    """never packed"""
    return [action for action in actions if action["kind"] != "pack"]


CLAIMS = {"running": 3, "standing": 3, "laid_in": 3, "fingers": 3, "blank_held": "?", "stop": "?", "held": []}


def check_claims(checks, everything):
    """A sheet that says something else of a single state is not taken for true."""
    path, sheet = next((path, sheet) for path, bench, sheet in everything if path.name == "brook.lay" and not bench)
    rod, rules = sheet["rods"][0], sheet["bench"]
    actions = actions_of(rod)
    at = first(actions, lambda at: is_kind(actions[at], "lay in"))
    for name, wrong in CLAIMS.items():
        after_it = {**actions[at][0]["after"], name: wrong}
        told = actions[:at] + [with_data(actions[at], after=after_it)] + actions[at + 1:]
        differences = simulate(rod, rules, told)[1]
        checks.check(len(differences) == 1 and f": {name} " in differences[0], f"noticed: another {name} after an action", differences)
    for kind, name in (("wind", "hands"), ("take up", "covered"), ("wind", "layer_count")):
        told = change(kind, lambda action: {name: action[name] + 1})(actions, rod)
        checks.check(len(simulate(rod, rules, told)[1]) == 1, f"noticed: another {name} of an action")


def main():
    checks = Checks()
    with scratch() as folder:
        everything = sheets(pathlib.Path(folder))
    check_sheets(checks, everything)
    check_spoilt(checks, everything)
    check_looks(checks, everything)
    check_claims(checks, everything)
    check_noticed_nights(checks, everything)
    print("for the night: %d steps, where %d begin one may not stop, at %d of these one may unwind" % tuple(NIGHTS))
    checks.finish()


if __name__ == "__main__":
    main()
