"""Making what is kept without a search for what can be thrown away."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def nothing_thrown_away() -> Iterator[None]:
    """What is made here is kept: to look it over for what can be thrown away takes a quarter of the time, of long talks more, and finds
    nothing."""
    looked = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if looked:
            gc.enable()
