"""Loaded by Python before all else in runs that are to be killed within a phase.

`SPECGEN_TEST_AIM` is `MODULE:FUNCTION:COUNT:DELAY:WHOM`: so many calls of a function after the run
has begun, in whichever process makes them, and so many seconds later, the process that leads the
session is killed (`alone`), or all of them (`all`). `hit` in the folder that `SPECGEN_TEST_RUN`
names tells that it was.
"""

import functools
import importlib.util
import os
import signal
import sys
import threading
import time

MODULE, FUNCTION, COUNT, DELAY, WHOM = os.environ.get("SPECGEN_TEST_AIM", "::0:0:").split(":")


def kill():
    time.sleep(float(DELAY))
    os.close(os.open(os.environ["SPECGEN_TEST_RUN"] + "/hit", os.O_CREAT | os.O_WRONLY, 0o600))
    (os.killpg if WHOM == "all" else os.kill)(os.getsid(0), signal.SIGKILL)


def aimed(real):
    left = [int(COUNT)]

    @functools.wraps(real)  # so that it is found by its name in another process
    def call(*args, **kwargs):
        left[0] -= 1
        if left[0] == 0:
            if float(DELAY):
                threading.Thread(target=kill, daemon=True).start()
            else:
                kill()
        return real(*args, **kwargs)

    return call


class Finder:
    def find_spec(self, name, path=None, target=None):
        if name != MODULE:
            return None
        sys.meta_path.remove(self)
        spec = importlib.util.find_spec(name)
        run = spec.loader.exec_module

        def load(module):
            run(module)
            setattr(module, FUNCTION, aimed(getattr(module, FUNCTION)))

        spec.loader.exec_module = load
        return spec


if MODULE:
    sys.meta_path.insert(0, Finder())
