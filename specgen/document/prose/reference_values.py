"""References as they are printed: number and unit, name, link; or what is the matter with them."""

from collections.abc import Callable, Iterable, Mapping
from typing import Final

from specgen.diagnostics import Code, codes, did_you_mean, question
from specgen.document.case import Case
from specgen.document.prose.reference import (
    BY_ID,
    FACT,
    NUMBER,
    BadReference,
    Reference,
    read_reference,
)
from specgen.document.prose.text_subjects import Subjects
from specgen.document.tree import Cell, Datum, Hyperlink, Literal, Table, Text, words
from specgen.facts import Fact, Facts
from specgen.facts.orders import ORDER
from specgen.frozen import frozen
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model import BadRange, expand, places
from specgen.quantity import split

_PLAIN_BRACE: Final = say("a plain brace is written `\\{{`")
_NO_SUCH: Final[Mapping[str, Message]] = {
    "part": say("no part is named `{name}`"),
    "platform": say("no platform is named `{name}`"),
    "build": say("no build is named `{name}`"),
}
BETWEEN: Final = "\u00a0"  # keeps a count and its noun on one line


@frozen
class Printed:
    """A reference printed: `target` is "" where it leads nowhere. `message` says what is wrong."""

    cell: Cell = ()
    target: str = ""
    code: Code | None = None
    message: Message | Nothing = NOTHING
    help: Message | Nothing = NOTHING
    numbered: bool = False
    """Its words give way to a number, where what it leads to has one."""

    @property
    def linked(self) -> Cell:
        """With its link round it."""
        link = Hyperlink(self.cell, self.target, self.numbered)
        return (link,) if self.target else self.cell


@frozen
class _Reading:
    reference: Reference
    subject: str
    subjects: Subjects
    here: bool
    """The document is about the subject: no need to lead to its page."""

    @property
    def page(self) -> str:
        kind = self.subjects.kind(self.subject)
        return "" if self.here or kind == ORDER else f"{kind}:{self.subject}"


def printed(inner: str, about: str, subjects: Subjects, here: str = "") -> Printed:
    """What stands between braces, in a text about `about`, within the document of `here`."""
    try:
        reference = read_reference(inner)
    except BadReference as problem:
        message = say("{text}: {problem}", text=f"{{{inner}}}", problem=problem.message)
        return _wrong(inner, codes.REFERENCE_SYNTAX, message, problem.help)
    if reference.kind in BY_ID:
        made = (_number if reference.kind == NUMBER else _named)(reference, subjects)
    else:
        subject = reference.subject or about
        problem_ = _subject_problem(inner, reference, subject, subjects)
        if problem_ is not None:
            return problem_
        made = _OF[reference.kind](_Reading(reference, subject, subjects, subject == here))
    return made if made.code is None or made.cell else _kept(inner, made)


def _kept(inner: str, made: Printed) -> Printed:
    """What cannot be printed stays as it was written, for the writer to see."""
    return Printed((Literal(f"{{{inner}}}"),), "", made.code, made.message, made.help)


def _wrong(inner: str, code: Code, message: Message, help_: Message) -> Printed:
    return _kept(inner, Printed((), "", code, message, help_))


def _unknown(
    message: Message, word: str, known: Iterable[str], else_: Message | Nothing = NOTHING
) -> Printed:
    help_ = question(did_you_mean(word, known)) or else_
    return Printed((), "", codes.UNKNOWN_REFERENCE, message, help_)


def _subject_problem(
    inner: str, reference: Reference, subject: str, subjects: Subjects
) -> Printed | None:
    if not subject:
        message = say(
            "`{text}` does not say of what, and the text is about nothing in particular",
            text=f"{{{inner}}}",
        )
        help_ = say(
            "write `{text}`, or `subject: ID` in the head of the text",
            text=f"{{ID: {reference.name}}}",
        )
        return _wrong(inner, codes.UNKNOWN_REFERENCE, message, help_)
    if not subjects.kind(subject):
        (*strangers, other) = (*subjects.strangers(subject), subject)
        wanted = strangers[0] if strangers else other
        message = say("no build, platform or part has the id `{name}`", name=wanted)
        found = _unknown(message, wanted, subjects.ids, _PLAIN_BRACE)
        return _kept(inner, found)
    return None


def _known_ids(subjects: Subjects) -> Mapping[str, Mapping[str, object]]:
    d = subjects.definitions
    return {"part": d.parts, "platform": d.platforms, "build": d.builds}


def _named(reference: Reference, subjects: Subjects) -> Printed:
    known = _known_ids(subjects)[reference.kind]
    thing = known.get(reference.name)
    if thing is None:
        message = _NO_SUCH[reference.kind].filled(name=reference.name)
        return _unknown(message, reference.name, known)
    name = reference.words[0] if reference.words else str(getattr(thing, "name", ""))
    return Printed(words(name), f"{reference.kind}:{reference.name}")


def _number(reference: Reference, subjects: Subjects) -> Printed:
    """An order number, leading to the page of what has it."""
    name, kind = reference.name, subjects.kind(reference.name)
    thing = _known_ids(subjects).get(kind, {}).get(name)
    if thing is None:
        message = say("no build, platform or part has the id `{name}`", name=name)
        return _unknown(message, name, subjects.ids)
    number = getattr(thing, "number", None)
    if number is None:
        message = say("`{name}` has no order number", name=name)
        help_ = say("declare its `number`, or refer to it by name")
        return Printed((Literal(name),), f"{kind}:{name}", codes.NO_VALUE, message, help_)
    return Printed((Literal(str(number)),), f"{kind}:{name}")


def _fact(asked: _Reading) -> Printed:
    key = asked.reference.name
    fact = asked.subjects.fact(asked.subject, key)
    if fact is None:
        known = (*asked.subjects.facts(asked.subject), *asked.subjects.stated(asked.subject))
        message = say("`{subject}` has no value named `{key}`", subject=asked.subject, key=key)
        return _unknown(message, key, known, _PLAIN_BRACE)
    return _value(asked, fact)


def _value(asked: _Reading, fact: Fact) -> Printed:
    own = asked.here or asked.subjects.kind(asked.subject) == ORDER
    key = fact.key if own else f"{asked.subject}.{asked.reference.name}"
    cell: Cell = (Datum(fact.value, key),)
    unsound = asked.subjects.unsound(asked.subject)
    if fact.value is None and not unsound:
        message = say("`{key}` of `{subject}` is not declared", key=fact.key, subject=asked.subject)
        command = f"specgen explain {asked.subject} {fact.key}"
        help_ = say("`{command}` says what is missing", command=command)
        return Printed(cell, asked.page, codes.NO_VALUE, message, help_)
    if unsound:
        return Printed(
            cell,
            asked.page,
            codes.OF_UNSOUND,
            say("`{name}` has errors, so its values could be wrong", name=unsound),
            say("`specgen check` says which; fix them first"),
        )
    nouns = asked.reference.words
    unit = split(fact.value)[1]
    if nouns and unit:
        message = say(
            "`{key}` prints its unit, {unit}, and takes no noun",
            key=asked.reference.name,
            unit=unit,
        )
        plain = Reference(FACT, asked.reference.name, asked.reference.subject)
        help_ = say("write `{text}`", text=str(plain))
        return Printed((), "", codes.REFERENCE_SYNTAX, message, help_)
    if nouns:
        noun = nouns[0] if fact.value == 1 else nouns[-1]
        cell = (*cell, Text(f"{BETWEEN}{noun}"))
    return Printed(cell, asked.page)


def _limit(asked: _Reading) -> Printed:
    known = asked.subjects.limits.get(asked.subject, {})
    key = f"limits.{asked.reference.name}"
    fact = known.get(key)
    if fact is None:
        message = say(
            "no limit `{name}` of `{subject}` is known",
            name=asked.reference.name,
            subject=asked.subject,
        )
        names = [each.partition(".")[2] for each in known]
        return _unknown(message, asked.reference.name, names)
    return _value(asked, fact)


def _position(asked: _Reading) -> Printed:
    written = asked.reference.name
    try:
        names = expand(written)
    except BadRange as problem:
        return Printed((), "", codes.REFERENCE_SYNTAX, problem.message)
    known = asked.subjects.positions(asked.subject)
    missing = [name for name in names if name not in known]
    if missing:
        message = say("`{subject}` has no position named `{name}`")
        message = message.filled(subject=asked.subject, name=missing[0])
        return _unknown(message, missing[0], known)
    return Printed(words(_own_words(asked) or places(names)), asked.page)


def _table(asked: _Reading) -> Printed:
    from specgen.document.blocks.tables import SYSTEM_TABLES  # only where a text asks for one

    name = asked.reference.name
    block = SYSTEM_TABLES.get(name) or asked.subjects.tables().get(name)
    if block is None:
        known = (*SYSTEM_TABLES, *asked.subjects.tables())
        return _unknown(say("no table is named `{name}`", name=name), name, known)
    made = _made(asked, block)
    if not isinstance(made, Table):
        message = say(
            "the table `{name}` of `{subject}` is empty and not printed",
            name=name,
            subject=asked.subject,
        )
        return Printed((), "", codes.UNKNOWN_REFERENCE, message)
    own = _own_words(asked)
    target = f"{asked.page}#{made.anchor}"
    return Printed(words(own or made.title), target, numbered=not own)


def _picture(asked: _Reading) -> Printed:
    from specgen.document.figures import DRAWINGS

    name = asked.reference.name
    if name not in DRAWINGS or asked.subjects.assembly(asked.subject) is None:
        return _unknown(say("no figure is named `{name}`", name=name), name, DRAWINGS)
    own = _own_words(asked)
    target = f"{asked.page}#{name}-figure"
    return Printed(words(own or name.replace("-", " ")), target, numbered=not own)


def _made(asked: _Reading, block: Callable[[Case], object]) -> object:
    assembly, facts = asked.subjects.assembly(asked.subject), asked.subjects.facts(asked.subject)
    if assembly is None or not isinstance(facts, Facts):
        return None
    return block(Case(asked.subjects.definitions, assembly, facts))


def _own_words(asked: _Reading) -> str:
    """The writer's own words for it."""
    return asked.reference.words[0] if asked.reference.words else ""


_OF: Final[Mapping[str, Callable[[_Reading], Printed]]] = {
    FACT: _fact,
    "limit": _limit,
    "position": _position,
    "table": _table,
    "figure": _picture,
}
