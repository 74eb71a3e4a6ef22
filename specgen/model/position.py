"""Positions, the links that reach them, and what parts bring and need."""

from collections.abc import Mapping
from dataclasses import field
from typing import Annotated, Literal

from specgen.model.fields import (
    Count,
    KindName,
    Lanes,
    Many,
    NameRange,
    Positive,
    Ref,
    Split,
    Text,
    YesNo,
    record,
)
from specgen.model.labels import FORM, Called
from specgen.quantity import Length as Distance
from specgen.quantity import Power

Protocol = Literal["pcie", "sas", "sata", "usb"]
Interface = Literal["nvme", "sas", "sata"]
CardHeight = Literal["low", "full"]
CardLength = Literal["half", "three-quarter", "full"]
Swap = Literal["hot", "cold"]
Area = Literal["front", "rear", "inside"]

HEIGHTS: tuple[CardHeight, ...] = ("low", "full")
LENGTHS: tuple[CardLength, ...] = ("half", "three-quarter", "full")

# What each drive interface can travel on, in order of preference.
# Source for SATA on SAS: SAS-3 (INCITS 519), STP tunnelling; the reverse does not exist.
CARRIERS: Mapping[Interface, tuple[Protocol, ...]] = {
    "nvme": ("pcie",),
    "sas": ("sas",),
    "sata": ("sata", "sas"),
}


@record
class Lead:
    """Lanes wired to a place: from which port, lead or position, how many, how fast at most.

    `from` names what feeds it: `CPU1.P2` is port P2 of what sits in CPU1; a name that starts with
    a dot, `.A`, belongs to the position where the part that brings this lead is fitted.
    """

    from_: Text
    lanes: Lanes
    generation: Positive | None = None
    form: Annotated[Text | None, FORM] = None


@record
class Need:
    """Something that must be present once a part is fitted or a position filled.

    One of: positions filled, so many parts of a kind or of named parts, an amount of a resource.
    """

    position: NameRange | None = None
    kind: KindName | None = None
    part: Many[Ref] = ()
    count: Positive = 1
    resource: Text | None = None
    because: Text | None = None


@record
class Outline:
    """Where a position lies, to scale, and how large it is.

    On the front and the rear `x` runs from the left and `y` from the top, seen by a person who
    stands before that side; inside, `x` runs from the left as seen from the front and `y` from the
    front inwards. Both begin at the outline of the position whose part brings this one, where it
    has one on the same side. A range of positions goes on by `step` to the right, and by `down`
    to the next row after so many `columns`. `depth` is how far it reaches into the system.
    """

    x: Distance
    y: Distance
    width: Distance
    height: Distance
    depth: Distance | None = None
    step: Distance | None = None
    down: Distance | None = None
    columns: Positive | None = None


@record
class Position:
    """A place that takes one part, named as printed on the board; a range stands for several.

    The fields from `socket` to `key` say what a part must match; `of` names the position without
    whose part this one is unusable; `neighbour` the one that a double-wide part covers too;
    `offset` raises the numbers of the positions that a part fitted here brings.
    """

    name: NameRange
    takes: Annotated[Many[KindName], Called("Accepts")]
    area: Area = "inside"
    outline: Outline | None = None
    # what a part must match
    socket: Text | None = None
    form: Annotated[Many[Text], FORM] = ()
    height: CardHeight | None = None
    length: CardLength | None = None
    connector: Lanes | None = None
    interface: Many[Interface] = ()
    swap: Swap | None = None
    key: Many[Text] = ()
    # what it offers at most
    tdp: Power | None = None
    power: Power | None = None
    # the link
    from_: Text | None = None
    lanes: Lanes | None = None
    generation: Positive | None = None
    leads: Mapping[Text, Lead] = field(default_factory=dict)
    # relations to other positions
    of: Text | None = None
    cools: Text | None = None
    neighbour: Text | None = None
    channel: Text | None = None
    offset: Count = 0
    # what fills it without being asked, and what must
    fixed: Ref | None = None
    blank: Ref | None = None
    must: YesNo = False
    needs: tuple[Need, ...] = ()
    note: Text | None = None


@record
class Port:
    """Lanes that a part owns and gives out: a root port, a controller's or a switch's port.

    `behind` names what feeds a switch's or an expander's port: `.J0`, or `.` for its own position.
    `carries` maps each protocol to its generation (pcie 5, sas 4, sata 3). `splits` lists how the
    lanes may be divided; undivided is always allowed. `swap` limits the drives it can serve.
    """

    name: NameRange
    lanes: Lanes
    carries: Mapping[Protocol, Positive]
    splits: Many[Split] = ()
    form: Annotated[Text | None, FORM] = None
    behind: Text | None = None
    swap: Many[Swap] = ()
    drives: Positive | None = None


@record
class PowerConnector:
    """Auxiliary power connectors on a board or a part: named as printed there, of one kind.

    `resource` is that of which cards say how many they need. A cable from here reaches the
    positions in `reaches`, or any where none is named.
    """

    name: Text
    resource: Text
    count: Positive = 1
    reaches: Many[NameRange] = ()


@record
class Brings:
    """What a part adds to the system when it is fitted."""

    positions: tuple[Position, ...] = ()
    ports: tuple[Port, ...] = ()
    resources: Mapping[Text, Positive] = field(default_factory=dict)
    connectors: tuple[PowerConnector, ...] = ()

    @property
    def offered(self) -> Mapping[str, int]:
        """How much of each resource, that of connectors among it."""
        return offered(self.resources, self.connectors)


def offered(
    resources: Mapping[Text, Positive], connectors: tuple[PowerConnector, ...]
) -> Mapping[str, int]:
    """How much of each resource there is, wherever it can be used."""
    found = dict(resources)
    for each in connectors:
        found[each.resource] = found.get(each.resource, 0) + each.count
    return found


NOTHING = Brings()
