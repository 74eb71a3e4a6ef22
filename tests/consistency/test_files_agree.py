"""Files of every form print what the document and the facts say: HTML, Markdown, Typst, data."""

import csv
import io
import json
import re
from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from html.parser import HTMLParser
from itertools import islice

import pytest

from specgen.document.case import Case
from specgen.document.tree import Document, Value
from specgen.facts.declared import declared_facts
from specgen.messages import ENGLISH
from specgen.model import Drive, MemoryModule, PowerSupply, Processor
from specgen.quantity import Quantity
from specgen.quantity.units import UNITS
from specgen.site.comparison_page import compared_system, shard
from specgen.site.downloads import OFFERS, data_files
from specgen.write import typst
from specgen.write.writer_options import Options
from specgen.write.writers import WRITERS
from tests.consistency.conftest import ALL
from tests.consistency.expected import agrees, values
from tests.consistency.printed import Printed, Project, figures
from tests.document.test_every_value_is_a_fact import texts_of

BLANKS = re.compile(r"[\s\u00a0\u202f\u2060\u200b]+")


class _Values(HTMLParser):
    """Gathers what stands in elements that carry a fact's key."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str]] = []
        self._depth = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        key = dict(attrs).get("data-fact")
        if key is not None:
            self.found.append((key, ""))
            self._depth = 0
        self._depth += 1

    def handle_endtag(self, tag: str) -> None:
        self._depth -= 1

    def handle_data(self, data: str) -> None:
        if self.found and self._depth > 0:
            key, text = self.found[-1]
            self.found[-1] = (key, text + data)


def one_text(text: str) -> str:
    """Text in which one blank is as good as another, or as none."""
    return BLANKS.sub("", text)


def shown(value: Value) -> str:
    return one_text(value.number + value.unit)


def some(project: Project) -> list[Printed]:
    """The documents of builds, every other of them, and of all platforms."""
    return [*islice(project.of_builds("en"), 0, None, 2), *project.of_platforms("en")]


def test_pages_show_the_values_of_the_document_in_its_order(project: Project):
    for each in some(project):
        reader = _Values()
        reader.feed(WRITERS["html"].write(each.document, Options()).decode("utf-8"))
        wanted = [(v.key, shown(v)) for v, _ in values(each.document.blocks) if v.key]
        found = [(key, one_text(text)) for key, text in reader.found]
        assert [w for w, f in zip(wanted, found, strict=True) if not f[1].startswith(w[1])] == []
        assert [key for key, _ in wanted] == [key for key, _ in found], each.name


def _markdown(document: Document) -> str:
    return WRITERS["md"].write(document, Options()).decode("utf-8").replace("\\", "")


def _typst(document: Document) -> str:
    """The strings of a source of Typst: all that is printed."""
    return "".join(json.loads(each) for each in STRING.findall(typst.source(document, Options())))


STRING = re.compile(r'"(?:[^"\\]|\\.)*"')


@pytest.mark.parametrize("written", [_markdown, _typst])
def test_texts_hold_every_value_of_the_document_in_its_order(
    project: Project, written: Callable[[Document], str]
):
    for each in some(project):
        text, at = one_text(written(each.document)), 0
        for value, _ in values(each.document.blocks):
            if re.match(r"[\d\u2212]", value.number):
                found = text.find(shown(value), at)
                assert found >= 0, (each.name, value)
                at = found


def test_no_sentence_ends_twice(project: Project):
    for each in some(project):
        found = re.findall(r"\S+\.\.(?![.\w])", _markdown(each.document))
        assert found == [], each.name


# inches apart: `4 in use` are none
_UNITS = sorted(
    (re.escape(unit.sign) for unit in UNITS if unit.sign not in ("", "in")), key=len, reverse=True
)
MEASURE = re.compile(rf"(?<![\w.])(\d[\d.\u202f]*)[\s\u00a0\u202f]+({'|'.join(_UNITS)})(?![\w/])")
SCALE = {"50mm", "100mm", "200mm", "500mm", "1000mm"}
"""What the bar of a drawing's scale may stand for."""


def test_drawings_say_quantities_that_are_facts_or_declared(project: Project):
    for each in project.of_builds("en"):
        for figure in figures(each.document):
            drawn = figure.picture.elements() if figure.picture else ()
            read = (e for e in drawn if "label-mark" not in e.attributes.get("class", "").split())
            texts = (figure.text, *(t for e in read for t in e.children if isinstance(t, str)))
            assert each.case is not None
            known = _known(each.case)
            said = {one_text(m[0]) for text in texts for m in MEASURE.finditer(text)}
            parts = (part for _, part in each.case.assembly.everything())
            typed = (each.case.platform, each.case.build, *parts)
            trees = (texts_of(thing.origin.tree) for thing in typed if thing is not None)
            named = one_text(" ".join(text for texts in trees for text in texts))
            assert [q for q in said if q not in known | SCALE and q not in named] == [], each.name


def _known(case: Case) -> set[str]:
    things = (case.platform, *(part for _, part in case.assembly.everything()))
    facts = [*case.facts.values(), *(f for thing in things for f in declared_facts(thing))]
    found = set()
    for fact in facts:
        for value in fact.value if isinstance(fact.value, tuple) else (fact.value,):
            found.add(one_text("".join(ENGLISH.number(value))))
    return found


@pytest.fixture(scope="module", params=["some", ALL])
def files(
    projects: Callable[[str], Project], request: pytest.FixtureRequest
) -> list[tuple[Case, Mapping[str, bytes]]]:
    cases = projects(request.param).shown
    return [(case, data_files(case, tuple(OFFERS), None)) for case in cases if case.sound]


def test_json_has_every_fact_with_its_value(files: list[tuple[Case, Mapping[str, bytes]]]):
    for case, made in files:
        data = json.loads(made["json"].decode(), parse_float=Decimal)
        assert {each["key"] for each in data["facts"]} == set(case.facts)
        for each in data["facts"]:
            _same(case, each["key"], each["value"], each["unit"] or "", each["exact"])


def test_the_table_of_values_has_every_fact(files: list[tuple[Case, Mapping[str, bytes]]]):
    for case, made in files:
        rows = list(csv.DictReader(io.StringIO(made["csv"].decode())))
        assert [row["Key"] for row in rows] == [
            key for key in case.facts if key in {row["Key"] for row in rows}
        ]
        for row in rows:
            exact = row["Exact value"]
            _same(case, row["Key"], row["Value"], row["Unit"], Decimal(exact) if exact else None)


def _same(case: Case, key: str, printed: object, unit: str, exact: object) -> None:
    fact = case.facts.value(key)
    if isinstance(fact, Quantity):
        assert isinstance(exact, int | Decimal)
        assert abs(fact.in_unit(unit) - Decimal(exact)) <= abs(Decimal(exact)) / 10**9, key
        sign = fact.to(unit).unit.sign
        assert agrees(Value(str(printed), sign), fact, ENGLISH), (key, printed, unit)
    elif isinstance(fact, int) and not isinstance(fact, bool):
        assert Decimal(str(printed)) == fact, key


def test_the_list_of_parts_orders_what_is_fitted(files: list[tuple[Case, Mapping[str, bytes]]]):
    for case, made in files:
        counts: dict[str, int] = {case.platform.id: 1}
        for place, part in case.assembly.everything():
            if place.how != "fixed":
                counts[part.id] = counts.get(part.id, 0) + 1
        rows = csv.DictReader(io.StringIO(made["parts.csv"].decode()))
        assert {row["Id"]: int(row["Quantity"]) for row in rows} == counts, case.thing.id


def test_redfish_counts_and_sums_what_the_facts_do(files: list[tuple[Case, Mapping[str, bytes]]]):
    for case, made in files:
        tree = json.loads(made["redfish.json"].decode(), parse_float=Decimal)
        (system,) = _of(tree, "ComputerSystem")
        facts = case.facts
        assert system["ProcessorSummary"]["Count"] == facts.value("processors.count")
        assert system["ProcessorSummary"]["CoreCount"] == facts.value("processors.cores")
        memory = facts.value("memory.capacity")
        assert isinstance(memory, Quantity)
        assert system["MemorySummary"]["TotalSystemMemoryGiB"] == memory.in_unit("GiB")
        wanted = (
            ("Processor", Processor), ("Memory", MemoryModule),
            ("Drive", Drive), ("PowerSupply", PowerSupply),
        )  # fmt: skip
        for kind, cls in wanted:
            there = [each for each in _of(tree, kind) if _present(each)]
            fitted = list(case.assembly.fitted(cls))
            assert len(there) == len(fitted), (case.thing.id, kind)
        drives = sum(each["CapacityBytes"] for each in _of(tree, "Drive") if _present(each))
        own = sum(part.capacity.in_unit("B") for _, part in case.assembly.fitted(Drive))
        assert drives == own, case.thing.id


REDFISH: Mapping[str, Mapping[str, tuple[str, str]]] = {
    "Chassis": {
        "HeightRackUnits": ("mechanics.rack_units", ""),
        "HeightMm": ("mechanics.height", "mm"),
        "WidthMm": ("mechanics.width", "mm"),
        "DepthMm": ("mechanics.depth", "mm"),
        "WeightKg": ("mechanics.mass", "kg"),
        "MaxPowerWatts": ("power.input", "W"),
    },
    "PowerSubsystem": {"RequestedWatts": ("power.load", "W")},
    "Processor": {
        "TotalCores": ("processors.{}.cores", ""),
        "TotalThreads": ("processors.{}.threads", ""),
        "TDPWatts": ("processors.{}.tdp", "W"),
        "BaseSpeedMHz": ("processors.{}.base_clock", "MHz"),
        "MaxSpeedMHz": ("processors.{}.max_clock", "MHz"),
    },
    "Volume": {"CapacityBytes": ("storage.{}.usable", "B")},
}
"""The fact that a property of a resource says, a thing's name where braces stand, and its unit."""


def test_redfish_says_what_the_facts_do(files: list[tuple[Case, Mapping[str, bytes]]]):
    seen = set()
    for case, made in files:
        tree = json.loads(made["redfish.json"].decode(), parse_float=Decimal)
        for kind, properties in REDFISH.items():
            for resource in filter(_present, _of(tree, kind)):
                every = {**resource, **resource.get("Allocation", {})}
                for name, (key, unit) in properties.items():
                    fact = case.facts.value(key.format(resource["Name"]))
                    if fact is None:
                        assert every.get(name) is None, (case.thing.id, name)
                        continue
                    seen.add((kind, name))
                    amount = fact.in_unit(unit) if isinstance(fact, Quantity) else fact
                    told = Value(f"{Decimal(every[name]):f}")
                    assert agrees(told, amount, ENGLISH), (case.thing.id, name, told, amount)
    assert seen == {(kind, name) for kind, names in REDFISH.items() for name in names}


def test_search_and_comparison_on_the_site_say_what_the_facts_do(project: Project):
    """Both read the same script of a system: what stands in each row, by key."""
    for case in (*project.shown, *project.bare.values()):
        if not case.sound:
            continue
        limits = project.reaches[case.thing.id].examples if case.thing.id in project.reaches else ()
        script = shard(compared_system(case, limits), ENGLISH).decode("ascii")
        data = json.loads(f"[{script[script.index('(') + 1 : script.rindex(')')]}]")[1]
        told = {key: each for key, each in data["values"].items() if not key.startswith("about.")}
        known = {**case.facts, **{f"limits.{each.key}": each for each in limits}}
        wrong = [
            (key, pieces)
            for key, pieces in told.items()
            if not agrees(Value(*(*pieces, "", "")[:2]), known[key].value, ENGLISH)
        ]
        assert wrong == [], case.thing.id
        assert told


def _present(resource: Mapping[str, object]) -> bool:
    """Whether there is such a thing; accelerators are processors there, of another type."""
    status = resource.get("Status")
    if resource.get("ProcessorType", "CPU") != "CPU":
        return False
    gone = ("Absent", "UnavailableOffline")
    return not (isinstance(status, dict) and status.get("State") in gone)


def _of(tree: Mapping[str, dict], kind: str) -> Iterator[dict]:
    for each in tree.values():
        if re.match(rf"#{kind}\.v", str(each.get("@odata.type", ""))):
            yield each
