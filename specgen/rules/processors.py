"""Processors: alike, few enough, and within what socket and heat sink can take."""

from collections.abc import Iterator

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.model import HeatSink, Processor
from specgen.quantity import plain
from specgen.rules.fit import suits
from specgen.rules.places import by_line, names, settled


def alike(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG334: processors that differ, or more of one than can work together."""
    fitted = list(settled(assembly, Processor))
    if not fitted:
        return
    first_place, first = fitted[0]
    for place, processor in fitted[1:]:
        if processor.id != first.id:
            yield Finding(
                codes.MIXED_PROCESSORS,
                f"`{processor.id}` in {place.name} beside `{first.id}` in {first_place.name}",
                Label(place.at, "another processor"),
                labels=(Label(first_place.at, "the first"),),
                help=f"use `{first.id}` in both" if first.together > 1 else "",
            )
            return
    if len(fitted) > first.together:
        place = fitted[first.together][0]
        yield Finding(
            codes.MIXED_PROCESSORS,
            f"{len(fitted)} of `{first.id}`, of which at most {first.together} work together",
            Label(place.at, "one too many"),
            labels=(Label(first.origin.at("together"), f"together: {first.together}"),),
        )


def socket_power(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG331: processors above the power of their socket."""
    hot = [
        place
        for place, processor in settled(assembly, Processor)
        if place.position.tdp is not None and processor.tdp > place.position.tdp
    ]
    for line in by_line(hot):
        place, part = line[0], line[0].part
        if isinstance(part, Processor) and place.position.tdp is not None:
            yield Finding(
                codes.SOCKET_TDP,
                f"`{part.id}` dissipates {plain(part.tdp)}, and {names(line)} takes "
                f"{plain(place.position.tdp)}",
                Label(place.at, f"{plain(part.tdp)}"),
                labels=(
                    Label(place.origin.at(*place.path, "tdp"), "the socket"),
                    Label(part.origin.at("tdp"), "the processor"),
                ),
            )


def heat_sinks(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG332: heat sinks rated for less than the processor below them dissipates."""
    weak = []
    for place, sink in settled(assembly, HeatSink):
        below = assembly.places.get(place.cools or "")
        processor = below.part if below is not None and below.filled else None
        if isinstance(processor, Processor) and processor.tdp > sink.tdp_limit:
            weak.append((place, sink, processor))
    for line in by_line(place for place, _, _ in weak):
        place, sink, processor = next(entry for entry in weak if entry[0] is line[0])
        below = assembly.places[place.cools or ""]
        enough = sorted(
            (other.tdp_limit.amount, other.id)
            for other in assembly.definitions.parts.values()
            if isinstance(other, HeatSink)
            and other.tdp_limit >= processor.tdp
            and suits(place, other)
        )
        yield Finding(
            codes.HEATSINK_TDP,
            f"`{sink.id}` in {names(line)} is rated for {plain(sink.tdp_limit)}, "
            f"and `{processor.id}` dissipates {plain(processor.tdp)}",
            Label(place.at, f"up to {plain(sink.tdp_limit)}"),
            labels=(Label(below.at, plain(processor.tdp)),),
            help=f"`{enough[0][1]}` is rated for enough" if enough else "",
        )
