"""What several rules look at: items with their numbers, the words shown for one movement, findings and where they belong."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from ..kinds import Severity
from ..mentions import Heard, Item, MovementMention, Phrase, Quantity, Slip, Stretch, beginning_in
from ..model import Block, Finding, Movement
from .rule import Case

Span = tuple[int, int]
Said = TypeVar("Said", Quantity, MovementMention, Phrase)

LONGEST_SHOWN = 160
"""Words that may belong to the demonstration of one movement. The longest heard in practice are near a hundred."""

LONGEST_OPTION = 24
"""Words from the offer of an option to the end of it."""


_LIST_GAP = 5               # words from one movement of a list to the next: "the deadlift with the kickstand, thrusters"


@dataclass(frozen=True, slots=True)
class Shown:
    """One movement of a main block with the words in which it is shown."""

    block_number: int
    number: int
    block: Block
    stretch: Stretch
    item: Item
    mention: MovementMention
    span: Span

    @property
    def movement(self) -> Movement:
        return self.block.movements[self.number - 1]


def shown(case: Case) -> list[Shown]:
    """Every movement of the main blocks, in the plan's order."""
    return list(case.once("shown", lambda: tuple(
        Shown(n, k + 1, block, stretch, item, case.heard.movements[item.intro], _shown_span(case, item))
        for n, block, stretch in case.mains() for k, item in enumerate(stretch.items[: len(block.movements)]))))


def _shown_span(case: Case, item: Item) -> Span:
    """The item's segment without the work that may follow it, and of a length that one demonstration can have."""
    first, end = item.segment
    end = min(end, first + LONGEST_SHOWN)
    intro = case.heard.movements[item.intro]
    if intro.phase != "work":
        for clause in case.heard.clauses[bisect_right(case.heard.begins, intro.end) :]:
            if clause.phase == "work":
                end = min(end, max(clause.first, intro.end))
                break
    return first, end


def by_block(items: Iterable[Shown]) -> dict[int, list[Shown]]:
    out: dict[int, list[Shown]] = {}
    for item in items:
        out.setdefault(item.block_number, []).append(item)
    return out


def label_of(item: Shown) -> int | None:
    """The number said with the movement where it is introduced; ``None`` for none and for "the last one"."""
    return item.mention.label or None


def recaps(case: Case, group: Sequence[Shown]) -> list[tuple[int, ...]]:
    """The lists of movements that go over ``group`` again, each with what follows it closely in its sentence:
    "squat, row, the deadlift with the kickstand, thruster" is one list.
    """
    out = []
    mentions = case.heard.movements
    for known_list in group[0].stretch.lists:
        listed = list(known_list)
        _, end = case.heard.words.sentence(mentions[listed[-1]].first)
        while listed[-1] + 1 < len(mentions) and mentions[listed[-1] + 1].first < min(end, mentions[listed[-1]].end + _LIST_GAP):
            listed.append(listed[-1] + 1)
        out.append(tuple(listed))
    known = {n for run in out for n in run}
    return out + [run for run in _dosed_runs(case, group) if not known & set(run)]


def _dosed_runs(case: Case, group: Sequence[Shown]) -> list[tuple[int, ...]]:
    """Mentions after the last movement was shown with nothing but amounts between them: "thrusters, twelve. Rows, ten. Steps, twenty"."""
    amounts = case.once("amounts", lambda: {t for q in case.heard.quantities for t in range(q.first, q.end)})
    runs: list[list[int]] = []
    before = None
    for n, m in enumerate(case.heard.movements):
        if m.first <= group[-1].mention.end or m.phase not in ("briefing", "demo"):
            continue
        between = range(before.end, m.first) if before else ()
        if 0 < len(between) <= _LIST_GAP and all(t in amounts for t in between):
            runs[-1].append(n)
        else:
            runs.append([n])
        before = m
    return [tuple(run) for run in runs if len(run) >= 3]


def norms(heard: Heard, first: int, end: int) -> list[str]:
    return [t.norm for t in heard.words.tokens[max(0, first) : end]]


def has_words(heard: Heard, span: Span, *phrases: str) -> bool:
    """Whether one of the phrases (single spaces, small letters) is said in ``span``."""
    text = f" {' '.join(norms(heard, *span))} "
    return any(f" {p} " in text for p in phrases)


def sentence_of(case: Case, token: int, *, reach: int = 14) -> Span:
    """The sentence around ``token``, at most ``reach`` words to either side."""
    first, end = case.heard.words.sentence(token)
    return max(first, token - reach), min(end, token + reach)


def taken_back(case: Case) -> set[int]:
    """Tokens of values that were put right aloud, from the wrong one up to the right one."""
    out: set[int] = set()
    for slip in case.heard.slips:
        out.update(range(slip.wrong[0], max(slip.wrong[1], slip.right[0])))
    return out


def is_of_a_number(case: Case, slip: Slip) -> bool:
    """The slip is about a movement's number: ``number four, no, three``; ``station four. Four? No. Three, station three``."""
    if slip.kind == "label":
        return True
    return slip.kind == "number" and any(
        q.role == "label" and q.single is not None and f"{q.single:g}" == slip.became and slip.wrong[0] - 4 <= q.first < slip.right[1] + 6
        for q in case.heard.quantities)


def is_unknown(item: Shown) -> bool:
    """The lexicon has no such movement."""
    return item.mention.match.rung == "unknown"


def changed_between(case: Case, first: int, end: int) -> bool:
    """A change was announced as one between the two tokens, or just before the first."""
    return any(note.role == "change" and first - 40 <= note.first <= end for note in case.heard.notes)


def in_option(case: Case, token: int) -> bool:
    """``token`` stands in the sentence of an easier, harder or different way, after the words that offer it.

    Without punctuation the number of the next movement, or a list of them, ends it too.
    """
    first, _ = case.heard.words.sentence(token)
    first = max(first, token - LONGEST_OPTION)
    if not beginning_in(case.heard.options, (first, token + 1)):
        return False
    if not case.heard.words.punctuated:
        first = max([first] + [q.first for q in case.heard.quantities if q.role == "label" and q.first <= token]
                    + [m.first for m in case.heard.movements if m.listed is not None and m.first <= token])
    return any(first <= o.first <= token for o in offers(case))


def offers(case: Case) -> list[Phrase]:
    """The words that offer another way, without those of a caution: "if anything hurts, stop"."""
    cautions = {t for n in case.heard.notes if n.role == "caution" for t in range(n.first - 2, n.end + 2)}
    return [o for o in case.heard.options if o.first not in cautions]


def live(case: Case) -> bool:
    """The clock runs in the recording: it is a class, not a rehearsal."""
    return work_starts_at(case) is not None


def work_starts_at(case: Case) -> int | None:
    """The token at which the work of the first main block starts, where the recording shows it."""
    mains = case.mains()
    if not mains or not mains[0][2].items:
        return None
    after = case.heard.movements[mains[0][2].items[0].intro].first
    for edge in case.heard.edges:
        if edge.role in ("countdown", "go") and edge.first > after and case.heard.phase_at(edge.first) == "work":
            return edge.first
    return None


def seconds_at(case: Case, token: int) -> float | None:
    return case.heard.words.tokens[token].t0


def apart_s(case: Case, a: int, b: int) -> float:
    """Seconds between two tokens; 0 where there are no times."""
    x, y = seconds_at(case, a), seconds_at(case, b)
    return abs(y - x) if x is not None and y is not None else 0.0


def place_of(items: Sequence[Shown], token: int) -> Shown | None:
    """The movement in whose demonstration ``token`` stands."""
    return next((i for i in items if i.span[0] <= token < i.span[1]), None)


def finding(case: Case, code: str, severity: Severity, message: str, said: Sequence[Span], *, expected: str | None = None,
            at: Shown | None = None, block: int | None = None, corrected: bool = False) -> Finding:
    return Finding(code=code, severity=severity, message=message, said=[case.source(s) for s in said], expected=expected,
                   corrected=corrected, block=at.block_number if at else block, number=at.movement.number if at else None)


def quoted(case: Case, span: Span) -> str:
    """The words of ``span`` on one line."""
    return " ".join(case.source(span).quote.split())


def amount(value: float) -> str:
    return f"{value:g}"
