"""One value from many statements."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

Value = float | tuple[float, float]


def plain(value):
    """``40.0`` as ``40``, pairs likewise."""
    if isinstance(value, tuple):
        return tuple(plain(v) for v in value)
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def settle(values: Sequence[Value]):
    """The value said most often; of equals the last. ``None`` of none."""
    if not values:
        return None
    counts = Counter(values)
    most = max(counts.values())
    return plain(next(v for v in reversed(values) if counts[v] == most))
