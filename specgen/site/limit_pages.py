"""Pages of limits: the most and least that platforms reach, each with a build that reaches it.

Nothing is solved here: limits are handed in, and so is what binds them.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from specgen.assembly import assemble
from specgen.document.blocks.reached_limits import how_sure, proof_of
from specgen.document.tree import (
    Block,
    Cell,
    Column,
    Datum,
    Document,
    Emphasis,
    Heading,
    Hyperlink,
    Listing,
    Literal,
    Paragraph,
    Table,
    Text,
    link,
    literal,
    words,
)
from specgen.facts import ledger
from specgen.limits.limit import Limit, Status
from specgen.limits.reason import FEW, Reason, by_sort
from specgen.messages import Within, listed, say
from specgen.model import Definitions, Part, Platform, places

Limits = Mapping[str, tuple[Limit, ...]]
"""The limits of platforms, by the platform's id."""
Binds = Callable[[str, Limit], tuple[Reason, ...]]
"""The statements without which a platform's limit would be passed; none where not known."""

FOLDER: Final = "limits"


def nothing_known(_: str, __: Limit) -> tuple[Reason, ...]:
    """For where nobody has asked what binds."""
    return ()


def limits_path(platform: str) -> str:
    """The page of a platform's limits."""
    return f"{FOLDER}/{platform}.html"


def overview(definitions: Definitions, limits: Limits) -> Document:
    """Every limit of every platform; a value leads to its build and to what binds it."""
    platforms = [definitions.platforms[name] for name in limits if name in definitions.platforms]
    labels = {limit.key: limit.bounded for each in platforms for limit in limits[each.id]}
    cells = {
        (each.id, limit.key): _cell(each.id, limit)
        for each in platforms
        for limit in limits[each.id]
    }
    rows = tuple(
        (words(label), *(cells.get((each.id, key), words("–")) for each in platforms))
        for key, label in labels.items()
    )
    columns = (
        Column(say("Limit"), header=True),
        *(Column(each.name, align="end") for each in platforms),
    )
    open_ones = any(limit.status is Status.FOUND for each in platforms for limit in limits[each.id])
    note = say("In italics: the best found, not proved.") if open_ones else ""
    about = say(
        "Maximum and minimum over all builds that the checks accept, worked out by a solver "
        "from the same definitions as everything else. Each is reached by a build that is shown."
    )
    title = say("Limits of the platforms")
    table = Table(title, columns, rows, "limits-table", words(note), beside=True)
    blocks = (Paragraph(words(about)), table)
    project = definitions.project
    return Document(say("Limits"), blocks, project.title, project.language)


def _cell(platform: str, limit: Limit) -> Cell:
    if limit.value is None:
        return words(say("no build"))
    shown = Datum(limit.value, f"{platform}.limits.{limit.key}")
    inner = (Emphasis((shown,)),) if limit.status is Status.FOUND else (shown,)
    return (Hyperlink(inner, f"site:{limits_path(platform)}#{limit.key}"),)


def _value(limit: Limit) -> Datum:
    return Datum(limit.value, f"limits.{limit.key}")


def platform_limits(
    definitions: Definitions,
    platform: Platform,
    limits: tuple[Limit, ...],
    binds: Binds,
    inlet: Table | None = None,
) -> Document:
    """The limits of one platform: how sure, reached by which parts, held back by what.

    Each value stands in its heading, so that the contents of the page are the table of them.

    No solver is needed for what sets the maximum inlet temperature: that list is handed in.
    """
    blocks: list[Block] = [
        Paragraph(
            (
                say(
                    "What builds of {platform} can reach, beside {others:the other platforms}.",
                    platform=link(platform.name, f"platform:{platform.id}"),
                    others=Hyperlink((), "site:limits.html"),
                ),
            )
        )
    ]
    if limits:
        blocks.append(Paragraph(words(proof_of(limits))))
    for limit in limits:
        blocks += _section(definitions, platform, limit, binds(platform.id, limit))
    if inlet is not None:
        heading = ledger().by_key["cooling.inlet_limit"].label
        blocks += (Heading(2, words(heading), "inlet"), inlet)
    language = definitions.project.language
    title = say("Limits of {platform}", platform=platform.name)
    return Document(title, tuple(blocks), say("Limits"), language)


def _section(
    definitions: Definitions, platform: Platform, limit: Limit, reasons: tuple[Reason, ...]
) -> Iterator[Block]:
    title = words(limit.bounded)
    if limit.value is not None:
        title = (say("{limit}: {value}", limit=limit.bounded, value=_value(limit)),)
    yield Heading(2, title, limit.key)
    if limit.status is not Status.PROVED:
        yield Paragraph(how_sure(limit, ""))
    if reasons:
        yield Paragraph(
            words(say("What holds it there: without any one of these it could be passed."))
        )
        said = _reasons(reasons, placed=not definitions.is_public)
        yield Listing(tuple((Paragraph(each),) for each in said))
    if limit.build is not None:
        yield _parts(definitions, platform, limit)


def _reasons(reasons: tuple[Reason, ...], *, placed: bool) -> Iterator[Cell]:
    """A line for each; of many, those of positions in one."""
    if len(reasons) <= FEW:
        yield from (_reason(each, placed=placed) for each in reasons)
        return
    for heading, found in by_sort(reasons):
        named = dict.fromkeys(each.short for each in found if each.short)
        if named:
            entries = listed(named, "semicolon")
            yield words(say("{heading}: {entries}", heading=heading, entries=entries))
        yield from (_reason(each, placed=placed) for each in found if not each.short)


def _reason(reason: Reason, *, placed: bool) -> Cell:
    at = reason.place()
    inlines = [*words(reason.words)]
    if reason.code:
        inlines += [Text(" ("), Hyperlink(literal(reason.code), f"rule:{reason.code}"), Text(")")]
    if at.file and placed:
        inlines += [Text(", "), Literal(at.shown)]
    return tuple(inlines)


def _parts(definitions: Definitions, platform: Platform, limit: Limit) -> Table:
    assembly = assemble(definitions, platform, limit.build)
    uses: dict[str, list[str]] = {}
    for place, part in assembly.everything():
        uses.setdefault(part.id, []).append(place.name)
    rows: list[tuple[Cell, ...]] = [
        (_counted(definitions.parts[name], limit, len(found)), words(places(tuple(found))))
        for name, found in uses.items()
        if name in definitions.parts
    ]
    columns = (Column(say("Part"), header=True), Column(say("Positions")))
    title = say("A build that reaches it: {limit}", limit=Within(limit.bounded))
    return Table(title, columns, tuple(rows), f"{limit.key}-parts")


def _counted(part: Part, limit: Limit, count: int) -> Cell:
    quantity = Datum(count, f"limits.{limit.key}.parts.{part.id}")
    name = link(part.name, f"part:{part.id}")
    counted = say("{count} × {what}", count=quantity, what=name)
    return (counted, Text(" "), *literal(part.number)) if part.number else (counted,)
