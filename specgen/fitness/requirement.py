"""What a requirement is: something of a place that a part must meet, and how a breach is worded."""

from collections.abc import Callable, Mapping
from dataclasses import field
from typing import Any, Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Code
from specgen.fitness.measures import Measures
from specgen.fitness.part_fields import field_of
from specgen.frozen import frozen
from specgen.messages import AsWritten, Message, Within, Words, listed, say
from specgen.model import Part, Position

NONE: Final = Message("")
HAS: Final = say("{has}")


@frozen
class Surroundings:
    """What is known round a place: the system at its conditions, as far as it is filled.

    `parts` are taken to work in positions, by name, whatever the assembly has there: the part that
    brings the place in question, say, when no build has been made yet. `published` says that the
    system is for others to order.
    """

    assembly: Assembly
    parts: Mapping[str, Part] = field(default_factory=dict)
    published: bool = True

    def part_at(self, name: str | None) -> Part | None:
        """The part that works in a position; None where there is none, or where it is open."""
        if name is None or name in self.parts:
            return self.parts.get(name or "")
        place = self.assembly.places.get(name)
        return place.part if place is not None and place.filled else None


@frozen
class OfPosition:
    """What a position wants by itself, whatever lies round it: the same for all places that share
    it, and in every build."""

    read: Callable[[Position], Any]

    def __call__(self, place: Place, _: Surroundings) -> Any:
        return self.read(place.position)


@frozen
class OfRelated:
    """A trait of the part in the position that another names in a field of its own, if it does."""

    relation: str
    fields: tuple[str, ...]

    def __call__(self, place: Place, surroundings: Surroundings) -> Any:
        other = surroundings.part_at(getattr(place, self.relation))
        return None if other is None else field_of(other, *self.fields)


def related(relation: str, *fields: str) -> OfRelated:
    """A trait of the part in a related position."""
    return OfRelated(relation, fields)


@frozen(kw_only=True)
class Requirement:
    """One row: what a part has under a trait must suit what the place wants.

    Nothing is asked where the part states none of `fields` (the first that is stated counts), where
    `wants` is None or empty, or where the row does not apply. `relation` is the field of the place
    (`of`, `cools`) that names the position whose part it is held against. What fails a row that
    says whether it `goes_in` is not asked the rest, and left out of checks over several parts;
    after a `final` row no other is asked. Rows told `apart` are decided here like all others, and
    worded by a check of their subject, which has more to tell in the same finding.

    The messages are patterns, filled with `part`, `title`, `where`, `has`, `wants`, `other`,
    `platform`, `words` (the row's own), and `others`: parts that would do, the one with the least
    of it alone where the row wants the `nearest`.
    """

    code: Code
    fields: tuple[str, ...]
    wants: Callable[[Place, Surroundings], Any]
    measure: Callable[[Part], Any] | None = None
    """What the part has, where that is worked out of its fields."""
    suits: Callable[[Any, Any], bool]
    """Whether what the part has suits what the place wants, in this order: (wants, has)."""
    applies: Callable[[Place, Part, Surroundings], bool] | None = None
    relation: str = ""
    goes_in: bool = False
    final: bool = False
    apart: bool = False
    counts: bool = False
    """Whether its bare numbers count something; elsewhere they are widths in lanes."""
    words: Message = NONE
    message: Message = NONE
    at: Message = HAS
    pointers: tuple[tuple[str, Message], ...] = ()
    """Fields that play a part, each with words: `part.tdp`, `position.tdp`, `platform.lists`;
    `other.…` of the part in the related position, `place` for the line that fills that,
    `condition.…` for the line that states a condition."""
    help: Message | None = None
    """What would mend it; only where there are `others`, unless the row is `sure`."""
    sure: bool = False
    nearest: bool = False
    statement: Message = NONE
    """The row as a demand on systems, where it relates parts to one another."""

    def has(self, part: Part) -> Any:
        """What a part has; None where it states nothing."""
        return field_of(part, *self.fields) if self.measure is None else self.measure(part)

    def met_in(self, position: Position, has: Any) -> bool:
        """Whether a position is known to be content with what a part has, wherever it lies."""
        if isinstance(self.wants, OfRelated):
            return getattr(position, self.wants.relation) is None
        if not isinstance(self.wants, OfPosition):
            return False
        wants = self.wants.read(position)
        return wants is None or wants == () or bool(self.suits(wants, has))

    def refusal(self, place: Place, part: Part, surroundings: Surroundings) -> "Refusal | None":
        """Why the part does not suit the place in this respect; None where it does."""
        has = self.has(part)
        return None if has is None else self.refusal_of(has, place, part, surroundings)

    def refusal_of(
        self, has: Any, place: Place, part: Part, surroundings: Surroundings
    ) -> "Refusal | None":
        """The same of a part of which is known what it has."""
        wants = self.wants(place, surroundings)
        if wants is None or wants == () or self.suits(wants, has):
            return None
        if self.applies is not None and not self.applies(place, part, surroundings):
            return None
        return Refusal(self, part, has, wants, self.related(place, surroundings))

    def related(self, place: Place, surroundings: Surroundings) -> Part | None:
        """The part that the row holds a part in this place against."""
        return surroundings.part_at(getattr(place, self.relation)) if self.relation else None


@frozen
class Refusal:
    """A part that does not suit a place: the requirement, what it has, what was wanted."""

    requirement: Requirement
    part: Part
    has: Any
    wants: Any
    other: Part | None = None

    @property
    def code(self) -> Code:
        return self.requirement.code

    @property
    def apart(self) -> bool:
        return self.requirement.apart

    @property
    def arguments(self) -> Mapping[str, object]:
        """What the patterns are filled with, as far as the refusal knows."""
        known = {
            "part": self.part.id,
            "title": Within(self.part.named()),
            "has": self._shown(self.has),
            "wants": self._shown(self.wants),
            "other": "" if self.other is None else self.other.id,
        }
        return {**known, "words": self.requirement.words.filled(**known)}

    def _shown(self, value: object) -> Words:
        if isinstance(value, Measures):
            return str(value)
        if isinstance(value, int):
            return str(value) if self.requirement.counts else f"x{value}"
        return listed(map(str, value), "or") if isinstance(value, tuple) else AsWritten(value)

    @property
    def words(self) -> Message:
        """The end of a sentence that begins with the part."""
        return self.requirement.words.filled(**self.arguments)
