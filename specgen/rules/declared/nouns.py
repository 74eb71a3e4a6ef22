"""How a rule in words calls things: parts, fields, values, amounts.

Words are put together as the pattern of a message: what differs from rule to rule of one form (a
number, a name, a position) is an open place in it. So a translator sees whole clauses, which is
what grammar needs, and no value is ever looked for in a finished sentence.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import field, replace
from typing import Final

from specgen.expressions import nodes
from specgen.expressions.types import Namespace
from specgen.facts.inputs import Condition as ConditionInput
from specgen.facts.terms import PROTOCOL
from specgen.frozen import frozen
from specgen.messages import Message, Within
from specgen.messages.pattern import escaped, names_of

_SIGNS: Final[Mapping[nodes.Sign, str]] = {
    "+": "plus",
    "-": "less",
    "*": "times",
    "/": "divided by",
}


@frozen
class Quotes:
    """How a part is called: its id in backquotes in messages, its name in quotes on pages."""

    called: Callable[[str], str] = str
    before: str = "`"
    after: str = "`"


QUOTED: Final = Quotes()
"""A part by its id alone."""


@frozen
class Opened:
    """The values of the open places of a clause, in the order in which they were put in."""

    values: list[object] = field(default_factory=list)

    def place(self, value: object) -> str:
        """An open place for a value."""
        self.values.append(value)
        return f"{{{len(self.values)}}}"

    def message(self, pattern: str) -> Message:
        """The clause, its open places numbered in the order in which they stand in it."""
        order = list(dict.fromkeys(names_of(pattern)))
        numbered = re.sub(r"\{(\d+)\}", lambda found: f"{{{order.index(found[1]) + 1}}}", pattern)
        values = ((str(at), self.values[int(name) - 1]) for at, name in enumerate(order, 1))
        return Message(numbered, tuple(values), RULE)


RULE: Final = "rule"
"""The context of clauses in catalogues."""


def joined(words: list[str], last: str) -> str:
    """`a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


@frozen
class Nouns:
    """Says values. `items` are what the names of runs stand for: `it`, `every fan`.

    `whose` says the conditions of a run.
    """

    whose: Callable[["Nouns", nodes.Fold], str]
    quotes: Quotes = QUOTED
    opened: Opened = field(default_factory=Opened)
    items: Mapping[str, str] = field(default_factory=dict)

    def within(self, item: str, words: str) -> "Nouns":
        """The same inside a run."""
        return replace(self, items={**self.items, item: words})

    def called(self, name: str) -> str:
        """A part."""
        place = self.opened.place(self.quotes.called(name))
        return f"{self.quotes.before}{place}{self.quotes.after}"

    def compared(self, item: nodes.Expression, other: nodes.Expression) -> str:
        """A value that is compared with `item`: the name of a part, where that names parts."""
        if item.type.names is Namespace.PART and isinstance(other, nodes.PlainValue):
            return self.called(str(other.value))
        if item.type.choices and isinstance(other, nodes.PlainValue):
            word = str(other.value)  # of the program, which has a translation
            return escaped(PROTOCOL.get(word, word))
        return self.value(other)

    def value(self, node: nodes.Expression) -> str:
        """A value of any sort."""
        match node:
            case nodes.PlainValue():
                return self._constant(node)
            case nodes.ConditionRef():
                return f"the {condition_words(node.name)}"
            case nodes.FactRef():
                label = str(Within(node.label))
                subject = f" of {self.opened.place(node.subject)}" if node.subject else ""
                return f"the {label}{subject}"
            case nodes.OfPlatform():
                return "the platform"
            case nodes.It():
                return "this part"
            case nodes.LoopVariable():
                return self.items.get(node.name, "it")
            case nodes.PartIn():
                return f"the part in {self.opened.place(node.position)}"
            case nodes.Attribute() | nodes.Subscript():
                return self._field(node)
            case nodes.Fold():
                return self._folded(node)
            case nodes.Arithmetic():
                left, right = self.value(node.left), self.value(node.right)
                return f"{left} {_SIGNS[node.sign]} {right}"
            case nodes.Negative():
                return f"minus {self.value(node.operand)}"
            case nodes.Collection():
                return f"the {node.noun[1]}"
        return "what is stated"

    def _constant(self, node: nodes.PlainValue) -> str:
        return "nothing" if node.value is None else self.opened.place(node.value)

    def _field(self, node: nodes.Attribute | nodes.Subscript) -> str:
        """The field of something: its capacity, the thermal design power of the part in CPU1."""
        holder: nodes.Expression = node
        while isinstance(holder, nodes.Attribute | nodes.Subscript):
            holder = holder.of
        owner, words = self.value(holder), field_words(node)
        return f"its {words}" if owner == "it" else f"the {words} of {owner}"

    def owner_of(self, over: nodes.Expression) -> str:
        """Whose list a run runs over; nobody's, where it runs over parts of the system."""
        return self.value(over.of) if isinstance(over, nodes.Attribute) else ""

    def noun_of(self, over: nodes.Expression) -> tuple[str, str]:
        """What a run runs over, one and several, whosever it is."""
        if isinstance(over, nodes.Collection):
            return over.noun
        assert isinstance(over, nodes.Attribute)
        return f"entry of {field_words(over)}", f"entries of {field_words(over)}"

    def _folded(self, node: nodes.Fold) -> str:
        whose = self.whose(self, node)
        if isinstance(node.over, nodes.Attribute):
            return self._of_list(node, node.over, whose)
        one, many = (f"{noun}{whose}" for noun in self.noun_of(node.over))
        if node.value is None:
            return f"the number of {many}"
        inner = self.within(node.item, "it").value(node.value).removeprefix("its ")
        match node.how:
            case "sum":
                return f"the {inner} of all {many} together"
            case "min":
                return f"the lowest {inner} of any {one}"
        return f"the highest {inner} of any {one}"

    def _of_list(self, node: nodes.Fold, over: nodes.Attribute, whose: str) -> str:
        """A run over a list of one part: the highest output of every power supply."""
        name, owner = field_words(over), self.owner_of(over)
        if node.value is None:
            said = f"number of {name}{whose}"
        else:
            inner = self.within(node.item, "it").value(node.value).removeprefix("its ")
            word = {"sum": "total", "min": "lowest"}.get(node.how, "highest")
            said = f"{word} {inner}{whose and f' of {name}{whose}'}"
        return f"its {said}" if owner == "it" else f"the {said} {'in' if whose else 'of'} {owner}"


def field_words(node: nodes.Attribute | nodes.Subscript) -> str:
    """A field by the label that pages give it, as it stands in a sentence.

    `tdp` is thermal design power, `raid` RAID levels, `size.depth` depth. One without a label is
    called by the steps down to it.
    """
    if isinstance(node, nodes.Attribute) and (node.called.noun or node.called.label):
        return node.called.noun or str(Within(node.called.label))
    path: list[str] = []
    holder: nodes.Expression = node
    while isinstance(holder, nodes.Attribute | nodes.Subscript):
        word = holder.name if isinstance(holder, nodes.Attribute) else str(holder.key)
        if not (isinstance(holder, nodes.Attribute) and word == "attributes"):
            path.insert(0, word)
        holder = holder.of
    return " ".join(path).replace("_", " ")


def condition_words(name: str) -> str:
    """A circumstance of the system by the label that pages give it."""
    return str(Within(ConditionInput(name).label))
