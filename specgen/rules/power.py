"""Supplies: alike, enough of them at this line voltage, also once some have failed; slot power."""

from collections.abc import Iterator
from dataclasses import dataclass

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Code, Finding, Label, Span, codes
from specgen.facts import Facts
from specgen.facts.calculators.supplies import output_at
from specgen.model import PowerSupply, Redundancy
from specgen.quantity import Power, plain
from specgen.rules.fit import suits
from specgen.rules.loads import Load, greatest_load
from specgen.rules.places import by_line, condition_at, counted, names, settled, unsettled_kinds

Fitted = list[tuple[Place, PowerSupply]]


def supplies(assembly: Assembly, facts: Facts) -> Iterator[Finding]:
    """SG351 to SG355: the first thing that is wrong with the supplies, since the rest follows."""
    build = assembly.build
    if build is None or PowerSupply.kind in unsettled_kinds(assembly):
        return
    fitted = list(settled(assembly, PowerSupply))
    if len(fitted) < sum(1 for _ in assembly.fitted(PowerSupply)):
        return
    found = (
        _missing(assembly, fitted)
        or (_mixed(fitted) if fitted else None)
        or (_line_voltage(assembly, fitted) if fitted else None)
        or (_overload(assembly, facts, fitted) if fitted else None)
    )
    if found is not None:
        yield found


def _redundancy_at(assembly: Assembly) -> Span | None:
    return condition_at(assembly, "redundancy")


def _wanted(redundancy: Redundancy | None) -> int:
    """How many supplies a redundancy speaks of: 2 for 1+1, 3 for 2+1, 1 for none."""
    if redundancy is None or redundancy.text == "none":
        return 1
    return sum(int(piece) for piece in redundancy.text.split("+"))


def _missing(assembly: Assembly, fitted: Fitted) -> Finding | None:
    build, redundancy = assembly.build, assembly.conditions.redundancy
    places = list(assembly.taking(PowerSupply.kind))
    wanted = _wanted(redundancy)
    if build is None or not places or len(fitted) >= wanted:
        return None
    own = _redundancy_at(assembly)
    labels = []
    if own is None and "redundancy" in assembly.conditions_at:
        labels.append(Label(assembly.conditions_at["redundancy"], "the redundancy wanted"))
    elif own is not None and fitted:
        labels.append(Label(fitted[0][0].at, f"{len(fitted)} fitted"))
    at = (own or fitted[0][0].at) if fitted else build.origin.key("fit")
    wish = f", and redundancy {redundancy} means {wanted}" if wanted > 1 else ""
    return Finding(
        codes.SUPPLY_MISSING,
        f"{counted(len(fitted), 'power supply')} fitted{wish}"
        if fitted
        else "no power supply is fitted",
        Label(at, f"{wanted} needed, {len(fitted)} fitted"),
        labels=tuple(labels),
        help=f"{names(places)} {'takes' if len(places) == 1 else 'take'} power supplies",
    )


def _mixed(fitted: Fitted) -> Finding | None:
    first_place, first = fitted[0]
    for place, supply in fitted[1:]:
        if supply.id != first.id:
            return Finding(
                codes.SUPPLY_MIXED,
                f"`{supply.id}` in {place.name} beside `{first.id}` in {first_place.name}",
                Label(place.at, "another supply"),
                labels=(Label(first_place.at, "the first"),),
                help="use one model throughout",
            )
    return None


def _line_voltage(assembly: Assembly, fitted: Fitted) -> Finding | None:
    line = assembly.conditions.line
    place, supply = fitted[0]
    if line is None or output_at(supply.outputs, line) is not None:
        return None
    ranges = ", ".join(f"{plain(each.from_)} to {plain(each.to)}" for each in supply.outputs)
    own, stated = condition_at(assembly, "line"), assembly.conditions_at["line"]
    labels = [Label(supply.origin.at("outputs"), ranges)]
    labels.append(Label(place.at, "the supply") if own is not None else Label(stated, "the line"))
    return Finding(
        codes.LINE_VOLTAGE,
        f"`{supply.id}` is not rated at a line of {plain(line)}",
        Label(own or place.at, f"rated for {ranges}"),
        labels=tuple(labels),
    )


@dataclass(frozen=True, slots=True)
class _Budget:
    """What some of the supplies give together against what the machine draws."""

    load: Load
    each: Power
    supply: PowerSupply
    count: int
    carrying: int

    @property
    def given(self) -> Power:
        return self.each * self.carrying

    def notes(self) -> tuple[str, ...]:
        return (
            f"load: {self.load.as_sum()}",
            f"{self.carrying} x {plain(self.each)} = {plain(self.given)}",
        )


def _overload(assembly: Assembly, facts: Facts, fitted: Fitted) -> Finding | None:
    place, supply = fitted[0]
    each = output_at(supply.outputs, assembly.conditions.line)
    redundancy = assembly.conditions.redundancy
    spare = redundancy.spare if redundancy is not None else 0
    load = greatest_load(facts)
    if each is None or load is None:
        return None
    whole = _Budget(load, each, supply, len(fitted), len(fitted))
    left = _Budget(load, each, supply, len(fitted), len(fitted) - spare)
    if load.total > whole.given:
        return _too_much(assembly, codes.SUPPLY_OVERLOADED, Label(place.at), whole)
    if load.total <= left.given:
        return None
    own = _redundancy_at(assembly)
    words = f"{left.carrying} of {len(fitted)} must be enough"
    return _too_much(assembly, codes.REDUNDANCY_LOST, Label(own or place.at, words), left)


def _too_much(assembly: Assembly, code: Code, at: Label, budget: _Budget) -> Finding:
    place = next(place for place, _ in assembly.fitted(PowerSupply))
    line = assembly.conditions.line
    larger = sorted(
        (output.amount, other.id)
        for other in assembly.definitions.parts.values()
        if isinstance(other, PowerSupply)
        and suits(place, other)
        and (output := output_at(other.outputs, line)) is not None
        and output * budget.carrying >= budget.load.total
    )
    few = "one supply gives" if budget.carrying == 1 else f"{budget.carrying} supplies give"
    return Finding(
        code,
        f"the machine draws up to {plain(budget.load.total)}, and {few} {plain(budget.given)}",
        at,
        labels=(Label(budget.supply.origin.at("outputs"), f"each gives {plain(budget.each)}"),),
        notes=budget.notes(),
        help=f"`{larger[0][1]}` carries it" if larger else "",
    )


def slot_power(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG356: parts that draw more than their position gives, and take no cable of their own."""
    hungry = []
    for place in assembly.places.values():
        part, limit = place.part, place.position.power
        if part is None or limit is None or not place.filled or not suits(place, part):
            continue
        own_cable = any((need.resource or "").startswith("aux") for need in part.needs)
        if part.power is not None and part.power.maximum > limit and not own_cable:
            hungry.append(place)
    for line in by_line(hungry):
        place, part = line[0], line[0].part
        if part is not None and part.power is not None and place.position.power is not None:
            yield Finding(
                codes.SLOT_POWER,
                f"`{part.id}` draws {plain(part.power.maximum)}, and {names(line)} gives "
                f"{plain(place.position.power)}",
                Label(place.at, plain(part.power.maximum)),
                labels=(
                    Label(place.origin.at(*place.path, "power"), "the position"),
                    Label(part.origin.at("power", "maximum"), "the part"),
                ),
            )
