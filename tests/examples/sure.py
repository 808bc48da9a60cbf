"""How sure widths and positions are, counted once more from the plan as data, as the reference's "How sure" says it."""
from math import hypot, sqrt

VARIES = 0.01   # the bench's, if left out: of all examples
RULE_ENDS = 6   # a mark has two ends, each read to a step of the rule: step / sqrt 6
ROUNDED = 3e-6  # mm: numbers have six decimals


class Width:
    """Turns thread by thread: those of one are off alike, those of two by themselves."""

    def __init__(self, threads):
        self.threads, self.turns = threads, {}

    def add(self, run):
        for strand in run["strands"]:
            self.turns[strand["thread"]] = self.turns.get(strand["thread"], 0) + run["turns"]

    def uncertainty(self):
        apart = [turns * self.threads[name]["pitch_uncertainty_mm"] for name, turns in self.turns.items()]
        packed = VARIES * sum(turns * self.threads[name]["pitch_mm"] for name, turns in self.turns.items())
        return sqrt(sum(each * each for each in (*apart, packed)))


def check_sure(checks, name, plan, sheet):
    threads = {thread["thread"]: thread for thread in plan["threads"]}
    if len(threads) < len(plan["threads"]):
        return  # two of one name: the runs do not say which
    mark = sheet["bench"]["rule_mm"] / sqrt(RULE_ENDS)
    faults, counted = [], 0

    def expect(what, said, wanted):
        nonlocal counted
        counted += 1
        turns = max((sum(run["turns"] for run in layer["runs"]) for layer in place["layers"]), default=0)
        if abs(said - wanted) > ROUNDED * (1 + turns):
            faults.append(f"{what}: {said} mm, {wanted:.6f} mm by what it rests on")

    for rod in plan["rods"]:
        for place in rod["places"]:
            expect(f"{place['label']}: the mark", place["start_uncertainty_mm"], mark)
            for layer in place["layers"]:
                so_far, items = Width(threads), [Width(threads) for _ in layer["items"]]
                for number, run in enumerate(layer["runs"]):
                    so_far.add(run)
                    items[run["item"]].add(run)
                    what = f"{place['label']}: run {number}"
                    expect(what, run["to_uncertainty_mm"], so_far.uncertainty())
                    expect(what, run["end_uncertainty_mm"], hypot(so_far.uncertainty(), mark))
                    wound = [strand["wound_uncertainty_mm"] for strand in run["strands"]]
                    if not all(0 < each < strand["wound_mm"] for each, strand in zip(wound, run["strands"])):
                        faults.append(f"{what}: thread known to {wound} mm")
                expect(f"{place['label']}: width", layer["width_uncertainty_mm"], so_far.uncertainty())
                for item, width in zip(layer["items"], items):
                    expect(f"{place['label']}: a statement", item["obtained_uncertainty_mm"], width.uncertainty())
    checks.check(counted and not faults, f"{name}: widths and positions are as sure as their threads", "\n".join(faults))
