"""Nothing that documents say is worded before their language is known.

Documents are made in a language that writes every letter of ours as a sign. A word of ours that is
left has been worded too early: by a drawing, a fact, a block that made a text of its own.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.assembly import State
from specgen.cli.cache_folder import kept_folder
from specgen.document import compose as stage
from specgen.document.case import FamilyCase
from specgen.document.figures import DRAWINGS, drawing_of
from specgen.document.sets import comparison_document
from specgen.document.several import Compared
from specgen.document.shelf import templates_of
from specgen.drawings import LayoutEngine, nowhere
from specgen.drawings.lettering import lettered_in
from specgen.messages import Language, Message
from specgen.messages.pattern import Piece, escaped, pieces_of
from specgen.pipeline import Survey, bare_case, compose, systems_of
from specgen.shipped import documents_about
from specgen.write.writer_options import Options
from specgen.write.writers import WRITERS

SYSTEMS = ("boathouse-archive", "capstan-forecast", "pocket-tide-gauge", "beacon", "lantern")
CATALOGUE = Path(__file__).parents[2] / "templates" / "languages" / "de.po"
WORD = re.compile(r"[^\W\d_²³]{2,}")
NO_WORDS = re.compile(r"`[^`]*`|\]\([^)]*\)")
"""Codes and addresses, as Markdown has them."""
TEXTS = re.compile(r"<text[^>]*>([^<]*)<")


class Signs(Language):
    """A language without words."""

    def pattern(self, message: Message) -> str | None:
        return _signs(pieces_of(message.pattern))


def _signs(pieces: tuple[Piece, ...]) -> str:
    return "".join(
        escaped(re.sub(r"[^\W\d_]", "·", piece))
        if isinstance(piece, str)
        else f"{{{piece.name}}}"
        if piece.within is None
        else f"{{{piece.name}:{_signs(piece.within)}}}"
        for piece in pieces
    )


@pytest.fixture(scope="module")
def ours(demo_folder: Path) -> frozenset[str]:
    """The words of our messages that no text of the demo has."""
    messages = re.findall(r'^(?:msgid(?:_plural)? )?"(.*)"$', CATALOGUE.read_text("utf-8"), re.M)
    files = [*demo_folder.rglob("*.yaml"), *demo_folder.rglob("*.md")]
    theirs = {word for each in files for word in WORD.findall(each.read_text("utf-8"))}
    theirs |= {word for each in files for word in re.findall("[a-z]+", each.as_posix())}
    small = (word for each in messages for word in WORD.findall(each) if word.islower())
    return frozenset(small) - theirs


def documents(demo: Survey, root: Path) -> Iterator[tuple[str, str]]:
    templates, engine = templates_of(root, "de"), LayoutEngine()
    assert demo.definitions is not None
    system_of = systems_of(demo.definitions, demo.cases)
    cases = tuple(case for each in SYSTEMS if (case := system_of(each)) is not None)
    bare = {case.platform.id: case for case in cases if case.build is None}
    family = FamilyCase(demo.definitions, bare, {})
    for case in cases:
        for name in documents_about("build" if case.build else "platform", root):
            made, _ = compose(
                name, templates, case, engine, nowhere, family=family, kept=kept_folder()
            )
            if made is not None:
                yield f"{case.thing.id}, {name}", WRITERS["md"].write(made, Options()).decode()
    made, _ = comparison_document(templates, Compared(demo.definitions, cases[:3]))
    assert made is not None
    yield "comparison", WRITERS["md"].write(made, Options()).decode()


@pytest.mark.slow
def test_no_word_of_ours_stands_in_a_language_without_words(
    demo: Survey, demo_folder: Path, ours: frozenset[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert len(ours) > 100
    monkeypatch.setattr(stage, "language_of", lambda tag, _=None, outdated=False: Signs(tag))
    monkeypatch.setattr("specgen.write.writer_options.language_of", lambda tag: Signs(tag))
    early = {
        (where, word, line.strip()[:120])
        for where, text in documents(demo, demo_folder)
        for line in NO_WORDS.sub("", text).split("\n")
        for word in set(WORD.findall(line)) & ours
    }
    assert sorted(early) == []


def test_what_is_in_a_position_is_said_in_the_language_of_the_drawing(demo: Survey) -> None:
    assert demo.definitions is not None
    states = {each.value for each in State}
    early = set()
    for platform in demo.definitions.platforms.values():
        case = bare_case(demo.definitions, platform)
        for name in DRAWINGS:
            with lettered_in(Signs("de")):
                drawing = drawing_of(case, name, LayoutEngine())
            read = drawing.picture.texts() if drawing.picture else ()
            words = {w for text in read for w in WORD.findall(text)}
            early |= {(platform.id, name, word) for word in words & states}
    assert sorted(early) == []
