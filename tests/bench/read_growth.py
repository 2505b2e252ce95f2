"""How the cost of reading grows with the length of hostile text: ``python -m tests.bench.read_growth``.

Four times the text should cost about four times as much; quadratic work would cost sixteen times.
"""

from __future__ import annotations

import math
import time

from tests.read.test_always import LONG, REPEATED, read


def cost(text: str) -> float:
    """Seconds of processor time, the best of three."""
    best = math.inf
    for _ in range(3):
        began = time.process_time()
        read(text)
        best = min(best, time.process_time() - began)
    return best


def main() -> None:
    print(f"{'text':36} {'short':>8} {'4 x':>8} {'ratio':>6}")
    for name, made in REPEATED.items():
        short, long = cost(made(LONG // 4)), cost(made(LONG))
        print(f"{name:36} {short:8.4f} {long:8.4f} {long / max(short, 1e-6):6.1f}")


if __name__ == "__main__":
    main()
