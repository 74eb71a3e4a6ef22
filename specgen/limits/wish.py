"""A wish: a condition on systems of a platform, met by a build or refused with reasons."""

from dataclasses import replace

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.expressions.evaluate import Evaluator
from specgen.expressions.read import Statement
from specgen.frozen import frozen
from specgen.limits.argument import Conflict, Wished
from specgen.limits.build_text import text_of
from specgen.limits.conflict import conflict
from specgen.limits.left_out import LeftOut, left_out, left_out_of_required
from specgen.limits.near_wish import NearBuild, demands_of, near_wish
from specgen.limits.rule_encoding import NotLinear, truth_of
from specgen.limits.shortfall import Shortfall, shortfall
from specgen.limits.solve import FoundBuild, NoBuild, Solver
from specgen.limits.solver import ANY
from specgen.limits.tidied import tidied
from specgen.limits.totals import TOTALS
from specgen.messages import listed, message_of, say
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Platform
from specgen.rules.declared import statement_of


@frozen
class Wish:
    """What became of a wish: a build that meets it (`text` as YAML), or what stands in its way.

    `ruled_out` says that it is proved that no build meets it, whether or not the conflict was
    found in the time given; `short` is the value that it asks for and beyond which no build comes:
    what stands in the way is then what keeps it so. Parts that would count, or that must be there,
    and that no build can have are `left_out`. Without a build, `near` are those that give up least
    of it; there are none where no build is valid at all under the conditions (`nothing`), and what
    stands in the way is then what rules them all out.
    """

    build: Build | None = None
    text: str = ""
    ruled_out: bool = False
    conflict: Conflict | None = None
    short: Shortfall | None = None
    left_out: tuple[LeftOut, ...] = ()
    near: tuple[NearBuild, ...] = ()
    nothing: bool = False


def granted(
    definitions: Definitions, platform: Platform, text: str, at: Conditions = ANYWHERE
) -> tuple[Wish | None, tuple[Finding, ...]]:
    """A tidy build of few parts that a condition holds for, or the conflict; findings in its text.

    The condition is written in the language of declared rules. Raises what `Solver` does.
    """
    statement, findings = statement_of(text, definitions, platform)
    if statement is None:
        return None, findings
    solver = Solver(definitions, platform, at)
    try:
        holds = truth_of(solver.builds, statement.tree)
    except NotLinear:
        return None, (_beyond(statement),)
    found = solver.seek(solver.model([holds], started=False), solver.fewest, "wish")
    if isinstance(found, FoundBuild):
        tidy = tidied(solver, found, "wish", [holds])
        met = next((each.build for each in (tidy, found) if _meets(each, statement)), None)
        if met is not None:
            return Wish(met, text_of(met, at)), ()
    elif found.proved and _nothing_at_all(solver):
        why = conflict(definitions, platform, lambda _: Wished(()), at, solver.learnt)
        kept_out = left_out_of_required(solver)
        return Wish(ruled_out=True, conflict=why, left_out=kept_out, nothing=True), ()
    refused = _refused(solver, statement, proved=isinstance(found, NoBuild) and found.proved)
    return replace(refused, near=near_wish(solver, statement)), ()


def _refused(solver: Solver, statement: Statement, *, proved: bool) -> Wish:
    """What is known of a wish for which no build was found, whether or not there `proved` to be
    none."""
    definitions, platform, at = solver.definitions, solver.platform, solver.at
    if _hopeless(solver, statement):
        kept_out = left_out(solver, statement)
        return Wish(ruled_out=True, conflict=Conflict(()), left_out=kept_out)
    short = shortfall(solver, statement)
    if not proved and short is None:
        return Wish()
    kept_out = left_out(solver, statement)

    def where(arguing: Solver) -> Wished:
        if short is not None:
            return short.wished(arguing)
        return Wished((truth_of(arguing.builds, statement.tree),))

    why = conflict(
        definitions, platform, where, at, solver.learnt, far=short is None or short.of_few
    )
    return Wish(ruled_out=True, conflict=why, short=short, left_out=kept_out)


def _nothing_at_all(solver: Solver) -> bool:
    """Whether no build is valid, whatever is wished."""
    found = solver.seek(solver.model(started=False), ANY)
    return isinstance(found, NoBuild) and found.proved


def _hopeless(solver: Solver, statement: Statement) -> bool:
    """Whether something that must hold never does, whichever of the parts that go in are fitted
    where, and however many."""
    never = solver.logic.FALSE.index
    demands = demands_of(statement.tree)
    return any(truth_of(solver.builds, each).index == never for each in demands)


def _meets(found: FoundBuild, statement: Statement) -> bool:
    """Whether the statement holds for the values of a build: they decide, not the solver."""
    return Evaluator(found.assembly, found.facts).holds(statement.tree)


def _beyond(statement: Statement) -> Finding:
    known = listed(f'fact("{key}")' for key in TOTALS)
    return Finding(
        codes.RULE_LANGUAGE,
        say("a solver cannot be asked this"),
        Label(Span("", 0, 0, 0, 0), message_of(statement.text.cut(0, 10_000))),
        help=say(
            "compare counts and sums of parts, fields of parts in positions, and of the facts "
            "{known}",
            known=known,
        ),
    )
