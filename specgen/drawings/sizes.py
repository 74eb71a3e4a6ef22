"""How large things are where no definition says it: faces by form factor, in millimetres.

A face is given lying: its long side, its short side, and how far it reaches into the system.
"""

import re
from collections.abc import Mapping
from typing import Final

from specgen.assembly import Place
from specgen.fitness.form_sizes import FORMS, Face
from specgen.model import Fixture, HasEthernet, expand

# Source: EIA/ECA-310-E: panels of 482.6 mm, units of 44.45 mm, 450 mm clear between the posts.
RACK_WIDTH: Final = 482.6
RACK_UNIT: Final = 44.45
RACK_OPENING: Final = 450.0
BODY: Final = 434.0  # of a chassis between slides. common practice, no source
HOLES: Final = (6.35, 22.225, 38.1)  # of each unit, from its lower edge. Source: EIA/ECA-310-E

# Source: PCI Express Card Electromechanical Specification: brackets, card heights and lengths.
BRACKETS: Final[Mapping[str, float]] = {"low": 79.2, "full": 120.02}
BRACKET: Final = 18.42
LENGTHS: Final[Mapping[str, float]] = {"half": 167.65, "three-quarter": 254, "full": 312}
KINDS: Final[Mapping[str, Face]] = {
    "processor": Face(80, 78, 80),  # with its socket's frame. from memory
    "memory-module": Face(133.35, 6, 133.35),  # Source: JEDEC MO-329, DDR5 modules
    "cache-protection": Face(90, 30, 30),  # common practice, no source
    "tpm": Face(15, 12, 12),  # common practice, no source
    "storage-controller": Face(36, 36, 36),  # a chip on the board. common practice, no source
    "management-controller": Face(30, 30, 30),  # the same
    "network-adapter": Face(30, 30, 30),  # the same
    "riser": Face(120.02, 2 * BRACKET, 167.65),
    "backplane": Face(400, 26.1, 147),
    "drive": Face(101.6, 26.1, 147),
    "accelerator": Face(120.02, BRACKET, 267),
}
OTHER: Final = Face(20, 10, 20)
FAN_DEPTH: Final = {40: 56.0, 60: 38.0, 80: 38.0}  # common practice, no source
DIMM_PITCH: Final = 7.62  # common practice, no source

# Openings of connectors. Source: IEC 60603-7 (RJ45), SFF-8433 and SFF-8663 (cages).
PORTS: Final[Mapping[str, tuple[float, float]]] = {
    "rj45": (15.9, 13.4),
    "sfp+": (14, 9),
    "sfp28": (14, 9),
    "sfp56": (14, 9),
    "sfp112": (14, 9),
    "qsfp28": (18.7, 9),
    "qsfp56": (18.7, 9),
    "qsfp112": (18.7, 9),
    "qsfp-dd": (18.7, 9),
    "qsfp-dd800": (18.7, 9),
    "osfp": (22.9, 13.3),
}
INLETS: Final[Mapping[str, tuple[float, float]]] = {  # Source: IEC 60320-1, standard sheets
    "C14": (27, 19.8),
    "C20": (30, 23),
}
# Faces of what is built in, by a word of what it is. USB: USB 2.0 and 3.2; the rest from memory.
FIXTURES: Final = (
    ("button", Face(7, 7, 12)),
    ("indicator", Face(5, 5, 8)),
    ("USB", Face(13.1, 5.7, 16)),
    ("VGA", Face(30.8, 12.5, 16)),
    ("DisplayPort", Face(8.3, 5.4, 14)),
    ("RJ45", Face(15.9, 13.4, 22)),
    ("label", Face(18, 5, 30)),
    ("terminal", Face(11, 8, 12)),
)
PORT_GAP: Final = 2.0


def fan_side(form: str) -> float:
    """The side of a fan in millimetres, which its form names: `fan-60`."""
    match = re.search(r"[0-9]{2,3}", form)
    return float(match[0]) if match else 60.0


def face_of(place: Place) -> Face:
    """The size of what a position takes, from what it says of itself."""
    position = place.position
    kinds = position.takes
    part = place.part
    if part is not None and part.size is not None:
        sides = sorted((part.size.width, part.size.height))
        short, long, depth = (float(side.in_unit("mm")) for side in (*sides, part.size.depth))
        return Face(long, short, depth)
    if "fan" in kinds:
        side = fan_side(position.form[0] if position.form else "")
        return Face(side, side, FAN_DEPTH.get(int(side), 38.0))
    if position.height is not None:
        depth = LENGTHS[position.length or "half"]
        return Face(BRACKETS[position.height], BRACKET, depth)
    for form in position.form:
        if form in FORMS:
            return FORMS[form]
    if isinstance(part, HasEthernet) and part.ethernet:
        sizes = port_sizes(part)
        return Face(sum(wide + PORT_GAP for wide, _high in sizes) + PORT_GAP, 15, 22)
    if "power-supply" in kinds:
        return FORMS["m-crps-60"]
    return next((KINDS[kind] for kind in kinds if kind in KINDS), OTHER)


def port_sizes(part: HasEthernet) -> list[tuple[float, float]]:
    """The openings of an adapter's ports, in the order of its ports."""
    return [PORTS[port.connector] for port in part.ethernet for _name in expand(port.name)]


def face_of_fixture(fixture: Fixture) -> Face:
    """The size of something built in, by what it is said to be."""
    return next((face for word, face in FIXTURES if word in fixture.what), OTHER)
