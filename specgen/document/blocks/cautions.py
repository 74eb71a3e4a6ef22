"""The usual cautions, each where the machine gives cause for it.

Wording is ours; where a limit is published the source is named. All defer to local codes.
"""

from collections.abc import Callable, Iterator

from specgen.document.blocks.cells import phrase
from specgen.document.case import Case
from specgen.document.tree import Block, Caution, Paragraph, paragraph
from specgen.model import (
    Accelerator,
    EnergyPack,
    Fan,
    HeatSink,
    PowerSupply,
    Processor,
    Transceiver,
)


def _caution(subject: str, *sentences: str) -> Caution:
    blocks: tuple[Block, ...] = tuple(paragraph(sentence) for sentence in sentences)
    return Caution(subject, blocks)


def _mains(case: Case) -> Caution | None:
    supplies = list(case.assembly.fitted(PowerSupply))
    if not supplies:
        return None
    more = (
        " This machine has more than one supply cord: disconnect every one before service."
        if len(supplies) > 1
        else ""
    )
    return _caution(
        "mains power",
        "Dangerous voltage inside the supplies. Connect to an earthed outlet on a circuit sized "
        "for the load." + more,
        "Installation and work on mains circuits belong to licensed persons, under the codes that "
        "hold at the place.",
    )


def _lifting(case: Case) -> Caution | None:
    if not case.facts.value("mechanics.lifting"):
        return None
    reached = "The machine weighs about {mechanics.mass} and exceeds {mechanics.lifting}."
    return Caution(
        "lifting",
        (
            Paragraph(phrase(case.facts, reached)),
            paragraph(
                "Lift with two persons or a lifting tool, take heavy parts out first, and load a "
                "rack from the bottom."
            ),
        ),
    )


def _lasers(case: Case) -> Caution | None:
    if not any(part.medium == "fibre" for _, part in case.assembly.fitted(Transceiver)):
        return None
    return _caution(
        "laser light",
        "Optical modules send invisible laser light. Do not look into a port or a fibre's end, "
        "and close ports that are not in use. The laser class stands with each module.",
    )


def _batteries(case: Case) -> Caution | None:
    chemistries = {part.chemistry or "" for _, part in case.assembly.fitted(EnergyPack)}
    if not any("lithium" in chemistry.lower() for chemistry in chemistries):
        return None
    return _caution(
        "batteries",
        "The energy pack holds lithium cells: do not open, short, heat or burn it. Replace it with "
        "the same part only, and dispose of it as local rules for batteries say.",
    )


def _moving(case: Case) -> Caution | None:
    if not any(True for _ in case.assembly.fitted(Fan)):
        return None
    return _caution(
        "moving parts",
        "Fans start without warning and run on for some seconds after power is off. Keep fingers, "
        "hair and cords away from them while the cover is open.",
    )


def _hot(case: Case) -> Caution | None:
    kinds = (Processor, HeatSink, Accelerator)
    if not any(True for kind in kinds for _ in case.assembly.fitted(kind)):
        return None
    return _caution(
        "hot parts",
        "Heat sinks, processors, accelerators and drives can burn the skin during work and for "
        "some minutes after. Let them cool before touching them.",
    )


def _estimates(_: Case) -> Caution:
    return _caution(
        "what the figures are",
        "Figures are estimates computed from declared data under the conditions stated. They are "
        "no measurement of a single machine and no promise for another set of parts.",
    )


CAUTIONS: tuple[Callable[[Case], Caution | None], ...] = (
    _mains,
    _lifting,
    _moving,
    _hot,
    _lasers,
    _batteries,
    _estimates,
)


def cautions(case: Case) -> tuple[Block, ...]:
    """Every caution the machine gives cause for."""
    return tuple(_all(case))


def _all(case: Case) -> Iterator[Block]:
    for make in CAUTIONS:
        made = make(case)
        if made is not None:
            yield made
