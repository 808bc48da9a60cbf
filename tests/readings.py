"""Widths as they are measured at the bench, from the sheet as data."""


def measured_actions(sheet):
    """((rod, place, layer), step, action) of each, in the order of the work."""
    return [((rod, part["place"], part["layer"]), step["number"], action)
            for rod, each in enumerate(sheet["rods"]) for section in each["sections"] for part in section["parts"]
            for step in part["steps"] for action in step["actions"] if action["kind"] == "measure"]


def measurings(sheet):
    """(step, width in mm that should be there) of each, in the order of the work."""
    return [(step, action["width_mm"]) for _, step, action in measured_actions(sheet)]


def readings(sheet, share):
    """What `--measured` is given for the first and the middle one, each wider than it should be by that share."""
    found = measurings(sheet)
    return [f"{step}={width * (1 + share):.2f}mm" for step, width in dict.fromkeys([*found[:1], *found[len(found) // 2:][:1]])]
