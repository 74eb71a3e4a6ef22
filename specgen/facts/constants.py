"""Numbers that come from standards, each with its source."""

from collections.abc import Mapping
from decimal import Context, Decimal, Inexact

from specgen.frozen import frozen
from specgen.quantity.units import EXACT


@frozen
class Constant:
    """A value from a standard: what it is, its value, where it stands."""

    name: str
    value: Decimal
    source: str


@frozen
class LaneRate:
    """Symbol rate of a lane in bit/s, and the share of it that carries data as a quotient."""

    bits: Decimal
    share: tuple[int, int]
    source: str

    @property
    def bytes_per_second(self) -> Decimal:
        """Data rate one way, B/s, before packet overhead.

        Exact where that has an end. Else a bit is rounded and not their sum: two lanes of half the
        rate carry as much as one, to the last place.
        """
        data, of = map(Decimal, self.share)
        exact = Context(prec=28, traps=[Inexact])
        try:
            return exact.divide(exact.multiply(self.bits, data), of * 8)
        except Inexact:
            return EXACT.multiply(self.bits, data / (of * 8))


_G = Decimal(10) ** 9
_EIGHT_TEN = (8, 10)
_LONG_BLOCK = (128, 130)

LANE_RATES: Mapping[tuple[str, int], LaneRate] = {
    ("pcie", 1): LaneRate(
        Decimal("2.5") * _G, _EIGHT_TEN, "PCI Express Base 1.0, 2.5 GT/s, 8b/10b"
    ),
    ("pcie", 2): LaneRate(5 * _G, _EIGHT_TEN, "PCI Express Base 2.0, 5 GT/s, 8b/10b"),
    ("pcie", 3): LaneRate(8 * _G, _LONG_BLOCK, "PCI Express Base 3.0, 8 GT/s, 128b/130b"),
    ("pcie", 4): LaneRate(16 * _G, _LONG_BLOCK, "PCI Express Base 4.0, 16 GT/s, 128b/130b"),
    ("pcie", 5): LaneRate(32 * _G, _LONG_BLOCK, "PCI Express Base 5.0, 32 GT/s, 128b/130b"),
    ("pcie", 6): LaneRate(
        64 * _G, (242, 256), "PCI Express Base 6.0, 64 GT/s, 242 of 256 bytes of a FLIT"
    ),
    ("sata", 1): LaneRate(Decimal("1.5") * _G, _EIGHT_TEN, "Serial ATA, 1.5 Gbit/s, 8b/10b"),
    ("sata", 2): LaneRate(3 * _G, _EIGHT_TEN, "Serial ATA, 3 Gbit/s, 8b/10b"),
    ("sata", 3): LaneRate(6 * _G, _EIGHT_TEN, "Serial ATA 3.x, 6 Gbit/s, 8b/10b"),
    ("sas", 2): LaneRate(6 * _G, _EIGHT_TEN, "SAS-2, 6 Gbit/s, 8b/10b"),
    ("sas", 3): LaneRate(12 * _G, _EIGHT_TEN, "SAS-3 (INCITS 519), 12 Gbit/s, 8b/10b"),
    ("sas", 4): LaneRate(
        Decimal("22.5") * _G,
        (128, 150),
        "SAS-4 (INCITS 534), 22.5 Gbit/s, 128b/150b; the trade name 24G is no rate",
    ),
}

CHANNEL_BITS: Mapping[str, int] = {
    "ddr3": 64,
    "ddr4": 64,
    "ddr5": 64,
    "lpddr4": 16,
    "lpddr4x": 16,
    "lpddr5": 16,
    "lpddr5x": 16,
}
"""Data bits of a channel by technology; a project adds others as `memory_technologies`."""
CHANNEL_SOURCE = (
    "JESD79-5: 64 data bits a channel, two of 32 of DDR5; JESD209-5: 16 data bits a channel of "
    "LPDDR5; check bits carry no user data"
)

# Electricity

CONTINUOUS_SHARE = Constant(
    "share of a branch circuit's rating that a load of 3 h or more may use",
    Decimal("0.8"),
    "NEC (NFPA 70), 210.20(A): the rating is 125 % of the continuous load or more",
)

# Air

GAS_CONSTANT_OF_AIR = Constant(
    "specific gas constant of dry air, J/(kg K)", Decimal("287.05287"), "ISO 2533:1975"
)
HEAT_CAPACITY_OF_AIR = Constant(
    "specific heat capacity of dry air at constant pressure, J/(kg K)",
    Decimal(1006),
    "dry air between 15 and 35 degC: 1005.8 to 1006.7 J/(kg K) by the reference equation of state",
)
SEA_LEVEL_PRESSURE = Constant("pressure at sea level, Pa", Decimal(101325), "ISO 2533:1975")
ZERO_CELSIUS = Constant("0 degC in K", Decimal("273.15"), "BIPM, SI Brochure, 9th ed. 2019")


@frozen
class OperatingClass:
    """Air that a class allows at the inlet: dry bulb and dew point in degC, humidity in %."""

    lowest: int
    highest: int
    dew_point: int
    most_humidity: int
    metres_a_degree: int
    recommended_lowest: int = 18
    recommended_highest: int = 27
    least_dew_point: int = -12
    least_humidity: int = 8


# Temperatures and dew points: ASHRAE TC 9.9, Thermal Guidelines for Data Processing Environments,
# 5th ed. 2021, table 2.1; Regulation (EU) 2019/424, annex II, table 6 has the same, and humidity.
# From memory: the derating, in metres for one degree, and that it starts at 900 m (950 m in 2011).
OPERATING_CLASSES: Mapping[str, OperatingClass] = {
    "A1": OperatingClass(15, 32, 17, 80, 300),
    "A2": OperatingClass(10, 35, 21, 80, 300),
    "A3": OperatingClass(5, 40, 24, 85, 175),
    "A4": OperatingClass(5, 45, 24, 90, 125),
}
DERATED_FROM = Constant(
    "altitude from which a class's upper limit falls, m",
    Decimal(900),
    "ASHRAE TC 9.9, 2015 and 2021 editions",
)
HIGHEST_ELEVATION = Constant(
    "highest elevation of classes A1 to A4, m", Decimal(3050), "ASHRAE TC 9.9, 5th ed. 2021"
)

# Mechanics

STANDARD_GRAVITY = Constant(
    "standard acceleration of free fall, m/s2", Decimal("9.80665"), "ISO 80000-3; CGPM 1901"
)
LOAD_CONSTANT = Constant("load constant, kg", Decimal(23), "revised NIOSH lifting equation")
# From memory, all three: reference masses of adults, and what each of several people may lift.
REFERENCE_MASS = Constant("reference mass for men, kg", Decimal(25), "ISO 11228-1:2021")
REFERENCE_MASS_WOMEN = Constant("reference mass for women, kg", Decimal(20), "ISO 11228-1:2021")
TEAM_MULTIPLIER = Constant(
    "share of the reference mass for each of several people who lift together",
    Decimal("0.85"),
    "ISO 11228-1:2021",
)
MOST_LIFTERS = Constant(
    "people who lift one system into a rack together, max.",
    Decimal(3),
    "common practice, no source",
)

# Cages


@frozen
class Cage:
    """Electrical lanes of a connector for transceivers and the most that one carries, Gbit/s."""

    lanes: int
    rate: Decimal
    source: str

    @property
    def total(self) -> Decimal:
        """Gbit/s of all lanes, one way."""
        return self.lanes * self.rate


CAGES: Mapping[str, Cage] = {
    "rj45": Cage(1, Decimal(10), "IEEE 802.3an, 10GBASE-T over an IEC 60603-7 connector"),
    "sfp+": Cage(1, Decimal(10), "SFF-8431"),
    "sfp28": Cage(1, Decimal(25), "SFF-8402"),
    "sfp56": Cage(1, Decimal(50), "SFF-8402, lanes of 50 Gbit/s"),
    "sfp112": Cage(1, Decimal(100), "SFP112 MSA, from memory"),
    "qsfp28": Cage(4, Decimal(25), "SFF-8665, SFF-8636"),
    "qsfp56": Cage(4, Decimal(50), "SFF-8665: 200 Gbit/s a module, not a lane"),
    "qsfp112": Cage(4, Decimal(100), "QSFP112 MSA, from memory"),
    "qsfp-dd": Cage(8, Decimal(50), "QSFP-DD MSA"),
    "qsfp-dd800": Cage(8, Decimal(100), "QSFP-DD MSA, from memory"),
    "osfp": Cage(8, Decimal(100), "OSFP MSA, from memory: 8 x 50 first, 8 x 100 since"),
}
