"""Commands run on the small project, as in `tests/cli`."""

from tests.cli.conftest import here, run

__all__ = ["here", "run"]
