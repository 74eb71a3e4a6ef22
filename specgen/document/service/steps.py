"""The steps of service work on a sort of positions, as they follow from the definitions."""

from collections.abc import Callable, Iterable, Mapping
from typing import Final

from specgen.document.case import Case
from specgen.document.service.sorts import Sort, Work
from specgen.document.shared_texts import ANY, CautionText, ServiceText, Texts
from specgen.document.tree import Cell, Hyperlink, Strong, Text, words
from specgen.facts.calculators.mechanics import lifting, lifting_persons
from specgen.frozen import frozen
from specgen.messages import Message, Words, say
from specgen.model import CacheProtection, Connects, Cover, Part, places
from specgen.model.procedure import Who

MOVING: Final = "moving-parts"
CAUSES: Final[Mapping[str, Callable[[Part], bool]]] = {
    "laser-light": lambda part: getattr(part, "medium", None) == "fibre",
    "batteries": lambda part: (
        isinstance(part, CacheProtection) and "capacitor" not in (part.chemistry or "")
    ),
}
"""Cautions that only some parts of a kind give cause for."""


@frozen
class Procedure:
    """Work on a sort: who, whether the server runs, what to beware of, and the steps.

    `removal` ends when the part is out, `installation` when the server is as it was.
    """

    sort: Sort
    who: Who
    running: bool
    static: bool
    cautions: tuple[CautionText, ...]
    heavy: tuple[Words, ...]
    removal: tuple[Cell, ...]
    installation: tuple[Cell, ...]
    checks: tuple[Cell, ...]


def procedure_of(case: Case, texts: Texts, work: Work, sort: Sort) -> Procedure:
    """The work on a sort, as its parts, their positions and what lies over them ask for."""
    own = tuple(texts.service_of(kind) for kind in dict.fromkeys(part.kind for part in sort.parts))
    always = texts.service_of(ANY)
    opened = [each for each in case.platform.covers if each.name in work.access.way(*sort.names)]
    running = is_running(sort, own)
    static = any(each.esd for each in own)
    before = [*(merged(each.hot for each in (always, *own)) if running else always.off)]
    if running and sort.swap is None:
        before = []  # nothing is replaced at work that could be mistaken for another
    before += [always.static] if static and always.static else []
    after = () if running else always.on
    taken = tuple(_taken(case, work, sort))
    blank = case.definitions.parts.get(sort.place.position.blank or "")
    closing = (
        ()
        if blank is None
        else (say("If the position stays empty, fit {blank}.", blank=blank.name),)
    )
    opening = (
        () if blank is None else (say("Take out {blank}, where it is fitted.", blank=blank.name),)
    )
    return Procedure(
        sort=sort,
        who=who_of(own, running=running, opened=bool(opened)),
        running=running,
        static=static,
        cautions=tuple(_cautions(texts, own, sort, inside=running and bool(opened))),
        heavy=tuple(_heavy(sort)),
        removal=(
            *map(_said, before),
            *(first for first, _ in taken),
            *map(_said, merged(each.remove for each in own)),
            *map(words, closing),
        ),
        installation=(
            *map(words, opening),
            *map(_said, merged(each.install for each in own)),
            *(last for _, last in reversed(taken)),
            *map(_said, after),
        ),
        checks=tuple(map(_said, merged([each.check for each in own] + [always.check]))),
    )


def is_running(sort: Sort, own: tuple[ServiceText, ...]) -> bool:
    """Whether it is done while the server runs: hot-swap, or such that nothing asks for it."""
    return sort.swap == "hot" or (sort.swap is None and all(each.running for each in own))


def who_of(own: tuple[ServiceText, ...], *, running: bool, opened: bool) -> Who:
    """The user where nothing is opened and the server runs, unless the texts say otherwise."""
    said = {each.who for each in own if each.who is not None}
    if said:
        return "qualified" if "qualified" in said else "user"
    return "user" if running and not opened else "qualified"


def _said(text: str) -> Cell:
    return (say(text),)


def merged(several: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """The steps of several kinds as one order, alike ones once, each kind's own in their place."""
    made: list[str] = []
    for steps in several:
        at = len(made)
        for number, step in enumerate(steps):
            if step not in made:
                further = (made.index(each) for each in steps[number:] if each in made)
                at = next(further, at)
                made.insert(at, step)
            at = made.index(step) + 1
    return tuple(made)


def _taken(case: Case, work: Work, sort: Sort) -> Iterable[tuple[Cell, Cell]]:
    """What is opened or taken out on the way: how, and how it is put back."""
    covers = {each.name: each for each in case.platform.covers}
    sorts: dict[str, Sort] = {}
    for each in work.sorts:
        for name in each.names:
            sorts.setdefault(name, each)
    for names in work.way(sort):
        if names[0] in covers:
            yield _cover(covers[names[0]])
        elif names[0] in sorts:
            yield _position(sorts[names[0]], names)


def _cover(cover: Cover) -> tuple[Cell, Cell]:
    name = Strong(words(cover.name))
    opened: Cell = (name, Text(": "), *words(cover.open)) if cover.open else ()
    closed: Cell = (name, Text(": "), *words(cover.close)) if cover.close else ()
    return (
        opened or (say("Take off {cover}.", cover=(name,)),),
        closed or (say("Put {cover} back.", cover=(name,)),),
    )


def _position(sort: Sort, names: tuple[str, ...]) -> tuple[Cell, Cell]:
    """A part that is in the way; one that need not be there only where it is."""
    at = (Hyperlink(words(places(names)), f"#{anchor_of(sort)}"),)
    plugged = all(isinstance(part, Connects) for part in sort.parts)
    out = _DISCONNECT if plugged else _TAKE_OUT if sort.place.position.must else _TAKE_OUT_IF
    back = _CONNECT if plugged else _REFIT
    return (out.filled(places=at),), (back.filled(places=at),)


_DISCONNECT: Final = say("Disconnect what is plugged into {places}.")
_CONNECT: Final = say("Connect again what was plugged into {places}.")
_TAKE_OUT: Final = say("Take out what sits in {places}.")
_TAKE_OUT_IF: Final = say("Take out what sits in {places}, where it is fitted.")
_REFIT: Final = say("Refit what sat in {places}.")


def anchor_of(sort: Sort) -> str:
    """The anchor of the procedure of a sort."""
    bringer = f"-{sort.bringers[0].id}" if sort.bringers else ""
    return f"service-{sort.names[0]}{bringer}".lower().replace(" ", "-").replace(".", "-")


def _cautions(
    texts: Texts, own: tuple[ServiceText, ...], sort: Sort, *, inside: bool
) -> Iterable[CautionText]:
    """Those that the kinds name, where a part gives cause for them; of fans that turn while a
    cover is open."""
    named = {id_ for each in own for id_ in each.cautions} | ({MOVING} if inside else set())
    for caution in texts.cautions:
        cause = CAUSES.get(caution.id)
        if caution.id in named and (cause is None or any(map(cause, sort.parts))):
            yield caution


def _heavy(sort: Sort) -> Iterable[Message]:
    """What the heaviest part weighs, where it takes more than one person to lift it."""
    heaviest = max((part.mass for part in sort.parts if part.mass is not None), default=None)
    if heaviest is not None and (persons := lifting_persons(heaviest)) > 1:
        yield say(
            "The part weighs up to {mass}. To lift it takes {lifting}.",
            mass=heaviest,
            lifting=lifting(persons),
        )
