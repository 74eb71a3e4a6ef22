"""Checks over several parts as values, in six forms: what they demand, of whom, and their words.

A constraint asks for traits, never for kinds: whatever states the field is meant. `violations`
turns them into findings of a build, `limits.constraint_encoding` into constraints of the solver;
both read the same values, so a new one is written once, in the module of its subject.
"""

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import field

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Code, Finding
from specgen.facts import Facts
from specgen.fitness import field_of
from specgen.frozen import frozen
from specgen.messages import Message
from specgen.model import Conditions, Part, Platform, Population
from specgen.quantity import Magnitude

Countable = int | Magnitude
Member = tuple[Place, Part]
Grouping = Callable[[Place, Part], Hashable | None]
"""What parts are taken together by; None for a part that belongs to no group."""
Counts = Callable[[Place, Part], Iterable[tuple[str, int]]]
"""How many of what a part takes or offers."""


@frozen(kw_only=True)
class Alike:
    """Parts of one group that state `among` are equal in `trait`, where they state that.

    The words are filled with `part`, `place`, `value` and `title` of what is unlike the most, the
    same of one of these as `other`, `other_place` and `other_value`, the `channel`, and `words`.
    """

    code: Code
    statement: Message
    among: str
    trait: str
    group: Grouping
    message: Message
    at: Message
    other_label: Message
    help: Message | None = None
    words: Mapping[str, Message] = field(default_factory=dict)
    declared: tuple[str, str, str] | tuple[()] = ()
    """A table of the platform, its key and what stands there, where the platform must demand it;
    `id` goes by `model` there."""

    def asked(self, platform: Platform) -> bool:
        """Whether it is demanded on a platform."""
        if not self.declared:
            return True
        table, key, wanted = self.declared
        demands: Mapping[str, str] = getattr(platform, table)
        return demands.get(written_key(key)) == wanted

    def within(self, place: Place, part: Part) -> Hashable | None:
        """The group in which a part is compared; None where it is not meant."""
        stated = field_of(part, self.among) is not None and field_of(part, self.trait) is not None
        return self.group(place, part) if stated else None


def written_key(key: str) -> str:
    """How a table of the platform names a field."""
    return "model" if key == "id" else key


@frozen(kw_only=True)
class AtMost:
    """The amounts of a group sum up to no more than `limit` of a part, which sets it for a group.

    Several parts may set a limit for one group, and each must be kept. The words are filled with
    `total` and `limit`, with the `part` that sets it and its `place`, and with `members`.
    """

    code: Code
    statement: Message
    amount: Callable[[Part], Countable | None]
    group: Grouping
    distinct: Grouping | None = None
    """What parts share that count once together, such as a channel."""
    limit: str
    limits: Grouping
    message: Message
    at: Message
    other_label: Message
    note: Message | None = None


@frozen
class Lack:
    """More taken of something than there is: by whom, from whom, and how many `standing`."""

    group: str
    taken: tuple[tuple[Place, Part, int], ...]
    offered: tuple[tuple[Place, Part, int], ...]
    standing: int


@frozen(kw_only=True)
class Enough:
    """What some parts need so many of, others offer: no more is taken than there is.

    `standing` is taken whatever is fitted, or, where it is negative, there. `resting` counts what
    offers even where it cannot work, which is an error of its own. With `places`, it is asked only
    where some position takes what can state that trait, and with `group_of` as well only of the
    groups that such a position names.
    """

    code: Code
    statement: Message
    taken: Counts
    offered: Counts
    standing: Callable[[Assembly], Mapping[str, int]]
    resting: bool = False
    places: str = ""
    group_of: Callable[[Place], str | None] | None = None
    findings: Callable[[Assembly, tuple[Lack, ...]], Iterable[Finding]]
    """Given all that one line of a build lacks, so that it is told once."""


def one_by_one(
    finding: Callable[[Assembly, Lack], Iterable[Finding]],
) -> Callable[[Assembly, tuple[Lack, ...]], Iterable[Finding]]:
    """What is told of each lack by itself."""

    def told(assembly: Assembly, lacks: tuple[Lack, ...]) -> Iterable[Finding]:
        for lack in lacks:
            yield from finding(assembly, lack)

    return told


@frozen
class UnreachedLack:
    """Positions whose parts take more than reaches them, with how many each takes."""

    taken: tuple[tuple[Place, int], ...]


@frozen(kw_only=True)
class Reached:
    """As many auxiliary connectors reach positions as their parts take, each used once.

    Of how many there are in all `Enough` speaks: this is asked where some reach only so far.
    """

    code: Code
    statement: Message
    taken: Counts
    findings: Callable[[Assembly, str, UnreachedLack], Iterable[Finding]]


@frozen
class Shortage:
    """A value beyond what parts offer, `spare` of them lost."""

    total: Magnitude
    each: Magnitude
    members: tuple[Member, ...]
    spare: int

    @property
    def carrying(self) -> int:
        """How many of them are left."""
        return len(self.members) - self.spare

    @property
    def left(self) -> Magnitude:
        """What these offer together."""
        return self.each * self.carrying


@frozen(kw_only=True)
class Covered:
    """A value that is a sum over parts stays within what some offer, even with `spare` lost.

    Nothing is asked where no part offers anything. `fact` is the value's key in the ledger.
    """

    code: Code
    statement: Message
    fact: str
    offered: Callable[[Part, Conditions], Magnitude | None]
    spare: Callable[[Conditions], int]
    finding: Callable[[Assembly, Facts, Shortage], Finding]


@frozen(kw_only=True)
class InOrder:
    """Positions of an order are filled first to last, as far as they are usable."""

    code: Code
    statement: Message
    orders: Callable[[Assembly], tuple[Population, ...]]
    finding: Callable[[Assembly, int, list[Place], list[Place]], Finding]


Constraint = Alike | AtMost | Enough | Reached | Covered | InOrder


def _never(_: Assembly) -> bool:
    return False


@frozen
class Chain:
    """Constraints of which only the first that is broken is worth a finding: the rest follows.

    None is where it is `unclear`, from a mistake that has a finding, who would be counted.
    """

    constraints: tuple[Constraint, ...]
    unclear: Callable[[Assembly], bool] = _never
