"""Measures a picture back from its own coordinates: which runs it draws, and where they begin and end."""
import re
import xml.etree.ElementTree

SVG = "{http://www.w3.org/2000/svg}"


COMMANDS = re.compile(r"([MmlhvcVHLz])([^MmlhvcVHLz]*)")
NUMBERS = re.compile(r"-?\d*\.?\d+")
TAKES = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6}


def points(data):
    """The points of path data, of a curve its end: M, m, l, h, v, c and z as the program writes them."""
    x = y = start_x = start_y = 0.0
    for letter, rest in COMMANDS.findall(data):
        if letter == "z":
            x, y = start_x, start_y
            yield x, y
            continue
        numbers = list(map(float, NUMBERS.findall(rest)))
        takes = TAKES.get(letter.lower() if letter == "M" else letter)
        if takes is None or len(numbers) % takes or (letter == "M" and len(numbers) != 2):
            raise ValueError(f"path data with {letter}{rest}")
        for at in range(0, len(numbers), takes):
            step = numbers[at:at + takes]
            if letter == "M":
                x, y = step
            else:
                x += 0 if letter == "v" else step[-2] if takes > 1 else step[0]
                y += 0 if letter == "h" else step[-1]
            if letter in "Mm" and at == 0:
                start_x, start_y = x, y
            yield x, y


class Picture:
    """width, height: mm as the picture says; runs: (title, least x, greatest x) in the order drawn; strands: ids of the
    `strand` lines of crosswraps."""

    def __init__(self, text):
        root = xml.etree.ElementTree.fromstring(text)
        self.width, self.height = (self.millimetres(root.get(name)) for name in ("width", "height"))
        self.box = [float(each) for each in root.get("viewBox").split()]
        self.runs = [self.run(group) for group in root.iter(f"{SVG}g") if group.get("class") == "run"]
        self.ids = [group.get("id") for group in root.iter(f"{SVG}g") if group.get("class") == "run"]
        self.strands = [group.get("id") for group in root.iter(f"{SVG}g") if group.get("class") == "run strands"]
        self.outside = [name for each in root.iter() for name in each.attrib if name.endswith("href")]

    @staticmethod
    def millimetres(text):
        if not text.endswith("mm"):
            raise ValueError(f"{text} is not in mm")
        return float(text[:-2])

    @staticmethod
    def run(group):
        across = [x for path in group.iter(f"{SVG}path") for x, _ in points(path.get("d"))]
        return group.find(f"{SVG}title").text, min(across), max(across)
