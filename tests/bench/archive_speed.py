"""How long an archive of many classes takes to be looked over: ``python -m tests.bench.archive_speed [CLASSES]``. Prints, asserts
nothing; the goal is under a second for each question at 10,000 classes. The classes are made by chance of the lexicon's movements.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from lexicon import load
from parser import shelf
from parser.archive import Archive, opened, questions
from parser.model import Block, Equipment, Finding, Movement, Part, Plan, Reading, Sides
from parser.render.look import Look
from parser.render.review import HISTORY
from tests.archive.plans import reading, said
from tests.render.examples import source

UNTIL = date(2026, 5, 10)
CODES = ("rest-off", "work-off", "side-missing", "number-misstated", "option-missing")


def by_chance(dice: random.Random, known: list[Part], number: int) -> Reading:
    """Three or four movements of warm-up and cool-down and six to ten of work, with a finding or two."""
    def block(kind: str, size: int) -> Block:
        return Block(kind=kind, format="interval", work_s=40, rest_s=20, movements=[
            Movement(number=n, name=part.name, parts=[part], sides=Sides(mode=dice.choice(["both", "each"])), said=part.name)
            for n, part in enumerate(dice.sample(known, size), 1)
        ])

    blocks = [block("warm_up", dice.randint(3, 4)), block("main", dice.randint(6, 10)), block("cool_down", dice.randint(3, 4))]
    found = [
        Finding(code=dice.choice(CODES), severity="warning", message="By chance.", said=[said(61.0, "by chance")], block=1, number=dice.randint(1, 6))
        for _ in range(dice.randint(0, 2))
    ]
    plan = Plan(source=source(f"{number}.vtt"), blocks=blocks, equipment=[Equipment(name=dice.choice(["mat", "dumbbell"]))])
    return reading(plan, found, text=str(number), followed=True)


def fill(kept: Archive, count: int) -> None:
    """A class a day, backwards from ``UNTIL``."""
    dice = random.Random(7)
    known = [Part(name=e.name, base=e.name, patterns=list(e.patterns), muscles=[*e.primary, *e.secondary]) for e in load().movements()]
    kept.connection.execute("PRAGMA synchronous = OFF")
    for number in range(count):
        kept.add(by_chance(dice, known, number), day=UNTIL - timedelta(days=number))


def timed(name: str, ask: Callable[[], object]) -> None:
    seconds = []
    for _ in range(3):
        began = time.perf_counter()
        ask()
        seconds.append(time.perf_counter() - began)
    print(f"  {name:28} {1000 * min(seconds):7.0f} ms")


def main(count: int) -> None:
    with tempfile.TemporaryDirectory() as folder, opened(Path(folder) / "archive.sqlite", create=True) as kept:
        fill(kept, count)
        print(f"{count} classes, the least of three:")
        for weeks in (8, 52, 1 + count // 7):
            timed(f"history of {weeks} weeks", lambda weeks=weeks: HISTORY["text"](shelf.history(kept, until=UNTIL, weeks=weeks), Look()))
        timed("habits", lambda: shelf.habits(kept))
        timed("alike", lambda: questions.alike(kept, 1, limit=5))
        timed("diff", lambda: questions.difference(kept, 1, 2))


if __name__ == "__main__":
    main(int(sys.argv[1]) if sys.argv[1:] else 10_000)
