"""Our frozen classes behave as those of `dataclasses`, whenever their methods are compiled."""

import copy
import inspect
import pickle
import pkgutil
from dataclasses import FrozenInstanceError, dataclass, field, fields, is_dataclass, replace
from importlib import import_module
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import specgen
from specgen.frozen import _compiled_init, _restore, frozen


def pair(kw_only: bool = False) -> tuple[Any, Any]:
    """The same class by us and by `dataclasses`."""

    class Thing:
        a: int
        b: str = "b"
        c: list[int] = field(default_factory=list)
        d: int = field(default=3, kw_only=True)
        e: int = field(default=0, compare=False, repr=False)
        f: tuple[int, ...] = field(default=(), init=False)
        g: list[int] = field(default_factory=list, init=False)

        def __post_init__(self) -> None:
            object.__setattr__(self, "f", (self.a, self.d))

    ours = frozen(kw_only=kw_only)(type("Thing", (), dict(vars(Thing))))
    theirs = dataclass(frozen=True, slots=True, kw_only=kw_only)(
        type("Thing", (), dict(vars(Thing)))
    )
    return ours, theirs


ARGUMENTS = st.fixed_dictionaries(
    {"a": st.integers(0, 2)},
    optional={
        "b": st.sampled_from("bc"),
        "c": st.just([1]),
        "d": st.integers(3, 4),
        "e": st.integers(0, 1),
        "f": st.just(()),
        "x": st.just(1),
    },
)


def made(cls: Any, arguments: dict[str, Any]) -> Any:
    try:
        return cls(**arguments)
    except TypeError as problem:
        return str(problem).rsplit(".", 1)[-1]


@given(ARGUMENTS, ARGUMENTS)
def test_objects_are_made_compared_and_printed_alike(
    one: dict[str, Any], other: dict[str, Any]
) -> None:
    ours, theirs = pair()
    our, their = made(ours, one), made(theirs, one)
    if isinstance(our, str):
        assert our == their
        return
    names = [each.name for each in fields(theirs)]
    assert [getattr(our, name) for name in names] == [getattr(their, name) for name in names]
    assert repr(our) == repr(their)
    second, twin = made(ours, other), made(theirs, other)
    assert (our == second) == (their == twin)
    assert our != their
    assert our.__eq__(1) is NotImplemented


@pytest.mark.parametrize("kw_only", [False, True])
def test_arguments_by_place_and_by_name_are_taken_alike(kw_only: bool) -> None:
    ours, theirs = pair(kw_only)
    for arguments in ((), (1,), (1, "x"), (1, "x", [2]), (1, "x", [2], 3), (1, "x", [2], 3, 4)):
        got = []
        for cls in (ours, theirs):
            try:
                got.append(repr(cls(*arguments)))
            except TypeError as problem:
                got.append(str(problem).rsplit(".", 1)[-1])
        assert got[0] == got[1]


@frozen
class Hashed:
    a: int
    b: str = ""


def test_nothing_can_be_changed() -> None:
    thing = Hashed(1)
    with pytest.raises(FrozenInstanceError):
        thing.a = 2  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError):
        del thing.a
    with pytest.raises((FrozenInstanceError, AttributeError)):
        thing.c = 2  # type: ignore[attr-defined]
    assert not hasattr(thing, "__dict__")


def test_equal_ones_have_one_hash_and_copies_are_equal() -> None:
    assert len({Hashed(1), Hashed(1), Hashed(2)}) == 2
    assert pickle.loads(pickle.dumps(Hashed(1, "x"))) == Hashed(1, "x")
    assert copy.deepcopy(Hashed(1)) == Hashed(1)
    assert replace(Hashed(1), b="x") == Hashed(1, "x")
    match Hashed(4, "y"):
        case Hashed(a, b):
            assert (a, b) == (4, "y")


def classes() -> list[Any]:
    """Every class of the program that is frozen in this way."""
    found: dict[Any, None] = {}
    for module in pkgutil.walk_packages(specgen.__path__, "specgen."):
        if module.name.endswith("__main__"):
            continue
        for each in vars(import_module(module.name)).values():
            if isinstance(each, type) and getattr(each, "__setstate__", None) is _restore:
                found[each] = None
    return [*found]


def test_every_frozen_class_can_be_made() -> None:
    """A field without a default after one with a default would be told with the first object."""
    known = classes()
    assert len(known) > 250
    for cls in known:
        assert is_dataclass(cls)
        taken = inspect.signature(_compiled_init(cls)).parameters
        assert {*taken} - {"self"} == {each.name for each in fields(cls) if each.init}
