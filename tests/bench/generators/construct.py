"""A construct of the language, as a function from a size to a text of that size; and the setting that most of them share.
A growth curve compares a size with its double: nothing but the construct's number changes between the two."""
import collections

Construct = collections.namedtuple("Construct", "make size most least errors")
CONSTRUCTS = {}


def construct(size, most=10_000_000, least=2, errors=False):
    """size: small, but so large that the construct is most of the work; most: the largest that there may be, by a limit of
    the language; least: the smallest. errors: the text has findings of error level. The function gives a text, or
    {file name: text} with "main.lay" among them."""
    def add(make):
        CONSTRUCTS[make.__name__.replace("_", " ")] = Construct(make, size, most, least, errors)
        return make
    return add


# Of the bench: seen from so far away crosswraps are pictures of few cells. Most of those that are seen from near take as much
# work as such a picture may, and tell nothing of growth.
AWAY = "near: 5 m, far: 10 m"


def setting(bench="units: mm, hand: 99 m", blank="at 0 mm: 14 mm  at 900 m: 8 mm"):
    """Four threads, a bench and a blank on which there is room for everything."""
    return ("edition 1\nthread navy { turns: 67 per cm, colour: #22346b }\nthread slate { turns: 67 per cm, colour: #4c6a9c }\n"
            "thread mist { turns: 67 per cm, colour: #9db8d6 }\nthread foam { turns: 67 per cm, colour: #dfe9ef }\n"
            f"bench {{ {bench} }}\nblank tube {{ {blank} }}\n")


def lines(number, line):
    """line(i) for each i from 0."""
    return "".join(line(i) + "\n" for i in range(number))


def rod(places, title="Growing", blank="tube"):
    return f'rod "{title}" on {blank} {{\n{places}}}\n'


def layer(body, options="", **given):
    """The setting, and one place with these statements."""
    return setting(**given) + rod(f"at 10 cm {options} {{\n{body}}}\n")


SMALL_ROD = rod("at 10 cm { band 20 turns of navy }\n")


def bare(declarations):
    """Declarations, and one small rod beside them."""
    return setting() + declarations + SMALL_ROD


def shade(i):
    """One of the setting's threads; those of neighbouring numbers differ."""
    return ("navy", "slate", "mist", "foam")[i % 4]
