"""Findings as text for people: the full form with excerpts, and one line each for editors."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from specgen.diagnostics.excerpt import Mark, drawn, marks_of, within
from specgen.diagnostics.finding import Finding, Label, Severity, arrange
from specgen.diagnostics.glyphs import harmless, lines_of
from specgen.diagnostics.paint import Paint, Style, plain
from specgen.diagnostics.span import Span

FIRST = 50
"""How many findings a report prints before it only counts the rest."""

ShownPath = Callable[[str], str]
"""Turns a file as spans name it into the path that is printed, as seen from where one works."""


def as_written(file: str) -> str:
    """The file as spans name it: relative to the project folder."""
    return file


def one_line(finding: Finding, *, shown: ShownPath = as_written, paint: Paint = plain) -> str:
    """`file:line:column: error[SG201] message`, which editors make a link of."""
    place = paint(Style.PLACE, f"{_place(finding.at.span, shown)}:")
    return f"{place} {_weight(finding, paint)} {harmless(str(finding.message))}"


def full(
    finding: Finding,
    sources: Mapping[str, str],
    *,
    shown: ShownPath = as_written,
    paint: Paint = plain,
) -> str:
    """One finding with its excerpts, over several lines, without a line break at the end.

    `sources` holds the text of files by the name that spans use. Of a file that is not among
    them, or a line that is not in it, only the place is printed.
    """
    weight = _weight(finding, paint)
    rows = [f"{weight}{paint(Style.MESSAGE, ': ' + harmless(str(finding.message)))}"]
    rows.extend(_places(finding, sources, shown, paint))
    return "\n".join(rows)


def report(
    findings: Iterable[Finding],
    sources: Mapping[str, str],
    *,
    shown: ShownPath = as_written,
    paint: Paint = plain,
    limit: int = FIRST,
) -> str:
    """All findings in order, each once: at most `limit` in full, then a count, then the sum.

    Where there are more, those of least weight are left out first: notes never hide an error.
    Ends with a line break; empty where nothing was found.
    """
    ordered = arrange(findings)
    if not ordered:
        return ""
    heaviest = sorted(ordered, key=lambda finding: finding.severity.rank)[: max(0, limit)]
    parts = [full(each, sources, shown=shown, paint=paint) for each in arrange(heaviest)]
    left = len(ordered) - len(parts)
    if left:
        parts.append(f"... and {_many(left, 'finding')} more" if parts else _many(left, "finding"))
    return "\n\n".join([*parts, summary(ordered)]) + "\n"


def summary(findings: Iterable[Finding]) -> str:
    """How many of each weight, heaviest first: `2 errors, 1 warning`; `no findings` for none."""
    counts = Counter(finding.severity for finding in findings)
    parts = [_many(counts[each], each) for each in Severity if counts[each]]
    return ", ".join(parts) or "no findings"


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _weight(finding: Finding, paint: Paint) -> str:
    code = harmless(finding.code.id)
    return paint(Style(finding.severity.value), f"{finding.severity}[{code}]")


def _place(span: Span, shown: ShownPath) -> str:
    if not span.line:  # no place in a file
        return harmless(span.file)
    return harmless(f"{shown(span.file)}:{span.line}:{span.column}")


def _places(
    finding: Finding, sources: Mapping[str, str], shown: ShownPath, paint: Paint
) -> Iterator[str]:
    """All rows below the first: places with their excerpts, then notes and help."""
    labels = (finding.at, *finding.labels)
    files = {label.span.file for label in labels} & sources.keys()
    lines = {file: lines_of(sources[file]) for file in files}
    groups = _groups(labels, lines)
    marked = [_marks(group, finding, lines) for group in groups]
    gutter = max((len(str(mark.line)) for marks in marked for mark in marks), default=1)
    for index, (group, marks) in enumerate(zip(groups, marked, strict=True)):
        span = group[0].span
        arrow = paint(Style.GUTTER, " " * gutter + (":::" if index else "-->"))
        yield f"{arrow} {paint(Style.PLACE, _place(span, shown))}"
        if marks:
            yield from drawn(marks, lines[span.file], gutter, paint)
        elif group[0].text:
            edge = paint(Style.GUTTER, " " * gutter + " |")
            yield f"{edge} {paint(Style.OTHER, harmless(str(group[0].text)))}"
    hints = [("note", note) for note in finding.notes]
    for word, text in [*hints, ("help", finding.help)]:
        if text:
            yield _hint(word, str(text), gutter, paint)


def _groups(labels: Sequence[Label], lines: Mapping[str, Sequence[str]]) -> list[list[Label]]:
    """Labels by the file they are in, in the order they came; alone where no line can be shown."""
    groups: dict[tuple[str, int], list[Label]] = {}
    for index, label in enumerate(labels):
        in_sight = within(label.span, lines.get(label.span.file, ()))
        groups.setdefault((label.span.file, -1 if in_sight else index), []).append(label)
    return list(groups.values())


def _marks(
    group: Sequence[Label], finding: Finding, lines: Mapping[str, Sequence[str]]
) -> list[Mark]:
    """The marks of one group; none where its lines cannot be shown."""
    marks: list[Mark] = []
    text = lines.get(group[0].span.file, ())
    for label in group:
        if within(label.span, text):
            main = label is finding.at
            style = Style(finding.severity.value) if main else Style.OTHER
            marks.extend(marks_of(label, text, main, style))
    return marks


def _hint(word: str, text: str, gutter: int, paint: Paint) -> str:
    """`= note: ...`, further lines of the text set under its first."""
    lead = f"{' ' * gutter} = {word}: "
    first, *others = (harmless(line) for line in lines_of(text.rstrip()))
    rows = [f"{' ' * gutter} = {paint(Style.HINT, word + ':')} {first}".rstrip()]
    rows.extend(f"{' ' * len(lead)}{line}".rstrip() for line in others)
    return "\n".join(rows)
