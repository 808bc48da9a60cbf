"""Pages as pixels: what of a page is dark, by pdftoppm."""
import math
import subprocess

DOTS_PER_INCH = 600
MM = 25.4 / DOTS_PER_INCH
DARK = 150           # grey levels below are ink; the pale dashes to cut along are not


class Page:
    """One page as rows of bytes, 1 where there is ink."""

    def __init__(self, path, number):
        command = ["pdftoppm", "-r", DOTS_PER_INCH, "-gray", "-f", number, "-l", number, path]
        picture = subprocess.run(map(str, command), capture_output=True, check=True).stdout
        kind, width, height, most, self.pixels = self.head(picture)
        if (kind, most) != (b"P5", b"255"):
            raise ValueError("pdftoppm wrote something else than a grey picture")
        self.width, self.height = int(width), int(height)
        self.pixels = self.pixels.translate(bytes(1 if level < DARK else 0 for level in range(256)))

    @staticmethod
    def head(picture):
        """Four words, then one blank, then the pixels."""
        words = picture.split(maxsplit=4)[:4]
        at = 0
        for word in words:
            at = picture.index(word, at) + len(word)
        return *words, picture[at + 1:]

    def row(self, y):
        return self.pixels[y * self.width:(y + 1) * self.width]

    def stretches(self, y, least):
        """First pixel and length of the row's stretches of ink of at least so many pixels."""
        row, found, at = self.row(y), [], 0
        while True:
            at = row.find(least, at)
            if at < 0:
                return found
            end = row.find(0, at)
            end = end if end >= 0 else len(row)
            found.append((at, end - at))
            at = end

    def lines(self, shortest):
        """Level lines of at least so many mm, from the top down and from left to right: (upper edge, left, right) in
        mm. What is thicker than a line is none."""
        found, open_lines = [], []
        least = b"\1" * math.ceil(shortest / MM - 1e-9)      # rows without it need no longer look
        for y in range(self.height + 1):
            now = self.stretches(y, least) if y < self.height and least in self.row(y) else []
            going_on = []
            for top, left, length in open_lines:
                same = [each for each in now if each[0] < left + length and left < sum(each)]
                now = [each for each in now if each not in same]
                if same:
                    longest = max(same, key=lambda each: each[1])
                    going_on.append((top, *(longest if longest[1] > length else (left, length))))
                elif (y - top) * MM < 0.5:
                    found.append((top * MM, left * MM, (left + length) * MM))
            open_lines = going_on + [(y, *each) for each in now]
        return sorted(found)

    def ticks(self, y, left, right):
        """Middles and widths in mm of the stretches of ink at y mm between left and right."""
        row = self.row(round(y / MM))[round(left / MM):round(right / MM)]
        ticks, at = [], row.find(1)
        while at >= 0:
            end = row.find(0, at)
            end = end if end >= 0 else len(row)
            ticks.append((left + (at + end) / 2 * MM, (end - at) * MM))
            at = row.find(1, end)
        return ticks
