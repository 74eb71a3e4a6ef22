"""Limits that were proved once are kept while nothing changes that they rest on."""

import subprocess
import sys
from dataclasses import replace

import pytest

from specgen.limits import limit_cache
from specgen.limits.limit_cache import kept_limits
from specgen.limits.objectives import printed
from specgen.quantity import Mass
from tests.limits.small import platform


@pytest.fixture
def small():
    definitions = platform(3)
    return definitions, definitions.platforms["small"]


def unsolved(*_args, **_kwargs):
    raise AssertionError("solved again")


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


def test_a_changed_part_is_solved_anew(small, tmp_path, monkeypatch):
    definitions, system = small
    kept_limits(definitions, system, tmp_path)
    parts = {
        name: replace(part, mass=Mass.parse("9 kg")) for name, part in definitions.parts.items()
    }
    monkeypatch.setattr(limit_cache, "table_of", unsolved)
    with pytest.raises(AssertionError, match="solved again"):
        kept_limits(replace(definitions, parts=parts), system, tmp_path)


@pytest.mark.parametrize("junk", [
    "", "{", "[]", '[{"key": "cores"}]', "[1]", "null", "[" * 100_000,
    '[{"key": "cores", "bound": null, "fit": ["x"]}]', '[{"key": "mass", "bound": 5, "fit": null}]',
])  # fmt: skip
def test_what_is_kept_and_broken_is_solved_anew(small, tmp_path, junk):
    first = kept_limits(*small, tmp_path)
    (path,) = tmp_path.iterdir()
    path.write_text(junk, encoding="utf-8")
    assert [limit.value for limit in kept_limits(*small, tmp_path)] == [
        limit.value for limit in first
    ]


def test_a_folder_that_cannot_be_written_is_no_mistake(small, tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert kept_limits(*small, tmp_path / "file") == kept_limits(*small, None)


def test_what_is_kept_rests_on_all_rooms_that_calculate():
    code = (
        "import sys, specgen.limits.solve\n"
        "print(*{name.split('.')[1] for name in sys.modules if name.startswith('specgen.')})"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    words_and_files = {"diagnostics", "frozen", "messages", "source"}
    assert set(done.stdout.split()) - words_and_files <= set(limit_cache.ROOMS)
