"""What all that read a condition share: the text, the names in reach, the ways to refuse."""

import ast
from collections.abc import Callable, Collection, Mapping
from dataclasses import field, replace
from typing import Final

from specgen.diagnostics import Code, codes, did_you_mean, question
from specgen.expressions import nodes
from specgen.expressions.source_text import Refused, SourceText, bounds
from specgen.expressions.types import Namespace, Type, TypeSort, quantity_of
from specgen.expressions.vocabulary import Vocabulary
from specgen.frozen import state
from specgen.messages import Words
from specgen.quantity import Quantity, QuantityError, Temperature, TemperatureDifference

MOST_LISTED: Final = 30  # names listed in a help text

OF_QUANTITIES: Final[Mapping[str, Code]] = {
    "not-a-number": codes.NOT_A_NUMBER,
    "no-unit": codes.NO_UNIT,
    "unknown-unit": codes.UNKNOWN_UNIT,
    "wrong-dimension": codes.WRONG_DIMENSION,
    "out-of-range": codes.WRONG_VALUE,
}
_UNKNOWN_NAMES: Final[Mapping[Namespace, Code]] = {
    Namespace.PART: codes.UNKNOWN_PART,
    Namespace.PLATFORM: codes.UNKNOWN_PLATFORM,
    Namespace.POSITION: codes.UNKNOWN_POSITION,
    Namespace.FAMILY: codes.UNKNOWN_FAMILY,
}

CharRange = tuple[int, int]


@state
class Reader:
    """Reads one condition. `items` are the names given by the comprehensions around here."""

    text: SourceText
    vocabulary: Vocabulary
    table: "Readers"
    items: dict[str, Type] = field(default_factory=dict)

    def read(self, node: ast.expr) -> nodes.Expression:
        """A node of any type; raises `Refused`."""
        function = self.table.get(type(node))
        if function is None:
            raise self.refused(node, "the language of rules has no such expression")
        return function(self, node)

    def truth(self, node: ast.expr) -> nodes.Expression:
        """A node that says whether something holds."""
        found = self.read(node)
        if found.type.sort is not TypeSort.TRUTH:
            message = f"a statement is needed here, and this is {found.type}"
            raise self.unlike(span_of(found), message, "compare it with something")
        return found

    def at(self, node: ast.expr) -> CharRange:
        return bounds(node, self.text)

    def cut(self, node: nodes.Expression) -> str:
        return self.text.cut(node.start, node.end)

    def refused(self, node: ast.expr, message: Words, help_: Words = "") -> Refused:
        return Refused(codes.RULE_LANGUAGE, message, *self.at(node), help_)

    def unlike(self, at: CharRange, message: Words, help_: Words = "") -> Refused:
        return Refused(codes.RULE_TYPE, message, *at, help_)

    def unknown(self, at: CharRange, word: str, name: str, known: Collection[str]) -> Refused:
        """A name that nothing has, with those that may have been meant."""
        help_ = question(did_you_mean(name, known))
        if not help_ and 0 < len(known) <= MOST_LISTED:
            help_ = "there are " + ", ".join(f"`{each}`" for each in sorted(known))
        return Refused(codes.RULE_NAME, f"no {word} is named `{name}`", *at, help_)

    def defined(self, names: Namespace | None, node: nodes.Expression, word: str) -> None:
        """Refuses a text that should name something defined and does not."""
        if names is None or self.vocabulary.knows(names, word):
            return
        help_ = question(self.vocabulary.close(names, word))
        message = f"no {names} is named `{word}`"
        raise Refused(_UNKNOWN_NAMES[names], message, node.start, node.end, help_)

    def as_quantity(self, node: nodes.Expression, cls: type[Quantity] | None) -> nodes.Expression:
        """A text beside a quantity read as a quantity itself; other nodes as they are."""
        if cls is None or not isinstance(node, nodes.Constant) or not isinstance(node.value, str):
            return node
        try:
            value = cls.parse(node.value)
        except QuantityError as error:
            code = OF_QUANTITIES[error.problem.value]
            raise Refused(code, error.message, node.start, node.end, error.help) from None
        return replace(node, type=quantity_of(cls), value=value)

    def step(self, node: nodes.Expression, other: nodes.Expression) -> nodes.Expression:
        """A text added to a quantity: to a temperature a difference, else one of the same kind."""
        cls = other.type.quantity
        return self.as_quantity(node, TemperatureDifference if cls is Temperature else cls)


Readers = Mapping[type[ast.expr], Callable[[Reader, "ast.expr"], nodes.Expression]]


def span_of(node: nodes.Expression) -> CharRange:
    return node.start, node.end
