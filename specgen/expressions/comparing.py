"""Reads comparisons: chains, membership, and texts that become quantities beside quantities."""

import ast
from collections.abc import Mapping
from typing import Final

from specgen.diagnostics import codes, did_you_mean, question, quoted
from specgen.expressions import nodes
from specgen.expressions.reader import Reader, span_of
from specgen.expressions.source_text import BadExpression
from specgen.expressions.types import TRUTH, Type, TypeSort
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model.conditions import REDUNDANCY_FORM

_ORDERS: Final[Mapping[type[ast.cmpop], nodes.Comparator]] = {
    ast.Eq: "==",
    ast.NotEq: "!=",
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
}
_COMPARABLE: Final = (TypeSort.TRUTH, TypeSort.NUMBER, TypeSort.TEXT, TypeSort.QUANTITY)
_ORDERED: Final = (TypeSort.NUMBER, TypeSort.QUANTITY)


def comparison(reader: Reader, node: ast.Compare) -> nodes.Expression:
    """One comparison, or several joined by `and` where it is a chain."""
    links: list[nodes.Expression] = []
    left = node.left
    for sign, right in zip(node.ops, node.comparators, strict=True):
        at = (reader.at(left)[0], reader.at(right)[1])
        links.append(_link(reader, left, sign, right, at))
        left = right
    if len(links) == 1:
        return links[0]
    start, end = reader.at(node)
    return nodes.And(start=start, end=end, type=TRUTH, parts=tuple(links))


def _link(
    reader: Reader, left: ast.expr, sign: ast.cmpop, right: ast.expr, at: tuple[int, int]
) -> nodes.Expression:
    if isinstance(sign, ast.In | ast.NotIn):
        return _membership(reader, left, right, isinstance(sign, ast.NotIn), at)
    order = _ORDERS.get(type(sign))
    if order is None:
        message = say("the language of rules has no `is`")
        raise BadExpression(codes.RULE_LANGUAGE, message, *at, say("write `==` or `!=`"))
    first, second = reader.read(left), reader.read(right)
    first, second = (
        reader.as_quantity(first, second.type.quantity),
        reader.as_quantity(second, first.type.quantity),
    )
    absent = TypeSort.NOTHING in (first.type.sort, second.type.sort)
    for one, other in ((first, second), (second, first)):
        if one.type.sort not in _COMPARABLE and one.type.sort is not TypeSort.NOTHING:
            part = one.type.sort is TypeSort.PART
            help_ = say("compare one of its fields") if part else NOTHING
            raise reader.unlike(span_of(one), _not_compared(one.type), help_)
        _word(reader, one.type, other)
        _slip(reader, one, other)
    if absent and order not in ("==", "!="):
        message = say("nothing comes before or after None")
        raise reader.unlike(at, message, say("write `==` or `!=`"))
    if not absent:
        _alike(reader, order, first, second, at)
    return nodes.Compare(start=at[0], end=at[1], type=TRUTH, order=order, left=first, right=second)


def _alike(
    reader: Reader,
    order: nodes.Comparator,
    left: nodes.Expression,
    right: nodes.Expression,
    at: tuple[int, int],
) -> None:
    """Refuses what cannot be compared this way."""
    if not left.type.like(right.type):
        quantity = left.type.quantity or right.type.quantity
        help_: Message | Nothing = NOTHING
        if quantity is not None and TypeSort.NUMBER in (left.type.sort, right.type.sort):
            example = f'"{quantity.dimension.example}"'
            help_ = say("write the unit, in quotes: `{example}`", example=example)
        raise reader.unlike(at, _compared(left.type, right.type), help_)
    if order not in ("==", "!=") and left.type.sort not in _ORDERED:
        message = say("{type} is not less or more than another", type=left.type.words)
        raise reader.unlike(at, message, say("write `==`, `!=` or `in`"))


def _compared(one: Type, other: Type) -> Message:
    return say("{first} is compared with {second}", first=one.words, second=other.words)


def _not_compared(type_: Type) -> Message:
    return say("{type} cannot be compared", type=type_.words)


def _word(reader: Reader, type_: Type, other: nodes.Expression) -> None:
    """Refuses a text that the value beside it can never be."""
    if not isinstance(other, nodes.PlainValue) or not isinstance(other.value, str):
        return
    if type_.choices and other.value not in type_.choices:
        help_ = question(did_you_mean(other.value, type_.choices)) or say(
            "it is one of {choices}", choices=quoted(type_.choices)
        )
        message, code = say("it is never `{text}`", text=other.value), codes.RULE_NAME
        if type_.declared:
            message, code = _undeclared(other.value), codes.UNKNOWN_ATTRIBUTE
        raise BadExpression(code, message, other.start, other.end, help_)
    reader.defined(type_.names, other, other.value)


def _undeclared(text: str) -> Message:
    return say("no part declares it as `{text}`", text=text)


def _slip(reader: Reader, field: nodes.Expression, other: nodes.Expression) -> None:
    """Refuses a text that is a slip of one that parts state in this field: no part ever has it.

    A text that is like none of them may be that of parts to come.
    """
    if not isinstance(other, nodes.PlainValue) or not isinstance(other.value, str):
        return
    stated_as = isinstance(field, nodes.ConditionRef) and field.name == "redundancy"
    if stated_as and REDUNDANCY_FORM.fullmatch(other.value) is None:
        message = say("redundancy is never `{text}`", text=other.value)
        help_ = say("write `none`, `1+1`, `2+1` or `2+2`")
        raise BadExpression(codes.RULE_NAME, message, other.start, other.end, help_)
    if not isinstance(field, nodes.Attribute) or field.of.type.sort is not TypeSort.PART:
        return
    if field.type.sort is not TypeSort.TEXT or field.type.choices or field.type.names:
        return
    parts = reader.vocabulary.definitions.parts.values()
    stated = (getattr(each, field.name, None) for each in parts if each.kind in field.of.type.kinds)
    known = {each for each in stated if isinstance(each, str)}
    meant = () if other.value in known else did_you_mean(other.value, sorted(known))
    if meant:
        message = _undeclared(other.value)
        raise BadExpression(
            codes.UNKNOWN_ATTRIBUTE, message, other.start, other.end, question(meant)
        )


def _membership(
    reader: Reader, left: ast.expr, right: ast.expr, negated: bool, at: tuple[int, int]
) -> nodes.Expression:
    item = reader.read(left)
    if isinstance(right, ast.Tuple | ast.List):
        choices = tuple(_choice(reader, item, each) for each in right.elts)
        if item.type.sort not in _COMPARABLE:
            raise reader.unlike(span_of(item), _not_compared(item.type))
        return nodes.Among(
            start=at[0], end=at[1], type=TRUTH, item=item, choices=choices, negated=negated
        )
    entries = reader.read(right)
    inner = entries.type.entry
    if entries.type.sort is not TypeSort.LIST or inner is None:
        message = say("{type} is no list to look in", type=entries.type.words)
        help_ = say("write the words in brackets: `in (…, …)`")
        raise reader.unlike(span_of(entries), message, help_)
    item = reader.as_quantity(item, inner.quantity)
    _word(reader, inner, item)
    if not item.type.like(inner):
        message = say("{type} is looked for in a list of which each entry is {entry}")
        raise reader.unlike(at, message.filled(type=item.type.words, entry=inner.words))
    return nodes.Contains(
        start=at[0], end=at[1], type=TRUTH, entries=entries, item=item, negated=negated
    )


def _choice(reader: Reader, item: nodes.Expression, node: ast.expr) -> nodes.PlainValue:
    choice = reader.as_quantity(reader.read(node), item.type.quantity)
    if not isinstance(choice, nodes.PlainValue):
        raise reader.refused(node, say("only constants can stand in this list"))
    if not choice.type.like(item.type):
        raise reader.unlike(span_of(choice), _compared(item.type, choice.type))
    _word(reader, item.type, choice)
    _slip(reader, item, choice)
    return choice
