"""What pydantic-core says of a tree, said to the author: code, place, reason, mend."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any, Literal, get_args, get_origin, get_type_hints

from pydantic_core import ErrorDetails, ValidationError

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question, quoted
from specgen.grouped import grouped
from specgen.load.one_cause import missing as missing_words
from specgen.load.other_shapes import Shape, in_shape
from specgen.messages import Message, Nothing, say, say_many
from specgen.model.markers import written
from specgen.model.name_ranges import range_meant
from specgen.model.pedigree import FieldPath
from specgen.source import MOST_MISTAKES, YamlMapping, node_at, span_at

_BOUNDS: Mapping[str, Message] = {
    "greater_than_equal": say("`{name}` needs a number of {limit} or more"),
    "less_than_equal": say("`{name}` needs a number of {limit} or less"),
}
_UNKNOWN = ("unexpected_keyword_argument", "extra_forbidden")
_NULLS = ("~", "null")
_REST = re.compile(r"[0-9]+( ?[A-Za-z/%]+)?")
_SHAPES: Mapping[str, tuple[Shape, Message]] = {
    "tuple_type": ("list", say("`{name}` needs a list")),
    "mapping_type": ("mapping", say("`{name}` needs a mapping")),
    "dict_type": ("mapping", say("`{name}` needs a mapping")),
    "dataclass_type": ("fields", say("`{name}` needs a mapping of fields")),
    "string_type": ("text", say("`{name}` needs text")),
}


_NAMES: dict[type[Any], dict[str, str]] = {}  # by class, worked out once


def field_names(cls: type[Any]) -> dict[str, str]:
    """YAML name to field name of a model class, the fields that YAML may give."""
    if cls not in _NAMES:
        own = (entry.name for entry in fields(cls) if entry.init)
        _NAMES[cls] = {written(name): name for name in own}
    return _NAMES[cls]


def _record_in(hint: Any) -> type[Any] | None:
    """The model class a type hint leads to, through optional, list, mapping and annotated."""
    if isinstance(hint, type) and is_dataclass(hint):
        return hint
    found = [_record_in(argument) for argument in get_args(hint) if argument is not type(None)]
    return next((cls for cls in reversed(found) if cls is not None), None)


def _record_at(cls: type[Any], path: FieldPath) -> type[Any] | None:
    """The model class that the value at `path` should be."""
    here: type[Any] | None = cls
    hint: Any = cls
    for step in path:
        if here is not None and isinstance(step, str) and step in field_names(here):
            hint = get_type_hints(here, include_extras=True)[field_names(here)[step]]
            here = None
            if isinstance(hint, type) and is_dataclass(hint):
                here = hint
        else:
            here = _record_in(hint)
            hint = here
        if here is None:
            candidate = _record_in(hint)
            if candidate is not None and not _is_container(hint):
                here = candidate
    return here or _record_in(hint)


def _is_container(hint: Any) -> bool:
    text = str(hint)
    return "tuple[" in text or "Mapping[" in text or "list[" in text


def explain(cls: type[Any], tree: YamlMapping, problems: ValidationError) -> tuple[Finding, ...]:
    """One finding for each cause, at the smallest place that shows it."""
    details = problems.errors(include_url=False)[:MOST_MISTAKES]
    missing = {
        (error["loc"][:-1], str(error["loc"][-1]))
        for error in details
        if error["type"] == "missing"
    }
    findings = []
    settled: set[tuple[FieldPath, str]] = set()
    foreign = _foreign(cls, tree, details)
    for parent, names in foreign.items():
        lost = sorted(field for where, field in missing if where == parent)
        settled |= {(parent, field) for field in lost}
        findings.append(_fields_of_another(tree, parent, names, lost))
    for error in details:
        if error["type"] in _UNKNOWN and tuple(error["loc"])[:-1] not in foreign:
            finding, meant = _unknown_field(cls, tree, error, missing)
            settled |= meant
            findings.append(finding)
    for error in details:
        path = tuple(error["loc"])
        if error["type"] in _UNKNOWN:
            continue
        if error["type"] == "missing":
            if (path[:-1], str(path[-1])) not in settled and not _doubled(tree, path[:-1]):
                findings.append(_missing_field(tree, path))
            continue
        findings.append(_other(cls, tree, path, error))
    if any(map(_after_comma, details)):  # that is told, and not the number that it leaves
        findings = [each for each in findings if each.code is not codes.NO_UNIT]
    return tuple(findings)


def _foreign(
    cls: type[Any], tree: YamlMapping, details: Sequence[ErrorDetails]
) -> dict[FieldPath, list[str]]:
    """Records of which several fields are unlike any that they could have: those of another kind,
    or of something that stood between."""
    unknown = grouped(
        (tuple(each["loc"])[:-1], each) for each in details if each["type"] in _UNKNOWN
    )
    found: dict[FieldPath, list[str]] = {}
    for parent, errors in unknown.items():
        record = _record_at(cls, parent)
        known = [] if record is None else sorted(field_names(record))
        names = [str(each["loc"][-1]) for each in errors]
        alike = any(did_you_mean(name, known) for name in names) or any(map(_after_comma, errors))
        if len(errors) > 1 and not alike and isinstance(node_at(tree, parent), YamlMapping):
            found[parent] = names
    return found


def _fields_of_another(
    tree: YamlMapping, parent: FieldPath, names: Sequence[str], lost: Sequence[str]
) -> Finding:
    first, *others = (_key_span(tree, (*parent, name)) for name in names)
    kind = node_at(tree, (*parent, "kind"))
    help_ = say("check where they belong")
    if isinstance(kind, str):
        help_ = say("check the kind, or take the fields out")
    notes = (say("missing here is {names}", names=quoted(lost)),) if lost else ()
    labels = tuple(Label(each, say("nor here")) for each in others)
    message = say("no fields are named {names}", names=quoted(names))
    at = Label(first, say("not a field here"))
    return Finding(codes.UNKNOWN_FIELD, message, at, labels=labels, notes=notes, help=help_)


def _after_comma(error: ErrorDetails) -> bool:
    """Whether a field is the rest of a number: one with a comma is two entries within braces."""
    return error["type"] in _UNKNOWN and _REST.fullmatch(str(error["loc"][-1])) is not None


def _unknown_field(
    cls: type[Any], tree: YamlMapping, error: ErrorDetails, missing: set[tuple[FieldPath, str]]
) -> tuple[Finding, set[tuple[FieldPath, str]]]:
    path = tuple(error["loc"])
    name, parent = str(path[-1]), path[:-1]
    record = _record_at(cls, parent)
    known = [] if record is None else sorted(field_names(record))
    at = Label(_key_span(tree, path), say("not a field here"))
    help_: Message | Nothing
    if _after_comma(error) and not did_you_mean(name, known):
        message = say("`{rest}` is read as a field of its own", rest=name)
        help_ = say("a comma begins a new entry here: write the number with a point")
        return Finding(codes.UNKNOWN_FIELD, message, at, help=help_), set()
    close = did_you_mean(name, known)
    meant = {(parent, close[0])} & missing if close else set()
    lost = sorted(field for where, field in missing if where == parent)
    if close:
        help_ = question(close[:1])
    elif lost:
        help_ = say("missing here is `{name}`", name=lost[0])
        if len(lost) == 1:  # one field less, one more: it was meant to be the other
            meant = {(parent, lost[0])}
    elif known:
        help_ = say("the fields are {names}", names=quoted(known))
    else:
        help_ = say("delete it")
    return Finding(
        codes.UNKNOWN_FIELD, say("no field is named `{name}`", name=name), at, help=help_
    ), meant


def _doubled(tree: YamlMapping, path: FieldPath) -> bool:
    """Whether a key stands twice in a record: it may have been meant to be the missing one."""
    return getattr(node_at(tree, path), "doubled", False)


def _missing_field(tree: YamlMapping, path: FieldPath) -> Finding:
    parent = span_at(tree, path[:-1])
    name = path[-1]
    return Finding(
        codes.MISSING_FIELD,
        missing_words(str(name)),
        Label(parent, say("needs `{name}`", name=name)),
        help=say("add `{name}: …`", name=name),
    )


def _other(cls: type[Any], tree: YamlMapping, path: FieldPath, error: ErrorDetails) -> Finding:
    kind, context = error["type"], error.get("ctx", {})
    is_key = bool(path) and path[-1] == "[key]"
    if is_key:
        path = path[:-1]
    at = _key_span(tree, path) if is_key else span_at(tree, path)
    names = [step for step in path if isinstance(step, str)]
    name = names[-1] if names else "it"
    if kind == "quantity":
        return _no_quantity(name, error, at)
    if kind == "empty":
        return _empty(name, at)
    if kind == "range":
        return Finding(
            codes.BAD_RANGE,
            context["why"],
            Label(at.part(str(error["input"]), context["at"])),
            help=say("write `{range}`", range=meant)
            if (meant := range_meant(str(error["input"])))
            else say("write names and ranges joined by commas, such as `SLOT 1` or `BAY 0, 2..7`"),
        )
    if kind == "field":
        message = say("`{name}` needs {what}", name=name, what=context["needs"])
        return Finding(codes.WRONG_TYPE, message, Label(at), help=context["help"])
    if kind == "beyond":
        message = say(
            "`{name}` needs {least} to {most}, and this is {given}",
            name=name,
            least=context["least"],
            most=context["most"],
            given=context["given"],
        )
        return Finding(codes.WRONG_VALUE, message, Label(at), help=context["why"])
    if kind in _BOUNDS:
        message = _BOUNDS[kind].filled(name=name, limit=next(iter(context.values())))
        return Finding(codes.WRONG_VALUE, message, Label(at))
    if kind == "too_short":
        message = say_many(
            context["min_length"],
            "`{name}` needs {number} entry or more",
            "`{name}` needs {number} entries or more",
            name=name,
        )
        return Finding(codes.WRONG_VALUE, message, Label(at))
    if kind == "literal_error":
        return _not_one_of(tree, path, name, _choices_at(cls, path), at, is_key=is_key)
    if kind in _SHAPES:
        shape, message = _SHAPES[kind]
        help_ = in_shape(shape, name, error["input"], _record_at(cls, path))
        return Finding(codes.WRONG_TYPE, message.filled(name=name), Label(at), help=help_)
    theirs = str(error["msg"])
    message = say("`{name}`: {problem}", name=name, problem=theirs[0].lower() + theirs[1:])
    return Finding(codes.WRONG_VALUE, message, Label(at))


def _no_quantity(name: str, error: ErrorDetails, at: Span) -> Finding:
    from specgen.diagnostics.bad_quantities import described  # where one is met

    code, problem, instead = described(error.get("ctx", {})["error"])
    value = error["input"]
    if isinstance(value, list | dict):
        code = codes.WRONG_TYPE
    elif not str(value).strip() or (getattr(value, "plain", False) and value in _NULLS):
        return _empty(name, at)
    return Finding(
        code, say("`{name}`: {problem}", name=name, problem=problem), Label(at), help=instead
    )


def _empty(name: str, at: Span) -> Finding:
    help_ = say("give a value, or delete the field; a text that begins with `#` stands in quotes")
    return Finding(codes.EMPTY_VALUE, say("`{name}` is empty", name=name), Label(at), help=help_)


def _choices_at(cls: type[Any], path: FieldPath) -> tuple[str, ...]:
    """The words that may stand at `path` of a definition."""
    for end in range(len(path) - 1, -1, -1):
        record, name = _record_at(cls, path[:end]), path[end]
        if record is not None and name in field_names(record):
            hints = get_type_hints(record, include_extras=True)
            return tuple(_literals(hints[field_names(record)[str(name)]]))
    return ()


def _literals(hint: Any) -> Iterator[str]:
    for each in get_args(hint):
        if get_origin(hint) is Literal:
            yield str(each)
        else:
            yield from _literals(each)


def _not_one_of(
    tree: YamlMapping,
    path: FieldPath,
    name: str,
    words: tuple[str, ...],
    at: Span,
    *,
    is_key: bool,
) -> Finding:
    node: Any = str(path[-1]) if is_key else tree
    for step in path:
        if not isinstance(node, str):  # else one word stands for a list of one
            node = node_at(node, (step,))
    close = did_you_mean(str(node), words) if isinstance(node, str) else ()
    if not close and isinstance(node, str) and len(node) > 2:
        close = tuple(word for word in words if word.startswith(node.casefold()))
    choice = quoted(words)
    help_ = question(close[:1]) or say("write one of {choice}", choice=choice)
    return Finding(
        codes.WRONG_VALUE,
        say("`{name}` is none of {choice}", name=name, choice=choice),
        Label(at),
        help=help_,
    )


def _key_span(tree: YamlMapping, path: FieldPath) -> Span:
    node = node_at(tree, path[:-1])
    if isinstance(node, YamlMapping) and path and str(path[-1]) in node:
        return node.key_where(str(path[-1]))
    return span_at(tree, path)
