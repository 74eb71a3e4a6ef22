"""One cause is told once, nearest to the mistake: what follows from it, and what is alike.

Whatever keeps a build from being made stays an error of that build; only the list that people and
programs read is shortened. Nothing is taken out of it that leaves no error behind.

What follows from what is a row of `following.py`, what ties the two a function of `ties.py`;
`alike.py` puts together what says the same.
"""

from collections.abc import Iterable, Sequence

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, arrange
from specgen.rules.told_once.alike import (
    of_absent,
    of_one_line,
    of_one_name,
    of_one_place,
    of_one_value,
    taken_over,
)
from specgen.rules.told_once.following import DOUBTS, followed
from specgen.rules.told_once.told import Told

Systems = Iterable[tuple[Assembly, Sequence[Finding]]]


def told_once(general: Iterable[Finding], systems: Systems = ()) -> tuple[Finding, ...]:
    """Everything found, each cause once; `systems` are the builds with what was found in each."""
    systems = tuple(systems)
    told = [Told(each) for each in dict.fromkeys(general)]
    doubtful = any(each.finding.code in DOUBTS for each in told)
    told += taken_over([Told(each, assembly) for assembly, found in systems for each in found])
    if doubtful or any(each.is_error for each in told):  # else nothing follows from nothing
        told = of_absent(of_one_place(followed(of_one_value(told))))
        told = of_one_line(told, tuple(assembly for assembly, _ in systems))
    return arrange(each.finding for each in of_one_name(told))
