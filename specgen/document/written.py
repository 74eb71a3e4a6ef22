"""Calls as templates write them: what can be read of them without running the template."""

from collections.abc import Collection, Iterator, Mapping
from functools import lru_cache, partial
from pathlib import Path
from typing import Any, Final

from jinja2 import nodes

from specgen.document.blocks.fact_makers import fact_makers, system_cells
from specgen.document.blocks.tables import OfCase
from specgen.document.case import Case
from specgen.document.shelf import templates_of
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


class Tables(Mapping[str, OfCase]):
    """The tables that templates lay out, by the name that prose refers to them with.

    A template is read when a name is asked for that stands in its text: texts refer to few tables,
    and reading all templates takes as long as judging ten builds.
    """

    def __init__(self, templates: Templates) -> None:
        self._templates = templates
        self._texts = {name: templates.text(name) for name in templates.names()}
        self._read: dict[str, dict[str, OfCase]] = {}

    def get(self, name: str, default: Any = None) -> Any:
        """The table, else `default`."""
        anchor = f"{name}{ANCHOR}"
        for each, text in self._texts.items():
            if anchor in text and name in self._tables(each):
                return self._tables(each)[name]
        return default

    def __getitem__(self, name: str) -> OfCase:
        found: OfCase | None = self.get(name)
        if found is None:
            raise KeyError(name)
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(dict.fromkeys(name for each in self._texts for name in self._tables(each)))

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def _tables(self, template: str) -> Mapping[str, OfCase]:
        if template not in self._read:
            self._read[template] = dict(self._in(template))
        return self._read[template]

    def _in(self, template: str) -> Iterator[tuple[str, OfCase]]:
        tree = self._templates.tree(template)
        for call in () if tree is None else calls(tree, _TABLES):
            anchor = call.kwargs.get("anchor")
            if isinstance(anchor, str) and anchor.endswith(ANCHOR):
                yield anchor.removesuffix(ANCHOR), partial(_made, call)


@lru_cache(maxsize=4)
def tables_of(templates: Templates) -> Mapping[str, OfCase]:
    """The tables that templates lay out, by the name that prose refers to them with."""
    return Tables(templates)


def tables_in(project: Path) -> Mapping[str, OfCase]:
    """The tables that the templates of a project lay out, by the name that prose has for them."""
    return tables_of(templates_of(project))


def _made(call: Call, case: Case) -> object:
    functions = fact_makers(system_cells(case))
    return functions[call.name](*call.args, **call.kwargs)
