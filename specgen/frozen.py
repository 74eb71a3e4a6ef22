"""Dataclasses of which no method is compiled before it is called: frozen values, working state.

`dataclasses` compiles six methods of every class while the class is imported: 0.9 ms a class, and
`specgen check` imports three hundred. Here the methods that compare are made of getters, and the
one that fills a new object in is compiled for the first object: most classes have none.
"""

from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field, fields
from functools import cache
from operator import attrgetter
from types import CodeType, FunctionType, MemberDescriptorType
from typing import Any, TypeVar, dataclass_transform, overload

T = TypeVar("T")


@overload
def frozen(cls: type[T], /) -> type[T]: ...
@overload
def frozen(
    *, kw_only: bool = False, slots: bool = True, eq: bool = True
) -> Callable[[type[T]], type[T]]: ...
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(
    cls: type[Any] | None = None, /, *, kw_only: bool = False, slots: bool = True, eq: bool = True
) -> Any:
    """The class as `dataclass(frozen=True, slots=True)` makes it."""

    def made(given: type[Any]) -> type[Any]:
        cls = _made(given, kw_only, slots)
        methods = {"__repr__": _repr, "__setattr__": _refuse, "__delattr__": _refuse}
        methods |= {"__getstate__": _state, "__setstate__": _restore}
        if eq:
            methods |= _comparing([each.name for each in fields(cls) if each.compare])
        for name, method in methods.items():
            if name not in given.__dict__:
                setattr(cls, name, method)
        return cls

    return made if cls is None else made(cls)


@dataclass_transform(eq_default=False, field_specifiers=(field,))
def state(cls: type[T]) -> type[T]:
    """What changes while something is worked out: a class with slots, each object its own."""
    return _made(cls, kw_only=False, slots=True)


def _made(cls: type[T], kw_only: bool, slots: bool) -> type[T]:
    if cls.__doc__ is None:
        cls.__doc__ = f"{cls.__name__}()"  # or `dataclasses` words one, which takes long
    made: Any = dataclass(init=False, repr=False, eq=False, kw_only=kw_only, slots=slots)(cls)
    if "__init__" not in cls.__dict__:
        made.__init__ = _first_init(made)
    result: type[T] = made
    return result


def _comparing(names: list[str]) -> dict[str, Callable[..., Any]]:
    """Equal are objects of one class whose fields are; equal ones have one hash."""
    get: Callable[[object], object] = attrgetter(*names) if names else lambda _: ()

    def eq(self: object, other: object) -> bool:
        if self is other:
            return True
        return get(self) == get(other) if other.__class__ is self.__class__ else NotImplemented

    return {"__eq__": eq, "__hash__": lambda self: hash(get(self))}


def _first_init(cls: Any) -> Callable[..., None]:
    def init(self: object, *args: object, **kwargs: object) -> None:
        cls.__init__ = _compiled_init(cls)
        cls.__init__(self, *args, **kwargs)

    return init


def _compiled_init(cls: Any) -> Callable[..., None]:
    """`__init__`, as `dataclasses` writes it for a frozen class.

    Its text names fields by their number, so that classes of one shape share what is compiled of
    it: three of four do.
    """
    known: dict[str, Any] = {"missing": MISSING, "put": object.__setattr__}
    given = sorted((each for each in fields(cls) if each.init), key=lambda each: bool(each.kw_only))
    names = {each.name: f"a{number}" for number, each in enumerate(given)}
    body = [_assignment(cls, each, names.get(each.name, ""), known) for each in fields(cls)]
    if hasattr(cls, "__post_init__"):
        body.append("self.__post_init__()")
    by_place = [each for each in given if not each.kw_only]
    parameters = ["self", *names.values()]
    if len(by_place) < len(given):
        parameters.insert(1 + len(by_place), "*")
    head = f"def __init__({', '.join(parameters)}):"
    code = _code("\n    ".join((head, *filter(None, body), "pass")))
    init = FunctionType(code.replace(co_varnames=("self", *names)), known)
    init.__defaults__ = tuple(each.default for each in by_place if _is_optional(each))
    init.__kwdefaults__ = {
        each.name: each.default for each in given if each.kw_only and _is_optional(each)
    }
    init.__qualname__ = f"{cls.__qualname__}.__init__"
    return init


@cache
def _code(source: str) -> CodeType:
    known: dict[str, Any] = {}
    exec(source, known)  # noqa: S102  # of numbers alone
    code: CodeType = known["__init__"].__code__
    return code


def _is_optional(field: Field[Any]) -> bool:
    return field.default is not MISSING or field.default_factory is not MISSING


def _assignment(cls: Any, field: Field[Any], given: str, known: dict[str, Any]) -> str:
    """A line of `__init__`; what it calls is added to what its text knows."""
    number, value = len(known), given
    if field.default_factory is not MISSING:
        known[f"make{number}"] = field.default_factory
        value = f"make{number}() if {given} is missing else {given}" if given else f"make{number}()"
    elif not given:
        if field.default is MISSING:
            return ""  # `__post_init__` gives it
        known[value := f"default{number}"] = field.default
    if isinstance(slot := getattr(cls, field.name, None), MemberDescriptorType):
        known[f"put{number}"] = slot.__set__  # finds no place by name, which takes half as long
        return f"put{number}(self, {value})"
    known[f"name{number}"] = field.name
    return f"put(self, name{number}, {value})"


def _repr(self: Any) -> str:
    shown = (f"{each.name}={getattr(self, each.name)!r}" for each in fields(self) if each.repr)
    return f"{self.__class__.__qualname__}({', '.join(shown)})"


def _refuse(self: object, name: str, *_: object) -> None:
    raise FrozenInstanceError(f"cannot change `{name}` of a {type(self).__name__}")


def _state(self: Any) -> list[object]:
    return [getattr(self, each.name) for each in fields(self)]


def _restore(self: Any, state: list[object]) -> None:
    for each, value in zip(fields(self), state, strict=True):
        object.__setattr__(self, each.name, value)
