"""Texts that stand below a name in a source: what a field means, why a code matters.

Python keeps no such text when it runs, so nobody pays for one who does not ask.
"""

import ast
import inspect
import textwrap
from collections.abc import Mapping
from itertools import pairwise
from types import ModuleType
from typing import Any


def texts_below(holder: type[Any] | ModuleType) -> Mapping[str, str]:
    """The texts below annotated names of a class or a module; none where there is no source."""
    try:
        tree: ast.Module | ast.stmt = ast.parse(textwrap.dedent(inspect.getsource(holder)))
    except (OSError, TypeError):
        return {}
    if isinstance(tree, ast.Module) and isinstance(holder, type):
        tree = tree.body[0]
    found: dict[str, str] = {}
    body = tree.body if isinstance(tree, ast.ClassDef | ast.Module) else []
    for entry, after in pairwise(body):
        text = after.value if isinstance(after, ast.Expr) else None
        if (
            isinstance(entry, ast.AnnAssign)
            and isinstance(entry.target, ast.Name)
            and isinstance(text, ast.Constant)
            and isinstance(text.value, str)
        ):
            found[entry.target.id] = " ".join(text.value.split())
    return found
