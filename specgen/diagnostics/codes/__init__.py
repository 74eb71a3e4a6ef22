# ruff: noqa: F403 (a module of codes is all codes)
"""All codes, a module a hundred. A number is never used twice, and never for something else.

Below each code stands why it matters. Nobody pays for these texts who does not ask: they are read
off the source (`explanations`).
"""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Final

from specgen.diagnostics.codes import engineering, names, output, prose, text
from specgen.diagnostics.codes.engineering import *
from specgen.diagnostics.codes.names import *
from specgen.diagnostics.codes.output import *
from specgen.diagnostics.codes.prose import *
from specgen.diagnostics.codes.text import *
from specgen.diagnostics.finding import Code

_MODULES: Final = (text, names, engineering, output, prose)

CODES: Final[Mapping[str, Code]] = MappingProxyType(
    {
        code.id: code
        for module in _MODULES
        for code in vars(module).values()
        if isinstance(code, Code)
    }
)
"""Every code by its number, in the order of the modules."""


def about(code: Code) -> str:
    """Why a code matters: as the rule says, or what stands below it, where it is one of ours."""
    return code.because or explanations().get(code.id, "")


@cache
def explanations() -> Mapping[str, str]:
    """Why each code matters, by its number."""
    from specgen.attribute_docs import texts_below  # reads sources, which few ask for

    return {
        vars(module)[name].id: words
        for module in _MODULES
        for name, words in texts_below(module).items()
        if isinstance(vars(module)[name], Code)
    }
