"""What the trade calls by another word is understood: the name of the program is offered."""

import pytest

from specgen.diagnostics import did_you_mean
from specgen.diagnostics.other_words import OTHER_WORDS
from specgen.load.schema import records
from specgen.load.validation_errors import field_names
from specgen.model import CONDITIONS, KINDS, Build, OwnValue, Platform, Project
from specgen.model.kinds.declared_kinds import DeclaredKind
from tests.mutated.breaks import DRIVES, FULL, HOUSE, PLATFORM, PROCESSORS
from tests.projects import edited, project

ROOTS = (Project, Platform, Build, DeclaredKind, OwnValue, *KINDS.values())


def test_what_is_offered_are_names_of_the_program() -> None:
    fields = {name for cls in records(ROOTS) for name in field_names(cls)}
    assert OTHER_WORDS.keys() - {*KINDS, *CONDITIONS, *fields} == set()


def test_no_word_stands_for_itself_or_twice_in_a_row() -> None:
    for name, text in OTHER_WORDS.items():
        words = [each.strip() for each in text.split(",")]
        assert all(words)
        assert len(set(words)) == len(words)
        assert name not in words


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("psu", "power-supply"),
        ("PSU", "power-supply"),
        ("cpu", "processor"),
        ("RAM", "memory-module"),
        ("ssd", "drive"),
        ("nic", "network-adapter"),
        ("gpu", "accelerator"),
        ("raid_card", "storage-controller"),
        ("Power Cable", "power-cord"),
        ("security module", "tpm"),
    ],
)
def test_kinds_are_found_by_what_else_they_are_called(word: str, meant: str) -> None:
    assert did_you_mean(word, KINDS) == (meant,)


def test_collections_follow_their_kinds() -> None:
    names = [cls.collection() for cls in KINDS.values()]
    assert did_you_mean("cpus", names) == ("processors",)
    assert did_you_mean("psus", names) == ("power_supplies",)
    assert did_you_mean("dimms", names) == ("memory_modules",)


@pytest.mark.parametrize(
    ("file", "old", "new", "meant"),
    [
        (HOUSE, "{kind: cache-protection,", "{kind: bbu,", "`cache-protection`"),
        (HOUSE, "{kind: cache-protection,", "{type: cache-protection,", "`kind`"),
        (PROCESSORS, "base_clock: 2.4 GHz", "frequency: 2.4 GHz", "`base_clock`"),
        (DRIVES, "name: Disk 4 TB", "title: Disk 4 TB", "`name`"),
        (PLATFORM, "mass: 11.2 kg", "weight: 11.2 kg", "`mass`"),
        (PLATFORM, "{name: TPM, takes: tpm", "{name: TPM, takes: security-module",
         "`tpm`"),
        (FULL, "summary: Everything at once", "description: Everything at once", "`summary`"),
        (FULL, "fit:", "components:", "`fit`"),
    ],
)  # fmt: skip
def test_authors_are_told(file: str, old: str, new: str, meant: str) -> None:
    first = project(edited(file, old, new)).findings
    assert any(meant in str(each.help) for each in first), [str(each.help) for each in first]


def test_nothing_is_offered_where_it_cannot_stand() -> None:
    assert did_you_mean("psu", ["drive", "fan"]) == ()
    assert did_you_mean("power-supply", KINDS) == ()
