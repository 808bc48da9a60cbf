"""Where parts and their sum stand on a page, the printed sum is the sum of the printed parts, to the last digit."""
import csv
import io
import json
import re
from decimal import Decimal
from fractions import Fraction

LENGTH = r"((?:[\d/ ]+ in \()?-?[\d./ ]*\d (?:mm|cm|in)\)?)"


def printed(length):
    """A number and how far it may be rounded: a fraction of an inch alone says the same as its decimal to 0.001 in."""
    text = re.sub(r".*\(", "", str(length)).rstrip(")").removesuffix(" in").removesuffix(" mm").removesuffix(" cm")
    slack = Fraction(1, 2000) if str(length).endswith(" in") and "." not in text else 0
    return sum(map(Fraction, text.split())), slack


class Sums:
    """Counts the sums that were added up, and gathers those that are wrong."""

    def __init__(self):
        self.counted, self.wrong = 0, []

    def add(self, what, parts, whole):
        if any(each is None for each in (*parts, whole)):
            return
        self.counted += 1
        numbers = [printed(each) for each in (*parts, whole)]
        if abs(sum(value for value, _ in numbers[:-1]) - numbers[-1][0]) > sum(slack for _, slack in numbers):
            self.wrong.append(f"{what}: {' + '.join(map(str, parts))} is printed as {whole}")


def need_rows(sums, what, totals, places):
    """Rows of (thread, pieces, turns, wound, ends, in all), those of all first."""
    for thread, _pieces, _turns, wound, ends, whole in totals + places:
        sums.add(f"{what}, row of {thread}", (wound, ends), whole)
    for thread, *cells in totals:
        own = [row[1:] for row in places if row[0] == thread]
        for column, whole in enumerate(cells):
            sums.add(f"{what}, column {column} of {thread}", [row[column] for row in own], whole)


def need_text(sums, text):
    row = re.compile(r"^(\S.*?) +(\d+) +(\d+|-) +([\d.]+) (?:m|yd) +([\d.]+) (?:m|yd) +([\d.]+) (?:m|yd)$")
    totals, places, rows = [], [], None
    for line in text.splitlines():
        if line.startswith("thread "):
            rows = totals
        elif line.startswith("Rod: "):
            rows = places
        found = row.match(line)
        if found and rows is not None:
            rows.append(["0" if cell == "-" else cell for cell in found.groups()])
        stock = re.match(r"^  in stock: ([\d.]+) \w+, ([\d.]+) \w+ (short|left)", line)
        if stock and rows:
            sign = -1 if stock[3] == "short" else 1
            sums.add("need, stock", (rows[-1][5], sign * Decimal(stock[2])), stock[1])
    need_rows(sums, "need", totals, places)
    costs, all_costs = re.findall(r", cost ([\d.]+)$", text, re.M), re.findall(r"^cost in all: ([\d.]+)", text, re.M)
    if costs:
        sums.add("need, cost in all", costs, (all_costs or ["0"])[0])


def need_json(sums, need):
    cells = ("thread", "pieces", "turns", "wound_mm", "ends_mm", "total_mm")
    need_rows(sums, "need.json", *[[tuple(row[cell] for cell in cells) for row in need[which]]
                                   for which in ("threads", "places")])
    for thread in need["threads"]:
        sums.add("need.json, stock", (thread["total_mm"], thread["left_mm"]), thread["stock_mm"])
        if thread["cost"] is not None:
            sums.add("need.json, cost", [thread["price"]] * int(thread["spools"]), thread["cost"])
    priced = [thread["cost"] for thread in need["threads"] if thread["cost"] is not None]
    if priced:
        sums.add("need.json, cost in all", priced, need["cost"])


def need_csv(sums, text):
    cells = ("thread", "pieces", "turns", "wound_mm", "ends_mm", "total_mm")
    rows = list(csv.DictReader(io.StringIO(text)))
    need_rows(sums, "need.csv", *[[tuple(row[cell] for cell in cells) for row in rows if row["scope"] == scope]
                                  for scope in ("all", "place")])
    for row in rows:
        if row["stock_mm"]:
            sums.add("need.csv, stock", (row["total_mm"], row["left_mm"]), row["stock_mm"])


def cut_list(sums, sheet, need):
    """What is cut and mounted, all rods together, is what is needed (both to 0.01 m; in inches the list is coarser)."""
    row = re.compile(r"^\[ \]  (\S+) \d+(?:(?:, | and | to )\d+)*  +(?:spool|cut piece|bobbin|spool, as a spacer)(?:, code .+?)? +"
                     r"(?:(\d+) x )?([\d.]+) (m|cm)  \d+$", re.M)
    cut = {}
    for thread, count, length, unit in row.findall(sheet):
        cut.setdefault(thread, []).extend([Decimal(length) / (100 if unit == "cm" else 1)] * int(count or 1))
    table = need.split("\nRod: ")[0]
    for thread, whole in re.findall(r"^(\S+) +\d+ +(?:\d+|-) .* ([\d.]+) m$", table, re.M):
        sums.add(f"sheet, pieces of {thread}", cut.get(thread, []), whole)


def plan_text(sums, text):
    """The plan: from, to and width of each row, of the layer, and what is said below them."""
    row = re.compile(r"^ *(?:(?:\d+:)?\d+)?  .* (-?\d+\.\d+) +(-?\d+\.\d+) +(?:-?[\d/ ]*\d +)?(-?\d+\.\d+)$")
    widths, first, last = [], None, None
    for line in text.splitlines():
        if line.startswith("Layer "):
            widths, first = [], None
        found = row.match(line)
        if found:
            begin, end, width = found.groups()
            sums.add("plan, row", (begin, width), end)
            first = begin if first is None else first
            last = end
            widths.append(width)
        if re.match(r"^       \d+ turns? in all,", line) and widths:
            sums.add("plan, from the first to the last", (first, *widths), last)
            whole = re.search(LENGTH + r" wide", line)
            if whole:
                sums.add("plan, rows of the layer", widths, whole[1])
    flowing = re.sub(r"\n +", " ", text)
    for found in re.finditer(LENGTH + r" wide of " + LENGTH + r"; " + LENGTH + r" stays bare", flowing):
        sums.add("plan, stays bare", (found[1], found[3]), found[2])
    for found in re.finditer(r"asked for " + LENGTH + r", gets " + LENGTH + r", " + LENGTH + r" (more|less)", flowing):
        sums.add("plan, asked and obtained", (found[1] if found[4] == "more" else found[2], found[3]),
                 found[2] if found[4] == "more" else found[1])
    for found in re.finditer(r"room for " + LENGTH + r" of strands; they take " + LENGTH + r": "
                             r"(?:they overlap by " + LENGTH + "|" + LENGTH + " stays bare)", flowing):
        sums.add("plan, room", (found[2] if found[4] else found[1], found[4] or found[3]), found[1] if found[4] else found[2])


def plan_layer(sums, place, layer):
    sign = 1 if place["toward"] == "tip" else -1
    runs = layer["runs"]
    for run in runs:
        for end in ("start_mm", "end_mm"):
            sums.add(f"plan.json, {end}", (place["start_mm"], sign * run[end.replace("start", "from").replace("end", "to")]),
                     run[end])
    if layer["laid"]:
        sums.add("plan.json, layer", (layer["start_mm"], sign * layer["width_mm"]), layer["end_mm"])
        sums.add("plan.json, room", (layer["width_mm"], layer["unfilled_mm"]), layer["length_mm"])
    for item in layer["items"]:
        own = runs[item["first_run"]:item["first_run"] + item["run_count"]]
        sums.add("plan.json, runs", [sign * (run["to_mm"] - run["from_mm"]) * sign for run in own], item["obtained_mm"])
        sums.add("plan.json, item", (item["asked_mm"], item["error_mm"]), item["obtained_mm"])
    for shared in layer["shared_lengths"]:
        own = layer["items"][shared["first_item"]:shared["first_item"] + shared["item_count"]]
        sums.add("plan.json, shared", [item["obtained_mm"] for item in own], shared["obtained_mm"])
        sums.add("plan.json, shared", (shared["asked_mm"], shared["error_mm"]), shared["obtained_mm"])
    if "crosswrap" in layer:
        field = layer["crosswrap"]["field"]
        sums.add("plan.json, end band", (layer["start_mm"], sign * layer["crosswrap"]["end_width_mm"]), field["start_mm"])


def plan_json(sums, plan):
    for rod in plan["rods"]:
        for piece in rod["pieces"]:
            sums.add("plan.json, piece", [piece[part + "_mm"] for part in ("wound", "tags", "beneath", "free")],
                     piece["cut_mm"])
        for place in rod["places"]:
            for layer in place["layers"]:
                plan_layer(sums, place, layer)
    for thread in plan["threads"]:
        own = [piece for rod in plan["rods"] for piece in rod["pieces"] if piece["thread"] == thread["thread"]]
        sums.add("plan.json, thread", (thread["wound_mm"], thread["ends_mm"]), thread["total_mm"])
        sums.add("plan.json, pieces of a thread", [piece["cut_mm"] for piece in own], thread["total_mm"])
        sums.add("plan.json, pieces wound", [piece["wound_mm"] for piece in own], thread["wound_mm"])


def plan_csv(sums, text):
    for row in csv.DictReader(io.StringIO(text)):
        sign = 1 if Decimal(row["end_mm"]) >= Decimal(row["start_mm"]) else -1
        datum = [Decimal(row[at]) - sign * Decimal(row[by]) for at, by in (("start_mm", "from_mm"), ("end_mm", "to_mm"))]
        sums.add("plan.csv, datum", datum[:1], datum[1])
        if row.get("back_mm"):
            sums.add("plan.csv, legs", (row["out_mm"], row["back_mm"]), row["wound_mm"])


def exact(text):
    return json.loads(text, parse_float=Decimal)


PAGES = {
    "need": need_text, "need.csv": need_csv, "need.json": lambda sums, text: need_json(sums, exact(text)),
    "plan": plan_text, "plan.csv": plan_csv, "plan.json": lambda sums, text: plan_json(sums, exact(text)),
}


def check_exact_sums(checks, name, pages):
    """pages: the bytes of each page by its name."""
    if {"sheet", "need"} <= set(pages):
        sums = Sums()
        cut_list(sums, pages["sheet"].decode(), pages["need"].decode())
        checks.check(not sums.wrong, f"{name}: what is cut is what is needed", "\n".join(sums.wrong[:8]))
        yield "sheet", sums.counted
    for page, add in PAGES.items():
        if page not in pages:
            continue
        sums = Sums()
        add(sums, pages[page].decode())
        if sums.counted:
            checks.check(not sums.wrong, f"{name}: {page}: what is printed adds up", "\n".join(sums.wrong[:8]))
        yield page, sums.counted
