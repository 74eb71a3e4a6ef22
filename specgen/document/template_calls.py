"""Calls as templates write them: what can be read of them without running the template.

Most stand on lines of their own and say outright what they are called with. Those are read by
Python's own parser: the library that runs templates takes as long to import as five builds take to
judge. It reads all others.
"""

import ast
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property, lru_cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Protocol

from specgen.document.call import Call
from specgen.document.case import Case
from specgen.files.gate import NotOpened, read
from specgen.shipped import SHIPPED, own_templates, template_names, templates_folder

if TYPE_CHECKING:
    from specgen.document.blocks.tables import OfCase
    from specgen.document.template import Templates

ANCHOR: Final = "-table"
"""How the anchors of tables end: `{table volumes}` leads to `volumes-table`."""
_TABLES: Final = ("fact_table", "fact_rows")
_NOT_PLAIN: Final = re.compile(r"\{#|\{%[-+]?\s*raw")
"""Within comments and raw text a call is none."""
_EXTENDS: Final = re.compile(rf"{{%-?\s*extends\s+[\"']{SHIPPED}/([\w-]+)\.md[\"']")
LONGEST: Final = 10_000
"""Characters of a call that is read here."""
_CONSTANTS: Final = {"true": True, "false": False, "none": None}


class TemplateCalls(Protocol):
    """Templates that are read rather than run."""

    def names(self) -> tuple[str, ...]: ...

    def text(self, name: str) -> str: ...

    def calls(self, name: str, makers: Collection[str]) -> Iterable[Call]: ...


class OnDisk:
    """A project's own templates, and the shipped ones where it has none of that name."""

    def __init__(self, project: Path) -> None:
        self.project = project

    def names(self) -> tuple[str, ...]:
        """The templates there are, without their `.md`."""
        return template_names(self.project)

    def text(self, name: str) -> str:
        """What is written in a template; "" of one that cannot be read."""
        try:
            return read(self.project, own_templates(self.project) / f"{name}.md").decode("utf-8")
        except UnicodeDecodeError:
            return ""
        except NotOpened:
            ours = templates_folder() / f"{name}.md"
            return ours.read_text(encoding="utf-8") if ours.is_file() else ""

    def calls(self, name: str, makers: Collection[str]) -> Iterable[Call]:
        """The calls of makers of these names, in the order of the template; behind them those of
        the shipped one that it extends, at the line that says so."""
        text = self.text(name)
        own = self._calls(name, text, makers)
        base = _EXTENDS.search(text)
        ours = templates_folder() / f"{base[1]}.md" if base else None
        if base is None or ours is None or not ours.is_file():
            return own
        further = self._calls(f"{SHIPPED}/{base[1]}", ours.read_text(encoding="utf-8"), makers)
        line = text.count("\n", 0, base.start()) + 1
        return [*own, *(replace(each, line=line) for each in further)]

    def _calls(self, name: str, text: str, makers: Collection[str]) -> Iterable[Call]:
        plain = plain_calls(text, makers)
        return self._read.calls(name, makers) if plain is None else plain

    @cached_property
    def _read(self) -> "Templates":
        from specgen.document.shelf import templates_of

        return templates_of(self.project)


def plain_calls(text: str, makers: Collection[str]) -> list[Call] | None:
    """The calls of a template, None where one of them, or where it stands, is not plain."""
    names = "|".join(map(re.escape, makers))
    heads = list(re.finditer(rf"^[ \t]*\{{\{{-?[ ]*({names})\(", text, re.MULTILINE))
    if len(heads) != len(re.findall(rf"\b(?:{names})\s*\(", text)) or _NOT_PLAIN.search(text):
        return None
    found = []
    for head in heads:
        end = text.find("}}", head.end())
        inner = text[head.end() : end].rstrip("-").rstrip()
        if end < 0 or len(inner) > LONGEST or "\\" in inner:
            return None
        try:
            call = ast.parse(f"_({inner}", mode="eval").body
            args, kwargs = _arguments(call)
        except (SyntaxError, ValueError, MemoryError, RecursionError):
            return None
        found.append(Call(text.count("\n", 0, head.start(1)) + 1, head[1], args, kwargs))
    return found


def _arguments(call: ast.expr) -> tuple[tuple[object, ...], dict[str, object]]:
    if not isinstance(call, ast.Call) or not isinstance(call.func, ast.Name):
        raise ValueError(call)  # something else is made of what it gives
    kwargs = {each.arg: _constant(each.value) for each in call.keywords if each.arg is not None}
    if len(kwargs) < len(call.keywords):
        raise ValueError(call)
    return tuple(map(_constant, call.args)), kwargs


def _constant(node: ast.expr) -> object:
    """What an argument says outright, None for what only a run can tell. Raises ValueError for
    what the language of templates may mean otherwise."""
    match node:
        case ast.Constant(value=str() | int() | float() | None):
            return node.value
        case ast.List() | ast.Tuple():
            return tuple(map(_constant, node.elts))
        case ast.IfExp():
            return _constant(node.body)
        case ast.Name():
            return _CONSTANTS.get(node.id)
        case ast.Call() | ast.Attribute(value=ast.Name()):
            return None
        case _:
            raise ValueError(node)


class Tables(Mapping[str, "OfCase"]):
    """The tables that templates lay out, by the name that prose refers to them with.

    A template is read when a name is asked for that stands in its text: texts refer to few tables,
    and reading all templates takes as long as judging ten builds.
    """

    def __init__(self, templates: TemplateCalls) -> None:
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

    def __getitem__(self, name: str) -> "OfCase":
        found: OfCase | None = self.get(name)
        if found is None:
            raise KeyError(name)
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(dict.fromkeys(name for each in self._texts for name in self._tables(each)))

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def _tables(self, template: str) -> Mapping[str, "OfCase"]:
        if template not in self._read:
            self._read[template] = dict(self._in(template))
        return self._read[template]

    def _in(self, template: str) -> Iterator[tuple[str, "OfCase"]]:
        for call in self._templates.calls(template, _TABLES):
            anchor = call.kwargs.get("anchor")
            if isinstance(anchor, str) and anchor.endswith(ANCHOR):
                yield anchor.removesuffix(ANCHOR), partial(_made, call)


@lru_cache(maxsize=4)
def tables_of(templates: TemplateCalls) -> Mapping[str, "OfCase"]:
    """The tables that templates lay out, by the name that prose refers to them with."""
    return Tables(templates)


def tables_in(project: Path) -> Mapping[str, "OfCase"]:
    """The tables that the templates of a project lay out, by the name that prose has for them."""
    return tables_of(OnDisk(project))


def _made(call: Call, case: Case) -> object:
    from specgen.document.blocks.fact_makers import fact_makers, system_cells  # of tables alone

    functions = fact_makers(system_cells(case))
    return functions[call.name](*call.args, **call.kwargs)
