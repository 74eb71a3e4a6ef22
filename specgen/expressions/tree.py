"""The typed tree of a condition: a small closed set of frozen nodes.

Whoever reads a tree (the checker, the page, later a solver) matches on these classes; `NODES`
lists them all. Every node knows its type and, as offsets into the text of its condition, where
it was written. No node refers to a machine: the same tree serves every machine.
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

Order = Literal["==", "!=", "<", "<=", ">", ">="]
Sign = Literal["+", "-", "*", "/"]
FoldName = Literal["count", "sum", "min", "max", "any", "all"]
Plain = Quantity | Decimal | str | bool | None


@frozen(kw_only=True)
class Written:
    """Where a node stands in the text of its condition, the end excluded, and its type."""

    start: int
    end: int
    type: Type


@frozen(kw_only=True)
class Constant(Written):
    """A quantity, number, text, truth or None; texts beside quantities are quantities already."""

    value: Plain


@frozen(kw_only=True)
class Condition(Written):
    """A circumstance of the machine: `inlet`."""

    name: str


@frozen(kw_only=True)
class Figure(Written):
    """A fact: `fact("power.maximum")`, with its label and what it is about where it has several."""

    key: str
    label: Words
    subject: str = ""


@frozen(kw_only=True)
class OfPlatform(Written):
    """The platform itself: `platform`, whose attributes follow."""


@frozen(kw_only=True)
class It(Written):
    """The part that the rule is declared on, in one of the positions that hold it."""


@frozen(kw_only=True)
class Item(Written):
    """What a comprehension stands at: `d` in `count(d for d in drives)`."""

    name: str


@frozen(kw_only=True)
class PartIn(Written):
    """The working part in a position: `part("CPU1")`."""

    position: str


@frozen(kw_only=True)
class Attribute(Written):
    """A field of a part, of the platform, or of a group of fields: `it.power.maximum`."""

    of: "Node"
    name: str
    called: Called = UNCALLED


@frozen(kw_only=True)
class Entry(Written):
    """An entry of a table by its key: `it.attributes["set"]`."""

    of: "Node"
    key: str | int


@frozen(kw_only=True)
class Collection(Written):
    """All working parts of these kinds: `drives`; `noun` is what one and several are called."""

    name: str
    kinds: tuple[str, ...]
    noun: tuple[str, str]


@frozen(kw_only=True)
class Fold(Written):
    """Something of all members of `over` for which all `conditions` hold.

    `item` is the name that `value` and `conditions` call the member by; `value` is None for a
    count. `over` is a `Collection`, or an `Attribute` that is a list.
    """

    how: FoldName
    over: "Node"
    item: str
    value: "Node | None"
    conditions: "tuple[Node, ...]" = ()


@frozen(kw_only=True)
class Placed(Written):
    """Whether each of these positions is filled, empty or usable."""

    state: Literal["filled", "empty", "usable"]
    positions: tuple[str, ...]


@frozen(kw_only=True)
class Has(Written):
    """Whether a named part works in the machine: `has("bezel-1u")`."""

    part: str


@frozen(kw_only=True)
class Arithmetic(Written):
    """Two amounts joined; the right one of `/` is a number."""

    sign: Sign
    left: "Node"
    right: "Node"


@frozen(kw_only=True)
class Negative(Written):
    """An amount with its sign turned."""

    operand: "Node"


@frozen(kw_only=True)
class Compare(Written):
    """Two values of one type compared. Beside None on both sides, what is absent never compares."""

    order: Order
    left: "Node"
    right: "Node"


@frozen(kw_only=True)
class Among(Written):
    """Whether a value is one of some constants: `d.form in ("e3.s", "e3.s-2t")`."""

    item: "Node"
    choices: tuple[Constant, ...]
    negated: bool = False


@frozen(kw_only=True)
class Contains(Written):
    """Whether a list holds a value: `5 in c.raid`."""

    entries: "Node"
    item: "Node"
    negated: bool = False


@frozen(kw_only=True)
class Not(Written):
    operand: "Node"


@frozen(kw_only=True)
class And(Written):
    parts: "tuple[Node, ...]"


@frozen(kw_only=True)
class Or(Written):
    parts: "tuple[Node, ...]"


Node = (
    Constant
    | Condition
    | Figure
    | OfPlatform
    | It
    | Item
    | PartIn
    | Attribute
    | Entry
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

NODES: Final = get_args(Node)
"""Every class of node."""


def children(node: Node) -> tuple[Node, ...]:
    """The nodes right below one, in the order of the text's reading."""
    found: list[Node] = []
    for entry in fields(node):
        value = getattr(node, entry.name)
        values = value if isinstance(value, tuple) else (value,)
        found += [each for each in values if isinstance(each, NODES)]
    return tuple(found)


def walk(node: Node) -> Iterator[Node]:
    """The node and all below it, each before what it holds."""
    yield node
    for each in children(node):
        yield from walk(each)
