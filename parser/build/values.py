"""One value from many statements."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

Value = float | tuple[float, float]
Plain = int | float | tuple[float, float]


def plain(value: Value) -> Plain:
    """``40.0`` as ``40``, pairs likewise."""
    return (_whole(value[0]), _whole(value[1])) if isinstance(value, tuple) else _whole(value)


def _whole(value: float) -> float:
    return int(value) if isinstance(value, float) and value.is_integer() else value


def settle(values: Sequence[Value], called: Sequence[Value] = ()) -> Plain | None:
    """The value said most often; of equals the one that is ``called`` first, then the last. ``None`` of none."""
    if not values:
        return None
    counts = Counter(values)
    most = max(counts.values())
    equals = [v for v in reversed(values) if counts[v] == most]
    return plain(next((v for v in called if v in equals), equals[0]))
