"""Calls in the tree that Jinja2 makes of a template, with what they say outright."""

from collections.abc import Collection, Iterator

from jinja2 import nodes

from specgen.document.call import Call


def calls(tree: nodes.Template, makers: Collection[str]) -> Iterator[Call]:
    """The calls of makers of these names, in the order of the template."""
    for node in tree.find_all(nodes.Call):
        if isinstance(node.node, nodes.Name) and node.node.name in makers:
            args = tuple(map(_constant, node.args))
            kwargs = {each.key: _constant(each.value) for each in node.kwargs}
            yield Call(node.lineno, node.node.name, args, kwargs)


def _constant(node: nodes.Expr) -> object:
    match node:
        case nodes.List() | nodes.Tuple():
            return tuple(map(_constant, node.items))
        case nodes.CondExpr():
            return _constant(node.expr1)
        case _:
            try:
                return node.as_const()
            except nodes.Impossible:
                return None
