"""Values that a project declares and that take too long on a system."""

from collections.abc import Iterator

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, Label, codes
from specgen.expressions.evaluate import Evaluator, TooLong
from specgen.facts import Facts, values_of
from specgen.facts.worked import Worked
from specgen.messages import say


def endless(assembly: Assembly, facts: Facts) -> Iterator[Finding]:
    """A finding for each declared value that takes too many steps: it has no value."""
    for calculator in values_of(assembly.definitions).calculators:
        worked = calculator.inputs["value"]
        assert isinstance(worked, Worked)
        evaluator = Evaluator(assembly, facts)
        over = calculator.over
        try:
            for subject in ("",) if over is None else over.listed(assembly):
                worked.value(evaluator, subject)
        except TooLong:
            yield Finding(
                codes.RULE_TOO_LARGE,
                say("`{key}` takes too many steps on a server", key=calculator.key),
                Label(worked.expression.place(), say("runs within runs multiply")),
                help=say("run over a smaller collection, or split the value"),
            )
