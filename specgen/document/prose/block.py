"""The block `{{ prose("NAME") }}`: a text that was written by hand, as part of a document."""

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Severity
from specgen.document.case import Case, Systems
from specgen.document.illustrated.picture_uses import placed_by
from specgen.document.illustrated.placed_picture import image_of
from specgen.document.maker import AuthorError, BlockFunction, FoundElsewhere
from specgen.document.markdown_reader import blocks_of
from specgen.document.prose.checks import errors_of
from specgen.document.prose.notice import notice
from specgen.document.prose.passages import Mention, ShownPicture, passages
from specgen.document.prose.reference_values import printed
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import PROSE, Prose, in_language, read_text
from specgen.document.template import Filled, Made
from specgen.document.tree import Block, Emphasis, Paragraph, words
from specgen.facts import Fact
from specgen.messages import say

LIMIT: Final = "limit "
"""What stands in every text that refers to a limit."""
Limits = Callable[[], Mapping[str, Mapping[str, Fact]]]
"""What platforms can reach, by their ids."""


def prose_block(
    case: Case,
    project: Path | None,
    language: str,
    systems: Systems,
    tables: Callable[[], Mapping[str, Callable[[Case], object]]] = dict,
    trouble: list[Finding] | None = None,
    limits: Limits = dict,
) -> BlockFunction:
    """What prints `prose/SUBJECT/NAME.md`: of the build, else of its platform.

    `project` is the project's folder; `systems` and `tables` are what a text may refer to. Errors
    in a text that is printed are added to `trouble`; `limits` are asked for where a text refers to
    one and the system's own are not at hand.
    Nothing is printed where nobody has written such a text.
    """
    own = case.thing.id

    def prose(name: str, subject: str = "") -> tuple[Block, ...]:
        odd = any(sign in f"{name}{subject}" for sign in "/\\\0")
        if odd or name.startswith(".") or subject.startswith("."):
            message = say("`{name}` is not the name of a text", name=name)
            raise AuthorError(message, say("leave out folders and `.md`"))
        if project is None:
            return ()
        for about in (subject,) if subject else dict.fromkeys((own, case.platform.id)):
            path = in_language(project, f"{PROSE}/{about}", name, language)
            if path is not None:
                return _blocks(project, path, about)
        return ()

    def _blocks(project: Path, path: Path, about: str) -> tuple[Block, ...]:
        text, findings = read_text(project, path, f"{PROSE}/{about}/{path.name}")
        if text is None:
            raise FoundElsewhere(findings[0])
        known: Mapping[str, Mapping[str, Fact]] = {}
        if LIMIT in text.body:
            own_reach = case.reach
            known = limits() if own_reach is None else {case.platform.id: own_reach.facts}
        subjects = Subjects(case.definitions, systems, known, tables)
        if trouble is not None:
            trouble.extend(each for each in findings if each.severity is Severity.ERROR)
            trouble.extend(errors_of(text, subjects))
        shown = text.language or case.definitions.project.language
        message = notice(shown, language)
        above = (Paragraph((Emphasis(words(message)),)),) if message else ()
        picture = partial(_image, project, text, subjects)
        return (*above, *blocks_of_prose(text, subjects, own, picture))

    return prose


def _image(project: Path, text: Prose, subjects: Subjects, shown: ShownPicture) -> Block | None:
    """A picture of the project's own where a text shows it, by the path of its file."""
    illustration = placed_by(shown.source, text.file, subjects.definitions)
    if illustration is None:
        return None
    return image_of(project, illustration, subjects, shown.alternative, shown.title)


def no_picture(_: ShownPicture) -> None:
    """Pictures leave their words."""


def blocks_of_prose(
    text: Prose,
    subjects: Subjects,
    here: str = "",
    picture: Callable[[ShownPicture], Block | None] = no_picture,
) -> tuple[Block, ...]:
    """A text as blocks, its references and its pictures printed within the document about `here`.

    A picture that is none of the project's leaves its words, which is told.
    """
    filled, at = Filled(), 0
    pieces: list[str] = []
    for passage in passages(text):
        shown = ((each, picture(each)) for each in passage.pictures)
        found: list[tuple[Mention | ShownPicture, Made]] = [
            *((each, (made,)) for each, made in shown if made is not None),
            *(
                (each, printed(each.inner, text.subject, subjects, here).linked)
                for each in passage.mentions
            ),
        ]
        for each, made in sorted(found, key=lambda pair: pair[0].start):
            start, end = passage.offsets(each.start, each.end)
            if start < at:  # a reference in the words of a picture
                continue
            pieces += [text.body[at:start], filled.keep(made)]
            at = end
    filled.source = "".join((*pieces, text.body[at:]))
    return blocks_of(filled, language=text.language)
