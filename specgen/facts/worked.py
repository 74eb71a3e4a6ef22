"""An expression as the input of a calculator; what it reads of a system is its pedigree."""

from collections.abc import Callable
from contextlib import suppress
from functools import partial
from typing import Any, Final

from specgen.assembly import Assembly
from specgen.expressions.evaluate import Evaluator, FittedPart, TooLong
from specgen.expressions.read import Statement
from specgen.facts.fact import Declared, Fact, Facts, Rests, Trail
from specgen.facts.inputs import Condition, Context, PlatformField, fit_leaf, leaf
from specgen.frozen import frozen
from specgen.messages import NO, YES, say
from specgen.model import Platform

WHERE: Final = frozenset({"position", "soldered", "kind", "id"})
"""What a part in a position has without a line of its own."""


@frozen
class Worked:
    """An expression as the input of a calculator; None where `when` does not hold."""

    expression: Statement
    when: Statement | None
    needs: frozenset[str]
    of_parts: bool
    finish: Callable[[Any], Any]

    def read(self, context: Context) -> tuple[Any, Rests]:
        assembly, facts, subject = context.assembly, context.facts, context.subject
        try:
            value = self.value(Evaluator(assembly, facts), subject)
        except TooLong:  # a check says so
            value = None
        return value, partial(self._trail, assembly, facts, subject)

    def value(self, evaluator: Evaluator, subject: str) -> Any:
        """What it comes to on a system, about a subject. Raises `TooLong`."""
        evaluator.subject = subject
        evaluator.begin(evaluator.fitted_part(subject) if self.of_parts else None)
        if self.when is not None and not evaluator.holds(self.when.tree):
            return None
        value = evaluator.value(self.expression.tree)
        return None if value is None else self.finish(value)

    def _trail(self, assembly: Assembly, facts: Facts, subject: str) -> Trail:
        watcher = _Watcher(assembly, facts)
        with suppress(TooLong):  # what was read until then
            self.value(watcher, subject)
        expression = Declared(say("expression"), self.expression.text.plain, self.expression.place)
        return (*watcher.seen.values(), expression)


class _Watcher(Evaluator):
    """Keeps what the system was asked for, each once.

    An expression is worked out a second time for its pedigree, which few ask for: watching every
    time would make each value pay for leaves that no page prints.
    """

    def __init__(self, assembly: Assembly, facts: Facts) -> None:
        super().__init__(assembly, facts)
        self.scene = Context(assembly, facts)
        self.seen: dict[object, Fact | Declared] = {}

    def fact(self, key: str) -> Any:
        if key in self.scene.facts:
            self.seen[key] = self.scene.facts[key]
        return super().fact(key)

    def condition(self, name: str) -> Any:
        self._keep(Condition(name).read(self.scene)[1])
        return super().condition(name)

    def field(self, holder: Any, path: tuple[str | int, ...]) -> Any:
        value = super().field(holder, path)
        shown = (YES if value else NO) if isinstance(value, bool) else value
        if isinstance(holder, Platform):
            self._keep(PlatformField(path).read(self.scene)[1])
        elif isinstance(holder, FittedPart) and path[0] in WHERE:
            self.counted(holder)
        elif isinstance(holder, FittedPart):
            self._keep((leaf(holder.place, holder.part, path, shown),))
        return value

    def position(self, name: str) -> None:
        place = self.assembly.places.get(name)
        if place is not None:
            self._keep((fit_leaf(place),))

    def counted(self, member: FittedPart) -> None:
        self._keep((fit_leaf(member.place),))

    def _keep(self, trail: Rests) -> None:
        for entry in trail() if callable(trail) else trail:
            self.seen.setdefault((entry.label, entry.subject, str(entry.value)), entry)
