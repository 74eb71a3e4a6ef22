"""A process that reads again and again keeps nothing of what it read before.

Asked of a process of its own: one of tests holds millions of objects, and takes seconds to look
through them.
"""

import subprocess
import sys

CIRCLE = """
from weakref import ref
from specgen.source.collector import lasting

class Circle:  # goes only when somebody looks for circles
    def __init__(self):
        self.itself = self
"""


def holds(code: str) -> None:
    command = [sys.executable, "-c", CIRCLE + code]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_what_was_read_before_is_freed_when_a_process_reads_again() -> None:
    holds("""
with lasting():
    before = ref(Circle())
assert before() is not None
with lasting():
    pass
assert before() is None
""")


def test_what_is_still_held_stays() -> None:
    holds("""
with lasting():
    held = Circle()
with lasting():
    pass
assert ref(held)() is held
""")
