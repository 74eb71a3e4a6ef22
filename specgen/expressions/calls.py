"""Reads the functions of the language: what folds collections, and what asks for positions."""

import ast
from collections.abc import Callable, Mapping
from typing import Final

from specgen.diagnostics import codes, did_you_mean, question, quoted
from specgen.expressions import nodes
from specgen.expressions.operands import FUNCTIONS
from specgen.expressions.reader import CharRange, Reader, span_of
from specgen.expressions.source_text import BadExpression, Followed
from specgen.expressions.types import (
    NUMBER,
    TRUTH,
    Namespace,
    Type,
    TypeSort,
    conditions,
    part_of,
)
from specgen.expressions.vocabulary import Unreadable
from specgen.messages import NOTHING, listed, say
from specgen.model import BadRange, expand, piece_of
from specgen.quantity import Magnitude

MOST_NESTED: Final = 2  # comprehensions within one another


def call(reader: Reader, node: ast.Call) -> nodes.Expression:
    """`count(…)`, `fact("…")`: a function of the language with its one argument. Raises
    `BadExpression`."""
    if not isinstance(node.func, ast.Name):
        raise reader.refused(node.func, say("only the functions of the language can be called"))
    name, at = node.func.id, reader.at(node)
    if name not in FUNCTIONS:
        message = say("no function is named `{name}`", name=name)
        raise reader.unknown(reader.at(node.func), message, name, FUNCTIONS)
    if len(node.args) != 1 or node.keywords or isinstance(node.args[0], ast.Starred):
        raise reader.refused(node, say("`{name}` takes one thing in its brackets", name=name))
    argument = node.args[0]
    match name:
        case "count" | "sum" | "min" | "max" | "any" | "all":
            return _fold(reader, name, argument, at)
        case "filled" | "empty" | "usable":
            return nodes.Placed(
                start=at[0], end=at[1], type=TRUTH, state=name,
                positions=_positions(reader, name, argument),
            )  # fmt: skip
    return _ASKING[name](reader, name, argument, at)


def _fold(reader: Reader, how: nodes.FoldName, node: ast.expr, at: CharRange) -> nodes.Expression:
    if not isinstance(node, ast.GeneratorExp):
        over = reader.read(node)
        if how == "count" and over.type.sort in (TypeSort.COLLECTION, TypeSort.LIST):
            return nodes.Fold(
                start=at[0], end=at[1], type=NUMBER, how=how, over=over, item="", value=None
            )
        message = say("`{name}` needs a run over a collection", name=how)
        example = f"{how}(d.capacity for d in drives)"
        raise reader.refused(node, message, say("write `{example}`, say", example=example))
    if len(node.generators) != 1 or node.generators[0].is_async:
        raise reader.refused(node, say("one run over one collection at a time"))
    run = node.generators[0]
    if not isinstance(run.target, ast.Name):
        raise reader.refused(run.target, say("one name for what the run stands at"))
    over = reader.read(run.iter)
    item = _member(reader, over)
    name = run.target.id
    collections = reader.vocabulary.kinds.collections
    taken = (*reader.items, *collections, *conditions(), *FUNCTIONS, "it", "platform")
    if name in taken:
        message = say("`{name}` is the name of something else here", name=name)
        raise reader.refused(run.target, message)
    if len(reader.items) >= MOST_NESTED:
        message = say("more than {count} runs within one another", count=MOST_NESTED)
        raise reader.refused(node, message)
    reader.items[name] = item
    kept = tuple(reader.truth(each) for each in run.ifs)
    value = _value(reader, how, node.elt, name)
    del reader.items[name]
    type_ = {"count": NUMBER, "any": TRUTH, "all": TRUTH}.get(how)
    return nodes.Fold(
        start=at[0],
        end=at[1],
        type=type_ or (value.type if value is not None else NUMBER),
        how=how,
        over=over,
        item=name,
        value=value,
        conditions=kept,
    )


def _member(reader: Reader, over: nodes.Expression) -> Type:
    """The type of what a run stands at."""
    if isinstance(over, nodes.Collection):
        return part_of(*over.kinds)
    if over.type.sort is TypeSort.LIST and over.type.entry is not None:
        return over.type.entry
    message = say("{type} is nothing to run over", type=over.type.words)
    raise reader.unlike(span_of(over), message, say("run over a collection such as `drives`"))


def _value(
    reader: Reader, how: nodes.FoldName, node: ast.expr, name: str
) -> nodes.Expression | None:
    if how == "count":
        if not isinstance(node, ast.Name) or node.id != name:
            help_ = say("write `{text}`", text=f"count({name} for {name} in …)")
            raise reader.refused(node, say("what is counted is each member itself"), help_)
        return None
    if how in ("any", "all"):
        return reader.truth(node)
    value = reader.read(node)
    quantity = value.type.quantity
    sums = quantity is not None and issubclass(quantity, Magnitude)
    if value.type.sort is TypeSort.NUMBER or sums or (quantity is not None and how != "sum"):
        return value
    pattern = say("{type} cannot be added up") if how == "sum" else say("{type} cannot be ordered")
    raise reader.unlike(span_of(value), pattern.filled(type=value.type.words))


def _text(reader: Reader, name: str, node: ast.expr) -> str:
    if not isinstance(node, ast.Constant) or not isinstance(node.value, str):
        raise reader.refused(node, say("`{name}` takes a name in quotes", name=name))
    reader.read(node)
    return node.value


def _positions(reader: Reader, name: str, node: ast.expr) -> tuple[str, ...]:
    text, at = _text(reader, name, node), reader.at(node)
    try:
        names = expand(text)
    except BadRange as problem:
        here = _within(at, problem.at)
        raise BadExpression(codes.BAD_RANGE, problem.message, *here) from None
    for each in names:
        _known_position(reader, each, _within(at, piece_of(text, each)))
    return names


def _within(quoted: CharRange, at: CharRange | None) -> CharRange:
    """Letters of a text in quotes, as letters of the expression."""
    return quoted if at is None else (quoted[0] + 1 + at[0], quoted[0] + 1 + at[1])


def _known_position(reader: Reader, name: str, at: CharRange) -> frozenset[str]:
    kinds = reader.vocabulary.position(name)
    if kinds is None:
        raise BadExpression(
            codes.UNKNOWN_POSITION,
            say("no position is named `{name}`", name=name),
            *at,
            question(reader.vocabulary.close(Namespace.POSITION, name)),
        )
    return kinds


def _part(reader: Reader, name: str, node: ast.expr, at: CharRange) -> nodes.Expression:
    position = _text(reader, name, node)
    kinds = _known_position(reader, position, reader.at(node))
    type_ = part_of(*sorted(kinds))
    return nodes.PartIn(start=at[0], end=at[1], type=type_, position=position)


def _has(reader: Reader, name: str, node: ast.expr, at: CharRange) -> nodes.Expression:
    part = _text(reader, name, node)
    reader.defined(Namespace.PART, reader.read(node), part)
    return nodes.Has(start=at[0], end=at[1], type=TRUTH, part=part)


def _fact(reader: Reader, name: str, node: ast.expr, at: CharRange) -> nodes.Expression:
    key = _text(reader, name, node)
    own = f"{{{reader.vocabulary.subject}}}"
    if "{" in key and key.count("{") != key.count(own):
        message = say("`{key}` names no one thing: braces stand for what a value is about", key=key)
        subject = reader.vocabulary.subject
        here = say("here there is `{name}`", name=own) if subject else NOTHING
        raise BadExpression(codes.RULE_NAME, message, *reader.at(node), here)
    try:
        found = reader.vocabulary.facts.readable(key)
    except Unreadable as problem:
        raise _unreadable(key, problem, reader.at(node)) from None
    if found is None:
        help_ = question(did_you_mean(key, reader.vocabulary.facts.keys))
        message = say("no fact is named `{key}`", key=key)
        raise BadExpression(codes.UNKNOWN_FACT, message, *reader.at(node), help_)
    if len(found.types) > 1:
        message = say(
            "`{key}` can be {types}, and a rule compares things of one sort",
            key=key,
            types=listed(dict.fromkeys(each.words for each in found.types), "or"),
        )
        raise reader.unlike(reader.at(node), message, say("choose a fact of one sort"))
    if not found.types:
        message = say("what `{key}` holds is nothing that rules compare", key=key)
        raise reader.unlike(reader.at(node), message)
    return nodes.FactRef(
        start=at[0], end=at[1], type=found.types[0],
        key=key, label=found.label, subject=found.subject,
    )  # fmt: skip


def _unreadable(key: str, problem: Unreadable, at: CharRange) -> BadExpression:
    if not problem.circle:
        return Followed(codes.UNKNOWN_FACT, say("`{key}` cannot be read", key=key), *at)
    message = say("`{key}` rests on itself: {circle}", key=key, circle=quoted(problem.circle))
    help_ = say("work one of them out of something else")
    return BadExpression(codes.VALUE_CIRCLE, message, *at, help_)


_ASKING: Final[Mapping[str, Callable[[Reader, str, ast.expr, CharRange], nodes.Expression]]] = {
    "part": _part,
    "has": _has,
    "fact": _fact,
}
