"""Service work: who may do it."""

from typing import Literal

Who = Literal["user", "qualified"]
"""Anybody who has the guide, or qualified personnel alone."""
