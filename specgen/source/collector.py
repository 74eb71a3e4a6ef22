"""Python's garbage collector, out of the way while many small lasting objects are made."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager

FEWER = 200_000  # allocations between collections, hardly any of which free something


@contextmanager
def lasting() -> Iterator[None]:
    """What is made within stays to the end: it is not looked through while it is made or after.

    Trees and definitions hold hundreds of thousands of objects and hardly a circle; looking
    through them again and again took as long as making pages of them.
    """
    gc.disable()
    gc.unfreeze()
    try:
        yield
    finally:
        gc.freeze()
        gc.set_threshold(FEWER)
        gc.enable()
