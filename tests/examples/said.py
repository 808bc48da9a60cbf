"""What the pages of a bench sheet say, and whether it all stands in the sheet as data: each page's text is laid out with
the texts of sheet.json, one beside the other, and with the few words that are the page's own. No word may be left."""
import functools
import html.parser
import json
import re
import subprocess
import xml.etree.ElementTree

from checks import turnlay

# Values that are words for programs, and no text that anybody reads.
NOT_SAID = {"format", "file_id", "units", "left", "rotation", "ends", "kind", "role", "toward", "leg", "side", "from", "colour", "own"}
NUMBERS_SAID = {"number", "for_step", "step"}
# What a page says of itself and of the boxes to be filled in on it; never of the work.
OWN = {
    "sheet": ["Bench sheet", "by", "file id", "lengths", "title", "author", "licence", "version", "edition 1", "Cautions", "Threads", "Cut and mount first",
              "piece what length for step", "Parts and notes, measured from the butt", "measured:", "Rod:", "*", "--", "of", "x", "as thread turns layer ends at", "at", "should be", "is", "stop", "here:"],
    "sheet.html": ["Bench sheet", "by", ", file id", "Before you start", "Code and lot:", "Lot:", "Cut and mount first",
                   "Piece What Length For step", "x", "Parts and notes, measured from the butt", "Measured width:", "and",
                   "Side by side, and alike to some eyes:", "Go by names, letters and lines on the swatches, not by colour alone.",
                   "Planned again", "should be", "each", "End of the sheet", "100 mm if this was printed at 100 %: lay a ruler on it before you measure with it."],
    "sheet.pdf": ["Bench sheet", "by", ", file id", "file id", "page", "of", "Threads", "Parts and notes, measured from the butt",
                  "it is", "and", "(continued)", "as thread turns layer ends at", "at", "should be", "is", "stop", "here:", "Cards, with marking strips at true size", "Card", "turns thread ends at comes in, goes out",
                  "turns", "thread", "ends at", "comes in, goes out", "should be, is", "Layer", "each", "too long for a strip of paper", "lightness",
                  "A card is a place in a few lines; work by their numbers. The steps say it at length. Cut a strip out, or "
                  "bend the paper along its upper edge; lay that edge along the blank, the red line on your mark. Its lines are "
                  "edges of bands, its numbers the lines below; measure at the triangles. Of a strip in parts, lay red joining "
                  "lines of one number on each other.",
                  "Before use measure these rulers, 100 mm and 3 in long; print at 100 %, no fitting to page.",
                  "Wrap-around templates, true size", "< butt", "tip >", "< tip", "butt >", *"abcdefghijklmnopqrstuvwxyz"],
}
SCALE = re.compile(r"\b(?:[\d.]+ times |twice )?true size")   # of a picture: as large as the page allows


def strings(value, key=None):
    """Every text and number of the page for programs that people may read elsewhere."""
    if isinstance(value, dict):
        for name, each in value.items():
            yield from strings(each, name)
    elif isinstance(value, list):
        for each in value:
            yield from strings(each, key)
    elif isinstance(value, str) and key not in NOT_SAID or key in NUMBERS_SAID:
        yield str(value)
    if key in ("file_id", "units"):
        yield value
    if isinstance(value, dict) and "actions" in value:         # where actions are told one by one
        yield from (f"{value['number']}.{within}" for within in range(1, len(value["actions"]) + 1))


class Blocks(html.parser.HTMLParser):
    """The text of a page as it stands in the file; neither what draws nor what a reader presses."""
    VOID = {"meta", "br", "hr", "img", "link", "input"}
    PASSED = {"head", "svg", "script", "style", "dialog"}

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.passed, self.words = [], []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        controls = "screen-only" in (dict(attributes).get("class") or "")
        if tag not in self.VOID and (self.passed or tag in self.PASSED or controls):
            self.passed.append(tag)

    def handle_endtag(self, tag):
        if self.passed:
            self.passed.pop()
        else:
            self.words.append(" ")

    def handle_data(self, data):
        if not self.passed:
            self.words.append(data)


@functools.lru_cache(maxsize=None)
def word_of(text):
    """What stands between two blanks: without the marks round it, and nothing if it is a line to be filled in."""
    word = text.lstrip("(;,.:").rstrip(");,.:")
    return word if word.strip("-=_\u2028") else ""


def words(text):
    """Marks between facts, and boxes and lines to be filled in, are no words."""
    return list(filter(None, map(word_of, text.replace("[ ]", " ").split())))


WHOLE = None      # what a text leads to that may end there


class Texts:
    """Texts that a page may be made of, to be found word by word: what each word leads to, and what that does. beside: more of
    them."""

    def __init__(self, texts, beside=None):
        self.first = {}
        self.firsts = [self.first, *(beside.firsts if beside else ())]
        for text in texts:
            at = self.first
            for word in words(text):
                at = at.setdefault(word, {})
            at[WHOLE] = {}

    def left(self, page):
        """The words of the page that no text covers, if as many as can be are covered; each with those before it."""
        fewest, step = [0] * (len(page) + 1), [0] * len(page)
        for at in range(len(page) - 1, -1, -1):
            fewest[at] = fewest[at + 1] + 1
            for follows in self.firsts:
                for end in range(at, len(page)):
                    follows = follows.get(page[end])
                    if follows is None:
                        break
                    if WHOLE in follows and fewest[end + 1] < fewest[at]:
                        fewest[at], step[at] = fewest[end + 1], end + 1 - at
        at, left = 0, []
        while at < len(page):
            if not step[at]:
                left.append((" ".join(page[max(0, at - 4):at]), page[at]))
            at += step[at] or 1
        return left


def text_of(page, content):
    if page == "sheet.html":
        return "".join(Blocks(content.decode()).words)
    if page == "sheet.pdf":
        text = subprocess.run(["pdftotext", "-raw", "-", "-"], input=content, capture_output=True, check=True).stdout.decode()
        return re.sub(r"-\n", "-", text)          # a line may end behind a hyphen
    return content.decode()


def words_of_pictures(path, rods):
    """A PDF has the pictures of its rods, and the templates of crosswraps. They say what they say wherever they are drawn, but for
    what goes by their size: a scale, into how many rows a rod goes and from where to where each reaches."""
    for rod in range(1, rods + 1):
        for view in ("rod", "side", "template"):
            answer = turnlay("draw", "--rod", str(rod), "--view", view, path)
            if answer.code == 0:
                for text in xml.etree.ElementTree.fromstring(answer.out).iter("{http://www.w3.org/2000/svg}text"):
                    yield "".join(text.itertext())


def rows_of(data):
    """Of wraps that are told as an equal one: what stands above each table, and its rows, in words."""
    for part in (part for rod in data["rods"] for section in rod["sections"] for part in section["parts"] if "as" in part):
        yield (part["as"]["words"],)
        for step in part["steps"]:
            row = step["as"]
            thread = f"{step.get('thread', '')} at {row['hour']}" if "hour" in row else step.get("thread", "")
            cells = [str(step["number"]), str(row["step"]), "<", thread, ">", *(row.get(cell, "") for cell in ("turns", "layer", "at")), "stop" if "stop" in step and "stop" not in row["own"] else "",
                     "<>", f"here: {step['says']}" if "says" in row["own"] else "", step["clock"] if "clock" in row["own"] else "", row.get("note", ""),
                     step["stop"] if "stop" in row["own"] else "", step.get("caution", ""), f"should be {row['width']}, is" if "width" in row and "says" not in row["own"] else "",
                     "measured" if step["measure"] and "says" in row["own"] else ""]
            line = " ".join(filter(None, cells))
            yield re.sub(r"<> ?|[<>] ", "", line), re.sub("< .* > (.*?)<>", rf"\1 of {thread}", line)   # beside the row, or below it


def check_rows(checks, name, page, found, data):
    """Every row stands on the page, word by word, in its order. found: the page's words."""
    said = " " + " ".join(found) + " "
    missing = [ways[0] for ways in rows_of(data) if not any(" " + " ".join(words(row)) + " " in said for row in ways)]
    checks.check(not missing, f"{name}: {page} has every row of wraps that are told as another", "\n".join(missing[:4]))


def on_paper(said, data):
    """Texts as a PDF has them that says a part of them elsewhere: a scale; below the name of its place a part's heading, of which it
    is what stands behind it; an hour, which stands without what is at 12 after the first."""
    headings = [part["heading"].rpartition(": ")[2] for rod in data["rods"] for section in rod["sections"] for part in section["parts"]]
    yield from headings
    for text in said.union(headings):
        if "true size" in text:
            yield SCALE.sub("", text)
        if "o'clock," in text:
            yield text.partition(",")[0]


def check_said(checks, name, path, pages):
    """pages: the bytes of each page by its name."""
    data = json.loads(pages["sheet.json"])
    said = set(strings(data))
    known = Texts(said)
    for page, own in {**OWN, "actions": OWN["sheet"]}.items():
        if page not in pages:
            continue
        text, drawn = text_of(page, pages[page]), set()
        if page in ("sheet", "sheet.pdf"):
            check_rows(checks, name, page, words(text), data)
        if page == "sheet.pdf":
            pictures = set(words_of_pictures(path, len(data["rods"])))
            drawn = {"rows", *(word for each in pictures for word in words(each))}
            text = SCALE.sub("", " ".join(text.split()))
            own = pictures.union(own, on_paper(said.union(pictures, own), data))
        left = [(before, word) for before, word in Texts(own, known).left(words(text))
                if word not in drawn and not (drawn and word.isdecimal())]
        checks.check(not left, f"{name}: {page} says nothing that is not in sheet.json",
                     "\n".join(f"{before} <{word}>" for before, word in left[:8]))
