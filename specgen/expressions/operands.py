"""Reads what is not a comparison and not a call: constants, names, attributes, arithmetic."""

import ast
import re
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Final

from specgen.diagnostics import codes, did_you_mean, question
from specgen.expressions import nodes
from specgen.expressions.reader import Reader, span_of
from specgen.expressions.source_text import BadExpression
from specgen.expressions.types import (
    COLLECTION,
    NOTHING,
    NUMBER,
    TEXT,
    TRUTH,
    Type,
    TypeSort,
    conditions,
    part_of,
    quantity_of,
)
from specgen.messages import Message, Within, say
from specgen.model import Platform
from specgen.quantity import Magnitude, Temperature, TemperatureDifference

FUNCTIONS: Final = (
    *("count", "sum", "min", "max", "any", "all"),
    *("filled", "empty", "usable", "part", "has", "fact"),
)

_NUMBER: Final = re.compile(r"[0-9]{1,18}(\.[0-9]{1,18})?\Z")
_SIGNS: Final[Mapping[type[ast.operator], nodes.Sign]] = {
    ast.Add: "+",
    ast.Sub: "-",
    ast.Mult: "*",
    ast.Div: "/",
}
_IMPOSSIBLE: Final[Mapping[nodes.Sign, Message]] = {
    "+": say("{first} cannot be added to {second}"),
    "-": say("{first} cannot be taken from {second}"),
    "*": say("{first} cannot be multiplied by {second}"),
    "/": say("{first} cannot be divided by {second}"),
}


def constant(reader: Reader, node: ast.Constant) -> nodes.Expression:
    """A number, a text in quotes, `True` or `None`. Raises `BadExpression`."""
    start, end = reader.at(node)
    value = node.value
    if value is None:
        return nodes.PlainValue(start=start, end=end, type=NOTHING, value=None)
    if isinstance(value, bool):
        return nodes.PlainValue(start=start, end=end, type=TRUTH, value=value)
    written = reader.text.cut(start, end)
    if isinstance(value, str) and written[:1] in ("'", '"'):
        return nodes.PlainValue(start=start, end=end, type=TEXT, value=value)
    if not _NUMBER.match(written):
        message = say("`{text}` is not a number that a rule can hold", text=written)
        raise reader.refused(node, message, say("write plain digits, such as `8` or `0.5`"))
    return nodes.PlainValue(start=start, end=end, type=NUMBER, value=Decimal(written))


def name(reader: Reader, node: ast.Name) -> nodes.Expression:
    """A condition, a collection, `platform`, `it`, or the item of a comprehension."""
    start, end = reader.at(node)
    word = node.id
    if word in reader.items:
        return nodes.LoopVariable(start=start, end=end, type=reader.items[word], name=word)
    it = reader.vocabulary.it
    if word == "it" and it:
        return nodes.It(start=start, end=end, type=part_of(*it))
    if word == "it":
        raise reader.refused(
            node,
            say(
                "here `it` is nothing: it is the part that a rule is declared on, or that a "
                "value is about"
            ),
        )
    if word == "platform":
        return nodes.OfPlatform(start=start, end=end, type=Type(TypeSort.RECORD, record=Platform))
    if word in conditions():
        return nodes.ConditionRef(start=start, end=end, type=conditions()[word], name=word)
    kinds = reader.vocabulary.kinds
    if word in kinds.collections:
        held = kinds.collections[word]
        one = kinds.classes[held[0]] if len(held) == 1 else None
        noun = (
            ("part", "parts") if one is None else (str(Within(one.title)), str(Within(one.plural)))
        )
        return nodes.Collection(
            start=start, end=end, type=COLLECTION, name=word, kinds=held, noun=noun
        )
    if word in FUNCTIONS:
        raise reader.refused(node, say("`{name}` needs brackets after it", name=word))
    own = ("it",) if it else ()
    known = (*reader.items, *own, "platform", *conditions(), *kinds.collections)
    message = say("no collection or condition is named `{name}`", name=word)
    raise reader.unknown((start, end), message, word, known)


def attribute(reader: Reader, node: ast.Attribute) -> nodes.Expression:
    """A field: `it.power`, `platform.mass`; the number of a collection: `drives.count`."""
    start, end = reader.at(node)
    holder, word = reader.read(node.value), node.attr
    at = (end - len(word), end)
    if holder.type.sort in (TypeSort.COLLECTION, TypeSort.LIST):
        if word != "count":
            message = say("{type} has `count`, and no `{name}`", type=holder.type.words, name=word)
            example = f"any(x.{word} == … for x in {reader.cut(holder)})"
            help_ = question(did_you_mean(word, ("count",))) or say(
                "write `{example}`, say", example=example
            )
            raise BadExpression(codes.RULE_NAME, message, *at, help_)
        return nodes.Fold(
            start=start, end=end, type=NUMBER, how="count", over=holder, item="", value=None
        )
    if holder.type.sort not in (TypeSort.PART, TypeSort.RECORD):
        raise reader.unlike(at, say("{type} has no fields", type=holder.type.words))
    kinds = reader.vocabulary.kinds
    undefined = [each for each in holder.type.kinds if each not in kinds.classes]
    if undefined:  # told where a position takes it
        message = say("no kind of part is named `{name}`", name=undefined[0])
        raise BadExpression(codes.UNKNOWN_KIND, message, *span_of(holder))
    known = kinds.attributes(holder.type)
    if word not in known:
        raise reader.unknown(at, _no_field(reader, holder, word), word, tuple(known))
    called = kinds.called(holder.type, word)
    return nodes.Attribute(
        start=start, end=end, type=known[word], of=holder, name=word, called=called
    )


def _no_field(reader: Reader, holder: nodes.Expression, name: str) -> Message:
    kinds = holder.type.kinds
    if len(kinds) == 1:
        kind = Within(reader.vocabulary.kinds.classes[kinds[0]].title)
        return say("no field of the {kind} is named `{name}`", kind=kind, name=name)
    if isinstance(holder, nodes.OfPlatform):
        return say("no field of the platform is named `{name}`", name=name)
    return say("no field here is named `{name}`", name=name)


def entry(reader: Reader, node: ast.Subscript) -> nodes.Expression:
    """One entry of a table by its key: `it.attributes["colour"]`."""
    start, end = reader.at(node)
    holder, key = reader.read(node.value), node.slice
    if holder.type.sort is not TypeSort.TABLE or holder.type.entry is None:
        message = say("{type} has no entries to choose from", type=holder.type.words)
        raise reader.unlike(span_of(holder), message)
    word = key.value if isinstance(key, ast.Constant) else None
    if not isinstance(word, str | int) or isinstance(word, bool):
        raise reader.refused(node, say("a key is a text in quotes or a whole number"))
    type_ = holder.type.entry
    if isinstance(holder, nodes.Attribute) and holder.name == "attributes":
        type_ = _declared(reader, holder, node, str(word))
    return nodes.Subscript(start=start, end=end, type=type_, of=holder, key=word)


def _declared(reader: Reader, holder: nodes.Attribute, node: ast.Subscript, word: str) -> Type:
    """The words that parts declare under an attribute; refuses one that no such part has."""
    kinds = holder.of.type.kinds
    parts = reader.vocabulary.definitions.parts.values()
    tables = [part.attributes for part in parts if part.kind in kinds]
    known = tuple(dict.fromkeys(key for table in tables for key in table))
    if word not in known:
        message = say("no attribute is named `{name}`", name=word)
        if len(kinds) == 1:
            kind = Within(reader.vocabulary.kinds.classes[kinds[0]].title)
            message = say("no attribute of a {kind} is named `{name}`", kind=kind, name=word)
        refused = reader.unknown(reader.at(node.slice), message, word, known)
        refused.code = codes.UNKNOWN_ATTRIBUTE  # a file that could not be read may have it
        raise refused
    values = dict.fromkeys(table[word] for table in tables if word in table)
    return replace(TEXT, choices=tuple(values), declared=True)


def operation(reader: Reader, node: ast.BinOp) -> nodes.Expression:
    """Two amounts joined by `+`, `-`, `*` or `/`, where their types go together."""
    sign = _SIGNS.get(type(node.op))
    if sign is None:
        message = say("an operation that rules do without")
        raise reader.refused(node, message, say("there are `+`, `-`, `*` and `/`"))
    left, right = reader.read(node.left), reader.read(node.right)
    if sign in ("+", "-"):
        left, right = reader.step(left, right), reader.step(right, left)
    elif sign == "/":
        right = reader.as_quantity(right, left.type.quantity)
    start, end = reader.at(node)
    type_ = _result(sign, left.type, right.type)
    if type_ is None:
        first, second = (right, left) if sign in ("+", "-") else (left, right)
        message = _IMPOSSIBLE[sign].filled(first=first.type.words, second=second.type.words)
        raise reader.unlike((start, end), message)
    return nodes.Arithmetic(start=start, end=end, type=type_, sign=sign, left=left, right=right)


def _adds(type_: Type) -> bool:
    return type_.quantity is not None and issubclass(type_.quantity, Magnitude)


def _result(sign: nodes.Sign, left: Type, right: Type) -> Type | None:
    """The type of two amounts joined, None where they do not go together."""
    if left.sort is right.sort is TypeSort.NUMBER:
        return NUMBER
    if sign in ("+", "-"):
        if left.quantity is Temperature and right.quantity is TemperatureDifference:
            return left
        if left.quantity is right.quantity is Temperature and sign == "-":
            return quantity_of(TemperatureDifference)
        return left if _adds(left) and left.quantity is right.quantity else None
    if right.sort is TypeSort.NUMBER and _adds(left):
        return left
    if sign == "/" and _adds(left) and left.quantity is right.quantity:
        return NUMBER
    return right if sign == "*" and left.sort is TypeSort.NUMBER and _adds(right) else None


def signed(reader: Reader, node: ast.UnaryOp) -> nodes.Expression:
    """`not a`, or an amount with its sign turned."""
    start, end = reader.at(node)
    if isinstance(node.op, ast.Not):
        return nodes.Not(start=start, end=end, type=TRUTH, operand=reader.truth(node.operand))
    if not isinstance(node.op, ast.USub):
        raise reader.refused(node, say("a sign that rules do without"))
    operand = reader.read(node.operand)
    if operand.type.sort is not TypeSort.NUMBER and not _adds(operand.type):
        message = say("{type} has no sign to turn", type=operand.type.words)
        raise reader.unlike((start, end), message)
    return nodes.Negative(start=start, end=end, type=operand.type, operand=operand)


def joint(reader: Reader, node: ast.BoolOp) -> nodes.Expression:
    """Conditions joined by `and` or `or`."""
    start, end = reader.at(node)
    parts = tuple(reader.truth(each) for each in node.values)
    if isinstance(node.op, ast.And):
        return nodes.And(start=start, end=end, type=TRUTH, parts=parts)
    return nodes.Or(start=start, end=end, type=TRUTH, parts=parts)
