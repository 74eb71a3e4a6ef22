"""Supplies: alike, enough of them at this line voltage, also once some have failed."""

from collections.abc import Iterator
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts, Value
from specgen.facts.calculators.subjects import SUBSYSTEM_NAMES
from specgen.facts.terms import worded
from specgen.fitness import Refusal, alternatives, field_of, within
from specgen.fitness.part_fields import kinds_with, output_at
from specgen.fitness.table import LINE_VOLTAGE
from specgen.messages import AsWritten, Within, Words, listed, say, say_many
from specgen.model import Conditions, Part
from specgen.quantity import Power
from specgen.rules.constraints import Alike, Chain, Covered, Enough, Lack, Shortage, one_by_one
from specgen.rules.places import (
    condition_at,
    is_settled,
    names,
    places_for,
    settled,
    unsettled_kinds,
)


def unrated(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG355: supplies that are not rated at the line voltage, those of one model once."""
    surroundings = within(assembly)
    found: dict[str, Finding] = {}
    for place, supply in settled(assembly, "outputs"):
        refusal = LINE_VOLTAGE.refusal(place, supply, surroundings)
        if refusal is not None and supply.id not in found:
            found[supply.id] = _unrated(assembly, place, refusal)
    if assembly.build is not None:
        yield from found.values()


def _unrated(assembly: Assembly, place: Place, refusal: Refusal) -> Finding:
    supply = refusal.part
    ranges = listed(
        say(
            "{least} to {most} {supplied}",
            least=AsWritten(each.from_),
            most=AsWritten(each.to),
            supplied=each.supplied.upper(),
        )
        for each in refusal.has
    )
    own, stated = condition_at(assembly, "line"), assembly.conditions_at["line"]
    return Finding(
        refusal.code,
        say("`{part}` {words}", part=supply.id, words=refusal.words),
        Label(own or place.at, say("rated for {ranges}", ranges=ranges)),
        labels=(
            Label(supply.origin.at("outputs"), ranges),
            Label(stated, say("the line")) if own is None else Label(place.at, say("the supply")),
        ),
    )


def _unclear(assembly: Assembly) -> bool:
    """Whether some supply is named that has no place, or that cannot work in it."""
    surroundings = within(assembly)
    lost = unsettled_kinds(assembly) & kinds_with(assembly.definitions, "outputs")
    return bool(lost) or any(
        not is_settled(assembly, place) or LINE_VOLTAGE.refusal(place, part, surroundings)
        for place, part in assembly.fitted(Part)
        if field_of(part, "outputs") is not None
    )


def _wanted(assembly: Assembly) -> dict[str, int]:
    """How many supplies the redundancy speaks of: 2 for 1+1, 3 for 2+1, 1 for none."""
    redundancy = assembly.conditions.redundancy
    if redundancy is None or redundancy.text == "none":
        return {"": 1}
    return {"": sum(int(piece) for piece in redundancy.text.split("+"))}


def _missing(assembly: Assembly, lack: Lack) -> Iterator[Finding]:
    build, redundancy = assembly.build, assembly.conditions.redundancy
    wanted, fitted = lack.standing, [place for place, _, _ in lack.offered]
    places = places_for(assembly, "outputs")
    if not fitted and wanted <= sum(1 for place in places if place.position.must):
        return  # told where a position must not stay empty
    own = condition_at(assembly, "redundancy")
    labels = []
    if own is None and "redundancy" in assembly.conditions_at:
        labels.append(Label(assembly.conditions_at["redundancy"], say("the redundancy wanted")))
    elif own is not None and fitted:
        labels.append(Label(fitted[0].at, say("{count} fitted", count=len(fitted))))
    if fitted:
        at = own or fitted[0].at
    else:
        assert build is not None
        at = build.origin.key("fit")
    what = say("no power supply is fitted")
    if fitted:
        what = say_many(
            len(fitted), "{number} power supply fitted", "{number} power supplies fitted"
        )
    if fitted and wanted > 1:
        what = say(
            "{fitted}, and redundancy {redundancy} means {wanted}",
            fitted=what,
            redundancy=str(redundancy),
            wanted=wanted,
        )
    yield Finding(
        codes.SUPPLY_MISSING,
        what,
        Label(at, say("{wanted} needed, {count} fitted", wanted=wanted, count=len(fitted))),
        labels=tuple(labels),
        help=say_many(
            len(places),
            "{places} takes power supplies",
            "{places} take power supplies",
            places=names(places),
        ),
    )


def _overload(assembly: Assembly, facts: Facts, shortage: Shortage) -> Finding:
    place, supply = shortage.members[0]
    fitted, carrying, each = len(shortage.members), shortage.carrying, AsWritten(shortage.each)
    code, at = codes.SUPPLY_OVERLOADED, Label(place.at)
    if shortage.spare:
        own = condition_at(assembly, "redundancy")
        code = codes.REDUNDANCY_LOST
        at = Label(
            own or place.at,
            say("{carrying} of {fitted} must be enough", carrying=carrying, fitted=fitted),
        )
    total, left = AsWritten(shortage.total), AsWritten(shortage.left)
    left_over = max(fitted - _spare(assembly.conditions), 1)
    larger = sorted(
        (output.amount, other.id)
        for other in alternatives(place, supply, within(assembly))
        if (output := _output(other, assembly.conditions)) is not None
        and output * left_over >= shortage.total  # also when those that may fail have failed
    )
    return Finding(
        code,
        say_many(
            carrying,
            "the DC load is up to {total}, and one power supply gives {left}",
            "the DC load is up to {total}, and {number} power supplies give {left}",
            total=total,
            left=left,
        ),
        at,
        labels=(Label(supply.origin.at("outputs"), say("each gives {each}", each=each)),),
        notes=(
            say("load: {in_terms} = {total}", in_terms=_in_terms(facts), total=total),
            say("{count} x {each} = {left}", count=carrying, each=each, left=left),
        ),
        help=say("`{larger}` carries it", larger=larger[0][1]) if larger else "",
    )


def _in_terms(facts: Facts) -> Words:
    """What the supplies carry, greatest first: `processors 410 W + cooling 96 W`."""
    terms: list[tuple[Words, Value]] = [
        (Within(worded(SUBSYSTEM_NAMES, fact.subject)), fact.value)
        for fact in facts.of_all("power.{subsystem}.maximum")
    ]
    terms.append((say("loss"), facts.value("power.board_loss")))
    known = [(what, power) for what, power in terms if isinstance(power, Power) and power.amount]
    known.sort(key=lambda term: (-term[1].amount, str(term[0])))
    parts = (say("{what} {power}", what=what, power=AsWritten(power)) for what, power in known)
    return listed(parts, "plus")


def _output(part: Part, conditions: Conditions) -> Power | None:
    outputs = field_of(part, "outputs")
    return None if outputs is None else output_at(outputs, conditions.supply_line)


def _spare(conditions: Conditions) -> int:
    return 0 if conditions.redundancy is None else conditions.redundancy.spare


SUPPLIES: Final = Chain(
    (
        Enough(
            code=codes.SUPPLY_MISSING,
            statement=say("power supplies needed for the redundancy: {count} or more"),
            taken=lambda _place, _part: (),
            offered=lambda _place, part: [("", 1)] if field_of(part, "outputs") else (),
            standing=_wanted,
            places="outputs",
            findings=one_by_one(_missing),
        ),
        Alike(
            code=codes.SUPPLY_MIXED,
            statement=say("power supplies are of one model"),
            among="outputs",
            trait="id",
            group=lambda _place, _part: "",
            message=say("`{part}` in {place} beside `{other}` in {other_place}"),
            at=say("another power supply"),
            other_label=say("the first"),
            help=say("use one model throughout"),
        ),
        Covered(
            code=codes.REDUNDANCY_LOST,
            statement=say(
                "power supplies carry the load, also when the redundant ones have failed"
            ),
            fact="power.load",
            offered=_output,
            spare=_spare,
            finding=_overload,
        ),
    ),
    _unclear,
)
