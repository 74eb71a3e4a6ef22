"""The block `{{ prose("NAME") }}`: a text that was written by hand, as part of a document."""

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from operator import itemgetter
from pathlib import Path
from types import MappingProxyType
from typing import Final

from specgen.diagnostics import Finding, Severity
from specgen.document.case import Case, Systems
from specgen.document.illustrated.picture_uses import placed_by
from specgen.document.illustrated.placed_picture import image_of
from specgen.document.maker import AuthorError, BlockFunction, FoundElsewhere
from specgen.document.markdown_reader import IN_NONE, Elsewise, blocks_of
from specgen.document.prose.checks import errors_of
from specgen.document.prose.notice import notice
from specgen.document.prose.passages import ShownPicture, passages
from specgen.document.prose.placed import Makers, place, placed_in
from specgen.document.prose.reference_values import printed
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import PROSE, Prose, in_language, read_text
from specgen.document.template import Filled, Made, audience_now
from specgen.document.translations.prose_texts import Translated, numbered, translated
from specgen.document.tree import Block, Emphasis, Paragraph, words
from specgen.document.written_words import spoken_in
from specgen.facts import Fact
from specgen.messages import base_of, say
from specgen.messages.catalogue import language_of
from specgen.model import Project

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
    makers: Callable[[], Makers] = dict,
) -> BlockFunction:
    """What prints `prose/SUBJECT/NAME.md`: of the build, else of its platform.

    `project` is the project's folder; `systems` and `tables` are what a text may refer to. Errors
    in a text that is printed are added to `trouble`; `limits` are asked for where a text refers to
    one and the system's own are not at hand; `makers` are what the document's template may call,
    which a text may place.
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
        shown = spoken = text.language or case.definitions.project.language
        other = IN_NONE
        if base_of(shown) == base_of(case.definitions.project.language) != base_of(language):
            made = _translated(text, language, project, case.definitions.project)
            if made is not None:
                text, other = made.text, (language, made.places)
                shown = language if made.whole else shown
        message = notice(shown, language)
        above = (Paragraph((Emphasis(words(message)),)),) if message else ()
        picture = partial(_image, project, text, subjects)
        made_by = makers()
        return (*above, *blocks_of_prose(text, subjects, own, picture, made_by, spoken, other))

    return prose


def _translated(text: Prose, language: str, root: Path, project: Project) -> Translated | None:
    """A text as far as the project's own catalogue has it in a language."""
    return translated(text, language_of(language, root, outdated=project.outdated))


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
    makers: Makers = MappingProxyType({}),
    spoken: str = "",
    other: Elsewise = IN_NONE,
) -> tuple[Block, ...]:
    """A text as blocks, its references and its pictures printed within the document about `here`,
    and what it places made by the `makers` of that document.

    A picture that is none of the project's leaves its words, which is told. The text is in the
    language `spoken`, "" for its own, but for what is in an `other` one.
    """
    filled, at = Filled(), 0
    pieces: list[str] = []
    own, gone = spoken or text.language, list[tuple[int, int]]()
    shown = _shown(text, subjects, here, picture, (own, other))
    for start, end, made in sorted(
        (*shown, *_placed(text, subjects, here, makers)), key=itemgetter(0)
    ):
        if start < at:  # a reference in the words of a picture
            continue
        pieces += [text.body[at:start], filled.keep(made) if made else ""]
        if breaks := text.body.count("\n", start, end):
            gone.append((text.body.count("\n", 0, start), breaks))
        at = end
    filled.source = "".join((*pieces, text.body[at:]))
    language, places = other
    moved = ((line - sum(n for at, n in gone if at < line), number) for line, number in places)
    return blocks_of(filled, language=own, other=(language, frozenset(moved)))


def _shown(
    text: Prose,
    subjects: Subjects,
    here: str,
    picture: Callable[[ShownPicture], Block | None],
    languages: tuple[str, Elsewise],
) -> Iterator[tuple[int, int, Made]]:
    own, (language, places) = languages
    for at, passage in numbered(passages(text)):
        for shown in passage.pictures:
            image = picture(shown)
            if image is not None:
                yield *passage.offsets(shown.start, shown.end), (image,)
        for mention in passage.mentions:
            made = printed(mention.inner, text.subject, subjects, here).linked
            if "," in mention.inner:  # in the writer's words
                made = spoken_in(made, language if at in places else own)
            yield *passage.offsets(mention.start, mention.end), made


def _placed(
    text: Prose, subjects: Subjects, here: str, makers: Makers
) -> Iterator[tuple[int, int, Made]]:
    lines = text.body.splitlines(keepends=True)
    for token in placed_in(text):
        first, last = token.map or (0, 0)
        start = sum(map(len, lines[:first])) + lines[first].index("{{")
        end = sum(map(len, lines[: last - 1])) + len(lines[last - 1].rstrip())
        yield start, end, place(token, text, subjects, here, makers, audience_now())
