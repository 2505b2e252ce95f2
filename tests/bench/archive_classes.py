"""Classes of thirty minutes by chance, for archives of any size: ``heard`` makes files to be understood, ``varied`` makes many of few.

To understand ten thousand classes takes the better part of an hour. ``varied`` takes a class that was understood, changes half of its
words for others as long, and its movements for others of the lexicon, so that places stay right and no two classes are alike.
"""

from __future__ import annotations

import hashlib
import random
from collections import defaultdict
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

from parser import load_lexicon
from parser.model import Reading

from ..captions import WRITERS
from ..talks import PACE, Spoken

MINUTES = 30
SHAPES = ("srt", "md", "vtt")
_CHATTER = (
    "Lovely, keep it tidy at the {place}.", "The {bird} are loud this {day}.", "Somebody left a {thing} on the {place}.", "Breathe out as you push.",
    "My neighbour swears by {food} before a class like this one.", "Mind the loose board by the {place}.", "Shoulders away from your ears.",
    "That {thing} is older than me and twice as heavy.", "Nice and steady at the back, nobody is counting but me.", "I can hear the ferry.",
    "Eyes forward, chin easy, ribs down.", "We had eleven people in here last {day} and only four {thing}s.", "Push the floor away from you.",
    "If your back talks to you, make it smaller.", "Heels stay down, knees go where the toes go.", "Slow on the way down, that is where the work is.",
    "Have a sip of water when you need one.", "There is {food} after, if you are good.", "That's it, keep breathing, keep moving.",
)
_FILL = {
    "place": ("door", "slipway", "window", "net loft", "rail", "mirror", "stage", "kettle", "stairs", "bar"), "bird": ("gulls", "terns", "geese", "rooks"),
    "day": ("morning", "Monday", "Tuesday", "Thursday", "evening", "week"), "thing": ("scarf", "rope", "bucket", "oar", "lamp", "kettlebell", "mat", "bench"),
    "food": ("cold porridge", "toast", "an apple", "black coffee", "lemon cake", "kippers"),
}
_EASIER = ("Too much? Do half of it.", "Easier, hold on to the wall.", "If that hurts, make it smaller.", "For less, put the weight down.")
_HARDER = ("For more, go lower.", "Harder, add a jump.", "If you want more, take the heavier one.")


@cache
def _movements() -> tuple[Any, ...]:
    return tuple(m for m in load_lexicon().movements() if "mobility" not in m.patterns)


def heard(count: int, *, seed: int = 0) -> Iterator[tuple[str, bytes]]:
    """Names and contents of so many files, each of a class by chance."""
    for number in range(count):
        shape = SHAPES[number % len(SHAPES)]
        yield f"class-{number:05}.{shape}", WRITERS[shape](_say(_lines(random.Random(seed * 1_000_003 + number)))).encode()


def _lines(dice: random.Random) -> list[tuple[float, str]]:
    moves = [m.name for m in dice.sample(_movements(), dice.randint(4, 7))]
    work, rest, long = dice.choice((30, 40, 45, 50)), dice.choice((10, 15, 20)), dice.choice((60, 75, 90))
    one_round = len(moves) * (work + rest) + long
    rounds = max(2, round((MINUTES * 60 - 420) / one_round))
    lines = [(0.0, f"Good evening and welcome to the Ropewalk Hall. About {MINUTES} minutes today. You want a pair of dumbbells and a mat."),
             (14.0, f"{len(moves)} movements, {rounds} rounds, {work} seconds of work, {rest} seconds of rest, {long} seconds between the rounds.")]
    now = 28.0
    for n, name in enumerate(moves, 1):
        lines.append((now, f"Number {n} is the {name}. {_chat(dice)} {dice.choice(_EASIER)} {dice.choice(_HARDER) if dice.random() < 0.5 else ''}"))
        now += 20
    lines.append((now, "If anything hurts, stop. Let's warm up. March on the spot, then arm circles."))
    now += 90
    for r in range(rounds):
        for n, name in enumerate(moves):
            lines.append((now, f"{'Go' if n or r else 'Three, two, one, go'}, {name}."))
            lines.append((now + work, "And rest."))
            now += work + (long if n + 1 == len(moves) else rest)
    lines.append((now, "And done. Cool down, quad stretch, both sides, and breathe. Thank you, see you next week."))
    return _talkative(dice, lines)


def _chat(dice: random.Random) -> str:
    return dice.choice(_CHATTER).format(**{key: dice.choice(words) for key, words in _FILL.items()})


def _talkative(dice: random.Random, lines: list[tuple[float, str]]) -> list[tuple[float, str]]:
    """Talk in nearly every pause, as coaches do."""
    out = []
    for (at, text), (following, _) in zip(lines, [*lines[1:], (lines[-1][0] + 30, "")]):
        out.append((at, text))
        free = at + len(text.split()) / PACE + 1.0
        while (chat := _chat(dice)) and free + len(chat.split()) / PACE < following - 1.0:
            if dice.random() < 0.85:
                out.append((free, chat))
            free += len(chat.split()) / PACE + dice.uniform(0.5, 3)
    return out


def _say(lines: Sequence[tuple[float, str]]) -> tuple[Spoken, ...]:
    out: list[Spoken] = []
    for at, text in sorted(lines):
        start = max(at, out[-1].end + 0.02 if out else 0.0)
        out += (Spoken(word, start + k / PACE, start + (k + 0.9) / PACE) for k, word in enumerate(text.split()))
    return tuple(out)


def varied(readings: Sequence[Reading], count: int, *, seed: int = 1) -> Iterator[Reading]:
    """So many classes made of a few, no two of them alike."""
    others: dict[int, list[str]] = defaultdict(list)
    for word in sorted({word for reading in readings for word in reading.talk.text.split() if word.isalpha()}):
        others[len(word)].append(word)
    for number in range(count):
        dice = random.Random(seed * 1_000_003 + number)
        yield _varied(dice, dice.choice(readings), others, number)


def _varied(dice: random.Random, reading: Reading, others: dict[int, list[str]], number: int) -> Reading:
    words = reading.talk.text.split(" ")
    said = " ".join(dice.choice(others[len(w)]) if w.isalpha() and len(w) > 3 and dice.random() < 0.5 else w for w in words)
    swapped = dict(zip((m.name for m in _movements()), dice.sample(_movements(), len(_movements()))))
    tree = _changed(reading.model_dump(mode="json"), said, swapped)
    tree["talk"] |= {"text": said, "name": f"varied-{number:05}.srt", "sha256": hashlib.sha256(f"{number} {said}".encode()).hexdigest()}
    return Reading.model_validate(tree)


def _changed(node: Any, said: str, swapped: dict[str, Any]) -> Any:
    if isinstance(node, list):
        return [_changed(value, said, swapped) for value in node]
    if not isinstance(node, dict):
        return node
    if "quote" in node:
        return {**node, "quote": said[node["chars"][0] : node["chars"][1]]}
    if "base" in node and (other := swapped.get(node["base"])):
        return {**node, "name": other.name, "base": other.name, "modifiers": [], "patterns": list(other.patterns), "muscles": [*other.primary, *other.secondary]}
    return {key: _changed(value, said, swapped) for key, value in node.items()}
