"""Kinds that a project declares: whether each can stand beside the shipped ones."""

from collections.abc import Iterator, Mapping
from typing import Any, Final, get_args

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question, quoted
from specgen.messages import NOTHING, Message, Nothing, listed, say
from specgen.model import CONDITIONS, KINDS, Part
from specgen.model.kinds.declared_kinds import (
    TRAITS,
    DeclaredField,
    DeclaredKind,
    bases_of,
    hint_of,
    quantities_of,
)
from specgen.model.labels import entries
from specgen.model.traits import READ_BY_NAME
from specgen.quantity import QUANTITIES, UNITS

WORDS: Final = frozenset({"parts", "platform", "it", *CONDITIONS})
"""Words of the language of rules that no collection of parts can have."""
_TAKEN: Final = frozenset(
    {*(name for name in dir(Part) if not name.startswith("_")), "position", "soldered"}
)
_DIMENSIONS: Final = tuple(cls.dimension.name for cls in QUANTITIES)


def unsound(kind: DeclaredKind, collections: Mapping[str, str]) -> tuple[Finding, ...]:
    """What keeps a kind from being used; `collections` are taken words, by whom.

    A word is what rules call all parts of a kind, from its plural.
    """
    return (
        *_id(kind),
        *_plural(kind, collections),
        *(found for at, entry in enumerate(kind.fields) for found in _field(kind, at, entry)),
        *_shown(kind),
    )


def _id(kind: DeclaredKind) -> Iterator[Finding]:
    if kind.id in KINDS:
        yield Finding(
            codes.DUPLICATE_NAME,
            say("a kind named `{kind}` is there already", kind=kind.id),
            Label(kind.origin.at("id"), say("a shipped kind")),
            help=say(
                "give this one another `id`; what a shipped kind lacks can stand in `attributes`"
            ),
        )


def _plural(kind: DeclaredKind, collections: Mapping[str, str]) -> Iterator[Finding]:
    word = Part.collection_of(kind.plural)
    label: Message | Nothing = NOTHING
    if word in WORDS:
        label = say("the language of rules has the word `{word}` already", word=word)
    elif word in collections:
        label = say("{kind} has the word `{word}` already", kind=collections[word], word=word)
    elif not word.isidentifier():
        label = say("the language of rules cannot read such a word")
    if label:
        other = kind.title.replace(" ", "_").lower() + "_parts"
        yield Finding(
            codes.DUPLICATE_NAME if word.isidentifier() else codes.WRONG_VALUE,
            say("rules would call these parts `{word}`", word=word),
            Label(kind.origin.at("plural"), label),
            help=say("choose another `plural`, such as `{name}`", name=other),
        )


def _field(kind: DeclaredKind, at: int, entry: DeclaredField) -> Iterator[Finding]:
    name, value = entry.name, kind.origin.at("fields", at, "name")
    first = next(index for index, each in enumerate(kind.fields) if each.name == name)
    if first != at:
        yield Finding(
            codes.FIELD_TAKEN,
            say("two fields are named `{name}`", name=name),
            Label(value, say("second field")),
            labels=(Label(kind.origin.at("fields", first, "name"), say("first field")),),
            help=say("give one of them another name"),
        )
    elif name in _TAKEN:
        here = name in entries(Part)
        label = say("every part has this field") if here else say("means something with every part")
        help_ = (
            say("leave it out here, and write it with the parts")
            if here
            else say("choose another name")
        )
        yield Finding(
            codes.FIELD_TAKEN, say("`{name}` is taken", name=name), Label(value, label), help=help_
        )
    elif any(name in entries(base) for base in bases_of(kind)):
        trait = next(word for word in kind.traits if name in entries(TRAITS[word]))
        label = say("the trait `{trait}` brings it", trait=trait)
        yield Finding(
            codes.FIELD_TAKEN,
            say("`{name}` is taken", name=name),
            Label(value, label),
            help=say("leave it out here"),
        )
    else:
        mistakes = [*_value(kind, at, entry)]
        yield from mistakes or _meant_otherwise(kind, at, entry)


def _value(kind: DeclaredKind, at: int, entry: DeclaredField) -> Iterator[Finding]:
    """What is wrong with the values that a field would have."""
    if entry.type == "choice":
        yield from _choices(kind, at, entry)
    elif entry.choices:
        yield _stray(kind, at, "choices", "choice")
    if entry.type == "quantity":
        yield from _unit(kind, at, entry)
        return
    for name in ("unit", "dimension"):
        if getattr(entry, name) is not None:
            yield _stray(kind, at, name, "quantity")


def _choices(kind: DeclaredKind, at: int, entry: DeclaredField) -> Iterator[Finding]:
    if not entry.choices:
        yield Finding(
            codes.MISSING_FIELD,
            say("`{entry}` is a choice of nothing", entry=entry.name),
            Label(kind.origin.at("fields", at, "type"), say("needs `choices`")),
            help=say("add `choices: [small, large]`, say"),
        )
    elif len(set(entry.choices)) < len(entry.choices):
        twice = next(word for word in entry.choices if entry.choices.count(word) > 1)
        where = Label(kind.origin.at("fields", at, "choices"))
        yield Finding(
            codes.WRONG_VALUE, say("`{twice}` stands among the choices twice", twice=twice), where
        )


def _stray(kind: DeclaredKind, at: int, name: str, type_: str) -> Finding:
    entry = kind.fields[at]
    return Finding(
        codes.WRONG_VALUE,
        say("`{entry}` has `{name}` and is no {type}", entry=entry.name, name=name, type=type_),
        Label(kind.origin.key("fields", at, name), say("belongs to a {type}", type=type_)),
        labels=(Label(kind.origin.at("fields", at, "type"), say("is {type}", type=entry.type)),),
        help=say("write `type: {type}`, or delete it", type=type_),
    )


def _unit(kind: DeclaredKind, at: int, entry: DeclaredField) -> Iterator[Finding]:
    """Whether unit and dimension name one dimension."""
    if entry.dimension is not None and entry.dimension not in _DIMENSIONS:
        help_ = question(did_you_mean(entry.dimension, _DIMENSIONS))
        yield Finding(
            codes.WRONG_VALUE,
            say("no dimension is named `{dimension}`", dimension=entry.dimension),
            Label(kind.origin.at("fields", at, "dimension")),
            help=help_ or say("there are {names}", names=listed(_DIMENSIONS)),
        )
        return
    known = {unit.symbol: unit.dimension.name for unit in UNITS}
    where = Label(kind.origin.at("fields", at, "unit" if entry.unit is not None else "type"))
    found = quantities_of(entry)
    if entry.unit is None and entry.dimension is None:
        yield Finding(
            codes.MISSING_FIELD,
            say("`{entry}` is a quantity of nothing", entry=entry.name),
            where,
            help=say("add `unit: l/min`, say, or `dimension: volume flow`"),
        )
    elif entry.unit is not None and not found and entry.dimension is None:
        yield Finding(
            codes.UNKNOWN_UNIT,
            say("no unit is written `{unit}`", unit=entry.unit),
            where,
            help=question(did_you_mean(entry.unit, known))
            or say("where no unit fits, write `type: number` and say the unit in the label"),
        )
    elif not found:
        yield Finding(
            codes.WRONG_DIMENSION,
            say("`{unit}` is no unit of {dimension}", unit=entry.unit, dimension=entry.dimension),
            where,
            help=say(
                "units of it are {units}",
                units=listed(symbol for symbol, name in known.items() if name == entry.dimension),
            ),
        )
    elif len(found) > 1:
        names = quoted((cls.dimension.name for cls in found), "or")
        yield Finding(
            codes.WRONG_DIMENSION,
            say("`{unit}` is a unit of more than one dimension", unit=entry.unit),
            where,
            help=say("add `dimension: …`: {names}", names=names),
        )


def _meant_otherwise(kind: DeclaredKind, at: int, entry: DeclaredField) -> Iterator[Finding]:
    """A field that positions or checks read off any part, as something else than it is here."""
    read_as = READ_BY_NAME.get(entry.name)
    if read_as is None or _alike(entry, read_as):
        return
    traits = [word for word, cls in TRAITS.items() if entry.name in entries(cls)]
    yield Finding(
        codes.FIELD_TAKEN,
        say("`{entry}` means something else to positions and checks", entry=entry.name),
        Label(kind.origin.at("fields", at, "name"), say("read off any part that has it")),
        help=say(
            "it comes with the trait {trait}; for another meaning choose another name",
            trait=quoted(traits, "or"),
        )
        if traits
        else say("choose another name"),
    )


def _alike(entry: DeclaredField, read_as: Any) -> bool:
    hint = hint_of(entry)
    if entry.list:
        inner = get_args(get_args(read_as)[0]) if get_args(read_as) else ()
        return bool(inner) and inner[0] == hint
    return bool(hint == read_as)


def _shown(kind: DeclaredKind) -> Iterator[Finding]:
    """Fields that tables are to show and that no part of the kind has."""
    own = [entry.name for entry in kind.fields]
    inherited = [name for base in bases_of(kind) for name in entries(base)]
    known = {*own, *inherited, "power.idle", "power.typical", "power.maximum"} - {"origin"}
    for table in ("choices", "parts_list", "comparison"):
        for at, name in enumerate(getattr(kind.shown, table)):
            if name not in known:
                yield Finding(
                    codes.UNKNOWN_FIELD,
                    say("no field of the kind is named `{name}`", name=name),
                    Label(kind.origin.at("shown", table, at)),
                    help=question(did_you_mean(name, sorted(known)))
                    or (
                        say("its own fields are {names}", names=quoted(own))
                        if own
                        else say("it has no fields of its own")
                    ),
                )
