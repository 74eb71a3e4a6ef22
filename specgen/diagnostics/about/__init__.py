"""Why each code matters to a reader of the sheet, by code."""

from collections.abc import Mapping
from typing import Final

from specgen.diagnostics.about.engineering import ENGINEERING
from specgen.diagnostics.about.names import NAMES
from specgen.diagnostics.about.output import OUTPUT
from specgen.diagnostics.about.prose import PROSE
from specgen.diagnostics.about.text import TEXT

ABOUT: Final[Mapping[str, str]] = {**TEXT, **NAMES, **ENGINEERING, **OUTPUT, **PROSE}
