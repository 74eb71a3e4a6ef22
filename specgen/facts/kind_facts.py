"""What is counted and compared of a project's own kinds of part, as facts of a system."""

from collections.abc import Iterator
from typing import Final

from specgen.facts.declared import printable
from specgen.facts.fact import Value
from specgen.facts.inputs import Fitted, each
from specgen.facts.registry import AnyCalculator, Calculators
from specgen.messages import say
from specgen.model import Definitions, Part, called
from specgen.quantity import show

GROUP: Final = "parts"


def of_own_kinds(definitions: Definitions) -> Iterator[AnyCalculator]:
    """How many of each kind are fitted, and what is declared of them that builds are compared by.

    Keys are `parts.`, what rules call the parts of the kind, and `count` or the field.
    """
    fact = Calculators()
    for declared in definitions.declared:
        kind = definitions.kinds[declared.id]
        head = f"{GROUP}.{kind.collection()}"
        if not kind.closes:
            fact.count(
                f"{head}.count", kind.named_many(), Fitted(kind), formula=say("number fitted")
            )
        for path in kind.compared_by:
            _compared(fact, f"{head}.{path}", kind, tuple(path.split(".")))
    return iter(fact)


def _compared(fact: Calculators, key: str, kind: type[Part], path: tuple[str, ...]) -> None:
    label = called(kind, path).words
    fact(
        key,
        say("{kind}: {label}", kind=kind.named(), label=label),
        short=label,
        formula=say("as declared where those fitted agree, else each value"),
        values=each(kind, *path),
    )(_agreed)


def _agreed(values: tuple[object, ...]) -> Value:
    several = tuple(dict.fromkeys(printable(value) for value in values))
    return several[0] if len(several) == 1 else tuple(show(value) for value in several)
