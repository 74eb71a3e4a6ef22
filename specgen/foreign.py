"""Programs that are not ours, run so that none outlives us.

A process that is killed cannot stop what it has started, and a foreign program looks after nobody.
So between the two stands a small program of ours: it waits for the end of a pipe that we hold, and
ends the other one when that comes, on every system.
"""

import subprocess
import sys
import threading
from collections.abc import Sequence
from contextlib import suppress
from typing import Final

_NOT_FOUND: Final = 127  # as shells say it: POSIX.1-2017, 2.8.2
_KEEPER: Final = """
import _thread, os, sys
def take(count):
    taken = b""
    while len(taken) < count:
        more = os.read(0, count - len(taken))
        if not more:
            os._exit(1)
        taken += more
    return taken
given = take(int(take(20)))
into, out = os.pipe()
try:
    if hasattr(os, "posix_spawnp"):
        actions = [(os.POSIX_SPAWN_DUP2, into, 0)]
        child = os.posix_spawnp(sys.argv[1], sys.argv[1:], os.environ, file_actions=actions)
        wait = lambda: os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        end = lambda: os.kill(child, 9)
    else:
        import subprocess
        process = subprocess.Popen(sys.argv[1:], stdin=into)
        wait, end = process.wait, process.kill
except OSError:
    os._exit(127)
def watch():
    if not os.read(0, 1):
        end()
        os._exit(1)
_thread.start_new_thread(watch, ())
os.close(into)
try:
    with open(out, "wb") as file:
        file.write(given)
except OSError:
    pass
os._exit(1 if wait() else 0)
"""
"""Runs a program on the first of its standard input, and ends it when the rest of it ends."""


def foreign(command: Sequence[str], given: bytes, seconds: float) -> bytes:
    """What a program answers to `given`. However this process ends, the program ends too.

    Raises FileNotFoundError, TimeoutError, and ChildProcessError where it gives up.
    """
    started = [sys.executable, "-I", "-S", "-c", _KEEPER, *command]
    late = threading.Event()
    with subprocess.Popen(  # noqa: S603
        started, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as keeper:
        assert keeper.stdin is not None
        assert keeper.stdout is not None

        def expired() -> None:
            late.set()
            keeper.stdin.close()  # type: ignore[union-attr]

        timer = threading.Timer(seconds, expired)
        timer.start()
        try:
            with suppress(OSError, ValueError):  # it has ended, which its status tells
                keeper.stdin.write(b"%20d" % len(given) + given)
                keeper.stdin.flush()
            answer = keeper.stdout.read()
        finally:
            timer.cancel()
    if late.is_set():
        raise TimeoutError(command[0])
    if keeper.returncode == _NOT_FOUND:
        raise FileNotFoundError(command[0])
    if keeper.returncode:
        raise ChildProcessError(command[0])
    return answer
