"""The block `{{ prose("NAME") }}`: a text that was written by hand, as part of a document."""

from collections.abc import Callable, Mapping
from pathlib import Path

from specgen.document.case import Case, Machines
from specgen.document.maker import AuthorError, FoundElsewhere, Maker
from specgen.document.markdown import blocks_of
from specgen.document.prose.notice import notice
from specgen.document.prose.passages import passages
from specgen.document.prose.printing import printed
from specgen.document.prose.subjects import Subjects
from specgen.document.prose.texts import PROSE, Prose, in_language, read_text
from specgen.document.template import Filled
from specgen.document.tree import Block, Emphasis, Paragraph, words


def prose_maker(
    case: Case,
    project: Path | None,
    language: str,
    machines: Machines,
    tables: Callable[[], Mapping[str, Callable[[Case], object]]] = dict,
) -> Maker:
    """What prints `prose/SUBJECT/NAME.md`: of the build, else of its platform.

    `project` is the project's folder; `machines` and `tables` are what a text may refer to.
    Nothing is printed where nobody has written such a text.
    """
    own = case.thing.id
    reached = {} if case.reach is None else {own: case.reach.facts}
    subjects = Subjects(case.definitions, machines, reached, tables)

    def prose(name: str, subject: str = "") -> tuple[Block, ...]:
        if any(sign in f"{name}{subject}" for sign in "/\\") or name.startswith("."):
            raise AuthorError(f"`{name}` is not the name of a text", "leave out folders and `.md`")
        if project is None:
            return ()
        for about in (subject,) if subject else dict.fromkeys((own, case.platform.id)):
            path = in_language(project / PROSE / about, name, language)
            if path is not None:
                return _blocks(path, about)
        return ()

    def _blocks(path: Path, about: str) -> tuple[Block, ...]:
        text, findings = read_text(path, f"{PROSE}/{about}/{path.name}")
        if text is None:
            raise FoundElsewhere(findings[0])
        shown = text.language or case.definitions.project.language
        told = notice(shown, language)
        above = (Paragraph((Emphasis(words(told)),)),) if told else ()
        return (*above, *blocks_of_prose(text, subjects, own))

    return prose


def blocks_of_prose(text: Prose, subjects: Subjects, here: str = "") -> tuple[Block, ...]:
    """A text as blocks, its references printed within the document about `here`."""
    filled, at = Filled(), 0
    pieces: list[str] = []
    for passage in passages(text):
        for mention in passage.mentions:
            made = printed(mention.inner, text.subject, subjects, here)
            start, end = passage.offsets(mention.start, mention.end)
            pieces += [text.body[at:start], filled.keep(made.linked)]
            at = end
    filled.source = "".join((*pieces, text.body[at:]))
    return blocks_of(filled, language=text.language)
