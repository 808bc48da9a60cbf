"""A picture as pixels, without what is drawn over the threads: light, letters, lines, grooves."""
import math
import os
import pathlib
import re
import struct
import subprocess
import sys
import xml.etree.ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "examples"))
from svg import SVG, points

DOTS_PER_INCH = 300
MM = 25.4 / DOTS_PER_INCH
TUBE = "3a4143"
# How many made files are looked at; who asks for fewer has as small a part of whatever else takes long.
ALL_CASES = 12
CASES = int(os.environ.get("DRAW_CASES", ALL_CASES))


def bare(text):
    text = re.sub(r'<path fill="url\(#cylinder[^)]*\)".*?/>\n', "", text)
    text = re.sub(r'<path fill="none" .*?/>\n', lambda path: path[0] if "stroke" not in path[0] else "", text)
    text = re.sub(r"<text .*?</text>\n", "", text)
    return re.sub(r'(<path fill="#......") stroke="#......" stroke-width="[\d.]+"', r"\1", text)


class Raster:
    """By way of a PDF and a TIFF (revision 6.0, uncompressed), which can be read without a library. box: left, top, right and
    bottom of what is looked at, mm; all of it, if left out."""

    def __init__(self, folder, text, box=None):
        page, picture = pathlib.Path(folder) / "picture.pdf", pathlib.Path(folder) / "picture.tif"
        subprocess.run(["rsvg-convert", "-f", "pdf", "-o", page], input=bare(text).encode(), check=True)
        self.left, self.top, right, bottom = (int(each / MM) for each in box or (0, 0, 0, 0))
        part = ["-x", self.left, "-y", self.top, "-W", right + 1 - self.left, "-H", bottom + 1 - self.top] if box else []
        subprocess.run(["pdftocairo", "-tiff", "-tiffcompression", "none", "-singlefile", "-r", str(DOTS_PER_INCH), *map(str, part), page,
                        picture.with_suffix("")], check=True)
        self.data = picture.read_bytes()
        fields = dict(self.fields(self.data))
        compression, samples = fields[259], fields[277]
        if (fields[258], compression, samples) != ((8, 8, 8), (1,), (3,)):
            raise ValueError("pdftocairo wrote something else than a picture in colour, eight bits each")
        (self.width,), (self.height,), (self.rows_together,) = fields[256], fields[257], fields[278]
        self.starts = fields[273]

    @staticmethod
    def fields(data):
        """(tag, values) of the file's directory."""
        order = {b"II": "<", b"MM": ">"}[data[:2]]
        (at,) = struct.unpack_from(order + "4xI", data)
        (count,) = struct.unpack_from(order + "H", data, at)
        for entry in range(at + 2, at + 2 + 12 * count, 12):
            tag, kind, length = struct.unpack_from(order + "HHI", data, entry)
            letter = {3: "H", 4: "I"}.get(kind)      # whole numbers of 2 and 4 bytes; nothing else is asked for
            if letter:
                form = f"{order}{length}{letter}"
                fits = struct.calcsize(form) <= 4
                yield tag, struct.unpack_from(form, data, entry + 8 if fits else struct.unpack_from(order + "I", data, entry + 8)[0])

    def pixels(self, column, row, count):
        """The bytes of so many pixels of a row of the page."""
        column, row = column - self.left, row - self.top
        if not (0 <= row < self.height and 0 <= column <= self.width - count):
            raise ValueError("outside what was painted")
        start = self.starts[row // self.rows_together] + 3 * (row % self.rows_together * self.width + column)
        return self.data[start:start + 3 * count]

    def at(self, x, y):
        return tuple(self.pixels(int(x / MM), int(y / MM), 1))


class Shown:
    """Where points of the surface lie in a picture with one place: measured back from the outline of its topmost gap, which is
    the field of its crosswrap, or of a band's run."""

    def __init__(self, text, title, side, facing):
        root = xml.etree.ElementTree.fromstring(text)
        groups = [each for each in root.iter(f"{SVG}g") if each.get("class") == "run" and
                  each.find(f"{SVG}title").text.startswith(title)]
        outline = list(points(groups[-1].find(f"{SVG}path").get("d")))
        half = len(outline) // 2
        self.upper, self.lower = self.rising(outline[:half]), self.rising(outline[half:])
        self.left, self.right = self.upper[0][0], self.upper[-1][0]
        self.side, self.facing = side, facing

    def box(self):
        edges = self.upper + self.lower
        return self.left, min(y for _, y in edges), self.right, max(y for _, y in edges)

    @staticmethod
    def rising(edge):
        """Steps, of one x and two heights, keep their order."""
        return edge if edge[0][0] < edge[-1][0] else edge[::-1]

    @staticmethod
    def height(edge, x):
        for (x0, y0), (x1, y1) in zip(edge, edge[1:]):
            if x0 <= x <= x1 and x1 > x0:
                return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
        raise ValueError(f"{x} lies outside")

    def page(self, x, turn):
        """x: of the page; turn: round the blank."""
        upper, lower = self.height(self.upper, x), self.height(self.lower, x)
        off = turn - self.facing
        return (lower + upper) / 2 + (lower - upper) / 2 * (math.sin(2 * math.pi * off) if self.side else 2 * off)
