"""What changed in a definition from revision to revision, as its page tells it."""

from specgen.document.tree import Block, Cell, Column, Heading, Table, literal, words
from specgen.messages import say
from specgen.model import Build, Platform


def revisions(thing: Build | Platform | None) -> tuple[Block, ...]:
    """The revisions, youngest first; nothing where none is declared."""
    if thing is None or not thing.history:
        return ()
    entries = sorted(enumerate(thing.history), key=lambda e: (e[1].date, e[0]), reverse=True)
    rows: list[tuple[Cell, ...]] = [
        (literal(each.revision), (say("{day}", day=each.date),), words(each.note))
        for _, each in entries
    ]
    columns = (
        Column(say("Revision"), header=True, short=True),
        Column(say("Date"), short=True),
        Column(say("What changed")),
    )
    return (
        Heading(2, words(say("Revision history")), "site-revisions"),
        Table(say("Youngest first"), columns, tuple(rows), "site-revisions-table"),
    )
