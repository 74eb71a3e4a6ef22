"""Limits that were proved once are kept while nothing changes that they rest on."""

import json
import shutil
import subprocess
import sys
from dataclasses import replace
from datetime import date

import pytest

from specgen.files.vouched import keep_vouched, read_vouched
from specgen.limits import limit, limit_cache
from specgen.limits.limit_cache import OF_PAGES, kept_limits
from specgen.limits.objectives import printed
from specgen.limits.reach import Reach
from specgen.model import Conditions
from specgen.model.project import HandwrittenPages
from specgen.model.rule import Rule
from specgen.quantity import Mass, Temperature
from tests.limits.small import platform


@pytest.fixture(scope="module")
def small():
    definitions = platform(3)
    return definitions, definitions.platforms["small"]


@pytest.fixture(scope="module")
def proved(small, tmp_path_factory):
    """Its limits, and a folder in which they are kept."""
    folder = tmp_path_factory.mktemp("kept")
    return kept_limits(*small, folder), folder


@pytest.fixture
def first(proved, tmp_path):
    """Its limits, kept in the folder of the test."""
    shutil.copytree(proved[1], tmp_path, dirs_exist_ok=True)
    return proved[0]


@pytest.fixture
def solved(first, monkeypatch):
    """How often it is solved from here on, with what comes out each time."""
    times = []

    def solve(*_args, **_kwargs):
        times.append(first)
        return first

    monkeypatch.setattr(limit_cache, "table_of", solve)
    return times


def unsolved(*_args, **_kwargs):
    raise AssertionError("solved again")


def test_only_builds_that_are_shown_are_tidied(small, monkeypatch):
    def tidied(*_args, **_kwargs):
        raise AssertionError("tidied for nobody")

    reach = Reach(*small, lambda *asked: kept_limits(*asked[:2], None, shown=asked[2]))
    examples = Reach(*small, reach._solve).examples
    monkeypatch.setattr(limit, "tidied", tidied)
    assert [(each.key, each.value, each.bound) for each in reach.limits] == [
        (each.key, each.value, each.bound) for each in examples
    ]
    with pytest.raises(AssertionError, match="for nobody"):
        _ = reach.examples


def test_limits_with_builds_to_be_shown_do_for_whoever_shows_none(small, tmp_path, monkeypatch):
    kept_limits(*small, tmp_path)
    shown = kept_limits(*small, tmp_path, shown=True)
    assert len(list(tmp_path.glob("*.json"))) == 2
    monkeypatch.setattr(limit_cache, "table_of", unsolved)
    again = kept_limits(*small, tmp_path), kept_limits(*small, tmp_path, shown=True)
    for limits in again:
        assert [each.text for each in limits] == [each.text for each in shown]


def test_kept_limits_are_the_same_and_are_not_solved_again(small, tmp_path, monkeypatch):
    first = kept_limits(*small, tmp_path)
    assert [limit.key for limit in first] == list(printed(*small))
    monkeypatch.setattr(limit_cache, "table_of", unsolved)
    again = kept_limits(*small, tmp_path)
    for one, two in zip(first, again, strict=True):
        assert (one.value, one.bound, one.status, one.text) == (
            two.value,
            two.bound,
            two.status,
            two.text,
        )


@pytest.mark.usefixtures("first")
def test_a_changed_part_is_solved_anew(small, tmp_path, monkeypatch):
    definitions, system = small
    assert list(tmp_path.iterdir())
    parts = {
        name: replace(part, mass=Mass.parse("9 kg")) for name, part in definitions.parts.items()
    }
    monkeypatch.setattr(limit_cache, "table_of", unsolved)
    with pytest.raises(AssertionError, match="solved again"):
        kept_limits(replace(definitions, parts=parts), system, tmp_path)


def with_project(definitions, **changed):
    return replace(definitions, project=replace(definitions.project, **changed))


@pytest.mark.usefixtures("first")
def test_what_a_project_says_of_its_pages_changes_no_limit(small, tmp_path, solved):
    definitions, system = small
    published = {
        "title": "Another title",
        "summary": "Another summary",
        "edition": "Another edition",
        "language": "ja",
        "documents": ("review",),
        "downloads": (),
        "sources": "public",
        "pages": HandwrittenPages(html=True),
        "terms": {"rdimm": "Registered"},
    }
    assert published.keys() == OF_PAGES
    for field, value in published.items():
        assert getattr(definitions.project, field) != value, field
        kept_limits(with_project(definitions, **{field: value}), system, tmp_path)
    assert len(solved) == 0


@pytest.mark.parametrize(
    "changed",
    [
        {"date": date(2031, 1, 1)},
        {"conditions": Conditions(inlet=Temperature.parse("20 degC"))},
        {"rules": (Rule(code="QW-1", require="drives.count < 3"),)},
    ],
    ids=lambda each: next(iter(each)),
)
@pytest.mark.usefixtures("first")
def test_what_a_project_says_of_its_systems_is_solved_anew(small, tmp_path, monkeypatch, changed):
    definitions, system = small
    monkeypatch.setattr(limit_cache, "table_of", unsolved)
    with pytest.raises(AssertionError, match="solved again"):
        kept_limits(with_project(definitions, **changed), system, tmp_path)


@pytest.mark.parametrize("junk", [
    "", "{", "[]", '[{"key": "cores"}]', "[1]", "null", "[" * 100_000,
    '[{"key": "cores", "bound": null, "fit": ["x"]}]', '[{"key": "mass", "bound": 5, "fit": null}]',
])  # fmt: skip
@pytest.mark.parametrize("written_by_us", [True, False])
def test_what_is_kept_and_broken_is_solved_anew(
    small, tmp_path, first, solved, junk, written_by_us
):
    (path,) = tmp_path.iterdir()
    if written_by_us:
        keep_vouched(path, junk.encode())
    else:
        path.write_text(junk, encoding="utf-8")
    assert kept_limits(*small, tmp_path) == first
    assert len(solved) == 1
    assert kept_limits(*small, tmp_path) == first
    assert len(solved) == 1


def higher(content: bytes) -> bytes:
    """An entry that promises one more of the first thing that is counted."""
    entries = json.loads(content)
    entry = next(each for each in entries if (each["bound"] or "").isdigit())
    entry["bound"] = str(int(entry["bound"]) + 1)
    return json.dumps(entries).encode()


CHANGES = {
    "a higher bound": higher,
    "a best found one called proved": lambda text: text.replace(b"best found", b"proved") + b" ",
    "a digit": lambda text: text.replace(b"1", b"2", 1),
    "cut short": lambda text: text[: len(text) // 2],
    "nothing": lambda _: b"",
    "more": lambda text: text + b"\n",
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_what_somebody_has_changed_is_proved_anew(small, tmp_path, first, solved, change):
    (path,) = tmp_path.iterdir()
    tag, _, content = path.read_bytes().partition(b"\n")
    path.write_bytes(tag + b"\n" + change(content))
    assert read_vouched(path) is None
    assert kept_limits(*small, tmp_path) == first
    assert len(solved) == 1


def test_a_bound_that_the_kept_build_does_not_reach_is_never_proved(small, tmp_path, first):
    """Even where the tag is ours; solved in earnest."""
    (path,) = tmp_path.iterdir()
    content = read_vouched(path)
    assert content is not None
    keep_vouched(path, higher(content))
    assert kept_limits(*small, tmp_path) == first


@pytest.mark.usefixtures("first")
def test_an_entry_of_another_key_or_another_name_is_proved_anew(small, tmp_path, monkeypatch):
    (path,) = tmp_path.iterdir()
    assert read_vouched(path) is not None
    path.rename(tmp_path / "limits-other.json")
    assert read_vouched(tmp_path / "limits-other.json") is None
    (tmp_path / "limits-other.json").rename(path)
    monkeypatch.setenv("SPECGEN_CACHE_KEY", "of somebody else")
    monkeypatch.setattr(limit_cache, "table_of", unsolved)
    with pytest.raises(AssertionError, match="solved again"):
        kept_limits(*small, tmp_path)


@pytest.mark.skipif(sys.platform == "win32", reason="permissions of POSIX")
def test_without_a_named_key_there_is_one_that_only_the_user_can_read(tmp_path, monkeypatch):
    monkeypatch.delenv("SPECGEN_CACHE_KEY")
    monkeypatch.setattr("platformdirs.user_state_path", lambda *_, **__: tmp_path / "state")
    keep_vouched(tmp_path / "entry", b"content")
    assert read_vouched(tmp_path / "entry") == b"content"
    (key,) = (tmp_path / "state").iterdir()
    assert key.stat().st_mode & 0o077 == 0
    for spoil in (
        lambda: key.chmod(0o644),  # others may know it
        lambda: key.write_bytes(b"short"),
    ):
        spoil()
        assert read_vouched(tmp_path / "entry") is None, "there is another key now"
        keep_vouched(tmp_path / "entry", b"content")
        assert read_vouched(tmp_path / "entry") == b"content"
        assert key.stat().st_mode & 0o077 == 0


def test_where_no_key_can_be_kept_nothing_is(tmp_path, monkeypatch):
    monkeypatch.delenv("SPECGEN_CACHE_KEY")
    (tmp_path / "file").touch()
    monkeypatch.setattr("platformdirs.user_state_path", lambda *_, **__: tmp_path / "file")
    keep_vouched(tmp_path / "entry", b"content")
    assert not (tmp_path / "entry").exists()
    assert read_vouched(tmp_path / "entry") is None


def test_a_folder_that_cannot_be_written_is_no_mistake(small, tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert kept_limits(*small, tmp_path / "file") == kept_limits(*small, None)


def test_what_is_kept_rests_on_all_rooms_that_calculate():
    code = (
        "import sys, specgen.limits.solve\n"
        "print(*{name.split('.')[1] for name in sys.modules if name.startswith('specgen.')})"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    words_and_files = {"diagnostics", "files", "frozen", "messages", "source"}
    assert set(done.stdout.split()) - words_and_files <= set(limit_cache.ROOMS)


def test_what_is_kept_hangs_on_every_module_that_limits_rest_on(tmp_path, monkeypatch):
    """A module changed, in a room or beside them, however deep: limits are proved anew."""
    changed = ("quantity/units.py", "limits/solve.py", "facts/calculators/power.py", "grouped.py")
    for name in (*changed, "site/page.py"):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("one = 1\n", encoding="utf-8")
    monkeypatch.setattr(limit_cache, "__file__", str(tmp_path / "limits" / "limit_cache.py"))
    seen = [limit_cache._program.__wrapped__()]
    for name in changed:
        (tmp_path / name).write_text("one = 2\n", encoding="utf-8")
        seen.append(limit_cache._program.__wrapped__())
    assert len(set(seen)) == len(seen)
    (tmp_path / "site" / "page.py").write_text("one = 2\n", encoding="utf-8")
    assert limit_cache._program.__wrapped__() == seen[-1]
