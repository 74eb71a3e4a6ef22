"""No label of a fact is typed again, in a shipped template or in Python: its key stands for it, or
the field that both are of."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from specgen.facts import CALCULATORS
from specgen.messages import ENGLISH
from specgen.shipped import templates_folder
from tests.repo.house import PACKAGE, modules

FACTS = {each.key: each for each in CALCULATORS}
ENTRY = re.compile(r'\("([^"{}]+)", ((?:"[^"]*"(?:, )?)+)\)')
"""What an entry of a list or a column is called, and its patterns or its key."""
KEY = re.compile(r"\{([a-z][\w.-]*)\}")
OF_ONE = re.compile(r"^\{(?:build|platform)\}\.")


def typed_again(template: str) -> Iterator[tuple[str, str]]:
    """Labels that are those of a fact beside them, with its key."""
    for label, rest in ENTRY.findall(template):
        patterns = re.findall(r'"([^"]*)"', rest)
        for key in (key for pattern in patterns for key in KEY.findall(pattern)):
            if key in FACTS and ENGLISH.text(FACTS[key].label) == label:
                yield label, key
        fact = FACTS.get(OF_ONE.sub("", patterns[0])) if len(patterns) == 1 else None
        if fact is not None and ENGLISH.text(fact.short or fact.label) == label:
            yield label, fact.key


@pytest.mark.parametrize("name", sorted(path.name for path in templates_folder().glob("*.md")))
def test_a_key_stands_for_its_label(name: str) -> None:
    assert list(typed_again((templates_folder() / name).read_text(encoding="utf-8"))) == []


def test_a_label_that_is_typed_again_is_found() -> None:
    assert list(typed_again('("Cores", "{processors.cores}, all"), ("All", "{memory.speed}")')) == [
        ("Cores", "processors.cores")
    ]
    assert [key for _, key in typed_again('("Per rack", "{build}.power.rack_input"),')] == [
        "power.rack_input"
    ]


KEPT: Final = {
    "document/blocks/fact_table.py": {"Server": "what rows are about, here builds of an order"},
    "document/blocks/fitted.py": {
        "Memory": "a caption: the modules",
        "Processor": "a position; the fact gives models",
        "Drives": "a caption: the drives; the fact counts them",
        "Drive bays": "a caption: the bays; the fact counts them",
        "Power supplies": "a caption: the supplies; the fact counts them",
    },
    "document/blocks/inlet.py": {"Set by": "what sets a temperature; the facts are of rates"},
    "document/blocks/links_and_ports.py": {"Ethernet ports": "a caption; the fact counts them"},
    "document/blocks/options.py": {"Number": "of positions alike, which are no fact"},
    "document/blocks/overview.py": {"Number": "of fixtures, which are no fact"},
    "document/blocks/part_page.py": {
        "Ethernet ports": "a caption; the fact counts those of a system",
        "Efficiency": "a caption of a curve; the fact is one point of it",
        "Line voltage": "at which a curve was taken; the fact is that of the site",
    },
    "document/blocks/preparation.py": {"Number": "of cords of an order; the facts are of a system"},
    "model/part.py": {
        "Weight": "of one part; the fact is that of the system",
        "Maximum inlet temperature": "that one part stands; the fact is the least of all",
    },
    "model/platform.py": {"Weight": "of the chassis; the fact is that of the system"},
    "model/traits.py": {"PCIe generation": "of a card; the fact is the least on the way to it"},
    "limits/objectives.py": {"Memory": "what is limited, in short; the fact is an accelerator's"},
    "site/fact_pages.py": {
        "Processors": "a group of facts; the fact counts them",
        "Memory": "a group of facts; the fact is an accelerator's",
    },
    "facts/inputs.py": {"PSU redundancy": "within a sentence, where the others begin small"},
    "facts/orders.py": {"Number": "of servers ordered; the facts are of drives and parts"},
    "drawings/boxes.py": {"Memory": "the name of a box; the fact is an accelerator's"},
    "drawings/memory_map.py": {"Memory": "the name of a box; the fact is an accelerator's"},
}
"""Texts that are also a label of a fact, with the reason why they mean something else."""


def typed(tree: ast.Module) -> Iterator[str]:
    """What a module has in calls of `say` and `Called`."""
    for call in ast.walk(tree):
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.args:
            at = {"say": 0, "Called": 0, "say_as": 1}.get(call.func.id)
            text = call.args[at] if at is not None else None
            if isinstance(text, ast.Constant) and isinstance(text.value, str):
                yield text.value


def test_no_module_types_the_label_of_a_fact_but_for_a_reason() -> None:
    of_facts, others = set[str](), dict[str, set[str]]()
    for path, tree in modules():
        name = Path(path).relative_to(PACKAGE).as_posix()
        if name.startswith("facts/calculators/"):
            of_facts.update(typed(tree))
        else:
            others[name] = set(typed(tree))
    labels = {ENGLISH.text(each) for fact in FACTS.values() for each in (fact.label, fact.short)}
    of_facts &= labels
    assert len(of_facts) > 300
    found = {name: texts & of_facts for name, texts in others.items() if texts & of_facts}
    assert found == {name: set(reasons) for name, reasons in KEPT.items()}
