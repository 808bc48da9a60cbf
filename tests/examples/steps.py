"""The bench sheet as data against itself and against the plan: what its actions come to is worked out again from their numbers,
and numbers are held against the words beside them."""
import re

from made import made_faults

NEAR = 2e-6          # mm: two numbers, each rounded to 0.000001


def parts_of(rod):
    return [part for section in rod["sections"] for part in section["parts"]]


def actions_of(rod):
    """(part, action) of all of them, as they are done."""
    return [(part, action) for part in parts_of(rod) for step in part["steps"] for action in step["actions"]]


def near(one, other, slack=NEAR):
    return abs(one - other) <= slack


def plan_faults(rod, planned):
    """Places, runs and pieces are the plan's."""
    faults = []
    for place, other in zip(rod["places"], planned["places"], strict=True):
        faults += [f"place {member}: {place[member]} and {other[member]}" for member in ("label", "guide", "toward", "start_mm", "angle_deg")
                   if place[member] != other[member]]
        for layer, same in zip(place["layers"], other["layers"], strict=True):
            runs = [{member: run[member] for member in layer["runs"][0]} for run in same["runs"]] if layer["runs"] else same["runs"]
            passes = len(same["crosswrap"]["passes"]) if "crosswrap" in same else 0
            if (layer["kind"], layer["turns"], layer["crosswrap"], layer["passes"]) != (same["kind"], same["turns"], "crosswrap" in same, passes):
                faults.append(f"layer of {place['label']}: {layer['kind']} {layer['turns']} {layer['passes']}")
            if layer["runs"] != runs:
                faults.append(f"runs of {place['label']}")
    for piece, other in zip(rod["pieces"], planned["pieces"], strict=True):
        if any(piece[member] != other[member] for member in ("thread", "spacer", "place", "layer", "turns", "wound_mm", "cut_mm")):
            faults.append(f"piece {piece['label']}: {piece} and {other}")
        feeds = "bobbin" if other.get("bobbin") else "cut piece" if other["by_hand"] else "spool"
        if piece["from"] != feeds or piece["passes"] != other.get("passes", {"count": 0})["count"]:
            faults.append(f"piece {piece['label']}: {piece['from']}, {piece['passes']} passes")
    return faults


def made_before(rod, winding):
    """Turns of the winding's run that are made before it."""
    own = rod["windings"][winding]
    key = (own["place"], own["layer"], own["run"])
    before = 0
    for other in reversed(rod["windings"][:winding]):
        if (other["place"], other["layer"], other["run"]) != key:
            break
        before += other["turns"]
    return before


def wound_together(rod):
    """Pieces whose lengths come only together: those of a winding, and of all others that have one of them."""
    group = list(range(len(rod["pieces"])))
    members = [[piece] for piece in group]
    for winding in rod["windings"]:
        first = group[winding["pieces"][0]]
        for other in {group[piece] for piece in winding["pieces"]} - {first}:
            for piece in members[other]:
                group[piece] = first
            members[first] += members[other]
            members[other] = []
    wound = {piece for winding in rod["windings"] for piece in winding["pieces"]}
    return [together for together in members if wound.intersection(together)]


def turn_faults(rod):
    """Winding by winding all turns are made, by its pieces, and counts, places and lengths follow from them."""
    faults, at, made, counts, thread = [], 0, 0, {}, [0.0] * len(rod["pieces"])
    turns = [0] * len(rod["pieces"])
    for part, action in actions_of(rod):
        if action["kind"] == "leg":
            thread[action["pieces"][0]] += action["thread_mm"]
        if action["kind"] != "wind":
            continue
        winding = rod["windings"][at]
        key = (winding["place"], winding["layer"])
        if action["winding"] != at or action["pieces"] != winding["pieces"] or (part.get("place"), part.get("layer")) != key:
            faults.append(f"{action['number']}: winding {action['winding']} of {action['pieces']}, {at} of {winding['pieces']} is due")
        made += action["turns"]
        counts[key] = counts.get(key, 0) + action["turns"]
        run = rod["places"][key[0]]["layers"][key[1]]["runs"][winding["run"]]
        share = (made_before(rod, at) + made) / run["turns"]
        where = run["from_mm"] + share * (run["to_mm"] - run["from_mm"])
        if action["layer_count"] != counts[key] or not near(action["from_mark_mm"], where):
            faults.append(f"{action['number']}: turn {action['layer_count']} of {counts[key]}, at {action['from_mark_mm']} of {where} mm")
        for piece in action["pieces"]:
            turns[piece] += action["turns"]
        thread[action["pieces"][0]] += action["thread_mm"]      # of threads together: of all of them
        if made >= winding["turns"]:
            faults += [f"{action['number']}: {made} turns of {winding['turns']}"] if made > winding["turns"] else []
            at, made = at + 1, 0
    faults += [f"{len(rod['windings']) - at} windings are not made"] if at < len(rod["windings"]) else []
    for index, piece in enumerate(rod["pieces"]):
        if turns[index] != piece["turns"]:
            faults.append(f"{piece['label']}: {turns[index]} turns of {piece['turns']}")
    for together in wound_together(rod):
        wound = sum(rod["pieces"][piece]["wound_mm"] for piece in together)
        made = sum(thread[piece] for piece in together)
        if not near(made, wound, 1e-4):
            faults.append(f"{rod['pieces'][together[0]]['label']}: {made} mm wound of {wound}")
    return faults


# What becomes of a piece, and which of its things lies from now on, or is relied on: tag, loop, end.
BECOMES = {"start": "running", "lay in": "laid_in", "take up": "running", "stand": "standing", "lay end": "ended", "pull through": "ended",
           "take spacer": "ended", "tape on": "running", "tape off": "ended", "unwind": "ended"}
LAYS = {"start": "tag", "lay in": "tag", "lay loop": "loop", "lay end": "end"}
RELIES = {"take up": "tag", "trim tag": "tag", "pull through": "loop", "trim end": "end"}


def state_faults(rod):
    """What runs, stands and is laid in after each action, how many turns lie over what is relied on, and counts between turns."""
    faults, states, lying, made, counts = [], {}, {}, 0, {}
    for part, action in actions_of(rod):
        kind, key, pieces = action["kind"], (part.get("place"), part.get("layer")), action.get("pieces", ())
        if kind in RELIES and (kind != "take up" or states[pieces[0]] == "laid_in"):
            since, asked = lying.get((pieces[0], RELIES[kind]), (made, 0))
            if action["covered"] != made - since or made - since < asked:
                faults.append(f"{action['number']}: {action['covered']} turns over the {RELIES[kind]}, {made - since} made, {asked} said before")
        made += action.get("turns", 0) if kind == "wind" else 0
        counts[key] = counts.get(key, 0) + (action["turns"] if kind == "wind" else 0)
        for piece in pieces:
            states[piece] = BECOMES.get(kind, states.get(piece))
            if kind in LAYS:
                lying[piece, LAYS[kind]] = made, action["to_cover"]
            if kind == "pull through":
                lying.pop((piece, "end"), None)
        after = {state: list(states.values()).count(state) for state in ("running", "standing", "laid_in")}
        if after != {state: action["after"][state] for state in after}:
            faults.append(f"{action['number']}: {action['after']}, and not {after}")
        if action.get("layer_count", counts[key]) != counts[key]:
            faults.append(f"{action['number']}: turn {action['layer_count']}, and not {counts[key]}")
        if kind == "measure":
            begin = rod["places"][key[0]]["layers"][key[1]]["runs"][0]["from_mm"]
            if not near(action["width_mm"], abs(action["from_mark_mm"] - begin)):
                faults.append(f"{action['number']}: {action['width_mm']} mm wide at {action['from_mark_mm']}")
    return faults


def leg_faults(rod, planned):
    """Every pass is laid out and back, from where the leg before it ended on by its way round the blank."""
    faults, goes_on = [], {}
    for part, action in actions_of(rod):
        if action["kind"] not in ("tape on", "leg", "tape off"):
            continue
        piece = action["pieces"][0]
        due = goes_on.get(piece, action["from_deg"])
        if not near((action["from_deg"] - due + 180) % 360 - 180, 0, 1e-4):
            faults.append(f"{action['number']}: begins at {action['from_deg']} deg, {due} is due")
        goes_on[piece] = (action["to_deg"] + action.get("dwell_deg", 0) * sense_of(rod, planned, part)) % 360
        if action["kind"] != "leg":
            continue
        one = planned["places"][part["place"]]["layers"][part["layer"]]["crosswrap"]["passes"][action["pass"]]
        if not near(action["thread_mm"], one["out_mm" if action["leg"] == "out" else "back_mm"]):
            faults.append(f"{action['number']}: {action['thread_mm']} mm of thread")
        if action["leg"] == "out" and one["back_mm"] and not near(action["dwell_deg"], one["dwell_deg"]):
            faults.append(f"{action['number']}: {action['dwell_deg']} deg on")
        turned = action["leg_turns"] * 360 * sense_of(rod, planned, part) + action["from_deg"] - action["to_deg"]
        if not near((turned + 180) % 360 - 180, 0, 1e-3):
            faults.append(f"{action['number']}: {action['leg_turns']} turns from {action['from_deg']} to {action['to_deg']} deg")
    return faults


def sense_of(rod, planned, part):
    crosswrap = planned["places"][part["place"]]["layers"][part["layer"]]["crosswrap"]
    return 1 if crosswrap["sense"] == "clockwise" else -1


ONE_HAND = ("take up", "stand", "pack", "symmetry")     # as the bench protocol has it; all others take two


def hands_of(action, bench):
    by_drive = action["kind"] == "leg" or action["kind"] == "wind" and not action["by_hand"]
    return (1 if bench["drive"] == "pedal" else 2) if by_drive else 1 if action["kind"] in ONE_HAND else 2


def tape_faults(rod):
    """No more turns are made than a tape is clear of; it is taken off just where it is."""
    faults, taped, made = [], {}, 0
    for _, action in actions_of(rod):
        made += action.get("turns", 0) if action["kind"] == "wind" else 0
        over = [key for key, (since, clear) in taped.items() if clear is not None and made - since > clear]
        faults += [f"{action['number']}: turns go over the tape on {key}" for key in over]
        for piece in action.get("pieces", ()):
            if action["kind"] == "tape down":
                taped[piece, action["thing"]] = made, action.get("clear_of")
            elif action["kind"] == "untape" and not taped.pop((piece, action["thing"]), None):
                faults.append(f"{action['number']}: no tape on the {action['thing']} of {piece}")
            elif action["kind"] == "take spacer":
                taped = {key: tape for key, tape in taped.items() if key[0] != piece}
        held = {(piece, one["thing"]) for one in action["after"]["held"] if one["by"] in ("tape", "bobbin") for piece in range(one["pieces"][0], one["pieces"][1] + 1)}
        if not set(taped) <= held:
            faults.append(f"{action['number']}: {sorted(set(taped) - held)} are taped, and it is not said")
    return faults + [f"tape is left on {key}" for key in taped]


def hands_faults(rod, bench):
    """Never more than two hands; each finger holds something, and no thing of a piece is held twice."""
    faults = []
    for _, action in actions_of(rod):
        if action["hands"] != hands_of(action, bench):
            faults.append(f"{action['number']} {action['kind']}: {action['hands']} hands")
        after, held = action["after"], action["after"]["held"]
        things = [(piece, one["thing"]) for one in held for piece in range(one["pieces"][0], one["pieces"][1] + 1)]
        fingers = [one for one in held if one["by"] == "finger"]
        if after["fingers"] + after["blank_held"] > 2 or bool(fingers) != (after["fingers"] > 0) or len(fingers) < after["fingers"]:
            faults.append(f"{action['number']}: {after}")
        if len(set(things)) != len(things) or not all(one["pieces"][0] <= one["pieces"][1] for one in held):
            faults.append(f"{action['number']}: held {held}")
        if after["stop"] != "no" and (fingers or after["blank_held"] and after["stop"] != "tape"):
            faults.append(f"{action['number']}: stop {after}")
        if (after["stop"] == "tape") != (after["stop"] != "no" and any(one["by"] == "spool" for one in held)):
            faults.append(f"{action['number']}: stop {after}")
        if (after["stop"] == "finished") and any(one["thing"] != "loop" and one["by"] != "tape" for one in held):
            faults.append(f"{action['number']}: finished, {held}")
    return faults


def place_faults(rod):
    """From the butt and from the mark are the same place."""
    faults = []
    for part in parts_of(rod):
        for what in part["marks"] + [action for step in part["steps"] for action in step["actions"]]:
            if "from_mark_mm" in what:
                place = rod["places"][part["place"]]
                toward = 1 if place["toward"] == "tip" else -1
                if not near(what["position_mm"], place["start_mm"] + toward * what["from_mark_mm"]):
                    faults.append(f"{what.get('number', what.get('words'))}: {what['position_mm']} mm, {what['from_mark_mm']} from the mark")
    return faults


# What words beside a number say of it: kind of action (or any), member of words, pattern, member of the number.
BESIDE = (
    (None, "count", r"(\d+) in the (?:[a-z ]+ and the )?layer|after turn (\d+) of the layer", "layer_count"),
    ("wind", "count", r"(\d+) in the (?:band|fade)", "band_count"),
    ("wind", "says", r"(?:Wind|Wrap) (\d+) turns? of", "turns"),
    (None, "clock", r"(\d+) o'clock", "hour"),
    ("leg", "count", r"pass (\d+) of", "pass"),
    ("leg", "count", r"; (\d+) crossings?", "crossings"),
    ("leg", "says", r"against pass (\d+)", "beside_pass"),
)


def told_mm(words):
    """mm of "12.5 mm from the mark", "1.25 cm ...", "1 5/64 in ...", "at the mark"."""
    if words == "at the mark":
        return 0.0
    found = re.fullmatch(r"(-?)([\d./ ]+) (mm|cm|in) from the mark", words)
    sum_of = sum(float(above) / float(below or 1) for above, _, below in (part.partition("/") for part in found[2].split())) if found else None
    return sum_of * {"mm": 1, "cm": 10, "in": 25.4}[found[3]] * (-1 if found[1] else 1) if found else None


def words_faults(rod, rule):
    """rule: mm that marks are said to the nearest of."""
    faults = []
    for _, action in actions_of(rod):
        name = f"{action['number']} {action['says']}"
        for kind, words, pattern, member in BESIDE:
            found = re.search(pattern, action.get(words, "")) if kind in (None, action["kind"]) else None
            number = found and int(found[1] or found[2]) - (member in ("pass", "beside_pass"))       # from 1 in words
            if found and number != action[member]:
                faults.append(f"{name}: {found[0]}, and {member} {action[member]}")
        where = told_mm(action.get("where", ""))
        if where is not None and not (near(where, action["from_mark_mm"], rule / 2 + 1e-5) and near(where / rule, round(where / rule), 1e-6)):
            faults.append(f"{name}: {action['where']}, and {action['from_mark_mm']}, by a rule that is read to {rule}")
        turned = re.search(r"([\d.]+) turns$", action.get("count", "")) if action["kind"] == "leg" else None
        if turned and not near(float(turned[1]), action["leg_turns"], 0.00501):
            faults.append(f"{name}: {turned[0]}, and {action['leg_turns']}")
        side = re.search(r"on its (tip|butt) side", action["says"])
        if (side and side[1]) != action.get("side"):
            faults.append(f"{name}: on the side of {action.get('side')}")
        labels = [rod["pieces"][piece]["label"] for piece in action.get("pieces", ())]
        faults += [f"{name}: says nothing of {label}" for label in labels if label not in action["says"]]
        if action.get("by_hand", False) != ("by hand" in action["says"] and action["kind"] == "wind"):
            faults.append(f"{name}: by hand or not")
        if "stop" in action and action["after"]["stop"] == "no":
            faults.append(f"{name}: no safe place to stop")
    return faults


def step_faults(rod):
    """A step has the turns of its actions, asks for a width where one is measured, and ends where its last action does."""
    faults = []
    for step in (step for part in parts_of(rod) for step in part["steps"]):
        name, actions = f"step {step['number']} {step['says']}", step["actions"]
        turns = sum(action["turns"] for action in actions if action["kind"] == "wind")
        if not actions or step["turns"] not in (turns, sum(action.get("crossings", 0) for action in actions)):
            faults.append(f"{name}: {step['turns']} turns, its actions {turns}")
        if step["measure"] != any(action["kind"] == "measure" for action in actions):
            faults.append(f"{name}: measured or not")
        if "stop" in step and actions[-1]["after"]["stop"] == "no":
            faults.append(f"{name}: no safe place to stop")
    return faults


def pass_faults(rod):
    """A pass says of each of its legs where it begins and ends, and how far it goes; what it has in common with the first once."""
    faults, firsts = [], {}
    for part, step in ((part, step) for part in parts_of(rod) for step in part["steps"] if step["kind"] == "pass"):
        legs = [action for action in step["actions"] if action["kind"] == "leg"]
        if not legs:
            continue
        before, first = firsts.get((part["place"], part["layer"])), legs[0]
        firsts.setdefault((part["place"], part["layer"]), first)
        wanted = []
        for leg in legs:
            where = "from {} to {} deg".format(*re.findall(r"(\d+) deg \(", leg["where"])) if before else leg["where"]
            joint = "" if leg is first else "; back " if leg["count"] == first["count"] else f"; then {leg['count']}; "
            wanted.append(joint + where)
        count = first["count"]
        if before and count.partition(";")[2] == before["count"].partition(";")[2]:
            count = count.partition(";")[0]
        if step["progress"] != count or step["where"] != "".join(wanted):
            faults.append(f"step {step['number']}: {step['progress']}; {step['where']}, wanted {count}; {wanted}")
        said = [dwell for dwell in (re.search(r"At the (tip|butt) end .*?by (\d+ deg)", leg.get("detail", "")) for leg in legs) if dwell]
        told = re.findall(r"At the (tip|butt) end (?:carry the thread round .*? )?by (\d+ deg)", step.get("note", ""))
        if told != [dwell.groups() for dwell in said]:
            faults.append(f"step {step['number']}: {step.get('note')}, wanted {[dwell[0] for dwell in said]}")
    return faults


def cut_faults(rod):
    """Each piece is cut for the action that first names it, to the length that it takes."""
    faults, first = [], {}
    for _, action in actions_of(rod):
        for piece in action.get("pieces", ()):
            first.setdefault(rod["pieces"][piece]["label"], action)
    step_of = {action["number"]: step["number"] for part in parts_of(rod) for step in part["steps"] for action in step["actions"]}
    cuts = [cut for section in rod["sections"] for cut in section["cuts"]]
    pieces = {piece["label"]: piece for piece in rod["pieces"]}
    if len([cut for cut in cuts if cut["label"] in pieces]) != len(rod["pieces"]):
        faults.append(f"{len(cuts)} cuts for {len(rod['pieces'])} pieces")
    for cut in cuts:
        piece = pieces.get(cut["label"])
        number = first[cut["label"]]["number"] if piece and first[cut["label"]]["kind"] != "lay loop" else cut["for_action"]
        if number != cut["for_action"]:
            faults.append(f"{cut['label']} is cut for {cut['for_action']}, used first in {number}")
        if cut["for_step"] != step_of[cut["for_action"]]:
            faults.append(f"{cut['label']} is cut for step {cut['for_step']}, action {cut['for_action']}")
        length = re.fullmatch(r"([\d.]+) (m|cm)", cut["length"])
        if piece and length:
            mm = float(length[1]) * {"m": 1000, "cm": 10}[length[2]]
            if not -NEAR <= mm - piece["cut_mm"] <= 10 + NEAR:
                faults.append(f"{cut['label']}: {cut['length']} for {piece['cut_mm']} mm")
        if piece and cut["what"].split(",")[0] != piece["from"]:
            faults.append(f"{cut['label']}: {cut['what']}, and {piece['from']}")
    return faults


MOST_LETTERS = 160      # in which a step is told; one action alone, where threads have names of a usual length
USUAL_LABEL = 9
# In how many steps at most these are told at the usual depth: more would not be followed.
MOST_STEPS = {"examples/harbour.lay": 170, "examples/whole_rod.lay": 280}


def length_faults(rod):
    """A step says so much as can be kept in mind."""
    usual = all(len(piece["label"]) <= USUAL_LABEL for piece in rod["pieces"])
    return [f"step {step['number']}: {len(step['says'])} letters: {step['says']}"
            for part in parts_of(rod) for step in part["steps"]
            if len(step["says"]) > MOST_LETTERS and (usual or len(step["actions"]) > 1)]


def name_faults(rod):
    """A step's words name the threads that are wound in it: on paper they alone do."""
    return [f"step {step['number']}: {step['thread']}: {step['says']}" for part in parts_of(rod) for step in part["steps"]
            if any(piece not in step["says"] for piece in re.split(r", then | and |, ", step.get("thread", "")))]


def check_steps(checks, name, sheet, plan, measured):
    numbers = [action["number"] for rod in sheet["rods"] for _, action in actions_of(rod)]
    checks.check(numbers == list(range(1, len(numbers) + 1)), f"{name}: sheet.json numbers its actions", numbers[:20])
    steps = [step["number"] for rod in sheet["rods"] for part in parts_of(rod) for step in part["steps"]]
    checks.check(steps == list(range(1, len(steps) + 1)), f"{name}: sheet.json numbers its steps", steps[:20])
    if name in MOST_STEPS:
        checks.check(len(steps) <= MOST_STEPS[name], f"{name}: at most {MOST_STEPS[name]} steps", len(steps))
    for rod, planned in zip(sheet["rods"], plan["rods"], strict=True):
        for what, faults in (("has the plan's places and pieces", plan_faults(rod, planned)), ("makes the plan's turns", turn_faults(rod)),
                             ("has the plan's legs", leg_faults(rod, planned)), ("has the state that comes of its actions", state_faults(rod)),
                             ("has two hands", hands_faults(rod, sheet["bench"])), ("tapes what it untapes", tape_faults(rod)), ("has one place for each mark", place_faults(rod)), ("has the numbers of its words", words_faults(rod, sheet["bench"]["rule_mm"])),
                             ("has steps of its actions", step_faults(rod)), ("has short steps", length_faults(rod)), ("names its threads", name_faults(rod)),
                             ("cuts what it uses", cut_faults(rod)), ("says what was made where one measures", made_faults(rod, measured)),
                             ("says where passes lie", pass_faults(rod))):
            checks.check(not faults, f"{name}: {rod['title']}: sheet.json {what}", "\n".join(faults[:8]))
