"""The one place that runs Typst: shipped fonts only, nothing fetched, one compiler a thread."""

import os
import threading
from typing import Any, Final, Literal

import typst

from specgen.shipped import print_folder


class _Held(threading.local):
    compiler: typst.Compiler | None = None


_held = _Held()
_compiled_in: Final[set[int]] = set()
"""The process that has compiled something. In a fork of it the compiler would wait for ever."""


def has_compiled() -> bool:
    """Whether a fork of this process could set nothing any more."""
    return bool(_compiled_in)


def compiler(source: bytes | None = None) -> typst.Compiler:
    """A new compiler that sees the files of `site/print`; from now on this process has compiled.

    Raises RuntimeError in a process that was forked from one that had.
    """
    here = os.getpid()
    if _compiled_in - {here}:
        raise RuntimeError("a process forked after one has compiled cannot compile: spawn it")
    _compiled_in.add(here)
    folder = print_folder()
    options: dict[str, Any] = {} if source is None else {"input": source}
    return typst.Compiler(
        root=folder, font_paths=[folder / "fonts"], ignore_system_fonts=True, **options
    )


def compiled(source: str, form: Literal["pdf", "png"], **options: Any) -> bytes:
    """What a source becomes; `options` are those of `typst.Compiler.compile`.

    A source sees the files of `site/print`. One compiler a thread is kept, since it holds the
    fonts. Raises RuntimeError in a process that was forked from one that had compiled, and where
    the source cannot be set: our bug.
    """
    if _held.compiler is None or os.getpid() not in _compiled_in:
        _held.compiler = compiler()
    made = _held.compiler.compile(input=source.encode(), format=form, **options)
    assert isinstance(made, bytes)
    return made
