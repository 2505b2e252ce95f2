"""How long following takes beyond hearing: ``python -m tests.bench.follow_speed``. Prints, asserts nothing; the goal is under 0.3 s
for a recording of an hour."""

from __future__ import annotations

import time

from parser import load_lexicon
from parser.follow import follow
from parser.hear import hear
from parser.mentions import Layout

from ..follow.random_class import Made, make, read

AN_HOUR_S = 3600.0


def an_hour() -> Made:
    """Classes by chance one after the other until an hour is full; the plan has a block for each."""
    blocks, words, edges, now, seed = [], [], [], 0.0, 1
    while now < AN_HOUR_S:
        made = make(seed, dropped=0.2)
        blocks += made.plan.blocks
        words += [type(w)(w.text, w.start + now, w.end + now) for w in made.words]
        edges += [e + now for e in made.edges]
        now, seed = words[-1].end + 5.0, seed + 1
    return Made(made.plan.model_copy(update={"blocks": blocks}), tuple(words), tuple(edges))


def main() -> None:
    made, lexicon = an_hour(), load_lexicon()
    for resolution in ("word", "cue", "block"):
        heard = hear(read(made, resolution), lexicon)
        took = []
        for _ in range(3):
            began = time.perf_counter()
            found = follow(heard, made.plan, Layout(()))
            took.append(time.perf_counter() - began)
        print(f"{resolution}: {1000 * min(took):.0f} ms for {made.words[-1].end / 60:.0f} minutes, {len(made.words)} words, "
              f"{len(made.plan.blocks)} blocks, {len(found.intervals)} of {len(made.edges) - 1} intervals")


if __name__ == "__main__":
    main()
