#!/usr/bin/python3
"""What goes wrong at the bench, counted once more from the sheets as data: the one that lay there, and the one that goes on.

A thread breaks after every turn of two examples, both ways are gone, and every loop, tag and spool gives: where that was,
what comes off, what hangs, what is lost and what is cut again has to be so by the actions alone; nothing that was cut or
trimmed may come loose, and all that stays on the blank has to be what the new sheet goes on from.
"""
import json
import sys
import pathlib

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
from checks import ROOT, Checks, in_turn, turnlay

EXAMPLES = ("examples/first.lay", "examples/reeds.lay", "tests/sheet/cut_in_the_fade.lay")
EVERY = 3  # as many turns from one thread that breaks to the next; and another one with each step
CUTS = {"lay end", "pull through", "trim tag", "trim end", "cut from spool", "take spacer", "tape off", "unwind"}
LASTING = CUTS | {"start", "lay in", "lay loop", "load bobbin", "take tape"}
ROUNDED = 2e-3  # mm, of sums of lengths in the data


class Flat:
    """The actions of the rod that a mishap is about, one after the other."""

    def __init__(self, sheet, plan, rod=0):
        self.bench, self.rod, self.plan = sheet["bench"], sheet["rods"][rod], plan["rods"][rod]
        self.pieces = self.rod["pieces"]
        self.all = []
        for section in self.rod["sections"]:
            for part in section["parts"]:
                for step in part["steps"]:
                    for at, action in enumerate(step["actions"]):
                        self.all.append({**action, "step": step["number"], "at": at + 1, "of": (part.get("place"), part.get("layer"))})
        self.first_of = {}
        for index, action in enumerate(self.all):
            self.first_of.setdefault(action["step"], index)

    def wound(self, layer, actions):
        return sum(action["turns"] for action in actions if action["kind"] == "wind" and action["of"] == layer)

    def labels(self, action):
        return [self.pieces[piece]["label"] for piece in action.get("pieces", [])]

    def lasting(self, layer, end):
        """What cannot be put right by the way, up to that action: as it reads on any sheet."""
        return [(action["kind"], action["of"], action["layer_count"],
                 tuple((self.pieces[p]["thread"], self.pieces[p]["from"]) for p in action.get("pieces", [])))
                for action in self.all[:end] if action["kind"] in LASTING and action["of"] == layer]

    def turn_lengths(self, layer, piece):
        """(turn of the layer, mm) of each turn that the piece makes, by the runs of the plan."""
        turn, lengths = 0, []
        runs = self.plan["places"][layer[0]]["layers"][layer[1]]["runs"]
        for winding in self.rod["windings"]:
            if (winding["place"], winding["layer"]) != layer:
                continue
            run = runs[winding["run"]]
            for _ in range(winding["turns"]):
                if piece in winding["pieces"]:
                    strand = run["strands"][winding["pieces"].index(piece)]
                    lengths.append((turn, strand["wound_mm"] / run["turns"]))
                turn += 1
        return lengths


def sheet(file, *mishaps):
    options = [option for mishap in mishaps for option in ("--mishap", mishap)]
    return turnlay("sheet", "--format", "json", *options, ROOT / file)


def steps_of(data):
    return [step for rod in data["rods"] for section in rod["sections"] for part in section["parts"] for step in part["steps"]]


def trials(data):
    """(what is given, step, turns of it) of everything that is tried."""
    for step in steps_of(data):
        kinds = [action["kind"] for action in step["actions"]]
        turns = sum(action["turns"] for action in step["actions"] if action["kind"] == "wind")
        number = step["number"]
        for made in range(number % EVERY, turns + 1, EVERY) if turns else ():
            for way in ("splice", "restart"):
                yield f"{number} broke after {made} turns, {way}", number, made
            yield f"{number} broke after {made} turns", number, made
            yield f"{number} spool empty after {made} turns", number, made
        if turns or "start" in kinds or "lay in" in kinds:
            yield f"{number} tag out", number, None
        if "pull through" in kinds or "lay loop" in kinds:
            yield f"{number} loop torn", number, None
        last = next((action["layer_count"] for action in step["actions"] if action["kind"] == "wind"), 0)
        for left in {0, last // 2, max(last - 3, 0)} if last else ():
            yield f"{number} unwound to turn {left}", number, None


def broken_at(flat, step, made):
    """The layer's turns when it broke, the winding's piece, and how many actions were done by then."""
    index, left = flat.first_of[step], made
    while True:
        action = flat.all[index]
        turns = action["turns"] if action["kind"] == "wind" else 0
        if turns and left <= turns:
            layer = action["of"]
            return flat.wound(layer, flat.all[:index]) + left, action["pieces"], index + (left == turns), layer
        left -= turns
        index += 1


def resumed_at(new, way, layer):
    """Index of the action with which it goes on, and the layer's turns that lie by then."""
    index = new.first_of[way["go_on_step"]] + way["go_on_action"] - 1
    in_step = sum(action["turns"] for action in new.all[new.first_of[way["go_on_step"]]:index] if action["kind"] == "wind")
    return index, new.wound(layer, new.all[:index]) + way["made_turns"] - in_step


def bears(old, action, turn, broken):
    """Whether what was cut there stays good when the layer has so many turns again."""
    piece = action["pieces"][0]
    data, bind = old.pieces[piece], old.bench["bind_turns"]
    if action["kind"] == "trim tag":
        begun = next((other for other in old.all if other["kind"] == "start" and piece in other["pieces"]), None)
        return begun is not None and turn >= begun["layer_count"] + bind
    if action["kind"] == "cut from spool":
        return piece in broken or turn >= action["layer_count"]
    return action["kind"] == "lay end" and data["from"] != "spool"


def check_lost(check, old, way, turn, layer):
    free = old.bench["free_mm"]
    for lost in way["lost"]:
        piece = next(i for i, data in enumerate(old.pieces) if data["label"] == f"{lost['thread']} {lost['number']}")
        data = old.pieces[piece]
        if way["way"] == "splice":
            continue
        used = sum(mm for at, mm in old.turn_lengths(layer, piece) if at < turn)
        least = used if data["from"] == "spool" else data["cut_mm"]
        check(least - ROUNDED <= lost["lost_mm"] <= data["cut_mm"] + ROUNDED and (used < data["cut_mm"]),
              f"what is lost of {data['label']}", (lost, used))
        if data["from"] == "spool" and data["turns"] > used and data["wound_mm"] - used > 1:
            check(lost["lost_mm"] - used <= free + 0.5 * old.bench["bind_turns"] + ROUNDED or abs(lost["lost_mm"] - data["cut_mm"]) < ROUNDED,
                  f"no more is lost of {data['label']} than its tag besides", (lost, used))


def is_cut(old, piece, done):
    """Whether a piece was off its spool before that action."""
    return old.pieces[piece]["from"] != "spool" or any(
        action["kind"] == "cut from spool" and piece in action["pieces"] for action in old.all[:done])


def check_splice(check, old, new, way, turn, pieces, layer, kind, done):
    piece = pieces[0]
    hangs = min(sum(mm for at, mm in old.turn_lengths(layer, each) if way["splice_turn"] <= at < turn) for each in pieces)
    free = old.bench["free_mm"]
    hangs += free if kind == "spool empty" else 0
    check(abs(hangs - way["hangs_mm"]) < ROUNDED, "what hangs", (hangs, way["hangs_mm"]))
    check(way["hangs_mm"] >= free, "an end to hold hangs", way)
    lost = sum(lost["lost_mm"] for lost in way["lost"])
    was, stays = old.pieces[piece]["cut_mm"], new.pieces[piece]["cut_mm"]
    due = was - stays if is_cut(old, piece, done) else hangs - free
    check(len(pieces) > 1 or abs(lost - due) < ROUNDED, "what is lost hangs beyond that end, and of a piece that was cut is all the rest", (due, lost))
    anew = [p for p, data in enumerate(new.pieces) if (data["place"], data["layer"]) == layer
            and data["thread"] in [old.pieces[each]["thread"] for each in pieces]
            and any(at == way["splice_turn"] for at, _ in new.turn_lengths(layer, p)[:1])]
    check(len(anew) == len(pieces) and len(new.pieces) == len(old.pieces) + len(pieces), "as many pieces more begin at the splice", (anew, way))
    for each in anew:
        data = new.pieces[each]
        wound = sum(mm for _, mm in new.turn_lengths(layer, each))
        check(abs(wound - data["wound_mm"]) < ROUNDED, "what the new piece winds", (wound, data))
        ends = data["cut_mm"] - data["wound_mm"] - 2 * old.bench["free_mm"]
        check(0 < ends < 60, "and its tags and ends", data)
        check(not [at for at, _ in new.turn_lengths(layer, piece) if at >= way["splice_turn"]], "the old piece winds no more")
    old_sum, new_sum = (sum(data["wound_mm"] for data in flat.pieces) for flat in (old, new))
    check(abs(old_sum - new_sum) < ROUNDED, "all turns are wound as before", (old_sum, new_sum))


def check_mishap(check, plan, before, answer, given, step, made):
    data = json.loads(answer.out)
    told = data["mishaps"][0]
    old = Flat(before, plan, told["rod"])
    new = Flat(data, plan, told["rod"])
    way = next(way for way in told["ways"] if way["followed"])
    layer = (told["place"], told["layer"])
    ways = {each["way"]: each for each in told["ways"]}
    turn, pieces, done = told["layer_turn"], [], None
    if made is not None:
        turn, pieces, done, of = broken_at(old, step, made)
        check(of == layer and turn == told["layer_turn"], "where it was", (turn, told["layer_turn"]))
        check(f"{told['thread']} {told['number']}" == old.pieces[pieces[0]]["label"], "which piece it was", told)
        for asked in ("splice", "restart"):
            if given.endswith(asked) and asked in ways:
                check(way["way"] == asked, "the way that was asked for", told)
        ended = all(max(at for at, _ in old.turn_lengths(layer, piece)) < turn for piece in pieces)
        enough = "spool empty" in given and ended
        check(enough == (way["way"] == "again"), "where all its turns lie, an end is enough", (pieces, turn, way))
        check(not enough or (len(ways) == 1 and way["unwound_turns"] == 0 and not way["lost"]), "and nothing comes off", told)
        if "," not in given:
            check(way["unwound_turns"] == min(each["unwound_turns"] for each in told["ways"]), "the way that costs less", told)
    index, lies = resumed_at(new, way, layer)
    check(lies == way["to_turn"], "where it goes on", (lies, way))
    if made is not None:
        check(way["unwound_turns"] == turn - way["to_turn"], "what comes off", (turn, way))
    stays = new.lasting(layer, index)
    was = old.lasting(layer, len(old.all))
    check(stays == was[:len(stays)], "what stays is what the sheet goes on from", (stays, was[:len(stays)]))
    if done is not None:
        lasting = [action for action in old.all[:done] if action["of"] == layer and action["kind"] in LASTING]
        lost = {f"{each['thread']} {each['number']}" for each in way["lost"]} if way["way"] == "restart" else set()
        laid = [label for action in lasting[len(stays):] if action["kind"] in ("start", "lay in")
                for label in old.labels(action) if label not in lost]
        words = told["now"].split("take off ")[1].split(", laid since")[0] if "take off " in told["now"] else ""
        check(words.replace(" and ", ", ") == ", ".join(laid), "what was laid since comes off, too", (laid, told["now"]))
        seen = 0
        for position, action in enumerate(old.all[:done]):
            if action["of"] != layer or action["kind"] not in LASTING:
                continue
            seen += 1
            if seen > len(stays) and action["kind"] in CUTS and (way["way"] == "splice" or not set(pieces) & set(action["pieces"])):
                lost = {f"{each['thread']} {each['number']}" for each in way["lost"]} if way["way"] == "restart" else set()
                check(old.pieces[action["pieces"][0]]["label"] in lost or bears(old, action, lies, pieces),
                      "nothing that was cut comes loose", (action, way))
    if way["way"] == "splice":
        check_splice(check, old, new, way, turn, pieces, layer, told["mishap"], done)
    else:
        lost = {f"{each['thread']} {each['number']}" for each in way["lost"]}
        cut = [action for action in old.all[index:done] if action["of"] == layer and action["kind"] in CUTS] if done is not None else []
        left = any(not set(old.labels(action)) <= lost for action in cut)
        check(done is None or left == way["stays_cut"], "what is cut already stays so, but for what is cut again", (way, cut))
        check(data["rods"] == before["rods"], "the steps are as they were", way)
        check_lost(check, old, way, turn, layer)


def main():
    checks = Checks()
    for file in sys.argv[1:] or EXAMPLES:
        first = sheet(file)
        if not checks.check(first.code == 0, f"{file}: a sheet", first.words()):
            continue
        before = json.loads(first.out)
        plan = json.loads(turnlay("plan", "--format", "json", ROOT / file).out)
        tried = list(trials(before))
        ways = {}
        for (given, step, made), answer in zip(tried, in_turn(lambda trial: sheet(file, trial[0]), tried)):
            refused = answer.code == 2 and made is None
            if refused or not checks.check(answer.code == 0, f"{file}, {given}: a sheet", answer.words()):
                continue
            faults = []
            check_mishap(lambda holds, what, details="": holds or faults.append(f"{what}: {details}"),
                         plan, before, answer, given, step, made)
            checks.check(not faults, f"{file}, {given}", "\n".join(faults))
            name = next(way["way"] for way in json.loads(answer.out)["mishaps"][0]["ways"] if way["followed"])
            ways[name] = ways.get(name, 0) + 1
        print(f"{file}: {len(tried)} mishaps: " + ", ".join(f"{count} {name}" for name, count in sorted(ways.items())))
    checks.finish()


if __name__ == "__main__":
    main()
