"""A pattern file as it might come from a slip of the hand: tokens gone, doubled, swapped or replaced."""
import re

TOKEN = re.compile(r'"[^"\n]*"|#[0-9a-f]+|[\w.]+:?|\S')


def mutant(source, words, chance):
    """The text with a few tokens gone, doubled, swapped or replaced."""
    spans = [match.span() for match in TOKEN.finditer(source)]
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        at = chance.randrange(len(spans) - 1)
        (start, end), (start_after, end_after) = spans[at], spans[at + 1]
        change = chance.randrange(6)
        if change == 0:
            new = source[:start] + source[end:]
        elif change == 1:
            new = source[:end] + " " + source[start:]
        elif change == 2:
            new = source[:start] + source[start_after:end_after] + " " + source[start:end] + source[end_after:]
        elif change == 3:
            stop = spans[min(len(spans) - 1, at + chance.randrange(2, 12))][1]
            new = source[:start] + source[stop:]
        else:
            new = source[:start] + chance.choice(words) + source[end:]
        source, spans = new, [match.span() for match in TOKEN.finditer(new)]
        if len(spans) < 3:
            break
    return source
