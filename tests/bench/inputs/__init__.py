"""Like texts in several languages: named things of numbers, blocks within one another, a comment now and then; each by a
generator of its own that makes the same text for the same size."""
import random
import re

from inputs import c, json, lay, lua, php

LANGUAGES = {"lay": lay, "c": c, "lua": lua, "php": php, "json": json}


def text(language, size):
    """A text of about so many bytes, never fewer."""
    maker, dice = LANGUAGES[language], random.Random(1)
    parts, length, number = [maker.HEAD], len(maker.HEAD), 0
    while length < size:
        parts.append(maker.part(dice, number))
        length += len(parts[-1])
        number += 1
    return "".join(parts) + maker.TAIL


TOKEN = re.compile(r'"(?:[^"\\\n]|\\.)*"|\$?\w+(?:\.\w+)?|[<>=!]=|\+\+|->|=>|[^\s\w]')


def bytes_a_token(language, written):
    """Comments count among the bytes and not among the tokens."""
    return len(written) / len(TOKEN.findall(re.sub(LANGUAGES[language].COMMENT, " ", written)))
