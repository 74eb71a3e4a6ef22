"""Lists of label and value that a template lays out: `fact_list`, `fact_rows`, `fact_bullets`."""

from collections.abc import Iterator

from specgen.diagnostics import quoted
from specgen.document.cells.cell_makers import align_of
from specgen.document.cells.fact_cells import FactCells, is_key, label_of, several, title_of
from specgen.document.maker import AuthorError
from specgen.document.tree import Cell, Column, Datum, FactList, Listing, Paragraph, Table, words
from specgen.messages import NOT_DECLARED, Words, say


def fact_list(
    cells: FactCells,
    title: object,
    entries: object,
    *,
    missing: object = None,
    zeros: bool = True,
) -> FactList:
    """`{{ fact_list("At a glance", ["mechanics.depth", ("Cores", "{processors.cores}")]) }}`.

    An entry is a fact's key (its label is the fact's), the beginning of several keys (`power.`), or
    a label with a pattern, where a key stands for the label of its fact; of several patterns the
    first counts whose facts all have a value. `none` is no entry. Without a value an entry is left
    out, or says `missing`; without `zeros` one is left out too whose amounts are all nothing.
    Raises `AuthorError`.
    """
    found = [
        (label, words(title_of(missing, say("`missing`"))) if cell is None and missing else cell)
        for each in several(entries, say("entries"))
        if zeros or not cells.nothing(_keys(cells, each))
        for label, cell in _entries(cells, each)
    ]
    return FactList(title_of(title, say("a title")), tuple((a, b) for a, b in found if b))


def _keys(cells: FactCells, entry: object) -> tuple[str, ...]:
    if isinstance(entry, str):
        return () if entry.endswith(".") else (entry,)
    return cells.keys(_parts(entry)[1])


def _entries(cells: FactCells, entry: object) -> Iterator[tuple[Words, Cell | None]]:
    if not isinstance(entry, str):
        label, patterns = _parts(entry)
        named = _label(cells, str(label)) if is_key(label) else title_of(label, say("a label"))
        yield named, cells.phrase(patterns)
    elif entry.endswith("."):
        for fact in cells.group(entry):
            yield label_of(fact), cells.cell(fact)
    else:
        yield _label(cells, entry), cells.cell(cells.fact(entry))


def _parts(entry: object) -> tuple[object, list[object]]:
    if isinstance(entry, list | tuple) and len(entry) > 1:
        return entry[0], list(entry[1:])
    help_ = say(
        "write {examples}",
        examples=quoted(('"mechanics.depth"', '("Depth", "{mechanics.depth} deep")'), "or"),
    )
    raise AuthorError(say("an entry is the key of a fact, or a label with a pattern"), help_)


def _label(cells: FactCells, key: str) -> Words:
    """What a fact is called, also where this system has none of the name."""
    fact, made = cells.fact(key), cells.calculator(key)
    if fact is not None:
        return label_of(fact)
    return key if made is None else made.label


def fact_rows(
    cells: FactCells,
    title: object,
    columns: object,
    rows: object,
    *,
    missing: object = NOT_DECLARED,
    note: object = (),
    anchor: str = "",
) -> Table | None:
    """A table whose rows a template writes out; nothing where none is left.

    What stands in a row is a pattern, one cell, or a fact's key: two cells, label and value; a row
    may be a key alone, and shorter than the columns. A cell without a value says `missing`, as
    `none` in its place does; where `missing` is `none`, its row is left out. Raises `AuthorError`.
    """
    heads = [
        title_of(each, say("the head of a column")) for each in several(columns, say("columns"))
    ]
    found = [
        row
        for each in several(rows, say("rows"))
        if (row := _row(cells, each, missing, len(heads))) is not None
    ]
    if not found or not heads:
        return None
    silent = () if missing is None else words(title_of(missing, say("`missing`")))
    made = [
        Column(head, align_of([row[at] for row in found], silent), header=at == 0)
        for at, head in enumerate(heads)
    ]
    caption = title_of(title, say("a title"))
    return Table(caption, tuple(made), tuple(found), anchor, cells.sentences(note))


def _row(cells: FactCells, row: object, missing: object, width: int) -> tuple[Cell, ...] | None:
    made: list[Cell | None] = []
    for each in (row,) if is_key(row) else several(row, say("the cells of a row"), keep=True):
        if is_key(each):
            key = str(each)
            made += (words(_label(cells, key)), cells.cell_in_table(cells.fact(key), None))
        else:
            made.append(None if each is None else cells.phrase(each))
    if len(made) > width:
        raise AuthorError(
            say(
                "a row has {cells} cells, and there are {columns} columns",
                cells=len(made),
                columns=width,
            ),
            say("the key of a fact makes two: its label and its value"),
        )
    if missing is None and None in made:
        return None
    made += [()] * (width - len(made))
    silent = () if missing is None else words(title_of(missing, say("`missing`")))
    return tuple(silent if cell is None else cell for cell in made)


def fact_bullets(cells: FactCells, key: str, further: object = ()) -> Listing | None:
    """`{{ fact_bullets("regulation.missing") }}`: each entry of a fact that has several.

    `further` are patterns for points after them. Raises `AuthorError`.
    """
    fact = cells.fact(key)
    values = () if fact is None or fact.value is None else fact.value
    entries = values if isinstance(values, tuple) else (values,)
    points = [(Datum(each, key),) for each in entries]
    more = (cells.phrase(each) for each in several(further, say("further points")))
    items = tuple((Paragraph(point),) for point in (*points, *filter(None, more)))
    return Listing(items) if items else None
