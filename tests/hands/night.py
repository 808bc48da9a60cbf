"""Where to stop for the night, counted once more turn by turn from what the bench protocol says of it: of every step the nearest
places before and after its beginning, those within it, and the words for them."""

UNDONE = {"start", "lay in", "lay loop", "take up", "wind", "stand", "tape down", "untape", "pack", "measure"}
TURNS = {"wind", "leg"}
THINGS = ("tag", "line", "end", "loop")


def in_order(held):
    """Piece by piece as they were begun, and of each piece its things in that order."""
    pieces = list(dict.fromkeys(piece for piece, _ in held))
    return {(piece, thing): held[piece, thing] for piece in pieces for thing in THINGS if (piece, thing) in held}


class Place:
    """Where the work stands: behind the action at `at` (-1 before the first), or behind `turn` of its turns."""

    def __init__(self, at, turn, step, made, turns, stop, held):
        self.at, self.turn, self.step, self.made, self.turns, self.stop, self.held = at, turn, step, made, turns, stop, held

    def safe(self):
        return self.stop != "no"


class Night:
    def __init__(self, rod, rules, work):
        """work: a bench of the rod, with nothing done yet."""
        self.steps = [step for section in rod["sections"] for part in section["parts"] for step in part["steps"]]
        self.labels = [piece["label"] for piece in rod["pieces"]]
        self.passes = [piece["passes"] for piece in rod["pieces"]]
        self.layer_of = {step["number"]: (part.get("place"), part.get("layer")) for section in rod["sections"]
                         for part in section["parts"] for step in part["steps"]}
        self.actions = [action for step in self.steps for action in step["actions"]]
        self.places = [Place(-1, 0, -1, 0, 0, "finished", {})]
        self.begins = []   # of each step: the index of the place at its beginning
        at = turns = 0
        for number, step in enumerate(self.steps):
            self.begins.append(len(self.places) - 1)
            made = 0
            for action in step["actions"]:
                layer = self.layer_of[step["number"]]
                for turn in range(1, action["turns"] + 1) if action["kind"] == "wind" else [0]:
                    work.work({**action, "turns": 1} if turn else action, layer)
                    made, turns = made + (turn > 0), turns + (turn > 0)
                    state = work.after()
                    whole = turn in (0, action.get("turns"))
                    self.places.append(Place(at, 0 if whole else turn, number, made, turns, state["stop"], in_order(state["held"])))
                at += 1
        self.begins.append(len(self.places) - 1)

    def kinds(self, first, last):
        """Of what is done from one place to another."""
        return {self.actions[place.at]["kind"] for place in self.places[first + 1:last + 1]}

    def before(self, number):
        here = self.begins[number]
        index = next((i for i in range(here, -1, -1) if self.places[i].safe()), None)
        if index is None or not self.kinds(index, here) <= UNDONE:
            return None
        # As near: without a turn, and with nothing that stays done, between them; but the end of a step comes first.
        while (index not in self.begins and self.places[index - 1].safe() and self.places[index - 1].turns == self.places[index].turns
               and self.kinds(index - 1, index) <= UNDONE):
            index -= 1
        return index

    def after(self, number):
        here, end = self.begins[number], self.begins[number + 1]
        fresh = self.places[here].safe()
        for index in range(here + 1, len(self.places)):
            done = self.kinds(here, index)
            brought_on = not fresh or done & TURNS or done - UNDONE or index == end
            if brought_on and self.places[index].safe():
                break
            if index > end:
                fresh = False
        else:
            return None
        if self.places[index].turn:
            return index
        # What follows it in its step before the next turn is done with.
        last = index
        for later in range(index + 1, self.begins[self.places[index].step + 1] + 1):
            if self.actions[self.places[later].at]["kind"] in TURNS:
                break
            last = later if self.places[later].safe() else last
        return last

    def within(self, number):
        here, end = self.begins[number], self.begins[number + 1]
        counts = {place.turns - self.places[here].turns for place in self.places[here:end + 1] if place.safe()}
        ranges = []
        for count in sorted(counts):
            if ranges and count == ranges[-1][1] + 1:
                ranges[-1][1] = count
            else:
                ranges.append([count, count])
        return ranges

    def told(self, number, index):
        """The members of a place, as the sheet has them."""
        if index is None:
            return None
        place, here = self.places[index], self.places[self.begins[number]]
        ends = index in self.begins
        begun = self.steps[0]["number"] - 1
        done = sum(1 for begin in self.begins[1:] if begin <= index)
        number_of_action = self.actions[0]["number"] - 1
        return {"steps_done": begun + done, "turns_made": 0 if ends else place.made,
                "actions_done": number_of_action + place.at + (place.turn == 0),
                "turns": abs(place.turns - here.turns), "stop": place.stop}

    # In words

    def thing(self, piece, thing, by):
        return {"tag": "the tag of ", "line": "", "end": "the end of ", "loop": "the loop for "}[thing] * (by != "bobbin") \
            + "the bobbin of " * (by == "bobbin") + self.labels[piece]

    @staticmethod
    def in_a_row(words):
        return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]

    def taped(self, held):
        return {each: by for each, by in held.items() if by in ("tape", "bobbin") and not self.passes[each[0]]}

    def leaving(self, place):
        words = {"finished": "no thread is in work, there is nothing to tape", "held": "tape and turns hold everything"}.get(place.stop)
        if place.stop == "tape":
            spools = [self.thing(*each, by) for each, by in place.held.items() if by == "spool"]
            words = f"tape {self.in_a_row(spools)} down, ease {'its' if len(spools) == 1 else 'their'} tension"
        taped = [self.thing(*each, by) for each, by in self.taped(place.held).items()]
        return words + (f"; {self.in_a_row(taped)} stay{'s' * (len(taped) == 1)} taped" if taped else "")

    def where(self, index, number):
        place = self.places[index]
        if index in self.begins:
            done = sum(1 for begin in self.begins[1:] if begin <= index)
            return f"the end of step {self.steps[done - 1]['number']}" if done else f"where step {self.steps[0]['number']} begins"
        step = self.steps[place.step]["number"]
        if self.actions[place.at]["kind"] == "wind":
            return f"turn {place.made} of step {step}"
        return f"where this is done in {'it' if place.step == number else f'step {step}'}: {self.actions[place.at]['says']}"

    def going_on(self, number, index):
        turns = self.places[index].turns - self.places[self.begins[number]].turns
        far = f"for {turns} turn{'s' * (turns != 1)}, " if turns else ""
        return f"go on {far}to {self.where(index, number)}; then {self.leaving(self.places[index])}"

    def going_back(self, number, index):
        there, here = self.places[index], self.places[self.begins[number]]
        turns = here.turns - there.turns
        words = "Or " + (f"unwind {turns} turn{'s' * (turns != 1)}, " if turns else "") + f"back to {self.where(index, number)}"
        new = [self.labels[piece] if thing == "tag" else self.thing(piece, thing, by) for (piece, thing), by in here.held.items()
               if thing in ("tag", "loop") and (piece, thing) not in there.held]
        words += f", and take off {self.in_a_row(new)}, laid since" if new else ""
        taped = self.taped(here.held)
        again = [self.thing(*each, by) for each, by in self.taped(there.held).items() if each in here.held and each not in taped]
        return words + (f"; tape {self.in_a_row(again)} again" if again else "") + f"; then {self.leaving(there)}."

    def taped_first(self, number):
        """(turns made, things) where it is safe only once the step has taped these, which no tape held when the turn was made."""
        here, end = self.begins[number], self.begins[number + 1]
        counts = {}
        for place in self.places[here + 1:end + 1]:
            counts.setdefault(place.turns - self.places[here].turns, []).append(place)
        for count, places in sorted(counts.items()):
            safe = next((place for place in places if place.safe()), None)
            if count and safe and not places[0].safe():
                bare = self.taped(places[0].held)
                things = [self.thing(*each, by) for each, by in self.taped(safe.held).items() if each in places[0].held and each not in bare]
                if things:
                    yield count, things

    def says(self, number):
        step, here = self.steps[number], self.places[self.begins[number]]
        before, after, turns = self.before(number), self.after(number), self.steps[number]["turns"]
        if here.safe():
            words = f"To stop for the night where step {step['number']} begins: {self.leaving(here)}."
        else:
            words = f"For the night, do not stop where step {step['number']} begins: {self.going_on(number, after)}."
            words += f" {self.going_back(number, before)}" if before is not None else ""
        ranges = [(max(first, 1), last) for first, last in self.within(number) if last >= 1 and max(first, 1) < turns]
        if not ranges:
            return words + (f" Once step {step['number']} is begun, {self.going_on(number, after)}." if here.safe() else "")
        some = [f"{first} to {last}" if last > first else f"{first}" for first, last in ranges]
        which = f"turn{'s' * (ranges[0][1] > ranges[0][0])} {' or '.join(some)} of it"
        which = "any of its turns" if ranges == [(1, turns)] else which
        first = "".join(f"; after turn {count} tape {self.in_a_row(things)} down first" for count, things in self.taped_first(number)
                        if any(low <= count <= high for low, high in ranges))
        return f"{words} Within step {step['number']} you may stop after {which}: tape what goes to a spool down, ease its tension{first}."


def night_differs(rod, rules, work):
    """Where the sheet says something else than this; and how many steps there are, begin where one may not stop, go back by turns."""
    night, differences, counts = Night(rod, rules, work), [], [0, 0, 0]
    for number, step in enumerate(night.steps):
        ours = {"before": night.told(number, night.before(number)), "after": night.told(number, night.after(number)),
                "within": night.within(number), "says": night.says(number)}
        for name, value in ours.items():
            if step["night"].get(name) != value:
                differences.append(f"step {step['number']}: {name} {value}, the sheet says {step['night'].get(name)}")
        counts[0] += 1
        counts[1] += not night.places[night.begins[number]].safe()
        counts[2] += bool(ours["before"] and ours["before"]["turns"])
    return differences, counts
