"""Pictures of pixels, read without a library: PNG (W3C, third edition), eight bits a channel, not interlaced."""
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


def paeth(left, above, corner):
    guess = left + above - corner
    off = abs(guess - left), abs(guess - above), abs(guess - corner)
    return left if off[0] <= off[1] and off[0] <= off[2] else above if off[1] <= off[2] else corner


def unfiltered(kind, row, above, step):
    """A row of bytes from the differences that stand for it, by the filter of that kind."""
    row = bytearray(row)
    if kind == 2:
        return bytearray((one + other) & 255 for one, other in zip(row, above))
    for i, value in enumerate(row if kind else ()):
        left, corner = (row[i - step], above[i - step]) if i >= step else (0, 0)
        guess = left if kind == 1 else (left + above[i]) // 2 if kind == 3 else paeth(left, above[i], corner)
        row[i] = (value + guess) & 255
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
