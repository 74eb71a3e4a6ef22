"""What platforms can reach: their limits and these as facts, solved when they are asked for."""

from collections.abc import Callable, Mapping
from functools import cached_property, partial
from pathlib import Path

from specgen.facts import Basis, Declared, Fact, Facts
from specgen.limits.closure import TooLarge
from specgen.limits.conflict import binding
from specgen.limits.limit import Limit, Status
from specgen.limits.limit_cache import kept_limits
from specgen.limits.objectives import printed
from specgen.limits.solver import NotIntegral
from specgen.messages import Words, say
from specgen.model import ANYWHERE, Conditions, Definitions, Platform

HOW = {
    Status.PROVED: say("proved by a solver; a build that passes the checks reaches it"),
    Status.FOUND: say(
        "the best found in the time given; a build that passes the checks reaches it"
    ),
    Status.NOTHING: say("no build of the platform passes the checks"),
    Status.UNDECLARED: say("no power supply has an efficiency curve for the line"),
}


def _formula(limit: Limit) -> Words:
    how = HOW[limit.status]
    if limit.most:
        return say("max. over all valid builds; {how}", how=how)
    return say("min. over all valid builds; {how}", how=how)


class Reach:
    """The printed limits of one platform, under `limits.KEY` as facts.

    Where a platform is too large for the solver, there are none. Without a solver none is known:
    whoever asks for one gets `NoSolver`.
    """

    def __init__(
        self,
        definitions: Definitions,
        platform: Platform,
        solve: Callable[[Definitions, Platform, bool], tuple[Limit, ...]],
        at: Conditions = ANYWHERE,
    ) -> None:
        self._at = at
        self._definitions, self._platform, self._solve = definitions, platform, solve
        self.facts = Facts(
            tuple(f"limits.{key}" for key in printed(definitions, platform)), {}, self._fact
        )

    @cached_property
    def limits(self) -> tuple[Limit, ...]:
        """The limits, in the order of their table: for whoever shows no build that reaches one."""
        return self._solved(False) if "examples" not in self.__dict__ else self.examples

    @cached_property
    def examples(self) -> tuple[Limit, ...]:
        """The same limits with builds to be shown, which take longer to find."""
        return self._solved(True)

    def _solved(self, shown: bool) -> tuple[Limit, ...]:
        try:
            return self._solve(self._definitions, self._platform, shown)
        except (NotIntegral, TooLarge):
            return ()

    def _fact(self, key: str) -> Fact:
        limit = next((each for each in self.limits if f"limits.{each.key}" == key), None)
        if limit is None:
            return Fact(key, "limits.{limit}", key, None, Basis.LIMIT, "", "")
        return Fact(
            key=key,
            template="limits.{limit}",
            label=limit.label,
            value=limit.value,
            basis=Basis.LIMIT,
            formula=_formula(limit),
            source=say("the definitions, solved"),
            rests=(partial(self._binding, limit),),
            subject=self._platform.id,
        )

    def _binding(self, limit: Limit) -> tuple[Declared, ...]:
        """The pedigree: statements without which the limit would be passed."""
        found = binding(self._definitions, self._platform, limit, self._at)
        return tuple(
            Declared(reason.words, say("binding {code}", code=reason.code), reason.place)
            for reason in (found.reasons if found else ())
        )


def reaches(
    definitions: Definitions, folder: Path | None, jobs: int = 1, at: Conditions = ANYWHERE
) -> Mapping[str, Reach]:
    """What each platform can reach at conditions, by its id; what is proved is kept in `folder`."""

    def solve(definitions: Definitions, platform: Platform, shown: bool) -> tuple[Limit, ...]:
        return kept_limits(definitions, platform, folder, at=at, jobs=jobs, shown=shown)

    return {
        name: Reach(definitions, platform, solve, at)
        for name, platform in definitions.platforms.items()
    }
