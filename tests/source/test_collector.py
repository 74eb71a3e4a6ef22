"""A process that reads again and again keeps nothing of what it read before."""

from weakref import ref

import pytest

from specgen.source import collector
from specgen.source.collector import lasting


class Circle:
    """Goes only when somebody looks for circles."""

    def __init__(self) -> None:
        self.itself = self


def test_what_was_read_before_is_freed_when_a_process_reads_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(collector, "READINGS", 1)
    with lasting():
        before = ref(Circle())
    assert before() is not None
    with lasting():
        pass
    assert before() is None


def test_what_is_still_held_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(collector, "READINGS", 1)
    with lasting():
        held = Circle()
    with lasting():
        pass
    assert ref(held)() is held
