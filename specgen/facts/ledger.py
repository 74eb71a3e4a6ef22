"""Works out the order of the calculators once, and the facts of an assembly each time."""

from collections.abc import Iterable
from graphlib import CycleError, TopologicalSorter

from specgen.assembly import Assembly
from specgen.facts.fact import Declared, Fact, Facts
from specgen.facts.inputs import FactOf, Scene
from specgen.facts.registry import Calculator


class BadRegistry(Exception):
    """Two calculators with one key, one that reads a fact nobody makes, or a circle of them."""


class Ledger:
    """The calculators, in an order in which each comes after those it reads."""

    def __init__(self, calculators: Iterable[Calculator]) -> None:
        """Raises `BadRegistry`."""
        self.by_key: dict[str, Calculator] = {}
        for calculator in calculators:
            if calculator.key in self.by_key:
                raise BadRegistry(f"two calculators make `{calculator.key}`")
            self.by_key[calculator.key] = calculator
        self._rank = {key: rank for rank, key in enumerate(self.by_key)}
        self._ordered = self._order()

    def _order(self) -> tuple[Calculator, ...]:
        graph: TopologicalSorter[str] = TopologicalSorter()
        for key, calculator in self.by_key.items():
            for needed in calculator.needs:
                if needed not in self.by_key:
                    raise BadRegistry(f"`{key}` reads `{needed}`, which nothing makes")
            graph.add(key, *sorted(calculator.needs))
        try:
            return tuple(self.by_key[key] for key in graph.static_order())
        except CycleError as circle:
            raise BadRegistry(f"calculators in a circle: {circle.args[1]}") from None

    def calculate(self, assembly: Assembly) -> Facts:
        """Every fact of an assembly, in the order of registration."""
        scene = Scene(assembly, {}, {})
        subjects: dict[str, tuple[str, ...]] = {}
        for calculator in self._ordered:
            facts = scene.templates.setdefault(calculator.key, [])
            if calculator.over is None:
                _one(scene, calculator, "", facts)
                continue
            word = calculator.over.word
            if word not in subjects:
                subjects[word] = calculator.over.listed(assembly)
            for subject in subjects[word]:
                _one(scene, calculator, subject, facts)
        ranked = sorted(scene.done.values(), key=lambda fact: self._rank[fact.template])
        return Facts({fact.key: fact for fact in ranked}, scene.templates)


def _one(scene: Scene, calculator: Calculator, subject: str, facts: list[Fact]) -> None:
    scene.subject = subject
    values: dict[str, object] = {}
    trail: list[Fact | Declared] = []
    missing = False
    for name, entry in calculator.inputs.items():
        value, rests_on = entry.read(scene)
        values[name] = value
        trail += rests_on
        if value is None and not (isinstance(entry, FactOf) and entry.optional):
            missing = True
    key = calculator.key
    if calculator.over is not None:
        key = key.replace("{" + calculator.over.word + "}", subject)
    fact = Fact(
        key=key,
        template=calculator.key,
        label=calculator.label,
        value=None if missing else calculator.function(**values),
        basis=calculator.basis,
        formula=calculator.formula,
        source=calculator.source,
        inputs=tuple(trail),
        subject=subject,
        assumes=calculator.assumes,
    )
    scene.done[key] = fact
    facts.append(fact)
