"""What a document about several systems is about: systems side by side, or an order of them."""

from typing import Final

from specgen.document.case import Case
from specgen.facts import Facts
from specgen.facts.orders import OrderLine, order_facts
from specgen.frozen import frozen
from specgen.messages import Words, listed
from specgen.model import Definitions

FEWEST: Final = 2
MOST: Final = 5
"""Systems that a comparison takes: more columns than these no page holds."""


@frozen
class Compared:
    """Platforms or builds side by side; with `only_differences` alike rows are left out.

    `shown` are the systems in the pictures, one for each case: a platform is shown by a build.
    """

    definitions: Definitions
    cases: tuple[Case, ...]
    only_differences: bool = False
    shown: tuple[Case, ...] = ()

    @property
    def bare(self) -> bool:
        """Whether platforms are compared: values of what is fitted then mean nothing."""
        return any(case.build is None for case in self.cases)

    @property
    def title(self) -> Words:
        return listed(map(named, self.cases), "and")


@frozen
class Order:
    """Builds and how many of each."""

    definitions: Definitions
    lines: tuple[tuple[Case, int], ...]

    @classmethod
    def of_one(cls, case: Case) -> "Order":
        """An order of a single build."""
        return cls(case.definitions, ((case, 1),))

    @property
    def single(self) -> bool:
        """Whether it is one system, of which nothing needs summing."""
        return [count for _, count in self.lines] == [1]

    @property
    def facts(self) -> Facts:
        """Those of all systems, and of each build: `order.mass`, `order.mass.BUILD`."""
        return order_facts(
            [OrderLine(case.thing.id, case.facts, count) for case, count in self.lines]
        )

    @property
    def title(self) -> Words:
        return listed((named(case) for case, _ in self.lines), "and")


def named(case: Case) -> str:
    """What a system is called."""
    return case.thing.name
