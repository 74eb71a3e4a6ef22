"""What the demo calls things: order numbers that never look alike, names that never sound alike."""

import re
from collections.abc import Iterator
from itertools import combinations

import pytest

from specgen.pipeline import Survey

PATTERNS = {
    "platform": r"QP[1-9]000",
    "part": r"QW-[0-9]{3}-[0-9]{2}",
    "build": r"QB\.[1-9]0\.[0-9]{2}",
    "order": r"QO/[0-9]{2}/[0-9]{3}",
    "rule": r"[A-Z]{3,8}-[0-9]{2}",
    "paper": r"(?!Q)[A-Z]{2}-[0-9]{3}",
    "test report": r"TR-[0-9]{4}",
}
"""As the head of `builds/specgen.yaml` says."""
ALIKE = 4  # letters in a row
COMMON = frozenset(("works", "power", "memory", "storage", "networks", "controls", "cables"))


def numbers(demo: Survey) -> Iterator[tuple[str, str]]:
    found = demo.definitions
    for kind, things in (
        ("platform", found.platforms),
        ("part", found.parts),
        ("build", found.builds),
    ):
        for thing in things.values():
            if thing.number is not None:
                yield kind, thing.number
    rules = [rule for each in found.platforms.values() for rule in each.rules]
    rules += found.project.rules
    for rule in rules:
        yield "rule", rule.code


def papers(demo: Survey) -> Iterator[str]:
    """Codes of the documents that definitions name as their sources."""
    found = demo.definitions
    for thing in (*found.platforms.values(), *found.parts.values()):
        if thing.source is not None:
            yield from re.findall(r"\b[A-Z]{2}-[0-9]+\b", str(thing.source.document))


def test_a_number_says_what_kind_of_thing_it_orders(demo: Survey) -> None:
    given = list(numbers(demo))
    assert {kind for kind, _ in given} == {"platform", "part", "build", "rule"}
    for kind, number in given:
        fits = [each for each, pattern in PATTERNS.items() if re.fullmatch(pattern, number)]
        assert fits == [kind], number
    for code in papers(demo):
        fits = [each for each, pattern in PATTERNS.items() if re.fullmatch(pattern, code)]
        assert fits == ["paper"], code


def test_every_platform_and_every_published_build_can_be_ordered(demo: Survey) -> None:
    found = demo.definitions
    builds = [each for each in found.builds.values() if each.published]
    for thing in (*found.platforms.values(), *builds):
        assert thing.number, thing.id


def test_a_build_has_the_digits_of_its_platform(demo: Survey) -> None:
    found = demo.definitions
    for build in found.builds.values():
        platform = found.platforms[build.platform].number
        if build.number is not None:
            assert platform is not None
            assert build.number[3:5] == platform[2:4], build.id


def names_of_our_own(demo: Survey) -> list[str]:
    found = demo.definitions
    firms = {part.maker for part in found.parts.values() if part.maker}
    words = {word for firm in firms for word in firm.lower().split()} - COMMON
    words |= {platform.name.lower() for platform in found.platforms.values()}
    return sorted(words | {"tidewatch"})  # the management controller


def alike(one: str, two: str) -> bool:
    """Names that share four letters in a row, or begin or end with the same three."""
    runs = [{each[at : at + ALIKE] for at in range(len(each) - ALIKE + 1)} for each in (one, two)]
    return bool(runs[0] & runs[1]) or one[:3] == two[:3] or one[-3:] == two[-3:]


def test_no_two_firms_platforms_or_controllers_sound_alike(demo: Survey) -> None:
    names = names_of_our_own(demo)
    assert len(names) > 12
    assert [pair for pair in combinations(names, 2) if alike(*pair)] == []


@pytest.mark.parametrize(
    ("one", "two"), [("quillmere", "dunmere"), ("tidewrack", "wrackline"), ("corvane", "halvane")]
)
def test_names_that_sounded_alike_once_are_found(one: str, two: str) -> None:
    assert alike(one, two)
