"""What a finding says is a message, by type: nothing of ours travels as finished text.

mypy, which CI runs, holds each finding and each exception to the annotations that are asked for
here; what no type can tell (texts handed on as data, messages that translators never get) is read
off the syntax trees.
"""

import ast
import inspect
from collections.abc import Iterator
from importlib import import_module
from typing import get_args, get_type_hints

from specgen.diagnostics import Finding, Label
from specgen.messages import Message
from tests.repo.house import dotted, modules, name_of

ROOMS = (
    *("source", "model", "load", "assembly", "fitness", "expressions", "facts", "rules"),
    *("limits", "drawings", "document"),
)
"""Rooms whose exceptions become findings; those of others end a command with a message."""
WORDS = {"message", "help", "help_", "label", "words", "why"}
"""How parameters are named that authors read."""
OF_DATA = {
    *(f"document/blocks/{name}.py" for name in ("cautions", "glossary", "procedures", "walk")),
    "document/service/steps.py",
}
"""Modules that say what stands in `templates/texts`, which is extracted from there."""
OF_TEMPLATES = {"document/template.py"}
"""What makes messages of the calls in templates, which are extracted from there."""
SAY = {"say": (0,), "say_as": (0, 1), "say_many": (1, 2)}


def exceptions() -> Iterator[type[Exception]]:
    for path, tree in modules():
        for node in tree.body:
            if isinstance(node, ast.ClassDef) and name_of(path).split("/")[1] in ROOMS:
                made = getattr(import_module(dotted(path)), node.name)
                if issubclass(made, Exception):
                    yield made


def plain(hint: object) -> bool:
    """Whether a text may stand there that is no message; the empty one says nothing."""
    return hint is str or any(plain(each) for each in get_args(hint) if not isinstance(each, str))


def test_a_finding_takes_messages_alone():
    hints = get_type_hints(Finding)
    assert hints["message"] is Message
    for hint in (hints["help"], hints["notes"], get_type_hints(Label)["text"]):
        assert not plain(hint)


def test_an_exception_that_becomes_a_finding_takes_messages_alone():
    for made in exceptions():
        for name, hint in get_type_hints(made.__init__).items():
            assert name not in WORDS or not plain(hint), f"{made.__name__}({name})"
        told = {"message", "help"} & set(inspect.signature(made.__init__).parameters)
        assert told <= set(get_type_hints(made.__init__)), made


def test_there_are_such_exceptions():
    names = {made.__name__ for made in exceptions()}
    assert {"AuthorError", "BadRange", "BadReference", "NoProject", "BadExpression"} <= names


def calls(*names: str) -> Iterator[tuple[str, ast.Call]]:
    for path, tree in modules():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") in names:
                yield name_of(path).removeprefix("specgen/"), node


def test_no_text_of_ours_is_handed_on_as_somebody_elses():
    """`message_of` is for names and for the words of others."""
    for file, call in calls("message_of"):
        for part in ast.walk(call.args[0]):
            text = part.value if isinstance(part, ast.Constant) else ""
            assert not (isinstance(text, str) and " " in text.strip(" ->,")), f"{file}: {text}"


def test_every_message_is_written_out_where_it_is_said():
    """So that translators' tools find it: its context and its text are literals."""
    for file, call in calls(*SAY):
        if file not in OF_DATA | OF_TEMPLATES:
            for at in SAY[call.func.id]:  # type: ignore[attr-defined]
                assert isinstance(call.args[at], ast.Constant), f"{file}: {ast.unparse(call)}"
