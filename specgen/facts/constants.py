"""Numbers that come from standards, each with its source."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Constant:
    """A figure from a standard: what it is, its value, where it stands."""

    name: str
    value: Decimal
    source: str


@dataclass(frozen=True, slots=True)
class LaneRate:
    """Symbol rate of a lane in bit/s and the share of it that carries data."""

    bits: Decimal
    share: Decimal
    source: str

    @property
    def bytes_per_second(self) -> Decimal:
        """Data rate one way, B/s, before packet overhead."""
        return self.bits * self.share / 8


_G = Decimal(10) ** 9
_EIGHT_TEN = Decimal(8) / 10
_LONG_BLOCK = Decimal(128) / 130

LANE_RATES: Mapping[tuple[str, int], LaneRate] = {
    ("pcie", 1): LaneRate(
        Decimal("2.5") * _G, _EIGHT_TEN, "PCI Express Base 1.0, 2.5 GT/s, 8b/10b"
    ),
    ("pcie", 2): LaneRate(5 * _G, _EIGHT_TEN, "PCI Express Base 2.0, 5 GT/s, 8b/10b"),
    ("pcie", 3): LaneRate(8 * _G, _LONG_BLOCK, "PCI Express Base 3.0, 8 GT/s, 128b/130b"),
    ("pcie", 4): LaneRate(16 * _G, _LONG_BLOCK, "PCI Express Base 4.0, 16 GT/s, 128b/130b"),
    ("pcie", 5): LaneRate(32 * _G, _LONG_BLOCK, "PCI Express Base 5.0, 32 GT/s, 128b/130b"),
    ("pcie", 6): LaneRate(
        64 * _G, Decimal(242) / 256, "PCI Express Base 6.0, 64 GT/s, 242 of 256 bytes of a FLIT"
    ),
    ("sata", 1): LaneRate(Decimal("1.5") * _G, _EIGHT_TEN, "Serial ATA, 1.5 Gbit/s, 8b/10b"),
    ("sata", 2): LaneRate(3 * _G, _EIGHT_TEN, "Serial ATA, 3 Gbit/s, 8b/10b"),
    ("sata", 3): LaneRate(6 * _G, _EIGHT_TEN, "Serial ATA 3.x, 6 Gbit/s, 8b/10b"),
    ("sas", 2): LaneRate(6 * _G, _EIGHT_TEN, "SAS-2, 6 Gbit/s, 8b/10b"),
    ("sas", 3): LaneRate(12 * _G, _EIGHT_TEN, "SAS-3 (INCITS 519), 12 Gbit/s, 8b/10b"),
    ("sas", 4): LaneRate(
        Decimal("22.5") * _G,
        Decimal(128) / 150,
        "SAS-4 (INCITS 534), 22.5 Gbit/s, 128b/150b; the trade name 24G is no rate",
    ),
}

BYTES_PER_TRANSFER = Constant(
    "data bytes per transfer of a memory channel",
    Decimal(8),
    "JESD79-5: 64 data bits a channel; check bits carry no user data",
)
