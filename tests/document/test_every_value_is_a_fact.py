"""No number reaches a page but as a fact, or as part of a name or a sentence of a definition."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass

import pytest

from specgen.document.blocks.declared_rules import rule_words
from specgen.document.case import Case, FamilyCase, PartCase, no_systems
from specgen.document.document_types import part_document, system_document
from specgen.document.shelf import templates_of
from specgen.document.tree import Document, Figure, Literal, Text, Value
from specgen.facts.calculators.subjects import STATE_NAMES
from specgen.facts.declared import declared_facts
from specgen.model import Definitions, Part, Platform, expand
from specgen.pipeline import Survey, bare_case
from specgen.rules.declared import rule_book

SIDES = {"sides": lambda: Figure("Sides", None, "")}  # what a drawing says has tests of its own
VALUE = re.compile(r"^[-+]?\d[\d.]*(?:\s*[A-Za-z/%°]+\d?)?$")
# where something stands, not how much of it there is
REFERENCE = re.compile(
    r"(?:Table|Figure) \d+|page \S+(?: to \S+)?|\d{4}-\d{2}-\d{2}|NEC \(NFPA 70\), 210\.20\(A\)"
)
NUMBER = re.compile(r"(?<![\w.])\d[\d.,\u202f]*")


def pieces(node: object) -> Iterator[Text | Value]:
    """Every text and value of a document; what is to be read letter by letter is no value."""
    if isinstance(node, Text | Value):
        yield node
    elif isinstance(node, Literal | Figure):
        return
    elif isinstance(node, tuple):
        for each in node:
            yield from pieces(each)
    elif is_dataclass(node):
        for field in fields(node):
            yield from pieces(getattr(node, field.name))


def texts_of(value: object) -> Iterator[str]:
    """Every text that a definition holds, at any depth."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from (str(key), *texts_of(each))
    elif isinstance(value, list | tuple):
        for each in value:
            yield from texts_of(each)


def declared_texts(definitions: Definitions, case: Case | None) -> list[str]:
    """Names and sentences of definitions, the longest first."""
    things = (
        definitions.project,
        *definitions.parts.values(),
        *definitions.platforms.values(),
        *definitions.builds.values(),
    )
    found = {text for thing in things for text in texts_of(thing.origin.tree)}
    found |= {str(rule_words(definitions, rule)) for rule in rule_book(definitions).rules}
    for part in definitions.parts.values():
        for each in (*part.brings.positions, *part.brings.ports):
            found |= {name.removeprefix(".") for name in expand(each.name)}
            found |= set(expand(each.name))
    if case is not None:
        found |= set(case.assembly.places) | set(case.assembly.ports)
        found |= set(map(str, STATE_NAMES.values()))  # named by how many supplies have failed
        # what a check says of the system stands under the review notes in the check's words
        for finding in case.findings:
            message = str(finding.message)
            found |= {message[:1].upper() + message[1:], *map(str, finding.notes)}
    worded = (text for text in found if re.search(r"\d", text) and not VALUE.match(text))
    return sorted(worded, key=len, reverse=True)


def loose_numbers(document: Document, known: list[str]) -> list[str]:
    """Numbers in running text that come neither from a fact nor from a definition's words."""
    stems = {re.sub(r"\d+$", "", text) for text in known if re.search(r"[A-Za-z .]\d+$", text)}
    names = re.compile(
        "(?:" + "|".join(map(re.escape, sorted(stems, key=len, reverse=True))) + r")\d+(?: to \d+)?"
    )
    loose = []
    for piece in pieces(document.blocks):
        if not isinstance(piece, Text) or not re.search(r"\d", piece.text):
            continue
        text = REFERENCE.sub(" ", names.sub(" ", piece.text))
        for word in known:
            text = text.replace(names.sub(" ", word), " ") if word in piece.text else text
        if NUMBER.search(text):
            loose.append(piece.text)
    return loose


def unkeyed(document: Document, keys: Iterable[str]) -> list[str]:
    """Printed values that name no fact."""
    known = set(keys)
    return [
        f"{piece.number} {piece.unit} [{piece.key}]"
        for piece in pieces(document.blocks)
        if isinstance(piece, Value)
        and piece.key not in known
        and not re.match(
            r"parts\.|[a-z0-9.-]+\.(positions|options|fixtures|builds|review\.count_\w+)$",
            piece.key,
        )
    ]


def keys_of(thing: Part | Platform) -> set[str]:
    return {fact.key for fact in declared_facts(thing)}


def field_key(key: str, definitions: Definitions) -> bool:
    """Whether a key names a field of a definition, tables within it included."""
    for things in (definitions.parts, definitions.platforms):
        for name, thing in things.items():
            if key.startswith(f"{name}."):
                steps = key.removeprefix(f"{name}.").removeprefix("declared.").split(".")
                path = tuple(int(step) if step.isdigit() else step for step in steps)
                if thing.origin.at(*path) != thing.origin.at():
                    return True
    return False


@pytest.fixture(scope="module")
def made(demo: Survey) -> dict[str, tuple[Case, Document]]:
    """The sheet of each demo build."""
    templates = templates_of(demo.root)
    sheets = {}
    for name, case in demo.cases.items():
        document, problems = system_document("sheet", templates, case, PICTURES, no_systems)
        assert document is not None, problems
        sheets[name] = (case, document)
    return sheets


def picture() -> Figure:
    return Figure("Topology", None, "drawn elsewhere", "topology-figure")


PICTURES = {"topology": picture, "sides": picture}


def test_every_value_of_every_sheet_names_a_fact(made: dict[str, tuple[Case, Document]]) -> None:
    for name, (case, document) in made.items():
        keys = set(case.facts)
        loose = [
            got
            for got in unkeyed(document, keys)
            if not field_key(got.rsplit("[", 1)[1].rstrip("]"), case.definitions)
        ]
        assert loose == [], name


def test_no_sheet_prints_a_number_that_is_no_fact(made: dict[str, tuple[Case, Document]]) -> None:
    for name, (case, document) in made.items():
        known = declared_texts(case.definitions, case)
        assert loose_numbers(document, known)[:5] == [], name


def test_a_number_typed_into_a_template_is_found(demo: Survey) -> None:
    case = demo.cases["boathouse-archive"]
    document = Document("t", (Text("It draws 640 W."),))  # type: ignore[arg-type]
    assert loose_numbers(document, declared_texts(case.definitions, case)) == ["It draws 640 W."]


def test_pages_of_parts_and_platforms_print_facts_alone(demo: Survey) -> None:
    definitions = demo.definitions
    assert definitions is not None
    templates = templates_of(demo.root)
    for part in list(definitions.parts.values())[::7]:
        document, problems = part_document("part", templates, PartCase(definitions, part, ()))
        assert document is not None, problems
        loose = loose_numbers(document, declared_texts(definitions, None))
        assert [t for t in loose if not re.fullmatch(r"[A-Z ]+\d+ to \d+ filled", t)] == [], part.id
    for platform in definitions.platforms.values():
        case = bare_case(definitions, platform)
        family = FamilyCase(definitions, {}, {})
        bare, problems = system_document("platform", templates, case, SIDES, no_systems, family)
        assert bare is not None, problems
        assert loose_numbers(bare, declared_texts(definitions, case)) == [], platform.id
