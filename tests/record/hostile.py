"""Records that are none: by hand, and by random changes."""
import copy
import json


def bytes_of(record):
    return json.dumps(record).encode()


def with_members(**members):
    return lambda whole: {**whole, **members}


def without(name):
    return lambda whole: {member: value for member, value in whole.items() if member != name}


def happened(*items):
    return lambda whole: {**whole, "happened": list(items)}


def replaced(old, new):
    def make(whole):
        text = bytes_of(whole)
        assert old in text, old
        return text.replace(old, new, 1)
    return make


def note(text, **more):
    return with_members(notes=[{"step": 5, "text": text, **more}])


WIDTH = {"step": 5, "width": 9.0}

# (name, code of the finding or "" where it is a record, what makes it of a whole one)
HOSTILE = [
    ("nothing", "T701", lambda whole: b""),
    ("the end behind a backslash", "T701", lambda whole: json.dumps(whole).encode()[:-1] + b', "\\'),
    ("blanks", "T701", lambda whole: b" \n\t "),
    ("a pattern file", "T701", lambda whole: b"edition 1\nthread navy { turns: 67 per cm }\n"),
    ("a number", "T702", lambda whole: b"12"),
    ("a list", "T702", lambda whole: b"[]"),
    ("null", "T702", lambda whole: b"null"),
    ("an empty object", "T702", lambda whole: b"{}"),
    ("zeros", "T701", lambda whole: b"\0" * 4096),
    ("a zero inside", "T701", lambda whole: bytes_of(whole)[:20] + b"\0" + bytes_of(whole)[20:]),
    ("a zero at the end", "T701", lambda whole: bytes_of(whole) + b"\0"),
    ("two records", "T701", lambda whole: bytes_of(whole) * 2),
    ("a word behind it", "T701", lambda whole: bytes_of(whole) + b" x"),
    ("blanks behind it", "", lambda whole: bytes_of(whole) + b"\r\n\t \n"),
    ("a mark of UTF-8 before it", "", lambda whole: b"\xef\xbb\xbf" + bytes_of(whole)),
    ("UTF-16", "T701", lambda whole: json.dumps(whole).encode("utf-16")),
    ("no UTF-8", "T701", lambda whole: bytes_of(whole).replace(b"Merrow", b"Merr\xffw")),
    ("half a character", "T701", lambda whole: bytes_of(whole).replace(b"Merrow", b"Merr\xc3")),
    ("an overlong character", "T701", lambda whole: bytes_of(whole).replace(b"Merrow", b"\xc0\xaf")),
    ("a surrogate in UTF-8", "T701", lambda whole: bytes_of(whole).replace(b"Merrow", b"\xed\xa0\x80")),
    ("half a pair", "T701", replaced(b"Merrow", b"\\ud83d")),
    ("the other half", "T701", replaced(b"Merrow", b"\\ude00")),
    ("two first halves", "T701", replaced(b"Merrow", b"\\ud83d\\ud83d")),
    ("a pair", "", replaced(b"Merrow", b"\\ud83d\\ude00")),
    ("every escape", "", replaced(b"Merrow", b"\\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u00E9 \\u00e9")),
    ("an escape that is none", "T701", replaced(b"Merrow", b"\\x41")),
    ("three digits", "T701", replaced(b"Merrow", b"\\u12")),
    ("a zero in a text", "T701", replaced(b"Merrow", b"\\u0000")),
    ("a line end in a text", "T701", replaced(b"Merrow", b"Mer\nrow")),
    ("deep lists", "T702", lambda whole: b"[" * 1000000),
    ("deep objects", "T702", lambda whole: b'{"title":' * 100000),
    ("deep lists in it", "T702", lambda whole: bytes_of(whole).replace(b"[[1, 5]]", b"[" * 500000)),
    ("too large", "T701", lambda whole: bytes_of(whole) + b" " * (1 << 20)),
    ("as large as may be", "", lambda whole: bytes_of(whole) + b" " * ((1 << 20) - len(bytes_of(whole)))),
    ("far too large", "T701", lambda whole: b" " * (15 << 20)),
    ("a quote missing", "T701", replaced(b'"title"', b'"title')),
    ("a colon missing", "T701", replaced(b'"title":', b'"title"')),
    ("a comma missing", "T701", replaced(b', "title"', b' "title"')),
    ("a comma too many", "T701", replaced(b"[[1, 5]]", b"[[1, 5],]")),
    ("a comma before the end", "T701", lambda whole: bytes_of(whole)[:-1] + b",}"),
    ("a comment", "T701", lambda whole: b"/* */" + bytes_of(whole)),
    ("single quotes", "T701", lambda whole: bytes_of(whole).replace(b'"', b"'")),
    ("a name without quotes", "T701", replaced(b'"title"', b"title")),
    ("the wrong bracket", "T701", replaced(b"[[1, 5]]", b"[[1, 5}]")),
    ("no number", "T701", replaced(b'"at": 6', b'"at": 06')),
    ("a number with a plus", "T701", replaced(b'"at": 6', b'"at": +6')),
    ("a number that begins with its point", "T701", replaced(b'"at": 6', b'"at": .6')),
    ("a number that ends with its point", "T701", replaced(b'"at": 6', b'"at": 6.')),
    ("an exponent without digits", "T701", replaced(b'"at": 6', b'"at": 6e')),
    ("a sign alone", "T701", replaced(b'"at": 6', b'"at": -')),
    ("NaN", "T701", replaced(b'"at": 6', b'"at": NaN')),
    ("infinity", "T701", replaced(b'"at": 6', b'"at": Infinity')),
    ("a number of base 16", "T701", replaced(b'"at": 6', b'"at": 6x6')),
    ("too large for a number", "T702", replaced(b'"at": 6', b'"at": 1e999')),
    ("too large for an exponent", "T702", replaced(b'"at": 6', b'"at": 1e99999999999999999999')),
    ("thousands of digits", "T702", replaced(b'"at": 6', b'"at": ' + b"9" * 5000)),
    ("a step with a point", "T702", replaced(b'"at": 6', b'"at": 6.5')),
    ("a whole number all the same", "", replaced(b'"at": 6', b'"at": 60.00e-1')),
    ("the step before the first", "T702", with_members(at=0)),
    ("a step below nothing", "T702", with_members(at=-1)),
    ("a step as a text", "T702", with_members(at="6")),
    ("a step that is true", "T702", with_members(at=True)),
    ("a step beyond the last", "T704", with_members(at=2000)),
    ("a step beyond all", "T702", with_members(at=1 << 40)),
    ("another version", "T702", with_members(turnlay="record 2")),
    ("another format", "T702", with_members(turnlay="plan 1")),
    ("no version", "T702", without("turnlay")),
    ("no pattern", "T702", without("pattern")),
    ("of another pattern", "T703", with_members(pattern="0000-0000-0000")),
    ("of no pattern", "T703", with_members(pattern="x")),
    ("a pattern that turns the line round", "T703", with_members(pattern="\u202e\u0007<script>")),
    ("an unknown name", "T702", with_members(place=3)),
    ("a name given twice", "T702", replaced(b'"at": 6', b'"at": 6, "at": 6')),
    ("a name as long as a letter", "T702", with_members(**{"n" * 100000: 1})),
    ("a name that hides", "T702", with_members(**{"at\u202e": 1})),
    ("a title as long as may be", "", with_members(title="t" * 200)),
    ("a title that is too long", "T702", with_members(title="t" * 201)),
    ("a title of wide characters", "", with_members(title="\U0001f600" * 200)),
    ("a title that is a list", "T702", with_members(title=["Merrow"])),
    ("happened is an object", "T702", with_members(happened={})),
    ("a thing that is a number", "T702", happened(5)),
    ("a thing that is nothing", "T702", happened({})),
    ("a step alone", "T702", happened({"step": 5})),
    ("a width without a step", "T702", happened({"width": 9.0})),
    ("a width and a mishap", "T702", happened({**WIDTH, "mishap": "broke"})),
    ("a width with a way", "T702", happened({**WIDTH, "way": "splice"})),
    ("a mishap that is sure", "T702", happened({"step": 5, "mishap": "broke", "sure": False})),
    ("a mishap that is none", "T702", happened({"step": 5, "mishap": "lost"})),
    ("a mishap without a name", "T702", happened({"step": 5, "mishap": ""})),
    ("a way that is none", "T702", happened({"step": 5, "mishap": "broke", "way": "knot"})),
    ("no width", "T702", happened({"step": 5, "width": 0})),
    ("a width below nothing", "T702", happened({"step": 5, "width": -9.0})),
    ("a width of ten kilometres", "T702", happened({"step": 5, "width": 1e7})),
    ("a width as a text", "T702", happened({"step": 5, "width": "9.0 mm"})),
    ("a width that is null", "T702", happened({"step": 5, "width": None})),
    ("sure as a number", "T702", happened({**WIDTH, "sure": 1})),
    ("sure as a word", "T702", happened({**WIDTH, "sure": "true"})),
    ("a step in which nothing is measured", "T704", happened({"step": 1, "width": 9.0})),
    ("a step that the sheet has not", "T704", happened({"step": 900, "width": 9.0})),
    ("the second width in a step that is none", "T704", happened(WIDTH, {"step": 1, "width": 9.0})),
    ("on a sheet of things to come", "T702", happened({**WIDTH, "sheet": 1})),
    ("all of it on a sheet of things to come", "T702", with_members(sheet=2)),
    ("turns without a wrap", "T702", happened({**WIDTH, "made": [{"thread": "navy", "nominal_turn": 0.15, "turns": 60}]})),
    ("turns of no thread", "T702", happened({**WIDTH, "wrap": 1, "made": [{"nominal_turn": 0.15, "turns": 60}]})),
    ("turns of no width", "T702", happened({**WIDTH, "wrap": 1, "made": [{"thread": "navy", "nominal_turn": 0, "turns": 60}]})),
    ("no turns", "T702", happened({**WIDTH, "wrap": 1, "made": [{"thread": "navy", "nominal_turn": 0.15, "turns": 0}]})),
    ("gaps below nothing", "T702", happened({**WIDTH, "gaps": -1})),
    ("as many things as may be", "", lambda whole: {**whole, "done": [[1, 1]] * 4096}),
    ("a thing too many", "T702", lambda whole: {**whole, "done": [[1, 1]] * 4097}),
    ("a width too many", "T702", lambda whole: {**whole, "happened": [WIDTH] * 4097}),
    ("too many threads in a width", "T702", happened({**WIDTH, "wrap": 1, "made": [{"thread": "navy", "nominal_turn": 0.15, "turns": 1}] * 257})),
    ("a row of three", "T702", with_members(done=[[1, 2, 3]])),
    ("a row of one", "T702", with_members(done=[[1]])),
    ("a row that falls", "T702", with_members(done=[[5, 1]])),
    ("a row that is none", "T702", with_members(done=[5])),
    ("a row of steps that are not there", "T704", with_members(done=[[1, 2], [1, 500], [1, 1]])),
    ("a lot without a thread", "T702", with_members(lots=[{"lot": "1"}])),
    ("a lot of a thread that is not there", "", with_members(lots=[{"thread": "plum", "lot": "1"}])),
    ("a lot that is a number", "T702", with_members(lots=[{"thread": "navy", "lot": 2217}])),
    ("a note without a text", "T702", with_members(notes=[{"step": 5}])),
    ("a note at no step", "T702", with_members(notes=[{"step": 0, "text": "x"}])),
    ("a note at a step that is not there", "T704", with_members(notes=[{"step": 500, "text": "x"}])),
    ("a note at a step that is not there, before others", "T704", with_members(notes=[{"step": 500, "text": "x"}, {"step": 5, "text": "x"}])),
    ("a note as long as may be", "", note("x" * 1000)),
    ("a note that is too long", "T702", note("x" * 1001)),
    ("a note that hides", "", note("\u202e\u2066\u0007\ufdd0 <script>alert(1)</script> </style> -->")),
    ("a date that is a number", "T702", note("x", date=2026)),
]


# --- by chance ---

VALUES = [None, True, False, 0, 1, -1, 2, 0.5, 1e-7, 9.0, 1e7, 9999999, 2147483647, 2147483648, 1e300, "", "x", "navy", "broke", "splice", "record 1",
          "y" * 200, "y" * 201, [], {}, [1, 2], [[1, 2]], {"step": 5, "width": 9.0}, {"step": 5, "mishap": "broke", "turns": 5, "way": "splice"},
          {"thread": "navy", "lot": "1"}, {"thread": "navy", "nominal_turn": 0.15, "turns": 3}]
NAMES = ["step", "width", "turns", "sure", "made", "gaps", "wrap", "sheet", "mishap", "way", "thread", "nominal_turn", "lot", "text", "date", "at", "done",
         "happened", "lots", "notes", "title", "pattern", "turnlay", "x"]


def places_of(value, found, path=()):
    found.append(path)
    for key, inner in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
        places_of(inner, found, (*path, key))
    return found


def changed(random_of, whole):
    """The record with one to three values exchanged, left out or put in."""
    record = copy.deepcopy(whole)
    for _ in range(random_of.randint(1, 3)):
        path = random_of.choice(places_of(record, []))
        if not path:
            record[random_of.choice(NAMES)] = random_of.choice(VALUES)
            continue
        holder = record
        for key in path[:-1]:
            holder = holder[key]
        what = random_of.choice(("exchange", "exchange", "leave out", "put in"))
        if what == "exchange":
            holder[path[-1]] = copy.deepcopy(random_of.choice(VALUES))
        elif what == "leave out":
            del holder[path[-1]]
        elif isinstance(holder, dict):
            holder[random_of.choice(NAMES)] = copy.deepcopy(random_of.choice(VALUES))
        else:
            holder.insert(0, copy.deepcopy(random_of.choice(VALUES)))
    return record


def rows_fall(record):
    done = record.get("done")
    return isinstance(done, list) and any(isinstance(row, list) and len(row) == 2 and all(isinstance(end, (int, float)) for end in row)
                                          and row[0] > row[1] for row in done)


def ahead(record):
    """Counted on a sheet of things that have not happened by then."""
    items = record.get("happened") if isinstance(record.get("happened"), list) else []
    sheets = [(item.get("sheet", 0), index) for index, item in enumerate(items) if isinstance(item, dict)] + [(record.get("sheet", 0), len(items))]
    return any(isinstance(sheet, (int, float)) and sheet > before for sheet, before in sheets)


def valid_elsewhere(record):
    """What no schema says, or the program says otherwise: a row that falls, a sheet of things to come, digits of no pattern."""
    return rows_fall(record) or ahead(record) or (isinstance(record.get("pattern"), str) and len(record["pattern"]) != 14)
