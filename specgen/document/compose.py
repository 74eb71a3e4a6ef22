"""From the name of a template to a document: fill in, read, put in order."""

from collections.abc import Callable, Mapping

from specgen.diagnostics import Finding
from specgen.document.faults import finding_of, left_to_do, missing_title
from specgen.document.maker import BlockFunction
from specgen.document.markdown_reader import blocks_of
from specgen.document.numbering import numbered
from specgen.document.outline import document
from specgen.document.template import Templates
from specgen.document.tree import Block, Document, FactList, Heading, ThematicBreak, plain_text
from specgen.document.wording import Wording
from specgen.drawings.lettering import lettered_in
from specgen.messages import SOURCE, Sayable, Words
from specgen.messages.catalogue import language_of
from specgen.model import Project

Composed = tuple[Document | None, tuple[Finding, ...]]


def compose(
    name: str,
    templates: Templates,
    *,
    variables: Mapping[str, object],
    functions: Mapping[str, BlockFunction],
    project: Project | None = None,
    tidy: bool = False,
    mark: Words = "",
    last: Callable[[Document], Document] = lambda document: document,
) -> Composed:
    """The document that the template `name` makes of the variables and the makers' blocks.

    The first level-1 heading is the title. An author's mistake that stops the template is one
    finding at its line and no document; a fault of our own is raised on. A `tidy` document has no
    headings with nothing under them, every page of it says its `mark`, and `last` has the last word
    on it. It is said in the language of the templates, else in that of the `project`, as far as
    there are messages; texts of the project that nobody has translated stay in its own.
    """
    own = project.language if project else SOURCE
    language = templates.language or own
    spoken = language_of(language, templates.project, outdated=bool(project and project.outdated))
    try:
        with lettered_in(spoken):
            filled = templates.fill(name, variables, functions)
    except Exception as error:  # whose fault it is shows in what ran
        known = (*variables, *functions, *templates.own_makers)
        finding = finding_of(error, name, templates, known)
        if finding is None:
            raise
        return None, (finding,)
    marks = tuple(left_to_do(name, templates))
    if marks:
        return None, marks
    blocks = list(blocks_of(filled, messages=True))
    title = _taken_title(blocks)
    if not title:
        if templates.ours(name):
            raise ValueError(f"the shipped template {name} makes no title")
        return None, (missing_title(name, templates),)
    if tidy:
        blocks = _without_empty_headings(blocks)
    made = document(
        title,
        blocks,
        subtitle=filled.subtitle,
        kind=filled.kind,
        audience=filled.audience,
        mark=mark,
        language=language,
        meta=filled.meta,
    )
    return Wording(spoken, own).document(last(numbered(made) if filled.numbered else made)), ()


def _without_empty_headings(blocks: list[Block]) -> list[Block]:
    """Empty lists go, and headings with nothing under them: the next of their level follows."""
    blocks = [each for each in blocks if not isinstance(each, FactList) or each.entries]
    kept: list[Block] = []
    following: Block | None = None
    for block in reversed(blocks):
        if isinstance(block, Heading):
            if isinstance(following, Heading):
                empty = following.level <= block.level
            else:
                empty = following is None or isinstance(following, ThematicBreak)
            if empty:
                continue
        kept.append(block)
        following = block
    return kept[::-1]


def _taken_title(blocks: list[Block]) -> Words:
    for index, block in enumerate(blocks):
        if isinstance(block, Heading) and block.level == 1:
            del blocks[index]
            only = block.children[0] if len(block.children) == 1 else None
            return only if isinstance(only, Sayable) else plain_text(block.children).strip()
    return ""
