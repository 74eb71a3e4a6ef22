"""What can be said of a platform with nothing in it: an empty chassis is no server.

Of the facts of the whole, those are kept that rest on the platform and on conditions alone, and
those that hold for any server in it, as named here. The weight of an empty chassis, or what it
draws, would be read as that of a server.
"""

from functools import lru_cache
from typing import Final

from specgen.facts.fact import Facts
from specgen.facts.fact_inputs import FactOf
from specgen.facts.inputs import Assumption, Condition, PlatformField
from specgen.facts.ledger import Ledger

OF_ANY: Final = frozenset(
    {
        *("processors.sockets", "memory.slots"),
        *("network.management_ports", "network.management_speed", "network.shared_ports"),
        *("mechanics.depth_needed", "mechanics.depth_spare", "cooling.fans_needed"),
        *("conditions.redundancy", "regulation.product_type"),
    }
)
"""Facts that are read off the chassis, and hold whatever is fitted or are the least of it."""
OF_SERVERS: Final = frozenset({"power", "energy", "parts"})
"""Groups of which those of one state, of one subsystem or of one part tell of a server too."""


def of_chassis(facts: Facts, ledger: Ledger) -> Facts:
    """The facts of a bare platform, without a value where that would be one of a server."""
    hidden = _hidden(ledger)
    return facts.without_value(lambda fact: fact.template in hidden)


@lru_cache(maxsize=8)
def _hidden(ledger: Ledger) -> frozenset[str]:
    """The calculators whose facts are about a server."""
    known: dict[str, bool] = {}

    def holds(key: str) -> bool:
        if key not in known:
            calculator = ledger.by_key[key]
            known[key] = key in OF_ANY or all(
                isinstance(entry, PlatformField | Condition | Assumption)
                or (isinstance(entry, FactOf) and holds(entry.key))
                for entry in calculator.inputs.values()
            )
        return known[key]

    return frozenset(
        key
        for key, calculator in ledger.by_key.items()
        if (calculator.over is None or key.split(".", 1)[0] in OF_SERVERS) and not holds(key)
    )
