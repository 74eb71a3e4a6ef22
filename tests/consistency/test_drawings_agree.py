"""What drawings say, in letters and in the words beside them, is what the facts are."""

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from typing import Final

from specgen.document.tree import Figure, Value
from specgen.facts import Facts
from specgen.facts.calculators.subjects import STATE_NAMES
from specgen.messages import ENGLISH, Message
from specgen.model import MemoryModule
from specgen.quantity import DataSize, Quantity
from tests.consistency.expected import agrees
from tests.consistency.printed import Printed, Project, figures
from tests.consistency.relations import positions_named
from tests.consistency.test_files_agree import MEASURE, SCALE, one_text
from tests.document.test_every_value_is_a_fact import texts_of

AMOUNT: Final = r"[\d.\u202f\u2212-]+(?:[\s\u202f]?[^\s\d,;:.]+)?"
STATES: Final = {str(words): state for state, words in STATE_NAMES.items()}
OF_STATES: Final[Mapping[str, str]] = {
    "load": rf"DC load ({AMOUNT})",
    "input": rf"input ({AMOUNT})",
    "efficiency": rf"efficiency ({AMOUNT})",
    "supplies": r"(\d+) in use",
    "share": rf"each at ({AMOUNT}) of its output",
}
"""How the power chart tells of a value of a state."""
FAILED: Final = {
    "Processor ": "processor ", "Controller ": "controller ", "Network adapter ": "adapter ",
    "One drive of ": "volume ", "One power supply": "supply", "One fan": "fan",
    "One drive": "drive",
}  # fmt: skip
"""What the chart of failures calls them, and their subjects."""
LEFT: Final = {
    "Cores left": "cores", "Memory left": "memory", "Drives left": "drives",
    "Usable capacity left": "usable", "Ethernet ports left": "ports",
}  # fmt: skip
LANES: Final = re.compile(
    r"(?P<owner>CPU\d+)\.\S.*? to (?P<end>[^:]*).*: (?P<lanes>\d+) lanes?, (?:[^,]+, )?"
    r"(?P<state>all in use|free|unusable|\d+ in use)\."
)


def _differs(facts: Facts, key: str, said: str) -> Iterator[str]:
    said = "0" if said == "none" else said
    number, _, unit = re.sub(r"^([\d.\u202f\u2212-]+)[\s\u202f]?(?=[^\d])", r"\1|", said).partition(
        "|"
    )
    if key not in facts or not agrees(Value(number.strip(), unit), facts[key].value, ENGLISH):
        yield f"{key} is {facts.value(key)}, drawn {said}"


def _power(facts: Facts, lines: tuple[str, ...]) -> Iterator[str]:
    for line in lines:
        state = STATES.get(line.partition(":")[0])
        for name, pattern in OF_STATES.items() if state is not None else ():
            for said in re.findall(pattern, line):
                yield from _differs(facts, f"power.{state}.{name}", said)


def _failures(facts: Facts, lines: tuple[str, ...]) -> Iterator[str]:
    for line in lines:
        names, _, left = line.rstrip(".").partition(": ")
        subjects = [_failure(each) for each in names.split(", ") if each.startswith(tuple(FAILED))]
        for said in left.split("; ") if "left: " in left else ():
            label, _, amount = said.partition(": ")
            for subject in subjects:
                yield from _differs(facts, f"failures.{subject}.{LEFT[label]}", amount)


def _failure(name: str) -> str:
    start = next(start for start in FAILED if name.startswith(start))
    return FAILED[start] + (name.removeprefix(start) if start.endswith(" ") else "")


def _rack(facts: Facts, lines: tuple[str, ...]) -> Iterator[str]:
    labels = {str(fact.label): key for key, fact in facts.items() if not fact.subject}
    for line in lines:
        label, _, said = line.rstrip(".").partition(": ")
        value = facts.value(labels[label]) if label in labels else None
        if isinstance(value, Quantity | int):
            yield from _differs(facts, labels[label], said.partition(";")[0])
        elif isinstance(value, Message) and str(value) != said:
            yield f"{labels[label]} is {value}, drawn {said}"


def _units_drawn(printed: Printed, lines: tuple[str, ...]) -> Iterator[str]:
    found = re.search(r"drawn with (\d+) units;", " ".join(lines))
    height = printed.case and printed.case.facts.value("mechanics.rack_height")
    if found and height is not None and int(found[1]) != height:
        yield f"a rack of {height} units is drawn with {found[1]}"


SAID: Final[Mapping[str, Callable[[Facts, tuple[str, ...]], Iterator[str]]]] = {
    "power-chart-figure": _power,
    "failures-figure": _failures,
    "mass-rack-figure": _rack,
}


def drawn(project: Project) -> Iterator[tuple[Printed, Figure]]:
    for each in project.of_builds("en"):
        yield from ((each, figure) for figure in figures(each.document))


def test_charts_print_the_facts_of_their_lines(project: Project):
    seen: Counter[str] = Counter()
    for printed, figure in drawn(project):
        if figure.anchor in SAID and printed.case is not None:
            lines = tuple(figure.text.split("\n"))
            seen[figure.anchor] += len(lines)
            wrong = [*SAID[figure.anchor](printed.case.facts, lines)]
            assert [*wrong, *_units_drawn(printed, lines)] == [], printed.name
    assert seen.keys() == SAID.keys()


def test_lanes_of_the_lane_map_add_up_to_those_of_the_processors(project: Project):
    seen = 0
    for printed, figure in drawn(project):
        if figure.anchor != "lane-map-figure" or printed.case is None:
            continue
        used: Counter[str] = Counter()
        for line in figure.text.split("\n"):
            found = LANES.fullmatch(line)
            if found is None:
                assert not re.match(r"CPU\d", line), line
                continue
            # what a module passes through stands at the module as well
            through = "." in found["end"].partition(",")[0]
            some = found["state"] not in ("free", "unusable") and not through
            used[found["owner"]] += int(found["lanes"]) if some else 0
        for owner, lanes in used.items():
            value = printed.case.facts.value(f"expansion.{owner}.lanes_used")
            if value is not None:
                seen += 1
                assert value == lanes, (printed.name, owner)
    assert seen


def test_modules_of_the_memory_map_add_up_to_the_memory_of_the_processors(project: Project):
    seen = 0
    for printed, figure in drawn(project):
        if figure.anchor != "memory-map-figure" or printed.case is None:
            continue
        parts = printed.case.definitions.parts.values()
        sizes = {str(each.name): each.capacity for each in parts if isinstance(each, MemoryModule)}
        for line in figure.text.split("\n"):
            owner, _, what = line.partition(": ")
            value = printed.case.facts.value(f"memory.{owner}.capacity")
            if not isinstance(value, DataSize) or " On channel " not in line:
                continue
            total = DataSize.of(0)
            for piece in what.partition(". On channel ")[0].split("; "):
                names, _, name = piece.partition(": ")
                total += sizes.get(name, DataSize.of(0)) * (positions_named(names) or 0)
            seen += 1
            assert total == value, (printed.name, line)
    assert seen


def test_letters_say_no_quantity_that_the_words_leave_out(project: Project):
    """But for the scale of an axis, and what names say."""
    seen = 0
    for printed, figure in drawn(project):
        read = figure.picture.elements() if figure.picture else ()
        letters = [e for e in read if "label-mark" not in e.attributes.get("class", "").split()]
        texts = (text for e in letters for text in e.children if isinstance(text, str))
        found = {one_text(m[0]) for text in texts for m in MEASURE.finditer(text)} - SCALE
        trees = (each.origin.tree for each in printed.lookup.definitions.parts.values())
        named = one_text(" ".join(text for tree in trees for text in texts_of(tree)))
        words = one_text(figure.text)
        seen += len(found)
        missing = [each for each in found if each not in words and each not in named]
        assert missing == [], (printed.name, figure.anchor)
    assert seen


def test_as_many_are_said_as_positions_are_named(project: Project):
    seen = 0
    for printed, figure in drawn(project):
        for line in figure.text.split("\n"):
            found = re.fullmatch(r"(?:\d+: )?([A-Z][^:]*): (\d+) × .*", line)
            named = positions_named(found[1]) if found else None
            if found and named is not None and printed.case is not None:
                fixtures = {each.name: each.count for each in printed.case.platform.fixtures}
                seen += 1
                assert int(found[2]) == fixtures.get(found[1], named), (printed.name, line)
    assert seen
