"""What the sheet as data says was made where one measures, worked out again from its windings."""

NEAR = 2e-6          # mm: two numbers, each rounded to 0.000001


def wound_in(rod, part):
    """(action, turns of each thread made before it in this part, the winding made last) of all its actions."""
    made, last = {}, None
    for step in part["steps"]:
        for action in step["actions"]:
            if action["kind"] == "wind":
                last = action
                for piece in action["pieces"]:
                    thread = rod["pieces"][piece]["thread"]
                    made[thread] = made.get(thread, 0) + action["turns"]
            yield step, action, dict(made), last


def gaps_before(rod, part, winding):
    runs = rod["places"][part["place"]]["layers"][part["layer"]]["runs"][:rod["windings"][winding["winding"]]["run"]]
    return sum(abs(run["to_mm"] - run["from_mm"]) for run in runs if run["role"] == "gap")


def measured_faults(rod, part):
    faults, told, gaps = [], {}, 0
    for _, action, made, last in wound_in(rod, part):
        if action["kind"] != "measure" or not last:
            continue
        for row in action["made"]:
            told[row["thread"]] = told.get(row["thread"], 0) + row["turns"]
        gaps += action["gaps_mm"]
        if told != made or any(row["turns"] < 1 for row in action["made"]):
            faults.append(f"{action['number']}: measured over {told}, and not {made}")
        if abs(gaps - gaps_before(rod, part, last)) > NEAR * 10:
            faults.append(f"{action['number']}: gaps of {gaps} mm, and not {gaps_before(rod, part, last)}")
        threads = [rod["pieces"][piece]["thread"] for piece in last["pieces"]]
        if sorted(action["band_threads"]) != sorted(threads) or action["band_count"] != last["band_count"]:
            faults.append(f"{action['number']}: {action['band_count']} turns of {action['band_threads']}, and not {last['band_count']}")
    return faults


def widths_as_declared(rod, part):
    """Where nothing was measured, turns as they are declared come to the width that should be there."""
    faults, width = [], 0
    for step in part["steps"]:
        for action in step["actions"]:
            if action["kind"] == "measure":
                width += action["gaps_mm"] + sum(row["nominal_turn_mm"] * row["turns"] for row in action["made"])
                turns = sum(row["turns"] for row in action["made"])
                if abs(width - action["width_mm"]) > 1e-6 * (action["layer_count"] + turns + 2):
                    faults.append(f"{action['number']}: {action['width_mm']} mm of turns that come to {width}")
    return faults


def layer_turn_faults(rod, part):
    """A step of a layer says how many turns of it are made by then."""
    faults, after = [], {}
    for step, action, made, last in wound_in(rod, part):
        after[step["number"]] = (step.get("layer_turn"), sum(each["turns"] for s in part["steps"] if s["number"] <= step["number"]
                                                             for each in s["actions"] if each["kind"] == "wind"))
    for number, (told, counted) in after.items():
        if told is not None and told != counted:
            faults.append(f"step {number}: {told} turns of its layer, and not {counted}")
    faults += [f"step {step['number']}: no turns of its layer" for step in part["steps"] if step["turns"] and step["kind"] == "wind"
               and "layer_turn" not in step]
    return faults


def made_faults(rod, measured_before):
    faults = []
    for section in rod["sections"]:
        for part in section["parts"]:
            if "layer" not in part:
                faults += [f"step {step['number']}: turns of no layer" for step in part["steps"] if "layer_turn" in step]
                continue
            faults += measured_faults(rod, part) + layer_turn_faults(rod, part)
            faults += [] if measured_before else widths_as_declared(rod, part)
    return faults
