"""What a check is: a function from a resolved build and its facts to findings."""

from collections.abc import Callable, Iterator

from specgen.assembly import Assembly
from specgen.diagnostics import Finding
from specgen.facts import Facts

Check = Callable[[Assembly, Facts], Iterator[Finding]]
