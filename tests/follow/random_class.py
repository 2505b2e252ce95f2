"""Classes by chance, to see how well their clock is followed: ``python -m tests.follow.random_class`` prints the table.

A class is a plan with work, rest, rounds and movements by chance, and a coach who calls its edges, a little early or late, loses
some of the calls, and talks in between. The plan is given, so that only following is measured.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import lru_cache
from statistics import quantiles

from parser import load_lexicon
from parser.follow import follow
from parser.hear import hear
from parser.mentions import Layout
from parser.model import Block, Movement, Part, Plan, PlanSource, TalkThrough
from parser.read import read_bytes

from ..captions import WRITERS
from ..talks import PACE, Spoken

NAMES = ("goblet squat", "push-up", "glute bridge", "plank", "reverse lunge", "bent-over row", "star jump", "mountain climber", "dead bug")
CHATTER = (
    "Lovely, keep it tidy.", "The gulls are loud this morning.", "Somebody left a scarf on the slipway.", "Breathe out as you push.",
    "My neighbour swears by cold porridge.", "Mind the loose board by the door.", "Shoulders away from your ears.", "That rope is older than me.",
    "Nice and steady at the back.", "I can hear the ferry.", "Eyes forward, chin easy.", "We had eleven people in here on Monday.",
)
STARTS = ("Go! {name}.", "And go, {name}.", "Here we go, {name}.", "Off you go.", "{name}, go.")
STOPS = ("And rest.", "And stop. Shake it out.", "Rest there.", "And time.")
SHAPES = {"word": "vtt", "cue": "srt", "block": "md"}
_SPOKEN_S = 1.0 / PACE


@dataclass(frozen=True)
class Edge:
    """An edge of the clock: when it was, and what the fit should call it."""

    at: float
    said: str | None


@dataclass(frozen=True)
class Made:
    plan: Plan
    words: tuple[Spoken, ...]
    edges: tuple[float, ...]
    """Of each interval of the class the start, and of the last one the end (s)."""


def make(seed: int, *, dropped: float, jitter_s: float = 0.3, moved: float = 0.04) -> Made:
    """A class by chance. ``dropped`` is the share of edges without a call, ``moved`` that of intervals that are far off."""
    dice = random.Random(seed)
    count, rounds = dice.randint(3, 6), dice.randint(2, 3)
    work, rest, long = dice.choice((30, 40, 45, 50)), dice.choice((10, 15, 20)), dice.choice((60, 75, 90))
    names = dice.sample(NAMES, count)
    lines: list[tuple[float, str]] = [(0.0, "Morning all, welcome to the Long Room. I'll show you the moves first.")]
    lines += [(10.0 + 9 * n, f"Number {n + 1} is the {name}. Watch me.") for n, name in enumerate(names)]
    now = 20.0 + 9 * count
    lines.append((now, "Let's warm up. March on the spot and swing your arms."))
    now += 60 + dice.random() * 30
    edges = []
    for r in range(rounds):
        for n, name in enumerate(names):
            last = r + 1 == rounds and n + 1 == count
            edges.append(now)
            lines.append((now, "" if dice.random() < dropped and (r or n) else dice.choice(STARTS).format(name=name)))
            now += _length(dice, work, moved)
            edges.append(now)
            if not last:
                lines.append((now, "" if dice.random() < dropped else dice.choice(STOPS)))
                now += _length(dice, long if n + 1 == count else rest, moved)
    lines.append((now, "And done. Let's cool down, quad stretch, and breathe. Thank you, see you next week."))
    spoken = _with_chatter(dice, [(at + dice.gauss(0.0, jitter_s) * (at > 0), text) for at, text in lines])
    return Made(_plan(names, rounds, work, rest, long), _say(spoken), tuple(edges))


def _length(dice: random.Random, planned: float, moved: float) -> float:
    return planned + dice.choice((-0.25, 0.35)) * planned if dice.random() < moved else planned


def _with_chatter(dice: random.Random, lines: list[tuple[float, str]]) -> list[tuple[float, str]]:
    """Something said in two of three pauses, where there is room for it."""
    out = []
    for (at, text), (following, _) in zip(lines, [*lines[1:], (lines[-1][0] + 60, "")]):
        out.append((at, text))
        free = at + len(text.split()) * _SPOKEN_S + 1.5
        chat = dice.choice(CHATTER)
        room = following - 1.0 - len(chat.split()) * _SPOKEN_S
        if room > free and dice.random() < 0.67:
            out.append((dice.uniform(free, room), chat))
    return out


def _say(lines: list[tuple[float, str]]) -> tuple[Spoken, ...]:
    out: list[Spoken] = []
    for at, text in sorted(lines):
        start = max(at, out[-1].end + 0.02 if out else 0.0)
        for k, word in enumerate(text.split()):
            out.append(Spoken(word, start + k * _SPOKEN_S, start + (k + 0.9) * _SPOKEN_S))
    return tuple(out)


def _plan(names: list[str], rounds: int, work: float, rest: float, long: float) -> Plan:
    movements = [Movement(number=n, name=name, parts=[Part(name=name, base=name)], said=name) for n, name in enumerate(names, 1)]
    block = Block(kind="main", format="interval", rounds=rounds, work_s=work, rest_s=rest, round_rest_s=long, movements=movements)
    return Plan(source=PlanSource(name="by chance", sha256="0" * 64, format="plan", resolution="none", duration_s=None, words=0), blocks=[block])


def read(made: Made, resolution: str) -> TalkThrough:
    shape = SHAPES[resolution]
    return read_bytes(WRITERS[shape](made.words).encode(), name=f"by-chance.{shape}")


@lru_cache(maxsize=1)
def _lexicon():
    return load_lexicon()


def errors(made: Made, resolution: str) -> list[float]:
    """How far (s) each edge was found from where it was; 60 for one that was not found at all."""
    heard = hear(read(made, resolution), _lexicon())
    found = follow(heard, made.plan, Layout(())).intervals
    got = [i.start for i in found] + [found[-1].end] if found else []
    if len(got) != len(made.edges):
        return [min((abs(edge - g) for g in got), default=60.0) for edge in made.edges]
    return [abs(a - b) for a, b in zip(made.edges, got)]


def figures(resolution: str, *, dropped: float, classes: int, seed: int = 0) -> tuple[float, float, float]:
    """Median error, 90th percentile (s), and the share of edges within 2 s."""
    off = [e for n in range(classes) for e in errors(make(seed + n, dropped=dropped), resolution)]
    cuts = quantiles(off, n=10)
    return cuts[4], cuts[8], sum(e <= 2.0 for e in off) / len(off)


def main() -> None:
    print("| edges without a call | word times | cues | a stamp every twenty seconds |\n| --- | --- | --- | --- |")
    for dropped in (0.0, 0.2, 0.4, 0.6, 0.8):
        row = []
        for resolution in SHAPES:
            middle, most, near = figures(resolution, dropped=dropped, classes=12)
            row.append(f"{middle:.1f} s, {most:.1f} s, {near:.0%}")
        print(f"| {dropped:.0%} | {' | '.join(row)} |", flush=True)


if __name__ == "__main__":
    main()
