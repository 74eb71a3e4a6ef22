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
    """How many are wired."""
    generation: Positive | None = None
    """Highest PCIe generation that the wiring stands; without it, that of both ends."""
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

    The fields from `socket` to `key` say what a part must match.
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
    """Mechanical width of a slot; what is wired stands under `lanes`."""
    interface: Many[Interface] = ()
    swap: Swap | None = None
    key: Many[Text] = ()
    # what it offers at most
    tdp: Power | None = None
    """The greatest TDP of a processor here."""
    power: Power | None = None
    """The most that a card here may draw, auxiliary cables counted in if there are any."""
    # the link
    from_: Text | None = None
    """The port, lead or connector that its lanes come from: `CPU1.P2`, `EDGE 1`, `.J0`."""
    lanes: Lanes | None = None
    """Lanes wired to it, each of the positions of a range."""
    generation: Positive | None = None
    leads: Mapping[Text, Lead] = field(default_factory=dict)
    # relations to other positions
    of: Text | None = None
    """The position without whose part this one cannot be used, such as its processor."""
    cools: Text | None = None
    """The position whose part a heat sink here cools."""
    neighbour: Text | None = None
    """The position that a part two slots wide covers as well."""
    channel: Text | None = None
    """Name of the memory channel of a slot; slots of one name share it. Without it
    each slot has a channel of its own. A channel of LPDDR has 16 data bits."""
    offset: Count = 0
    """Added to the numbers of the positions that a part here brings."""
    over: Many[Text] = ()
    """What is reached only once the part here is out: positions, kinds of part, covers, or all that
    lies on a side: `front`."""
    tool: Many[Ref] = ()
    """The tools that it takes to remove the part, by their names under `tools` of specgen.yaml."""
    # what fills it without being asked, and what must
    fixed: Ref | None = None
    """The part that is soldered or built in here."""
    blank: Ref | None = None
    """What closes it while it is empty."""
    must: YesNo = False
    """Whether it has to be filled."""
    needs: tuple[Need, ...] = ()
    note: Text | None = None


@record
class Port:
    """Lanes that a part owns and gives out: a root port, a controller's or a switch's port."""

    name: NameRange
    lanes: Lanes
    """All that the port has, to share out."""
    carries: Mapping[Protocol, Positive]
    """Highest generation of each protocol: `{pcie: 5}`, `{sas: 4, sata: 3}`. A SAS port runs
    SATA drives without saying so."""
    splits: Many[Split] = ()
    """How its lanes may be divided, `[8+8, 4+4+4+4]`; undivided is always possible."""
    form: Annotated[Text | None, FORM] = None
    behind: Text | None = None
    """What feeds the port of a switch or an expander: `.J0`, or `.` for the lanes of its own
    position. The feeding link runs no faster than the fastest of these ports."""
    swap: Many[Swap] = ()
    """Kinds of drives that it serves: those that can be replaced at work (`hot`), with the
    power off (`cold`), or both."""
    drives: Positive | None = None
    """Most drives behind it."""


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
