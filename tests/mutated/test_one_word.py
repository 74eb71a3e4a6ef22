"""One wrong word is one mistake: no line has two findings of it, whichever word it is."""

import re
from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

import pytest

from specgen.diagnostics import Span
from specgen.source import read_tree
from tests.projects import base, edited, project

FREE = {"name", "summary", "because", "title", "document", "page", "reason", "label", "plural"}
"""Fields of plain text, where any word is as good as another."""
SHARE = 12
"""Every how-manieth word is tried where not all are."""


class Word(NamedTuple):
    """A word of a file: the steps to it, and where it stands."""

    steps: tuple[str, ...]
    text: str
    span: Span


def _words(node: object, steps: tuple[str, ...] = ()) -> Iterator[Word]:
    if isinstance(node, dict):
        for key, value in node.items():
            yield Word((*steps, f"{key}:"), str(key), node.key_spans[key])
            yield from _words(value, (*steps, str(key)))
    elif isinstance(node, list):
        for value in node:
            yield from _words(value, steps)
    elif isinstance(node, str) and steps[-1] not in FREE:
        yield Word(steps, str(node), node.span)


def misspelt(word: str) -> str | None:
    """A word with its second and third letter exchanged, None where it is no word."""
    if re.match(r"[\d.]+ ?\S*$", word) or not re.search(r"[a-z]{3}", word):
        return None
    found = re.search(r"[A-Za-z]{3,}", word)
    if found is None or found[0][1] == found[0][2]:
        return None
    letters = found[0]
    swapped = letters[0] + letters[2] + letters[1] + letters[3:]
    return word[: found.start()] + swapped + word[found.end() :]


def edits() -> list[tuple[str, int, str, str]]:
    """File, line, the line as it is and misspelt; one of each sort of word."""
    found: dict[tuple[str, ...], tuple[str, int, str, str]] = {}
    for name, text in base().items():
        tree, _ = read_tree(text, name)
        lines = text.split("\n")
        for steps, word, span in _words(tree):
            wrong, line = misspelt(word), lines[span.line - 1]
            at = line.find(word, span.column - 1)
            if wrong is None or at < 0:
                continue
            sort = (name.split("/")[0], *steps[-3:])
            new = line[:at] + wrong + line[at + len(word) :]
            found.setdefault(sort, (name, span.line, line, new))
    return list(found.values())


def _findings(name: str, number: int, new: str) -> list[tuple[str, int, str]]:
    files = base()
    lines = files[name].split("\n")
    lines[number - 1] = new
    files[name] = "\n".join(lines)
    found = project(files).findings
    return [(each.at.span.file, each.at.span.line, each.code.id) for each in found]


def _told_twice(share: int) -> Iterator[str]:
    for name, number, _, new in edits()[::share]:
        found = _findings(name, number, new)
        several = {line for line, n in Counter((f, at) for f, at, _ in found).items() if n > 1}
        if several:
            codes = [code for file, line, code in found if (file, line) in several]
            yield f"{name}:{number} {new.strip()}: {codes}"


def test_no_line_has_two_findings_of_one_wrong_word() -> None:
    assert list(_told_twice(SHARE)) == []


@pytest.mark.slow
def test_no_line_has_two_findings_whichever_word_is_wrong() -> None:
    assert list(_told_twice(1)) == []


CARDS, MEMORY = "catalog/cards.yaml", "catalog/memory.yaml"
ONE_WORD = (
    # what follows from a word is not told beside it
    (CARDS, "  parts:\n    - id: raid-8", "  prats:\n    - id: raid-8", ["SG111"]),
    (CARDS, "- kind: storage-controller\n  c", "- knid: storage-controller\n  c", ["SG111"]),
    (CARDS, "resource: pcie-8-pin", "resource: pice-8-pin", ["SG220"]),
    (CARDS, "form: board", "form: baord", ["SG220"]),
    (MEMORY, "common:\n  technology: ddr5", "common:\n  technology: drd5", ["SG219"]),
    ("catalog/processors.yaml", "memory_technology: ddr5", "memory_technology: drd5", ["SG219"]),
    ("platforms/lantern.yaml", "EDGE 1: {from:", "EDGE 1: {form:", ["SG102"]),
)


@pytest.mark.parametrize(("file", "old", "new", "codes"), ONE_WORD, ids=lambda each: str(each)[:40])
def test_what_follows_from_a_wrong_word_is_not_told(
    file: str, old: str, new: str, codes: list[str]
) -> None:
    assert project(edited(file, old, new)).codes == codes


def test_a_part_that_nobody_knows_is_told_where_it_is_needed_and_not_in_builds() -> None:
    needs = "needs: [{part: tpn}], name: TPM,"
    files = edited("catalog/house.yaml", "id: tpm, name: TPM,", f"id: tpm, {needs}")
    assert project(files).codes == ["SG201"]
