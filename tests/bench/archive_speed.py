"""How fast an archive is, and how large: ``python -m tests.bench.archive_speed [CLASSES [HEARD]]``. Prints, asserts nothing.

Of CLASSES (10,000, unless given) of thirty minutes each, HEARD (200) are understood from files, the others are varied from these. Goals:

- at least 8 classes understood and kept a second on one core;
- to keep one more costs at most 1.2 times as much with all classes there as with the first hundred;
- a class is found within 50 ms in 95 of 100 questions, and the history told within a second;
- the file has at most three times the size of what was said.
"""

from __future__ import annotations

import platform
import random
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from statistics import median, quantiles

from parser import load_lexicon, shelf
from parser.archive import Archive, Asked, find, opened, parcel, questions
from parser.clock import Between
from parser.keeping import File, understood
from parser.model import Reading
from parser.pipeline import reading
from parser.read import read_bytes

from .archive_classes import heard, varied

FIRST_DAY = date(2016, 1, 4)
MEASURED = 60
"""Classes whose keeping is measured, at the beginning and at the end."""
QUESTIONS = 40
"""Of each kind."""
_SLOW = 6
"""Of those that look at every class."""


def took(call: Callable[[], object]) -> float:
    """Seconds of processor time: others on the machine are not measured, nor is its disk."""
    began = time.process_time()
    call()
    return time.process_time() - began


def spread(seconds: list[float]) -> str:
    return f"median {1000 * median(seconds):6.1f} ms, 95 of 100 within {1000 * quantiles(seconds, n=100)[94]:6.1f} ms"


def understand(kept: Archive, count: int) -> list[Reading]:
    files = list(heard(count))
    understood(File(files[0][0], None, files[0][1]), None)
    seconds = 0.0
    for name, data in files:
        seconds += took(lambda name=name, data=data: kept.add(understood(File(name, None, data), None)))
    print(f"understood and kept: {count} classes, {count / seconds:.1f} a second on one core")
    words = load_lexicon()
    return [reading(read_bytes(data, name=name), lexicon=words) for name, data in files[: min(count, 100)]]


def fill(kept: Archive, readings: list[Reading], count: int) -> int:
    """Keep so many more; characters said in them."""
    early: list[float] = []
    late: list[float] = []
    said = 0
    for number, one in enumerate(varied(readings, count)):
        packed, day = parcel(one), FIRST_DAY + timedelta(days=number % 3650)
        said += len(packed.said.encode())
        seconds = took(lambda p=packed, d=day: kept.add(p, day=d))
        if 100 <= number < 100 + MEASURED:
            early.append(seconds)
        elif number >= count - MEASURED:
            late.append(seconds)
    print(f"one more at 100: {spread(early)}; at {count}: {spread(late)}; {median(late) / median(early):.2f} times")
    return said


def ask(kept: Archive) -> None:
    dice = random.Random(5)
    movements = [m.name for m in load_lexicon().movements()]
    weeks = [FIRST_DAY + timedelta(days=7 * n) for n in range(500)]

    def of(name: str) -> Asked:
        return Asked(movements=shelf.asked_movements(kept, [name], None))

    kinds: dict[str, Callable[[], Asked]] = {
        "a movement": lambda: of(dice.choice(movements)),
        "a word of a few classes": lambda: Asked(phrases=[dice.choice(movements).split()[-1]]),
        "a word of most classes": lambda: Asked(phrases=[dice.choice(("water", "breathe", "ferry", "porridge", "bucket"))]),
        "the same, by relevance": lambda: Asked(phrases=[dice.choice(("water", "breathe", "ferry", "porridge", "bucket"))], by_relevance=True),
        "a phrase": lambda: Asked(phrases=[dice.choice(("loose board by the stage", "half of it", "put the weight down", "lemon cake"))]),
        "pattern, not with": lambda: Asked(patterns=[dice.choice(("squat", "hinge", "lunge", "carry"))], without=["dumbbell"]),
        "work, rest and days": lambda: Asked(work=Between(40, 45), rest=Between(10, 15), since=(day := dice.choice(weeks)), until=day + timedelta(days=60)),
        "muscle, word, finding": lambda: Asked(muscles=["glutes"], phrases=["wall"], findings=["equipment-unannounced"]),
    }
    everything: list[float] = []
    for name, question in kinds.items():
        seconds = [took(lambda q=question: find(kept, q())) for _ in range(QUESTIONS)]
        everything += seconds
        print(f"  find {name:26} {spread(seconds)}")
    print(f"find, all of these: {spread(everything)}")
    for count in (8, 52):
        seconds = [took(lambda c=count, w=week: shelf.history(kept, until=w, weeks=c)) for week in dice.sample(weeks[60:], 12)]
        print(f"history of {count} weeks: {spread(seconds)}")
    print(f"habits: {spread([took(lambda: shelf.habits(kept)) for _ in range(_SLOW)])}")
    numbers = [one.id for one in kept.shown()]
    print(f"alike: {spread([took(lambda n=n: questions.alike(kept, n, limit=5)) for n in dice.sample(numbers, _SLOW)])}")


def main() -> None:
    count, first = (int(given) for given in (*sys.argv[1:], *("10000", "200")[len(sys.argv) - 1 :]))
    print(f"{platform.system()} {platform.machine()}, Python {platform.python_version()}")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "archive.sqlite")
        with opened(Path(folder, "heard.sqlite"), create=True) as kept:
            readings = understand(kept, first)
        with opened(file, create=True) as kept:
            said = fill(kept, readings, count)
            ask(kept)
        print(f"{count} classes: {file.stat().st_size / 1e6:.0f} MB, {file.stat().st_size / said:.2f} times the {said / 1e6:.0f} MB that were said")


if __name__ == "__main__":
    main()
