"""Whether a part goes into its position: kind, socket, form, height, interface and the like.

Each trait is a field that a position may ask for and a part has under the same name. A position
without the field does not care, and neither does one whose part does not state it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Code, Finding, Label, codes
from specgen.facts import Facts
from specgen.model import HEIGHTS, LENGTHS, Cable, Part, Processor, Transceiver, condensed

ALTERNATIVES = 2


@dataclass(frozen=True, slots=True)
class Trait:
    """One field to compare: `suits(wanted, has)` of the position's value and the part's.

    `wording` is filled with `has` and `wants`, and ends a sentence that begins with the part.
    """

    field: str
    code: Code
    suits: Callable[[Any, Any], bool]
    wording: str


def _equal(wants: Any, has: Any) -> bool:
    return bool(wants == has)


def _one_of(wants: Sequence[str], has: Any) -> bool:
    return has in wants


def _shares(wants: Sequence[str], has: Sequence[str]) -> bool:
    return not set(wants).isdisjoint(has)


def _at_most(wants: int, has: int) -> bool:
    return has <= wants


def _within(order: Sequence[str]) -> Callable[[Any, Any], bool]:
    def suits(wants: Any, has: Any) -> bool:
        return has not in order or order.index(has) <= order.index(wants)

    return suits


TRAITS: Final[tuple[Trait, ...]] = (
    Trait("socket", codes.WRONG_SOCKET, _equal, "is made for socket {has}, not for {wants}"),
    Trait("form", codes.WRONG_CONNECTOR, _one_of, "has the form {has}; what goes in is {wants}"),
    Trait("key", codes.WRONG_KEY, _shares, "is keyed {has}, and the position {wants}"),
    Trait("interface", codes.WRONG_INTERFACE, _one_of, "speaks {has}, and the position {wants}"),
    Trait(
        "height", codes.TOO_TALL, _within(HEIGHTS), "is {has} height, and there is room for {wants}"
    ),
    Trait(
        "length", codes.TOO_LONG, _within(LENGTHS), "is {has} length, and there is room for {wants}"
    ),
    Trait(
        "connector",
        codes.WRONG_CONNECTOR,
        _at_most,
        "has an edge of {has}, and the connector is {wants}",
    ),
    Trait("swap", codes.WRONG_SWAP, _equal, "is {has}-swap, and the position {wants}-swap"),
)

# A trait of some kind of part that has a code of its own.
_OWN_CODES: Final = {(Transceiver.kind, "form"): codes.TRANSCEIVER_MISMATCH}


def misfits(place: Place, part: Part) -> tuple[Trait, ...]:
    """The traits in which a part does not suit a position, in the order of `TRAITS`."""
    position = place.position
    found = []
    for trait in TRAITS:
        wants = getattr(position, trait.field)
        if wants is None or wants == ():
            continue
        has = getattr(part, trait.field, None)
        if has is not None and has != () and not trait.suits(wants, has):
            found.append(trait)
    return tuple(found)


def takes(place: Place, part: Part) -> bool:
    """Whether a position takes parts of this kind; what only closes it may be its own blank.

    A position that takes a kind nobody knows is told where it is declared.
    """
    if part.kind in place.position.takes or (part.closes and part.id == place.position.blank):
        return True
    return place.open_to_all


def suits(place: Place, part: Part) -> bool:
    """Whether a part goes into a position in every respect."""
    return takes(place, part) and not misfits(place, part)


def listed(assembly: Assembly, part: Part) -> bool:
    """Whether the platform lists a part; it need not where it lists none of its kind."""
    lists = assembly.platform.lists
    if not lists or part.id in lists:
        return True
    known = assembly.definitions.parts
    return not any(name in known and known[name].kind == part.kind for name in lists)


def alternatives(assembly: Assembly, place: Place, part: Part) -> tuple[str, ...]:
    """A few parts of the same kind that would go in, by id; those the build uses come first.

    None for what is plugged into a port: whether the port can drive it is another question.
    """
    if isinstance(part, Transceiver | Cable):
        return ()
    used = {other.id for _, other in assembly.everything()}
    found = [
        other.id
        for other in assembly.definitions.parts.values()
        if other.kind == part.kind
        and other.id != part.id
        and other.life.status != "withdrawn"
        and suits(place, other)
        and listed(assembly, other)
        and _within_power(place, other)
    ]
    return tuple(sorted(found, key=lambda name: (name not in used, name))[:ALTERNATIVES])


def _within_power(place: Place, part: Part) -> bool:
    position = place.position
    if isinstance(part, Processor) and position.tdp is not None and part.tdp > position.tdp:
        return False
    drawn = part.power.maximum if part.power is not None else None
    return drawn is None or position.power is None or drawn <= position.power


def fit(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG301 to SG309, SG364: each part that does not go into the position it was given."""
    groups: dict[object, list[tuple[Place, Part]]] = {}
    for place in assembly.places.values():
        part = place.part or place.closed_by
        usable = place.state in (State.FILLED, State.EMPTY)
        if part is None or not usable or place.how == "blank" or replaces(place):
            continue
        if not suits(place, part) or (place.how == "build" and not listed(assembly, part)):
            failing = tuple(_words(trait, place, part) for trait in misfits(place, part))
            key = (place.at, takes(place, part), failing)
            groups.setdefault(key, []).append((place, part))
    for group in groups.values():
        place, part = group[0]
        where = condensed(tuple(each.name for each, _ in group))
        if not takes(place, part):
            yield _wrong_kind(place, part, where)
        elif failing_traits := misfits(place, part):
            yield _misfit(assembly, place, part, failing_traits, where)
        else:
            yield _not_listed(assembly, place, part, where)


def replaces(place: Place) -> bool:
    """Whether the build puts another part where one is soldered in."""
    part, fixed = place.part or place.closed_by, place.position.fixed
    return part is not None and fixed is not None and place.how == "build" and part.id != fixed


def soldered(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG365: parts that a build puts where the platform, or a part, has one soldered in."""
    groups: dict[tuple[object, str, str], list[Place]] = {}
    for place in assembly.places.values():
        part = place.part or place.closed_by
        usable = place.state in (State.FILLED, State.EMPTY)
        if part is not None and usable and replaces(place):
            groups.setdefault((place.at, part.id, place.position.fixed or ""), []).append(place)
    for (_, part_id, fixed), places in groups.items():
        place = places[0]
        where = condensed(tuple(each.name for each in places))
        yield Finding(
            codes.SOLDERED_REPLACED,
            f"`{part_id}` cannot be fitted in {where}: `{fixed}` is soldered in",
            Label(place.at, "cannot be exchanged"),
            labels=(Label(place.origin.at(*place.path, "fixed"), "soldered in here"),),
            help=f"delete the line; `{fixed}` is there without it",
        )


def _wrong_kind(place: Place, part: Part, where: str) -> Finding:
    kinds = " or ".join(place.position.takes)
    return Finding(
        codes.WRONG_KIND,
        f"`{part.id}` is of kind {part.kind}, and {where} takes {kinds}",
        Label(place.at, f"a {part.title.lower()}"),
        labels=(Label(place.origin.at(*place.path, "takes"), f"takes {kinds}"),),
    )


def _misfit(
    assembly: Assembly, place: Place, part: Part, failing: tuple[Trait, ...], where: str
) -> Finding:
    first = failing[0]
    words = [_words(trait, place, part) for trait in failing]
    others = alternatives(assembly, place, part)
    help_ = " or ".join(f"`{name}`" for name in others)
    return Finding(
        _OWN_CODES.get((part.kind, first.field), first.code),
        f"`{part.id}` does not go into {where}: it {words[0]}",
        Label(place.at, words[0]),
        labels=(
            Label(part.origin.at(first.field), "the part"),
            Label(place.origin.at(*place.path, first.field), "the position"),
        ),
        notes=tuple(f"it also {word}" for word in words[1:]),
        help=f"{help_} would go in" if help_ else "",
    )


def _words(trait: Trait, place: Place, part: Part) -> str:
    has, wants = getattr(part, trait.field), getattr(place.position, trait.field)
    return trait.wording.format(has=_value(has), wants=_value(wants))


def _value(value: object) -> str:
    if isinstance(value, int):
        return f"x{value}"
    if isinstance(value, tuple):
        return " or ".join(str(each) for each in value)
    return str(value)


def _not_listed(assembly: Assembly, place: Place, part: Part, where: str) -> Finding:
    platform = assembly.platform
    others = alternatives(assembly, place, part)
    return Finding(
        codes.NOT_LISTED,
        f"`{part.id}` in {where} is not among the parts that {platform.name} lists",
        Label(place.at, "not listed"),
        labels=(Label(platform.origin.at("lists"), "the list"),),
        help=" or ".join(f"`{name}`" for name in others) + " is listed" if others else "",
    )
