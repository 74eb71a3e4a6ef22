"""Sound power: that declared for the system, and an estimate from what its parts declare."""

from collections import Counter
from decimal import Decimal
from functools import partial
from typing import Any

from specgen.assembly import Assembly
from specgen.facts.calculators.allowances import measured_field
from specgen.facts.fact import Basis, Declared, PartId, Trail
from specgen.facts.inputs import Inspected, labelled, leaf
from specgen.facts.registry import Calculators
from specgen.messages import Message, Words, listed, say
from specgen.model import Drive, Measured, MovesAir, Part, PowerSupply
from specgen.model.labels import label_of_field
from specgen.quantity import SoundPower

fact = Calculators()

INCOHERENT = say("L = 10 lg(sum of 10^(Li / 10)), sources that know nothing of each other")
UNSTATED = say("edition not stated")
NoiseDeclaration = tuple[SoundPower, str | None, SoundPower | None]
"""Level, edition it was declared by, and what leads from the mean to the upper limit."""


def energetic_sum(levels: tuple[SoundPower, ...]) -> SoundPower | None:
    """The level of several sources at once, in bels; None for none.

    Formula: L = lg(sum of 10^Li), levels in bels (1 B = 10 dB). Worked out above the greatest,
    L = Lm + lg(sum of 10^(Li - Lm)), so that no level is too great for it.
    """
    if len(levels) < 2:
        return levels[0].to("B") if levels else None
    alike = Counter(level.amount for level in levels)
    most = max(alike)
    terms = (count * Decimal(10) ** (bels - most) for bels, count in sorted(alike.items()))
    total = sum(terms, Decimal(0))
    return SoundPower.of(most + total.log10(), "B")


def _declared(assembly: Assembly, _: str) -> tuple[tuple[NoiseDeclaration, ...], Trail]:
    found, trail = [], []
    for place, part in assembly.fitted(Part):
        if part.noise is None:
            continue
        found.append((part.noise, part.noise_edition, part.noise_adder))
        trail.append(leaf(place, part, ("noise",), part.noise))
        for field in ("noise_edition", "noise_adder"):
            value = getattr(part, field)
            if value is not None:
                trail.append(leaf(place, part, (field,), value))
    return tuple(found), tuple(trail) if found else _silent(assembly)[1]


def _silent(assembly: Assembly) -> tuple[tuple[PartId, ...], Trail]:
    """Parts that make noise of themselves and declare none, by id."""
    names: dict[str, None] = {}
    trail = []
    for place, part in assembly.fitted(Part):
        turns = isinstance(part, MovesAir | PowerSupply)
        turns = turns or (isinstance(part, Drive) and part.medium == "hdd")
        if turns and part.noise is None:
            names[part.id] = None
            at = partial(part.origin.place, "noise")
            trail.append(Declared(labelled(part, ("noise",)), None, at, part.source, place.name))
    return tuple(map(PartId, names)), tuple(trail)


def _of_system(field: str) -> Inspected:
    """What is declared for the system as a whole."""

    def look(assembly: Assembly, _: str) -> tuple[Any, Trail]:
        at = measured_field(assembly, field)
        return at.value, (at,)

    return Inspected(look)


def _declared_edition(assembly: Assembly, _: str) -> tuple[Words | None, Trail]:
    level, edition = (measured_field(assembly, each) for each in ("noise", "noise_edition"))
    found: Words | None = None
    if level.value is not None:
        found = UNSTATED if edition.value is None else str(edition.value)
    return found, (edition,)


fact.stated(
    "noise.declared",
    say("Declared sound power"),
    _of_system("noise"),
    holds=SoundPower,
)


@fact(
    "noise.declared_edition",
    label_of_field(Measured, "noise_edition"),
    short=say("Declared by"),
    formula=say("as declared"),
    basis=Basis.DECLARED,
    declared=Inspected(_declared_edition),
)
def declared_edition(declared: Words) -> Words:
    return declared


@fact(
    "noise.declared_upper",
    say("Declared upper limit of the sound power"),
    short=say("Declared, upper limit"),
    formula=say("LWA,c = LWA,m + Kv"),
    source="ISO 9296:2017",
    level=_of_system("noise"),
    adder=_of_system("noise_adder"),
)
def declared_upper(level: SoundPower, adder: SoundPower) -> SoundPower:
    return SoundPower.of(level.amount + adder.amount, "B")


@fact(
    "noise.sound_power",
    say("Sound power, estimated from parts"),
    noun="estimated sound power",
    short=say("Estimated"),
    formula=say("{sum}; levels of one edition of the standard only", sum=INCOHERENT),
    source="ISO 9296, declared A-weighted sound power level; 1 B = 10 dB",
    basis=Basis.ESTIMATED,
    assumes=say("each part is as loud as it was declared, all at once; the casing changes nothing"),
    declared=Inspected(_declared),
)
def sound_power(declared: tuple[NoiseDeclaration, ...]) -> SoundPower | None:
    """Bels; None where editions differ, since a mean and a statistical maximum do not add."""
    if len({edition for _, edition, _ in declared}) > 1:
        return None
    return energetic_sum(tuple(level for level, _, _ in declared))


def _comparable(assembly: Assembly, _: str) -> tuple[tuple[SoundPower, ...], Trail]:
    """Levels that parts declare by the edition of the system's own; none where it has none."""
    level, edition = (measured_field(assembly, each) for each in ("noise", "noise_edition"))
    if level.value is None:
        return (), (level,)
    found, trail = [], []
    for place, part in assembly.fitted(Part):
        if part.noise is not None and part.noise_edition == edition.value:
            found.append(part.noise)
            trail.append(leaf(place, part, ("noise",), part.noise))
    return tuple(found), tuple(trail)


@fact(
    "noise.loudest",
    say("Sound power of the loudest part"),
    short=say("Loudest part"),
    formula=say("max. over parts that declare it by the same edition as the system"),
    source="ISO 9296: levels of one edition of the standard only",
    levels=Inspected(_comparable),
)
def loudest(levels: tuple[SoundPower, ...]) -> SoundPower | None:
    """Bels; only where the system's own is declared, which it is held against."""
    return max(levels, default=None)


@fact(
    "noise.edition",
    say("Sound power of the parts declared by"),
    short=say("Parts declared by"),
    formula=say(
        "the editions that parts name: LWAd in that of 1988, the mean LWA,m in that of 2017"
    ),
    source="ISO 9296:1988, ISO 9296:2017",
    declared=Inspected(_declared),
)
def edition(declared: tuple[NoiseDeclaration, ...]) -> tuple[Words, ...] | None:
    if not declared:
        return None
    return tuple(sorted({edition or UNSTATED for _, edition, _ in declared}, key=str))


@fact(
    "noise.mixed",
    say("Sound power of the parts not added"),
    formula=say("the editions, where parts declare by more than one"),
    source="ISO 9296:1988, ISO 9296:2017",
    editions="noise.edition",
)
def mixed(editions: tuple[Words, ...]) -> Message | None:
    if len(editions) < 2:
        return None
    return say(
        "parts declare by different editions ({editions}), whose levels are different quantities",
        editions=listed(editions),
    )


@fact(
    "noise.upper_limit",
    say("Upper limit of the sound power, estimated from parts"),
    noun="estimated upper limit of the sound power",
    short=say("Estimated, upper limit"),
    formula=say("{sum}, of LWA,c = LWA,m + Kv of each part", sum=INCOHERENT),
    source="ISO 9296:2017",
    basis=Basis.ESTIMATED,
    declared=Inspected(_declared),
)
def upper_limit(declared: tuple[NoiseDeclaration, ...]) -> SoundPower | None:
    """Bels; only where every part is declared by the edition of 2017 with its Kv."""
    uppers = [
        SoundPower.of(level.amount + adder.amount, "B")
        for level, edition, adder in declared
        if edition == "ISO 9296:2017" and adder is not None
    ]
    return energetic_sum(tuple(uppers)) if len(uppers) == len(declared) else None


@fact.seen(
    "noise.silent",
    say("Without a declared sound power"),
    formula=say("fans, power supplies and HDDs that declare none, which the sum leaves out"),
)
def silent(assembly: Assembly, _: str) -> tuple[tuple[PartId, ...], Trail]:
    """By id."""
    return _silent(assembly)
