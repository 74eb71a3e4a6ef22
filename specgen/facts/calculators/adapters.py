"""Network adapters: the line rate of their ports against the link to the host."""

from decimal import Decimal
from functools import partial

from specgen.assembly import Assembly
from specgen.facts.calculators.links import LINK_SOURCE
from specgen.facts.calculators.subjects import ADAPTERS
from specgen.facts.calculators.uplinks import to_host
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Inspected, of_thing
from specgen.facts.registry import Calculators
from specgen.messages import Message, say
from specgen.model import EthernetPort, HasEthernet, expand
from specgen.quantity import DataRate

fact = Calculators()

Ports = tuple[EthernetPort, ...]

fact.most(
    "network.load",
    say("Max. line rate over host bandwidth"),
    FactsOfAll("network.{adapter}.load"),
    formula=say("max. over adapters"),
)


def _ports(assembly: Assembly, name: str) -> tuple[Ports, Trail]:
    """The data ports of one adapter, each as often as its range says."""
    part = assembly.places[name].part
    if not isinstance(part, HasEthernet):
        return (), ()
    found: list[EthernetPort] = []
    trail: Trail = ()
    for index, port in enumerate(part.ethernet):
        if port.management:
            continue
        at = partial(part.origin.place, "ethernet", index, "speed")
        for each in expand(port.name):
            found.append(port)
            words = of_thing(part.name, each)
            trail = (*trail, Declared(words, port.speed, at, part.source, name))
    return tuple(found), trail


@fact(
    "network.{adapter}.line_rate",
    say("Line rate of the adapter's ports"),
    short=say("Line rate of its ports"),
    formula=say("sum over its ports, one way"),
    source="IEEE 802.3: the rate of a port is that of one direction",
    over=ADAPTERS,
    ports=Inspected(_ports),
)
def line_rate(ports: Ports) -> DataRate:
    return sum((port.speed for port in ports), DataRate.zero()).to("Gbit/s")


@fact.seen(
    "network.{adapter}.host_bandwidth",
    say("Bandwidth of its host link, one way"),
    noun="one-way bandwidth of its host link",
    short=say("Host link"),
    formula=say(
        "rate of a lane x lanes, by what slot and adapter both can, and each uplink on the way"
    ),
    source=LINK_SOURCE,
    over=ADAPTERS,
)
def host_bandwidth(assembly: Assembly, name: str) -> tuple[DataRate | None, Rests]:
    return to_host(assembly, name)


fact.printed(
    "network.{adapter}.host_rate",
    say("Rate of its host link, one way"),
    "network.{adapter}.host_bandwidth",
    "Gbit/s",
    noun="one-way rate of its host link",
    short=say("Host link"),
    formula=say("bandwidth of the host link in bits, as the rate of ports is counted"),
    source="IEC 80000-13: 1 B is 8 bit",
    over=ADAPTERS,
)


@fact(
    "network.{adapter}.load",
    say("Line rate over host bandwidth"),
    short=say("Line rate over host link"),
    formula=say("line rate of the ports / bandwidth of the host link, both one way"),
    over=ADAPTERS,
    line="network.{adapter}.line_rate",
    host="network.{adapter}.host_bandwidth",
)
def load(line: DataRate, host: DataRate) -> Decimal:
    """Above 1 where the ports together are faster than the link to the processor."""
    return line / host


@fact(
    "network.{adapter}.limited_by",
    say("Limited by"),
    formula=say("the smaller of line rate and bandwidth of the host link"),
    over=ADAPTERS,
    load="network.{adapter}.load",
)
def limited_by(load: Decimal) -> Message:
    return say("host link") if load > 1 else say("ports")
