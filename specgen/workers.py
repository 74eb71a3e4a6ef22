"""Processes that share work out and end with the one that began them, however that ends.

The one maker of pools. A process that is killed cannot tell its workers to stop, so each of them
looks after itself: on Linux the kernel ends it, and everywhere it waits for the end of a pipe that
its parent holds.
"""

import ctypes
import os
import signal
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import active_children, get_all_start_methods, get_context, parent_process
from multiprocessing.context import BaseContext
from typing import Any, Final

_DIE_WITH_PARENT: Final = 1  # PR_SET_PDEATHSIG of include/uapi/linux/prctl.h


def can_fork() -> bool:
    """Whether a worker can begin as a copy of this process."""
    return "fork" in get_all_start_methods()


def processes(forking: bool, preload: str = "") -> BaseContext:
    """How processes are made: forks of this one, else of a fresh one, else each anew.

    A fresh one imports the module `preload` once, for all that are forked from it.
    """
    if forking and can_fork():
        return get_context("fork")
    if "forkserver" in get_all_start_methods():
        context = get_context("forkserver")
        context.set_forkserver_preload([preload] if preload else [])
        return context
    return get_context("spawn")


@contextmanager
def workers(
    jobs: int,
    context: BaseContext,
    begin: Callable[..., None] | None = None,
    arguments: tuple[Any, ...] = (),
) -> Iterator[Executor]:
    """So many processes; `begin` is called in each. They are ended where the block raises."""
    others, hook = active_children(), threading.excepthook
    forked = context.get_start_method() == "fork"
    try:
        with ProcessPoolExecutor(
            jobs,
            context,
            initializer=_begin,
            initargs=(os.getpid(), forked, tempfile.tempdir, begin, arguments),
        ) as pool:
            try:
                yield pool
            except BaseException:
                # the pool's own thread would tell of futures that it finds cancelled
                threading.excepthook = lambda _: None
                for child in active_children():
                    if child not in others:
                        child.terminate()
                raise
    finally:
        threading.excepthook = hook


def _begin(
    parent: int,
    forked: bool,
    temporary: str | None,
    begin: Callable[..., None] | None,
    arguments: tuple[Any, ...],
) -> None:
    """In a worker, before any work."""
    tempfile.tempdir = temporary
    # An interrupt at the terminal reaches all processes; the parent alone decides what it means.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for name in ("SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, signal.SIG_DFL)
    if forked:
        _end_by_kernel(parent)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    if begin is not None:
        begin(*arguments)


def _end_by_kernel(parent: int) -> None:
    """Have the kernel end this process with its parent, also while it runs foreign code."""
    if not sys.platform.startswith("linux"):
        return
    library = ctypes.CDLL(None)
    if hasattr(library, "prctl"):
        library.prctl(_DIE_WITH_PARENT, signal.SIGKILL, 0, 0, 0)
        if os.getppid() != parent:  # it ended before the kernel knew
            os._exit(1)


def _end_with_parent() -> None:
    """Wait for the parent's end, however it comes, and end too: nobody waits for the work."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
