"""Every value that can be impossible is judged, and each judgement finds what it is about."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

import pytest

from specgen.diagnostics import Code, codes
from specgen.facts import ledger
from specgen.limits.totals import TOTALS
from specgen.model import ANYWHERE, CONDITIONS, KINDS, Conditions
from specgen.pipeline import case_of
from specgen.quantity import Current, Length, Mass, Pressure, TemperatureDifference
from specgen.rules.judged import JUDGEMENTS, breaches
from specgen.rules.judgement import STATED
from tests.projects import base, edited, project
from tests.rules.asked import asked

JUDGED_BY: Final[Mapping[Code, str]] = {
    codes.RESOURCE_OVERCOMMITTED: """
        resources.{resource}.taken storage.{volume}.tolerates_best""",
    codes.LANES_OVERCOMMITTED: "expansion.{processor}.lanes_used expansion.{processor}.lanes_free",
    codes.SLOT_POWER: "expansion.{card}.power_needed",
    codes.REDUNDANCY_LOST: """
        power.headroom power.redundancy_kept power.failures_tolerated power.{state}.share""",
    codes.MEMORY_CHANNELS: """
        memory.channels memory.channels_used memory.{processor}.channels
        memory.{processor}.channels_used""",
    codes.FANS_MISSING: "cooling.fans_needed cooling.fans_left",
    codes.INLET_TOO_WARM: "cooling.inlet_margin",
    codes.RAILS_LENGTH: "mechanics.rails_fit mechanics.fits_rack",
    codes.RAILS_OVERLOADED: "mechanics.rails_headroom",
}
"""Values that a check of their own judges, by its code."""

JUDGED_AS: Final[Mapping[str, str]] = {
    "network.{adapter}.load": "network.load",
    "storage.{controller}.host_load": "storage.host_load",
    "power.circuit_share": "power.circuit_servers",
    "cooling.airflow_headroom_left": "cooling.airflow_share",
}
"""Values that say the same as one that is judged, which goes first."""

NEVER: Final[Mapping[str, str]] = {
    "adds up, multiplies or divides what is declared, and fields keep each of that possible": """
        processors.cache_per_core processors.{processor}.cache_per_core processors.peak
        processors.bytes_per_operation processors.{processor}.peak processors.max_clock
        processors.{processor}.max_clock
        processors.{processor}.peak_single memory.{processor}.bandwidth memory.bandwidth
        memory.capacity_per_core
        memory.{processor}.capacity memory.{processor}.ranks_per_channel expansion.{slot}.bandwidth
        expansion.{end}.running_bandwidth expansion.{card}.power_by_cable network.line_rate
        network.{adapter}.line_rate storage.written_per_day storage.endurance storage.failures
        drives.{drive}.sectors drives.{drive}.capacity_binary drives.{drive}.written_per_day
        drives.{drive}.endurance drives.{drive}.comparable_writes drives.{drive}.failures
        power.board_loss power.load power.{state}.load power.{state}.load_each power.{state}.input
        power.{state}.loss power.{state}.apparent power.{state}.current power.{state}.current_each
        power.{state}.input_each power.rack_input power.rack_typical power.{feed}.feed_current
        power.{feed}.feed_alone power.{feed}.feed_worst
        power.line_lowest power.current power.cord_current cooling.heat energy.year energy.cost
        energy.emissions cooling.heat_typical
        cooling.heat_typical_btu cooling.airflow_needed cooling.airflow_needed_cfm
        noise.sound_power noise.upper_limit mechanics.mass mechanics.depth_needed
        mechanics.body_width mechanics.rack_units_taken mechanics.rack_mass mechanics.floor_load
        mechanics.floor_pressure mechanics.rails_load mechanics.rack_units_wanted
        mechanics.rack_load mechanics.floor_wanted mechanics.lifting_persons
        noise.declared_upper parts.{part}.mass""",
    "idle, typical and maximum stand in one definition each, which is held against itself": """
        power.idle power.maximum power.{subsystem}.idle power.{subsystem}.typical
        power.{subsystem}.maximum""",
    "one state of a position out of all of them": """
        memory.slots_usable expansion.slots_used expansion.slots_free expansion.slots_unusable
        expansion.{socket}.memory_slots storage.bays_usable storage.bays_filled network.cages
        network.transceivers network.{cages}.transceivers network.{cages}.open
        network.line_rate_connected power.{state}.supplies""",
    "what one failure leaves of what there is, none of all among it": """
        failures.{failure}.cores failures.{failure}.memory failures.{failure}.drives
        failures.{failure}.usable failures.{failure}.ports""",
    "a part of the capacity that is there, by the formula": """
        memory.visible memory.held_back memory.{processor}.visible storage.usable
        storage.usable_binary storage.unused storage.outside storage.{volume}.usable
        storage.{volume}.usable_binary storage.{volume}.unused storage.{volume}.tolerates""",
    "a model whose formula stays within what can be, such as 1 - e^-x": """
        storage.{volume}.write_penalty storage.{volume}.random_reads
        storage.{volume}.random_writes storage.{volume}.random_mixed storage.{volume}.read
        storage.{volume}.write storage.{volume}.rebuild_time storage.{volume}.repair_time
        storage.{volume}.time_to_data_loss storage.{volume}.data_loss
        drives.{drive}.annual_failure_rate cooling.pressure cooling.density""",
    "as declared, in a field or a curve that keeps it possible": """
        processors.{processor}.vector_clock memory.{processor}.own_speed
        memory.{processor}.speed expansion.{slot}.generation
        storage.read_share network.management_speed network.{ports}.speed power.board_loss_share
        power.{state}.efficiency power.{state}.power_factor regulation.efficiency_10
        regulation.efficiency_20 regulation.efficiency_50 regulation.efficiency_100
        regulation.power_factor_50 regulation.rated_output""",
    "what other values are held against": """
        expansion.{slot}.power_offered expansion.{slot}.power_by_slot resources.{resource}.offered
        network.{ports}.connector_rate power.supply_output power.available power.inlet_rating
        power.installed power.cord_rating power.outlet_rating power.path_rating
        power.circuit_allowed power.circuit_power cooling.airflow_left cooling.class_limit
        cooling.inlet_limit cooling.inlet_limit_by mechanics.rails_least mechanics.rails_most
        cooling.inlet_of_parts cooling.inlet_of_air
        regulation.idle_base regulation.idle_performance regulation.idle_supplies
        regulation.idle_drives regulation.idle_memory regulation.idle_channels
        regulation.idle_ports regulation.idle_limit regulation.least_efficiency_10
        regulation.least_efficiency_20 regulation.least_efficiency_50
        regulation.least_efficiency_100 regulation.least_power_factor
        regulation.inlet_highest regulation.recommended_lowest regulation.recommended_highest
        regulation.dew_point""",
    "links behind an uplink are seldom busy at once, and built for that": """
        expansion.{uplink}.oversubscription""",
}
"""Values that need no judgement, by the reason."""


def test_every_value_that_can_be_impossible_is_judged_or_says_why_it_never_is():
    rows = {row.fact for row in JUDGEMENTS} | {row.must.other for row in JUDGEMENTS}
    known = [*rows, *JUDGED_AS.values()]
    for keys in (*JUDGED_BY.values(), *NEVER.values()):
        known += keys.split()
    open_ = [each.key for each in asked() if each.key not in known]
    assert not open_, (
        "can these be impossible (below zero, above all there is, a no)? Then each gets a row in "
        f"specgen/rules/judged.py; else it stands in NEVER with the reason: {open_}"
    )


def test_nothing_is_said_of_a_value_that_is_not_there():
    told = [*JUDGED_AS, *JUDGED_AS.values(), *(row.fact for row in JUDGEMENTS)]
    told += [row.must.other for row in JUDGEMENTS if row.must.other]
    for keys in (*JUDGED_BY.values(), *NEVER.values()):
        told += keys.split()
    assert [key for key in told if key not in ledger().by_key] == []


def test_a_judgement_names_fields_and_sums_that_are_there():
    for row in JUDGEMENTS:
        for field in row.among:
            assert any(hasattr(kind, field) for kind in KINDS.values()), (row.fact, field)
        assert row.grows_with in ("", *TOTALS), row.fact
        for key in row.shown.values():
            name = key if isinstance(key, str) else key[0]
            stated = name.startswith(STATED) and name.removeprefix(STATED) in CONDITIONS
            assert stated or name in ledger().by_key, (row.fact, name)


WORSE: Final = (
    ("mechanics.depth_spare", "lantern-office", Conditions(rack_depth=Length.of("0.6"))),
    ("mechanics.rack_units_free", "lantern-office", Conditions(rack_units=19)),
    ("mechanics.rack_headroom", "lantern-office", Conditions(rack_load_rating=Mass.of(400))),
    ("mechanics.floor_headroom", "lantern-office", Conditions(floor_load_rating=Pressure.of(5000))),
    ("power.circuit_share", "lantern-office", Conditions(circuit=Current.of(1))),
    ("cooling.airflow_headroom", "lantern-office", Conditions(rise=TemperatureDifference.of(2))),
    (
        "cooling.airflow_headroom_left",
        "lantern-office",
        Conditions(rise=TemperatureDifference.of(7)),
    ),
)
"""What no demo build can bear, by the value that then cannot be."""


@pytest.mark.parametrize(("fact", "build", "at"), WORSE, ids=[fact for fact, *_ in WORSE])
def test_a_condition_that_no_system_can_bear_is_found_whoever_states_it(demo, fact, build, at):
    case = case_of(demo.definitions, demo.definitions.builds[build], at)
    found = {breach.row.fact: breach for breach in breaches(case.facts)}
    assert fact in found
    row = found[fact].row
    own = [each for each in case.findings if each.code is row.code]
    assert own
    assert all(each.at.span.file for each in own)


def test_where_nothing_is_stated_nothing_is_judged(demo):
    silent = replace(demo.definitions.project, conditions=ANYWHERE)
    platforms = {
        name: replace(each, conditions=ANYWHERE)
        for name, each in demo.definitions.platforms.items()
    }
    definitions = replace(demo.definitions, project=silent, platforms=platforms)
    build = replace(definitions.builds["lantern-office"], conditions=ANYWHERE)
    case = case_of(definitions, build)
    stated = {fact for fact, *_ in WORSE}
    assert {each.row.fact for each in breaches(case.facts)}.isdisjoint(stated)
    assert all(case.facts.value(key) is None for key in stated)


def test_a_supply_that_carries_more_than_its_share_is_found_before_it_is_overloaded():
    files = edited(
        "catalog/house.yaml",
        "name: Supply 600 W, outputs: [{from: 100 V, to: 240 V, output: 600 W}]",
        "name: Supply for less, outputs: [{from: 100 V, to: 240 V, output: 450 W}]",
    )
    full = files["configured/lantern-full.yaml"]
    full = full.replace("PSU 1..2: supply-1300", "PSU 1..2: supply-600")
    full = full.replace("redundancy: 1+1", "redundancy: none")
    files["configured/lantern-full.yaml"] = full
    assert "SG381" not in project(files).codes
    files["specgen.yaml"] += (
        "assumptions:\n  supply_sharing_error: {value: 20 %, source: {document: handbook}}\n"
    )
    found = [each for each in project(files).findings if each.code is codes.VALUE_IMPOSSIBLE]
    assert [str(each.message) for each in found] == [
        "the power supply that carries most gives 110 % of its rated output"
    ]


@pytest.mark.parametrize(
    ("system", "parts", "told"),
    [
        (
            ("5.1 B", "2017"),
            ("5.3 B", "2017"),
            "5.1 B is declared for the system, and one of its parts alone has 5.3 B",
        ),
        (("5.3 B", "2017"), ("5.3 B", "2017"), ""),
        (("51 dB", "2017"), ("5.3 B", "1988"), ""),  # a mean and a statistical maximum
    ],
)
def test_a_system_is_no_quieter_than_its_loudest_part(system, parts, told):
    # common practice, no source: what a casing keeps in is less than what further parts add
    words = 'noise: {}, noise_edition: "ISO 9296:{}"'
    fan = "power: {maximum: 15 W}, source: {document: cooling LN-130}"
    files = edited("catalog/house.yaml", fan, f"{words.format(*parts)}, {fan}")
    name = "configured/lantern-full.yaml"
    report = f"source: {{document: report, date: 2026-02-01}}, {words.format(*system)}"
    files[name] = f"{files[name].rstrip()}\nmeasured: {{{report}}}\n"
    found = [each for each in project(files).findings if each.code is codes.VALUE_DOUBTFUL]
    assert [str(each.message) for each in found] == ([told] if told else [])


@pytest.mark.parametrize(
    ("throughput", "lanes", "told"),
    [
        ("12 GB/s", "x8", ""),
        (
            "12 GB/s",
            "x4",
            "SLOT 1 moves up to 12 GB/s, and its link to the host carries 7.877 GB/s",
        ),
        ("7.8 GB/s", "x4", ""),
    ],
)
def test_a_controller_is_no_faster_than_its_link_where_it_sits(throughput, lanes, told):
    keeps = "keeps_cache: cache-protection\n"
    files = edited("catalog/cards.yaml", keeps, f"{keeps}      throughput: {throughput}\n")
    house, wired = files["catalog/house.yaml"], "from: .A, lanes: x8, power: 75 W, neighbour"
    assert wired in house
    files["catalog/house.yaml"] = house.replace(wired, wired.replace("x8", lanes))
    full = files["configured/lantern-full.yaml"]  # the rest of the drives are slower than the link
    full = full.replace("  BAY 3: sas-1600\n", "").replace(", spares: BAY 3", "")
    files["configured/lantern-full.yaml"] = full
    found = [each for each in project(files).findings if each.code is codes.VALUE_DOUBTFUL]
    assert [str(each.message) for each in found] == ([told] if told else [])


def test_a_range_of_direct_current_is_written_either_way():
    old = "name: Supply 800 W, outputs: [{from: 100 V, to: 240 V, output: 800 W}]"
    for ends in ("from: -40 V, to: -72 V", "from: -72 V, to: -40 V"):
        curve = "curve: [{load: 0.1, efficiency: 0.9}, {load: 1, efficiency: 0.92}]"
        new = f"name: Supply 800 W, curve_at: -48 V, outputs: [{{{ends}, output: 800 W}}], {curve}"
        assert project(edited("catalog/house.yaml", old, new)).codes == []


@pytest.mark.parametrize(
    ("measured", "told"),
    [
        (
            "idle: 400 W, idle_warm: 390 W, maximum: 900 W",
            "400 W were measured at idle, and 390 W at the upper temperature of the class",
        ),
        ("idle: 400 W, idle_warm: 400 W, maximum: 900 W", ""),
        (
            "maximum: 120 W",
            "the measured maximum is 120 W, and the parts draw 681 W at typical work",
        ),
    ],
)
def test_what_was_measured_does_not_contradict_itself_nor_what_parts_draw(measured, told):
    every = r"power: {idle: 1 W, typical: \1, maximum: \1}"
    files = {at: re.sub(r"power: \{maximum: (\d+ W)\}", every, text) for at, text in base().items()}
    name = "configured/lantern-full.yaml"
    report = "source: {document: report, date: 2026-02-01}"
    files[name] = f"{files[name].rstrip()}\nmeasured: {{{report}, {measured}}}\n"
    found = [each for each in project(files).findings if each.code is codes.VALUE_DOUBTFUL]
    words = [str(each.message) for each in found]
    assert (told in words) if told else not words


@pytest.mark.parametrize(("inlet", "cold"), [("9 degC", True), ("10 degC", False)])
def test_air_colder_than_the_operating_class_allows_is_told(inlet, cold):
    # Source: ASHRAE TC 9.9, class A2: 10 to 35 degC
    found = project(edited("specgen.yaml", "inlet: 25 degC", f"inlet: {inlet}")).findings
    told = [each for each in found if each.code is codes.VALUE_DOUBTFUL]
    assert bool(told) == cold
    assert all("colder than the 10" in str(each.message) for each in told)
