"""Procedures as blocks: who, in what state, with what; cautions; numbered steps and back."""

from collections.abc import Iterator, Mapping
from typing import Final

from specgen.document.blocks.service_tables import first_words, place_words, tools_of, tools_words
from specgen.document.case import Case
from specgen.document.cells.cell_makers import NONE, table_of
from specgen.document.service.sorts import Sort, Work, kinds_of, work_on
from specgen.document.service.steps import Procedure, anchor_of, procedure_of
from specgen.document.shared_texts import CautionText, Texts
from specgen.document.tree import (
    Block,
    Caution,
    Cell,
    FactList,
    Heading,
    Hyperlink,
    Listing,
    Paragraph,
    Strong,
    Table,
    words,
)
from specgen.messages import Capital, Message, Words, listed, say
from specgen.model import expand
from specgen.model.procedure import Who

WHO: Final[Mapping[Who, Message]] = {"user": say("user"), "qualified": say("qualified personnel")}
POWER: Final[Mapping[bool, Message]] = {
    True: say("on, the server may run"),
    False: say("off, every supply cord disconnected"),
}
STATIC: Final[Mapping[bool, Message]] = {
    True: say("wrist strap"),
    False: say("no protection needed"),
}
DONE_BY: Final = say("Replaced by")


def access(case: Case, texts: Texts) -> Table | None:
    """For each sort of position: who replaces its part, in what state, and what comes first."""
    work = work_on(case)
    return table_of(
        ((made.sort, made) for made in _procedures(case, texts, work)),
        say("What is replaced, by whom and how it is reached"),
        "access-table",
        (say("Positions"), lambda sort, _: _leading(sort)),
        (say("Part"), lambda sort, _: kinds_of(sort)),
        (DONE_BY, lambda _, made: WHO[made.who]),
        (say("Power"), lambda _, made: say("on") if made.running else say("off")),
        (say("First"), lambda sort, _: first_words(work, sort)),
        (say("Tools"), lambda sort, _: tools_words(case, tools_of(case.platform, work, sort))),
    )


def _leading(sort: Sort) -> Cell:
    return (Hyperlink(words(place_words(sort)), f"#{anchor_of(sort)}"),)


def _procedures(case: Case, texts: Texts, work: Work) -> tuple[Procedure, ...]:
    return tuple(procedure_of(case, texts, work, sort) for sort in work.sorts)


def procedures(case: Case, texts: Texts) -> tuple[Block, ...]:
    """The procedure of each sort of position."""
    work = work_on(case)
    made = _procedures(case, texts, work)
    return tuple(block for each in made for block in _blocks(case, work, each))


def _blocks(case: Case, work: Work, made: Procedure) -> Iterator[Block]:
    sort = made.sort
    title = say("{part}: {places}", part=kinds_of(sort), places=place_words(sort))
    yield Heading(3, (title,), anchor_of(sort))
    tools = tools_words(case, tools_of(case.platform, work, sort))
    entries: list[tuple[Words, Cell]] = [
        (DONE_BY, (Capital(WHO[made.who]),)),
        (say("Power"), (Capital(POWER[made.running]),)),
        (say("Tools"), words(say("none") if tools == NONE else tools)),
        (say("Static electricity"), (Capital(STATIC[made.static]),)),
    ]
    yield FactList(say("At a glance"), tuple(entries))
    yield from (caution for each in made.cautions for caution in _caution(each))
    for heavy in made.heavy:
        yield Caution(say("lifting"), (Paragraph(words(heavy)),))
    yield from _steps(say("Remove"), made.removal)
    yield from _next(case, sort)
    yield from _steps(say("Install"), made.installation)
    yield from _steps(say("Check afterwards"), made.checks)


def _steps(title: Words, steps: tuple[Cell, ...]) -> Iterator[Block]:
    if steps:
        yield Paragraph((Strong(words(title)),))
        yield Listing(tuple((Paragraph(step),) for step in steps), first=1)


def _caution(caution: CautionText) -> Iterator[Caution]:
    """What a caution says of any system: sentences without a condition."""
    paragraphs = (caution.says,) if isinstance(caution.says, str) else caution.says
    said = [(each,) if isinstance(each, str) else each for each in paragraphs]
    cells = [[say(text) for text in each if isinstance(text, str)] for each in said]
    children = tuple(Paragraph((listed(cell, "sentence"),)) for cell in cells if cell)
    if children:
        yield Caution(say(caution.subject), children, caution.signal)


def _next(case: Case, sort: Sort) -> Iterator[Block]:
    """Where the next of several alike goes, by the population orders of the platform."""
    for entry in case.platform.population:
        names = tuple(name for text in entry.order for name in expand(text))
        if {*names} & {*sort.names}:
            order = listed(names)
            said: Words = say("Populate in this order: {positions}.", positions=order)
            if entry.of:
                pattern = say("Of {owner}, populate in this order: {positions}.")
                said = pattern.filled(owner=entry.of, positions=order)
            yield Paragraph(words(said))
