"""Calls as templates write them: what can be read of them without running the template."""

from collections.abc import Collection, Iterator, Mapping
from functools import lru_cache, partial
from typing import Final

from jinja2 import TemplateError, nodes

from specgen.document.blocks.makers import fact_makers, machine_cells
from specgen.document.blocks.tables import OfCase
from specgen.document.case import Case
from specgen.document.template import Templates
from specgen.frozen import frozen

ANCHOR: Final = "-table"
"""How the anchors of tables end: `{table volumes}` leads to `volumes-table`."""
_TABLES: Final = ("fact_table", "fact_rows")


@frozen
class Call:
    """A call of a maker; `none` stands for what only a run can tell."""

    line: int
    name: str
    args: tuple[object, ...]
    kwargs: Mapping[str, object]


def calls(tree: nodes.Template, names: Collection[str]) -> Iterator[Call]:
    """The calls of makers of these names, in the order of the template."""
    for node in tree.find_all(nodes.Call):
        if isinstance(node.node, nodes.Name) and node.node.name in names:
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


@lru_cache(maxsize=4)
def tables_of(templates: Templates) -> Mapping[str, OfCase]:
    """The tables that templates lay out, by the name that prose refers to them with."""
    found: dict[str, OfCase] = {}
    sandbox = templates.environment
    for name in templates.names():
        try:
            tree = sandbox.parse(sandbox.loader.get_source(sandbox, f"{name}.md")[0])  # type: ignore[union-attr]
        except (TemplateError, UnicodeDecodeError):
            continue  # told where the template is used
        for call in calls(tree, _TABLES):
            anchor = call.kwargs.get("anchor")
            if isinstance(anchor, str) and anchor.endswith(ANCHOR):
                found.setdefault(anchor.removesuffix(ANCHOR), partial(_made, call))
    return found


def _made(call: Call, case: Case) -> object:
    makers = fact_makers(machine_cells(case))
    return makers[call.name](*call.args, **call.kwargs)
