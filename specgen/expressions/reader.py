"""What all that read a condition share: the text, the names in reach, the ways to refuse."""

import ast
from collections.abc import Callable, Collection, Mapping
from dataclasses import field, replace
from typing import Final

from specgen.diagnostics import Code, codes, did_you_mean, question, quoted
from specgen.expressions import nodes
from specgen.expressions.source_text import BadExpression, SourceText, bounds
from specgen.expressions.types import Namespace, Type, TypeSort, quantity_of
from specgen.expressions.vocabulary import Vocabulary
from specgen.frozen import state
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.quantity import Quantity, QuantityError, Temperature, TemperatureDifference

MOST_LISTED: Final = 30  # names listed in a help text

_UNKNOWN_NAMES: Final[Mapping[Namespace, tuple[Code, Message]]] = {
    Namespace.PART: (codes.UNKNOWN_PART, say("no part is named `{name}`")),
    Namespace.PLATFORM: (codes.UNKNOWN_PLATFORM, say("no platform is named `{name}`")),
    Namespace.POSITION: (codes.UNKNOWN_POSITION, say("no position is named `{name}`")),
    Namespace.FAMILY: (codes.UNKNOWN_FAMILY, say("no family is named `{name}`")),
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
        """A node of any type; raises `BadExpression`."""
        function = self.table.get(type(node))
        if function is None:
            raise self.refused(node, say("the language of rules has no such expression"))
        return function(self, node)

    def truth(self, node: ast.expr) -> nodes.Expression:
        """A node that says whether something holds."""
        found = self.read(node)
        if found.type.sort is not TypeSort.TRUTH:
            message = say("a statement is needed here, and this is {type}", type=found.type.words)
            raise self.unlike(span_of(found), message, say("compare it with something"))
        return found

    def at(self, node: ast.expr) -> CharRange:
        return bounds(node, self.text)

    def cut(self, node: nodes.Expression) -> str:
        return self.text.cut(node.start, node.end)

    def refused(
        self, node: ast.expr, message: Message, help_: Message | Nothing = NOTHING
    ) -> BadExpression:
        return BadExpression(codes.RULE_LANGUAGE, message, *self.at(node), help_)

    def unlike(
        self, at: CharRange, message: Message, help_: Message | Nothing = NOTHING
    ) -> BadExpression:
        return BadExpression(codes.RULE_TYPE, message, *at, help_)

    def unknown(
        self, at: CharRange, message: Message, name: str, known: Collection[str]
    ) -> BadExpression:
        """A name that nothing has, with those that may have been meant."""
        help_ = question(did_you_mean(name, known))
        if not help_ and 0 < len(known) <= MOST_LISTED:
            help_ = say("there are {names}", names=quoted(sorted(known)))
        return BadExpression(codes.RULE_NAME, message, *at, help_)

    def defined(self, names: Namespace | None, node: nodes.Expression, word: str) -> None:
        """Refuses a text that should name something defined and does not."""
        if names is None or self.vocabulary.knows(names, word):
            return
        help_ = question(self.vocabulary.close(names, word))
        code, message = _UNKNOWN_NAMES[names]
        raise BadExpression(code, message.filled(name=word), node.start, node.end, help_)

    def as_quantity(self, node: nodes.Expression, cls: type[Quantity] | None) -> nodes.Expression:
        """A text beside a quantity read as a quantity itself; other nodes as they are."""
        if cls is None or not isinstance(node, nodes.PlainValue) or not isinstance(node.value, str):
            return node
        try:
            value = cls.parse(node.value)
        except QuantityError as error:
            from specgen.diagnostics.bad_quantities import described  # where one is met

            code, message, help_ = described(error)
            raise BadExpression(code, message, node.start, node.end, help_) from None
        return replace(node, type=quantity_of(cls), value=value)

    def step(self, node: nodes.Expression, other: nodes.Expression) -> nodes.Expression:
        """A text added to a quantity: to a temperature a difference, else one of the same kind."""
        cls = other.type.quantity
        return self.as_quantity(node, TemperatureDifference if cls is Temperature else cls)


Readers = Mapping[type[ast.expr], Callable[[Reader, "ast.expr"], nodes.Expression]]


def span_of(node: nodes.Expression) -> CharRange:
    """Where a node stands in the text of its expression, in characters from 0."""
    return node.start, node.end
