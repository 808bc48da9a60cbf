"""Pictures of pixels, read without a library: PNG (W3C, third edition), eight bits a channel, not interlaced."""
import itertools
import struct
import zlib

SIGNATURE = b"\x89PNG\r\n\x1a\n"


def chunks(data):
    """(kind, content) of each, its checksum held."""
    if data[:8] != SIGNATURE:
        raise ValueError("no PNG")
    at = 8
    while at < len(data):
        length, kind = struct.unpack_from(">I4s", data, at)
        content = data[at + 8:at + 8 + length]
        (sum_,) = struct.unpack_from(">I", data, at + 8 + length)
        if sum_ != zlib.crc32(kind + content):
            raise ValueError(f"the checksum of {kind} is wrong")
        yield kind, content
        at += 12 + length


def by_left(row, _):
    return (each & 255 for each in itertools.accumulate(row))


def by_above(row, above):
    return ((one + other) & 255 for one, other in zip(row, above))


def by_mean(row, above):
    left = 0
    for value, over in zip(row, above):
        left = (value + (left + over) // 2) & 255
        yield left


def by_nearest(row, above):
    """Paeth's: of left, above and the corner between them what is nearest to left + above - corner."""
    left = corner = 0
    for value, over in zip(row, above):
        off_left, off_above, off_corner = abs(over - corner), abs(left - corner), abs(left + over - 2 * corner)
        near = left if off_left <= off_above and off_left <= off_corner else over if off_above <= off_corner else corner
        left, corner = (value + near) & 255, over
        yield left


FILTERS = {1: by_left, 2: by_above, 3: by_mean, 4: by_nearest}


def unfiltered(kind, row, above, step):
    """A row of bytes from the differences that stand for it, by the filter of that kind, channel by channel."""
    row = bytearray(row)
    for channel in range(step if kind else 0):
        own = slice(channel, None, step)
        row[own] = bytes(FILTERS[kind](row[own], above[own]))
    return row


class Pixels:
    """Rows of bytes, red, green and blue by turns; what is transparent lies on white."""

    def __init__(self, data):
        self.kinds = [kind for kind, _ in chunks(data)]
        parts = list(chunks(data))
        self.width, self.height, depth, colour, *rest = struct.unpack(">IIBBBBB", dict(parts)[b"IHDR"])
        if depth != 8 or colour not in (2, 6) or rest != [0, 0, 0]:
            raise ValueError("another kind of PNG than is read here")
        step = 3 if colour == 2 else 4
        packed = zlib.decompress(b"".join(content for kind, content in parts if kind == b"IDAT"))
        length = self.width * step
        if len(packed) != self.height * (length + 1):
            raise ValueError("too many or too few pixels")
        self.rows, above = [], bytearray(length)
        for start in range(0, len(packed), length + 1):
            above = unfiltered(packed[start], packed[start + 1:start + 1 + length], above, step)
            self.rows.append(bytes(above) if step == 3 else self.on_white(above))

    @staticmethod
    def on_white(row):
        plain = bytearray(len(row) // 4 * 3)
        opacity = row[3::4]
        for channel in range(3):
            plain[channel::3] = bytes(value if part == 255 else (value * part + 255 * (255 - part) + 127) // 255
                                      for value, part in zip(row[channel::4], opacity))
        return bytes(plain)

    def at(self, x, y):
        return tuple(self.rows[y][3 * x:3 * x + 3])
