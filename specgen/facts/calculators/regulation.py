"""Data of the information duty of Regulation (EU) 2019/424 for servers: limits and declarations.

A calculation from declared data, not a conformity assessment. The text is that consolidated on
2021-05-01 (CELEX 32019R0424).
"""

from decimal import Decimal
from functools import partial
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.allowances import ANNEX, measured, measured_field
from specgen.facts.constants import OPERATING_CLASSES
from specgen.facts.fact import Declared, Trail
from specgen.facts.fact_inputs import FactOf
from specgen.facts.inputs import Fitted, Inspected, Optionally, each, labelled, leaf, platform
from specgen.facts.registry import Calculators
from specgen.fitness.curves import curve_at_mains
from specgen.messages import NO, YES, Message, Words, say
from specgen.model import EfficiencyPoint, Part, PowerSupply, SupplyOutput
from specgen.quantity import Power, Ratio, Temperature

fact = Calculators()

SUPPLY_DUTY = f"{ANNEX}, 1.1.1 and 1.1.2"
TABLE_6 = f"{ANNEX}, table 6; ASHRAE TC 9.9 has the same temperatures"
LOADS = (10, 20, 50, 100)

# Least efficiency in % at 10, 20, 50 and 100 % load from 2023-01-01, by several outputs or one.
# Source: Regulation (EU) 2019/424, annex II, 1.1.1; the power factor at 50 % is 1.1.2
LEAST_EFFICIENCY: dict[bool, tuple[int | None, ...]] = {
    False: (90, 94, 96, 91),
    True: (None, 90, 94, 91),
}
LEAST_POWER_FACTOR = Decimal("0.95")
Points = tuple[EfficiencyPoint, ...]


AT_THIS_LOAD = say("min. over the power supplies of what is declared at this very load")
MEASURED_AT = say(
    "the curve that holds at 230 V AC counts; of a power supply that is not made for it, that for "
    "its own line"
)


FOR_DC: Final = say("does not apply: power supplies for DC")


def _on_ac(part: Part) -> bool:
    """Whether a supply works on AC: annex II, 1.1 leaves those out that work on DC alone."""
    return isinstance(part, PowerSupply) and any(entry.supplied == "ac" for entry in part.outputs)


def _for_ac(_: Place, part: Part) -> str | None:
    return "" if _on_ac(part) else None


def _curves(assembly: Assembly, _: str) -> tuple[tuple[Points, ...] | None, Trail]:
    """Of the supplies that work on AC; where none does, of those for DC, whose efficiency is asked
    for although no minimum holds for it."""
    fitted = assembly.fitted(PowerSupply)
    found, trail = [], []
    for place, part in [entry for entry in fitted if _on_ac(entry[1])] or fitted:
        points, path = curve_at_mains(part)
        found.append(points)
        trail.append(leaf(place, part, path, points or None))
    return (tuple(found) or None), tuple(trail)


def _least(curves: tuple[Points, ...], percent: int, field: str) -> Decimal | None:
    """The lowest declared value of the supplies at a load; None where one declares none there."""
    found: list[Decimal] = []
    for points in curves:
        load = Decimal(percent) / 100
        values = [getattr(point, field) for point in points if point.load == load]
        if not values or values[0] is None:
            return None
        found.append(values[0])
    return min(found)


def _efficiency(percent: int) -> None:
    def least(curves: tuple[Points, ...]) -> Ratio | None:
        value = _least(curves, percent, "efficiency")
        return None if value is None else Ratio.of_fraction(value)

    fact(
        f"regulation.efficiency_{percent}",
        say("Efficiency of the power supplies at {load} % load", load=percent),
        formula=AT_THIS_LOAD,
        source=SUPPLY_DUTY,
        assumes=MEASURED_AT,
        curves=Inspected(_curves),
    )(least)


for _percent in LOADS:
    _efficiency(_percent)


@fact(
    "regulation.power_factor_50",
    say("Power factor of the power supplies at 50 % load"),
    formula=AT_THIS_LOAD,
    source=SUPPLY_DUTY,
    assumes=MEASURED_AT,
    curves=Inspected(_curves),
    on_ac=Fitted(PowerSupply, _for_ac),
    holds=Decimal,
)
def power_factor_50(
    curves: tuple[Points, ...], on_ac: tuple[Place, ...]
) -> Decimal | Message | None:
    return _least(curves, 50, "power_factor") if on_ac else FOR_DC


def _minimum(index: int) -> None:
    def least(several: tuple[bool, ...]) -> Ratio | None:
        values = [LEAST_EFFICIENCY[entry][index] for entry in several]
        known = [value for value in values if value is not None]
        return Ratio.of(max(known)) if known else None

    fact(
        f"regulation.least_efficiency_{LOADS[index]}",
        say("Min. efficiency at {load} % load from 2023-01-01", load=LOADS[index]),
        formula=say(
            "90, 94, 96, 91 % at 10, 20, 50, 100 % for one output; 90, 94, 91 % at 20, 50, "
            "100 % for several"
        ),
        source=SUPPLY_DUTY,
        several=each(PowerSupply, "several_outputs", when=_for_ac),
    )(least)


for _index in range(len(LOADS)):
    _minimum(_index)


@fact(
    "regulation.least_power_factor",
    say("Min. power factor at 50 % load from 2023-01-01"),
    formula=say("0.95"),
    source=SUPPLY_DUTY,
    supplies=Fitted(PowerSupply, _for_ac),
)
def least_power_factor(supplies: tuple[Place, ...]) -> Decimal | None:
    return LEAST_POWER_FACTOR if supplies else None


@fact(
    "regulation.supplies_reach_least",
    say("Declared values reach the minimum of 2023-01-01"),
    formula=say(
        "every declared efficiency and the power factor not below what the regulation asks"
    ),
    source=SUPPLY_DUTY,
    assumes=say(
        "the curve was measured as annex III says; authorities' tolerances are no allowance"
    ),
    curves=Optionally(Inspected(_curves)),
    several=each(PowerSupply, "several_outputs", when=_for_ac),
    supplies=Fitted(PowerSupply),
)
def supplies_reach_least(
    curves: tuple[Points, ...] | None, several: tuple[bool, ...], supplies: tuple[Place, ...]
) -> Message | None:
    """`yes`, `no`, or None where a value that counts is not declared."""
    if supplies and not several:
        return FOR_DC
    if curves is None:
        return None
    verdicts = []
    for points, multiple in zip(curves, several, strict=True):
        for percent, least in zip(LOADS, LEAST_EFFICIENCY[multiple], strict=True):
            if least is None:
                continue
            value = _least((points,), percent, "efficiency")
            verdicts.append(None if value is None else value * 100 >= least)
        factor = _least((points,), 50, "power_factor")
        verdicts.append(None if factor is None else factor >= LEAST_POWER_FACTOR)
    if False in verdicts:
        return NO
    return None if None in verdicts else YES


@fact(
    "regulation.rated_output",
    say("Rated output of a power supply"),
    formula=say("max. output of the power supplies fitted"),
    source=f"{ANNEX}, 3.1 (g)",
    outputs=each(PowerSupply, "outputs"),
)
def rated_output(outputs: tuple[tuple[SupplyOutput, ...], ...]) -> Power | None:
    return max((entry.output for ranges in outputs for entry in ranges), default=None)


BY_CLASS = say(
    "by operating class; the table has no altitude, and what is recommended is the same for all"
)


def _of_class(key: str, label: Words, field: str) -> None:
    def read(operating_class: str) -> Temperature:
        return Temperature.of(getattr(OPERATING_CLASSES[operating_class], field))

    fact(
        f"regulation.{key}",
        label,
        formula=BY_CLASS,
        source=TABLE_6,
        operating_class=platform("operating_class"),
    )(read)


_of_class("inlet_lowest", say("Lowest inlet temperature of the class"), "lowest")
_of_class("inlet_highest", say("Highest inlet temperature of the class"), "highest")
_of_class("recommended_lowest", say("Lowest recommended inlet temperature"), "recommended_lowest")
_of_class(
    "recommended_highest", say("Highest recommended inlet temperature"), "recommended_highest"
)
_of_class("dew_point", say("Highest dew point of the class"), "dew_point")


@fact(
    "regulation.humidity",
    say("Relative humidity of the class"),
    formula=BY_CLASS,
    source=TABLE_6,
    operating_class=platform("operating_class"),
)
def humidity(operating_class: str) -> Message:
    air = OPERATING_CLASSES[operating_class]
    return say(
        "{least_dew_point} dew point and {least} to {most_dew_point} dew point and {most}",
        least_dew_point=Temperature.of(air.least_dew_point),
        least=Ratio.of(air.least_humidity),
        most_dew_point=Temperature.of(air.dew_point),
        most=Ratio.of(air.most_humidity),
    )


fact.stated("regulation.year", say("Year of manufacture"), platform("year"))
fact.stated("regulation.deletion", say("How data is deleted securely"), platform("deletion"))


def _missing(assembly: Assembly, _: str) -> tuple[tuple[Message, ...], Trail]:
    """What annex II, 3.1 wants published and the definitions do not hold."""
    build, platform = assembly.build, assembly.platform
    project = assembly.definitions.project
    found = measured(assembly)
    wanted: list[tuple[Message, object, Declared]] = [
        (
            say("(b) address of the manufacturer"),
            project.publisher.address,
            Declared(
                say("address of the publisher"),
                project.publisher.address,
                partial(project.origin.place, "publisher", "address"),
            ),
        ),
        *(
            (words, value, Declared(labelled(platform, (field,)), value,
                                    partial(platform.origin.place, field), platform.source))
            for words, field, value in (
                (say("(d) year of manufacture"), "year", platform.year),
                (say("(n) how data is deleted securely"), "deletion", platform.deletion),
            )
        ),
    ]  # fmt: skip
    if build is not None:
        at = partial(build.origin.place, "number")
        model = Declared(labelled(build, ("number",)), build.number, at)
        wanted.append((say("(c) model number"), build.number, model))
    if platform.regulated_as == "blade":
        kind = Declared(labelled(platform, ("regulated_as",)), None, partial(platform.origin.place))
        wanted.append((say("(o) chassis that blades go with"), None, kind))
    for words, field in (
        (say("(h) idle state power"), "idle"),
        (say("(j) measured maximum power"), "maximum"),
        (say("(l) idle power at the upper temperature of the class"), "idle_warm"),
        (say("(m) active state efficiency"), "efficiency"),
        (say("(m) performance of the processors"), "performance"),
    ):
        value = getattr(found, field) if found is not None else None
        wanted.append((words, value, measured_field(assembly, field)))
    trail = tuple(at for _, _, at in wanted)
    return tuple(words for words, value, _ in wanted if value is None), trail


@fact(
    "regulation.missing",
    say("Not declared"),
    formula=say("what the regulation requires and the definitions do not hold; nothing is guessed"),
    source=f"{ANNEX}, 3.1; the letters from memory",
    words=Inspected(_missing),
    at_10=FactOf("regulation.efficiency_10", optional=True),
    at_20=FactOf("regulation.efficiency_20", optional=True),
    at_50=FactOf("regulation.efficiency_50", optional=True),
    at_100=FactOf("regulation.efficiency_100", optional=True),
    factor=FactOf("regulation.power_factor_50", optional=True),
    output=FactOf("regulation.rated_output", optional=True),
    on_ac=Fitted(PowerSupply, _for_ac),
    supplies=Fitted(PowerSupply),
)
def missing(
    words: tuple[Message, ...],
    at_10: Ratio | None,
    at_20: Ratio | None,
    at_50: Ratio | None,
    at_100: Ratio | None,
    factor: Decimal | Message | None,
    output: Power | None,
    on_ac: tuple[Place, ...],
    supplies: tuple[Place, ...],
) -> tuple[Message, ...]:
    exempt = bool(supplies) and not on_ac  # DC alone: annex II, 1.1
    values = zip(LOADS, (at_10, at_20, at_50, at_100), strict=True)
    silent = [
        say("(e) efficiency at {load} load", load=Ratio.of(load))
        for load, value in values
        if value is None and not exempt
    ]
    if factor is None:
        silent.append(say("(f) power factor at {load} load", load=Ratio.of(50)))
    if output is None:
        silent.append(say("(g) rated output of a power supply"))
    return tuple(sorted((*words, *silent), key=str))
