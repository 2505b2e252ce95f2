"""How long the lexicon takes: ``python -m tests.bench.lexicon_speed``. Prints, asserts nothing; the goal is under 1 ms a word."""

from __future__ import annotations

import random
import time

from lexicon import load

WORDS = 10_000
# What might be said in the Long Room of the Ropewalk Hall, without punctuation, as captions have it.
SAID = """
morning all find a space in the long room and grab two dumbbells and a mat
let's get warm march on the spot for me and roll the shoulders back nice and slow
number one is a goblet squat so hold the weight at your chest and sit down between your knees
then we go into a bent over row hinge at the hips long spine pull the elbows to your back pockets
last one in this block is a half kneeling press right knee down and press it up past your ear
forty seconds on twenty off three rounds and i'll call the change
if your wrists are sore stay on your forearms for the plank or put your hands on the bench
three two one and go reverse lunges step back tall chest and drive through the front heel
ten more seconds keep breathing and rest shake it out water if you need it
hammer curl into an overhead press light weight and no swinging
dead bugs on your back opposite arm and leg lower back glued to the mat
the tide is in so the slipway is wet mind the step on your way out
who had the long weekend at the fair i saw a few of you on the big wheel
side plank next top hand to the ceiling and a gobblet squad to finish if you've got it in you
lovely work everybody child's pose to finish and a figure four stretch a minute a side
""".strip().splitlines()


def a_class(words: int = WORDS) -> list[str]:
    """That many words of it, lines in an order that does not change from run to run."""
    lines, out = random.Random(4), []
    while len(out) < words:
        out += lines.choice(SAID).split()
    return out[:words]


def main() -> None:
    began = time.perf_counter()
    lexicon = load()
    print(f"load: {1000 * (time.perf_counter() - began):.0f} ms, once in a process")
    words = a_class()
    for name, call in (("scan", lexicon.scan), ("scan_equipment", lexicon.scan_equipment)):
        began = time.perf_counter()
        found = call(words)
        took = time.perf_counter() - began
        print(f"{name}: {1e6 * took / len(words):.1f} µs a word over {len(words)} words without punctuation, {len(found)} found")
    names = [name for entry in lexicon.movements() for name in (entry.name, *entry.aliases)]
    began = time.perf_counter()
    for name in names:
        lexicon.find(name)
    print(f"find: {1e6 * (time.perf_counter() - began) / len(names):.0f} µs a phrase over {len(names)} names")


if __name__ == "__main__":
    main()
