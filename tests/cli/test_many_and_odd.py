"""Very many findings; ids that no file can be named after; values of very many digits."""

import json

import pytest

from specgen.diagnostics import Severity
from specgen.diagnostics.most import MOST, most_of
from tests.cli.conftest import Run, written
from tests.cli.test_our_own_faults import flawed
from tests.cli.test_site_command import SMALL, tiny
from tests.projects import project

MANY, LINES = 100, 400


@pytest.fixture
def many(here, monkeypatch: pytest.MonkeyPatch):
    """One part with an error of its own in each of so many lines, after warnings and errors; many
    are fewer here than for users."""
    assert most_of.__defaults__ == (MOST,)
    monkeypatch.setattr(most_of, "__defaults__", (MANY,))
    files = flawed()
    parts = "\n".join(f"  - {{id: p{n}, a{n}: 1}}" for n in range(LINES))
    written(here / "builds", {**files, "catalog/zz.yaml": f"kind: fan\nparts:\n{parts}\n"})


@pytest.mark.usefixtures("many")
def test_a_report_for_programs_is_bounded_and_counts_the_rest(run: Run):
    data = json.loads(run("check", "--format", "json").out)
    assert len(data["findings"]) == MANY
    assert data["leftOut"] > 0
    assert {each["severity"] for each in data["findings"]} == {"error"}
    log = json.loads(run("check", "--format", "sarif").out)["runs"][0]
    assert len(log["results"]) == MANY
    (invocation,) = log["invocations"]
    assert invocation["executionSuccessful"]
    (told,) = invocation["toolExecutionNotifications"]
    assert told["message"]["text"].startswith(f"{data['leftOut']} more findings left out")
    got = run("check", "--format", "lines")
    assert len(got.out.splitlines()) == MANY
    assert f"{data['leftOut']} more findings left out" in got.err


@pytest.mark.usefixtures("many")
def test_text_for_people_counts_the_rest(run: Run):
    got = run("check", "--limit", "3")
    assert got.out.count("error[") == 3
    assert len(got.out) < 5000


def test_a_sound_report_says_that_nothing_is_left_out(run: Run, here):
    data = json.loads(run("check", "--format", "json").out)
    assert data["leftOut"] == 0
    log = json.loads(run("check", "--format", "sarif").out)["runs"][0]
    assert log["invocations"] == [{"executionSuccessful": True}]


IDS = {
    "x" * 101: "up to 100 letters", "x" * 300: "up to 100 letters",
    "con": "on every system", "nul.small": "on every system", "lpt9": "on every system",
    "Lantern-Small": "lower-case letters", "lantern_small": "lower-case letters",
}  # fmt: skip


@pytest.mark.parametrize("name", IDS)
@pytest.mark.parametrize(
    ("file", "id_"),
    [(SMALL, "lantern-small"), ("platforms/lantern.yaml", "lantern"), ("catalog/coast.yaml", None)],
)
def test_an_id_that_no_file_can_be_named_after_is_refused(name: str, file: str, id_: str | None):
    files = tiny()
    old = id_ or files[file].split("id: ")[1].split()[0].rstrip(",")
    files[file] = files[file].replace(f"id: {old}", f"id: {name}", 1)
    found = [each for each in project(files).findings if each.code.id == "SG112"]
    assert [IDS[name] in str(each.message) for each in found] == [True]
    assert found[0].severity is Severity.ERROR
    assert found[0].at.span.file == file


@pytest.mark.slow
@pytest.mark.parametrize("names", [["x" * 100], ["console", "com10", "a.con"]])
def test_an_id_like_these_is_published(run: Run, tmp_path, monkeypatch, names: list[str]):
    files = tiny("[pdf, csv, json, redfish, xlsx]" if len(names) == 1 else "[]")
    build = files.pop(SMALL)
    for name in names:
        files[f"configured/{name[:9]}.yaml"] = build.replace("lantern-small", name)
    written(tmp_path / "builds", files)
    monkeypatch.chdir(tmp_path)
    assert run("site", "-q").status == 0
    for name in names:
        assert (tmp_path / f"public/builds/{name}.html").is_file()


COMMANDS = ("check", "facts lantern-small", "sheet lantern-small", "limits lantern", "site -q",
            "data lantern-small --to json", "data lantern-small --to redfish")  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("value", ["9" * 30 + " kg", "0." + "0" * 28 + "1 kg"])
@pytest.mark.parametrize("words", COMMANDS)
def test_values_of_thirty_digits_end_no_command_in_a_fault(
    run: Run, tmp_path, monkeypatch, value: str, words: str
):
    files = tiny()
    file = "platforms/lantern.yaml"
    files[file] = files[file].replace("mass: 11.2 kg", f"mass: {value}")
    written(tmp_path / "builds", files)
    monkeypatch.chdir(tmp_path)
    got = run(*words.split())
    assert got.status in (0, 1) or "amounts as far apart" in got.err
