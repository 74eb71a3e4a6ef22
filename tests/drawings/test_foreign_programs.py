"""A program that is not ours ends with us, and answers only what it was asked."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from specgen.foreign import foreign
from tests.timing import NO_HANG

CAT = "import sys; sys.stdout.buffer.write(sys.stdin.buffer.read()[::-1])"
SLOW = """
import os, sys, time
open(sys.argv[1], "w").write(str(os.getpid()))
time.sleep(600)
"""


def alive(process: int) -> bool:
    try:
        os.kill(process, 0)
        state = Path(f"/proc/{process}/stat")
        return not state.exists() or state.read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def gone(process: int) -> bool:
    end = time.monotonic() + NO_HANG
    while alive(process) and time.monotonic() < end:
        time.sleep(0.02)
    return not alive(process)


def begun(path: Path) -> int:
    end = time.monotonic() + NO_HANG
    while not (path.is_file() and path.read_text()) and time.monotonic() < end:
        time.sleep(0.02)
    return int(path.read_text())


@pytest.mark.parametrize("size", [0, 1, 3_000_000])
def test_it_answers_what_it_is_given(size: int) -> None:
    given = bytes(range(256)) * (size // 256) + b"x" * (size % 256)
    assert foreign([sys.executable, "-c", CAT], given, NO_HANG) == given[::-1]


def test_what_gives_up_or_is_not_there_is_told() -> None:
    with pytest.raises(FileNotFoundError):
        foreign(["no-such-program-anywhere"], b"x", NO_HANG)
    with pytest.raises(ChildProcessError):
        foreign([sys.executable, "-c", "raise SystemExit(3)"], b"x" * 200_000, NO_HANG)


def test_what_takes_too_long_is_ended(tmp_path: Path) -> None:
    with pytest.raises(TimeoutError):
        foreign([sys.executable, "-c", SLOW, str(tmp_path / "id")], b"", 3)
    assert gone(begun(tmp_path / "id"))


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL there")
def test_it_ends_with_the_one_that_began_it(tmp_path: Path) -> None:
    """Killed, that one can tell nobody."""
    script = "import sys; from specgen.foreign import foreign; foreign(sys.argv[1:], b'', 600)"
    command = [sys.executable, "-c", script, sys.executable, "-c", SLOW, str(tmp_path / "id")]
    with subprocess.Popen(command) as run:
        process = begun(tmp_path / "id")
        assert alive(process)
        run.send_signal(signal.SIGKILL)
    assert gone(process)
