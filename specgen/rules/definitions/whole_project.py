"""What is found in the definitions of a project as a whole, apart from any build."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.diagnostics.fault import carrying
from specgen.facts import values_of
from specgen.load.definitions import Loaded
from specgen.messages import Message, Nothing, say
from specgen.model import Definitions
from specgen.rules.declared import rule_book
from specgen.rules.definitions.access_circles import circles
from specgen.rules.definitions.contradicting.closing import closing
from specgen.rules.definitions.contradicting.contradictions import contradictions
from specgen.rules.definitions.contradicting.outlines import misplaced
from specgen.rules.definitions.doubtful.attribute_amounts import attribute_amounts
from specgen.rules.definitions.doubtful.days import doubtful_days
from specgen.rules.definitions.doubtful.doubtful_channels import doubtful_channels
from specgen.rules.definitions.doubtful.doubtful_texts import doubtful_texts
from specgen.rules.definitions.doubtful.doubtful_units import doubtful_units
from specgen.rules.definitions.doubtful.doubtful_values import doubtful_values
from specgen.rules.definitions.doubtful.idle_conditions import idle_conditions
from specgen.rules.definitions.doubtful.later_days import later_days
from specgen.rules.definitions.doubtful.unlike_places import unlike_places
from specgen.rules.definitions.doubtful.unlike_siblings import unlike_siblings
from specgen.rules.definitions.doubtful.unstated import unstated
from specgen.rules.definitions.doubtful.unstated_places import unstated_places
from specgen.rules.definitions.doubtful.unusual_values import unusual_values
from specgen.rules.definitions.doubtful.weights_in_place import weights_in_place
from specgen.rules.definitions.languages import unknown_language
from specgen.rules.definitions.named.alike_names import names_alike
from specgen.rules.definitions.named.alike_words import alike_words
from specgen.rules.definitions.named.mistaken_words import mistaken_words
from specgen.rules.definitions.named.named_amounts import named_amounts
from specgen.rules.definitions.named.named_numbers import named_numbers
from specgen.rules.definitions.named.named_words import named_words
from specgen.rules.definitions.named.told_of_builds import told_of_builds
from specgen.rules.definitions.named.told_of_rules import told_of_rules
from specgen.rules.definitions.named.told_otherwise import told_otherwise
from specgen.rules.definitions.orderable import orderable
from specgen.rules.definitions.records import records, things
from specgen.rules.definitions.shown_builds import unfit_to_show
from specgen.rules.definitions.technologies import unknown_technologies
from specgen.rules.definitions.unfinished import left_to_do
from specgen.rules.definitions.unmet import unmet
from specgen.rules.definitions.unused import unused
from specgen.rules.positions import unknown_positions
from specgen.shipped import documents_about, template_names
from specgen.source import PROJECT_FILE


def of_project(root: Path, loaded: Loaded) -> tuple[Finding, ...]:
    """Rules, positions and documents that cannot be what they are called."""
    if loaded.definitions is None:
        return ()
    found: list[Finding] = []
    with carrying(found):
        found += unknown_documents(root, loaded.definitions)
        found += unknown_language(root, loaded.definitions)
        found += of_definitions(loaded)
    return tuple(found)


def of_definitions(loaded: Loaded) -> tuple[Finding, ...]:
    """What definitions say that cannot be, that is doubtful, or that names what is not there.

    What follows from something else is found as well, and told with it (`told_once`); what is only
    guessed is not said of a place that something is found at.
    """
    definitions = loaded.definitions
    if definitions is None:
        return ()
    found: list[Finding] = []
    with carrying(found):
        for each in _of_fields(definitions):
            found.append(each)  # noqa: PERF402  # one by one, lest a fault takes others along
        found += closing(definitions)
        found += unknown_technologies(definitions)
        found += circles(definitions)
        doubted = {span for each in found for span in each.spans}
        unlike = (*unlike_siblings(definitions), *unlike_places(definitions))
        found += (each for each in unlike if each.at.span not in doubted)
        doubted = {span for each in found for span in each.spans}
        found += (x for x in weights_in_place(definitions) if x.at.span not in doubted)
        whole = not loaded.findings  # else what blocks a position may stand in what was not read
        found += (each for each in misplaced(definitions) if whole or each.code != codes.STACKED)
        found += doubtful_channels(definitions)
        found += doubtful_days(definitions)
        found += later_days(definitions, {each.at.span for each in found})
        found += unstated(definitions)
        found += unstated_places(definitions)
        found += attribute_amounts(definitions)
        found += told_otherwise(definitions)
        found += doubtful_texts(definitions)
        if whole:  # else the part that is meant may stand in what was not read
            found += idle_conditions(definitions)
        lines = {(each.at.span.file, each.at.span.line) for each in found}
        found += (
            each
            for each in (*told_of_rules(definitions), *told_of_builds(definitions))
            if lines.isdisjoint((span.file, span.line) for span in each.spans)
        )
        found += names_alike(definitions)
        found += mistaken_words(definitions)
        found += alike_words(definitions)
        found += _named(definitions, found)
        found += unused(definitions)
        found += named_words(definitions)
        found += misnamed(loaded)
    return tuple(found)


def _of_fields(definitions: Definitions) -> Iterator[Finding]:
    """What the fields of each record say; all records are gone through once."""
    for thing in things(definitions):
        for path, record in records(thing):
            yield from doubtful_units(thing, path, record)
            yield from unusual_values(thing, path, record)
            yield from doubtful_values(definitions, thing, path, record)
            yield from contradictions(definitions, thing, path, record)


def _named(definitions: Definitions, found: Iterable[Finding]) -> Iterator[Finding]:
    """What names of parts say otherwise than their fields, unless either is told of already."""
    told = {span for each in found for span in each.spans}
    for part in definitions.parts.values():
        for each in (*named_amounts(part), *named_numbers(part)):
            if told.isdisjoint(each.spans):
                told.add(each.at.span)
                yield each


def misnamed(loaded: Loaded) -> tuple[Finding, ...]:
    """Declared rules and values that cannot be read, positions named that no system has, and
    order numbers and lives of parts that cannot be.

    Nothing is said of names that may stand in unreadable files.
    """
    if loaded.definitions is None:
        return ()
    book, own = rule_book(loaded.definitions), values_of(loaded.definitions)
    definitions = loaded.definitions
    found = (
        *own.findings,
        *book.findings,
        *orderable(definitions),
        *left_to_do(definitions),
    )
    if loaded.kinds_missing:  # what such a kind's parts are called, and their fields, is not known
        return tuple(each for each in found if each.code is not codes.RULE_NAME)
    if loaded.findings:
        return found
    doubtful = (*own.doubtful, *book.doubtful, *unfit_to_show(definitions))
    return (*found, *doubtful, *unknown_positions(definitions), *unmet(definitions))


def unknown_documents(root: Path, definitions: Definitions) -> tuple[Finding, ...]:
    """Documents that the project wants published of its builds, or of a platform, and that no
    template makes."""
    there, project = template_names(root), definitions.project
    wanted = [(project.origin, "build", project.documents)]
    wanted += [(each.origin, "platform", each.documents) for each in definitions.platforms.values()]
    found = []
    for origin, subject, documents in wanted:
        known = documents_about(subject, root)
        for number, name in enumerate(documents):
            if name not in known:
                at = origin.entry(number, "documents")
                found.append(_unknown_document(at, name, subject, known, name in there))
    return tuple(found)


_ABOUT_ANOTHER: Final[Mapping[str, Message]] = {
    "build": say("the template `{name}.md` is about something else than a build"),
    "platform": say("the template `{name}.md` is about something else than a platform"),
}


def _unknown_document(
    span: Span, name: str, subject: str, known: tuple[str, ...], is_there: bool
) -> Finding:
    at = Label(span, say("nothing makes this document"))
    help_: Message | Nothing = question(did_you_mean(name, known))
    if is_there:
        message = _ABOUT_ANOTHER[subject].filled(name=name)
    else:
        message = say("no template is named `{name}.md`", name=name)
        help_ = help_ or say(
            "write `templates/{name}.md` beside {PROJECT_FILE}",
            name=name,
            PROJECT_FILE=PROJECT_FILE,
        )
    return Finding(codes.UNKNOWN_DOCUMENT, message, at, help=help_)
