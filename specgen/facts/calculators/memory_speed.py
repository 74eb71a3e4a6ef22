"""What limits the speed of memory: modules, processors and board, by what is on a channel."""

from collections.abc import Mapping
from functools import partial

from specgen.assembly import Assembly
from specgen.facts.calculators.memory_channels import ranks_on_fullest
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.inputs import Context, labelled, leaf
from specgen.frozen import frozen
from specgen.messages import YES, Message, say, say_many
from specgen.model import Processor
from specgen.quantity import TransferRate

MODULES = say("the modules")
Rates = Mapping[int, TransferRate]
RankTables = tuple[int, Rates, Rates]
"""Ranks on the fullest channel, the processor's rates by them, the board's."""


Rated = tuple[str, TransferRate]
"""A processor and what its own memory could run at."""


@frozen
class OwnRates:
    """What the memory of each processor with modules could run at.

    None where one of them is not declared: nobody knows then at what rate all of them run.
    """

    needs: frozenset[str] = frozenset(
        {"memory.{processor}.own_speed", "memory.{processor}.modules_per_channel"}
    )

    def read(self, context: Context) -> tuple[tuple[Rated, ...] | None, Rests]:
        known = context.facts
        filled = {
            fact.subject
            for fact in known.of_all("memory.{processor}.modules_per_channel")
            if fact.value
        }
        own = [
            fact for fact in known.of_all("memory.{processor}.own_speed") if fact.subject in filled
        ]
        found = [(fact.subject, fact.value) for fact in own if isinstance(fact.value, TransferRate)]
        return (tuple(found) if len(found) == len(own) else None), tuple(own)


def rank_tables(assembly: Assembly, processor: str) -> tuple[RankTables, Rests]:
    """Ranks on a channel, and the rates that processor and board allow by them, where declared."""
    part, platform = assembly.places[processor].part, assembly.platform
    own = part.memory_speed_by_ranks if isinstance(part, Processor) else {}
    board = platform.memory_speed_by_ranks
    if not own and not board:
        return (0, {}, {}), ()
    ranks, leaves = ranks_on_fullest(assembly, processor)
    trail: Trail = ()
    field = "memory_speed_by_ranks"
    if isinstance(part, Processor) and own:
        trail = (*trail, leaf(assembly.places[processor], part, (field,), own))
    if board:
        words, at = labelled(platform, (field,)), partial(platform.origin.place, field)
        trail = (*trail, Declared(words, board, at, platform.source))
    return (ranks, own, board), lambda: (*leaves(), *trail)


Limits = tuple[tuple[Message, TransferRate], ...]
"""What each stage allows, in words and in T/s."""


def speed_limits(
    loading: int,
    rates: tuple[TransferRate, ...],
    processor: Rates,
    board: Rates,
    by_ranks: RankTables = (0, {}, {}),
) -> Limits | None:
    """What each stage allows; nothing without modules.

    None where a table has no row for this number: a rate is never taken from another.
    """
    if not rates:
        return ()
    ranks, of_processor, of_board = by_ranks
    tables = ((processor, loading), (board, loading), (of_processor, ranks), (of_board, ranks))
    if any(table and count not in table for table, count in tables):
        return None
    limits = (
        (MODULES, min(rates)),
        (
            say_many(
                loading,
                "the processor at {number} module on a channel",
                "the processor at {number} modules on a channel",
            ),
            processor.get(loading),
        ),
        (
            say_many(
                loading,
                "the board at {number} module on a channel",
                "the board at {number} modules on a channel",
            ),
            board.get(loading),
        ),
        (
            say_many(
                ranks,
                "the processor at {number} rank on a channel",
                "the processor at {number} ranks on a channel",
            ),
            of_processor.get(ranks),
        ),
        (
            say_many(
                ranks,
                "the board at {number} rank on a channel",
                "the board at {number} ranks on a channel",
            ),
            of_board.get(ranks),
        ),
    )
    return tuple((stage, limit) for stage, limit in limits if limit is not None)


def speeds_apart(assembly: Assembly, _: str) -> tuple[bool, Trail]:
    """Whether the platform says that its processors run their memory apart."""
    board = assembly.platform
    at = partial(board.origin.at, "memory_apart")
    if not board.memory_apart:  # nothing is written: one rate is how systems work
        return False, ()
    return True, (Declared(labelled(board, ("memory_apart",)), YES, at, board.source),)
