"""Values that no data sheet of a part states and that facts still need: declared, with a source.

A fact whose assumption a project does not declare has no value; nothing is guessed in code.
"""

from typing import Annotated, Generic, TypeVar

from specgen.model.fields import Text, record
from specgen.model.labels import Called
from specgen.model.pedigree import Source
from specgen.quantity import DataRate, Duration, Length, Ratio

T = TypeVar("T")


@record
class Assumed(Generic[T]):
    """A value taken for granted, where it comes from and why it is reasonable."""

    value: T
    source: Source
    because: Text | None = None


@record
class Assumptions:
    """What a project takes for granted. A new assumption is a field here."""

    year: Assumed[Duration] | None = None
    """Hours of a year of work without a pause."""
    rebuild_rate: Assumed[DataRate] | None = None
    """Rate at which a failed drive is written again while the volume serves its readers."""
    replacement_time: Assumed[Duration] | None = None
    """From a failure to the start of the rebuild."""
    read_share: Assumed[Ratio] | None = None
    """Share of reads in a load of small operations at random."""
    endurance_span: Assumed[Duration] | None = None
    """Span over which drives with unequal warranties are compared."""
    supply_sharing_error: Annotated[Assumed[Ratio] | None, Called("Power supply sharing error")] = (
        None
    )
    """By how much a power supply can be loaded beyond its equal share."""
    board_loss: Assumed[Ratio] | None = None
    """Lost between the supplies' output and the parts, as a share of the parts' load."""
    curve_allowance: Assumed[Ratio] | None = None
    """Points of efficiency taken off a curve that is read at another line voltage than its own."""
    cable_space: Assumed[Length] | None = None
    """Room behind the system for cables that are plugged in."""


NOTHING_ASSUMED = Assumptions()
