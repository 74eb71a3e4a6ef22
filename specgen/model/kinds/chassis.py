"""Risers, cables and what the chassis carries."""

from collections.abc import Mapping
from typing import Annotated, ClassVar

from specgen.model.fields import (
    Lanes,
    Positive,
    Text,
    YesNo,
    record,
)
from specgen.model.labels import FORM, Called
from specgen.model.part import Part
from specgen.model.position import Protocol
from specgen.model.traits import Carries, ClosesPosition, Connects
from specgen.quantity import (
    Length,
    Mass,
)


@record
class Riser(Carries):
    kind: ClassVar[str] = "riser"
    title: ClassVar[str] = "Riser"
    plural: ClassVar[str] = "Risers"
    subsystem: ClassVar[str] = "board"
    boxed: ClassVar[bool] = True
    counted: ClassVar[bool] = True


@record
class Cable(Connects):
    """A cable in a connector's position; its far end is named by the build (`to`)."""

    kind: ClassVar[str] = "cable"
    title: ClassVar[str] = "Cable"
    plural: ClassVar[str] = "Cables"

    form: Annotated[Text, Called("Connector")]
    far_form: Annotated[Text, Called("Connector of the far end")]
    lanes: Annotated[Lanes, Called("Lanes used", "number of lanes used")]
    carries: Annotated[Mapping[Protocol, Positive], Called("Carries")]
    length: Length | None = None


@record
class Bezel(Part):
    kind: ClassVar[str] = "bezel"
    title: ClassVar[str] = "Bezel"
    plural: ClassVar[str] = "Bezels"
    choose_by: ClassVar[tuple[str, ...]] = ("lockable",)

    lockable: YesNo = False


@record
class RailKit(Part):
    kind: ClassVar[str] = "rail-kit"
    title: ClassVar[str] = "Rail kit"
    plural: ClassVar[str] = "Rail kits"
    outside: ClassVar[bool] = True
    choose_by: ClassVar[tuple[str, ...]] = ("adjusts_from", "adjusts_to", "load_rating")

    adjusts_from: Annotated[Length | None, Called("Adjusts from", "least rail distance")] = None
    adjusts_to: Annotated[Length | None, Called("Adjusts to", "greatest rail distance")] = None
    """Least and greatest distance between the rack's front and rear rails that it spans."""
    load_rating: Annotated[Mass | None, Called("Load rating")] = None
    """The heaviest load it carries: the system with everything in it."""


@record
class CableArm(Part):
    kind: ClassVar[str] = "cable-arm"
    title: ClassVar[str] = "Cable arm"
    plural: ClassVar[str] = "Cable arms"
    outside: ClassVar[bool] = True
    choose_by: ClassVar[tuple[str, ...]] = ("adds_depth",)

    adds_depth: Length | None = None


@record
class Blank(ClosesPosition):
    """Closes a position that is left empty, so that air goes where it should."""

    kind: ClassVar[str] = "blank"
    title: ClassVar[str] = "Blank"
    plural: ClassVar[str] = "Blanks"

    form: Annotated[Text, FORM]


@record
class Tpm(Part):
    kind: ClassVar[str] = "tpm"
    title: ClassVar[str] = "TPM"
    plural: ClassVar[str] = "TPMs"
    subsystem: ClassVar[str] = "board"
    choose_by: ClassVar[tuple[str, ...]] = ("specification",)
    counted: ClassVar[bool] = True

    form: Annotated[Text, FORM]
    specification: Text | None = None
