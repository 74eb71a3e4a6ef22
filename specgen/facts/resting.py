"""Which facts rest on a condition, whatever they are worked out from on the way."""

from specgen.facts import FactTypes, ledger_of
from specgen.facts.inputs import Condition
from specgen.facts.registry import AnyCalculator
from specgen.model import Definitions


def rests_on(definitions: Definitions, key: str, condition: str) -> bool:
    """Whether a fact is worked out from a condition; what is read off assemblies is not seen."""
    known = FactTypes(ledger_of(definitions))
    waiting, seen = [key], set[str]()
    while waiting:
        calculator = known.calculator(waiting.pop())
        if calculator is None or calculator.key in seen:
            continue
        seen.add(calculator.key)
        if _states(calculator, condition):
            return True
        waiting.extend(calculator.needs)
    return False


def _states(calculator: AnyCalculator, condition: str) -> bool:
    inputs = calculator.inputs.values()
    return any(isinstance(entry, Condition) and entry.name == condition for entry in inputs)
