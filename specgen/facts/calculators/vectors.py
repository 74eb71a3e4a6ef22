"""Floating point: clock, operations per cycle, peak rate, and how memory keeps up with it."""

from decimal import Decimal

from specgen.assembly import Assembly
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.fact import Trail
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Inspected, leaf, of
from specgen.facts.registry import Calculators
from specgen.messages import Message, say
from specgen.model import Processor
from specgen.quantity import DataRate, Frequency, OperationRate

fact = Calculators()

DOUBLE = 64  # bits of a double-precision number, IEEE 754
SINGLE = 32
FUSED = 2  # a multiplication and an addition
SOURCE = (
    "common practice, no source: cores x clock x operations a cycle; "
    "a fused multiply-add counts as two"
)
ASSUMES = say("every vector unit busy in every cycle; real programs stay below it")


@fact(
    "processors.peak",
    say("Peak rate, double precision"),
    noun="double-precision peak rate",
    formula=say("sum over processors"),
    source=SOURCE,
    assumes=ASSUMES,
    count="processors.count",
    rates=FactsOfAll("processors.{processor}.peak"),
)
def all_peak(count: int, rates: tuple[OperationRate, ...]) -> OperationRate | None:
    """None where there is no processor, or one of them is silent."""
    if not rates or len(rates) < count:
        return None
    return sum(rates, OperationRate.of(0, "GFLOP/s"))


@fact(
    "processors.bytes_per_operation",
    say("Memory bytes per operation"),
    formula=say("peak memory bandwidth / peak rate, double precision"),
    source="common practice, no source: machine balance",
    bandwidth="memory.bandwidth",
    rate="processors.peak",
)
def bytes_per_operation(bandwidth: DataRate, rate: OperationRate) -> Decimal | None:
    """Bytes that memory can bring for each operation, both at their peak."""
    return bandwidth.amount / rate.amount if rate.amount else None


def _processor(assembly: Assembly, name: str) -> Processor | None:
    part = assembly.places[name].part
    return part if isinstance(part, Processor) else None


def _read(assembly: Assembly, name: str, *fields: str) -> Trail:
    """The fields of the processor in a socket as leaves."""
    place, part = assembly.places[name], _processor(assembly, name)
    if part is None:
        return ()
    return tuple(leaf(place, part, (field,), getattr(part, field)) for field in fields)


def _clock(assembly: Assembly, name: str) -> tuple[Frequency | None, Trail]:
    """The clock under vector work, else the base clock; the trail shows the one that was taken."""
    part = _processor(assembly, name)
    if part is None:
        return None, ()
    if part.vector_clock is not None:
        return part.vector_clock, _read(assembly, name, "vector_clock")
    return part.base_clock, _read(assembly, name, "base_clock")


@fact(
    "processors.{processor}.vector_clock",
    say("Clock under vector work"),
    formula=say("the sustained vector clock where one is declared, else the base clock"),
    assumes=say("where no vector clock is declared, that the base clock holds under vector work"),
    over=PROCESSORS,
    clock=Inspected(_clock),
)
def vector_clock(clock: Frequency) -> Frequency:
    return clock


@fact.seen(
    "processors.{processor}.vector_clock_from",
    say("Clock taken for vector work"),
    short=say("Which clock"),
    formula=say("which of the declared clocks it is"),
    over=PROCESSORS,
)
def vector_clock_from(assembly: Assembly, name: str) -> tuple[Message, Trail]:
    part = _processor(assembly, name)
    declared = part is not None and part.vector_clock is not None
    words = say("sustained vector clock") if declared else say("base clock")
    return words, _clock(assembly, name)[1]


def operations_of(units: int, width: int, element: int) -> int:
    """Operations of a core in a cycle: 2 x units x width / element, both in bits.

    A multiplier and an adder side by side count as one unit. Source: common practice.
    """
    return FUSED * units * width // element


def _units(assembly: Assembly, name: str) -> tuple[tuple[int, int] | None, Trail]:
    """Vector units of a core and their width in bits."""
    part = _processor(assembly, name)
    trail = _read(assembly, name, "vector_units", "vector_width")
    if part is None or part.vector_units is None or part.vector_width is None:
        return None, trail
    return (part.vector_units, part.vector_width), trail


@fact.seen(
    "processors.{processor}.operations_per_cycle",
    say("Operations a cycle, double precision"),
    noun="number of double-precision operations a cycle",
    short=say("Operations a cycle"),
    formula=say("2 x vector units x width / 64 bits, else as declared; for one core"),
    source=SOURCE,
    over=PROCESSORS,
)
def operations_per_cycle(assembly: Assembly, name: str) -> tuple[int | None, Trail]:
    units, trail = _units(assembly, name)
    if units is not None:
        return operations_of(*units, DOUBLE), trail
    part = _processor(assembly, name)
    if part is None:
        return None, ()
    return part.operations_per_cycle, _read(assembly, name, "operations_per_cycle")


@fact(
    "processors.{processor}.peak",
    say("Peak rate, double precision"),
    noun="double-precision peak rate",
    short=say("Peak, double precision"),
    formula=say("cores x clock under vector work x operations a cycle"),
    source=SOURCE,
    assumes=ASSUMES,
    over=PROCESSORS,
    cores=of("cores"),
    clock="processors.{processor}.vector_clock",
    operations="processors.{processor}.operations_per_cycle",
)
def peak(cores: int, clock: Frequency, operations: int) -> OperationRate:
    """Peak rate in FLOP/s of one processor."""
    return OperationRate.of(clock.amount * cores * operations).to("GFLOP/s")


@fact(
    "processors.{processor}.peak_single",
    say("Peak rate, single precision"),
    noun="single-precision peak rate",
    short=say("Peak, single precision"),
    formula=say("cores x clock under vector work x 2 x vector units x width / 32 bits"),
    source=SOURCE,
    assumes=ASSUMES,
    over=PROCESSORS,
    cores=of("cores"),
    clock="processors.{processor}.vector_clock",
    units=Inspected(_units),
)
def peak_single(cores: int, clock: Frequency, units: tuple[int, int]) -> OperationRate:
    """Peak rate in FLOP/s of one processor, numbers of 32 bits."""
    return peak(cores, clock, operations_of(*units, SINGLE))
