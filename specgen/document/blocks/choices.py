"""What can go into a platform by kind of part, with the values one chooses by; and its limits."""

from specgen.diagnostics import codes, suggested
from specgen.diagnostics.unknown_names import NO_SUCH
from specgen.document.blocks.own_kinds import field_columns, stated
from specgen.document.case import Case
from specgen.document.cells.cell_makers import part_cell, table_of
from specgen.document.maker import AuthorError
from specgen.document.tree import Column, Table, literal
from specgen.facts.terms import STATUS, worded
from specgen.limits.reachable import possible
from specgen.messages import Words, listed, say
from specgen.model import Part, natural, places


def choices(case: Case, kind: str) -> Table | None:
    """The parts of a kind to choose from: values, positions, status. Raises `AuthorError`."""
    definitions, kinds = case.definitions, case.definitions.kinds
    if kind not in kinds:
        message = NO_SUCH[codes.UNKNOWN_KIND].filled(name=kind)
        raise AuthorError(message, suggested(kind, kinds), word=kind)
    found = possible(case.assembly)
    parts = [part for name in found if (part := definitions.parts[name]).kind == kind]
    parts.sort(key=lambda part: natural(part.name))
    withheld = any(definitions.status(part) != "active" for part in parts)
    return table_of(
        ((part, stated(part)) for part in parts),
        say("{parts} to choose from", parts=kinds[kind].named_many()),
        f"{kind}-choices",
        (kinds[kind].named(), lambda part, _: part_cell(part)),
        *field_columns(definitions, parts),
        (say("Goes into"), lambda part, _: where(found[part.id])),
        (Column(say("Status"), short=True), lambda part, _: _status(case, part))
        if withheld
        else None,
    )


def _status(case: Case, part: Part) -> Words:
    return worded(STATUS, case.definitions.status(part))


def own_choices(case: Case) -> tuple[Table, ...]:
    """The parts of each of the project's own kinds to choose from."""
    return tuple(filter(None, (choices(case, each.id) for each in case.definitions.declared)))


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


def offered(case: Case) -> Table | None:
    """Every part that the platform can hold, by kind: order number, positions, status."""
    found, kinds = possible(case.assembly), tuple(case.definitions.kinds)
    parts = [case.definitions.parts[name] for name in found]
    parts.sort(key=lambda part: (kinds.index(part.kind), natural(part.name)))
    return table_of(
        ((part,) for part in parts),
        say("Parts for this platform"),
        "offered-table",
        (say("Part"), part_cell),
        (say("Kind"), lambda part: part.named()),
        (Column(say("Order number"), short=True), lambda part: literal(part.number or "")),
        (say("Goes into"), lambda part: where(found[part.id])),
        (Column(say("Status"), short=True), lambda part: _status(case, part)),
    )
