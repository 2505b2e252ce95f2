"""What is heard: the mentions that hearing hands to building, checking and following.

Plain frozen dataclasses, and named tuples where there are thousands a class: these are made in a quarter of the time.
Positions are token numbers, ``first`` and ``end`` (exclusive); ``Words.source`` turns them into a public :class:`~parser.model.Source`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from operator import attrgetter
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from .model import Source, TalkThrough

if TYPE_CHECKING:
    from lexicon import Match as Match
    from lexicon import Part, Same

    MatchPart = Part
    Verdict = Same

NO_BREAK, COMMA, STOP = 0, 1, 2
BARE = "bare"


class Token(NamedTuple):
    i: int
    text: str
    norm: str
    start: int
    end: int
    cue: int
    t0: float | None
    t1: float | None
    brk: int
    """The break before this word: none, a comma's, or a sentence's (a full stop, a long pause)."""
    quoted: bool
    """Inside quotation marks: what somebody else says."""
    pause: float
    """Seconds of silence before the word; 0 where the times are too coarse to tell."""


@dataclass(frozen=True, slots=True)
class Words:
    """The tokens of one talk-through with the ways back to its text."""

    talk: TalkThrough
    tokens: tuple[Token, ...]
    punctuated: bool
    opens: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """The tokens that open a sentence."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "opens", tuple(i for i, t in enumerate(self.tokens) if i == 0 or t.brk >= STOP))

    def source(self, first: int, end: int) -> Source:
        """The source of the tokens ``first`` to ``end`` (exclusive)."""
        head, tail = self.tokens[first], self.tokens[max(first, end - 1)]
        start_s, end_s = head.t0, tail.t1
        if (start_s is None) != (end_s is None):        # of captions one has no times, or broken ones: those of the words that have
            timed = [t for t in self.tokens[head.i : tail.i + 1] if t.t0 is not None]
            start_s, end_s = timed[0].t0, timed[-1].t1
        if start_s is not None and end_s is not None:
            end_s = max(start_s, end_s)                 # stamps may run backwards
        return Source(start=_tidy(start_s), end=_tidy(end_s), quote=self.talk.text[head.start : tail.end],
                      chars=(head.start, tail.end))

    def sentence(self, i: int) -> tuple[int, int]:
        """The sentence around token ``i``: first token and end (exclusive)."""
        k = bisect_right(self.opens, i)
        return self.opens[k - 1], self.opens[k] if k < len(self.opens) else max(i + 1, len(self.tokens))


def _tidy(t: float | None) -> float | None:
    return None if t is None else round(t, 3)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number heard. ``role`` is what it is for; ``bare`` where nothing around it says. Lengths are in seconds.

    ``first`` and ``end`` are its own tokens, ``span`` those of the whole phrase.
    """

    role: str
    value: float | tuple[float, float]
    kind: str
    first: int
    end: int
    span: tuple[int, int]
    pattern: str
    lost: tuple[str, ...] = ()

    @property
    def single(self) -> float | None:
        return None if isinstance(self.value, tuple) else self.value


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase heard: its ``role``, its tokens ``first`` to ``end``, and the pattern's example."""

    role: str
    first: int
    end: int
    pattern: str


Said = TypeVar("Said", "Quantity", "Phrase", "MovementMention")
FIRST = attrgetter("first")
"""By which mentions are in order."""


def beginning_in(mentions: Sequence[Said], span: tuple[int, int]) -> list[Said]:
    """Those of ``mentions``, which are in order, that begin in ``span``."""
    return list(mentions[bisect_left(mentions, span[0], key=FIRST) : bisect_left(mentions, span[1], key=FIRST)])


@dataclass(frozen=True, slots=True)
class Clause:
    """The tokens ``first`` to ``end`` and the phase they are in."""

    first: int
    end: int
    phase: str


@dataclass(frozen=True, slots=True)
class Slip:
    """Something said wrong and put right. Token spans ``(first, end)`` of both; ``kind`` is what it was about."""

    kind: str            # length | number | label | order | side | limb | focus | movement | equipment
    wrong: tuple[int, int]
    right: tuple[int, int]
    was: str
    became: str


@dataclass(frozen=True, slots=True)
class MovementMention:
    """A movement phrase heard.

    ``intro`` says how much the words around it introduce it as an item of the class; ``label`` is the number said with it
    (0 for "the last one"), ``label_span`` where. ``scope`` is set where it is only mentioned (negated, last week's, …),
    ``listed`` where it stands in a dense list of movements.
    """

    match: Match
    first: int
    end: int
    phase: str
    intro: float
    why: tuple[str, ...] = ()
    label: int | None = None
    label_span: tuple[int, int] | None = None
    scope: str | None = None
    listed: int | None = None
    option: bool = False


@dataclass(frozen=True, slots=True)
class EquipmentMention:
    name: str
    quantity: int | None
    first: int
    end: int
    asked: bool
    negated: bool
    optional: bool
    instead_of: str | None = None


@dataclass(frozen=True, slots=True)
class Scheme:
    """A ladder: ``kind`` is ``reps`` or ``time`` (seconds), ``values`` in the order said."""

    kind: str
    values: tuple[float, ...]
    first: int
    end: int


@dataclass(frozen=True, slots=True)
class Heard:
    """Everything heard in one talk-through, each kind in the order of speech."""

    words: Words
    quantities: tuple[Quantity, ...]
    slips: tuple[Slip, ...]
    movements: tuple[MovementMention, ...]
    equipment: tuple[EquipmentMention, ...]
    clauses: tuple[Clause, ...]
    edges: tuple[Phrase, ...]
    scopes: tuple[Phrase, ...]
    sides: tuple[Phrase, ...]
    options: tuple[Phrase, ...]
    formats: tuple[Phrase, ...]
    notes: tuple[Phrase, ...]
    """Cautions, coaching points, breaks, focus: phrases whose role says what they are."""

    schemes: tuple[Scheme, ...] = ()
    begins: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """Where the clauses begin; they follow each other without a gap."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "begins", tuple(c.first for c in self.clauses))

    def phase_at(self, token: int) -> str:
        k = bisect_right(self.begins, token) - 1
        return self.clauses[k].phase if k >= 0 and token < self.clauses[k].end else "briefing"


@dataclass(frozen=True, slots=True)
class Item:
    """A movement of a block while it is built: the mention that introduced it and all that joined it.

    ``segment`` are the tokens in which it is introduced and shown, ``again`` those in which it comes up the next time.
    """

    intro: int
    mentions: tuple[int, ...]
    segment: tuple[int, int]
    again: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Stretch:
    """A block while it is built: its tokens, what was announced in it, and its items."""

    kind: str
    first: int
    end: int
    items: tuple[Item, ...]
    settings: tuple[int, ...]
    """Indices of the quantities that set it."""
    lists: tuple[tuple[int, ...], ...] = ()
    """Dense lists of movement mentions (indices) that go over its items again."""


@dataclass(frozen=True, slots=True)
class Layout:
    """How the mentions were put together: one stretch for each block of the plan, in the plan's order."""

    stretches: tuple[Stretch, ...]
    passing: tuple[int, ...] = ()
    """Movement mentions that joined nothing."""
