"""What each number is for: a role for every length of time and every bare number, or none.

Every pattern of ``counts.toml`` and ``times.toml`` is laid over the normal layer; a number is claimed once, by the pattern
that stands first. What lost is kept for ``explain``.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..mentions import BARE, COUNTDOWN, Phrase, Quantity
from .normal import Normal
from .numbers import LENGTH, NUMBER, ORDINAL
from .shapes import Pattern, patterns

_SHORTEST_S = 5        # a bare number below this is no length of work or rest


def find_quantities(layer: Normal, countdowns: Iterable[Phrase] = ()) -> list[Quantity]:
    """Every number with its role. Numbers inside ``countdowns`` are the clock's and have none."""
    counting = {t for c in countdowns for t in range(c.first, c.end)}
    claims: dict[int, tuple[Pattern, str, tuple[int, int]]] = {}
    lost: dict[int, list[str]] = {}
    for pattern in (*patterns("counts"), *patterns("times")):
        for match in pattern.regex.finditer(layer.text):
            for group, role in pattern.roles:
                at = match.start(group)
                if at < 0:
                    continue
                k = layer.at(at)
                unit = layer.units[k]
                if unit.first in counting or unit.kind == NUMBER and role in ("work", "rest") and _low(unit.value) < _SHORTEST_S:
                    continue
                if k in claims:
                    if claims[k][0].name != pattern.name:
                        lost.setdefault(k, []).append(f"{role}: {pattern.say}")
                    continue
                claims[k] = (pattern, role, (match.start(), match.end()))
    out = []
    for k, unit in enumerate(layer.units):
        if unit.kind not in (NUMBER, LENGTH, ORDINAL):
            continue
        pattern, role, stretch = claims.get(k, (None, BARE, None))
        if unit.first in counting:
            role = COUNTDOWN
        span = layer.token_span(*stretch) if stretch else (unit.first, unit.end)
        out.append(Quantity(role, unit.value, unit.kind, unit.first, unit.end, span, pattern.say if pattern else "",
                            tuple(dict.fromkeys(lost.get(k, ())))))
    return out


def _low(value) -> float:
    return value[0] if isinstance(value, tuple) else value
