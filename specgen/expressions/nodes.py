"""The typed tree of a condition: a small closed set of frozen nodes.

Whoever reads a tree (the checker, the page, later a solver) matches on these classes; `NODES`
lists them all. Every node knows its type and, as offsets into the text of its condition, where
it was written. No node refers to a system: the same tree serves every system.
"""

from collections.abc import Iterator
from dataclasses import fields
from decimal import Decimal
from typing import Final, Literal, get_args

from specgen.expressions.types import Type
from specgen.frozen import frozen
from specgen.messages import Words
from specgen.model.labels import UNCALLED, Called
from specgen.quantity import Quantity

Comparator = Literal["==", "!=", "<", "<=", ">", ">="]
Sign = Literal["+", "-", "*", "/"]
FoldName = Literal["count", "sum", "min", "max", "any", "all"]
Plain = Quantity | Decimal | str | bool | None


@frozen(kw_only=True)
class TypedNode:
    """Where a node stands in the text of its condition, the end excluded, and its type."""

    start: int
    end: int
    type: Type


@frozen(kw_only=True)
class PlainValue(TypedNode):
    """A quantity, number, text, truth or None; texts beside quantities are quantities already."""

    value: Plain


@frozen(kw_only=True)
class ConditionRef(TypedNode):
    """A circumstance of the system: `inlet`."""

    name: str


@frozen(kw_only=True)
class FactRef(TypedNode):
    """A fact: `fact("power.maximum")`, with its label and what it is about where it has several."""

    key: str
    label: Words
    subject: str = ""


@frozen(kw_only=True)
class OfPlatform(TypedNode):
    """The platform itself: `platform`, whose attributes follow."""


@frozen(kw_only=True)
class It(TypedNode):
    """The part that the rule is declared on, in one of the positions that hold it."""


@frozen(kw_only=True)
class LoopVariable(TypedNode):
    """What a comprehension stands at: `d` in `count(d for d in drives)`."""

    name: str


@frozen(kw_only=True)
class PartIn(TypedNode):
    """The working part in a position: `part("CPU1")`."""

    position: str


@frozen(kw_only=True)
class Attribute(TypedNode):
    """A field of a part, of the platform, or of a group of fields: `it.power.maximum`."""

    of: "Expression"
    name: str
    called: Called = UNCALLED


@frozen(kw_only=True)
class Subscript(TypedNode):
    """An entry of a table by its key: `it.attributes["set"]`."""

    of: "Expression"
    key: str | int


@frozen(kw_only=True)
class Collection(TypedNode):
    """All working parts of these kinds: `drives`; `noun` is what one and several are called."""

    name: str
    kinds: tuple[str, ...]
    noun: tuple[str, str]


@frozen(kw_only=True)
class Fold(TypedNode):
    """Something of all members of `over` for which all `conditions` hold.

    `item` is the name that `value` and `conditions` call the member by; `value` is None for a
    count. `over` is a `Collection`, or an `Attribute` that is a list.
    """

    how: FoldName
    over: "Expression"
    item: str
    value: "Expression | None"
    conditions: "tuple[Expression, ...]" = ()


@frozen(kw_only=True)
class Placed(TypedNode):
    """Whether each of these positions is filled, empty or usable."""

    state: Literal["filled", "empty", "usable"]
    positions: tuple[str, ...]


@frozen(kw_only=True)
class Has(TypedNode):
    """Whether a named part works in the system: `has("bezel-1u")`."""

    part: str


@frozen(kw_only=True)
class Arithmetic(TypedNode):
    """Two amounts joined; the right one of `/` is a number."""

    sign: Sign
    left: "Expression"
    right: "Expression"


@frozen(kw_only=True)
class Negative(TypedNode):
    """An amount with its sign turned."""

    operand: "Expression"


@frozen(kw_only=True)
class Compare(TypedNode):
    """Two values of one type compared. Beside None on both sides, what is absent never compares."""

    order: Comparator
    left: "Expression"
    right: "Expression"


@frozen(kw_only=True)
class Among(TypedNode):
    """Whether a value is one of some constants: `d.form in ("e3.s", "e3.s-2t")`."""

    item: "Expression"
    choices: tuple[PlainValue, ...]
    negated: bool = False


@frozen(kw_only=True)
class Contains(TypedNode):
    """Whether a list holds a value: `5 in c.raid`."""

    entries: "Expression"
    item: "Expression"
    negated: bool = False


@frozen(kw_only=True)
class Not(TypedNode):
    """`not a`."""

    operand: "Expression"


@frozen(kw_only=True)
class And(TypedNode):
    """`a and b`: all of them hold."""

    parts: "tuple[Expression, ...]"


@frozen(kw_only=True)
class Or(TypedNode):
    """`a or b`: one of them holds at least."""

    parts: "tuple[Expression, ...]"


Expression = (
    PlainValue
    | ConditionRef
    | FactRef
    | OfPlatform
    | It
    | LoopVariable
    | PartIn
    | Attribute
    | Subscript
    | Collection
    | Fold
    | Placed
    | Has
    | Arithmetic
    | Negative
    | Compare
    | Among
    | Contains
    | Not
    | And
    | Or
)

NODES: Final = get_args(Expression)
"""Every class of node."""


def children(node: Expression) -> tuple[Expression, ...]:
    """The nodes right below one, in the order of the text's reading."""
    found: list[Expression] = []
    for name in _NAMES[type(node)]:
        value = getattr(node, name)
        if type(value) in _NODES:
            found.append(value)
        elif type(value) is tuple:
            found += [each for each in value if type(each) in _NODES]
    return tuple(found)


_NODES: Final = frozenset(NODES)
_NAMES: Final = {cls: tuple(each.name for each in fields(cls)) for cls in NODES}


def walk(node: Expression) -> Iterator[Expression]:
    """The node and all below it, each before what it holds."""
    yield node
    for each in children(node):
        yield from walk(each)
