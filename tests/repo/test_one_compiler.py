"""Typst is run in one place, in tests too: a fork of a process that has compiled waits for ever."""

from tests.repo.house import ROOT


def test_nobody_makes_a_compiler_but_the_typesetter() -> None:
    found = {
        path.relative_to(ROOT).as_posix()
        for folder in ("specgen", "tests")
        for path in (ROOT / folder).rglob("*.py")
        if "typst.Compiler(" in path.read_text(encoding="utf-8")
    }
    assert found == {"specgen/drawings/typesetter.py", "tests/repo/test_one_compiler.py"}
