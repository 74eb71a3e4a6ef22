"""Texts that tell of something else than what they stand beside: copied from another and not
changed.

The name of a build names another platform, a summary another processor or another number of drives
than is fitted, the name of a backplane the platform that it does not go into. Names are matched
whole. Numbers are read in English alone, and only where they plainly count what is there: whatever
compares, weighs or speaks of what may fail is left alone.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.fitness import field_of
from specgen.messages import AsWritten, Message, say
from specgen.model import Build, Definitions, Part, Platform, Position
from specgen.quantity import DataSize
from specgen.rules.definitions.contradicting.contradiction import expanded

_TO_TWENTY: Final = (
    "one", "two", "three", "four", "five", "six", "seven", "eight",
    "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen",
    "seventeen", "eighteen", "nineteen", "twenty",
)  # fmt: skip
NUMBERS: Final[Mapping[str, int]] = {
    **{word: number for number, word in enumerate(_TO_TWENTY, start=1)},
    "twenty-four": 24,
    "thirty-two": 32,
    "thirty-six": 36,
    "forty-eight": 48,
    "sixty-four": 64,
}
_NUMBER: Final = "|".join(sorted(NUMBERS, key=len, reverse=True)) + r"|\d{1,3}"
NO_ADJECTIVES: Final = frozenset(
    {
        "over", "of", "in", "the", "for", "on", "with", "to", "from",
        "a", "an", "its", "each", "behind", "before", "per", "and", "or",
        "at", "by", "than", "more", "fewer", "other", "times", "under", "that",
        "which", "free", "spare", "hot",
    }
)  # fmt: skip
"""Words between a number and a noun after which the number counts something else."""
NOT_BEFORE: Final = frozenset(
    {
        "of", "than", "to", "any", "first", "other", "another", "over", "under",
        "about", "every", "after", "only", "least", "most", "next", "last", "per",
        "until", "between", "either", "nearly", "almost", "x",
    }
)  # fmt: skip
"""Words before a number that make it something other than a count of all."""
NOT_BEHIND: Final = frozenset(
    {
        "may", "can", "could", "fail", "fails", "lost", "each", "of", "or",
        "more", "per", "that", "apart",
    }
)  # fmt: skip
"""Words behind a noun, likewise; but for "of which"."""


def told_otherwise(definitions: Definitions) -> Iterator[Finding]:
    """SG227 for texts that tell of something else."""
    english = definitions.project.language.startswith("en")
    for build in definitions.builds.values():
        yield from _another_platform(definitions, build)
        yield from _another_processor(definitions, build)
        if english and all(fill.part in definitions.parts for fill in build.fit.values()):
            yield from _counts(build, build.summary, _fitted(definitions, build))
            yield from _memory(definitions, build)
    for platform in definitions.platforms.values():
        yield from _another_source(definitions, platform)
        if english:
            yield from _counts(platform, platform.summary, _places(platform))
    plugs = {form for part in definitions.parts.values() for _, form in _plugs(part)}
    for part in definitions.parts.values():
        yield from _not_for(definitions, part)
        yield from _ends(definitions, part, plugs)
        if english:
            yield from _bays(part)


_OF_A_WORD: Final = re.compile(r"[\w-]")


def _names(text: str, name: str) -> bool:
    """Whether a text has a name in it; a name that is a common word tells nothing."""
    if name not in text:  # nearly always
        return False
    proper = name.lower() != name or any(letter.isdigit() for letter in name)
    end = 0
    while proper and (start := text.find(name, end)) >= 0:  # a pattern takes long to make
        end = start + 1
        beside = text[max(start - 1, 0) : start], text[start + len(name) :][:1]
        if not any(map(_OF_A_WORD.match, beside)):
            return True
    return False


def _finding(message: Message, at: Span, beside: Span, words: Message, help_: Message) -> Finding:
    return Finding(
        codes.TOLD_OTHERWISE, message, Label(at), labels=(Label(beside, words),), help=help_
    )


RIGHT: Final = say("say what this one has")


def _another_platform(definitions: Definitions, build: Build) -> Iterator[Finding]:
    """A build's name with another platform in it, or a summary that begins with one."""
    own = definitions.platforms.get(build.platform)
    if own is None:
        return
    for field in ("name", "summary"):
        text = str(getattr(build, field) or "")
        if not text or _names(text, str(own.name)):
            continue
        for other in definitions.platforms.values():
            name = str(other.name)
            if other is own or not _names(text, name):
                continue
            if field == "summary" and not re.match(
                rf"(?:(?:An?|The|This)\s+)?{re.escape(name)}\b", text
            ):
                continue
            yield _finding(
                say("the `{field}` tells of {name}, and this is a build of {own}",
                    field=field, name=name, own=str(own.name)),
                build.origin.at(field), build.origin.at("platform"), say("its platform"), RIGHT,
            )  # fmt: skip
            break


def _another_source(definitions: Definitions, platform: Platform) -> Iterator[Finding]:
    """A platform whose source is the description of another."""
    document, own = str(platform.source.document), str(platform.name)
    if _names(document, own):
        return
    for other in definitions.platforms.values():
        if other is not platform and _names(document, str(other.name)):
            yield _finding(
                say("the source tells of {name}, and this is {own}", name=str(other.name), own=own),
                platform.origin.at("source", "document"), platform.origin.at("name"),
                say("its name"), say("name the document that its values are from"),
            )  # fmt: skip
            return


def _ids(build: Build) -> dict[str, list[str]]:
    """The positions by the part that stands in them."""
    found: dict[str, list[str]] = {}
    for names, fill in build.fit.items():
        part = fill if isinstance(fill, str) else getattr(fill, "part", None)
        if isinstance(part, str):
            found.setdefault(part, []).append(names)
    return found


def _another_processor(definitions: Definitions, build: Build) -> Iterator[Finding]:
    """A model that is not fitted, in a text that names none of those which are."""
    ids = _ids(build)
    models = [part for part in definitions.parts.values() if part.kind == "processor"]
    own = [part for part in models if part.id in ids]
    for field in ("name", "summary"):
        text = str(getattr(build, field) or "")
        named = [part for part in models if _names(text, str(part.name))]
        if own and named and not any(part in own for part in named):
            yield _finding(
                say("the `{field}` tells of {name}, and {own} is fitted",
                    field=field, name=str(named[0].name), own=str(own[0].name)),
                build.origin.at(field), build.origin.at("fit", ids[own[0].id][0]),
                say("fitted here"), RIGHT,
            )  # fmt: skip


Counted = Mapping[str, tuple[set[int], Span]]
"""By a noun: the numbers that it may stand behind, and where these come from."""


def _fitted(definitions: Definitions, build: Build) -> Counted:
    """What is fitted by its noun: all of it, those of each line, those of each model, and those
    that are no boot drives."""
    held: dict[str, list[tuple[str, int]]] = {}
    for part_id, ranges in _ids(build).items():
        part = definitions.parts.get(part_id)
        for noun in () if part is None else _nouns(part):
            held.setdefault(noun, []).extend((names, len(expanded(names))) for names in ranges)
    found: dict[str, tuple[set[int], Span]] = {}
    for noun, lines in held.items():
        numbers = {number for _, number in lines} | {sum(number for _, number in lines)}
        numbers.add(sum(number for names, number in lines if "." not in names))
        by_head: dict[str, int] = {}
        for names, number in lines:
            head = re.split(r"\d", names, maxsplit=1)[0]
            by_head[head] = by_head.get(head, 0) + number
        most = max(lines, key=lambda each: each[1])[0]
        found[noun] = ({*numbers, *by_head.values()}, build.origin.at("fit", most))
    return {**found, **_cores(definitions, build)}


def _cores(definitions: Definitions, build: Build) -> Counted:
    """The cores of all processors, and those of one."""
    total, of_one, at = 0, set[int](), ""
    for part_id, ranges in _ids(build).items():
        part = definitions.parts.get(part_id)
        if part is None or part.kind != "processor":
            continue
        if isinstance(cores := field_of(part, "cores"), int):
            total += cores * sum(len(expanded(each)) for each in ranges)
            of_one, at = of_one | {cores}, ranges[0]
    return {"core": ({total, *of_one}, build.origin.at("fit", at))} if at else {}


MEMORY_UNITS: Final = {
    "GiB": "GiB", "TiB": "TiB", "gibibyte": "GiB", "tebibyte": "TiB",
    "gibibytes": "GiB", "tebibytes": "TiB",
}  # fmt: skip
_MEMORY: Final = re.compile(
    rf"(?<![\w.,])(\d+(?:\.\d+)?|{_NUMBER}) ({'|'.join(MEMORY_UNITS)}) of memory\b", re.IGNORECASE
)


def _memory(definitions: Definitions, build: Build) -> Iterator[Finding]:
    """The memory of a summary is that of the modules fitted, or half of it where it is mirrored."""
    total, at = DataSize.of(0), ""
    for part_id, ranges in _ids(build).items():
        part = definitions.parts.get(part_id)
        module = part is not None and part.kind == "memory-module"
        capacity = field_of(part, "capacity") if module and part is not None else None
        if isinstance(capacity, DataSize):
            total, at = total + capacity * sum(len(expanded(each)) for each in ranges), ranges[0]
    said = [*_MEMORY.finditer(str(build.summary or ""))]
    if not at or len(said) != 1:
        return
    figure, unit = said[0][1].lower(), MEMORY_UNITS.get(said[0][2], "")
    amount = DataSize.of(NUMBERS.get(figure, figure), unit) if unit else total
    seen = total / 2 if build.memory_mode == "mirrored" else total
    if amount not in (total, seen):
        yield _finding(
            say("the `summary` tells of {words}, and {number} are fitted",
                words=said[0][0], number=AsWritten(total.to(unit))),
            build.origin.at("summary"), build.origin.at("fit", at), say("counted here"), RIGHT,
        )  # fmt: skip


def _nouns(part: Part) -> Iterator[str]:
    if part.kind == "drive":
        yield "drive"
        hard = field_of(part, "medium") == "hdd"
        yield from ("hard drive", "HDD") if hard else ("SSD", f"{field_of(part, 'interface')} SSD")
    elif part.kind in ("accelerator", "processor", "power-supply", "memory-module"):
        yield part.kind.replace("-", " ")


def _places(platform: Platform) -> Counted:
    at = platform.origin.at("positions")
    slots, supplies, sockets = (
        _taking(platform.positions, kind) for kind in ("memory-module", "power-supply", "processor")
    )
    return {
        "rack unit": ({platform.rack_units}, platform.origin.at("rack_units")),
        "memory slot": ({slots}, at),
        "power supply": ({1, supplies}, at),  # of several, one may be enough
        "processor": ({1, sockets}, at),
    }


def _taking(positions: Iterable[Position], kind: str) -> int:
    return sum(len(expanded(each.name)) for each in positions if kind in each.takes)


_COUNT: Final = re.compile(rf"(?<![\w.-])({_NUMBER})((?: [^\W\d][\w.-]*){{0,2}})\Z", re.IGNORECASE)
"""A number and up to two words, before what it counts."""


def _counts(thing: Any, text: object, counted: Counted) -> Iterator[Finding]:
    words = str(text or "")
    small = words.lower()
    told: set[int] = set()
    for noun in sorted(counted, key=len, reverse=True):
        numbers, beside = counted[noun]
        if not numbers - {0} or noun[:-1].lower() not in small:
            continue
        many = noun[:-1] + "ies" if noun.endswith("y") else noun + "s"
        for match in re.finditer(rf" (?:{many}|{noun})\b(?! \w*slot)", words, re.IGNORECASE):
            count = _COUNT.search(words, 0, match.start())
            if count is None or match.end() in told:
                continue
            told.add(match.end())
            number = NUMBERS.get(count[1].lower()) or int(count[1])
            if number not in numbers and _plain(words, count, match.end()):
                yield _finding(
                    say("the `summary` tells of “{words}”, and there are {number}",
                        words=words[count.start() : match.end()], number=max(numbers)),
                    thing.origin.at("summary"), beside, say("counted here"), RIGHT,
                )  # fmt: skip


_PARTS: Final = re.compile(r"[,.;:()]")
_OF_EACH: Final = re.compile(r"\b(?:each|every|per)\b", re.IGNORECASE)
"""A part of a sentence with one of these counts what each of several has."""


def _plain(text: str, count: re.Match[str], end: int) -> bool:
    """Whether a number counts all that there is; what it counts ends at `end`."""
    before = re.findall(r"[\w-]+", text[: count.start()])[-1:]
    behind = re.findall(r"^\s+(of which|[\w-]+)", text[end:])
    between = count[2].lower().split()
    part = _PARTS.split(text[: count.start()])[-1] + _PARTS.split(text[end:])[0]
    return _OF_EACH.search(part) is None and (
        NOT_BEFORE.isdisjoint(word.lower() for word in before)
        and NOT_BEHIND.isdisjoint(word.lower() for word in behind)
        and NO_ADJECTIVES.isdisjoint(between)
        and not any(word in NUMBERS for word in between)
    )


def _not_for(definitions: Definitions, part: Part) -> Iterator[Finding]:
    """A part's name with platforms in it, of which none takes it, and another does."""
    if not part.key:
        return
    named = [
        each for each in definitions.platforms.values() if _names(str(part.name), str(each.name))
    ]
    if not named or any(_takes(platform, part) for platform in named):
        return
    takers = [each for each in definitions.platforms.values() if _takes(each, part)]
    if takers:
        yield _finding(
            say("the name tells of {name}, and the part goes into {own}",
                name=str(named[0].name), own=str(takers[0].name)),
            part.origin.at("name"), part.origin.at("key"), say("its key"), RIGHT,
        )  # fmt: skip


def _takes(platform: Platform, part: Part) -> bool:
    keys = set(part.key)
    return any(
        part.kind in each.takes and not keys.isdisjoint(each.key) for each in platform.positions
    )


def _plugs(part: Part) -> Iterator[tuple[str, str]]:
    """The plugs at the ends of a cable, by their fields."""
    if field_of(part, "far_form"):
        yield from ((end, str(getattr(part, end))) for end in ("form", "far_form"))


def _ends(definitions: Definitions, part: Part, plugs: Iterable[str]) -> Iterator[Finding]:
    """SG130 for the end of a cable that its name, "ONE to OTHER", calls by another plug."""
    ends = dict(_plugs(part))
    sides = str(part.name).partition(" to ")
    if not ends or not sides[1]:
        return
    printed = {form: str(definitions.project.terms.get(form, form)) for form in plugs}
    for field, side in zip(ends, (sides[0], sides[2]), strict=True):
        said = [form for form, words in printed.items() if _names(side, words)]
        if len(said) == 1 and said[0] != ends[field]:
            yield Finding(
                codes.DOUBTFUL_VALUE,
                say("`{name}` is {value}, and the name says {text}",
                    name=field, value=ends[field], text=printed[said[0]]),
                Label(part.origin.at(field), say("another than in the name")),
                labels=(Label(part.origin.at("name"), say("the name")),),
                help=say("write the same in both"),
            )  # fmt: skip


_FORMS: Final = re.compile(rf"\b({_NUMBER}) (\d\.\d-inch|E3\.[SL](?: 2T)?)(?!\w)", re.IGNORECASE)


def _bays(part: Part) -> Iterator[Finding]:
    """Bays of a form: as many as the part's name says."""
    said = _FORMS.findall(str(part.name))
    if len(said) != 1:
        return
    number = NUMBERS.get(said[0][0].lower()) or int(said[0][0])
    form = said[0][1].lower().replace(" ", "-")
    bays = [each for each in part.brings.positions if form in each.form and "drive" in each.takes]
    counts = [len(expanded(each.name)) for each in bays]
    count = sum(counts)
    if count and number not in (count, *counts):
        at = part.brings.positions.index(bays[0])
        yield _finding(
            say("the name tells of {words}, and there are {number}",
                words=f"{said[0][0]} {said[0][1]}", number=count),
            part.origin.at("name"), part.origin.at("brings", "positions", at, "name"),
            say("counted here"), RIGHT,
        )  # fmt: skip
