"""Hearing: a talk-through becomes mentions. The order of the steps is the order of trust, see :func:`hear`."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ..mentions import BARE, STOP, Heard, MovementMention, Phrase, Quantity, Slip, Words
from ..model import TalkThrough
from .bare_labels import find_bare_labels
from .combos import round_labels
from .equipment import find_equipment
from .markers import find_markers, marker_spans
from .movements import Weighed, find_movements, match_movements, movement_slips, told_by_another_name, with_phases
from .normal import lay
from .numbers import NUMBER, read_units
from .own_names import with_own_names
from .own_nouns import rename_own_nouns
from .phases import announced_at, find_clauses, heard_cues
from .quantities import find_quantities, with_clock_pair, with_frame_lengths
from .repairs import find_number_repairs, find_word_repairs
from .schemes import find_schemes
from .spans import find_count_ups, find_countdowns, find_phrases, find_scopes
from .tables import table
from .tokens import hear_words

if TYPE_CHECKING:
    from lexicon import Lexicon, Speech

__all__ = ["hear"]

_AT_ONCE = 2            # words from "grab" to a thing, "two" or "one of the"
_REQUEST_REACH = 6      # words from "you'll need" to a thing
_ALL_STRETCHING = 0.6    # from this share of mobility on, a stretch says nothing about the phase
_OPENING = frozenset({"first", "next", "last", "then_next"})
_INTRODUCED = 2.0        # an introduction of this weight is of an item
_GETS_GOING = frozenset(table("phases")["loosening"]["names"])
_HELD = frozenset({"mobility", "balance", "breathing"})
_IN_NAMES = frozenset({"move", "lift", "drill", "stretch", "pose"})
_SURELY = ("movement", "pose")      # patterns of a number that is of nothing but a movement
_ANNOUNCED = {"round_rest", "rounds", "bouts", "sets", "movements", "interval", "amrap", "cap"}
_PERHAPS_REST = frozenset({BARE, "rest", "round_rest"})
_OPENER_REACH = 8       # words from the rest before a block to the words that open it
_LED_IN = 6             # words before it that say when it is
_GIVEN = frozenset({"get", "got", "have", "take"})
_LONGER_S = 60          # "forty on, twenty off" are no minutes off
_EVERY_TIME = frozenset({"each", "every", "round", "rounds", "set", "sets"})
_PAIRS = {"forty on, twenty off", "sixty seconds, thirty seconds rest"}


def hear(talk: TalkThrough, lexicon: Lexicon) -> Heard:
    """Everything heard in ``talk``: words, then repairs, numbers, phrases, movements, phases, equipment."""
    words = hear_words(talk)
    if not words.tokens:
        return Heard(words, (), (), (), (), (), (), (), (), (), (), ())
    lexicon = with_own_names(words, lexicon)
    units = rename_own_nouns(read_units(words, table("joins")))
    markers = find_markers(units)
    units, void_units, slips = find_number_repairs(words, units, markers)
    others = {t.i for t in words.tokens if t.quoted}
    quoted = {k for k, u in enumerate(units) if u.first in others and u.end > u.first} if others else set()
    void = {t for k in void_units for t in range(units[k].first, units[k].end)}
    layer = lay(words, units, void_units | quoted)
    word_slips = find_word_repairs(words, units, markers)
    slips += word_slips
    void |= {t.i for s in word_slips for t in words.tokens[s.wrong[0] : s.right[0]] if t.norm == s.was}

    order = find_phrases(layer, "order")
    options = find_phrases(layer, "options")
    countdowns = find_countdowns(layer)
    quantities = with_frame_lengths(words, find_quantities(layer, [*find_count_ups(layer), *countdowns]))
    quantities = _believed_labels(words, with_clock_pair(words, quantities))
    scopes = find_scopes(layer, (q.first for q in quantities if q.role == "label"))
    quantities = _own(quantities, scopes)
    edges = sorted(countdowns + find_phrases(layer, "edges"), key=lambda p: p.first)

    cues = heard_cues(layer)
    ends = {p.first for p in order if p.role in ("first", "last") and p.end - p.first > 1}       # "goblet squats to kick us off"
    if not words.punctuated:
        ends |= announced_at(cues)        # no mark tells where what is announced begins
    speech = lexicon.speech([t.norm for t in words.tokens])
    weighed: dict[int, Weighed] = {}
    quantities, movements = _named(words, lexicon, speech, quantities, order, scopes, void, ends, weighed)
    quantities, changed = find_bare_labels(words, quantities, movements, edges)
    if changed:
        quantities, movements = _named(words, lexicon, speech, quantities, order, scopes, void, ends, weighed)
    counted = [(s.wrong[0], s.right[1]) for s in slips]         # what takes back a number takes back no movement
    taking_back = [(first, end) for first, end in marker_spans(units, markers) if not any(a <= first and end <= b for a, b in counted)]
    found = movement_slips(words, movements, taking_back, lexicon.same)
    slips += [slip for _, _, slip in found]
    movements = told_by_another_name(_put_right(movements, found))

    requests = find_phrases(layer, "requests")
    kit = lexicon.scan_equipment([t.norm for t in words.tokens], {t.i for t in words.tokens if t.brk == STOP})
    schemes = find_schemes(words, quantities, countdowns)
    announced = {t for s in schemes for t in range(s.first, s.end)}
    under_way = [q for q in quantities if q.role != "round_label" or q.first not in announced]     # "first lap twenty seconds, second lap thirty"
    clauses = find_clauses(words, cues, _evidence(words, under_way, edges, movements, options, requests, [k.start for k in kit]),
                           (m.label_span[0] for m in movements if m.label_span), next((q.single for q in quantities if q.role == "warm_up"), None))
    movements = with_phases(movements, clauses, options, words)
    in_movements = {t: m for m in movements for t in range(m.first, m.end)}
    kit = [k for k in kit if (m := in_movements.get(k.start)) is None or m.phase == "briefing" and _is_asked_for(requests, k.start, k.end, m)]
    equipment, taken_back = find_equipment(words, kit, requests=requests, scopes=scopes, clauses=clauses, void=void)
    slips += taken_back
    formats = sorted(find_phrases(layer, "formats") + find_phrases(layer, "blocks"), key=lambda p: p.first)
    apart = _between_blocks(words, quantities, [f.first for f in formats if f.role == "open"])
    if apart != quantities:
        quantities, schemes = apart, find_schemes(words, apart, countdowns)
    return Heard(words, tuple(quantities), tuple(sorted(slips, key=lambda s: s.wrong)), tuple(movements), tuple(equipment), tuple(clauses),
                 tuple(edges), tuple(scopes), tuple(find_phrases(layer, "sides")), tuple(options), tuple(formats),
                 tuple(find_phrases(layer, "notes")), tuple(schemes))


def _believed_labels(words: Words, quantities: list[Quantity]) -> list[Quantity]:
    """Without ``shoulder blades move ten`` and ``cobra pose, five``: what is also a verb, or ends a name, numbers a movement only where the
    number before it was said of one."""
    numbers = {q.single for q in quantities if q.role == "label"}

    def counts(q: Quantity) -> bool:
        named = words.tokens[q.first - 1].norm in _IN_NAMES if q.first else False
        return q.role == "label" and named and q.single is not None and q.single > 1 and q.single - 1 not in numbers

    return [replace(q, role=BARE, pattern="") if counts(q) else q for q in quantities]


def _is_asked_for(requests: Sequence[Phrase], first: int, end: int, mention: MovementMention) -> bool:
    """Kit that a movement is named after, or that is asked for with the next word behind it: ``grab two dumbbells drag a bench over``."""
    return (first, end) == (mention.first, mention.end) or first == mention.first and any(0 <= first - r.end <= _AT_ONCE for r in requests)


def _own(quantities: list[Quantity], scopes: list[Phrase]) -> list[Quantity]:
    """``Ron says, can I do three loops?`` announces nothing: what others say of the class's settings is no setting."""
    theirs = {t for s in scopes if s.role == "others" for t in range(s.first, s.end)}
    return [replace(q, role="other") if q.role in _ANNOUNCED | {"work", "rest"} and q.first in theirs else q for q in quantities]


def _between_blocks(words: Words, quantities: list[Quantity], openers: list[int]) -> list[Quantity]:
    """``Then you get two minutes. Then there's a finisher``, ``after A we've got two minutes to reset``, ``Two minutes off. Then the ladder``: a
    length right before the words that open a block is the rest before it."""
    out = list(quantities)
    for k, q in enumerate(quantities):
        if q.kind != "length" or q.role not in _PERHAPS_REST:
            continue
        k_open = bisect_left(openers, q.end)
        opener = openers[k_open] if k_open < len(openers) else None
        before = [t.norm for t in words.tokens[max(0, q.first - _LED_IN) : q.first]]
        off = words.sentence(q.first)[0] == q.first and (q.single or 0) >= _LONGER_S and words.tokens[q.end : q.end + 1] and words.tokens[q.end].norm == "off"
        if opener is None or opener > q.end + _OPENER_REACH or not off and _GIVEN.isdisjoint(before[-3:]) or not _EVERY_TIME.isdisjoint(before):
            continue
        if {"then", "after", "and"} & {t.norm for t in words.tokens[q.end : opener]} or {"then", "after"} & set(before):
            out[k] = replace(q, role="block_rest", pattern="a length before another block")
    return out


def _is_mobility(m: MovementMention) -> bool:
    return bool(m.match.parts) and "mobility" in m.match.parts[0].patterns


def _is_held(m: MovementMention) -> bool:
    return bool(m.match.parts) and not _HELD.isdisjoint(m.match.parts[0].patterns)


def _named(words: Words, lexicon: Lexicon, speech: Speech, quantities: list[Quantity], order: list[Phrase], scopes: list[Phrase],
           void: set[int], breaks: set[int], weighed: dict[int, Weighed]) -> tuple[list[Quantity], list[MovementMention]]:
    """The movements by the numbers known so far; in a class of combinations the numbers of rounds are theirs."""
    labels = [q for q in quantities if q.role in ("label", "round_label")]
    surely = {q.end for q in labels if q.role == "label" and q.kind == NUMBER and q.pattern.startswith(_SURELY)}
    matches = match_movements(words, lexicon, speech, void, [q.end for q in labels], surely, breaks)
    quantities = round_labels(quantities, matches)
    return quantities, find_movements(words, matches, quantities=quantities, order=order, scopes=scopes, void=void, weighed=weighed)


def _bases(m: MovementMention) -> set[str | None]:
    return {part.base_id for part in m.match.parts}


def _put_right(movements: list[MovementMention], found: list[tuple[int, int, Slip]]) -> list[MovementMention]:
    """The wrong movement is no item; the right one takes over its introduction and its number."""
    out = list(movements)
    for wrong, right, _ in found:
        a, b = out[wrong], out[right]
        out[wrong] = replace(a, scope="slip")
        if a.scope is None:
            out[right] = replace(b, intro=max(a.intro, b.intro), label=b.label if b.label is not None else a.label,
                                 label_span=b.label_span or a.label_span)
    return out


def _evidence(words: Words, quantities: list[Quantity], edges: list[Phrase], movements: list[MovementMention], options: list[Phrase],
              requests: list[Phrase], kit: list[int]) -> Iterator[tuple[int, str]]:
    """``(token, kind)`` for the phases."""
    for q in quantities:
        if q.role in _ANNOUNCED and words.tokens[q.first].norm not in ("once", "twice") or q.role in ("work", "rest") and q.pattern in _PAIRS:
            yield q.first, "setting"
        elif q.role in ("round_label", "progress"):
            yield q.first, "round_label"
        elif q.role == "left":
            yield q.first, "left"
        elif q.role == "count":
            yield q.first, "counted"
        elif q.role == "class" and (q.single or 0) >= 480:
            yield q.first, "class_length"
    for edge in edges:
        kind = {"half": "left", "soft_go": None, "soft_stop": None}.get(edge.role, edge.role)
        if kind:
            yield edge.first, kind
    named = [m for m in movements if m.scope is None and not m.match.everyday]
    all_stretching = sum(_is_held(m) for m in named) > _ALL_STRETCHING * len(named)
    shown_names = {m.match.name for m in movements if m.label is not None}
    recaps = {m.listed for m in movements if m.listed is not None and m.match.name in shown_names}     # "march, sit to stand, punches, twist"
    numbered: set[str] = set()
    known: set[str | None] = set()
    for m in movements:
        if m.label is not None:
            yield m.first, "label"
            numbered.add(m.match.name)
        elif m.scope is None and m.match.name in numbered:
            yield m.first, "again"
        elif m.scope is None and m.intro >= _INTRODUCED and not all_stretching and not _is_held(m) and m.match.name not in _GETS_GOING:
            short = len(m.match.words) == 1 and _OPENING.isdisjoint(m.why)         # "press", of the bench press that was shown
            yield m.first, "called" if short or _bases(m) & known else "introduced"
            known |= _bases(m)
        if m.listed in recaps and m.label is None:
            continue
        if m.scope is None and _is_mobility(m) and not all_stretching:
            part = m.match.parts[0]
            on_the_floor = part.position in ("supine", "seated", "prone") or "hold" in part.patterns and part.position in ("kneeling", "quadruped")
            yield m.first, "stretch" if "stretch" in part.name or on_the_floor else "loosening"
        elif m.scope is None and m.label is None and not m.option and m.match.parts and m.match.parts[0].name in _GETS_GOING:
            yield m.first, "loosening"
    shown = min((m.first for m in named if m.intro >= 0), default=0)
    for option in options:
        if option.role != "substitution" and option.first > shown:
            yield option.first, "option"        # "you may share a rack if you like" shows nothing yet
    for at in kit:
        if any(0 <= at - r.end <= _REQUEST_REACH for r in requests):
            yield at, "equipment_asked"
