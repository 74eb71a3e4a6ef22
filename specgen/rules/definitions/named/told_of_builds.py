"""What a build says of itself beside what it states: the line and the height of its summary, a
draft that is published, an order number of another platform's builds; and what a part draws in the
reasons of its needs."""

import re
from collections.abc import Iterator
from typing import Any, Final

from specgen.diagnostics import Finding, Label, codes
from specgen.fitness import field_of
from specgen.messages import AsWritten, say
from specgen.model import Build, Definitions
from specgen.quantity import Length, Power, Quantity, Voltage

_VOLTS: Final = re.compile(
    r"\b(?:lines?|plant|mains|grid)\s(?:of|at|with|gives|carries)\s(?:about\s)?([-−]?\d+)\s?V\b"
)
_HEIGHT: Final = re.compile(r"\bat (?:a height of )?(\d{4}|[5-9]\d\d)\s?m\b")
_DRAWS: Final = re.compile(r"\bdraws (?:up to )?(\d+(?:\.\d+)?)\s?(k?W)\b")
DRAFTS: Final = frozenset({"draft", "wip", "tbd", "preliminary", "entwurf"})
SEVERAL: Final = 3
"""So many builds of a platform have order numbers of one beginning."""


def told_of_builds(definitions: Definitions) -> Iterator[Finding]:
    """SG227, SG130 and SG220 for what of a build contradicts what stands beside it."""
    english = definitions.project.language.startswith("en")
    for build in definitions.builds.values():
        if english:
            yield from _conditions(build)
        if build.published and str(build.revision).strip().casefold() in DRAFTS:
            yield Finding(
                codes.DOUBTFUL_VALUE,
                say(
                    "the revision is `{text}`, and the build is published", text=str(build.revision)
                ),
                Label(build.origin.at("revision")),
                help=say("give it its revision, or write `published: false`"),
            )
    yield from _beginnings(definitions)
    if english:
        yield from _draws(definitions)


def _conditions(build: Build) -> Iterator[Finding]:
    """The line and the height that a build states are those of its summary, where this has any."""
    conditions, text = build.conditions, str(build.summary or "")
    volts = [Voltage.of(each.replace("−", "-")) for each in _VOLTS.findall(text)]
    heights = [Length.of(each) for each in _HEIGHT.findall(text)]
    for name, said in (("line", volts), ("altitude", heights)):
        value: Any = getattr(conditions, name)
        if said and value is not None and value not in said:
            yield Finding(
                codes.TOLD_OTHERWISE,
                say("the `summary` tells of {words}, and `{name}` is {value}",
                    words=AsWritten(said[0]), name=name, value=AsWritten(value)),
                Label(build.origin.at("summary")),
                labels=(Label(build.origin.at("conditions", name), say("stated here")),),
                help=say("say the same in both"),
            )  # fmt: skip


def _beginning(number: str) -> str:
    """An order number without its last run of digits."""
    return re.sub(r"\d+\D*$", "", number)


def _beginnings(definitions: Definitions) -> Iterator[Finding]:
    """SG220 for a build whose number begins as those of another platform do, and as none of its
    own platform's."""
    held: dict[str, list[tuple[str, Build]]] = {}
    for build in definitions.builds.values():
        if build.number:
            held.setdefault(build.platform, []).append((_beginning(str(build.number)), build))
    usual: dict[str, tuple[str, Build]] = {}
    for platform, numbers in held.items():
        for beginning in {each for each, _ in numbers}:
            same = [build for each, build in numbers if each == beginning]
            if len(same) >= SEVERAL and len(same) >= len(numbers) - 1:
                usual[platform] = beginning, same[0]
    for platform, numbers in held.items():
        if platform not in usual:
            continue
        own, _ = usual[platform]
        for beginning, build in numbers:
            others = [
                (name, other) for name, (each, other) in usual.items() if each == beginning != own
            ]
            if beginning != own and others and usual[others[0][0]][0] != own:
                name, other = others[0]
                yield Finding(
                    codes.SLIP,
                    say("`{number}` begins as the numbers of {name} do", number=str(build.number),
                        name=str(definitions.platforms[name].name)
                        if name in definitions.platforms else name),
                    Label(build.origin.at("number")),
                    labels=(Label(other.origin.at("number"), say("as here")),),
                    help=say("those of its own platform begin with `{text}`", text=own),
                )  # fmt: skip


def _draws(definitions: Definitions) -> Iterator[Finding]:
    """SG227 for a need whose reason says that the part draws what it does not."""
    for part in definitions.parts.values():
        most: Quantity | None = field_of(part, "power.maximum")
        for at, need in enumerate(part.needs if most is not None else ()):
            said = [Power.of(*each) for each in _DRAWS.findall(str(need.because or ""))]
            if len(said) == 1 and most is not None and said[0] != most:
                yield Finding(
                    codes.TOLD_OTHERWISE,
                    say("the reason says that it draws {words}, and `maximum` is {value}",
                        words=AsWritten(said[0]), value=AsWritten(most)),
                    Label(part.origin.at("needs", at, "because")),
                    labels=(Label(part.origin.at("power", "maximum"), say("stated here")),),
                    help=say("say the same in both"),
                )  # fmt: skip
