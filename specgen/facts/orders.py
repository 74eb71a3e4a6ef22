"""Facts of an order: what several builds need and give, each so many times.

`order.KEY` is of all systems, `order.KEY.BUILD` of all of one build, and `BUILD.KEY` a fact of one
system, so that a pedigree leads from the order down to the lines of each build.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial, reduce
from operator import add
from typing import Any, Final

from specgen.facts import ledger
from specgen.facts.calculators.acoustics import INCOHERENT, energetic_sum
from specgen.facts.calculators.electrical import at_lowest
from specgen.facts.fact import Basis, Fact, Facts, Trail, Value
from specgen.facts.registry import COUNTING
from specgen.frozen import frozen
from specgen.messages import Words, say
from specgen.quantity import Mass, SoundPower

ORDER: Final = "order"


@frozen
class OrderLine:
    """So many of one build: its id, and the facts of one system of it."""

    build: str
    facts: Facts
    count: int


SystemValues = tuple[tuple[Any, ...], int]
"""The values of one system, in the order of `of`, and how many of it are ordered."""


@frozen
class OrderFact:
    """How a fact of an order is made of facts of its systems, `of` by key.

    It has no value where one system lacks one of them. With `each` there is one of each build
    too: the number ordered times the fact of one. Where it is called like the first of them, its
    label is that one's.
    """

    key: str
    of: tuple[str, ...]
    formula: Words
    fold: Callable[[Sequence[SystemValues]], Value]
    label: Words = ""
    short: Words = ""
    each: bool = False
    alike: Callable[[Sequence[SystemValues]], Sequence[SystemValues]] = tuple
    """Brings the values of all builds to what they are added at, such as one voltage."""
    formula_each: Words = say("number x value of one")
    on_ac: bool = False
    """Of the servers on AC alone: what direct current does not know is not missing there."""


def _times(row: SystemValues) -> Any:
    (value,), count = row
    return value * count


def _total(rows: Sequence[SystemValues]) -> Value:
    total: Value = reduce(add, map(_times, rows))
    return total


def _summed(key: str, of: str, short: Words = "", label: Words = "") -> OrderFact:
    formula = say("sum over builds of number x value of one")
    return OrderFact(key, (of,), formula, _total, label, short, each=True)


def _extreme(
    key: str, of: str, best: Callable[[Iterable[Any]], Any], label: Words = ""
) -> OrderFact:
    formula = say("min. over builds") if best is min else say("max. over builds")
    return OrderFact(key, (of,), formula, lambda rows: best(row[0][0] for row in rows), label)


def _loudness(rows: Sequence[SystemValues]) -> SoundPower | None:
    """Sound adds as sound does, and only levels declared by one edition of the standard."""
    if len({edition for (_, edition), _ in rows}) > 1:
        return None
    return energetic_sum(tuple(level for (level, _), count in rows for _ in range(count)))


def _loud(key: str, of: str, label: Words = "") -> OrderFact:
    return OrderFact(key, (of, "noise.edition"), INCOHERENT, _loudness, label)


def _current(rows: Sequence[SystemValues]) -> Value:
    """Currents add where they are of one line voltage only."""
    if len({(line, lowest) for (_, line, lowest), _ in rows}) > 1:
        return None
    return _total([((current,), count) for (current, _, _), count in rows])


def _at_one_voltage(rows: Sequence[SystemValues]) -> Sequence[SystemValues]:
    """Currents at the lowest voltage that any of the builds works at, where all have one line."""
    if len({line for (_, line, _), _ in rows}) != 1:
        return rows
    lowest = min((own for (_, _, own), _ in rows), key=lambda voltage: abs(voltage.amount))
    return [
        ((at_lowest(current, own, lowest), line, lowest), count)
        for (current, line, own), count in rows
    ]


def _racked(rows: Sequence[SystemValues]) -> Mass | None:
    """All systems in one rack, whose mass the builds agree on."""
    racks = {rack for (_, rack), _ in rows}
    whole: Mass = reduce(add, (mass * count for (mass, _), count in rows))
    return whole + racks.pop() if len(racks) == 1 else None


def _cost(rows: Sequence[SystemValues]) -> Value:
    """Costs add in one currency."""
    if _currency([((currency,), count) for (_, currency), count in rows]) is None:
        return None
    return _total([((cost,), count) for (cost, _), count in rows])


def _currency(rows: Sequence[SystemValues]) -> Value:
    first, *others = {currency for (currency,), _ in rows}
    return None if others else first


ORDER_FACTS: Final[tuple[OrderFact, ...]] = (
    _summed("rack_units", "mechanics.rack_units", say("Rack units, all")),
    _summed("mass", "mechanics.mass", say("Weight, all")),
    _summed("input_idle", "power.idle.input", label=say("Input power, idle")),
    _summed("input_typical", "power.typical.input", label=say("Input power, typical")),
    _summed("input", "power.input", say("Worst case, all")),
    OrderFact(
        "apparent",
        ("power.apparent",),
        say("sum over builds on AC of number x value of one"),
        _total,
        say("Apparent power on AC, worst case"),
        say("Apparent on AC, all"),
        each=True,
        on_ac=True,
    ),
    OrderFact(
        "current",
        ("power.current", "conditions.line", "power.line_lowest"),
        say(
            "sum over builds of number x value of one, where all have one line voltage; on DC at "
            "the lowest line voltage of all"
        ),
        _current,
        short=say("Current, all"),
        each=True,
        alike=_at_one_voltage,
        formula_each=say("number x value of one; on DC at the lowest line voltage of all"),
    ),
    _summed("heat_typical", "cooling.heat_typical"),
    _summed("heat_typical_btu", "cooling.heat_typical_btu"),
    _summed("heat", "cooling.heat", say("Worst case, all")),
    _summed("heat_btu", "cooling.heat_btu", say("All, per hour")),
    _summed(
        "airflow",
        "cooling.airflow_needed",
        say("Airflow, all"),
        say("Airflow through the servers"),
    ),
    _summed("airflow_cfm", "cooling.airflow_needed_cfm", say("All, cubic feet")),
    _summed("energy", "energy.year"),
    OrderFact(
        "energy_cost",
        ("energy.cost", "energy.currency"),
        say("sum over builds of number x value of one, where all have one currency"),
        _cost,
    ),
    OrderFact(
        "energy_currency",
        ("energy.currency",),
        say("the currency that all builds have"),
        _currency,
    ),
    _summed("energy_emissions", "energy.emissions"),
    _extreme("inlet_limit", "cooling.inlet_limit", min, say("Maximum inlet temperature of all")),
    _extreme("depth_needed", "mechanics.depth_needed", max),
    _extreme("cord_current", "power.cord_current", max),
    _loud("sound_power", "noise.sound_power", say("Sound power of all, estimated from parts")),
    _loud("upper_limit", "noise.upper_limit"),
    OrderFact(
        "rack_and_servers",
        ("mechanics.mass", "mechanics.rack_empty"),
        say("weight of all servers and of one empty rack"),
        _racked,
        say("Weight with one empty rack"),
    ),
)
COUNTED: Final = (("parts", "parts.{part}"), ("inlets", "power.{inlet}.uncorded"))
"""Counts that only some builds have: key, the template of one system."""


def order_facts(lines: Sequence[OrderLine]) -> Facts:
    """Every fact of an order, worked out when it is asked for; each build stands in one line."""
    return _OrderFacts(lines).facts


class _OrderFacts:
    """Knows how each fact of an order is made."""

    def __init__(self, lines: Sequence[OrderLine]) -> None:
        self.lines = lines
        self.makers: dict[str, Callable[[], Fact]] = {}
        self.templates: dict[str, tuple[str, ...]] = {}
        self.facts = Facts(self.makers, self.templates, lambda key: self.makers[key]())
        self._systems()
        for each in ORDER_FACTS:
            self._fact(each)
        for key, template in COUNTED:
            self._counted(key, template)
        for line in lines:
            for key in line.facts:
                self.makers[f"{line.build}.{key}"] = partial(self._of_system, line, key)

    def _add(
        self,
        key: str,
        label: Words,
        value: Callable[[], Value],
        formula: Words,
        rests: Sequence[str],
        *,
        short: Words = "",
        subject: str = "",
        template: str = "",
    ) -> str:
        """One fact; `rests` are the keys of those that it is made of."""
        template = template or key

        def make() -> Fact:
            return Fact(
                key=key, template=template, label=label, value=value(), basis=Basis.CALCULATED,
                formula=formula, source=COUNTING, rests=(partial(self._trail, rests),),
                subject=subject, short=short or label,
            )  # fmt: skip

        self.makers[key] = make
        self.templates[template] = (*self.templates.get(template, ()), key)
        return key

    def _trail(self, keys: Sequence[str]) -> Trail:
        return tuple(self.facts[key] for key in keys if key in self.makers)

    def _systems(self) -> None:
        total = sum(line.count for line in self.lines)
        label, formula = say("Servers"), say("sum of the numbers ordered")
        self._add(f"{ORDER}.servers", label, lambda: total, formula, ())
        lines = [f"{line.build}.conditions.line_type" for line in self.lines]
        on_dc = sum(line.count for line in self.lines if _on_dc(line))
        for key, label, words, number in (
            ("servers_on_dc", say("Servers on DC"), say("sum of the numbers ordered"), on_dc),
            ("servers_on_ac", say("Servers on AC"),
             say("sum of the numbers ordered, where others are on DC"), on_dc and total - on_dc),
        ):  # fmt: skip
            self._add(f"{ORDER}.{key}", label, partial(_some, number), words, lines)
        for line in self.lines:
            number, key = line.count, f"{ORDER}.servers.{line.build}"
            self._add(
                key, say("Number"), partial(int, number), say("number ordered"), (),
                subject=line.build, template=f"{ORDER}.servers.{{build}}",
            )  # fmt: skip

    def _fact(self, wanted: OrderFact) -> None:
        """A fact of all systems, after that of each build where there are such."""
        key, short = f"{ORDER}.{wanted.key}", wanted.short
        label = wanted.label or _label_of(wanted.of[0])
        single = [f"{line.build}.{of}" for line in self.lines for of in wanted.of]
        rests = [f"{key}.{line.build}" for line in self.lines] if wanted.each else single
        for line, part in zip(self.lines, rests, strict=True) if wanted.each else ():
            own = [f"{line.build}.{of}" for of in wanted.of]
            value = partial(self._folded, (line,), wanted)
            self._add(
                part, label, value, wanted.formula_each, own,
                short=short, subject=line.build, template=f"{key}.{{build}}",
            )  # fmt: skip
        value = partial(self._folded, self.lines, wanted)
        self._add(key, label, value, wanted.formula, rests, short=short)

    def _folded(self, lines: Sequence[OrderLine], wanted: OrderFact) -> Value:
        read = {
            line.build: (tuple(line.facts.value(key) for key in wanted.of), line.count)
            for line in self.lines
        }
        known = {build: row for build, row in read.items() if None not in row[0]}
        if wanted.on_ac:
            lines = [line for line in lines if not _on_dc(line)]
        if not lines or any(line.build not in known for line in lines):
            return None
        rows = dict(zip(known, wanted.alike(tuple(known.values())), strict=True))
        return wanted.fold([rows[line.build] for line in lines])

    def _counted(self, name: str, template: str) -> None:
        """How many of each sort there are in all systems, builds without any left out."""
        found: dict[str, list[tuple[OrderLine, Fact]]] = {}
        for line in self.lines:
            for fact in line.facts.of_all(template):
                found.setdefault(fact.subject, []).append((line, fact))
        formula = say("sum over builds of number x value of one")
        for subject, counts in found.items():
            rests = [f"{line.build}.{fact.key}" for line, fact in counts]
            key = f"{ORDER}.{name}.{subject}"
            self._add(
                key, ledger().by_key[template].short, partial(_sum, counts), formula, rests,
                subject=subject, template=f"{ORDER}.{name}.{{{name}}}",
            )  # fmt: skip

    def _of_system(self, line: OrderLine, key: str) -> Fact:
        """A fact of one system, as it is called among those of others."""
        fact = line.facts[key]
        return replace(
            fact,
            key=f"{line.build}.{key}",
            template=f"{line.build}.{fact.template}",
            rests=(partial(self._inputs, line, fact),),
        )

    def _inputs(self, line: OrderLine, fact: Fact) -> Trail:
        return tuple(
            self.facts[f"{line.build}.{entry.key}"] if isinstance(entry, Fact) else entry
            for entry in fact.inputs
        )


def _label_of(key: str) -> Words:
    """What a fact of one system is called."""
    return ledger().by_key[key].label


def _on_dc(line: OrderLine) -> bool:
    return line.facts.value("conditions.line_type") == "DC"


def _some(number: int) -> int | None:
    """No value of none."""
    return number or None


def _sum(counts: Sequence[tuple[OrderLine, Fact]]) -> Value:
    return sum(fact.value * line.count for line, fact in counts if isinstance(fact.value, int))
