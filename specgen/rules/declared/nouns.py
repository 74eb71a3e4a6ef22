"""How a rule in words calls things: parts, fields, figures, amounts."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

from specgen.expressions import tree
from specgen.expressions.types import Names
from specgen.facts.inputs import Condition as ConditionInput
from specgen.quantity import show

Called = Callable[[str], str]
"""Names a part by its id."""

_SIGNS: Final[Mapping[tree.Sign, str]] = {
    "+": "plus",
    "-": "less",
    "*": "times",
    "/": "divided by",
}


def quoted(name: str) -> str:
    """A part by its id alone."""
    return f"`{name}`"


def joined(words: list[str], last: str) -> str:
    """`a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def noun_of(over: tree.Node) -> tuple[str, str]:
    """What a fold runs over, one and several."""
    if isinstance(over, tree.Collection):
        return over.noun
    name = over.name.replace("_", " ") if isinstance(over, tree.Attribute) else "list"
    return f"entry of {name}", f"entries of {name}"


@dataclass(frozen=True, slots=True)
class Nouns:
    """Says values. `items` are what the names of runs stand for: `it`, `every fan`.

    `whose` says the conditions of a run.
    """

    whose: Callable[["Nouns", tree.Fold], str]
    called: Called = quoted
    items: Mapping[str, str] = field(default_factory=dict)

    def within(self, item: str, words: str) -> "Nouns":
        """The same inside a run."""
        return Nouns(self.whose, self.called, {**self.items, item: words})

    def beside(self, item: tree.Node, other: tree.Node) -> str:
        """A value that is compared with `item`: the name of a part, where that names parts."""
        if item.type.names is Names.PART and isinstance(other, tree.Constant):
            return self.called(str(other.value))
        return self.value(other)

    def value(self, node: tree.Node) -> str:
        """A value of any sort."""
        match node:
            case tree.Constant():
                return self._constant(node)
            case tree.Condition():
                return f"the {condition_words(node.name)}"
            case tree.Figure():
                return f"the {figure_words(node)}"
            case tree.OfPlatform():
                return "the platform"
            case tree.It():
                return "this part"
            case tree.Item():
                return self.items.get(node.name, "it")
            case tree.PartIn():
                return f"the part in {node.position}"
            case tree.Attribute() | tree.Entry():
                return self._field(node)
            case tree.Fold():
                return self._folded(node)
            case tree.Arithmetic():
                left, right = self.value(node.left), self.value(node.right)
                return f"{left} {_SIGNS[node.sign]} {right}"
            case tree.Negative():
                return f"minus {self.value(node.operand)}"
            case tree.Collection():
                return f"the {noun_of(node)[1]}"
        return "what is stated"

    def _constant(self, node: tree.Constant) -> str:
        return "nothing" if node.value is None else show(node.value)

    def _field(self, node: tree.Attribute | tree.Entry) -> str:
        """The field of something: its capacity, the thermal design power of the part in CPU1."""
        holder: tree.Node = node
        while isinstance(holder, tree.Attribute | tree.Entry):
            holder = holder.of
        owner, words = self.value(holder), field_words(node)
        return f"its {words}" if owner == "it" else f"the {words} of {owner}"

    def _folded(self, node: tree.Fold) -> str:
        if isinstance(node.over, tree.Attribute):
            return self._of_list(node, node.over)
        whose = self.whose(self, node)
        one, many = (f"{noun}{whose}" for noun in noun_of(node.over))
        if node.value is None:
            return f"the number of {many}"
        inner = self.within(node.item, "it").value(node.value).removeprefix("its ")
        match node.how:
            case "sum":
                return f"the {inner} of all {many} together"
            case "min":
                return f"the lowest {inner} of any {one}"
        return f"the highest {inner} of any {one}"

    def _of_list(self, node: tree.Fold, over: tree.Attribute) -> str:
        """A run over a list of one part: the highest output of every power supply."""
        name, owner = field_words(over), self.value(over.of)
        if node.value is None:
            return f"its number of {name}" if owner == "it" else f"the number of {name} of {owner}"
        inner = self.within(node.item, "it").value(node.value).removeprefix("its ")
        word = {"sum": "total", "min": "lowest"}.get(node.how, "highest")
        return f"its {word} {inner}" if owner == "it" else f"the {word} {inner} of {owner}"


def field_words(node: tree.Attribute | tree.Entry) -> str:
    """A field by the label that pages give it, as it stands in a sentence.

    `tdp` is thermal design power, `raid` RAID levels, `size.depth` depth. One without a label is
    called by the steps down to it.
    """
    if isinstance(node, tree.Attribute) and (node.called.noun or node.called.label):
        return node.called.noun or _inside(node.called.label)
    path: list[str] = []
    holder: tree.Node = node
    while isinstance(holder, tree.Attribute | tree.Entry):
        word = holder.name if isinstance(holder, tree.Attribute) else str(holder.key)
        if not (isinstance(holder, tree.Attribute) and word == "attributes"):
            path.insert(0, word)
        holder = holder.of
    return " ".join(path).replace("_", " ")


def condition_words(name: str) -> str:
    """A circumstance of the machine by the label that pages give it."""
    return _inside(ConditionInput(name).label)


def figure_words(node: tree.Figure) -> str:
    """A fact by its label, with what it is about where there is one for each of several."""
    label = _inside(str(node.label))
    return f"{label} of {node.subject}" if node.subject else label


def _inside(label: str) -> str:
    """A label within a sentence: small letters first, but for abbreviations."""
    return label if label[1:2].isupper() else f"{label[:1].lower()}{label[1:]}"
