"""Texts of ours, gathered to be read for words that the trade does not use."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final

import yaml
from babel.messages.pofile import read_po

from specgen.cli.manual import made_pages
from specgen.facts import CALCULATORS

ROOT: Final = Path(__file__).resolve().parents[2]
GOLDEN: Final = ROOT / "tests/golden/expected"
INTERNAL: Final = ("review", "engineering", "explain", "facts", "findings")
"""Documents of the golden ones that no reader of a product gets."""
TOLD: Final = frozenset(
    (
        "name",
        "title",
        "summary",
        "because",
        "note",
        "shared",
        "suitable_for",
        "limitations",
        "label",
    )
)
"""Fields of definitions that stand in documents as they are written."""


@dataclass(frozen=True)
class Read:
    """A text and where it stands; a label is a head, a title, a name of a value."""

    language: str
    where: str
    text: str
    label: bool = False
    customer: bool = False
    message: bool = False


@cache
def every_text() -> tuple[Read, ...]:
    """Read once for all languages."""
    sources = _catalogues, _labels_of_facts, _documents, _manual, _demo
    return tuple(read for source in sources for read in source())


def _catalogues() -> Iterator[Read]:
    """All messages of the program and of its templates, and what translators made of them."""
    for path in sorted((ROOT / "templates/languages").glob("*.po")):
        with path.open("rb") as file:
            for message in read_po(file):
                english, own = message.id, message.string
                if not english:
                    continue
                for text in (english,) if isinstance(english, str) else english:
                    yield Read("en", f"message `{text[:50]}`", text, message=True)
                for text in (own,) if isinstance(own, str) else own:
                    where = f"{path.name} at `{str(english)[:50]}`"
                    yield Read(path.stem, where, text, message=True)


def _labels_of_facts() -> Iterator[Read]:
    for fact in CALCULATORS:
        for text in sorted({str(fact.label), str(fact.short)}):
            yield Read("en", f"label of {fact.key}", text, label=True)


def _documents() -> Iterator[Read]:
    for path in sorted((*GOLDEN.glob("*.md"), *(ROOT / "tests/languages/expected").glob("*.md"))):
        language = path.suffixes[0][1:] if len(path.suffixes) == 2 else "en"
        language = language if len(language) == 2 else "en"
        customer = not any(word in path.name for word in INTERNAL)
        yield from markdown(language, path.name, path.read_text("utf-8"), customer)


def _manual() -> Iterator[Read]:
    pages = {
        str(path.relative_to(ROOT)): path.read_text("utf-8")
        for path in (ROOT / "README.md", *sorted((ROOT / "site/manual").rglob("*.md")))
    }
    for name, text in (pages | dict(made_pages())).items():
        yield from markdown("en", name, text, customer=False)


def _demo() -> Iterator[Read]:
    """What the definitions of the demo say to readers, and its pages and pieces of prose."""
    for path in sorted((ROOT / "builds").rglob("*.md")):
        if ".schemas" not in path.parts:
            yield from markdown("en", path.name, path.read_text("utf-8"), customer=True)
    for path in sorted((ROOT / "builds").rglob("*.yaml")):
        for text in _told(yaml.safe_load(path.read_text("utf-8"))):
            yield Read("en", path.name, text, customer=True)


def _told(node: Any, key: str = "") -> Iterator[str]:
    if isinstance(node, dict):
        for name, inner in node.items():
            yield from _told(inner, str(name))
    elif isinstance(node, list):
        for inner in node:
            yield from _told(inner, key)
    elif isinstance(node, str) and key in TOLD:
        yield node


def markdown(language: str, where: str, text: str, customer: bool) -> Iterator[Read]:
    """Lines of a document; its headings, heads of tables and terms of lists as labels."""
    lines = [_prose(line) for line in text.splitlines()]
    for at, line in enumerate(lines):
        place = f"{where}:{at + 1}"
        yield Read(language, place, line, customer=customer)
        if line.startswith("#"):
            yield Read(language, place, line.lstrip("# "), label=True, customer=customer)
        elif line.startswith("|") and at + 1 < len(lines) and re.match(r"\| *:?-", lines[at + 1]):
            for cell in line.strip("|").split("|"):
                yield Read(language, place, cell.strip(), label=True, customer=customer)
        elif term := re.match(r"[-*] \*\*(.+?):\*\*", line):
            yield Read(language, place, term[1], label=True, customer=customer)


def _prose(line: str) -> str:
    """A line without what stands in it letter by letter: code, addresses."""
    return re.sub(r"\]\([^)]*\)", "]", re.sub(r"`[^`]*`", "`", line))


def keys() -> Iterator[tuple[str, str]]:
    """Keys of facts and names of exported data, in words, with where they stand."""
    for fact in CALCULATORS:
        yield fact.key, re.sub(r"[._{}]+", " ", fact.key)
    for path in sorted((ROOT / "templates").glob("*.md")):
        for key in re.findall(r'"([a-z_]+(?:\.[a-z_{}]+)+)"', path.read_text("utf-8")):
            yield f"{path.name}: {key}", re.sub(r"[._{}]+", " ", key)
    for path in sorted((ROOT / "builds/.schemas").glob("*.json")):
        for name in sorted(set(_properties(json.loads(path.read_text("utf-8"))))):
            yield f"{path.name}: {name}", name.replace("_", " ").replace("-", " ")


def _properties(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        if isinstance(node.get("properties"), dict):
            yield from node["properties"]
        for inner in node.values():
            yield from _properties(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from _properties(inner)


def word_list() -> dict[str, list[dict[str, Any]]]:
    found = yaml.safe_load((Path(__file__).parent / "words.yaml").read_text("utf-8"))
    assert isinstance(found, dict)
    return found
