# ruff: noqa: E501 (a table reads best with one row a line)
"""Every rule of the demo fires on a system that breaks it, and on none that is published."""

from collections import Counter
from functools import cache
from typing import Final

import pytest

from specgen.assembly import resolve
from specgen.diagnostics import Finding, Severity
from specgen.document.blocks.declared_rules import rules_of_platform
from specgen.document.tree import plain_text
from specgen.facts import facts_of
from specgen.load.decode import decode
from specgen.load.definitions import load
from specgen.model import Build, Definitions
from specgen.pipeline import bare_case
from specgen.rules import judge
from specgen.rules.declared import rule_book
from specgen.rules.declared.phrasing import in_words
from specgen.source import Sources, YamlMapping, read_project, read_tree
from tests.repo.house import ROOT

FOLDER: Final = ROOT / "builds"


def at(inlet: str) -> tuple[tuple[str, str], ...]:
    """Conditions put before the parts of a build that states none."""
    return (("fit:\n", f"conditions: {{{inlet}}}\nfit:\n"),)


# rule, build, what is written instead of what
BREAKS: Final = (
    ("LANTERN-01", "lantern-relay", at("inlet: 28 degC")),
    ("LANTERN-02", "lantern-sea-watch", at("inlet: 28 degC")),
    ("LANTERN-03", "lantern-sea-watch", (("bezel-lock-1u", "bezel-salt-1u"),)),
    ("LANTERN-04", "lantern-chartroom", at("inlet: 31 degC")),
    ("LANTERN-05", "lantern-relay", (("ocp-4x25-sfp28\n  OCP.PORT 1..4: sfp28-25-dac-3m", "ocp-2x100-qsfp28"), *at("inlet: 31 degC"))),
    ("LANTERN-06", "lantern-relay", (("FAN 1..8: fan-40-strong", "FAN 1..7: fan-40-strong\n  FAN 8: fan-40-plain"),)),
    ("LANTERN-07", "lantern-gateway", (("cable-slimsas-400", "cable-slimsas-700"),)),
    ("LANTERN-08", "lantern-chartroom", (("cable-slimsas-700", "cable-slimsas-400"),)),
    ("LANTERN-09", "lantern-chartroom", (("supply-1300", "supply-1000"),)),
    ("BEACON-01", "beacon-memory", (("inlet: 24 degC", "inlet: 29 degC"),)),
    ("BEACON-02", "beacon-lookout", at("inlet: 33 degC")),
    ("BEACON-03", "beacon-lookout", (("CPU1: ", "CPU1..2: "), ("HS 1: ", "HS 1..2: "), ("FAN 1..4", "FAN 1..6"))),
    ("BEACON-04", "beacon-memory", (("fan-60-strong", "fan-60-hot"),)),
    ("BEACON-05", "beacon-readings", at("inlet: 31 degC")),
    ("BEACON-06", "beacon-ledger", (("  OCP 1: ", "  OCP 2: ocp-2x10-rj45\n  OCP 1: "),)),
    ("BEACON-07", "beacon-lookout", (("cable-mcio-300, to: EDGE 3", "cable-mcio-550, to: EDGE 3"),)),
    ("BEACON-08", "beacon-readings", (("cable-mcio-550", "cable-mcio-300"),)),
    ("BEACON-09", "beacon-hosts", (("PACK 1:", "PACK 2:"),)),
    ("BEACON-10", "beacon-hosts", (("supply-1700", "supply-1300"),)),
    ("BOAT-01", "boathouse-archive", (("inlet: 25 degC", "inlet: 28 degC"),)),
    ("BOAT-02", "boathouse-archive", (("corvane-c24", "corvane-c48"),)),
    ("BOAT-03", "boathouse-fast-store", at("inlet: 31 degC")),
    ("BOAT-04", "boathouse-fast-store", (("CPU1..2:", "CPU1:"),)),
    ("BOAT-05", "boathouse-archive", (("  MID: ", "  REAR: boathouse-rear-2c\n  MID: "),)),
    ("BOAT-06", "boathouse-archive", (("cable-slimsas-400", "cable-slimsas-700"),)),
    ("BOAT-07", "boathouse-backup", (("cable-slimsas-700", "cable-slimsas-400"),)),
    ("BOAT-08", "boathouse-backup", (("PACK 1:", "PACK 2:"),)),
    ("BOAT-09", "boathouse-archive", (("PACK 1..2:", "PACK 1:"),)),
    ("BOAT-10", "boathouse-archive", (("supply-1300", "supply-1000"),)),
    ("CAPSTAN-01", "capstan-forecast", (("inlet: 22 degC", "inlet: 26 degC"),)),
    ("CAPSTAN-02", "capstan-eyes", (("FAN 1..10", "FAN 1..9"),)),
    ("CAPSTAN-03", "capstan-eyes", at("inlet: 31 degC")),
    ("CAPSTAN-04", "capstan-eyes", (("RISER 1..2: capstan-riser-switch", "RISER 1: capstan-riser-switch\n  RISER 2: capstan-riser-direct"),)),
    ("CAPSTAN-05", "capstan-learning", (("SLOT 1, 3, 5: accelerator-300", "SLOT 1, 3: accelerator-300\n  SLOT 5: accelerator-350"),)),
    ("CAPSTAN-06", "capstan-learning", (("cable-mcio-550", "cable-mcio-300"),)),
    ("CAPSTAN-07", "capstan-hindcast", (("raid-tri-16", "raid-flash-16"),)),
    ("CAPSTAN-08", "capstan-forecast", (("supply-2600", "supply-2200"),)),
    ("CAPSTAN-09", "capstan-forecast", (("supply-2600", "supply-2200"),)),
    ("CAPSTAN-10", "capstan-learning", (("  RAILS: rails-slide-4u\n", ""),)),
    ("POCKET-01", "pocket-hill-top", (("inlet: 30 degC", "inlet: 36 degC"),)),
    ("POCKET-02", "pocket-hill-top", (("inlet: 30 degC", "inlet: 31 degC"),)),
    ("POCKET-03", "pocket-shore-camera", at("inlet: 36 degC")),
    ("POCKET-04", "pocket-shore-camera", (("pocket-riser-low", "pocket-riser-tall"),)),
    ("POCKET-05", "pocket-tide-gauge", (("fit:\n", "fit:\n  RISER: pocket-riser-low\n  SLOT 1: lan-4x1-rj45\n"),)),
    ("POCKET-06", "pocket-shore-camera", (("cable-sata-1", "cable-sata-4"),)),
    ("POCKET-07", "pocket-hill-top", (("supply-flex-440", "supply-flex-340"),)),
    ("COAST-01", "capstan-learning", at("line: 120 V")),
    ("COAST-02", "lantern-office", (("PSU 1..2:", "PSU 1:"), ("CORD 1..2:", "CORD 1:"))),
    ("COAST-03", "lantern-sea-watch", at("altitude: 1900 m")),
    ("HOUSE-01", "boathouse-log", (("date: 2026-06-12", "date: 2026-07-01"),)),
    ("HOUSE-02", "capstan-learning", (("  RAILS: rails-slide-4u\n", ""),)),
    ("HOUSE-03", "lantern-chartroom", (("raid-tri-16", "adapter-sas-8"),)),
    ("CARD-01", "beacon-lookout", (("SLOT 1: accelerator-150\n  SLOT 2: accelerator-75", "SLOT 1: accelerator-75\n  SLOT 2: accelerator-150"),)),
    ("CARD-02", "capstan-learning", (("BAY 0..3:", "BAY 0..4:"), ("J0..J1: {part: cable-mcio-550, to: EDGE 1..2}", "J0..J2: {part: cable-mcio-550, to: EDGE 1..3}"), *at("inlet: 31 degC"))),
    ("CARD-04", "capstan-forecast", (("PSU 1..4:", "PSU 1..2:"),)),
    ("CPU-01", "capstan-forecast", (("inlet: 22 degC", "altitude: 1600 m"),)),
    ("LAN-01", "lantern-relay", (("lan-1x400-qsfp-dd", "lan-2x200-qsfp56"),)),
    ("LAN-02", "lantern-relay", at("inlet: 28 degC")),
    ("PACK-01", "boathouse-log", (("line: 120 V", "line: 120 V, altitude: 2100 m"),)),
    ("RISER-01", "capstan-eyes", (("accelerator-150", "accelerator-300"),)),
)  # fmt: skip
NO_OTHER_FAN: Final = {"CARD-03"}
"""Rules that no build of the demo's catalog can break: there is one fan of that size."""


@cache
def demo() -> tuple[Sources, Definitions]:
    sources = read_project(FOLDER)
    definitions = load(sources).definitions
    assert definitions is not None
    return sources, definitions


def found_in(name: str, edits: tuple[tuple[str, str], ...] = ()) -> tuple[Finding, ...]:
    """What is found in one build after edits of its text."""
    sources, definitions = demo()
    text = sources.texts[f"configured/{name}.yaml"]
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new)
    tree, problems = read_tree(text, f"configured/{name}.yaml")
    assert isinstance(tree, YamlMapping), problems
    build, problems = decode(Build, tree)
    assert build is not None, problems
    assembly = resolve(definitions, build)
    assert assembly is not None
    return judge(assembly, facts_of(assembly))


def test_all_rules_of_the_demo_can_be_read():
    book = rule_book(demo()[1])
    assert book.findings == book.doubtful == ()
    assert len(book.rules) >= 40
    scopes = Counter(rule.scope for rule in book.rules)
    assert set(scopes) == {"project", "family", "platform", "part"}
    owners = {rule.owner.id for rule in book.rules if rule.scope == "platform"}
    assert owners == set(demo()[1].platforms)


def test_every_rule_of_the_demo_is_broken_below():
    codes = {rule.code.id for rule in rule_book(demo()[1]).rules}
    assert {code for code, _, _ in BREAKS} == codes - NO_OTHER_FAN


@pytest.mark.parametrize(("code", "build", "edits"), BREAKS, ids=[row[0] for row in BREAKS])
def test_a_rule_of_the_demo_fires_where_it_is_broken(code, build, edits):
    assert code not in {finding.code.id for finding in found_in(build)}
    got = [finding for finding in found_in(build, edits) if finding.code.id == code]
    assert len(got) == 1
    (finding,) = got
    assert finding.at.span.file == f"configured/{build}.yaml"
    assert str(finding.labels[-1].text) == "the rule"
    assert finding.notes
    assert not str(finding.message).endswith(".")


def test_no_build_of_the_demo_breaks_a_rule():
    codes = {rule.code.id for rule in rule_book(demo()[1]).rules}
    for name in demo()[1].builds:
        got = {finding.code.id: finding.severity for finding in found_in(name)}
        assert not codes & got.keys()
        assert Severity.ERROR not in got.values()


def test_most_rules_of_the_demo_say_why_and_a_few_are_put_into_words():
    rules = rule_book(demo()[1]).rules
    silent = [rule for rule in rules if rule.rule.because is None]
    assert 3 <= len(silent) <= 12
    for rule in rules:
        assert str(in_words(rule))[-1] == "."


@pytest.mark.parametrize("name", ["pocket", "lantern", "beacon", "boathouse", "capstan"])
def test_the_page_of_a_platform_lists_its_rules(name):
    definitions = demo()[1]
    made = rules_of_platform(bare_case(definitions, definitions.platforms[name]))
    assert made is not None
    listed = [plain_text(row[0]) for row in made.rows]
    own = [
        rule.code.id
        for rule in rule_book(definitions).general
        if rule.covers(definitions.platforms[name])
    ]
    assert listed[: len(own)] == own
    assert len(set(listed)) == len(listed)
