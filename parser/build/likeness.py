"""Whether two mentions are of one movement."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeAlias

from ..mentions import Heard, MovementMention
from .open_block import OpenBlock
from .weights import weight

if TYPE_CHECKING:
    from ..mentions import Match, MatchPart, Verdict

Same: TypeAlias = "Callable[[Match, Match], Verdict]"
"""Two lexicon matches in, a verdict out: whether they name one movement, why, and how near they are (0 to 100)."""


_SHORT_NAME = 85.0


class Likeness:
    """Joins mentions to the items of a block by meaning."""

    def __init__(self, heard: Heard, same: Same) -> None:
        self.heard, self.same = heard, same
        self._found: dict[tuple[tuple[str, ...], str, tuple[str, ...], str], float] = {}
        """By the words and the names of both: a movement is said again and again."""

    def join(self, block: OpenBlock, mention: MovementMention) -> int | None:
        """The item that the mention is another mention of: the best of those that are the same movement."""
        best, best_score = None, 0.0
        for k, item in enumerate(block.items):
            score = self.of(self.heard.movements[item[0]].match, mention.match)
            if score > best_score:
                best, best_score = k, score
        return best

    def of(self, known: Match, said: Match) -> float:
        """How well ``said`` names the movement ``known``: 0 where it cannot; a kind of the other counts as a short name for it."""
        key = (known.words, known.name, said.words, said.name)
        score = self._found.get(key)
        if score is None:
            score = self._found[key] = self._score(known, said)
        return score

    def _score(self, known: Match, said: Match) -> float:
        if len(known.parts) > 1 and len(said.parts) > 1 and known.parts[0].patterns[:1] == ("punch",):
            one, two = [p.base for p in known.parts], [p.base for p in said.parts]
            return 100.0 if one == two else 80.0 if one[: len(two)] == two else 0.0
        verdict = self.same(known, said)
        if verdict.same or verdict.score >= weight("kind_of"):
            return verdict.score
        if _is_short_for(said.words, known.words):
            return _SHORT_NAME
        # a chain may be called by one of its parts
        if len(known.parts) > 1 and len(said.parts) == 1:
            return 0.9 * max(_part_likeness(part, said.parts[0]) for part in known.parts)
        return 0.0

    def is_kind(self, block: OpenBlock, join: int, mention: MovementMention) -> bool:
        """Another movement of the same family rather than the same one."""
        return not self.same(self.heard.movements[block.items[join][0]].match, mention.match).same


def _is_short_for(said: tuple[str, ...], known: tuple[str, ...]) -> bool:
    """``Leg lifts`` is short for ``side leg lift``: the end of the name as it was said."""
    return 1 < len(said) < len(known) and [w.removesuffix("s") for w in said] == [w.removesuffix("s") for w in known[-len(said) :]]


def _part_likeness(part: MatchPart, said: MatchPart) -> float:
    if part.base_id == said.base_id or part.family == said.base_id or said.family == part.base_id:
        return 90.0
    return 0.0
