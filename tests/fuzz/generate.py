#!/usr/bin/python3
"""Programs of the language from a seed, written from the reference: every statement and option, most of them without errors.

    generate.py SEED...       prints the programs

A program can be written in other ways that mean the same, or almost: see Program.text. Its values are marked where they
begin and end, so that a test can take one out; text() leaves the marks away.
"""
import random
import re
import sys
from fractions import Fraction

INCH = Fraction(254, 10)
# Of places that have such a length; also what all statements of one layer may come to, in mm.
ROOM = 120
# Statements within one another.
DEEPEST = 3
SHEENS = ["gloss", "matt", "metallic"]
CODES = ['"N 104"', '"=7"', '"Träum 3/0"']
FIBRES = ["nylon", "polyester", "silk", "viscose", "cotton", "polypropylene", "aramid"]
# Declarations that pages list: a used file's threads as well.
LISTED = re.compile("^(thread|rod|use) ", re.M)
MARKS = re.compile("\x02[A-Z]|\x03")


def decimal(value):
    text = f"{float(value):.6f}".rstrip("0").rstrip(".")
    assert Fraction(text) == value, value
    return text


def marked(kind, text):
    """A value that stands alone. L: nothing but a length may stand there; V: any other."""
    return f"\x02{kind}{text}\x03"


def indented(text):
    return "\n".join("    " + line for line in text.split("\n"))


class Laid:
    """Statements as text, how many items of a layer's plan they make, and the most mm that they take."""

    def __init__(self, text, items, most):
        self.text, self.items, self.most = text, items, most

    def __add__(self, other):
        return Laid(self.text + "\n" + other.text, self.items + other.items, self.most + other.most)


NOTHING = Laid("", 0, 0)


class Scope:
    """Names by kind. A name of turns stands for 14 to 40 of them, of a length for 4 to 14 mm, of a count for 2 to 4."""

    def __init__(self, outer=None):
        self.names = {kind: list(names) for kind, names in outer.names.items()} if outer else {}

    def add(self, kind, name):
        self.names.setdefault(kind, []).append(name)

    def of(self, kind):
        return self.names.get(kind, [])


class Program:
    def __init__(self, seed, scale=1, whole_bench=False, mirrors=False, turned=False, singly=False, farther=0):
        """scale: all lengths are multiplied by it. whole_bench: no habit with a length is left out. mirrors: some statements
        and layers stand in two mirrors, which leaves the plan as it is. turned: every layer stands in a mirror. singly: places
        stand one by one in their rods, in no series, loop, case or pattern. farther:
        degrees by which every place stands farther round the blank."""
        self.random = random.Random(seed)
        self.others = random.Random(seed)  # for what does not change the rest
        self.ways = random.Random(seed)    # in which places are written
        self.by_rule = random.Random(seed)
        self.singly, self.way_names = singly, 0
        self.angles, self.farther = random.Random(seed), farther   # at which places stand round the blank
        self.seed, self.scale, self.whole_bench, self.mirrors, self.turned_round = seed, Fraction(scale), whole_bench, mirrors, turned
        self.used_names = 0
        self.declarations, self.rods = [], []
        self.layers = []  # items of each layer that is laid, in order
        self.scope = Scope()
        self.patterns = []
        self.make()

    def text(self, order=None, keep_marks=False):
        """order: a random.Random, which shuffles the declarations; but threads and rods keep their order, which that of the
        pages follows."""
        declarations = self.declarations + self.rods
        if order:
            listed = [each for each in declarations if LISTED.search(each)]
            order.shuffle(declarations)
            again = iter(listed)
            declarations = [next(again) if LISTED.search(each) else each for each in declarations]
        text = "edition 1\n" + "\n".join(declarations) + "\n"
        return text if keep_marks else MARKS.sub("", text)

    # --- chance ---

    def chance(self, part):
        return self.random.random() < part

    def pick(self, choices):
        return self.random.choice(choices)

    def between(self, low, high):
        return self.random.randint(low, high)

    def colour(self):
        return self.pick(["navy", "teal", "gold", "rebeccapurple", "lightslategrey"]) if self.chance(0.4) \
            else "#%06x" % self.between(0, 0xffffff)

    def name(self, stem):
        self.used_names += 1
        return f"{stem}{self.used_names}"

    # --- values ---

    def plain_length(self, low, high):
        """Between low and high mm, before it is scaled."""
        way = self.between(0, 6)
        if way == 6 and (low, high) == (4, 14):
            return self.pick([f"{decimal(Fraction(2, 100) * self.scale)} ft", f"{decimal(Fraction(1, 100) * self.scale)} yd"])
        if way == 0:
            value = Fraction(self.between(round(low * 2), round(high * 2)), 2) * self.scale
            return f"{decimal(value / 10)} cm"
        if way == 1 and high - low > 4:
            sixteenths, fraction = self.between(-int(-low * 16 // INCH), int(high * 16 // INCH)) * self.scale, self.chance(0.7)
            whole, rest = divmod(sixteenths, 16)
            if rest.denominator == 1 and rest and fraction:
                return f"{whole} {rest}/16 in" if whole else f"{rest}/16 in"
            return f"{decimal(sixteenths / 16)} in"
        if way == 2 and high - low > 1:
            return f"{decimal(Fraction(self.between(int(low) + 1, int(high))) * self.scale / 1000)} m"
        return f"{decimal(Fraction(self.between(round(low * 10), round(high * 10)), 10) * self.scale)} mm"

    def length(self, scope, low=4, high=14):
        known, way = scope.of("length") if (low, high) == (4, 14) else [], self.between(0, 9)
        if way == 0 and known:
            return self.pick(known)
        if way == 1:
            return f"{self.plain_length(low, (low + high) / 2)} + {self.plain_length(0, (high - low) / 2)}"
        if way == 2:
            return f"{self.pick(['max', 'min'])}({self.plain_length(low, high)}, {self.plain_length(low, high)})"
        if way == 3:
            return f"{self.plain_length(low * 2, high * 2)} {self.pick(['/ 2', '* 1/2', '* 50 %'])}"
        if way == 4:
            return f"abs(-{self.plain_length(low, high)})"
        if way == 5 and scope.of("lengths"):
            return f"{self.pick(['first', 'last'])}({self.pick(scope.of('lengths'))})" if (low, high) == (4, 14) \
                else self.plain_length(low, high)
        return self.plain_length(low, high)

    def only_length(self, scope, low=4, high=14):
        return marked("L", self.length(scope, low, high))

    def turns(self, scope, low=14, high=40):
        way, known = self.between(0, 9), scope.of("turns") if (low, high) == (14, 40) else []
        n = self.between(low, high)
        if way == 0 and known:
            return self.pick(known)
        if way == 1 and n - low > 1:
            return f"{n - 1} turns + 1 turn"
        if way == 2 and scope.of("count") and high - low > 8:
            return f"({n - 4 if n - 4 > low else low} + {self.pick(scope.of('count'))}) turns"
        if way == 3:
            return self.pick([f"round({2 * n - 1}/2)", f"ceil({2 * n - 1}/2)", f"floor({2 * n + 1}/2)"]) + " turns" if n > 1 \
                else "1 turn"
        if way == 6 and scope.of("rate") and (low, high) == (14, 40):
            return f"round({self.plain_length(4, 5)} * {self.pick(scope.of('rate'))})"
        if way == 4:
            return f"{self.pick(['max', 'min'])}({n} turns, {self.between(low, high)} turns)"
        if way == 5 and n % 2 == 0:
            return f"{n // 2} turns * 2"
        return f"{n} turn{'' if n == 1 else 's'}"

    def count(self, scope, low=2, high=4):
        known = scope.of("count") if (low, high) == (2, 4) else []
        if known and self.chance(0.3):
            return self.pick(known)
        if scope.of("lengths") and (low, high) == (2, 4) and self.chance(0.1):
            return f"count({self.pick(scope.of('lengths'))})"
        n = self.between(low, high)
        return f"{n}" if self.chance(0.8) else f"{n + 1} - 1"

    def ratio(self, scope, low=Fraction(1, 4), high=Fraction(3, 4)):
        if scope.of("ratio") and self.chance(0.3):
            return self.pick(scope.of("ratio"))
        n = self.between(round(low * 20), round(high * 20))
        return self.pick([f"{n}/20", f"{n * 5} %", decimal(Fraction(n, 20))]) if n != 20 else "1"

    def truth(self, scope, holds):
        """A condition that does or does not hold."""
        yes = ["yes", "1 < 2", "3 turns == 3 turns", f"{self.plain_length(5, 9)} >= {self.plain_length(1, 4)}", "not no",
               "no or 1/2 == 50 %"]
        no = ["no", "2 <= 1", "1 mm != 1 mm", "not yes", "yes and 3 > 4"]
        if scope.of("count"):
            yes.append(f"{self.pick(scope.of('count'))} < 9")
            no.append(f"{self.pick(scope.of('count'))} > 9")
        if scope.of("truth"):
            yes.append(self.pick(scope.of("truth")))
            no.append(f"not {self.pick(scope.of('truth'))}")
        return self.pick(yes if holds else no)

    def thread(self, scope):
        lists = scope.of("threads")
        if lists and self.chance(0.08):
            return self.pick(["first({})", "last({})", "first(rest({}))"]).format(self.pick(lists))
        return self.pick(scope.of("thread"))

    def thread_list(self, scope, low, high):
        lists = scope.of("threads")
        if lists and low <= 3 and self.chance(0.3):
            return self.pick(["{}", "reverse({})"]).format(self.pick(lists)), 3
        n = self.between(low, high)
        return "[" + ", ".join(self.random.choices(scope.of("thread"), k=n)) + "]", n

    def shades(self, scope, low, high):
        """A list of threads of which no two neighbours are one, and how many there are."""
        lists = scope.of("threads")
        if lists and low <= 3 <= high and self.chance(0.3):
            return self.pick(["{}", "reverse({})"]).format(self.pick(lists)), 3
        n = min(self.between(low, high), len(self.own_threads))
        return "[" + ", ".join(self.random.sample(self.own_threads, n)) + "]", n

    def by_eye(self, shades):
        """Behind a fade's other options; only threads that have a colour are seen, and those that are seen through look otherwise on
        other layers. What is as good as something else may be chosen otherwise where numbers are rounded otherwise: not where all
        lengths are multiplied."""
        seen = all(name in self.seen for name in re.findall(r"\w+", shades))
        return " by: eye" if self.chance(0.5) and seen and not self.whole_bench else ""

    # --- statements ---

    def extent(self, scope, low=14, high=40):
        """Of a band, with the most mm that it takes of a single thread; low turns are there in any case."""
        if self.chance(0.6):
            return self.turns(scope, low, high), high * 0.3
        shortest = -int(-low * 3 // 10)
        return self.length(scope, shortest, max(shortest + 2, 14)), max(shortest + 2, 14) + 1

    def band(self, scope, fill):
        if fill:
            option = f" weight: {marked('V', self.pick(['1', '2', '1.5', '3/2', '80 %']))}" if self.chance(0.4) else ""
            return Laid(f"band fill of {marked('V', self.thread(scope))}{option}", 1, 12)
        if self.chance(0.15):
            threads, _ = self.thread_list(scope, 2, 3)
            if threads.startswith("[") and self.chance(0.4):
                threads = re.sub(r"(\w+(\.\w+)?)\]$", r"spacer(\1)]", threads)
            return Laid(f"band {self.turns(scope)} of {marked('V', threads)}", 1, 40 * 0.9)
        if self.chance(0.04):
            n = self.between(14, 40)
            measured = f"measured: {decimal(Fraction(n * self.between(13, 18), 100) * self.scale)} mm"
            return Laid(f"band {n} turns of {self.thread(scope)} {measured}", 1, 12)
        extent, most = self.extent(scope)
        return Laid(f"band {marked('V', extent)} of {marked('V', self.thread(scope))}", 1, most)

    def inlaid(self, scope):
        band = f"band {marked('V', self.turns(scope, 60, 80))} of {marked('V', self.thread(scope))} {{\n"
        thread, width = self.thread(scope), self.pick(["1 turn", "2 turns", "3 turns", "0.4 mm", "1/2 mm"])
        if "mm" in width:
            width = f"{decimal(Fraction(1, 2) * self.scale)} mm"
        way = self.between(0, 5)
        inlay = f"inlay {width} of {thread}"
        if way == 0:
            body = f"{inlay} every: {marked('V', self.pick(['14 turns', self.plain_length(3, 5)]))}"
        elif way == 1:
            body = f"{inlay} at: {marked('V', self.plain_length(4, 6))}"
        elif way == 2:
            body = f"for k in 1 to 2 {{ {inlay} at: k / 3 }}"
        elif way == 3:
            body = f"{inlay} at: 1/3\n{inlay} at: {marked('V', self.pick(['70 %', '0.7', '45 turns']))}"
        elif way == 4:
            body = f"let here = 1/2\nrequire here < 1, \"within the band\"\nif {self.truth(scope, True)} {{ {inlay} at: here }}"
        else:
            body = f"inlay 2 turns of [{thread}, {self.thread(scope)}] at: {self.ratio(scope)}"
        return Laid(band + indented(body) + "\n}", 1, 80 * 0.3)

    def fade_to(self, scope):
        """A band, one to three fades with a band behind each."""
        shades = self.random.sample(self.own_threads, min(self.between(2, 4), len(self.own_threads)))
        laid = Laid(f"band {self.turns(scope)} of {shades[0]}", 1, 12)
        before = shades[0]
        for shade in shades[1:]:
            way = self.between(0, 3)
            option = [f"steps: {marked('V', self.count(scope))}", f"over: {marked('V', self.turns(scope, 14, 40))}",
                      f"over: {marked('V', self.length(scope))}", "runs: [in 1 out 4, in 2 out 3, in 3 out 1]"][way]
            by = self.by_eye(f"{before} {shade}") if way < 3 else ""
            laid += Laid(f"fade to {shade} {option}{by}", 1, [6, 12, 15, 5][way])
            before = shade
            laid += Laid(f"band {self.turns(scope)} of {shade}", 1, 12)
        return laid

    def fade_of(self, scope, fill):
        shades, n = self.shades(scope, 2, 4)
        extent, most = self.pick([(self.length(scope, 36, 50), 51), (self.turns(scope, 180, 240), 72)])
        if fill:
            extent, most = "fill", 40
        option = self.pick([f"steps: {marked('V', self.count(scope))}", "over: 20 turns"] + ([] if fill else [""]))
        items = 2 * n - 1 if option else n - 1
        option += self.by_eye(shades)
        return Laid(f"fade {marked('V', extent)} of {marked('V', shades)} {option}".rstrip(), items, most)

    def gap(self, scope):
        between = self.pick([f"gap {self.only_length(scope, 1, 3)}",
                             f"gap {marked('V', self.turns(scope, 3, 12))} of {self.thread(scope)}"])
        return self.band(scope, False) + Laid(between, 1, 4) + self.band(scope, False)

    def repeat(self, scope, fill, depth):
        n = self.between(1, 3)
        body = self.some(scope, fill, depth, 1)
        return Laid(f"repeat {marked('V', str(n))} {{\n{indented(body.text)}\n}}", n * body.items, n * body.most)

    def turned(self, scope, fill, depth):
        word, times = self.pick([("mirror", 1), ("symmetric", 2)])
        body = self.some(scope, fill, depth, 3)
        return Laid(f"{word} {{\n{indented(body.text)}\n}}", times * body.items, times * body.most)

    def loop(self, scope, fill, depth):
        inner, variable = Scope(scope), self.name("each")
        if self.chance(0.5):
            threads, n = self.thread_list(scope, 1, 3)
            inner.add("thread", variable)
            head = f"for {variable} in {marked('V', threads)}"
        else:
            n = self.between(1, 3)
            head = f"for {variable} in 2 to {marked('V', str(n + 1))}"
            inner.add("count", variable)
        body = self.some(inner, fill, depth, 1)
        return Laid(f"{head} {{\n{indented(body.text)}\n}}", n * body.items, n * body.most)

    def choice(self, scope, fill, depth):
        holds = self.chance(0.6)
        one, other = self.some(scope, fill, depth, 1), self.some(scope, fill, depth, 1)
        head = f"if {marked('V', self.truth(scope, holds))} {{\n{indented(one.text)}\n}} else "
        if self.chance(0.3):
            head += f"if {self.truth(scope, False)} {{\n{indented(self.band(scope, False).text)}\n}} else "
        return Laid(f"{head}{{\n{indented(other.text)}\n}}", one.items if holds else other.items, max(one.most, other.most))

    def let(self, scope):
        kind = self.pick(["turns", "length", "count", "thread", "threads", "lengths", "ratio", "truth", "rate", "angle", "text"])
        value = {"turns": self.turns, "length": self.length, "count": self.count, "thread": self.thread,
                 "threads": lambda scope: "[" + ", ".join(self.random.sample(self.own_threads, 3)) + "]",
                 "lengths": lambda scope: f"[{self.plain_length(4, 14)}, {self.plain_length(4, 14)}]", **self.more_values()}[kind](scope)
        name = self.name(self.pick(["edge", "own", "länge", "часть", "_a"]))
        scope.add(kind, name)
        return Laid(f"let {name} = {marked('V', value)}", 0, 0)

    def more_values(self):
        """Of kinds that are needed at few places. A truth holds; a rate makes 14 turns or more of 4 mm."""
        return {"ratio": self.ratio, "truth": lambda scope: self.truth(scope, True), "angle": lambda _: f"{self.between(30, 50)} deg",
                "rate": lambda _: f"{decimal(Fraction(self.between(50, 80)) / self.scale)} per cm", "text": lambda _: '"as it should be"'}

    def call(self, scope):
        name, parameters, items, most = self.pick(self.patterns)
        arguments, named = [], False
        for parameter, kind, default in parameters:
            if default and self.chance(0.4):
                named = True
                continue
            value = {"thread": self.thread, "turns": self.turns, "length": self.length, "count": self.count,
                     "threads": lambda scope: self.shades(scope, 3, 3)[0], **self.more_values()}[kind](scope)
            named = named or self.chance(0.3)
            arguments.append(f"{parameter}: {value}" if named else value)
        return Laid(f"{name}({', '.join(arguments)})", items, most)

    def library_call(self):
        one, other = self.random.sample(self.own_threads, 2)
        return self.pick([Laid(f"trims.pinstripe({one}, {other})", 1, 6), Laid(f"trims.candy({one}, {other}, stripes: 3)", 1, 24),
                          Laid(f"trims.candy_twist({one}, {other}, pairs: 14 turns)", 3, 16)])

    def statement(self, scope, fill, depth):
        ways = [(4, lambda: self.band(scope, fill)), (2, lambda: self.band(scope, False)), (2, lambda: self.inlaid(scope)),
                (2, lambda: self.fade_to(scope)), (1, lambda: self.fade_of(scope, fill)), (1, lambda: self.gap(scope))]
        if depth < DEEPEST:
            ways += [(2, lambda: self.repeat(scope, fill, depth + 1)), (4, lambda: self.turned(scope, fill, depth + 1)),
                     (2, lambda: self.loop(scope, fill, depth + 1)), (2, lambda: self.choice(scope, fill, depth + 1))]
        if self.patterns:
            ways.append((2, lambda: self.call(scope)))
        if self.library:
            ways.append((1, self.library_call))
        return self.random.choices([way for _, way in ways], [weight for weight, _ in ways])[0]()

    def turned_twice(self, laid):
        if self.mirrors and self.others.random() < 0.4:
            return Laid(f"mirror {{\n    mirror {{\n{indented(indented(laid.text))}\n    }}\n}}", laid.items, laid.most)
        return laid

    def some(self, scope, fill=False, depth=0, most_statements=6, room=ROOM):
        """A few statements that take no more than the room; one at least."""
        scope, laid = Scope(scope), None
        for _ in range(self.between(1, most_statements)):
            if self.chance(0.15):
                let = self.let(scope)
                laid = laid + let if laid else let
            if self.chance(0.08):
                require = Laid(f"require {marked('V', self.truth(scope, True))}, \"as it should be\"", 0, 0)
                laid = laid + require if laid else require
            made = self.statement(scope, fill, depth)
            if made.most + (laid.most if laid else 0) <= room:
                made = self.turned_twice(made)
                laid = laid + made if laid else made
        if not laid or not laid.items:
            made = Laid(f"band {self.turns(scope)} of {self.thread(scope)}", 1, 12)
            laid = laid + made if laid else made
        return laid

    # --- places ---

    def layer_body(self, scope, fill=False, room=ROOM):
        laid = self.some(scope, fill, room=room)
        if fill and "fill" not in laid.text:
            laid = laid + Laid(f"band fill of {self.thread(scope)}", 1, 10)
        if self.turned_round:
            return Laid(f"mirror {{\n{indented(laid.text)}\n}}", laid.items, laid.most)
        return self.turned_twice(laid)

    def strands(self, scope, fill):
        lines = [f"strand {marked('V', self.count(scope, 1, 3))} of {self.thread(scope)}" for _ in range(self.between(1, 3))]
        if self.chance(0.2):
            lines.append(f"strand 1 of spacer({self.thread(scope)})")
        if self.chance(0.2):
            lines[0] = f"for each in [{self.thread(scope)}, {self.thread(scope)}] {{ strand 1 of each }}"
        if fill:
            lines.append(f"strand fill of {self.thread(scope)}")
        return "\n".join(lines)

    def crosswrap(self, scope, length, diameter):
        """Of a layer so long, in mm, on a blank about so thick."""
        end = self.pick([self.turns(scope, 24, 30), self.plain_length(4, 6)])
        thread = self.thread(scope)
        ends = f"ends: {marked('V', end)} of {thread}"
        field = length - 14
        fill = self.chance(0.15)
        options = [ends]
        if self.chance(0.3) and not fill:
            kind = "spiral"
            rounds = max(1, round(field / (diameter * 3.14 * self.random.uniform(0.3, 0.7))))
            turns = f"turns: {marked('V', f'{rounds} turns' if rounds > 1 else '1 turn')}"
            options.append(self.pick([turns, turns, f"lead: {marked('L', self.plain_length(field / rounds * 0.9, field / rounds * 1.1))}"]))
        else:
            kind = self.pick(["chevron", "diamond"])
            count = max(1, round(field / (diameter * 3.14 * self.random.uniform(0.5, 1.2))))
            way = self.between(0, 5)
            if way == 0 and "turns" in end:
                length = f"{decimal(Fraction(length) * self.scale)} mm"
                options.append(f"spacing: {marked('L', f'({length} - 2 * width({end}, {thread})) / {count}')}")
            elif way == 1:
                options.append(f"angle: {marked('V', self.pick(scope.of('angle')) if scope.of('angle') else '45 deg')}")
            else:
                options.append(f"crossings: {marked('V', str(count))}")
            if kind == "chevron" and self.chance(0.4):
                # The second is the old word for it.
                options.append(self.pick([f"pointing: {marked('V', self.pick(['tip', 'butt']))}", f"build: {self.pick(['up', 'down'])}"]))
            if self.chance(0.15):
                options.append(f"leads: {self.pick(['[1, 1]', '[2, 1]', '[1, 2]'])}")
            if self.chance(0.2):
                options.append("facing: 1")
        if self.chance(0.2):
            options.append(f"starts: {self.between(1, 2)}")
        if self.chance(0.2):
            options.append("field: closed" if fill else "field: open")
        self.random.shuffle(options)
        return Laid(f"{kind} {' '.join(options)} {{\n{indented(self.strands(scope, fill))}\n}}", 1, length)

    def layers_of(self, scope, length, diameter, crossed):
        """The braces of a place that is so long, in mm (None: unknown), as text."""
        if length is None or not crossed and self.chance(0.5):
            laid = self.layer_body(scope, fill=length is not None and self.chance(0.5), room=length or ROOM)
            self.layers.append(laid.items)
            return laid.text, laid.most
        if crossed and self.chance(0.4):
            laid = self.crosswrap(scope, length, diameter)
            self.layers.append(1)
            return laid.text, length
        texts = []
        for _ in range(self.between(1, 2)):
            options, own = "", length
            if self.chance(0.4):
                offset = self.between(1, 5)
                own -= offset
                options += f" offset: {marked('L', decimal(offset * self.scale) + ' mm')}"
                if self.chance(0.5):
                    own -= 3
                    options += f" length: {marked('L', decimal(own * self.scale) + ' mm')}"
            laid = self.layer_body(scope, fill=True, room=own)
            self.layers.append(laid.items)
            texts.append(f"under{options} {{\n{indented(laid.text)}\n}}")
        laid = self.turned_twice(self.crosswrap(scope, length, diameter)) if crossed else self.layer_body(scope, True, room=length)
        self.layers.append(laid.items)
        texts.append(f"over {{\n{indented(laid.text)}\n}}")
        return "\n".join(texts), length

    def guide_place(self, cursor):
        """A guide with its place: two feet, or one. Returns how far it reaches."""
        name, double = self.name("ring"), self.chance(0.5)
        feet = [self.between(14, 20) for _ in range(2 if double else 1)]
        gap, before, ramp = self.between(0, 9), self.between(0, 4), self.between(0, 5)
        foot = "[" + ", ".join(f"{decimal(each * self.scale)} mm" for each in feet) + "]" if double \
            else f"{decimal(feet[0] * self.scale)} mm"
        options = [f"foot: {foot}", f"gap: {decimal(gap * self.scale)} mm"]
        if before:
            options.append(f"before: {marked('L', decimal(before * self.scale) + ' mm')}")
        if ramp:
            options += [f"ramp: {marked('L', decimal(ramp * self.scale) + ' mm')}",
                        f"width: {decimal(self.between(15, 30) * self.scale / 10)} mm",
                        f"height: {decimal(self.between(4, 10) * self.scale / 10)} mm"]
        side = "tip"
        if not double and self.chance(0.4):
            side = self.pick(["tip", "butt"])
            options.append(f"side: {side}")
        if self.chance(0.5):
            ring = self.between(4, 25)
            options += [f"ring: {marked('L', decimal(ring * self.scale) + ' mm')}",
                        f"tall: {decimal((ring + self.between(0, 9)) * self.scale)} mm", f"frame: {self.colour()}",
                        f"insert: {marked('V', self.colour())}", f"sheen: {self.pick(SHEENS)}"]
        self.declarations.append(f"guide {name} {{ {', '.join(options)} }}")
        one, other = self.thread(self.scope), self.thread(self.scope)
        body, items = self.pick([(f"band fill of {one}", 1),
                                 (f"band 14 turns of {one}\nband fill of {other}\nband 14 turns of {one}", 3),
                                 (f"band fill of {one}\nband 14 turns of {other}", 2),
                                 (f"band fill of {one} {{ inlay 2 turns of {other} at: 1/2 }}", 1)])
        if self.chance(0.3):
            body = f"under {{ band fill of {one} }}\nover {{\n{indented(body)}\n}}"
            layers = [1, items]
        else:
            layers = [items]
        self.layers += layers * len(feet)
        reach = gap // 2 + 1 + before
        ring = cursor + reach + (feet[0] if double or side == "butt" else 0)
        self.mark_and_body(ring, f" guide: {marked('V', name)}", body)
        return ring + reach + feet[-1] + 2

    def mark_and_body(self, at, options, body):
        at = Fraction(at) * self.scale
        mark = f"at {decimal(at)} mm" if self.chance(0.6) else f"at {decimal(at / 10)} cm" if self.chance(0.5) \
            else f"at {decimal(self.tip * self.scale - at)} mm from: tip"
        angle = self.farther + (self.angles.randint(-400, 400) if self.angles.random() < 0.3 else 0)
        turned = f" angle: {marked('V', f'{angle} deg')}" if angle else ""
        self.places.append((mark + options + turned, body))

    def way_name(self, stem):
        """One that leaves all others as they are."""
        self.way_names += 1
        return f"{stem}_{self.way_names}"

    def series(self, rows):
        """The last row goes without braces: what is wound there stands for it."""
        text = "".join(self.one_place(*row) + "\n" for row in rows[:-1]) + rows[-1][0] + "\n"
        if self.ways.random() < 0.3:
            number, wide = self.way_name("n"), self.way_name("w")
            text += f"let {number} = here.number + here.count\nlet {wide} = {number} * here.diameter\nrequire {wide} > 0 mm\n"
        return "series {\n" + indented(text + rows[-1][1]) + "\n}"

    def one_place(self, head, body):
        return f"{head} {{\n{indented(body)}\n}}"

    def written(self, places):
        """The places of a rod, as they may be written. The first one at a plain mark stands in no pattern: its unit counts."""
        texts, marked_plainly = [], False
        while places:
            way, rows = self.ways.random(), self.ways.randint(1, 3)
            if isinstance(places[0], str):  # a part, or a place between its ends
                texts.append(places.pop(0))
                continue
            in_pattern, marked_plainly = marked_plainly, True
            rows = min([rows] + [at for at, each in enumerate(places) if isinstance(each, str)])
            if self.singly or way < 0.5:
                texts.append(self.one_place(*places.pop(0)))
            elif way < 0.75:
                texts.append(self.series(places[:rows]))
                del places[:rows]
            elif way < 0.8:
                texts.append(f"for {self.way_name('i')} in 1 to 1 {{\n{indented(self.one_place(*places.pop(0)))}\n}}")
            elif way < 0.85 or not in_pattern:
                texts.append(f"if yes {{\n{indented(self.one_place(*places.pop(0)))}\n}} else {{ at 0 mm {{ }} }}")
            else:
                name = self.way_name("laid")
                held = self.series(places[:rows]) if way < 0.92 else self.one_place(*places[0])
                self.declarations.append(f"pattern {name}() {{\n{indented(held)}\n}}")
                texts.append(f"{name}()")
                del places[:rows if way < 0.92 else 1]
        return texts

    def part_mark(self, at, goes):
        """Where a part begins, and how far it goes on: a number of mm, or None for a mark."""
        at, tip = Fraction(at) * self.scale, self.tip * self.scale
        from_tip, until = self.chance(0.3), self.chance(0.4)
        mark = f"{decimal(tip - at)} mm from: tip" if from_tip else f"{decimal(at)} mm" if self.chance(0.5) else f"{decimal(at / 10)} cm"
        if goes is None:
            return mark
        end = at + goes * self.scale
        if until:
            return f"{mark} until: {marked('L', decimal(tip - end if from_tip else end) + ' mm')}"
        return f"{mark} length: {marked('L', decimal(goes * self.scale) + ' mm')}" + (" toward: tip" if self.chance(0.2) else "")

    def part(self, cursor):
        """A note, a part that is kept free of thread, or one with a wrap on it; thicker than any blank."""
        name, options = self.name("part"), []
        wide = [decimal(Fraction(self.between(165, 190), 10) * self.scale) + " mm" for _ in range(self.between(1, 4))]
        if self.chance(0.3):
            options.append(f"note: {marked('V', chr(34) + 'note ' + name + chr(34))}")
        if self.chance(0.4):
            options += [f"colour: {self.colour()}", f"sheen: {self.pick(SHEENS)}"]
        if self.chance(0.3):
            self.places.append(f"part {name} at {self.part_mark(cursor, None)} {{ {', '.join(options)} }}")
            return cursor
        length, wrapped = self.between(18, 40), self.chance(0.6)
        if self.chance(0.6):
            options.append(f"diameter: {marked('L', wide[0])}" if len(wide) == 1 else f"diameter: [{', '.join(wide)}]")
        if self.chance(0.2):
            options.append(f"slides: {self.pick(['yes', 'no'])}")
        if wrapped or self.chance(0.2):
            options.append(f"wrapped: {'yes' if wrapped else 'no'}")
        body = f" {{ {', '.join(options)} }}" if self.chance(0.7) else " " + " ".join(options)
        self.places.append(f"part {name} at {self.part_mark(cursor, length)}{body}")
        if wrapped:
            ends = self.pick([("butt", "tip"), ("tip", "butt")])
            turned = f" angle: {marked('V', f'{self.farther} deg')}" if self.farther else ""
            self.places.append(self.one_place(f"at {name}.{ends[0]} until: {name}.{ends[1]}{turned}", f"band fill of {self.thread(self.scope)}"))
            self.layers.append(1)
        return cursor + length + 2

    def place(self, cursor):
        if self.chance(0.15):
            return self.part(cursor)
        if self.chance(0.3):
            return self.guide_place(cursor)
        diameter = 14 - 10 * (cursor - self.butt) / self.section
        crossed = self.chance(0.3)
        length = self.between(60, 160) if crossed or self.chance(0.5) else None
        body, most = self.layers_of(Scope(self.scope), length, diameter, crossed)
        reach = length or int(most) + 1
        options = "" if length is None else f" length: {marked('L', decimal(length * self.scale) + ' mm')}"
        if self.chance(0.3):
            self.mark_and_body(cursor + reach, f" toward: butt{options}", body)
        else:
            self.mark_and_body(cursor, options + (" toward: tip" if self.chance(0.1) else ""), body)
        return cursor + reach + 2

    # --- declarations ---

    def make_threads(self):
        self.own_threads, self.seen = [], []
        if self.chance(0.3):
            size = f"{decimal(Fraction(self.between(13, 20), 100) * self.scale)} mm"
            self.declarations.append(f"size own {{ diameter: {size}{', uncertainty: 10 %' if self.chance(0.5) else ''} }}")
            sizes = True
        else:
            sizes = False
        for name in ["navy", "slate", "mist", "foam", "dusk", "ember"][:self.between(3, 6)]:
            way = self.between(0, 5)
            if way == 0:
                width = f"diameter: {marked('L', decimal(Fraction(self.between(13, 22), 100) * self.scale) + ' mm')}"
                width += f", packing: {self.pick(['1.05', '105 %', '1'])}" if self.chance(0.4) else ""
            elif way == 1 and sizes:
                width = "size: own"
            elif way == 2:
                width = f"tex: {decimal(self.between(20, 30) * self.scale ** 2)}, fibre: {self.pick(FIBRES)}"
                width += ", fullness: 3/4" if self.chance(0.4) else ""
            elif way == 3:
                width = f"turns: {marked('V', decimal(Fraction(self.between(140, 180)) / self.scale) + ' per in')}"
            else:
                per = self.pick(["cm", "10 mm"])
                width = f"turns: {marked('V', decimal(Fraction(self.between(55, 72)) / self.scale) + ' per ' + per)}" \
                    if per == "cm" or self.scale == 1 else f"turns: {decimal(Fraction(self.between(55, 72)) / self.scale)} per cm"
            if self.chance(0.1):                     # several counts, which hardly differ
                count, more = self.between(55, 72), self.between(-1, 1)
                one, other = (decimal(Fraction(each) / self.scale) for each in (count, 2 * count + more))
                width = f"turns: [{marked('V', f'{one} per cm')}, {other} per 2 cm]"
            options = [width]
            if self.chance(0.7):
                options.append(f"colour: {marked('V', self.colour())}")
            if self.chance(0.2):
                colours = ", ".join(self.colour() for _ in range(self.between(2, 4)))
                options += [f"colours: [{colours}]", f"period: {marked('L', decimal(self.between(30, 120) * self.scale) + ' mm')}"]
            if self.chance(0.2):
                options.append(f"stock: {decimal(self.between(20, 90) * self.scale)} {self.pick(['m', 'yd'])}")
            if self.chance(0.2):
                options += [f"spool: {decimal(self.between(50, 100) * self.scale)} m", f"price: {self.pick(['2.5', '4'])}"]
            if self.chance(0.2):
                options += ["preserver: yes", "bare: #c0d4e8"]
            if self.chance(0.1):
                options.append("uncertainty: 2 %")
            if self.chance(0.2):
                options.append(f"opacity: {marked('V', self.pick(['60 %', '0', '1', '0.35']))}")
            if self.chance(0.2):
                options.append(f"sheen: {self.pick(SHEENS)}")
            if self.chance(0.2):
                options.append(f"code: {marked('V', self.pick(CODES))}")
            self.declarations.append(f"{'/// counted twice' + chr(10) if self.chance(0.1) else ''}"
                                     f"thread {name} {{ {', '.join(options)} }}")
            self.own_threads.append(name)
            if re.search(r"\bcolours?:", " ".join(options)) and "opacity" not in " ".join(options):
                self.seen.append(name)
            self.scope.add("thread", name)
        if self.chance(0.25):
            rate = decimal(Fraction(self.between(60, 70)) / self.scale)
            self.declarations.append(f"use \"shop\" as shop {{\n    edition 1\n    thread sand {{ turns: {rate} per cm }}\n"
                                     f"    let broad = {self.plain_length(5, 9)}\n}}")
            self.scope.add("thread", "shop.sand")
            self.scope.add("length", "shop.broad")

    def make_bench(self):
        lengths = {"free": (100, 180), "tolerance": (1, 2), "hand": (50000, 50000), "apart": (1, 1), "coat": (0.5, 1),
                   "paper": (0.1, 0.5), "reading": (0.1, 0.3)}
        options = [f"holders: {self.between(4, 8)}", f"ridge: {self.between(20, 60)}", "flattest: 2 deg", "steepest: 88 deg",
                   "stack: 60"]
        if self.chance(0.7):
            options.append(f"units: {marked('V', self.pick(['mm', 'cm', 'in']))}")
        for name, (low, high) in lengths.items():
            value = Fraction(self.between(round(low * 10), round(high * 10)), 10) * self.scale
            if self.chance(0.3) or self.whole_bench or name in ("hand", "tolerance"):
                options.append(f"{name}: {marked('L', decimal(value) + ' mm')}")
        more = {"bind": "5 turns", "loop": "3 turns", "carry": self.pick(["1 turn", "6 turns", "40 turns"]), "final": "7 turns", "friction": "0.3", "measure": "40 turns", "speed": "90",
                "handling": "45", "pack": "30 turns", "shortest": self.pick(["1 turn", "2 turns"]), "bobbins": self.pick(["1", "2", "8"]), "order": self.pick(["source", "butt", "tip"]),
                "left": self.pick(["butt", "tip"]), "rotation": self.pick(["toward", "away"]), "dress": "no", "tape": "no",
                "drive": self.pick(["pedal", "hand"]), "prefer": self.pick(["ends", "time", "thread"]), "brake": self.pick(["yes", "no"]),
                "rule": self.pick(["1 mm", "0.5 mm", "1/32 in", "1/64 in", "0.2 mm"]), "callipers": self.pick(["0.05 mm", "0.02 mm", "0.001 in"]), "varies": self.pick(["0 %", "0.5 %", "2 %"]),
                "align": "no", "singe": "no", "clean": "no", "wipe": "no", "line": self.pick(["straightest", "spine"]), "lock": "yes", "seal": "yes", "coats": "3",
                "sight": self.pick(["0.3", "0.5", "1.2"]), "near": self.pick(["30 cm", "24 in"]), "far": self.pick(["1 m", "2.5 m", "12 ft"]),
                "jump": self.pick(["0.5", "3", "20"]), "alike": self.pick(["0", "2", "30"]), "ends": self.pick(["tape", "pins", "none"])}
        options += [f"{name}: {marked('V', value)}" for name, value in more.items() if self.chance(0.2)]
        self.others.shuffle(options)
        self.declarations.append(f"bench {{ {', '.join(options)} }}")

    def make_blank(self, first=0):
        name, self.butt, self.tip, self.section = self.name("tube"), 0, 2000, 2000
        stations, x, diameter = [(first, Fraction(self.between(120, 160), 10))], first, None
        diameter = stations[0][1]
        for _ in range(self.between(0, 3)):
            x += self.between(100, 500)
            diameter -= Fraction(self.between(0, 20), 10)
            stations.append((x, diameter))
        stations.append((self.tip, max(Fraction(3), diameter - self.between(1, 4))))
        looks = [f"    colour: {self.colour()}", f"    sheen: {self.pick(SHEENS)}"][:self.between(0, 2)]
        self.declarations.append(f"blank {name} {{\n" + "".join(each + ",\n" for each in looks) + "\n".join(
            f"    at {decimal(at * self.scale)} mm: {marked('L', decimal(wide * self.scale) + ' mm')}" for at, wide in stations)
            + "\n}")
        return name

    def make_sections(self):
        """Two sections, on each of which there is room for all places, and where the second one begins to show."""
        overlap, tip_inside = self.pick([0, 0, 40, 75]), self.chance(0.3)
        names = [self.make_blank(self.pick([0, 3])), self.make_blank()]
        options = [f"overlap: {marked('L', decimal(overlap * self.scale) + ' mm')}"] if overlap or self.chance(0.3) else []
        if tip_inside or self.chance(0.2):
            options.append(f"inside: {marked('V', 'tip' if tip_inside else 'butt')}")
        self.others.shuffle(options)
        end = self.tip
        self.tip = 2 * end - overlap
        return f"[{', '.join(names)}] " + " ".join(options), end if tip_inside else end - overlap

    def make_pattern(self):
        name, inner, parameters = self.name("trim"), Scope(self.scope), []
        for kind in self.random.choices(["thread", "turns", "length", "count", "threads", "ratio", "truth", "rate", "angle", "text"],
                                        k=self.between(0, 3)):
            own = self.name(kind[0])
            default = None
            if self.chance(0.4) or any(each[2] for each in parameters):
                default = {"thread": self.thread, "turns": self.turns, "length": self.length, "count": self.count,
                           "threads": lambda scope: self.shades(scope, 3, 3)[0], **self.more_values()}[kind](self.scope)
            parameters.append((own, kind, default))
        for own, kind, _ in parameters:
            inner.add(kind, own)
        body = self.some(inner, most_statements=3, room=ROOM / 2)
        heads = ", ".join(f"{own}: {kind}" + (f" = {marked('V', default)}" if default else "") for own, kind, default in parameters)
        self.declarations.append(f"pattern {name}({heads}) {{\n{indented(body.text)}\n}}")
        self.patterns.append((name, parameters, body.items, body.most))

    def make(self):
        if self.chance(0.3):
            self.declarations.append(f"about {{ title: {marked('V', chr(34) + 'Evening ' + str(self.seed) + chr(34))}, version: \"2\"{', author: ' + chr(34) + 'Shop copy' + chr(34) + ', licence: ' + chr(34) + 'CC0-1.0' + chr(34) if self.chance(0.5) else ''} }}")
        self.library = self.chance(0.3)
        if self.library:
            self.declarations.append('use "std/trims" as trims')
        self.make_threads()
        self.make_bench()
        for _ in range(self.between(0, 3)):
            self.declarations.append(self.let(self.scope).text)
        for _ in range(self.between(0, 2)):
            self.make_pattern()
        for number in range(self.pick([1, 1, 1, 2])):
            blank, joint = self.make_sections() if self.chance(0.2) else (self.make_blank(), None)
            self.places, cursor = [], self.between(5, 60)
            for _ in range(self.between(2, 6)):
                cursor = self.place(cursor) + self.between(0, 40)
            if joint:
                self.butt, cursor = joint, max(cursor, joint)
            for _ in range(self.between(1, 3) if joint else 0):
                cursor = self.place(cursor) + self.between(0, 40)
            self.rods.append(f"rod \"Rod {number + 1}\" on {blank} {{\n" + indented("\n".join(self.written(self.places))) + "\n}")
        if self.by_rule.random() < 0.1:
            self.rod_by_rule()

    def rod_by_rule(self):
        """Two places alone, which no rounding moves."""
        long = lambda mm: f"{decimal(Fraction(mm) * self.scale)} mm"
        self.declarations.append(f"guide spaced {{ foot: {long(14)} }}")
        self.declarations.append(f"blank even {{ at 0 mm: {long(12)}  at {long(1000)}: {long(8)} }}")
        body = f"{{ band fill of {self.by_rule.choice(self.scope.of('thread'))} }}"
        turned = f" angle: {self.farther} deg" if self.farther else ""
        rows = f"series first: {long(150)} last: {long(400)} progression: 110 % guides: [spaced, spaced]{turned} {body}"
        if self.singly:
            rows = "\n".join(f"at {long(mark)}: spaced{turned} {body}" for mark in (150, 400))
        self.layers += [1, 1]
        self.rods.append(f'rod "By rule" on even {{\n{indented(rows)}\n}}')


if __name__ == "__main__":
    for number in sys.argv[1:]:
        print(Program(int(number)).text(), end="")
