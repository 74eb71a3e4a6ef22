"""Values of processors that hardly go with one another: threads, channels, power, memory."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any, Final

from specgen.messages import AsWritten, say
from specgen.model import Definitions
from specgen.quantity import DataSize, Power
from specgen.rules.definitions.contradicting.contradicting_lists import Look
from specgen.rules.definitions.contradicting.contradiction import Contradiction, far_from_usual

MOST_THREADS: Final = 8
MOST_CORES: Final = 1024


def _threads(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Each core of a processor runs as many threads as the others."""
    cores, threads = getattr(record, "cores", None), getattr(record, "threads", None)
    if not isinstance(cores, int) or not isinstance(threads, int) or threads < cores:
        return
    if threads % cores or threads > MOST_THREADS * cores:
        yield Contradiction(
            ("threads",),
            say("{threads} threads of {cores} cores", threads=threads, cores=cores),
            say("each core runs one thread or two, all of them alike"),
            ("cores",),
        )
    elif cores > MOST_CORES:
        yield Contradiction(
            ("cores",),
            far_from_usual("cores", cores),
            say("a processor has up to some hundred cores"),
        )


MOST_CHANNELS: Final = 16
"""Of memory modules. Channels of soldered memory are narrower, and there are more of them."""
MOST_NARROW: Final = 128
MOST_ODD: Final = 3
"""Of odd numbers of channels one and three are built."""


def _channels(record: Any, _: Definitions) -> Iterator[Contradiction]:
    channels, technology = (
        getattr(record, name, None) for name in ("memory_channels", "memory_technology")
    )
    if not isinstance(channels, int) or not isinstance(technology, str):
        return
    most = MOST_CHANNELS if technology.startswith("ddr") else MOST_NARROW
    if channels > most or (channels > MOST_ODD and channels % 2):
        yield Contradiction(
            ("memory_channels",),
            far_from_usual("memory_channels", channels),
            say("a processor has an even number of channels, up to {most}", most=most),
        )


ABOVE_TDP: Final = (Fraction(1, 2), Fraction(2))
"""What a processor draws at most, in its TDP: short peaks and the losses of its regulators make it
more. common practice, no source"""
LEAST_A_CHANNEL: Final = DataSize.of(2, "GiB")
"""Of memory that a processor addresses: no smaller module is made of today's dies."""


def _tdp(record: Any, _: Definitions) -> Iterator[Contradiction]:
    tdp, draw = getattr(record, "tdp", None), getattr(record, "power", None)
    maximum = getattr(draw, "maximum", None)
    if not isinstance(tdp, Power) or maximum is None or not tdp.amount or not maximum.amount:
        return
    least, most = ABOVE_TDP
    if not least <= Fraction(maximum.amount) / Fraction(tdp.amount) <= most:
        yield Contradiction(
            ("tdp",),
            far_from_usual("tdp", AsWritten(tdp)),
            say("a processor draws about as much as its TDP, and here up to {maximum}",
                maximum=AsWritten(maximum)),
            ("power", "maximum"),
            help=say("check the number and its unit"),
        )  # fmt: skip


def _addressed(record: Any, _: Definitions) -> Iterator[Contradiction]:
    limit, channels = (getattr(record, name, None) for name in ("memory_limit", "memory_channels"))
    if not isinstance(limit, DataSize) or not isinstance(channels, int) or not channels:
        return
    if not str(getattr(record, "memory_technology", "")).startswith("ddr"):
        return  # stacks and soldered memory come in smaller pieces
    if 0 < limit.amount < LEAST_A_CHANNEL.amount * channels:
        yield Contradiction(
            ("memory_limit",),
            far_from_usual("memory_limit", AsWritten(limit)),
            say("each of {channels} channels takes a module, and the smallest hold more",
                channels=channels),
            ("memory_channels",),
            help=say("check the number and its unit"),
        )  # fmt: skip


TOGETHER: Final = (1, 2, 3, 4, 6, 8, 16)
"""Processors that work in one system."""


def _together(record: Any, _: Definitions) -> Iterator[Contradiction]:
    if record.together not in TOGETHER:
        yield Contradiction(
            ("together",),
            far_from_usual("together", record.together),
            say("one, two, four or eight processors work in one system"),
        )


def _operations(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Vector units work on pairs, and multiply and add at once."""
    operations = record.operations_per_cycle
    if isinstance(operations, int) and operations > 1 and operations % 2:
        yield Contradiction(
            ("operations_per_cycle",),
            far_from_usual("operations_per_cycle", operations),
            say("vector units multiply and add at once: each lane counts two"),
        )


OF_PROCESSORS: Final[tuple[tuple[tuple[str, ...], Look], ...]] = (
    (("threads",), _threads),
    (("memory_channels",), _channels),
    (("memory_limit",), _addressed),
    (("tdp",), _tdp),
    (("together",), _together),
    (("operations_per_cycle",), _operations),
)
"""Each with the fields of which a record has one, where it is asked."""
