"""What a reader asks of the demo's site, and where the first hit leads."""

import tomllib
from pathlib import Path

import pytest

from specgen.facts import ledger_of
from specgen.limits.objectives import objectives_of
from specgen.messages.catalogue import language_of
from specgen.pipeline import Survey, case_of
from specgen.shipped import languages_folder
from specgen.site.asked import asked
from specgen.site.comparison_page import compared_system, shard
from specgen.site.page import Page
from specgen.site.search import Index
from tests.site.finder import Finder, scripts_of

QUERIES = Path(__file__).with_name("queries.txt")
ENOUGH = 200_000  # bytes of a first question


def queries() -> list[tuple[str, str]]:
    lines = QUERIES.read_text(encoding="utf-8").splitlines()
    return [
        (typed, first) for typed, _, first in (line.partition(" > ") for line in lines) if first
    ]


@pytest.mark.slow
def test_the_first_hit_is_what_was_asked_for(demo_site: Path) -> None:
    files = scripts_of(demo_site)
    finder = Finder(files)
    wrong = {}
    for typed, first in queries():
        hits = finder.hits(typed)
        if hits[:1] != [first]:
            wrong[typed] = (first, hits[:3])
    assert not wrong


@pytest.mark.slow
@pytest.mark.parametrize("typed", ["max memory lantern", "weight", "acelerators capstan"])
def test_a_first_question_loads_little(demo_site: Path, typed: str) -> None:
    finder = Finder(scripts_of(demo_site))
    assert finder.ask(typed)["values"]
    assert sum(finder.loaded.values()) < ENOUGH


@pytest.mark.slow
def test_every_hit_leads_to_a_row_that_is_there(demo_site: Path) -> None:
    finder = Finder(scripts_of(demo_site))
    for path in {path for typed, _ in queries() for path in finder.hits(typed)}:
        page, _, anchor = path.partition("#")
        html = (demo_site / page).read_text(encoding="utf-8")
        assert not anchor or f'id="{anchor}"' in html, path


def test_the_small_site_answers_with_values(small_site: Path) -> None:
    finder = Finder(scripts_of(small_site))
    found = finder.ask("weight")
    assert found["values"]
    assert found["values"][0]["value"].endswith("kg")


@pytest.mark.parametrize("language", ["en", "de", "ja"])
def test_values_that_are_asked_for_are_values_that_there_are(demo: Survey, language: str) -> None:
    assert demo.definitions is not None
    text = (languages_folder() / f"{language}.toml").read_text(encoding="utf-8")
    keys = tomllib.loads(text)["search"]["values"]
    limits = {f"limits.{key}" for key in objectives_of(demo.definitions)}
    assert set(keys) <= {*ledger_of(demo.definitions).by_key, *limits}


ELSEWHERE = {
    "de": (
        ("archive leistungsaufnahme", "power.input"),
        ("archive verbrauch", "power.input"),
        ("archive gewicht", "mechanics.mass"),
        ("archive netzteile", "power.supplies"),
        ("archive arbeitsspeicher", "memory.capacity"),
        ("archive kerne", "processors.cores"),
        ("archive lautstärke", "noise.sound_power"),
        ("archive wärme", "cooling.heat"),
        ("archive gewciht", "mechanics.mass"),
        ("wie schwer ist archive", "mechanics.mass"),
    ),
    "ja": (
        ("archive 消費電力", "power.input"),
        ("archive 質量", "mechanics.mass"),
        ("archive コア数", "processors.cores"),
        ("archive 電源ユニット", "power.supplies"),
        ("archive メモリ", "memory.capacity"),
        ("archive 騒音", "noise.sound_power"),
        ("archive の 奥行き", "mechanics.depth"),
    ),
}


@pytest.mark.parametrize("tag", ELSEWHERE)
def test_values_are_asked_for_in_other_languages(demo: Survey, tag: str) -> None:
    assert demo.definitions is not None
    case = case_of(demo.definitions, demo.definitions.builds["boathouse-archive"])
    assert case is not None
    system, language = compared_system(case), language_of(tag, None)
    rows = {key: label for key, label, _ in system.values}
    page = Page("builds/boathouse-archive.html", "Boathouse archive", "builds", "")
    files = Index().files([page], {})
    files["search/asked.js"] = asked(rows, (), "facts", language).decode()
    files["compare/build-boathouse-archive.js"] = shard(system, language).decode()
    finder = Finder(files)
    first = {typed: finder.hits(typed)[0].partition("#")[2] for typed, _ in ELSEWHERE[tag]}
    assert first == dict(ELSEWHERE[tag])
