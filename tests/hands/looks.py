"""Where turns are packed and measured, from the sheet as data: never twice within a few turns of one stretch.

What is packed, measured, cut and packed once more with no turn between counts as one. One pair cannot wait for one another: the width of
a band that is measured at its end, and the packing at the end of its stretch, which follows a pull-through there."""
FEW_TURNS = 6


def few_turns(bench):
    """Fewer where the bench asks for packing or measuring oftener than that."""
    few = min(FEW_TURNS, bench["pack_turns"] - 1)
    return few if bench["measure_turns"] is None else max(0, min(few, (bench["measure_turns"] - 2) // 2))


def looks_of(rod):
    """For each stretch, by place, layer and gaps before it: the turns of the layer at which it is packed or measured, with what was
    done there; and the turn at which it ends."""
    made, ends, looks, stretch = {}, {}, {}, None
    actions = [action for section in rod["sections"] for part in section["parts"] for step in part["steps"] for action in step["actions"]]
    for action in actions:
        if action["kind"] == "wind":
            winding = rod["windings"][action["winding"]]
            layer = winding["place"], winding["layer"]
            runs = rod["places"][layer[0]]["layers"][layer[1]]["runs"][:winding["run"]]
            stretch = (*layer, sum(run["role"] == "gap" for run in runs))
            made[layer] = made.get(layer, 0) + action["turns"]
            ends[stretch] = made[layer]
        elif action["kind"] in ("pack", "measure") and stretch:
            looks.setdefault(stretch, {}).setdefault(made[stretch[:2]], set()).add(action["kind"])
        elif action["kind"] == "leg":
            stretch = None
    return looks, ends


def badly_looked_at(rod, bench):
    """In words, the pairs that come within a few turns of each other, and stretches that are not packed at their end."""
    few, found = few_turns(bench), []
    looks, ends = looks_of(rod)
    for stretch, end in ends.items():
        turns = looks.get(stretch, {})
        if "pack" not in turns.get(end, ()):
            found.append(f"place {stretch[0]}, layer {stretch[1]}: not packed at its end, after {end} turns")
        for one, other in zip(turns, list(turns)[1:]):
            at_end = "measure" in turns[one] and other == ends[stretch] and "measure" not in turns[other]
            if other - one <= few and not at_end:
                found.append(f"place {stretch[0]}, layer {stretch[1]}: {', '.join(sorted(turns[one]))} after {one} turns, "
                             f"{', '.join(sorted(turns[other]))} after {other}")
    return found
