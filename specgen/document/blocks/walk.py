"""A walk round a system by the numbers on its pictures: what is where, what to say of it."""

from collections.abc import Iterator, Mapping
from typing import Final

from specgen.assembly import Assembly, Place, swap_of
from specgen.document.blocks.options import kinds_words
from specgen.document.case import Case
from specgen.document.cells.cell_makers import ACCEPTS, NONE, part_cell, table_of, term_name
from specgen.document.figures import callouts
from specgen.document.shared_texts import ANY, Texts, phrase
from specgen.document.tree import Cell, Datum, Strong, Table, words
from specgen.drawings import Callout, UseState
from specgen.drawings.items import swap_words
from specgen.facts.calculators.links import NOT_NARROWED
from specgen.facts.terms import HEIGHT, SWAP
from specgen.messages import Capital, Message, Words, listed, say
from specgen.model import CacheProtection

SIDES: Final = ("front", "rear", "inside")
NUMBERS: Final[Mapping[str, Message]] = {
    "front": say("Numbers: front"),
    "rear": say("Numbers: rear"),
    "inside": say("Numbers: inside"),
}
ROUND: Final[Mapping[str, Message]] = {
    "front": say("Round the server: front"),
    "rear": say("Round the server: rear"),
    "inside": say("Round the server: inside"),
}


def place_of(case: Case, callout: Callout) -> Place | None:
    """The first position that a number points at; None for what is built in."""
    return case.assembly.places.get(callout.places[0]) if callout.places else None


def numbers(case: Case, side: str) -> Table | None:
    """What the numbers of a picture point at, and what those positions take."""
    return table_of(
        ((each, place_of(case, each)) for each in callouts(case, side)),
        NUMBERS[side],
        f"{side}-numbers",
        (say("No."), lambda callout, _: _number(side, callout)),
        (say("Name"), lambda callout, _: callout.position),
        (say("In the figure"), lambda callout, place: _what(case, side, callout, place)),
        (ACCEPTS, lambda _, place: _takes(case, place) if place else say("built in")),
        short=True,
    )


def _number(side: str, callout: Callout) -> Cell:
    return (Datum(callout.number, f"callouts.{side}.{callout.number}"),)


def _what(case: Case, side: str, callout: Callout, place: Place | None) -> Cell:
    """What a number points at: how many, the part's name, whether it can be changed running."""
    part = case.definitions.parts.get(callout.part)
    what: object = callout.alone
    if part is not None and callout.use is UseState.USED:
        what = part_cell(part)
        swap = None if place is None else swap_words(case.assembly, place)
        if swap is not None:
            what = say("{part}, {swap}", part=what, swap=swap)
    if callout.count > 1:
        count = Datum(callout.count, f"callouts.{side}.{callout.number}.count")
        return (say("{count} × {what}", count=count, what=what),)
    return (Capital(what),) if isinstance(what, str) else (say("{what}", what=what),)


def _takes(case: Case, place: Place) -> Words:
    position = place.position
    takes: list[Words] = [kinds_words(case, position)]
    forms = [case.definitions.term(form) for form in position.form]
    takes += [listed(forms, "or")] if forms else []
    takes += [HEIGHT[position.height]] if position.height else []
    if position.interface:
        takes.append(listed(map(term_name, position.interface), "or"))
    takes += [SWAP[position.swap]] if position.swap else []
    return listed(takes)


def briefing(case: Case, texts: Texts, side: str, done: set[str]) -> Table | None:
    """For each number of a picture: what to point at, what to say, what to warn of.

    `done` holds what was said before and grows, so that nothing is said twice.
    """

    def sentences(callout: Callout, place: Place | None) -> Words:
        what = _what(case, side, callout, place)
        mentioned = (what, *_sentences(case, texts, callout, place, done))
        return listed([say("{sentence}.", sentence=each) for each in mentioned], "sentence")

    def warnings(callout: Callout, place: Place | None) -> Words:
        found = [(say(each),) for each in _warnings(case.assembly, texts, callout, place)]
        return listed(found, "sentence") if found else NONE

    return table_of(
        ((each, place_of(case, each)) for each in callouts(case, side)),
        ROUND[side],
        f"{side}-briefing",
        (say("No."), lambda callout, _: _number(side, callout)),
        (say("Point at"), lambda callout, _: (Strong(words(callout.position)),)),
        (say("Say"), sentences),
        (say("Warn of"), warnings),
        short=True,
    )


def _sentences(
    case: Case, texts: Texts, callout: Callout, place: Place | None, done: set[str]
) -> Iterator[Cell]:
    if place is None or callout.use is UseState.UNUSABLE:
        return
    kind = place.part.kind if place.part is not None else next(iter(place.position.takes), "")
    used = callout.use is UseState.USED
    patterns = texts.of_kind(kind).filled if used else texts.of_kind(kind).empty
    if used and f"expansion.{place.name}.running" in case.facts:
        patterns = (*texts.of_kind(ANY).place, *patterns)
    for pattern in patterns:
        here = ".here." in pattern
        cell = phrase(case.facts, pattern, place.name)
        if not cell or pattern in done or ("narrowed_by" in pattern and _unnarrowed(case, place)):
            continue
        if not here:
            done.add(pattern)
        (message,) = cell
        assert isinstance(message, Message)
        yield (Capital(message),)


def _unnarrowed(case: Case, place: Place) -> bool:
    return case.facts.value(f"expansion.{place.name}.narrowed_by") == NOT_NARROWED


def _warnings(
    assembly: Assembly, texts: Texts, callout: Callout, place: Place | None
) -> Iterator[str]:
    if place is None or callout.use is not UseState.USED or place.part is None:
        return
    part, always = place.part, texts.of_kind(ANY)
    own = texts.of_kind(part.kind).warn
    lithium = isinstance(part, CacheProtection) and "lithium" in (part.chemistry or "").lower()
    cold = swap_of(assembly, place) == "cold" and part.kind not in ("power-supply", "processor")
    fibre = any(port.medium != "copper" for port in getattr(part, "ethernet", ()))
    found = (own, always.lithium if lithium else None, always.cold if cold else None)
    yield from filter(None, (*found, always.fibre if fibre else None))
