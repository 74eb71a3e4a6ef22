"""Checks once that the calculators go together, and gives the facts of an assembly each time."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property, lru_cache
from graphlib import CycleError, TopologicalSorter
from itertools import chain
from types import MappingProxyType
from typing import Any, Final

from specgen.assembly import Assembly
from specgen.facts.fact import About, Fact, Facts, Rests, Value
from specgen.facts.inputs import Context
from specgen.facts.registry import AnyCalculator

Maker = tuple[AnyCalculator, str]
"""The calculator of a fact, and what the fact is about."""
Makers = Mapping[str, Maker]
KeysByTemplate = Mapping[str, Collection[str]]
"""The facts of each calculator."""


class _Named(Mapping[str, Maker]):
    """What makes each fact, in the order of registration: sort of subjects by sort of subjects,
    since to put all of a build's into one table takes longer than all the looking up."""

    __slots__ = ("_makers", "_templates")

    def __init__(self, templates: KeysByTemplate, makers: tuple[dict[str, Maker], ...]) -> None:
        self._templates = templates
        self._makers = tuple(filter(None, makers))

    def __getitem__(self, key: str) -> Maker:
        found = self._find(key)
        if found is None:
            raise KeyError(key)
        return found

    def __contains__(self, key: object) -> bool:
        return self._find(key) is not None

    def _find(self, key: Any) -> Maker | None:
        for makers in self._makers:
            if key in makers:
                return makers[key]
        return None

    def __iter__(self) -> Iterator[str]:
        return chain.from_iterable(self._templates.values())

    def __len__(self) -> int:
        return sum(map(len, self._makers))


Standing = Callable[[str], Fact | None]


NOTHING_REPLACED: Final[Mapping[str, Value]] = MappingProxyType({})


class BadRegistry(Exception):
    """Two calculators with one key, one that reads a fact nobody makes, or a circle of them."""


class Ledger:
    """The calculators; each reads facts that others make, and none, in the end, its own."""

    def __init__(
        self, calculators: Iterable[AnyCalculator], others: "Ledger | None" = None
    ) -> None:
        """Raises `BadRegistry`. The `others` go together already, and read none of these."""
        self.by_key: dict[str, AnyCalculator] = {} if others is None else dict(others.by_key)
        more = tuple(calculators)
        for calculator in more:
            if calculator.key in self.by_key:
                raise BadRegistry(f"two calculators make `{calculator.key}`")
            self.by_key[calculator.key] = calculator
        self._check_order(more)
        over = (calculator.over for calculator in self.by_key.values())
        self._subjects = tuple(dict.fromkeys(each for each in over if each is not None))
        self._named = lru_cache(maxsize=64)(self._names)
        self._named_over = lru_cache(maxsize=1024)(self._names_over)

    def _check_order(self, calculators: Iterable[AnyCalculator]) -> None:
        graph: TopologicalSorter[str] = TopologicalSorter()
        for calculator in calculators:
            key, needs = calculator.key, calculator.needs
            for needed in needs:
                if needed not in self.by_key:
                    raise BadRegistry(f"`{key}` reads `{needed}`, which nothing makes")
            graph.add(key, *sorted(needs))
        try:
            graph.prepare()
        except CycleError as circle:
            raise BadRegistry(f"calculators in a circle: {circle.args[1]}") from None

    def calculate(
        self,
        assembly: Assembly,
        replaced: Mapping[str, Value] = NOTHING_REPLACED,
        standing: Standing | None = None,
    ) -> Facts:
        """Every fact of an assembly, in the order of registration, worked out when asked for.

        `replaced` stands for what some facts come to: how would all others be, if? Facts that
        are `standing` are known already, and not worked out again.
        """
        makers, templates = self._named(tuple(over.listed(assembly) for over in self._subjects))

        def make(key: str) -> Fact:
            known = None if standing is None else standing(key)
            if known is not None:
                return known
            fact = _fact(context, key, *makers[key])
            return replace(fact, value=replaced[key]) if key in replaced else fact

        def about(key: str) -> About:
            calculator, subject = makers[key]
            return calculator.label, calculator.key, subject

        facts = Facts(makers, templates, make, about)
        context = Context(assembly, facts)
        return facts

    def _names(self, subjects: tuple[tuple[str, ...], ...]) -> tuple[Makers, KeysByTemplate]:
        """The calculator of each fact, and the facts of each calculator; kept, since builds of
        one shape have the same, and those of one platform have many subjects in common."""
        over = [self._named_over(at, named) for at, named in enumerate(subjects)]
        templates: dict[str, Collection[str]] = {
            template: (template,) if at is None else over[at][0][template]
            for template, _, at in self._plan
        }
        return _Named(templates, (self._single, *(makers for _, makers in over))), templates

    def _names_over(
        self, number: int, subjects: tuple[str, ...]
    ) -> tuple[KeysByTemplate, dict[str, Maker]]:
        """The facts of each calculator that is repeated over subjects of one sort, and what makes
        each."""
        keys: dict[str, Collection[str]] = {}
        makers: dict[str, Maker] = {}
        for calculator, head, tail in self._repeated[number]:
            own = {f"{head}{each}{tail}": (calculator, each) for each in subjects}
            keys[calculator.key] = tuple(own)
            makers.update(own)
        return keys, makers

    @cached_property
    def _single(self) -> dict[str, Maker]:
        """What makes the facts of which there is one."""
        return {template: (calculator, "") for template, calculator, at in self._plan if at is None}

    @cached_property
    def _repeated(self) -> tuple[list[tuple[AnyCalculator, str, str]], ...]:
        """The calculators of each sort of subjects, with what their keys begin and end with."""
        found: tuple[list[tuple[AnyCalculator, str, str]], ...] = tuple([] for _ in self._subjects)
        for _, calculator, at in self._plan:
            if at is not None:
                found[at].append((calculator, *calculator.ends))
        return found

    @cached_property
    def _plan(self) -> tuple[tuple[str, AnyCalculator, int | None], ...]:
        """Each calculator with the place of its subjects among all: to look a sort of subjects up
        by its value takes longer than to name the facts."""
        at = {subjects: number for number, subjects in enumerate(self._subjects)}
        return tuple(
            (key, each, None if each.over is None else at[each.over])
            for key, each in self.by_key.items()
        )


def _fact(context: Context, key: str, calculator: AnyCalculator, subject: str) -> Fact:
    """One fact; reading its inputs may make others first."""
    before, context.subject = context.subject, subject
    values: dict[str, object] = {}
    rests: list[Rests] = []
    missing = False
    for name, entry in calculator.inputs.items():
        value, rests_on = entry.read(context)
        values[name] = value
        rests.append(rests_on)
        if value is None and not getattr(entry, "optional", False):
            missing = True
    context.subject = before
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
