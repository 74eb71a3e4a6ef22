"""What a maker is called with, held against what it takes."""

import inspect
from collections.abc import Mapping
from typing import Final

from specgen.diagnostics import did_you_mean, question
from specgen.document.maker import AuthorError, BlockFunction
from specgen.messages import Message, say


def check_call(
    name: str, function: BlockFunction, args: tuple[object, ...], kwargs: Mapping[str, object]
) -> None:
    """Raises `AuthorError` where a maker takes other arguments; those of None are not known yet."""
    check_arguments(name, inspect.signature(function), args, kwargs, known=False)


def check_arguments(
    name: str,
    signature: inspect.Signature,
    args: tuple[object, ...],
    kwargs: Mapping[str, object],
    *,
    known: bool = True,
) -> None:
    """Raises `AuthorError` where a maker takes other arguments.

    What a maker declares of a parameter decides; text where it declares nothing.
    """
    write = say("write `{text}`", text=f"{name}({', '.join(signature.parameters)})")
    named = [
        each.name
        for each in signature.parameters.values()
        if each.kind not in (inspect.Parameter.POSITIONAL_ONLY, inspect.Parameter.VAR_POSITIONAL)
    ]
    strange = [word for word in kwargs if word not in named]
    open_ended = any(each.kind is each.VAR_KEYWORD for each in signature.parameters.values())
    if strange and not open_ended:
        help_ = question(did_you_mean(strange[0], named)) or write
        message = say("`{maker}` has no argument `{name}`", maker=name, name=strange[0])
        raise AuthorError(message, help_, word=strange[0])
    try:
        bound = signature.bind(*args, **kwargs)
    except TypeError:
        message = say("`{maker}` takes other arguments", maker=name)
        raise AuthorError(message, write, word=name) from None
    for parameter, value in bound.arguments.items():
        several = signature.parameters[parameter].kind is inspect.Parameter.VAR_POSITIONAL
        wanted = signature.parameters[parameter].annotation
        wanted = str if wanted is inspect.Parameter.empty else wanted
        for each in value if several else (value,):
            if each is None and not known:
                continue
            if wanted in _WANTED and not isinstance(each, wanted):
                message = _WANTED[wanted].filled(argument=parameter, maker=name)
                raise AuthorError(message, write, word=name)


_WANTED: Final[Mapping[type, Message]] = {
    str: say("`{argument}` of `{maker}` needs text, such as a name in quotes"),
    bool: say("`{argument}` of `{maker}` needs `true` or `false`"),
    int: say("`{argument}` of `{maker}` needs a whole number"),
}
