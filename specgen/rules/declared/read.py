"""The text of a condition to a typed tree, or to what the author should mend.

Each sort of Python's expressions has one function; what has none is not part of the language.
"""

import ast
from collections.abc import Callable
from typing import Any, Final

from specgen.diagnostics import codes
from specgen.rules.declared import calls, comparing, expressions, tree
from specgen.rules.declared.reader import Reader, Readers
from specgen.rules.declared.text import Refused, Text, syntax
from specgen.rules.declared.types import Sort
from specgen.rules.declared.vocabulary import Vocabulary

_TABLE: Final[dict[type[ast.expr], Callable[[Reader, Any], tree.Node]]] = {
    ast.Constant: expressions.constant,
    ast.Name: expressions.name,
    ast.Attribute: expressions.attribute,
    ast.Subscript: expressions.entry,
    ast.BinOp: expressions.operation,
    ast.UnaryOp: expressions.signed,
    ast.BoolOp: expressions.joint,
    ast.Compare: comparing.comparison,
    ast.Call: calls.call,
}
READERS: Final[Readers] = _TABLE


def read(text: Text, vocabulary: Vocabulary) -> tree.Node:
    """The typed tree of a condition that states something; raises `Refused` and nothing else."""
    node = Reader(text, vocabulary, READERS).read(syntax(text))
    if node.type.sort is not Sort.TRUTH:
        raise Refused(
            codes.RULE_NO_STATEMENT,
            f"a condition says whether something holds, and this is {node.type}",
            node.start,
            node.end,
            "compare it with something, such as `… <= 8`",
        )
    return node
