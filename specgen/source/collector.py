"""Python's garbage collector, out of the way while many small lasting objects are made."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager

FEWER = 200_000  # allocations between collections, hardly any of which free something
READINGS = 1  # after so many, what earlier ones left in circles is freed

_since_freed = 0


@contextmanager
def lasting() -> Iterator[None]:
    """What is made within stays to the end: it is not looked through while it is made or after.

    Trees and definitions hold hundreds of thousands of objects and hardly a circle; looking
    through them again and again took as long as making pages of them. A process that reads again,
    such as a preview, first frees what is left of the readings before.
    """
    global _since_freed
    gc.disable()
    gc.unfreeze()
    if _since_freed >= READINGS:
        gc.collect()
        _since_freed = 0
    try:
        yield
    finally:
        _since_freed += 1
        gc.freeze()
        gc.set_threshold(FEWER)
        gc.enable()
