"""Values of builds that are unusual and sound."""

import re
from collections.abc import Iterator

from specgen.facts import Fact, facts_of
from specgen.facts.calculators.acoustics import energetic_sum
from specgen.facts.fact import Declared
from specgen.quantity import DataRate, Power, SoundPower
from tests.projects import base, project


def test_levels_beyond_all_sense_still_add() -> None:
    loud = SoundPower.parse("9999999 B")
    assert energetic_sum((loud, loud)) > loud  # type: ignore[operator]


def test_positions_that_share_a_port_take_no_more_lanes_than_it_has() -> None:
    files = base()
    house = "catalog/house.yaml"
    narrow = "from: .A, lanes: x8, power: 75 W, neighbour: SLOT 2"
    files[house] = files[house].replace(narrow, narrow.replace("x8", "x16"))
    plain, wide = (
        facts_of(project(each).assemblies["lantern-full"]).value("expansion.CPU1.lanes_used")
        for each in (base(), files)
    )
    assert plain == wide


def test_sata_drives_on_a_sas_port_are_held_back_by_sata() -> None:
    files = base()
    build, drives = "configured/lantern-full.yaml", "catalog/drives.yaml"
    files[build] = files[build].replace("sas-1600", "sata-960")
    files[drives] = files[drives].replace(
        "capacity: 960 GB", "read: 5 GB/s, write: 5 GB/s, capacity: 960 GB"
    )
    for name in ("catalog/cards.yaml", "catalog/house.yaml"):  # SATA by way of SAS only
        files[name] = files[name].replace("carries: {sas: 4, sata: 3}", "carries: {sas: 4}")
    facts = facts_of(project(files).assemblies["lantern-full"])
    # Source: Serial ATA 3.x: 6 Gbit/s x 8/10 / 8 = 0.6 GB/s a drive; three drives, two with data
    assert facts.value("storage.Data.read") == DataRate.of("1.8", "GB/s")
    assert facts.value("storage.Data.write") == DataRate.of("1.2", "GB/s")
    assert facts.value("expansion.BAY 0.running_bandwidth") == DataRate.of("0.6", "GB/s")


DRAW = re.compile(r",? ?power: \{[^}]*\}")
"""What a part or a platform says that it draws."""


def test_where_nothing_says_what_it_draws_the_load_is_not_nothing() -> None:
    files = {name: DRAW.sub("", text) for name, text in base().items()}
    facts = facts_of(project(files).assemblies["lantern-small"])
    for key in ("power.maximum", "power.load", "power.processors.maximum", "power.board.idle"):
        assert facts.value(key) is None, key
        assert any(isinstance(each, Declared) and each.silent for each in _leaves(facts[key])), key
    assert facts.value("power.accelerators.maximum") == Power.of(0)  # none is fitted
    assert facts.value("power.headroom") is None


def test_a_subsystem_that_keeps_silent_leaves_the_sums_to_the_others() -> None:
    files = base()
    files["catalog/processors.yaml"] = DRAW.sub("", files["catalog/processors.yaml"])
    facts, full = (facts_of(project(each).assemblies["lantern-full"]) for each in (files, base()))
    assert facts.value("power.processors.maximum") is None
    whole, lost = full.value("power.maximum"), full.value("power.processors.maximum")
    assert facts.value("power.maximum") == whole - lost  # type: ignore[operator]


def _leaves(fact: Fact) -> Iterator[Fact | Declared]:
    for entry in fact.inputs:
        yield entry
        if isinstance(entry, Fact):
            yield from _leaves(entry)
