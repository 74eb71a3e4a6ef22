"""Checks once that the calculators go together, and gives the facts of an assembly each time."""

from collections.abc import Iterable
from graphlib import CycleError, TopologicalSorter

from specgen.assembly import Assembly
from specgen.facts.fact import Fact, Facts, Rests
from specgen.facts.inputs import FactOf, Scene
from specgen.facts.registry import AnyCalculator, Subjects


class BadRegistry(Exception):
    """Two calculators with one key, one that reads a fact nobody makes, or a circle of them."""


class Ledger:
    """The calculators; each reads facts that others make, and none, in the end, its own."""

    def __init__(self, calculators: Iterable[AnyCalculator]) -> None:
        """Raises `BadRegistry`."""
        self.by_key: dict[str, AnyCalculator] = {}
        for calculator in calculators:
            if calculator.key in self.by_key:
                raise BadRegistry(f"two calculators make `{calculator.key}`")
            self.by_key[calculator.key] = calculator
        self._check_order()

    def _check_order(self) -> None:
        graph: TopologicalSorter[str] = TopologicalSorter()
        for key, calculator in self.by_key.items():
            for needed in calculator.needs:
                if needed not in self.by_key:
                    raise BadRegistry(f"`{key}` reads `{needed}`, which nothing makes")
            graph.add(key, *sorted(calculator.needs))
        try:
            graph.prepare()
        except CycleError as circle:
            raise BadRegistry(f"calculators in a circle: {circle.args[1]}") from None

    def calculate(self, assembly: Assembly) -> Facts:
        """Every fact of an assembly, in the order of registration, worked out when asked for."""
        makers: dict[str, tuple[AnyCalculator, str]] = {}
        templates: dict[str, tuple[str, ...]] = {}
        facts = Facts(makers, templates, lambda key: _fact(scene, key, *makers[key]))
        scene = Scene(assembly, facts)
        subjects: dict[Subjects, tuple[str, ...]] = {}
        for template, calculator in self.by_key.items():
            over = calculator.over
            if over is None:
                named: tuple[str, ...] = ("",)
            else:
                if over not in subjects:
                    subjects[over] = over.listed(assembly)
                named = subjects[over]
            keys = tuple(calculator.named(subject) for subject in named)
            templates[template] = keys
            makers.update(zip(keys, ((calculator, subject) for subject in named), strict=True))
        return facts


def _fact(scene: Scene, key: str, calculator: AnyCalculator, subject: str) -> Fact:
    """One fact; reading its inputs may make others first."""
    before, scene.subject = scene.subject, subject
    values: dict[str, object] = {}
    rests: list[Rests] = []
    missing = False
    for name, entry in calculator.inputs.items():
        value, rests_on = entry.read(scene)
        values[name] = value
        rests.append(rests_on)
        if value is None and not (isinstance(entry, FactOf) and entry.optional):
            missing = True
    scene.subject = before
    return Fact(
        key=key,
        template=calculator.key,
        label=calculator.label,
        value=None if missing else calculator.function(**values),
        basis=calculator.basis,
        formula=calculator.formula,
        source=calculator.source,
        rests=tuple(rests),
        subject=subject,
        assumes=calculator.assumes,
        short=calculator.short,
    )
