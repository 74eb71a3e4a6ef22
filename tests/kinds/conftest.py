"""Commands run in this process on the project of storage shelves."""

from collections.abc import Callable

import pytest

from specgen.cli import main
from specgen.quantity import NARROW_SPACE
from tests.kinds.shelves import SHELF

Printed = Callable[..., str]


@pytest.fixture
def printed(capsys: pytest.CaptureFixture[str]) -> Printed:
    """What a command about the shelves prints."""

    def call(*words: str) -> str:
        capsys.readouterr()
        status = main([*words, "--project", str(SHELF)])
        out, err = capsys.readouterr()
        assert (status, err) == (0, "")
        return out.replace(NARROW_SPACE, " ")

    return call
