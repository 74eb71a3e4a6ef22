"""From the name of a template to a document: fill in, read, put in order."""

from collections.abc import Mapping

from specgen.diagnostics import Finding
from specgen.document.faults import finding_of, missing_title
from specgen.document.markdown import blocks_of
from specgen.document.outline import document
from specgen.document.template import Maker, Templates
from specgen.document.tree import Block, Document, Heading, plain_text

Composed = tuple[Document | None, tuple[Finding, ...]]


def compose(
    name: str,
    templates: Templates,
    *,
    variables: Mapping[str, object],
    makers: Mapping[str, Maker],
    language: str = "en",
) -> Composed:
    """The document that the template `name` makes of the variables and the makers' blocks.

    The first level-1 heading is the title. Whatever stops the template is one finding at its line
    and no document; nothing an author or a maker does raises here.
    """
    try:
        filled = templates.fill(name, variables, makers)
        blocks = list(blocks_of(filled))
    except Exception as error:
        known = (*variables, *makers, "subtitle", "meta")
        return None, (finding_of(error, name, templates, known),)
    title = _taken_title(blocks)
    if not title:
        return None, (missing_title(name, templates),)
    made = document(title, blocks, subtitle=filled.subtitle, language=language, meta=filled.meta)
    return made, ()


def _taken_title(blocks: list[Block]) -> str:
    for index, block in enumerate(blocks):
        if isinstance(block, Heading) and block.level == 1:
            del blocks[index]
            return plain_text(block.children).strip()
    return ""
