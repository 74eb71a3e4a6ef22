"""Reads comparisons: chains, membership, and texts that become quantities beside quantities."""

import ast
from collections.abc import Mapping
from typing import Final

from specgen.diagnostics import codes, did_you_mean, question
from specgen.expressions import nodes
from specgen.expressions.reader import Reader, span_of
from specgen.expressions.source_text import Refused
from specgen.expressions.types import TRUTH, Type, TypeSort
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
        raise Refused(
            codes.RULE_LANGUAGE, "the language of rules has no `is`", *at, "write `==` or `!=`"
        )
    first, second = reader.read(left), reader.read(right)
    first, second = (
        reader.as_quantity(first, second.type.quantity),
        reader.as_quantity(second, first.type.quantity),
    )
    absent = TypeSort.NOTHING in (first.type.sort, second.type.sort)
    for one, other in ((first, second), (second, first)):
        if one.type.sort not in _COMPARABLE and one.type.sort is not TypeSort.NOTHING:
            help_ = "compare one of its fields" if one.type.sort is TypeSort.PART else ""
            raise reader.unlike(span_of(one), f"{one.type} cannot be compared", help_)
        _word(reader, one.type, other)
        _slip(reader, one, other)
    if absent and order not in ("==", "!="):
        raise reader.unlike(at, "nothing comes before or after None", "write `==` or `!=`")
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
        help_ = ""
        if quantity is not None and TypeSort.NUMBER in (left.type.sort, right.type.sort):
            help_ = f'write the unit, in quotes: `"{quantity.dimension.example}"`'
        raise reader.unlike(at, f"{left.type} is compared with {right.type}", help_)
    if order not in ("==", "!=") and left.type.sort not in _ORDERED:
        message = f"{left.type} is not less or more than another"
        raise reader.unlike(at, message, "write `==`, `!=` or `in`")


def _word(reader: Reader, type_: Type, other: nodes.Expression) -> None:
    """Refuses a text that the value beside it can never be."""
    if not isinstance(other, nodes.Constant) or not isinstance(other.value, str):
        return
    if type_.choices and other.value not in type_.choices:
        help_ = question(did_you_mean(other.value, type_.choices))
        words = ", ".join(f"`{word}`" for word in type_.choices)
        message = f"it is never `{other.value}`"
        code = codes.RULE_NAME
        if type_.declared:
            message, code = f"no part declares it as `{other.value}`", codes.UNKNOWN_ATTRIBUTE
        raise Refused(code, message, other.start, other.end, help_ or f"it is one of {words}")
    reader.defined(type_.names, other, other.value)


def _slip(reader: Reader, field: nodes.Expression, other: nodes.Expression) -> None:
    """Refuses a text that is a slip of one that parts state in this field: no part ever has it.

    A text that is like none of them may be that of parts to come.
    """
    if not isinstance(other, nodes.Constant) or not isinstance(other.value, str):
        return
    stated_as = isinstance(field, nodes.ConditionRef) and field.name == "redundancy"
    if stated_as and REDUNDANCY_FORM.fullmatch(other.value) is None:
        message = f"redundancy is never `{other.value}`"
        help_ = "write `none`, `1+1`, `2+1` or `2+2`"
        raise Refused(codes.RULE_NAME, message, other.start, other.end, help_)
    if not isinstance(field, nodes.Attribute) or field.of.type.sort is not TypeSort.PART:
        return
    if field.type.sort is not TypeSort.TEXT or field.type.choices or field.type.names:
        return
    parts = reader.vocabulary.definitions.parts.values()
    stated = (getattr(each, field.name, None) for each in parts if each.kind in field.of.type.kinds)
    known = {each for each in stated if isinstance(each, str)}
    meant = () if other.value in known else did_you_mean(other.value, sorted(known))
    if meant:
        message = f"no part declares it as `{other.value}`"
        raise Refused(codes.UNKNOWN_ATTRIBUTE, message, other.start, other.end, question(meant))


def _membership(
    reader: Reader, left: ast.expr, right: ast.expr, negated: bool, at: tuple[int, int]
) -> nodes.Expression:
    item = reader.read(left)
    if isinstance(right, ast.Tuple | ast.List):
        choices = tuple(_choice(reader, item, each) for each in right.elts)
        if item.type.sort not in _COMPARABLE:
            raise reader.unlike(span_of(item), f"{item.type} cannot be compared")
        return nodes.Among(
            start=at[0], end=at[1], type=TRUTH, item=item, choices=choices, negated=negated
        )
    entries = reader.read(right)
    inner = entries.type.entry
    if entries.type.sort is not TypeSort.LIST or inner is None:
        help_ = "write the words in brackets: `in (…, …)`"
        raise reader.unlike(span_of(entries), f"{entries.type} is no list to look in", help_)
    item = reader.as_quantity(item, inner.quantity)
    _word(reader, inner, item)
    if not item.type.like(inner):
        raise reader.unlike(at, f"{item.type} is looked for among {inner}")
    return nodes.Contains(
        start=at[0], end=at[1], type=TRUTH, entries=entries, item=item, negated=negated
    )


def _choice(reader: Reader, item: nodes.Expression, node: ast.expr) -> nodes.Constant:
    choice = reader.as_quantity(reader.read(node), item.type.quantity)
    if not isinstance(choice, nodes.Constant):
        raise reader.refused(node, "only constants can stand in this list")
    if not choice.type.like(item.type):
        raise reader.unlike(span_of(choice), f"{item.type} is compared with {choice.type}")
    _word(reader, item.type, choice)
    _slip(reader, item, choice)
    return choice
