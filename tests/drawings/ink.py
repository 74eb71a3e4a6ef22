"""Where a picture has ink: a PNG of eight bits a channel, read without a library."""

import struct
import zlib


def ink_ends_at(png: bytes) -> int:
    """The column of the last pixel that is not white."""
    width, channels, rows = _rows(png)
    last = 0
    for row in rows:
        for column in range(width - 1, last, -1):
            if row[column * channels : column * channels + 3] != b"\xff\xff\xff":
                last = column
                break
    return last


def _rows(png: bytes) -> tuple[int, int, list[bytes]]:
    width, height, depth, colour = struct.unpack(">IIBB", png[16:26])
    assert depth == 8
    channels = {2: 3, 6: 4}[colour]
    packed, at = b"", 8
    while at < len(png):
        size, name = struct.unpack(">I4s", png[at : at + 8])
        if name == b"IDAT":
            packed += png[at + 8 : at + 8 + size]
        at += size + 12
    data = zlib.decompress(packed)
    long = width * channels
    rows, above = [], bytes(long)
    for number in range(height):
        start = number * (long + 1)
        above = _unfiltered(data[start], data[start + 1 : start + 1 + long], above, channels)
        rows.append(above)
    return width, channels, rows


def _unfiltered(sort: int, line: bytes, above: bytes, step: int) -> bytes:
    """Source: PNG, third edition, 9.2, filter types 0 to 4."""
    made = bytearray(line)
    for at, value in enumerate(line):
        left = made[at - step] if at >= step else 0
        up, corner = above[at], above[at - step] if at >= step else 0
        guess = left + up - corner
        near = min((left, up, corner), key=lambda each: abs(guess - each))
        made[at] = (value + (0, left, up, (left + up) // 2, near)[sort]) % 256
    return bytes(made)
