"""Measures a picture back from its own coordinates: which runs it draws, and where they begin and end."""
import re
import xml.etree.ElementTree

SVG = "{http://www.w3.org/2000/svg}"


def points(data):
    """The points of path data as the program writes it: M, then l, h and v steps, perhaps z."""
    x = y = 0.0
    for letter, rest in re.findall(r"([MlhvVHLz])([^MlhvVHLz]*)", data):
        numbers = [float(each) for each in re.findall(r"-?\d*\.?\d+", rest)]
        if letter == "M":
            x, y = numbers
        elif letter == "l":
            x, y = x + numbers[0], y + numbers[1]
        elif letter == "h":
            x += numbers[0]
        elif letter == "v":
            y += numbers[0]
        elif letter != "z":
            raise ValueError(f"path data with {letter}")
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
