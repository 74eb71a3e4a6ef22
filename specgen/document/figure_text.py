"""What a figure says in words, as blocks: paragraphs, or an outline of what is within what."""

from specgen.document.tree import Block, Figure, Listing, Paragraph, Text


def in_words(figure: Figure) -> tuple[Block, ...]:
    """What the drawing says, as paragraphs or as a list with lists in it."""
    lines = [line for line in figure.text.split("\n") if line.strip()]
    if not any(line.startswith("\t") for line in lines):
        return tuple(Paragraph((Text(line),)) for line in lines)
    return (_outline(lines),)


def _outline(lines: list[str]) -> Listing:
    """Lines as a list: those behind a tab more stand below the one before them."""
    items: list[tuple[Block, ...]] = []
    heads = [at for at, line in enumerate(lines) if not at or not line.startswith("\t")]
    for at, end in zip(heads, [*heads[1:], len(lines)], strict=True):
        below = [line.removeprefix("\t") for line in lines[at + 1 : end]]
        inner = (_outline(below),) if below else ()
        items.append((Paragraph((Text(lines[at].strip()),)), *inner))
    return Listing(tuple(items))
