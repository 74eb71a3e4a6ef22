"""`python -m specgen`."""

from specgen.cli import entry

entry()
