"""How large things of a standard form factor are, in millimetres.

A face is given lying: its long side, its short side, and how far it reaches into the system.
"""

from collections.abc import Mapping
from typing import Final, NamedTuple


class Face(NamedTuple):
    """Long side, short side and depth in millimetres."""

    long: float
    short: float
    depth: float


FORMS: Final[Mapping[str, Face]] = {
    "2.5-inch": Face(69.85, 15, 100.45),  # Source: SFF-8201
    "3.5-inch": Face(101.6, 26.1, 147),  # Source: SFF-8301
    "e3.s": Face(76, 7.5, 112.75),  # Source: SFF-TA-1008
    "e3.s-2t": Face(76, 16.8, 112.75),  # Source: SFF-TA-1008
    "m.2-2280": Face(80, 22, 80),  # Source: PCI Express M.2 Specification
    "m-crps-60": Face(60, 40, 185),  # Source: OCP M-CRPS base specification
    "m-crps-73.5": Face(73.5, 40, 185),  # Source: OCP M-CRPS base specification
    "flex-short": Face(81.5, 40.5, 150),  # from memory
    "ocp-nic-3.0-sff": Face(76, 14, 115),  # Source: OCP NIC 3.0, small form factor
    "boot-card": Face(110, 14, 60),  # common practice, no source
    "spi-tpm": Face(15, 12, 12),  # common practice, no source
}
