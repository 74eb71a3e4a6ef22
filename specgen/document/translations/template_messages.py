"""The messages of templates, read without filling them in: what translators are handed.

Each paragraph, heading and cell is one, in each way that branches can have it; so is a text that is
handed to what a template calls.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import fields
from typing import Any, Final

from jinja2 import Environment, nodes

from specgen.document.markdown_reader import blocks_of
from specgen.document.template import Filled
from specgen.document.tree import Datum
from specgen.messages import Message

_NOT_WORDS: Final = re.compile(r"[a-z0-9_.{}:+%-]*")
"""What stands in a call in a template and is no message: keys, subjects, names."""
_BLANK_LINE: Final = re.compile(r"\n\s*\n")
_KEYS_OF_TEXTS: Final = ("id", "kind", "when", "who", "cautions")
MOST_WAYS: Final = 512
"""Ways that branches can have one paragraph."""


Ways = tuple[Iterable[nodes.Node], ...]


def messages_of_template(environment: Environment, source: str) -> Iterator[str]:
    """The messages of a template. Raises what Jinja2 raises where it cannot be parsed."""
    tree = environment.parse(source)
    for call in tree.find_all(nodes.Call):
        if isinstance(call.node, nodes.Name):
            for const in call.find_all(nodes.Const):
                if isinstance(const.value, str) and not _NOT_WORDS.fullmatch(const.value):
                    yield const.value
    filled = Filled()
    for paragraph in _paragraphs(tree, filled.keep((Datum(0),))):
        filled.source = paragraph
        yield from (each.text for each in _within(blocks_of(filled, messages=True)))


def _paragraphs(tree: nodes.Template, value: str) -> dict[str, None]:
    """What stands between blank lines, in each way that a template's branches can have it.

    Values are `value`; what stands in a loop is there once or not at all.
    """
    whole: dict[str, None] = {}

    def after(begun: dict[str, None], written: Iterable[nodes.Node]) -> dict[str, None]:
        """What the paragraphs begun have come to behind these nodes; those that end are whole."""
        for node in written:
            match node:
                case nodes.Output():
                    begun = after(begun, node.nodes)
                case nodes.TemplateData():
                    pieces = [_BLANK_LINE.split(each + node.data) for each in begun]
                    whole.update((each, None) for piece in pieces for each in piece[:-1])
                    begun = dict.fromkeys(piece[-1] for piece in pieces)
                case nodes.If():
                    ways: Ways = (node.body, *([each] for each in node.elif_), node.else_)
                    found = [each for way in ways for each in after(begun, way)]
                    begun = dict.fromkeys(found[:MOST_WAYS])
                case nodes.For():
                    begun = begun | after(begun, node.body) | after(begun, node.else_)
                case nodes.Expr():
                    begun = {each + value: None for each in begun}
                case nodes.Stmt():  # macros, blocks, what is assigned: what they hold is said
                    inner: Iterable[nodes.Node] = getattr(node, "body", ())
                    begun = after(begun, inner)
                case _:
                    pass
        return begun

    return whole | after({"": None}, tree.body)


def _within(node: Any) -> Iterator[Message]:
    if isinstance(node, Message):
        yield node
    elif isinstance(node, tuple):
        for each in node:
            yield from _within(each)
    elif hasattr(node, "__dataclass_fields__"):
        for field in fields(node):
            yield from _within(getattr(node, field.name))


def messages_of_texts(node: Any, key: str = "") -> Iterator[str]:
    """The messages of a file of texts beside templates, read as a tree."""
    if isinstance(node, str) and key not in _KEYS_OF_TEXTS:
        yield node.strip()
    elif isinstance(node, dict):
        for name, each in node.items():
            yield from messages_of_texts(each, name)
    elif isinstance(node, list):
        for each in node:
            yield from messages_of_texts(each, key)
