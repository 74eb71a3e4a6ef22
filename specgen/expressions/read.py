"""The text of a condition to a typed tree, or to what the author should mend.

Each sort of Python's expressions has one function; what has none is not part of the language.
"""

import ast
from collections.abc import Callable
from typing import Any, Final

from specgen.diagnostics import Span, codes
from specgen.expressions import calls, comparing, nodes, operands
from specgen.expressions.nodes import Expression
from specgen.expressions.reader import Reader, Readers
from specgen.expressions.source_text import BadExpression, SourceText, syntax
from specgen.expressions.types import TypeSort
from specgen.expressions.vocabulary import Vocabulary
from specgen.frozen import frozen
from specgen.messages import say

_TABLE: Final[dict[type[ast.expr], Callable[[Reader, Any], nodes.Expression]]] = {
    ast.Constant: operands.constant,
    ast.Name: operands.name,
    ast.Attribute: operands.attribute,
    ast.Subscript: operands.entry,
    ast.BinOp: operands.operation,
    ast.UnaryOp: operands.signed,
    ast.BoolOp: operands.joint,
    ast.Compare: comparing.comparison,
    ast.Call: calls.call,
}
READERS: Final[Readers] = _TABLE
_PRINTED: Final = (TypeSort.NUMBER, TypeSort.QUANTITY, TypeSort.TEXT, TypeSort.TRUTH)


@frozen
class Statement:
    """An expression: its typed tree, the text it was read from, and through that its places."""

    tree: Expression
    text: SourceText

    def cut(self, node: Expression) -> str:
        """A piece of it as written."""
        return self.text.cut(node.start, node.end)

    def place(self, node: Expression | None = None) -> Span:
        """Where a piece, or all of it, stands in the definitions."""
        if node is None:
            return self.text.scalar
        return self.text.place(node.start, node.end)


def read_value(text: SourceText, vocabulary: Vocabulary) -> nodes.Expression:
    """The typed tree of a value that can be printed; raises `BadExpression` and nothing else."""
    node = Reader(text, vocabulary, READERS).read(syntax(text))
    if node.type.sort not in _PRINTED:
        raise BadExpression(
            codes.RULE_NO_STATEMENT,
            say(
                "a value is a number, an amount, a text or a statement, and this is {type}",
                type=node.type.words,
            ),
            node.start,
            node.end,
            say("count it, add it up, or take one of its fields"),
        )
    return node


def read(text: SourceText, vocabulary: Vocabulary) -> nodes.Expression:
    """The typed tree of a condition that states something; raises nothing but `BadExpression`."""
    node = Reader(text, vocabulary, READERS).read(syntax(text))
    if node.type.sort is not TypeSort.TRUTH:
        raise BadExpression(
            codes.RULE_NO_STATEMENT,
            say(
                "a condition says whether something holds, and this is {type}",
                type=node.type.words,
            ),
            node.start,
            node.end,
            say("compare it with something, such as `… <= 8`"),
        )
    return node
