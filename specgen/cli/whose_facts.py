"""Whose facts a command is about: a build, a platform, or an order of builds."""

from collections.abc import Collection, Mapping
from pathlib import Path

from specgen.cli.one_build import findings_about
from specgen.cli.order_words import orders_of
from specgen.cli.systems import system
from specgen.cli.terminal import print_findings, remembered
from specgen.document.several import Order
from specgen.facts import Fact
from specgen.facts.orders import ORDER
from specgen.frozen import frozen
from specgen.pipeline import read


@frozen
class Subject:
    """The facts of what was asked about.

    `groups` are those that are meant where none is named; all where it is empty. `sound` says
    whether its definitions are free of errors.
    """

    facts: Mapping[str, Fact]
    builds: Collection[str] = ()
    """Ids that may have been meant where a word is no fact."""
    groups: tuple[str, ...] = ()
    sound: bool = True


def subject_of(words: tuple[str, ...], project: Path, at: tuple[str, ...]) -> Subject | None:
    """A build or a platform by its id, or an order: several of them, `BUILD` or `BUILD=COUNT`.

    None where a build of an order has errors, which have been told. Errors of one build are told
    too, and its facts are given all the same. Ends the command where nothing is named so.
    """
    if len(words) > 1 or "=" in words[0]:
        lines = orders_of(words, project, at)
        if lines is None:
            return None
        definitions = lines[0][0].definitions
        return Subject(Order(definitions, tuple(lines)).facts, definitions.builds, (ORDER,))
    found, case = system(project, words[0], at)
    if case.sound:
        return Subject(case.facts, case.definitions.builds)
    findings = findings_about(found, words[0])
    print_findings(
        tuple(each for each in findings if each.severity == "error"), found.sources.texts, project
    )
    return Subject(case.facts, case.definitions.builds, sound=False)


def named_in(words: tuple[str, ...], project: Path) -> tuple[str, ...]:
    """The words that name systems: the first, those with a count, and ids of builds."""
    if len(words) == 1:
        return words
    definitions = remembered(read(project)).definitions
    builds = definitions.builds if definitions is not None else ()
    return (words[0], *(word for word in words[1:] if "=" in word or word in builds))
