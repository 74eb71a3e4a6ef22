"""Renders the pictures of the demo from its own definitions: no photo of any real server.

    .venv/bin/python .dev/demo_pictures.py      writes into builds/pictures/

Every position with an outline is a box, seen in perspective with the cover off. Prints where each
position lies in the picture, in shares of it, for callouts.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, radians, sin, sqrt
from pathlib import Path
from typing import Final

from PIL import Image, ImageDraw

from specgen.drawings import inside
from specgen.drawings.shapes import Rect
from specgen.pipeline import case_of, read

BUILDS: Final = Path(__file__).resolve().parent.parent / "builds"
BUILD: Final = "lantern-office"
Vector = tuple[float, float, float]
Colour = tuple[int, int, int]
FINER: Final = 3
"""Drawn so many times as large, so that edges are smooth."""
LIGHT: Final[Vector] = (-0.35, -0.45, 0.82)
HIGH: Final = 40.0
"""Of the chassis, mm."""
LOOKS: Final[tuple[tuple[str, float, Colour], ...]] = (
    ("BAY", 15, (58, 64, 72)),
    ("FAN", 38, (46, 50, 56)),
    ("CPU", 26, (176, 182, 188)),
    ("DIMM", 31, (40, 92, 78)),
    ("PSU", 39, (150, 156, 162)),
    ("SLOT", 22, (70, 108, 92)),
    ("OCP", 16, (78, 112, 120)),
    ("BOOT", 28, (60, 98, 110)),
    ("HUB", 8, (52, 56, 62)),
    ("LAN", 14, (168, 172, 176)),
    ("BMC", 14, (168, 172, 176)),
    ("TPM", 8, (120, 84, 60)),
    ("PACK", 18, (96, 100, 106)),
)
"""What stands on a position: how high in mm, and its colour."""
UNDER: Final = {"tray": 0, "board": 1}
"""What lies under everything else, the lowest first."""


@dataclass(frozen=True)
class Box:
    name: str
    x: float
    y: float
    z: float
    size: Vector
    colour: Colour

    @property
    def middle(self) -> Vector:
        wide, deep, high = self.size
        return self.x + wide / 2, self.y + deep / 2, self.z + high


@dataclass(frozen=True)
class Camera:
    """Looks at a point of the server from a side and a height, in degrees, so far away in mm."""

    at: Vector
    around: float
    above: float
    away: float
    zoom: float

    def seen(self, point: Vector) -> tuple[float, float, float]:
        """Right, down and depth of a point, in shares of the picture's breadth from its middle."""
        turn, tilt = radians(self.around), radians(self.above)
        x, y, z = (a - b for a, b in zip(point, self.at, strict=True))
        right = x * cos(turn) + y * sin(turn)
        back = -x * sin(turn) + y * cos(turn)
        up = z * cos(tilt) + back * sin(tilt)
        depth = self.away + back * cos(tilt) - z * sin(tilt)
        return self.zoom * right / depth, -self.zoom * up / depth, depth


def boxes() -> tuple[list[Box], float, float]:
    """What stands in the chassis, and how long and how broad that is, in mm."""
    definitions = read(BUILDS).definitions
    assert definitions is not None
    case = case_of(definitions, definitions.builds[BUILD])
    assert case is not None
    bare = inside(case.assembly).bare
    assert bare is not None
    depth = case.platform.size.depth.in_unit("mm")
    scale = bare.width / float(depth)
    made = []
    for each in bare.shapes:
        if isinstance(each, Rect) and ":" in each.hint:
            name, _, what = each.hint.partition(":")
            if "empty" in what and not name.startswith(("BAY", "DIMM")):
                continue
            look = next(((h, c) for start, h, c in LOOKS if name.startswith(start)), None)
            if look is None:
                continue
            high, colour = look
            if name.startswith("DIMM") and "empty" in what:
                high, colour = 8, (34, 38, 44)
            size = (each.width / scale, each.height / scale, float(high))
            # from the left as seen from the front, which is away from who looks here
            at = (each.x / scale, (bare.height - each.y) / scale - size[1])
            made.append(Box(name, *at, 2.0, size, colour))
            if name.startswith("CPU"):
                made += _fins(name, at, size)
    return made, float(depth), bare.height / scale


def _fins(name: str, at: tuple[float, float], size: Vector) -> Iterator[Box]:
    for number in range(13):
        y = at[1] + 2 + number * (size[1] - 5) / 12.5
        yield Box(f"{name} fin", at[0], y, 20, (size[0], 2.2, 14), (198, 203, 208))


def chassis(long: float, broad: float) -> list[Box]:
    """The tray and its walls."""
    steel = (126, 132, 138)
    return [
        Box("tray", 0, 0, -2, (long, broad, 2), (104, 110, 116)),
        Box("board", 150, 24, 0, (long - 160, broad - 40, 2), (38, 66, 60)),
        Box("wall", 0, -3, -2, (long, 3, HIGH + 2), steel),
        Box("wall", 0, broad, -2, (long, 3, HIGH + 2), steel),
        Box("wall", long, 0, -2, (3, broad, HIGH * 0.35), steel),
    ]


def faces(box: Box) -> Iterator[tuple[Vector, list[Vector]]]:
    """The five faces that can be seen, each with the way that it looks."""
    x, y, z = box.x, box.y, box.z
    a, b, c = x + box.size[0], y + box.size[1], z + box.size[2]
    yield (0, -1, 0), [(x, y, z), (a, y, z), (a, y, c), (x, y, c)]
    yield (0, 1, 0), [(x, b, z), (a, b, z), (a, b, c), (x, b, c)]
    yield (-1, 0, 0), [(x, y, z), (x, b, z), (x, b, c), (x, y, c)]
    yield (1, 0, 0), [(a, y, z), (a, b, z), (a, b, c), (a, y, c)]
    yield (0, 0, 1), [(x, y, c), (a, y, c), (a, b, c), (x, b, c)]


def shaded(colour: Colour, way: Vector) -> Colour:
    length = sqrt(sum(each * each for each in LIGHT))
    light = sum(a * b for a, b in zip(way, LIGHT, strict=True)) / length
    part = 0.52 + 0.48 * max(0.0, light)
    return tuple(min(255, round(each * part)) for each in colour)  # type: ignore[return-value]


def rendered(camera: Camera, size: tuple[int, int], ground: tuple[Colour, Colour]) -> Image.Image:
    """The scene on a ground that runs from one colour to the other."""
    wide, high = size[0] * FINER, size[1] * FINER
    made = Image.new("RGB", (1, high))
    for row in range(high):
        part = row / high
        tone = tuple(round(a + (b - a) * part) for a, b in zip(*ground, strict=True))
        made.putpixel((0, row), tone)
    made = made.resize((wide, high))
    pen = ImageDraw.Draw(made)
    parts, long, broad = boxes()

    def place(point: Vector) -> tuple[float, float]:
        right, down, _ = camera.seen(point)
        return wide * (0.5 + right), high / 2 + wide * down

    everything = [*chassis(long, broad), *parts]
    order = sorted(everything, key=lambda box: -camera.seen(box.middle)[2])
    order.sort(key=lambda box: UNDER.get(box.name, len(UNDER)))
    for box in order:
        drawn = sorted(faces(box), key=lambda face: -_depth(camera, face[1]))
        for way, corners in drawn:
            tone = shaded(box.colour, way)
            edge = tuple(max(0, each - 26) for each in tone)
            pen.polygon([place(each) for each in corners], fill=tone, outline=edge, width=2)
    for box in parts:
        if not box.name.endswith("fin"):
            x, y = place(box.middle)
            print(f"  {box.name:8} {100 * x / wide:.1f}% {100 * y / high:.1f}%")
    return made.resize(size, Image.Resampling.LANCZOS)


def _depth(camera: Camera, corners: Sequence[Vector]) -> float:
    return sum(camera.seen(each)[2] for each in corners) / len(corners)


PAPER: Final = ((236, 233, 226), (214, 210, 202))
NIGHT: Final = ((38, 35, 31), (22, 20, 17))
WHOLE: Final = Camera((356, 240, 10), 0, 48, 1250, 1.45)
REAR: Final = Camera((590, 240, 10), 58, 36, 720, 1.0)


def main() -> None:
    folder = BUILDS / "pictures"
    folder.mkdir(exist_ok=True)
    for name, camera, ground in (
        ("lantern-inside.jpg", WHOLE, PAPER),
        ("lantern-inside-dark.jpg", WHOLE, NIGHT),
        ("lantern-rear.webp", REAR, PAPER),
    ):
        print(name)
        picture = rendered(camera, (1600, 900), ground)
        more = {"quality": 82, "optimize": True} if name.endswith("jpg") else {"quality": 80}
        picture.save(folder / name, **more)


if __name__ == "__main__":
    main()
