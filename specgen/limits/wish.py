"""A wish: a condition on systems of a platform, met by a build or refused with reasons."""

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.expressions.read import Statement
from specgen.frozen import frozen
from specgen.limits.argument import Conflict, Wished
from specgen.limits.build_text import text_of
from specgen.limits.conflict import conflict
from specgen.limits.rule_encoding import NotLinear, truth_of
from specgen.limits.solve import FoundBuild, Solver
from specgen.limits.tidied import tidied
from specgen.limits.totals import TOTALS
from specgen.messages import listed, message_of, say
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Platform
from specgen.rules.declared import statement_of


@frozen
class Wish:
    """What became of a wish: a build that meets it (`text` as YAML), or what stands in its way.

    `ruled_out` says that it is proved that no build meets it, whether or not the conflict was
    found in the time given.
    """

    build: Build | None = None
    text: str = ""
    ruled_out: bool = False
    conflict: Conflict | None = None


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
        holds = truth_of(solver.builds, statement)
    except NotLinear:
        return None, (_beyond(statement),)
    found = solver.seek(solver.model([holds], started=False), solver.fewest, "wish")
    if isinstance(found, FoundBuild):
        tidy = tidied(solver, found, "wish", [holds]).build
        return Wish(tidy, text_of(tidy, at)), ()
    if not found.proved:
        return Wish(), ()

    def where(arguing: Solver) -> Wished:
        return Wished((truth_of(arguing.builds, statement),))

    found_conflict = conflict(definitions, platform, where, at, solver.learnt, far=True)
    return Wish(ruled_out=True, conflict=found_conflict), ()


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
