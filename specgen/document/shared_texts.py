"""Texts that documents share: cautions, what a presenter says, steps of service, the glossary.

They are data beside the templates (`templates/texts/*.yaml`): shipped, and replaced piece by piece
by a project's own. Every sentence in them is a message, so it is translated like a template's.
"""

from collections.abc import Iterator, Mapping
from dataclasses import field
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, TypeVar

from specgen.diagnostics import Finding, Label, Severity, codes
from specgen.document.case import Case
from specgen.document.tree import Cell, Datum, Signal
from specgen.expressions.evaluate import Evaluator
from specgen.expressions.read import Statement, read
from specgen.expressions.source_text import BadExpression, text_at
from specgen.expressions.vocabulary import KnownPositions, Vocabulary
from specgen.facts import Facts, known_facts
from specgen.files.gate import is_file
from specgen.frozen import frozen
from specgen.load.decode import decode
from specgen.messages import Message, say
from specgen.messages.pattern import names_of
from specgen.model import Definitions, Origin
from specgen.model.fields import Id, Many, Text, YesNo, record
from specgen.model.pedigree import Unwritten
from specgen.model.procedure import Who
from specgen.rules.definitions.unfinished import left_within
from specgen.source import YamlMapping, YamlSequence, read_file, read_tree

FOLDER: Final = "texts"
ANY: Final = "any"
"""The kind of the entry of a walk that holds for every kind."""


@record
class Sentence:
    """A sentence that is said only where its condition holds; of several systems it may be worded
    as `several`."""

    text: Text
    when: Text | None = None
    several: Text | None = None


CautionParagraph = Text | tuple[Text | Sentence, ...]


@record
class CautionText:
    """A caution: its subject, when there is cause for it, its paragraphs, its signal word.

    `each`: of several systems each has one of its own, and all together say `several`.
    """

    id: Id
    subject: Text
    when: Text | None = None
    says: Text | tuple[CautionParagraph, ...] = ()
    several: Many[Text] = ()
    each: YesNo = False
    signal: Signal = "caution"
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)


@record
class WalkText:
    """What is said of parts of a kind, of empty positions for them, and what to beware of.

    `place`, `cold`, `fibre` and `lithium` belong to the entry of kind `any`.
    """

    kind: Text
    filled: Many[Text] = ()
    empty: Many[Text] = ()
    place: Many[Text] = ()
    warn: Text | None = None
    cold: Text | None = None
    fibre: Text | None = None
    lithium: Text | None = None
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)


@record
class ServiceText:
    """What is done to replace parts of a kind: steps, what to beware of, who may.

    `off`, `on` and `static` belong to the entry of kind `any`: steps round the work, and what
    is done against static electricity. `hot` is done before parts are replaced at work.
    """

    kind: Text
    who: Who | None = None
    running: YesNo = False
    esd: YesNo = True
    cautions: Many[Id] = ()
    off: Many[Text] = ()
    hot: Many[Text] = ()
    static: Text | None = None
    remove: Many[Text] = ()
    install: Many[Text] = ()
    on: Many[Text] = ()
    check: Many[Text] = ()
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)


@record
class Term:
    """A term, or alternatives parted by commas, and what it means."""

    term: Text
    means: Text
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)


@frozen(eq=False)
class Texts:
    """The texts in force, and what was found wrong in the project's own files."""

    cautions: tuple[CautionText, ...] = ()
    walk: Mapping[str, WalkText] = field(default_factory=dict)
    glossary: tuple[Term, ...] = ()
    service: Mapping[str, ServiceText] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()

    def of_kind(self, kind: str) -> WalkText:
        """What is said of a kind; nothing where nobody has written it."""
        return self.walk.get(kind) or WalkText(kind=kind)

    def service_of(self, kind: str) -> ServiceText:
        """What is done at parts of a kind; what is done at any where nobody has written it."""
        return self.service.get(kind) or self.service.get(ANY) or ServiceText(kind=kind)


T = TypeVar("T", CautionText, WalkText, ServiceText, Term)
_FILES: Final[Mapping[type[Any], tuple[str, str]]] = {
    CautionText: ("cautions.yaml", "id"),
    WalkText: ("walk.yaml", "kind"),
    ServiceText: ("service.yaml", "kind"),
    Term: ("glossary.yaml", "term"),
}
"""The file of each sort of text, and the field by which a project's goes before the shipped."""


def texts_of(shipped: Path, project: Path | None) -> Texts:
    """The shipped texts, a project's own in their places; `shipped` is the folder of templates."""
    findings: list[Finding] = []

    def merged(cls: type[T]) -> tuple[T, ...]:
        file, key = _FILES[cls]
        found: dict[str, T] = {}
        name = f"templates/{FOLDER}/{file}"
        ours = (shipped / FOLDER / file).read_text(encoding="utf-8"), ()
        texts: list[tuple[str | None, tuple[Finding, ...]]] = [ours]
        if project is not None and is_file(project, project / name):
            texts.append(read_file(project, project / name, name))
        for text, unread in texts:
            findings.extend(unread)
            if text is not None:
                values, problems = _values(cls, text, name)
                findings.extend(problems)
                found.update({getattr(each, key): each for each in values})
        return tuple(found.values())

    cautions = tuple(each for each in merged(CautionText) if each.says)
    walk = {each.kind: each for each in merged(WalkText)}
    service = {each.kind: each for each in merged(ServiceText)}
    return Texts(cautions, walk, merged(Term), service, tuple(findings))


def _values(cls: type[T], text: str, name: str) -> tuple[tuple[T, ...], tuple[Finding, ...]]:
    tree, problems = read_tree(text, name)
    if tree is not None and not isinstance(tree, YamlSequence):
        at = Label(tree.span, say("no `- ` here"))
        return (), (Finding(codes.WRONG_TYPE, say("a file of texts needs a list"), at),)
    findings = list(problems)
    values: list[T] = []
    for item in tree or ():
        if not isinstance(item, YamlMapping):
            at = Label(item.span, say("no `field: value` here"))
            findings.append(Finding(codes.WRONG_TYPE, say("a text needs a mapping of fields"), at))
            continue
        value, mistakes = decode(cls, item)
        findings += mistakes
        findings += left_within(Origin(item), codes.TO_DO_PUBLISHED)
        values += () if value is None else (value,)
    return tuple(values), tuple(findings)


def statement(
    definitions: Definitions, origin: Origin, path: tuple[str | int, ...], plain: str
) -> tuple[Statement | None, tuple[Finding, ...]]:
    """A condition of a text, in the language of rules, about any system of the project."""
    text = text_at(origin, path, plain)
    platforms = tuple(definitions.platforms.values())
    try:
        vocabulary = Vocabulary(
            definitions, KnownPositions(definitions), known_facts(definitions), platforms
        )
        return Statement(read(text, vocabulary), text), ()
    except BadExpression as refused:
        return None, (refused.finding(text),)


def holds(case: Case, origin: Origin, path: tuple[str | int, ...], plain: str | None) -> bool:
    """Whether a condition holds for a system; without one, and for one that is refused, yes."""
    if plain is None:
        return True
    known, _ = _statement(case.definitions, origin, path, plain)
    return known is None or Evaluator(case.assembly, case.facts).holds(known.tree)


@lru_cache(256)
def _statement(
    definitions: Definitions, origin: Origin, path: tuple[str | int, ...], plain: str
) -> tuple[Statement | None, tuple[Finding, ...]]:
    return statement(definitions, origin, path, plain)


def mistakes(texts: Texts, definitions: Definitions) -> Iterator[Finding]:
    """What is wrong in a project's texts: how they are written, and their conditions."""
    yield from texts.findings
    for caution in texts.cautions:
        for path, plain in _conditions(caution):
            yield from _statement(definitions, caution.origin, path, plain)[1]


def errors_of(texts: Texts, definitions: Definitions) -> tuple[Finding, ...]:
    """What keeps a document from being written that prints such texts."""
    found = mistakes(texts, definitions)
    return tuple(each for each in found if each.severity is Severity.ERROR)


def _conditions(caution: CautionText) -> Iterator[tuple[tuple[str | int, ...], str]]:
    if caution.when is not None:
        yield ("when",), caution.when
    for at, paragraph in enumerate(caution.says if isinstance(caution.says, tuple) else ()):
        for number, sentence in enumerate(paragraph if isinstance(paragraph, tuple) else ()):
            if isinstance(sentence, Sentence) and sentence.when is not None:
                yield ("says", at, number, "when"), sentence.when


def phrase(facts: Facts, pattern: str, here: str = "", of: str = "") -> Cell:
    """A message whose open places are facts by key; empty where one of them has no value.

    `{memory.capacity} at {memory.speed}`; in a key `here` stands for a subject. `of` is the system
    whose facts they are, where a document is about several.
    """
    values: dict[str, object] = {}
    for name in names_of(pattern):
        fact = facts.get(name.replace(".here.", f".{here}."))
        if fact is None or fact.value in (None, ()):
            return ()
        values[name] = Datum(fact.value, f"{of}.{fact.key}" if of else fact.key)
    return (Message(pattern, tuple(values.items())),)
