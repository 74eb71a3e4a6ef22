"""A build and a list of parts as plain values. Keys of the JSON and of its schema are the names."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Final, Literal

from specgen.diagnostics import Severity
from specgen.facts import Fact
from specgen.facts.fact_data import Bare, FactData, JsonNumber, bare, datum, exact_of

FORM: Final = 1
"""Edition of the forms here; it rises when a reader of the old one would be misled."""

PositionState = Literal["filled", "empty", "unusable", "blocked", "unknown"]


@datum
class StatedValue:
    """A value and its unit, as declared."""

    label: str
    value: Bare
    """Rounded as documents print it."""
    exact: JsonNumber | int | None
    """The number as it was declared, in the same unit; null for words."""
    unit: str | None


@datum
class Location:
    """A line of the definitions."""

    file: str
    """Path from the project folder."""
    line: int


@datum
class EthernetData:
    """A network port of a part."""

    name: str
    gigabits: JsonNumber
    """Line rate in Gbit/s."""
    connector: str
    medium: str
    management: bool
    shared: bool
    """Whether the management controller can be reached through it as well."""


@datum
class OutputData:
    """What a supply gives over a range of supply voltage; DC of either polarity has its sign."""

    supplied: Literal["ac", "dc"]
    from_volts: JsonNumber
    to_volts: JsonNumber
    watts: JsonNumber


@datum
class EfficiencyData:
    """Efficiency of a supply at a share of its greatest output, both from 0 to 1."""

    load: JsonNumber
    efficiency: JsonNumber


@datum
class PartData:
    """A part of the system."""

    id: str
    kind: str
    kind_title: str
    name: str
    number: str | None
    """Order number."""
    maker: str | None
    status: str
    replaced_by: str | None
    kilograms: JsonNumber | None
    document: str
    """The source of its values."""
    values: Mapping[str, StatedValue]
    """What its definition states, by field."""
    interfaces: tuple[str, ...]
    """Interfaces of drives that its ports serve, whatever is attached."""
    ethernet: tuple[EthernetData, ...]
    outputs: tuple[OutputData, ...]
    efficiency: tuple[EfficiencyData, ...]
    at: Location


@datum
class LinkData:
    """The lanes that reach a position."""

    protocol: str
    wired: int
    """Lanes without the part that is fitted."""
    lanes: int
    """Lanes in use."""
    generation: int
    slot_generation: int | None
    """PCIe generation without the part that is fitted; null where none is declared."""
    owner: str | None
    """The port that gives the lanes."""
    broken: str
    """Why there is no link after all; empty where there is one."""


@datum
class PositionData:
    """A place that takes one part."""

    name: str
    takes: tuple[str, ...]
    area: str
    state: PositionState
    part: str | None
    """Id of the part in it, a blank that closes it included."""
    how: Literal["build", "fixed", "blank"]
    """Named by the build, soldered on, or closed by a blank."""
    host: str | None
    """The position whose part brought this one; null where the platform did."""
    of: str | None
    """The position without whose part this one is unusable."""
    form: tuple[str, ...]
    height: str | None
    length: str | None
    connector: int | None
    channel: str | None
    """The memory channel that it is on."""
    swap: str | None
    """Which parts it takes: hot-swap or cold-swap ones; null where it does not say."""
    hot_swap: bool | None
    """Whether its part can be replaced while the system runs: the least of position, part and
    ports; null where neither position nor part says."""
    cable_to: str | None
    served_by: str | None
    """Position of the controller that serves it."""
    link: LinkData | None
    reason: str
    """Why it is unusable or blocked."""
    at: Location


@datum
class VolumeData:
    """Drives joined at a RAID level."""

    name: str
    level: int
    usable_bytes: int | None
    drives: tuple[str, ...]
    spares: tuple[str, ...]


@datum
class PlatformData:
    """The chassis with its board."""

    id: str
    name: str
    family: str
    number: str | None
    rack_units: int
    width_mm: JsonNumber
    height_mm: JsonNumber
    depth_mm: JsonNumber
    kilograms: JsonNumber
    operating_class: str


@datum
class FindingData:
    """What a check found."""

    code: str
    title: str
    severity: Severity
    message: str
    notes: tuple[str, ...]
    help: str
    at: Location


@datum
class BuildData:
    """One configured system: its parts, its positions, every fact with its pedigree."""

    form: Literal[1]
    """Edition of this form."""
    build: str
    name: str
    number: str | None
    revision: str
    date: str | None
    summary: str
    sound: bool
    """Whether nothing stands against the values: no finding is an error."""
    publisher: str
    edition: str | None
    platform: PlatformData
    conditions: Mapping[str, StatedValue]
    """What the values hold for."""
    asked: tuple[str, ...]
    """Those of them that were asked for instead of written, as `NAME=VALUE`."""
    facts: tuple[FactData, ...]
    parts: tuple[PartData, ...]
    positions: tuple[PositionData, ...]
    volumes: tuple[VolumeData, ...]
    findings: tuple[FindingData, ...]
    seal: str
    """Who vouches for the file; empty where it is not sealed."""


@datum
class OrderedBuild:
    """How many of a build."""

    build: str
    name: str
    count: int


@datum
class UseData:
    """Where a build uses a part."""

    build: str
    each: int
    """How many in one system."""
    positions: tuple[str, ...]
    shown: str
    """The positions as documents print them: `FAN 1 to 8`."""


@datum
class LineData:
    """One line of a parts list."""

    quantity: int
    number: str | None
    """Order number."""
    id: str
    name: str
    kind: str
    status: str
    replaced_by: str | None
    kilograms_each: JsonNumber | None
    kilograms: JsonNumber | None
    """Mass of all of them, as it was worked out."""
    shown: str
    """The mass of all of them as documents print it; empty where it is not declared."""
    details: Mapping[str, StatedValue]
    """What its kind wants said of it here, by field."""
    uses: tuple[UseData, ...]


@datum
class PartsList:
    """What to order for one build or several, each so many times."""

    form: Literal[1]
    """Edition of this form."""
    builds: tuple[OrderedBuild, ...]
    lines: tuple[LineData, ...]
    kilograms: JsonNumber
    """Mass of everything whose mass is declared, what is soldered on included."""
    shown: str
    """The same as documents print it."""
    kilograms_soldered: JsonNumber
    """Mass of what is soldered on, which no line lists."""
    without_mass: int
    """Lines whose mass is not declared."""


def stated(fact: Fact) -> StatedValue:
    """A declared fact by its label."""
    value, unit = bare(fact.value)
    exact = exact_of(fact.value)
    return StatedValue(label=str(fact.label), value=value, exact=exact, unit=unit)


def total(masses: tuple[Decimal | None, ...]) -> Decimal:
    """The sum of what is known."""
    return sum((mass for mass in masses if mass is not None), Decimal(0))
