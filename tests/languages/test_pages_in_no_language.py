"""No page of a site prints an English word of ours where its language has other ones.

The demo is published with the texts of its definitions in capitals, in a language that writes every
letter of ours as a sign: a small letter that is left has been worded before its language was known.
"""

import re
import shutil
from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import fields, is_dataclass, replace
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from specgen.cli.cache_folder import kept_folder
from specgen.document import compose as stage
from specgen.limits.reach import reaches
from specgen.load.definitions import Loaded
from specgen.model import Part
from specgen.model.platform import Cover
from specgen.pipeline import read
from specgen.quantity import Quantity
from specgen.site.pages import make_pages
from tests.languages.test_words_chosen_last import Signs

BUILDS = ("capstan-forecast", "boathouse-archive", "pocket-tide-gauge")
TEXTS = frozenset(
    {
        *("name", "title", "summary", "because", "reason", "what", "note", "notes", "suitable_for"),
        *("limitations", "document", "maker", "short", "plural", "description", "meaning"),
        *("attributes", "words", "about", "address", "history", "edition", "deletion"),
        *("currency", "firmware", "management", "interfaces", "terms", "shared", "page"),
        *("specification", "fastener", "open", "close", "tools"),
        *("alternative", "caption", "credit", "licence", "label"),
    }
)
"""Fields of definitions that hold a project's own words."""
UNREAD = re.compile(r"<(script|style|pre|code)\b.*?</\1>", re.S)
TAG = re.compile(r"<[^>]*>")
EXPRESSION = re.compile(r"\w+(?:\.\w+)+|\w+\(|\.example\b", re.I)
WORD = re.compile(r"(?<![\w.{@-])[a-z]{3,}(?![\w.}@-])")
PAGES_READ = 300


def shout(node: Any, seen: set[int]) -> None:
    """Puts the texts of definitions in capitals."""
    if id(node) in seen or isinstance(node, type | Quantity):
        return
    seen.add(id(node))
    if isinstance(node, Mapping):
        for each in node.values():
            shout(each, seen)
    elif isinstance(node, tuple):
        for each in node:
            shout(each, seen)
    elif is_dataclass(node):
        for field in fields(node):
            value = getattr(node, field.name, None)
            named = isinstance(node, Cover) and field.name == "name"  # by others
            if field.name in TEXTS and not named:
                value = _capitals(value)
                object.__setattr__(node, field.name, value)
            shout(value, seen)


def _capitals(value: Any) -> Any:
    match value:
        case str():
            return value.upper()
        case tuple():
            return tuple(each.upper() if isinstance(each, str) else each for each in value)
        case dict():
            return {key: _capitals(each) for key, each in value.items()}
    return value


def loud(folder: Path) -> Loaded:
    loaded = read(folder).loaded
    assert loaded.definitions is not None
    whole = deepcopy(loaded.definitions)  # what was read of the same text serves other tests
    definitions = replace(
        whole,
        builds={name: whole.builds[name] for name in BUILDS},
        platforms={
            name: replace(each, shown=each.shown if each.shown in BUILDS else None)
            for name, each in whole.platforms.items()
        },
        project=replace(whole.project, language="de", downloads=()),
    )
    seen: set[int] = set()
    for each in (definitions.parts, definitions.platforms, definitions.builds, definitions.project):
        shout(each, seen)
    return replace(loaded, definitions=definitions)


def leaks(html: str, ids: frozenset[str]) -> Iterator[str]:
    for line in unescape(TAG.sub("\n", UNREAD.sub(" ", html))).split("\n"):
        words = set(WORD.findall(EXPRESSION.sub(" ", line))) - ids
        if words:
            yield f"{sorted(words)}: {line.strip()[:120]}"


def _names_in(part: Part) -> Iterator[str]:
    """Words of forms, plugs and attributes, which a definition names and checks compare."""
    for name in ("form", "far_form", "chemistry", "plug", "inlet", "connector"):
        yield from re.findall(r"[a-z]+", str(getattr(part, name, "")))
    for name in part.attributes:
        yield from re.findall(r"[a-z]+", name)


@pytest.mark.slow
def test_no_page_of_a_site_is_worded_before_its_language_is_known(
    demo_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "project"
    shutil.copytree(demo_folder, folder, ignore=shutil.ignore_patterns("prose", "pages", "site"))
    loaded = loud(folder)
    assert loaded.definitions is not None
    quiet = read(demo_folder).loaded.definitions
    assert quiet is not None
    reach = reaches(quiet, kept_folder())  # as limits are kept
    for module in (stage.__name__, "specgen.site.localizer", "specgen.write.writer_options"):
        monkeypatch.setattr(f"{module}.language_of", lambda tag, _=None, outdated=False: Signs(tag))
    made = make_pages(
        folder,
        loaded,
        tmp_path / "scratch",
        jobs=1,
        cache=kept_folder(),
        done=lambda _: None,
        reach=reach,
    )
    assert len(made.pages) > PAGES_READ
    definitions = loaded.definitions
    ids = frozenset({*definitions.parts, *definitions.platforms, *definitions.builds})
    ids |= {word for part in definitions.parts.values() for word in _names_in(part)}
    for platform in definitions.platforms.values():
        named = (*(each.name for each in platform.covers), *platform.documents)
        ids |= {word for name in named for word in re.findall("[a-z]+", name)}
    found = {leak: page.path for page in made.pages for leak in leaks(page.html(), ids)}
    assert [f"{path}, {leak}" for leak, path in sorted(found.items())] == []
