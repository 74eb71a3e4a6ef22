"""Plugs, outlets, connectors and inlets by their designation: what they carry and mate with.

Designations that stand in no table here are the project's own: nothing is judged of them but that
a connector and an inlet have one name.
"""

import re
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Final

from specgen.diagnostics.slips import slips_of
from specgen.frozen import frozen
from specgen.model import SupplyLine
from specgen.quantity import Current, Voltage

_APPLIANCE: Final = re.compile(r"^(?:IEC[ -]?)?(?:60320[ -]?)?(C[0-9]{1,2})$", re.IGNORECASE)
_NEMA: Final = re.compile(r"^(?:NEMA[ -]?)?(L?[0-9]{1,2}-[0-9]{2})([PR])$", re.IGNORECASE)


@frozen
class Coupler:
    """What goes through: the rated current, and the line voltages that its outlets are fed with.

    All are made for AC. `north_america` is the current of the same pattern there.
    """

    amperes: Decimal
    least_volts: int
    most_volts: int
    source: str
    north_america: Decimal | None = None

    def carries(self, nec: bool) -> Current:
        """The rated current; under the NEC, that of North America."""
        return Current.of(self.north_america if nec and self.north_america else self.amperes)

    def takes(self, line: SupplyLine) -> bool:
        """Whether it is made for a line."""
        volts = line.voltage.in_unit("V")
        return line.supplied == "ac" and self.least_volts <= volts <= self.most_volts


# DMTF Redfish, Circuit 1.8.x, descriptions of PlugType, give IEC 60320 C14 and C20, IEC 60309 and
# NEMA patterns. The rest is from memory: IEC 60320-1, UL 498 and CSA C22.2 No. 60320-1 for North
# America, IEC/TR 60083 for national plugs, of which those of 250 V are fed with 200 V and more.
_DMTF: Final = "DMTF Redfish, Circuit, PlugType"
_IEC_60320: Final = "IEC 60320-1 (from memory)"
_NATIONAL: Final = "IEC/TR 60083 (from memory)"


def _appliance(amperes: str, source: str, north_america: str = "") -> Coupler:
    there = Decimal(north_america) if north_america else None
    return Coupler(Decimal(amperes), 0, 250, source, there)


INLETS: Final[Mapping[str, Coupler]] = {
    "C6": _appliance("2.5", _IEC_60320),
    "C8": _appliance("2.5", _IEC_60320),
    "C14": _appliance("10", f"{_DMTF}; IEC 60320-1", "15"),
    "C16": _appliance("10", _IEC_60320, "15"),
    "C18": _appliance("10", _IEC_60320, "15"),
    "C20": _appliance("16", f"{_DMTF}; IEC 60320-1", "20"),
    "C22": _appliance("16", _IEC_60320, "20"),
}
"""Appliance inlets of IEC 60320; plugs of the same number go into outlets one lower."""
MATES: Final[Mapping[str, tuple[str, ...]]] = {
    "C5": ("C6",),
    "C7": ("C8",),
    "C13": ("C14",),
    "C15": ("C14", "C16"),
    "C17": ("C18",),
    "C19": ("C20",),
    "C21": ("C20", "C22"),
}
"""Connectors of IEC 60320, and the inlets that each mates with."""


def _nema(amperes: int, volts: int) -> Coupler:
    # systems of 120 V with outlets of 125 V, of 208 and 240 V with those of 250 V: NEMA WD 6
    return Coupler(Decimal(amperes), *((100, 127) if volts == 125 else (200, 250)), _DMTF)


def _national(amperes: int) -> Coupler:
    return Coupler(Decimal(amperes), 200, 250, _NATIONAL)


PLUGS: Final[Mapping[str, Coupler]] = {
    **{
        f"NEMA {grip}5-{amperes}": _nema(amperes, 125) for grip in ("", "L") for amperes in (15, 20)
    },
    **{
        f"NEMA {grip}6-{amperes}": _nema(amperes, 250) for grip in ("", "L") for amperes in (15, 20)
    },
    "NEMA 5-30": _nema(30, 125),
    "NEMA L5-30": _nema(30, 125),
    "NEMA 6-30": _nema(30, 250),
    "NEMA L6-30": _nema(30, 250),
    "IEC 60309 316P6": Coupler(Decimal(16), 200, 250, _DMTF),
    "IEC 60309 332P6": Coupler(Decimal(32), 200, 250, _DMTF),
    "IEC 60309 363P6": Coupler(Decimal(63), 200, 250, _DMTF),
    "CEE 7/4": _national(16),
    "CEE 7/5": _national(16),
    "CEE 7/6": _national(16),
    "CEE 7/7": _national(16),
    "BS 1363": _national(13),
    "AS/NZS 3112": _national(10),
    "GB 1002": _national(10),
    "CEI 23-50": _national(16),
    "SEV 1011 T12": _national(10),
    "SEV 1011 T13": _national(10),
    "SEV 1011 T23": _national(16),
    "JIS C 8303": Coupler(Decimal(15), 100, 127, _NATIONAL),
}
"""Plugs, and the outlets of the same pattern."""
_SAME_PATTERN: Final[Mapping[str, tuple[str, ...]]] = {
    "CEE 7/7": ("CEE 7/3", "CEE 7/5"),
    "CEE 7/4": ("CEE 7/3",),
    "CEE 7/6": ("CEE 7/5",),
    "SEV 1011 T12": ("SEV 1011 T13", "SEV 1011 T23"),
    "NEMA 5-15": ("NEMA 5-20",),
    "NEMA 6-15": ("NEMA 6-20",),
}
"""Outlets of another name that a plug goes into."""


def appliance(name: str) -> str:
    """The number of a coupler of IEC 60320, `C14`, however it is written; empty for others."""
    found = _APPLIANCE.fullmatch(name.strip())
    return found[1].upper() if found else ""


def _pattern(name: str) -> tuple[str, str]:
    """A designation in one spelling, and whether NEMA calls it a plug or a receptacle."""
    found = _NEMA.fullmatch(name.strip())
    return (f"NEMA {found[1].upper()}", found[2].upper()) if found else (name.strip(), "")


def inlet_of(name: str) -> Coupler | None:
    """What an inlet carries, None for one of no table."""
    return INLETS.get(appliance(name))


def connector_of(name: str) -> Coupler | None:
    """What a connector carries: as much as the inlet of its own pattern."""
    mates = MATES.get(appliance(name), ())
    return INLETS[mates[-1]] if mates else None


def plug_of(name: str) -> Coupler | None:
    """What a plug carries, None for one of no table."""
    return inlet_of(name) or PLUGS.get(_pattern(name)[0])


def outlet_of(name: str) -> Coupler | None:
    """What an outlet carries, None for one of no table."""
    plain = name.strip()
    same = next((plug for plug, outlets in _SAME_PATTERN.items() if plain in outlets), "")
    return connector_of(name) or PLUGS.get(_pattern(name)[0]) or PLUGS.get(same)


def mate(connector: str, inlet: str) -> bool:
    """Whether a connector goes onto an inlet."""
    male, female = appliance(inlet), appliance(connector)
    if male or female:
        return male in MATES.get(female, ())
    return connector.strip() == inlet.strip()


def plugs_in(plug: str, outlet: str) -> bool:
    """Whether a plug goes into an outlet; what stands in no table is taken to."""
    if appliance(plug) or appliance(outlet):
        return mate(outlet, plug)
    if plug_of(plug) is None or outlet_of(outlet) is None:
        return True
    (one, end), (other, hole) = _pattern(plug), _pattern(outlet)
    alike = one == other or other in _SAME_PATTERN.get(one, ())
    return alike and (end, hole) in (("P", "R"), ("", ""))


@lru_cache(maxsize=256)
def made_for(line: SupplyLine, plug: str) -> bool:
    """Whether a plug or a connector is made for a line; one of no table is taken to be."""
    found = plug_of(plug) or connector_of(plug)
    return found is None or found.takes(line)


def rated_for(line: SupplyLine, voltage: Voltage) -> bool:
    """Whether something of a rated voltage may be connected to a line."""
    return abs(line.voltage.amount) <= voltage.amount


_PATTERN: Final = re.compile(
    r"^(?:(?:IEC[ -]?)?(?:60320[ -]?)?C(?P<iec>[0-9]+)|CEE ?7/(?P<cee>[0-9]+)"
    r"|(?:NEMA[ -]?)?L?[0-9]{1,2}-(?P<nema>[0-9]+)[PR])$",
    re.IGNORECASE,
)
# IEC 60320-1 has C1 to C24; IEC 60884-1 and CEE 7 sheets 1 to 17; NEMA WD 6 patterns of these
# currents. All from memory.
_LAST_OF_IEC: Final = 24
_LAST_OF_CEE: Final = 17
_OF_NEMA: Final = frozenset({15, 20, 30, 50, 60})


def unheard_of(name: str) -> frozenset[str] | None:
    """Names that may have been meant by one that is made like those of a standard, which has none
    such; None for one that it has, and for names of the project's own."""
    plain = name.strip()
    known = frozenset({*PLUGS, *INLETS, *MATES, *(f"{each}P" for each in PLUGS if "NEMA" in each)})
    found = _PATTERN.fullmatch(plain)
    if found is None:
        return known if slips_of(plain, known) else None
    if found["iec"]:
        unheard = int(found["iec"]) > _LAST_OF_IEC
    elif found["cee"]:
        unheard = int(found["cee"]) > _LAST_OF_CEE
    else:
        unheard = int(found["nema"]) not in _OF_NEMA
    return known if unheard else None
