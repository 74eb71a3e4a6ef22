"""The Jinja2 environment of templates: what a template may do, and how far it may go.

Templates are written by authors of a project, so a mistake must end in a finding and not in a
full memory. A template can neither reach Python nor change what it is given; every pass of a loop
and every call costs a step of a budget; texts and lists that one operation makes are bounded.

The second duty is to keep two kinds of text apart. What an author writes in a template is
Markdown. What an expression yields is plain text, always: `Finished` is the only other kind, and
only what has already gone through the environment's output (a macro, a `{% set %}` block,
`caller()`, `super()`) is one.
"""

import re
from collections.abc import Callable, Iterable, Iterator, MutableMapping
from decimal import Decimal
from typing import Any, Final

from jinja2 import (
    BaseLoader,
    StrictUndefined,
    TemplateRuntimeError,
    TemplateSyntaxError,
    nodes,
)
from jinja2.environment import Template
from jinja2.exceptions import SecurityError, UndefinedError
from jinja2.runtime import Context
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import Namespace, missing, pass_context
from jinja2.visitor import NodeTransformer

from specgen.document.budget import BUDGET, STEPS
from specgen.document.maker import AuthorError
from specgen.document.tree import BLOCKS, INLINES
from specgen.frozen import frozen
from specgen.messages import say

ITEMS: Final = 100_000
"""Characters of a text, or items of a list, that one operation may make."""

LONGEST: Final = 200_000
"""Characters of one template."""

LONGEST_PIECE: Final = 20_000
_PIECE: Final = re.compile(r"\{\{|\{%")
DEEPEST: Final = 150
"""Blocks, brackets and operators within each other."""
_BRACKETS: Final = {"(": 1, "[": 1, "{": 1, ")": -1, "]": -1, "}": -1}
_BLOCKS: Final = frozenset({"if", "for", "macro", "call", "filter", "block", "with"})
_TOO_DEEP: Final = f"more than {DEEPEST} blocks, brackets or operators within each other"

_FILTERS: Final = (
    "abs", "capitalize", "count", "d", "default", "dictsort", "first", "float", "groupby", "int",
    "items", "last", "length", "list", "lower", "map", "max", "min", "reject", "rejectattr",
    "reverse", "select", "selectattr", "sort", "sum", "title", "trim", "truncate",
    "unique", "upper", "wordcount",
)  # fmt: skip
"""Jinja2's filters that make nothing big, nothing by chance and no HTML."""

_WORD_METHODS: Final = frozenset((
    "capitalize", "count", "endswith", "find", "isalpha", "isdigit", "lower", "lstrip",
    "removeprefix", "removesuffix", "rstrip", "split", "startswith", "strip", "title", "upper",
))  # fmt: skip
"""What a template may call on a text."""


class MissingNameError(UndefinedError):
    """A name that is not known: `name`, and `owner`, the object it was sought on, if any.

    `theirs` is what Jinja2 says of it, which nobody is told.
    """

    def __init__(self, theirs: str | None, name: str, owner: object) -> None:
        super().__init__(theirs)
        self.name = name
        self.owner = owner


class OutOfReachError(SecurityError):
    """A name that templates may not use."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


class Missing(StrictUndefined):
    """Stands for a name that is not known; fails as soon as it is used."""

    __slots__ = ()

    def __init__(
        self,
        hint: str | None = None,
        obj: Any = missing,
        name: str | None = None,
        exc: type[TemplateRuntimeError] = UndefinedError,
    ) -> None:
        owner = None if obj is missing else obj

        def failure(message: str | None) -> TemplateRuntimeError:
            if issubclass(exc, SecurityError):
                return OutOfReachError(str(name))
            return MissingNameError(message, str(name), owner)

        super().__init__(hint, obj, name, failure)  # type: ignore[arg-type]


@frozen
class Finished:
    """Markdown that has gone through the environment's output once; not text any more."""

    source: str

    def __bool__(self) -> bool:
        return bool(self.source.strip())

    def __str__(self) -> str:
        raise AuthorError(
            say("finished text cannot be changed any more"),
            say("change the value before it goes into the macro or the block"),
        )


class _Rewriter(NodeTransformer):
    """Has loops counted and makes `~` aware of finished text, in the tree of a template."""

    def __init__(self, name: str | None, filename: str | None) -> None:
        self.name = name
        self.filename = filename

    def visit_For(self, node: nodes.For) -> nodes.Node:  # noqa: N802
        self.generic_visit(node)
        node.iter = _call("counted", node.iter)
        return node

    def visit_Concat(self, node: nodes.Concat) -> nodes.Node:  # noqa: N802
        self.generic_visit(node)
        return _call("joined", nodes.Tuple(node.nodes, "load", lineno=node.lineno))

    def visit_FilterBlock(self, node: nodes.FilterBlock) -> nodes.Node:  # noqa: N802
        # What a filter makes of a block would leave without going through the output.
        message = "`filter` works on values only, not on blocks"
        raise TemplateSyntaxError(message, node.lineno, self.name, self.filename)


def _call(method: str, argument: nodes.Node) -> nodes.Expr:
    """A call of a method of the environment, as a node."""
    line = argument.lineno
    callee = nodes.EnvironmentAttribute(method, lineno=line)
    return nodes.Call(callee, [argument], [], None, None, lineno=line)


def _no_long_piece(source: str, name: str | None, filename: str | None) -> None:
    """Raises `TemplateSyntaxError` for what no hand writes between two braces."""
    at = 0
    while found := _PIECE.search(source, at):
        at = source.find("}}" if found[0] == "{{" else "%}", found.end())
        if at < 0:
            return
        if at - found.start() > LONGEST_PIECE:
            message = f"more than {LONGEST_PIECE} characters between two braces"
            line = source.count("\n", 0, found.start()) + 1
            raise TemplateSyntaxError(message, line, name, filename)


class Sandbox(ImmutableSandboxedEnvironment):
    """The environment of templates.

    `show` gives the text of a value and `out` the Markdown of what an expression yields; both
    raise `AuthorError` for what cannot be printed.
    """

    intercepted_binops = frozenset(("+", "*", "**", "%"))
    intercepted_unops = frozenset()
    # What goes through here has gone through the output already: see `Finished`. Jinja2 documents
    # no such hook; its own NativeEnvironment uses it. Hence the ceiling in pyproject.toml.
    concat = staticmethod(lambda parts: Finished("".join(parts)))  # type: ignore[assignment]

    def __init__(
        self, loader: BaseLoader, show: Callable[[object], str], out: Callable[[object], str]
    ) -> None:
        @pass_context  # so that Jinja2 does not print constants while it compiles
        def finalize(context: Context, value: object) -> str:  # noqa: ARG001
            return value.source if isinstance(value, Finished) else out(value)

        super().__init__(
            loader=loader,
            autoescape=False,
            undefined=Missing,
            finalize=finalize,
            trim_blocks=True,
            lstrip_blocks=True,
        )
        self.show = show
        self.out = out
        self.filters = {name: self.filters[name] for name in _FILTERS}
        self.filters |= {"join": self._join, "replace": _replace, "round": _round}
        self.globals = {"range": _range, "namespace": Namespace, "dict": dict}

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        """Raises `TemplateSyntaxError` too for what nests so deeply that nobody can read it."""
        if len(source) > LONGEST:
            message = f"the template is longer than {LONGEST} characters"
            raise TemplateSyntaxError(message, 1, name, filename)
        _no_long_piece(source, name, filename)
        try:
            tree = super()._parse(source, name, filename)
        except RecursionError:  # after how many depends on who called
            raise TemplateSyntaxError(_TOO_DEEP, self._too_deep(source), name, filename) from None
        waiting: list[tuple[nodes.Node, int]] = [(tree, 0)]
        while waiting:
            node, depth = waiting.pop()
            if depth > DEEPEST:
                raise TemplateSyntaxError(_TOO_DEEP, node.lineno, name, filename)
            waiting += ((each, depth + 1) for each in node.iter_child_nodes())
        return tree

    def _too_deep(self, source: str) -> int:
        """The line at which blocks and brackets nest too deeply, the first where none does."""
        depth, begins = 0, False
        for line, kind, word in self.lex(source):
            if kind == "operator" and word in _BRACKETS:
                depth += _BRACKETS[word]
            elif kind == "name" and begins:
                depth += -1 if word.startswith("end") else word in _BLOCKS
            begins = kind == "block_begin" or (begins and kind == "whitespace")
            if depth > DEEPEST:
                return line
        return 1

    def joined(self, parts: Iterable[object], between: str = "") -> str | Finished:
        """`a ~ b`: plain text, or finished text where one of the parts is."""
        every = tuple(parts)
        if any(_is_finished(part) for part in every):
            shown = [
                part.source if isinstance(part, Finished) else self.out(part) for part in every
            ]
            return Finished((self.out(between) if between else "").join(shown))
        text = between.join(map(self.show, every))
        _bounded(len(text))
        return text

    def _join(self, values: Iterable[object], between: object = "") -> str | Finished:
        return self.joined(values, str(between))

    def compile(
        self,
        source: str | nodes.Template,
        name: str | None = None,
        filename: str | None = None,
        raw: bool = False,
        defer_init: bool = False,
    ) -> Any:
        """As Jinja2 does, from a rewritten tree; a tree that is handed in is changed."""
        tree = self.parse(source, name, filename) if isinstance(source, str) else source
        _Rewriter(name, filename).visit(tree)
        return super().compile(tree, name, filename, raw=raw, defer_init=defer_init)  # type: ignore[call-overload]

    def get_template(
        self,
        name: str | Template,
        parent: str | None = None,
        globals: MutableMapping[str, Any] | None = None,  # noqa: A002
    ) -> Template:
        """Every template that is opened costs a step, so that includes cannot multiply."""
        BUDGET.get().step()
        return super().get_template(name, parent, globals)

    def counted(self, values: Iterable[object]) -> Iterator[object]:
        """The items of a loop; each costs a step."""
        budget = BUDGET.get()
        for value in values:
            budget.step()
            yield value

    def call(
        __self,  # noqa: N805
        __context: Context,
        __obj: Any,
        *args: Any,
        **kwargs: Any,
    ) -> Any:
        """Every call costs a step."""
        BUDGET.get().step()
        return super().call(__context, __obj, *args, **kwargs)

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """`+` and `*` within bounds; texts are not formatted with `%`."""
        if isinstance(left, Finished) or isinstance(right, Finished):
            if operator == "+":
                return self.joined((left, right))
        elif operator == "%" and isinstance(left, str):
            help_ = say("join the parts with `~`")
            raise AuthorError(say("`%` does not format texts here"), help_)
        elif operator in ("*", "**", "+"):
            _bounded(_size_of(operator, left, right))
        return super().call_binop(context, operator, left, right)

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """Nothing private, and of a text's methods those that make nothing big."""
        if isinstance(obj, str):
            return attr in _WORD_METHODS
        if isinstance(obj, (int, float, Decimal, bytes)):
            return False
        return super().is_safe_attribute(obj, attr, value)

    def wrap_str_format(self, value: Any) -> Callable[..., str] | None:  # noqa: ARG002
        """No `format`: its widths make a text of any size."""
        return None


def _is_finished(part: object) -> bool:
    return isinstance(part, (Finished, *BLOCKS, *INLINES))


def _bounded(size: int) -> None:
    if size > ITEMS:
        raise AuthorError(
            say("one operation makes more than {count} characters, items or digits", count=ITEMS)
        )


def _size_of(operator: str, left: Any, right: Any) -> int:
    """How much `left operator right` would make, in characters, items or bits."""
    lengths = [len(each) for each in (left, right) if isinstance(each, (str, list, tuple))]
    if operator == "+":
        return sum(lengths)
    if lengths:
        times = [each for each in (left, right) if isinstance(each, int)]
        return max(lengths) * max(times, default=1)
    if isinstance(left, int) and isinstance(right, int):
        bits = left.bit_length()
        return bits * abs(right) if operator == "**" else bits + right.bit_length()
    return 0


def _range(*args: int) -> range:
    """Python's `range`, with so many items at most that the budget lets them all pass."""
    numbers = range(*args)
    if len(numbers) > STEPS:
        message = say("`range` has more than {count} numbers", count=STEPS)
        raise AuthorError(message, word="range")
    return numbers


def _replace(text: object, old: str, new: str) -> str:
    """The filter `replace`, bounded."""
    before = str(text)
    _bounded(len(before) + before.count(old) * len(new))
    return before.replace(old, new)


def _round(value: Any, digits: int = 0) -> Any:
    """The filter `round`: half to even, as Python rounds; to whole numbers without digits."""
    if abs(digits) > 15:
        raise AuthorError(say("`round` accepts up to 15 digits"), word="round")
    return round(value, digits) if digits else round(value)


_ADDRESS = re.compile(r" at 0x[0-9a-fA-F]+")


def without_addresses(text: str) -> str:
    """Python's words about an object, without the place in memory that changes with every run."""
    return _ADDRESS.sub("", text)
