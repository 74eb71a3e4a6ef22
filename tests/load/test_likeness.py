"""A platform or a build that is like another: what it takes over, and from which line."""

import json
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from specgen.cli import main
from specgen.limits.build_text import anew, fills_of
from specgen.load.schema import schemas
from specgen.model import Build, Fill, Platform
from specgen.quantity import Temperature
from specgen.source import plain_value, read_tree
from tests.mutated.breaks import FULL, PLATFORM
from tests.projects import Checked, base, for_editors, project

HEAD = "id: two\nname: Two\nlike: lantern-full\n"
BOARD = "id: two\nname: Two\nlike: lantern\n"


def _with(name: str, text: str) -> Checked:
    return project({**base(), name: text})


def build_of(text: str, head: str = HEAD) -> Build:
    """The build that is like the full one of the small project, with this said of it."""
    found = _with("configured/two.yaml", head + text)
    assert found.loaded.definitions is not None
    return found.loaded.definitions.builds["two"]


def platform_of(text: str) -> Platform:
    found = _with("platforms/two.yaml", BOARD + text)
    assert found.loaded.definitions is not None, found.findings
    return found.loaded.definitions.platforms["two"]


@cache
def full() -> Build:
    definitions = project(base()).loaded.definitions
    assert definitions is not None
    return definitions.builds["lantern-full"]


FILLS: Mapping[str, Fill] = fills_of(full())
PLAIN = sorted(name for name, fill in FILLS.items() if fill.to is None)


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(st.sampled_from(PLAIN), st.sampled_from(("fan-b", "sas-2", "pack-3"))),
    st.sets(st.sampled_from(sorted(FILLS))),
)
def test_a_build_by_its_differences_is_the_build_written_out(
    parts: dict[str, str], without: set[str]
) -> None:
    """Whatever is exchanged or left out, wherever in a range: the same parts, and the same again
    of the text that `complete` writes, in which nothing is taken over."""
    lines = [f"  {name}: {part}" for name, part in parts.items()]
    left = [f"  - fit.{name}" for name in sorted(without)]
    text = "\n".join(["fit: {}" if not lines else "fit:", *lines])
    made = build_of(text + ("\nwithout:\n" + "\n".join(left) if left else "") + "\n")
    wanted = {name: fill for name, fill in FILLS.items() if name not in without}
    wanted |= {name: Fill(part=part) for name, part in parts.items()}
    assert fills_of(made) == wanted
    assert (made.volumes, made.conditions, made.summary) == (
        full().volumes, full().conditions, full().summary,
    )  # fmt: skip
    assert made.date is None  # the day of the other's making
    assert made.origin.tree is not None
    assert build_of(anew(made.origin.tree, made.fit), "") == made


def test_documents_of_both_ways_of_writing_are_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = f"{HEAD}fit: {{'DIMM A1, B1, A2, B2': rdimm-64}}\n"
    text += "without: [fit.TPM, fit.BAY 1..3, volumes.Data]\n"
    build = build_of(text, "")
    assert build.origin.tree is not None
    sheets = []
    for name, written in (("like", text), ("out", anew(build.origin.tree, build.fit))):
        for file, content in {**base(), "configured/two.yaml": written}.items():
            (tmp_path / name / file).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name / file).write_text(content, encoding="utf-8")
        main(["sheet", "two", "--to", "md", "--project", str(tmp_path / name)])
        sheets.append(capsys.readouterr())
    assert sheets[0].out == sheets[1].out
    assert "Everything at once" in sheets[0].out


def test_every_value_keeps_its_line() -> None:
    build = build_of("conditions: {inlet: 25 degC}\nfit: {FAN 2: fan-b}\nsummary: Other fans\n")
    own, other = "configured/two.yaml", FULL
    assert build.origin.at("summary").file == own
    assert build.origin.at("platform").file == other
    assert build.origin.at("conditions", "inlet").file == own
    assert build.origin.at("conditions", "redundancy").file == other
    assert build.origin.key("fit", "FAN 2").file == own
    assert build.origin.key("fit", "FAN 1, 3..4").file == other
    line = base()[FULL].split("\n")[build.origin.key("fit", "FAN 1, 3..4").line - 1]
    assert line == "  FAN 1..4: fan"
    assert build.origin.files == {own, other}


def test_what_tells_of_one_system_alone_is_not_taken_over() -> None:
    more = """number: QW.1
revision: B
history: [{revision: A, date: 2026-01-01, note: first}]
published: false
allow: [{code: SG323, reason: so}]
measured: {source: {document: Report 1}, idle: 80 W}
"""
    files = base()
    files[FULL] += more
    files["configured/two.yaml"] = HEAD
    definitions = project(files).loaded.definitions
    assert definitions is not None
    one, two = (definitions.builds[name] for name in ("lantern-full", "two"))
    assert (one.number, one.published, one.measured is None) == ("QW.1", False, False)
    assert (two.number, two.revision, two.history, two.published) == (None, "", (), True)
    assert (two.allow, two.measured, two.date) == ((), None, None)


def test_a_chain_of_likeness_is_followed() -> None:
    files = base()
    files["configured/a.yaml"] = "id: a\nname: A\nlike: b\nfit: {TPM: tpm-a}\n"
    files["configured/b.yaml"] = (
        "id: b\nname: B\nlike: lantern-full\nfit: {TPM: tpm-b, PACK 1: p}\n"
    )
    definitions = project(files).loaded.definitions
    assert definitions is not None
    made = fills_of(definitions.builds["a"])
    assert made == {**FILLS, "TPM": Fill(part="tpm-a"), "PACK 1": Fill(part="p")}


@pytest.mark.parametrize(
    ("text", "old", "new"),
    [
        ("mass: 12 kg\n", "mass: 11.2 kg", "mass: 12 kg"),
        ("power: {idle: 21 W}\n", "power: {idle: 20 W", "power: {idle: 21 W"),
        ("memory_alike: {ranks: system}\n", "{ranks: channel,", "{ranks: system,"),
        (
            "positions: [{name: TPM, form: tpm-b}]\n",
            "{name: TPM, takes: tpm, form: spi-tpm}",
            "{name: TPM, takes: tpm, form: tpm-b}",
        ),
        (
            "positions: [{name: HS 2, height: full}]\n",
            "  - {name: HS 1..2, takes: heat-sink, socket: tern-a, height: low, key: one-unit, "
            "of: CPU1..CPU2, cools: CPU1..CPU2}\n",
            "  - {name: HS 1, takes: heat-sink, socket: tern-a, height: low, key: one-unit, "
            "of: CPU1, cools: CPU1}\n"
            "  - {name: HS 2, takes: heat-sink, socket: tern-a, height: full, key: one-unit, "
            "of: CPU2, cools: CPU2}\n",
        ),
        (
            "positions: [{name: 'FAN 1, 5', form: fan-b}]\n",
            "  - {name: FAN 1..4, takes: fan, form: fan-40, must: true}\n"
            "  - {name: FAN 5..6, takes: fan, form: fan-40, blank: blank-fan}\n",
            "  - {name: FAN 2..4, takes: fan, form: fan-40, must: true}\n"
            "  - {name: FAN 1, takes: fan, form: fan-b, must: true}\n"
            "  - {name: FAN 6, takes: fan, form: fan-40, blank: blank-fan}\n"
            "  - {name: FAN 5, takes: fan, form: fan-b, blank: blank-fan}\n",
        ),
        (
            "positions: [{name: 'PSU 1..2, FAN 1..4', key: strong}]\n",
            "  - {name: FAN 1..4, takes: fan, form: fan-40, must: true}\n"
            "  - {name: FAN 5..6, takes: fan, form: fan-40, blank: blank-fan}\n"
            "  - {name: PSU 1..2, takes: power-supply, area: rear, form: m-crps-60}\n",
            "  - {name: FAN 1..4, takes: fan, form: fan-40, must: true, key: strong}\n"
            "  - {name: FAN 5..6, takes: fan, form: fan-40, blank: blank-fan}\n"
            "  - {name: PSU 1..2, takes: power-supply, area: rear, form: m-crps-60, key: strong}\n",
        ),
        (
            "positions: [{name: LAMP, takes: tpm}]\n",
            "population:",
            "  - {name: LAMP, takes: tpm}\npopulation:",
        ),
        ("without: positions.PACK 2\n", "PACK 1..2", "PACK 1"),
        ("without: [positions.TPM, positions.RAILS]\n",
         "  - {name: TPM, takes: tpm, form: spi-tpm}\n  - {name: RAILS, takes: rail-kit}\n", ""),
        ("without: power.idle\n", "power: {idle: 20 W, ", "power: {"),
        ("without: positions.TPM.form\n", ", form: spi-tpm}", "}"),
        ("without: lists.corvane-b8\n", ", corvane-b8]", "]"),
        ("without: fixtures\n", "fixtures:\n  - {name: Power, area: front, what: button}\n", ""),
        ("fixtures: [{name: Power, count: 2}]\n", "what: button}", "what: button, count: 2}"),
        ("population: [{of: CPU2, balanced: [2]}]\n", "B4], balanced: [1, 2, 4]",
         "B4], balanced: [2]"),
        ("source: {document: BN-200}\n", "product description LN-100, date: 2026-03-02", "BN-200"),
        ("leads: {EDGE 2: {lanes: x4}}\n", "CPU2.P2, lanes: x8", "CPU2.P2, lanes: x4"),
    ],
)  # fmt: skip
def test_a_platform_by_its_differences_is_the_platform_written_out(
    text: str, old: str, new: str
) -> None:
    whole = base()[PLATFORM]
    assert whole.count(old) == 1
    whole = whole.replace(old, new).replace("id: lantern\nname: Lantern\n", "id: two\nname: Two\n")
    found = _with("platforms/two.yaml", whole).loaded.definitions
    assert found is not None
    assert platform_of(text) == found.platforms["two"]


def test_positions_that_lie_in_a_row_are_not_told_apart() -> None:
    outline = "{x: 1 mm, y: 1 mm, width: 5 mm, height: 5 mm, step: 6 mm}"
    row = f"{{name: LAMP 1..4, takes: tpm, outline: {outline}}}"
    files = base()
    files[PLATFORM] = files[PLATFORM].replace("population:", f"  - {row}\npopulation:")
    files["platforms/two.yaml"] = BOARD + "positions: [{name: LAMP 2, form: x}]\n"
    found = project(files)
    (finding,) = [each for each in found.findings if each.code.id == "SG243"]
    assert "LAMP 2 is one of several" in str(finding.message)
    files["platforms/two.yaml"] = BOARD + "positions: [{name: LAMP 1..4, form: x}]\n"
    assert "SG243" not in project(files).codes


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("without: fit.BAY 20\n", ""),
        ("without: memory_mod\n", ""),
        ("without: volumes.Dat\n", "volumes.Data"),
        ("without: condition\n", "conditions"),
        ("without: conditions.inle\n", "conditions.inlet"),
    ],
)
def test_what_may_be_meant_is_offered(text: str, meant: str) -> None:
    found = _with("configured/two.yaml", HEAD + text)
    (finding,) = [each for each in found.findings if each.code.id == "SG243"]
    assert f"did you mean `{meant}`" in str(finding.help) or not meant
    assert found.line(finding) == text.strip()


def test_a_warning_on_a_line_that_is_taken_over_says_by_whom() -> None:
    """The small build's warning is allowed there; its likeness has to decide by itself."""
    found = _with("configured/two.yaml", "id: two\nname: Two\nlike: lantern-small\n")
    (finding,) = [each for each in found.findings if each.code.id == "SG323"]
    assert finding.at.span.file == "configured/lantern-small.yaml"
    (label,) = [each for each in finding.labels if each.span.file == "configured/two.yaml"]
    assert "taken over by `two`" in str(label.text)


def test_a_change_of_what_is_taken_over_follows() -> None:
    files = {**base(), "configured/two.yaml": HEAD}
    files[FULL] = files[FULL].replace("inlet: 30 degC", "inlet: 25 degC")
    definitions = project(files).loaded.definitions
    assert definitions is not None
    assert str(definitions.builds["two"].conditions.inlet) == str(Temperature.of(25, "degC"))


def test_what_is_taken_over_may_stand_in_a_file_that_cannot_be_read() -> None:
    files = {**base(), FULL: "id: [", "configured/two.yaml": HEAD}
    assert project(files).codes == ["SG101"]


@pytest.mark.parametrize("name", ["platform.json", "build.json"])
def test_editors_ask_for_nothing_that_is_taken_over(name: str) -> None:
    schema = Draft202012Validator(json.loads(schemas()[name]))

    def problems(text: str) -> list[str]:
        tree, _ = read_tree(text, "a.yaml")
        assert tree is not None
        return [each.message for each in schema.iter_errors(for_editors(plain_value(tree)))]

    changed = {
        "platform.json": "positions: [{name: TPM, form: x}]\n",
        "build.json": "volumes: [{name: Data, level: '6'}]\n",
    }[name]
    changed = re.sub(r"'(\d)'", r"\1", changed)
    text = "id: two\nname: Two\n"
    assert problems(text + changed)
    assert [each for each in problems(text + "like: one\n" + changed) if "required" in each] == []
    assert problems("id: two\nlike: one\n")
