"""The usual cautions, each where the system gives cause for it: see `document.shared_texts`."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from specgen.assembly import assemble
from specgen.document.case import Case
from specgen.document.several import Order
from specgen.document.shared_texts import CautionText, Sentence, Texts, holds, phrase
from specgen.document.tree import Block, Caution, Cell, Inline, Paragraph, Text
from specgen.facts import facts_of
from specgen.messages import say


def cautions(case: Case, texts: Texts, shown: Case | None = None) -> tuple[Block, ...]:
    """Every caution the system gives cause for; a platform those of all its builds, told in general
    where each build has its own."""
    if case.build is not None:
        return _of_all((case,), texts, several=False)
    return _of_all((shown or case, *_builds(case)), texts, several=True)


def _builds(case: Case) -> Iterator[Case]:
    """The published builds of a platform."""
    for build in case.definitions.builds.values():
        if build.platform == case.platform.id and build.published:
            assembly = assemble(case.definitions, case.platform, build)
            yield Case(case.definitions, assembly, facts_of(assembly))


def _in_general(caution: CautionText, found: Caution) -> Caution:
    """What is told system by system, of several at once."""
    if not caution.each:
        return found
    paragraphs = tuple(Paragraph((say(text),)) for text in caution.several)
    return replace(found, children=paragraphs)


def cautions_of_order(order: Order, texts: Texts) -> tuple[Block, ...]:
    """The cautions of all, each sentence once; what is told system by system, in general."""
    cases = tuple(case for case, _ in order.lines)
    return _of_all(cases, texts, several=not order.single)


def _of_all(cases: tuple[Case, ...], texts: Texts, *, several: bool) -> tuple[Block, ...]:
    blocks: list[Block] = []
    for caution in texts.cautions:
        found = _caution(cases, caution, several=several)
        if found is not None:
            blocks.append(_in_general(caution, found) if several else found)
    return tuple(blocks)


def _caution(cases: tuple[Case, ...], caution: CautionText, *, several: bool) -> Caution | None:
    """A caution with its paragraphs; None where no system gives cause for it."""
    causes = tuple(each for each in cases if holds(each, caution.origin, ("when",), caution.when))
    cells = tuple(_paragraphs(causes, caution, several=several))
    if not cells or not cells[0]:  # what it is about has no value here
        return None
    paragraphs = tuple(cell for cell in cells if cell)
    return Caution(say(caution.subject), tuple(map(Paragraph, paragraphs)), caution.signal)


def _paragraphs(causes: tuple[Case, ...], caution: CautionText, *, several: bool) -> Iterator[Cell]:
    """Each paragraph with what any of the systems gives cause for, said once."""
    says = (caution.says,) if isinstance(caution.says, str) else caution.says
    for at, paragraph in enumerate(says):
        sentences = (paragraph,) if isinstance(paragraph, str) else paragraph
        cell: list[Inline] = []
        for number, sentence in enumerate(sentences):
            for made in _said(causes, caution, (at, number), sentence, several=several):
                cell += (Text(" "), *made) if cell and made else made
        yield tuple(cell)


def _said(
    causes: tuple[Case, ...],
    caution: CautionText,
    at: tuple[int, int],
    sentence: str | Sentence,
    *,
    several: bool,
) -> Iterable[Cell]:
    """A sentence as it is said of each system of which it holds, alike ones once."""
    text = sentence
    if isinstance(sentence, Sentence):
        path = ("says", *at, "when")
        causes = tuple(each for each in causes if holds(each, caution.origin, path, sentence.when))
        text = (sentence.several if several else None) or sentence.text
    found: dict[Cell, Cell] = {}
    for case in causes:
        of = case.thing.id if several else ""
        found.setdefault(phrase(case.facts, str(text)), phrase(case.facts, str(text), of=of))
    return found.values()
