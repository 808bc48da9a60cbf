"""Random pattern files in many shapes of the language, each with the job it means.

A value of the language is a `Value`: its text, and a function that gives what it comes to in
an environment. A statement is a `Statement`: its lines, and a function that gives nodes of
model.py. So the text and its meaning grow side by side, and nothing is read back.
"""
import math
from fractions import Fraction

import model

INCH = Fraction(254, 10)
LIMIT = 900  # most turns in a layer


class Value:
    def __init__(self, text, get, loose=False):
        self.text, self.get, self.loose = text, get, loose

    def __str__(self):
        return self.text

    def tight(self):
        return '(%s)' % self.text if self.loose else self.text


class Statement:
    def __init__(self, lines, lay):
        self.lines, self.lay = lines, lay


def fixed(text, value):
    return Value(text, lambda env: value)


def named(name):
    return Value(name, lambda env: env[name])


def decimal(value):
    """A fraction with few decimals as it is written in a file."""
    text = '%.6f' % float(value)
    assert Fraction(text) == value, value
    return text.rstrip('0').rstrip('.')


def lay_all(statements, env):
    env = dict(env)  # a block of its own: `let` ends with it
    return [node for statement in statements for node in statement.lay(env)]


def indented(statements):
    return ['    ' + line for statement in statements for line in statement.lines]


def block(head, statements):
    return [head + ' {'] + indented(statements) + ['}']


class File:
    """One generated file: `text`, and `rods`, a list of (blank, places)."""

    def __init__(self, random):
        self.random = random
        self.names = 0
        self.declarations = []
        self.globals = {}
        self.scope = {'thread': [], 'threads': [], 'turns': [], 'length': [], 'count': []}
        self.patterns = []

    def chance(self, part):
        return self.random.random() < part

    def pick(self, choices):
        return self.random.choice(choices)

    def name(self, stem):
        self.names += 1
        return '%s%d' % (stem, self.names)

    # ------------------------------------------------------------ values

    def length_text(self, low, high):
        """A plain length between low and high mm."""
        way = self.random.randrange(6)
        if way == 0:
            value = Fraction(self.random.randint(math.ceil(low * 10), math.floor(high * 10)), 10)
            return fixed(decimal(value / 10) + ' cm', value)
        if way == 1 and high - low > 2:
            parts = self.random.randint(math.ceil(low / INCH * 16), math.floor(high / INCH * 16))
            whole, rest = divmod(parts, 16)
            text = ('%d %d/16 in' % (whole, rest) if whole else '%d/16 in' % rest) if rest else '%d in' % whole
            return fixed(text, parts * INCH / 16)
        if way == 2:
            value = Fraction(self.random.randint(math.ceil(low * 4), math.floor(high * 4)), 4)
            return fixed(decimal(value) + ' mm', value)
        value = Fraction(self.random.randint(math.ceil(low * 100), math.floor(high * 100)), 100)
        return fixed(decimal(value) + ' mm', value)

    def length(self, low=4, high=14):
        """A length that is never less than `low`; sums may be longer than `high`."""
        way = self.random.randrange(9)
        known = self.scope['length']
        if way == 0:
            a, b = self.length_text(low, high), self.length_text(1, 3)
            return Value('%s + %s' % (a, b), lambda env: a.get(env) + b.get(env), True)
        if way == 1:
            a, b = self.length_text(low + 3, high + 3), self.length_text(1, 3)
            return Value('%s - %s' % (a, b), lambda env: a.get(env) - b.get(env), True)
        if way == 2:
            a, n = self.length_text(low, high), self.pick(['3/2', '1.25', '120 %'])
            factor = Fraction(n.replace(' %', '')) / (100 if '%' in n else 1)
            return Value('%s * %s' % (n, a), lambda env: factor * a.get(env), True)
        if way == 3 and known and low <= 4:
            return named(self.pick(known))
        if way == 4:
            a, b = self.length_text(low, high), self.length_text(low, high)
            pair = self.pick([('min', min), ('max', max)])
            return Value('%s(%s, %s)' % (pair[0], a, b), lambda env: pair[1](a.get(env), b.get(env)))
        if way == 5 and low <= 4:
            turns, thread = self.random.randint(45, 80), self.thread()
            return Value('width(%d turns, %s)' % (turns, thread),
                         lambda env: turns * thread.get(env).pitch)
        return self.length_text(low, high)

    def turns(self, low=14, high=40):
        way = self.random.randrange(8)
        known = self.scope['turns'] if low <= 14 else []
        if way == 0 and known:
            a, n = named(self.pick(known)), self.random.randint(1, 6)
            return Value('%s + %d turns' % (a, n), lambda env: a.get(env) + n, True)
        if way == 1 and known:
            return named(self.pick(known))
        if way == 2 and self.scope['count']:
            n, c = self.random.randint(low, high), named(self.pick(self.scope['count']))
            return Value('(%d + %s) turns' % (n, c), lambda env: n + c.get(env))
        if way == 3 and low <= 14:
            a, rate = self.length_text(5, 9), self.random.randint(40, 60)
            return Value('round(%s * %d per cm)' % (a, rate),
                         lambda env: Fraction(model.rounded(a.get(env) * rate / 10)))
        if way == 4:
            n = self.random.randint(2 * low, 3 * low) | 1
            return fixed('round(%d/2) turns' % n, Fraction((n + 1) // 2))
        n = self.random.randint(low, high)
        return fixed('%d turns' % n, Fraction(n))

    def thread(self):
        return named(self.pick(self.scope['thread']))

    def thread_list(self, count=None, alike=False):
        """Two or more shades, of one pitch if alike."""
        if count is None and self.scope['threads'] and self.chance(0.4):
            a = named(self.pick(self.scope['threads']))
            if self.chance(0.3):
                return Value('reverse(%s)' % a, lambda env: list(reversed(a.get(env))))
            return a
        pool = self.alike if alike else self.every
        shades = [named(name) for name in self.random.sample(pool, count or self.random.randint(2, 4))]
        return Value('[%s]' % ', '.join(map(str, shades)), lambda env: [shade.get(env) for shade in shades])

    # ------------------------------------------------------------ statements

    def strands(self, single):
        """Text and a function for the threads of a band: one, or several with a spacer perhaps."""
        if single or self.chance(0.8):
            thread = self.thread()
            return thread.text, lambda env: [model.Strand(thread.get(env))]
        threads = [self.thread() for _ in range(self.random.randint(2, 3))]
        spacer = self.random.randrange(len(threads)) if self.chance(0.5) else None
        text = ', '.join('spacer(%s)' % t if i == spacer else str(t) for i, t in enumerate(threads))
        return '[%s]' % text, lambda env: [model.Strand(t.get(env), i == spacer) for i, t in enumerate(threads)]

    def inlay_extent(self, thread):
        if self.chance(0.8):
            n = self.random.randint(1, 3)
            return '%d turn%s' % (n, '' if n == 1 else 's'), lambda env: ('turns', n)
        length = self.length_text(Fraction(1, 2), 1)
        return str(length), lambda env: ('length', length.get(env))

    def inlays(self, turns):
        """Statements of a band's body; the band has about so many turns or more."""
        thread = self.thread()
        way = self.random.randrange(5)
        extent, get = self.inlay_extent(thread)
        if way == 0:
            if self.chance(0.6):
                step = self.random.randint(12, 16)
                text, every = '%d turns' % step, lambda env: ('turns', step)
            else:
                length = self.length_text(3, 4)
                text, every = str(length), lambda env: ('length', length.get(env))
            return [Statement(['inlay %s of %s every: %s' % (extent, thread, text)],
                              lambda env: [model.Inlay(get(env), thread.get(env), every=every(env))])]
        if way == 1:
            inner, variable = self.random.randint(1, 2), self.name('k')
            line = 'inlay %s of %s at: %s / %d' % (extent, thread, variable, inner + 1)
            parts = [Fraction(k, inner + 1) for k in range(1, inner + 1)]
            return [Statement(block('for %s in 1 to %d' % (variable, inner), [Statement([line], None)]),
                              lambda env: [model.Inlay(get(env), thread.get(env), at=('ratio', part))
                                           for part in parts])]
        if way == 2:
            places = self.random.sample(['1/3', '0.5', '65 %', '1/4', '3/4'], 2)
            result = []
            for place in places:
                part = Fraction(place.replace(' %', '')) / (100 if '%' in place else 1)
                result.append(Statement(['inlay %s of %s at: %s' % (extent, thread, place)],
                                        lambda env, part=part: [model.Inlay(get(env), thread.get(env),
                                                                            at=('ratio', part))]))
            return result
        if way == 3:
            length = self.length_text(3, 5)
            return [Statement(['inlay %s of %s at: %s' % (extent, thread, length)],
                              lambda env: [model.Inlay(get(env), thread.get(env),
                                                       at=('length', length.get(env)))])]
        middle = self.random.randint(11, max(12, turns - 12))
        return [Statement(['inlay %s of %s at: %d turns' % (extent, thread, middle)],
                          lambda env: [model.Inlay(get(env), thread.get(env), at=('turns', Fraction(middle)))])]

    def band(self, fill=False, single=False):
        text, strands = self.strands(single)
        body = []
        if fill:
            weight = self.pick(['1', '2', '3', '1/2', '1.5', '75 %'])
            value = Fraction(weight.replace(' %', '')) / (100 if '%' in weight else 1)
            head, extent = 'fill', lambda env: ('fill', value)
            option = '' if value == 1 else ' weight: ' + weight
            if self.chance(0.3) and '[' not in text:
                # Inlays of the band's own pitch: the fill is as wide as its plain turns.
                thread = named(self.pick(self.alike))
                text, strands = thread.text, lambda env: [model.Strand(thread.get(env))]
                other, n = named(self.pick(self.alike)), self.random.randint(1, 3)
                where, at = self.pick([('at: 1/2', {'at': ('ratio', Fraction(1, 2))}),
                                       ('at: 7/10', {'at': ('ratio', Fraction(7, 10))}),
                                       ('every: 9 turns', {'every': ('turns', 9)}),
                                       ('every: 2.4 mm', {'every': ('length', Fraction(24, 10))})])
                body = [Statement(['inlay %d turns of %s %s' % (n, other, where)],
                                  lambda env: [model.Inlay(('turns', n), other.get(env), **at)])]
        else:
            option = ''
            if self.chance(0.35):
                kind = self.pick(['turns', 'length'])
                amount = self.turns(48, 80) if kind == 'turns' else self.length(14, 24)
                body = self.inlays(48)
            elif self.chance(0.55):
                amount, kind = self.turns(), 'turns'
            else:
                amount, kind = self.length(), 'length'
            head, extent = str(amount), lambda env: (kind, amount.get(env))

        def lay(env):
            return [model.Band(extent(env), strands(env), lay_all(body, env))]
        line = 'band %s of %s%s' % (head, text, option)
        return Statement(block(line, body) if body else [line], lay)

    def fade(self):
        """`fade to`, for after a band of one thread or a fade."""
        thread = self.thread()
        way = self.random.randrange(4)
        if way == 0:
            n = self.random.randint(2, 5)
            text, mode = 'steps: %d' % n, lambda env: ('steps', n)
        elif way == 1:
            n = self.random.randint(12, 50)
            text, mode = 'over: %d turns' % n, lambda env: ('over', ('turns', n))
        elif way == 2:
            length = self.length(4, 12)
            text, mode = 'over: %s' % length, lambda env: ('over', ('length', length.get(env)))
        else:
            pairs = [(self.random.randint(1, 4), self.random.randint(1, 4))
                     for _ in range(self.random.randint(2, 4))]
            text = 'runs: [%s]' % ', '.join('in %d out %d' % pair for pair in pairs)
            mode = lambda env: ('runs', pairs)
        return Statement(['fade to %s %s' % (thread, text)], lambda env: [model.Fade(thread.get(env), mode(env))])

    def spread(self, fill=False):
        way = self.random.randrange(3) if not fill else self.random.randrange(2)
        steps, over = self.random.randint(2, 4), self.random.randint(12, 30)
        option = [' steps: %d' % steps, ' over: %d turns' % over, ''][way]
        mode = [('steps', steps), ('over', ('turns', over)), None][way]
        by_length = self.chance(0.5)
        shades = self.thread_list()
        if fill:
            return Statement(['fade fill of %s%s' % (shades, option)],
                             lambda env: model.spread(('fill', 0), shades.get(env), mode))
        if by_length:
            shades = self.thread_list(count=self.random.randint(2, 4))
            amount = self.length_text(30, 45)
            return Statement(['fade %s of %s%s' % (amount, shades, option)],
                             lambda env: model.spread(('length', amount.get(env)), shades.get(env), mode))
        n = self.random.randint(170, 260)
        return Statement(['fade %d turns of %s%s' % (n, shades, option)],
                         lambda env: model.spread(('turns', n), shades.get(env), mode))

    def gap(self):
        """A gap between bands long enough to be held whichever way they are laid."""
        if self.chance(0.5):
            length = self.length_text(1, 3)
            gap = Statement(['gap %s' % length], lambda env: [model.Gap(length.get(env))])
        else:
            n, thread = self.random.randint(3, 12), self.thread()
            gap = Statement(['gap %d turns of %s' % (n, thread)],
                            lambda env: [model.Gap(n * thread.get(env).pitch)])
        return [self.plain(), gap, self.plain()]

    def plain(self):
        amount, thread = self.turns(), self.thread()
        return Statement(['band %s of %s' % (amount, thread)],
                         lambda env: [model.Band(('turns', amount.get(env)), [model.Strand(thread.get(env))])])

    def let(self):
        kind = self.pick(['turns', 'length', 'thread', 'threads', 'count'])
        name = self.name('v')
        if kind == 'count':
            n = self.random.randint(1, 3)
            value = fixed(str(n), Fraction(n))
        elif kind == 'threads':
            value = self.thread_list(count=self.random.randint(2, 3), alike=True)
        else:
            value = {'turns': self.turns, 'length': self.length, 'thread': self.thread}[kind]()

        def lay(env):
            env[name] = value.get(env)
            return []
        return Statement(['let %s = %s' % (name, value)], lay), kind, name

    def body(self, depth, fill, calls=True):
        """Statements that begin and end with a band."""
        scope = {kind: list(names) for kind, names in self.scope.items()}
        result = []
        if self.chance(0.3):
            statement, kind, name = self.let()
            result.append(statement)
            self.scope[kind].append(name)
        result.append(self.band(single=True))
        for _ in range(self.random.randint(1, 3)):
            result += self.statement(depth, fill, calls)
        result.append(self.band(single=True))
        self.scope = scope
        return result

    def statement(self, depth, fill, calls):
        way = self.random.randrange(14 if depth > 0 else 7)
        if way <= 1:
            return [self.band(fill=fill and self.chance(0.6))]
        if way == 2:
            fades = [self.fade() for _ in range(2 if self.chance(0.1) else 1)]
            return [self.band(single=True)] + fades + [self.band(single=True)]
        if way == 3:
            return [self.spread(fill and self.chance(0.5))]
        if way == 4:
            return self.gap()
        if way == 5:
            return [self.band(fill=fill)]
        if way == 6:
            return [self.band()]
        if way == 7:
            n, body = self.random.randint(2, 3), self.body(depth - 1, fill, calls)
            return [Statement(block('repeat %d' % n, body), lambda env: [model.Repeat(n, lay_all(body, env))])]
        if way in (8, 9):
            word, kind = ('mirror', model.Mirror) if way == 8 else ('symmetric', model.Symmetric)
            body = self.body(depth - 1, fill, calls)
            before, after = [], []
            if self.chance(0.3):
                body, before = [self.fade()] + body, [self.band(single=True)]
            if self.chance(0.4):
                after = [self.fade(), self.band(single=True)]
            return before + [Statement(block(word, body), lambda env: [kind(lay_all(body, env))])] + after
        if way in (10, 11):
            return self.loop(depth, fill, calls, way == 10)
        if way == 12:
            return [self.choice(depth, fill, calls, named(self.pick(self.scope['count'])) if self.scope['count']
                                else fixed('2', Fraction(2)))]
        choices = [p for p in self.patterns if fill or not p.fill] if calls else []
        return [self.call(self.pick(choices))] if choices else [self.band()]

    def loop(self, depth, fill, calls, over_list):
        name = self.name('i')
        if over_list:
            shades = self.thread_list(count=2, alike=True) if self.chance(0.5) else self.thread_list()
            head, values, kind = 'for %s in %s' % (name, shades), shades.get, 'thread'
        else:
            n = self.random.randint(1, 3)
            counts = [Fraction(count) for count in range(1, n + 1)]
            head, values, kind = 'for %s in 1 to %d' % (name, n), lambda env: counts, 'count'
        self.scope[kind].append(name)
        if kind == 'count' and self.chance(0.4):
            body = [self.choice(depth - 1, fill, calls, named(name))]
        else:
            body = self.body(0, fill, calls)
            if kind == 'thread':
                n, shade = self.turns(), named(name)
                body.append(Statement(['band %s of %s' % (n, name)],
                                      lambda env: [model.Band(('turns', n.get(env)),
                                                              [model.Strand(shade.get(env))])]))
        self.scope[kind].remove(name)
        return [Statement(block(head, body),
                          lambda env: [node for value in values(env)
                                       for node in lay_all(body, dict(env, **{name: value}))])]

    def choice(self, depth, fill, calls, count):
        sign, test = self.pick([('== 2', lambda c: c == 2), ('< 2', lambda c: c < 2), ('>= 2', lambda c: c >= 2),
                                ('!= 1', lambda c: c != 1), ('<= 1', lambda c: c <= 1)])
        yes, no = self.body(0, fill, calls), self.body(0, fill, calls)
        middle = self.body(0, fill, calls) if self.chance(0.3) else None
        lines = block('if %s %s' % (count, sign), yes)
        if middle:
            lines = lines[:-1] + block('} else if not (%s == 1)' % count, middle)
        lines = lines[:-1] + block('} else', no)

        def lay(env):
            value = count.get(env)
            if test(value):
                return lay_all(yes, env)
            return lay_all(middle if middle and value != 1 else no, env)
        return Statement(lines, lay)

    # ------------------------------------------------------------ declarations

    def declare_threads(self):
        pitch_text, pitch = self.pick([
            ('turns: 67 per cm', Fraction(10, 67)), ('turns: 172 per in', INCH / 172),
            ('turns: 60 per 10 mm', Fraction(1, 6)), ('diameter: 0.15 mm', Fraction(15, 100)),
            ('diameter: 0.16 mm', Fraction(16, 100)), ('diameter: 0.125 mm', Fraction(1, 8)),
            ('diameter: 0.006 in', Fraction(6, 1000) * INCH)])
        self.alike, self.every = [], []
        for i in range(4):
            self.declare_thread(pitch_text, pitch, pitch)
            self.alike.append(self.scope['thread'][-1])
        self.declarations.append('size Q { diameter: 0.18 mm, uncertainty: 15 % }')
        tex = Fraction(math.sqrt(4 * 30 / (math.pi * 1.39 * 0.7)) * math.sqrt(1e-3))
        others = [('size: Q', Fraction(18, 100), Fraction(18, 100)),
                  ('size: Q, packing: 1.05', Fraction(189, 1000), Fraction(18, 100)),
                  ('size: Q, turns: 58 per cm', Fraction(10, 58), Fraction(18, 100)),
                  ('diameter: 0.2 mm, packing: 0.95', Fraction(19, 100), Fraction(2, 10)),
                  ('diameter: 0.14 mm, turns: 70 per cm', Fraction(1, 7), Fraction(14, 100)),
                  ('tex: 30, fibre: polyester', tex, tex), ('diameter: 0.1 mm', Fraction(1, 10), Fraction(1, 10)),
                  ('diameter: 0.3 mm', Fraction(3, 10), Fraction(3, 10))]
        for text, pitch, diameter in self.random.sample(others, 3):
            self.declare_thread(text, pitch, diameter)
        self.every = list(self.scope['thread'])

    def declare_thread(self, text, pitch, diameter):
        name = self.name('t')
        self.declarations.append('thread %s { %s }' % (name, text))
        self.globals[name] = model.Thread(name, pitch, diameter)
        self.scope['thread'].append(name)

    def declare_sections(self):
        """What stands behind `on`, and the model of it."""
        count, tip_inside = self.pick([2, 2, 3]), self.chance(0.4)
        made = [self.declare_blank(index) for index in range(count)]
        overlaps = [Fraction(self.random.choice([0, 20, 45, 80])) for _ in range(count - 1)]
        if self.chance(0.5):
            overlaps = overlaps[:1] * (count - 1)
        options = []
        if self.chance(0.7) or any(overlaps):
            same = len(set(overlaps)) == 1 and self.chance(0.7)
            lengths = ['%d mm' % each if self.chance(0.5) else decimal(each / 10) + ' cm' for each in overlaps]
            options.append('overlap: ' + (lengths[0] if same else '[%s]' % ', '.join(lengths)))
        if tip_inside or self.chance(0.3):
            options.append('inside: ' + ('tip' if tip_inside else 'butt'))
        self.random.shuffle(options)
        return ' '.join(['[%s]' % ', '.join(name for name, _ in made)] + options), model.Joined(
            [blank for _, blank in made], overlaps, tip_inside)

    def declare_blank(self, section=None):
        """A blank; as a section of a rod it is measured from its own butt end, and shorter."""
        first = self.pick([0, 0, 20]) if not section else 0
        x, diameter = first, self.random.randint(110, 160) - 40 * (section or 0)
        stations = [(x, Fraction(diameter, 10))]
        for _ in range(self.random.randint(1, 4)):
            x += self.random.randint(300, 900) if section is None else self.random.randint(80, 300)
            diameter = max(15, diameter - self.random.randint(5, 40))
            stations.append((x, Fraction(diameter, 10)))
        if section is None and stations[-1][0] < 1500:
            stations.append((2000, min(Fraction(2), stations[-1][1])))
        if section is not None and stations[-1][0] < 300:
            stations.append((300, min(Fraction(2), stations[-1][1])))
        name = self.name('tube')
        lines = []
        for x, d in stations:
            written = '%d mm' % x if self.chance(0.5) else decimal(Fraction(x, 10)) + ' cm'
            lines.append('at %s: %s mm' % (written, decimal(d)))
        self.declarations.append('blank %s { %s }' % (name, '  '.join(lines)))
        return name, model.Blank(stations)

    def declare_pattern(self, fill):
        name, outer = self.name('wrap'), self.scope
        self.scope = {kind: list(names) for kind, names in outer.items()}
        parameters = []
        kinds = ['thread', 'turns', 'length', 'count', 'threads']
        for kind in self.random.sample(kinds, self.random.randint(1, 4)):
            parameter = self.name('p')
            after_default = parameters and parameters[-1][2] is not None
            default = self.argument(kind) if after_default or self.chance(0.4) else None
            parameters.append((parameter, kind, default))
            self.scope[kind].append(parameter)
        body = self.body(1, fill)
        for parameter, kind, _ in parameters:
            if kind == 'count':
                body.insert(0, Statement(['require %s >= 1, "too few"' % parameter], lambda env: []))
        self.scope = outer
        written = ['%s: %s%s' % (parameter, kind, '' if default is None else ' = %s' % default)
                   for parameter, kind, default in parameters]
        self.declarations += block('pattern %s(%s)' % (name, ', '.join(written)), body)
        pattern = Value(name, None)
        pattern.parameters, pattern.body, pattern.fill = parameters, body, fill
        self.patterns.append(pattern)

    def argument(self, kind):
        if kind == 'count':
            n = self.random.randint(1, 3)
            return fixed(str(n), Fraction(n))
        if kind == 'threads':
            return self.thread_list(count=self.random.randint(2, 3), alike=True)
        return {'thread': self.thread, 'turns': self.turns, 'length': self.length}[kind]()

    def call(self, pattern):
        given, texts, by_name = {}, [], False
        for parameter, kind, default in pattern.parameters:
            if default is not None and self.chance(0.5):
                by_name = True
                continue
            value = self.argument(kind)
            given[parameter] = value
            by_name = by_name or self.chance(0.2)
            texts.append('%s: %s' % (parameter, value) if by_name else str(value))

        def lay(env):
            inner = dict(self.globals)
            for parameter, _, default in pattern.parameters:
                inner[parameter] = given[parameter].get(env) if parameter in given else default.get(inner)
            return lay_all(pattern.body, inner)
        return Statement(['%s(%s)' % (pattern.text, ', '.join(texts))], lay)

    # ------------------------------------------------------------ rods

    def layer_body(self, fill):
        """A body that keeps within LIMIT, and a function that gives its nodes."""
        for _ in range(200):
            names = self.names
            statements = self.body(2, fill)
            nodes = lay_all(statements, self.globals)
            fills = model.fills_in_source_order(nodes, [])
            try:
                items = model.in_working_order(nodes)
                turns = sum(run.turns for item in items if not item.node.fill
                            for run in item.node.runs(item.source, None))
            except ValueError:
                continue
            if turns <= LIMIT and len(items) <= 120 and bool(fills) == fill:
                return statements, lambda: lay_all(statements, self.globals)
            self.names = names
        raise RuntimeError('no body found')

    def room(self, nodes):
        """What the fixed part takes, and the least room that gives all fills turns enough."""
        items = model.in_working_order(nodes)
        fills = model.fills_in_source_order(nodes, [])
        taken = sum(run.width for item in items if not item.node.fill for run in item.node.runs(item.source, None))
        need = Fraction(0)
        if fills:
            weight = sum(fill.extent[1] * sum(item.node is fill for item in items) for fill in fills)
            need = weight * max(45 * fill.pitch / fill.extent[1] for fill in fills)
        return taken, need

    def layers(self, guide):
        """(kind, statements, make nodes, offset, own length, least room) for each layer of a place."""
        result = []
        for index in range(self.pick([1, 1, 2, 3])):
            fill = self.chance(0.6) or guide
            statements, make = self.layer_body(fill)
            taken, need = self.room(make())
            offset = Fraction(0) if self.chance(0.6) or guide else Fraction(self.random.randint(1, 40), 4)
            own = None
            if fill and not guide and self.chance(0.3):
                own = Fraction(math.ceil((taken + need) * 4) + self.random.randint(0, 40), 4)
            result.append([None, statements, make, offset, own, offset + (own or taken + need)])
        kinds = sorted((self.pick(['under', 'over']) for _ in result), key=lambda kind: kind == 'over')
        if guide and 'over' not in kinds:
            kinds[-1] = 'over'
        for layer, kind in zip(result, kinds):
            layer[0] = kind
        return result

    @staticmethod
    def place_lines(head, layers):
        if len(layers) == 1 and layers[0][0] == 'over' and not layers[0][3] and layers[0][4] is None:
            return block(head, layers[0][1])
        lines = []
        for kind, statements, _, offset, own, _ in layers:
            options = (' offset: %s mm' % decimal(offset) if offset else '') + \
                (' length: %s mm' % decimal(own) if own else '')
            lines += block(kind + options, statements)
        return [head + ' {'] + ['    ' + line for line in lines] + ['}']

    @staticmethod
    def model_layers(layers):
        return [model.Layer(kind, make(), offset, own) for kind, _, make, offset, own, _ in layers]

    def plain_place(self, x):
        return decimal(x / 10) + ' cm' if self.chance(0.5) else decimal(x) + ' mm'

    def place_text(self, x, parts):
        """x mm from the butt, as it is written; perhaps from an end of a part."""
        if not parts or self.chance(0.6):
            return self.plain_place(x)
        name, low, high = self.pick(parts)
        end, at = self.pick([('butt', low), ('tip', high)])
        return '%s.%s%s' % (name, end, ' %s %s mm' % ('-' if x < at else '+', decimal(abs(x - at))) if x != at else '')

    def mark(self, x, blank, until=None):
        """A mark at x mm from the butt, as it is written, and where it goes to."""
        x, tip = Fraction(x), blank.stations[-1][0]
        if self.chance(0.35):
            goes = '' if until is None else ' until: %s mm' % decimal(tip - until)
            return '%s mm from: tip%s' % (decimal(tip - x), goes)
        goes = '' if until is None else ' until: %s' % self.place_text(until, self.parts)
        return self.place_text(x, self.parts) + goes

    def part(self, blank):
        """A wrapped part anywhere on the blank, or a mark: its lines."""
        name, first, last = self.name('part'), blank.stations[0][0], blank.stations[-1][0]
        most = last - 10 if self.chance(0.2) else min(first + 250, last - 10)  # mostly where places are
        low = Fraction(self.random.randint(int(first) * 4, int(most) * 4), 4)
        if self.chance(0.2):
            lines = ['part %s at %s { note: "a mark" }' % (name, self.mark(low, blank))]
            self.parts.append((name, low, low))
            return lines
        high = min(low + Fraction(self.random.randint(4, 400), 4), last)
        among = [float(low) + float(high - low) * i / 60 for i in range(61)]
        thickest = math.ceil(max(blank.blank.diameter(x, x) for x in among) + 0.05)
        diameters = [thickest + Fraction(self.random.randint(0, 20), 10) for _ in range(self.pick([0, 1, 1, 2, 3, 4]))]
        toward = self.pick([1, -1])
        start, end = (low, high) if toward > 0 else (high, low)
        if self.chance(0.4):
            head = self.mark(start, blank, end)
        else:
            head = '%s length: %s mm%s' % (self.mark(start, blank), decimal(high - low),
                                           ' toward: butt' if toward < 0 else self.pick(['', ' toward: tip']))
        self.parts.append((name, low, high))
        options = ['wrapped: yes']
        if len(diameters) == 1 and self.chance(0.5):
            options.append('diameter: %s mm' % decimal(diameters[0]))
        elif diameters:
            options.append('diameter: [%s]' % ', '.join('%s mm' % decimal(each) for each in diameters))
        self.random.shuffle(options)
        if diameters:
            blank.wrap_over(low, high, diameters)
        return ['part %s at %s { %s }' % (name, head, ', '.join(options))]

    def place(self, cursor, blank):
        """Lines and places of a mark that begins at the cursor or later; None if there is no room."""
        guide = self.chance(0.35)
        layers = self.layers(guide)
        least = max(layer[5] for layer in layers)
        if guide:
            return self.guided(cursor, blank, layers, least)
        length = Fraction(math.ceil(least * 2) + self.random.randint(0, 30), 2)
        needs = any(layer[4] is None and model.fills_in_source_order(layer[2](), []) for layer in layers)
        toward = self.pick([1, 1, -1])
        start = cursor if toward > 0 else cursor + math.ceil(length)
        end = cursor + math.ceil(length) + 2
        if end > self.limit:
            return None
        if self.up_to_end:
            start, end = start + self.limit - (end - 2), self.limit
        options, until = [], None
        known = needs or self.chance(0.3)
        if known and self.chance(0.4):
            until = start + toward * length
        elif known:
            options.append('length: %s mm' % decimal(length))
        if toward < 0 and until is None:
            options.append('toward: butt')
        if not known:
            length = None
        places = [model.Place(start, toward, length, self.model_layers(layers))]
        options += self.turned(places)
        self.random.shuffle(options)
        lines = self.place_lines('at %s %s' % (self.mark(start, blank, until), ' '.join(options)), layers)
        return lines, places, end

    def turned(self, places):
        """The option that says where round the blank they stand, if any."""
        if self.chance(0.7):
            return []
        degrees = Fraction(self.random.randint(-4 * 400, 4 * 400), 4)
        for place in places:
            place.angle = degrees % 360
        return ['angle: %s deg' % decimal(degrees)]

    def guided(self, cursor, blank, layers, least):
        double, name = self.chance(0.5), self.name('ring')
        before = Fraction(self.random.randint(0, 16), 4)
        feet = [Fraction(math.ceil(least - before) + self.random.randint(2, 12))
                for _ in range(2 if double else 1)]
        gap = Fraction(self.random.randint(0, 20), 2)
        ramp = Fraction(self.random.choice([0, 3, 5, 6, 8]))
        width, height = Fraction(self.random.randint(5, 35), 10), Fraction(self.random.randint(2, 12), 10)
        side = self.pick(['tip', 'butt'])
        text = 'foot: %s, gap: %s mm, width: %s mm, height: %s mm, ramp: %s mm' % (
            '[%d mm, %d mm]' % tuple(feet) if double else '%d mm' % feet[0], decimal(gap), decimal(width),
            decimal(height), decimal(ramp))
        if before:
            text += ', before: %s mm' % decimal(before)
        if not double and (side == 'butt' or self.chance(0.5)):
            text += ', side: ' + side
        guide = model.Guide(feet, gap, side, width, height, ramp, before)
        reach = before + gap / 2
        behind = feet[0] + reach if double or side == 'butt' else Fraction(0)
        ahead = feet[-1] + reach if double or side == 'tip' else Fraction(0)
        ring = Fraction(math.ceil(cursor + behind))
        end = math.ceil(ring + ahead) + 2
        if end > self.limit:
            return None
        places = list(guide.places(ring, lambda: self.model_layers(layers)))
        if any(self.ends_on_ramp(place, before, ramp) for place in places):
            return None
        self.declarations.append('guide %s { %s }' % (name, text))
        options = ['guide: %s' % name, *self.turned(places)]
        self.random.shuffle(options)
        lines = self.place_lines('at %s %s' % (self.mark(ring, blank), ' '.join(options)), layers)
        return lines, places, end

    @staticmethod
    def ends_on_ramp(place, before, ramp):
        """Does a gap end a wrap half-way up the foot?"""
        for layer in place.layers:
            layer.lay(place.length)
        return any(run.role == 'gap' and before <= run.start <= before + ramp
                   for layer in place.layers for run in layer.runs)

    def write(self):
        options = 'holders: 4'  # strands together need a spool each
        if self.chance(0.5):
            options += ', units: %s, ridge: 12, apart: 0.1 mm, hand: 90 m, bind: %d turns' % (
                self.pick(['mm', 'cm', 'in']), self.random.randint(4, 6))
        self.declarations.append('bench { %s }' % options)
        self.declare_threads()
        for _ in range(self.random.randint(0, 3)):
            statement, kind, name = self.let()
            self.declarations += statement.lines
            statement.lay(self.globals)
            self.scope[kind].append(name)
        for _ in range(self.random.randint(0, 3)):
            self.declare_pattern(self.chance(0.4))
        rods, self.rods = [], []
        for index in range(self.pick([1, 1, 1, 2])):
            name, blank = self.declare_sections() if self.chance(0.3) else self.declare_blank()
            places, lines, self.parts = [], [], []
            blank = model.Wrapped(blank)
            for _ in range(self.pick([0, 0, 1, 2, 4, 6])):
                lines += self.part(blank)
            cursor = blank.stations[0][0] + self.random.randint(0, 60)
            ends = blank.ends()
            for number, end in enumerate(ends):
                last = number + 1 == len(ends)
                self.limit = end - 2 if last else end
                count = self.random.randint(1, 3)
                for which in range(count):
                    self.up_to_end = not last and which + 1 == count and self.chance(0.6)
                    made = self.place(cursor, blank)
                    if made:
                        lines += made[0]
                        places += made[1]
                        cursor = made[2] + self.random.randint(0, 50)
                cursor = end + self.pick([0, 0, self.random.randint(0, 50)])
            self.rods.append((blank, places))
            rods += ['rod "r%d" on %s {' % (index, name)] + ['    ' + line for line in lines] + ['}']
        self.text = '\n'.join(['edition 1'] + self.declarations + rods) + '\n'
        return self
