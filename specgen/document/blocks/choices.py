"""What can go into a platform by kind of part: order numbers, and the values one chooses by."""

from collections.abc import Collection
from typing import Final

from specgen.diagnostics import codes, suggested
from specgen.diagnostics.unknown_names import NO_SUCH
from specgen.document.blocks.own_kinds import field_columns, stated
from specgen.document.case import Case
from specgen.document.cells.cell_makers import part_cell, table_of
from specgen.document.cells.compared_rows import said_once
from specgen.document.maker import AuthorError
from specgen.document.tree import Cell, Column, Table, literal
from specgen.facts.terms import STATUS, worded
from specgen.limits.reachable import possible
from specgen.messages import Words, listed, say
from specgen.model import Part, natural, places

NUMBER: Final = Column(say("Order number"), short=True)
Told = set[str]
"""Kinds of which a document has listed the parts."""


def choices(case: Case, told: Told, kind: str) -> Table | None:
    """The parts of a kind to choose from: order number, values, positions.

    The kind is `told` from then on; nothing of one that was. Raises `AuthorError`.
    """
    definitions, kinds = case.definitions, case.definitions.kinds
    if kind not in kinds:
        raise _unknown(kind, kinds)
    if kind in told:
        return None
    told.add(kind)
    found = possible(case.assembly)
    parts = [part for name in found if (part := definitions.parts[name]).kind == kind]
    parts.sort(key=lambda part: natural(part.name))
    made = table_of(
        ((part, stated(part)) for part in parts),
        say("{parts} to choose from", parts=kinds[kind].named_many()),
        f"{kind}-choices",
        (kinds[kind].named(), lambda part, _: _orderable(case, part)),
        (NUMBER, lambda part, _: literal(part.number or "")),
        *field_columns(definitions, parts),
        (say("Goes into"), lambda part, _: where(found[part.id])),
    )
    return None if made is None else said_once(made)


def _unknown(kind: str, kinds: Collection[str]) -> AuthorError:
    message = NO_SUCH[codes.UNKNOWN_KIND].filled(name=kind)
    return AuthorError(message, suggested(kind, kinds), word=kind)


def _orderable(case: Case, part: Part) -> Cell:
    """A part's name; with its status, where it cannot be ordered without more ado."""
    status = case.definitions.status(part)
    if status == "active":
        return part_cell(part)
    return (say("{part}, {status}", part=part_cell(part), status=worded(STATUS, status)),)


def own_choices(case: Case, told: Told) -> tuple[Table, ...]:
    """The parts of each of the project's own kinds to choose from."""
    made = (choices(case, told, each.id) for each in case.definitions.declared)
    return tuple(filter(None, made))


def where(names: tuple[str, ...]) -> Words:
    """Positions in short form; those of parts by their hosts: `PORT 1 to 2 in OCP, SLOT 1 to 4`."""
    own = tuple(name for name in names if "." not in name)
    inner: dict[str, list[str]] = {}
    for name in names:
        host, dot, last = name.rpartition(".")
        if dot:
            inner.setdefault(host, []).append(last)
    alike: dict[tuple[str, ...], list[str]] = {}
    for host, lasts in inner.items():
        alike.setdefault(tuple(lasts), []).append(host)
    found: list[Words] = [places(own)] if own else []
    found += [
        say("{places} in {hosts}", places=places(lasts), hosts=places(tuple(hosts)))
        for lasts, hosts in alike.items()
    ]
    return listed(found, "semicolon")


def further_parts(case: Case, told: Told, *kinds: str) -> Table | None:
    """Every part that the platform can hold, but for `kinds` and those that are `told`, by kind.

    Raises `AuthorError`.
    """
    known = case.definitions.kinds
    for kind in kinds:
        if kind not in known:
            raise _unknown(kind, known)
    found, order = possible(case.assembly), tuple(known)
    parts = [
        part for name in found if (part := case.definitions.parts[name]).kind not in told | {*kinds}
    ]
    parts.sort(key=lambda part: (order.index(part.kind), natural(part.name)))
    return table_of(
        ((part,) for part in parts),
        say("Further parts of this platform"),
        "further-parts-table",
        (say("Part"), lambda part: _orderable(case, part)),
        (say("Kind"), lambda part: part.named()),
        (NUMBER, lambda part: literal(part.number or "")),
        (say("Goes into"), lambda part: where(found[part.id])),
    )
