"""Widths as they are measured at the bench, from the sheet as data."""


def measurings(sheet):
    """(step, width in mm that should be there) of each, in the order of the work."""
    return [(step["number"], action["width_mm"]) for rod in sheet["rods"] for section in rod["sections"] for part in section["parts"]
            for step in part["steps"] for action in step["actions"] if action["kind"] == "measure"]


def readings(sheet, share):
    """What `--measured` is given for the first and the middle one, each wider than it should be by that share."""
    found = measurings(sheet)
    return [f"{step}={width * (1 + share):.2f}mm" for step, width in dict.fromkeys([*found[:1], *found[len(found) // 2:][:1]])]
