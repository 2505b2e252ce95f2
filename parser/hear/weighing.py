"""How much the words around a movement introduce it as an item of the class, and the number said with it. Weights: ``data/intro.toml``."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from lexicon import Match

from ..mentions import COMMA, NO_BREAK, STOP, MovementMention, Phrase, Quantity, Token, Words, beginning_in
from .combos import is_combo
from .numbers import LENGTH, NUMBER
from .tables import table

_T = table("intro")
_W: dict[str, float] = _T["weights"]
_FAR: dict[str, int] = _T["reach"]
_SHOWS = frozenset(_T["words"]["shows"])
_REFERRING = frozenset(_T["words"]["referring"])
_ARTICLES = frozenset(_T["words"]["articles"])
_PASSING = frozenset(_T["words"]["passing"])
_LABEL_REACH = 2 * max(far for name, far in _FAR.items() if name.startswith("label_"))      # no number of a movement is farther from it, with its words
_LONGEST_NUMBER = 12         # words of one, and of what it is said of
_ROUNDS = frozenset({"rounds", "sets", "laps", "circuits"})
_PASSING_BARE = frozenset(_T["words"]["passing_bare"])


class Around:
    """The mentions of other kinds by place, for looking left and right of a movement."""

    def __init__(self, words: Words, quantities: Sequence[Quantity], order: Sequence[Phrase], scopes: Sequence[Phrase],
                 void: set[int]) -> None:
        self.words, self.quantities = words, quantities
        self.by_token = {t: q for q in quantities for t in range(q.first, q.end)}
        self.labels = [q for q in quantities if q.role == "label" and q.first not in void and q.single is not None]
        self.label_starts = [q.first for q in self.labels]
        measures = [q for q in quantities if q.role in ("metres", "calories")]
        self.measured = {q.span[1] for q in measures}
        self.amounts = self.by_token.keys() | {t for q in measures for t in range(*q.span)}
        self.order_at = {t: p for p in order for t in range(p.first, p.end)}
        self.scopes = scopes
        self.scope_starts = [s.first for s in scopes]

    def numbers(self, match: Match, before: int, after: int) -> list[Quantity]:
        """All that ``weigh`` can look at, and a few more."""
        first, end = min(before, match.start - _LABEL_REACH) - _LONGEST_NUMBER, max(after, match.end + _LABEL_REACH)
        return beginning_in(self.quantities, (first, end))

    def scope(self, first: int) -> str | None:
        k = bisect_right(self.scope_starts, first)
        for scope in reversed(self.scopes[max(0, k - 4) : k]):
            if scope.first <= first < scope.end:
                return scope.role
        return None


def weigh(around: Around, match: Match, before: int, after: int) -> MovementMention:
    """``match`` with what the words around it say of it; ``before`` and ``after`` are where the movements next to it end and begin."""
    tokens = around.words.tokens
    first, end = match.start, match.end
    why: list[str] = []

    def count(name: str) -> None:
        why.append(name)

    label = _label(around, first, end, before, after, combo=is_combo(match))
    if label:
        count("label")
    opening = _opening(around, first, before)
    if opening:
        count(opening.role)
    if end < len(tokens) and tokens[end].norm == "next" or end + 1 < len(tokens) and tokens[end].norm in ("is", "are") and tokens[end + 1].norm == "next":
        count("then_next")
    lead = _lead(around, first, before)
    if tokens[lead].brk == STOP:
        count("starts")
        if tokens[lead].pause >= 1.0:
            count("pause")
        if end >= len(tokens) or tokens[end].brk == STOP:
            count("alone")
        elif _is_named(around.words, end):
            count("named")
        elif tokens[end].brk == COMMA:
            count("set_off")
    elif tokens[lead].brk == COMMA:
        count("after_comma")
        if end >= len(tokens) or tokens[end].brk == STOP:
            count("apposed")
    quantity = around.by_token.get(first - 1)
    if quantity is not None and quantity.kind == NUMBER and quantity.role in ("bare", "reps") and tokens[first].brk == NO_BREAK:
        count("counted")
    elif first in around.measured and tokens[first].brk == NO_BREAK:
        count("counted")        # "a two hundred metre run"
    if _dosed(around, first, end, after):
        count("dosed")
    if not match.verbal and _enumerated(around, first, before):
        count("enumerated")
    previous = tokens[first - 1].norm if first else ""
    presented = opening is not None and all(t.norm in _ARTICLES for t in tokens[opening.end : first])
    shown = previous in _ARTICLES and first > 1 and tokens[first - 2].norm in _SHOWS and tokens[first - 1].brk == NO_BREAK    # "its mate is the up-down plank"
    if previous in _REFERRING and tokens[first].brk == NO_BREAK and not (presented and previous in _ARTICLES) and not shown:
        count("referring")
    if _is_passing(around, first) and not presented or _is_recovery(around, lead):
        count("passing")
    told = len(match.words) == 2 and match.words[-1] in _T["words"]["risers"] and not shown and not {"label", "counted", "then_next"} & set(why)
    ordered = _is_order(tokens, match, around.words.punctuated)
    whole = match.verbal and len(match.words) >= 3      # "roll your shoulders" has its object in it
    if told or ordered:
        # "sit up", "roll over": told to get somewhere, not to do sit-ups
        count("verbal")
    elif (match.verbal or match.everyday) and _moves(tokens, match, end):
        count("moving")
    elif presented and previous not in _REFERRING and not around.words.punctuated and "pause" in why:
        count("presented")      # "next up rises", after a silence, in captions without marks
    elif match.verbal and not whole:
        count("verbal")
    elif match.everyday and _is_pose(around, first, match, presented or "dosed" in why or _on_a_side(tokens, end)):
        count("pose")
    elif (match.everyday or match.verbal) and first in around.measured:
        count("presented")
    elif match.everyday and not whole and not _is_all_that_comes(tokens, presented, previous, end):
        count("everyday")
    elif len(match.words) > 1:
        count("full_name")
    if match.rung == "unknown" or match.rung in ("fuzzy", "misheard") and len(match.words) < 2:
        count("unsure")         # of several words one may be mis-heard: the others bear it out
    scope = around.scope(first) or ("likened" if _is_told_apart(tokens, end) else None)
    if scope:
        count("scope")
    value, span = label or (None, None)
    return MovementMention(match, first, end, "", sum(_W[name] for name in why), tuple(why), value, span, scope)


def _is_told_apart(tokens: Sequence[Token], end: int) -> bool:
    """``It's a hinge, not a squat``: what it is like, and what not."""
    return [t.norm for t in tokens[end : end + 2]] in (["not", "a"], ["not", "an"]) and tokens[end].brk < STOP


def _is_order(tokens: Sequence[Token], match: Match, punctuated: bool) -> bool:
    """``Windscreen-wiper the knees over``: a name used as a verb, with its object behind it and, where no stop tells, a way to go."""
    if match.end >= len(tokens) or tokens[match.end].brk > NO_BREAK or match.words[-1].endswith("s"):
        return False
    if tokens[match.end].norm not in ("the", "your", "those", "that", "them"):
        return False
    if punctuated:
        return tokens[match.start].brk >= COMMA
    return any(t.norm in _T["words"]["ways"] for t in tokens[match.end + 2 : match.end + 3]) and len(match.words) > 1


def _moves(tokens: Sequence[Token], match: Match, end: int) -> bool:
    """``Jog round the oak``, at the start of a thought."""
    return tokens[match.start].brk == STOP and is_moving_about(tokens, match, end)


def is_moving_about(tokens: Sequence[Token], match: Match, end: int) -> bool:
    """To move about is the movement; ``walk the hands out`` is a part of another, ``run them four times`` is none."""
    if "locomotion" not in match.parts[0].patterns:
        return False
    following = tokens[end].norm if end < len(tokens) and tokens[end].brk == NO_BREAK else ""
    if following == "it" and end + 1 < len(tokens):
        # "jog it out", "walk it off"; to walk something out is part of an inchworm
        out = tokens[end + 1].norm
        following = "" if out == "off" or out == "out" and match.parts[0].base != "walk" else following
    return following not in _T["words"]["objects"]


def _is_all_that_comes(tokens: Sequence[Token], presented: bool, previous: str, end: int) -> bool:
    """``Next up, rises.`` can be nothing else; ``Now, the breathing.`` can."""
    return presented and previous not in _REFERRING and (end >= len(tokens) or tokens[end].brk == STOP)


def _on_a_side(tokens: Sequence[Token], end: int) -> bool:
    """``Pigeon on the right``, ``pigeon, left leg``."""
    return not {"right", "left", "other"}.isdisjoint(t.norm for t in tokens[end : end + 3])


def _is_pose(around: Around, first: int, match: Match, presented: bool) -> bool:
    """``We'll do pigeon``, ``cobra``: what is an animal with an article is a pose without one."""
    before = around.words.tokens[first - 1].norm if first and around.words.tokens[first].brk == NO_BREAK else ""
    if len(match.words) > 1 or before in _ARTICLES or before in _REFERRING or first - 1 in around.by_token:
        return False
    return match.words[0] in _T["words"]["poses"] or match.words[0] in _T["words"]["creatures"] and (presented or before in _T["words"]["leading_to"])


def _is_named(words: Words, end: int) -> bool:
    """What has been described gets its name: ``Butterfly, this is.``"""
    _, stop = words.sentence(end)
    return " ".join(t.norm for t in words.tokens[end:stop]) in _T["words"]["naming"]


_RESTS = frozenset({"rest", "round_rest", "block_rest"})
_DOSES = frozenset({"reps", "reps_each", "reps_side", "side", "breaths", "metres", "calories", "each", "hold", "counts", "sets"})


def _dosed(around: Around, first: int, end: int, after: int) -> bool:
    """A dose follows at once: ``deadlift, five reps``, ``pigeon, a minute each side``, ``goblet squats, ten``."""
    tokens = around.words.tokens
    for i in range(end, min(end + _FAR["dose_after"], after, len(tokens))):
        quantity = around.by_token.get(i)
        if quantity is not None:
            alone = quantity.role == "bare" and quantity.kind != "ordinal" and (quantity.end >= len(tokens) or tokens[quantity.end].brk > NO_BREAK) and i == end
            return quantity.role in _DOSES or alone
    return False


def _enumerated(around: Around, first: int, before: int) -> bool:
    """Right after the count of movements, or of rounds: ``two moves, back to back: deadlift``, ``four rounds of climbers``, ``three sets of
    twelve curls``."""
    tokens = around.words.tokens
    dose = around.by_token.get(first - 1)
    of = (dose.first if dose is not None and dose.kind == NUMBER else first) - 1
    if of - 2 >= before and tokens[of].norm == "of" and tokens[of - 1].norm in _ROUNDS:
        counted = around.by_token.get(of - 2)
        if counted is not None and counted.role in ("rounds", "sets"):
            return True
    for i in range(first - 1, max(before, first - 1 - _FAR["count_before"]), -1):
        quantity = around.by_token.get(i)
        if quantity is not None:
            return quantity.role == "movements"
    return False


def _is_passing(around: Around, first: int) -> bool:
    """``on the press``, ``for your row later``, ``like a plank``: not ``sit down for a stretch``, not ``into cobra``."""
    tokens = around.words.tokens
    i, definite = first - 1, False
    if i >= 0 and tokens[i + 1].brk == NO_BREAK and tokens[i].norm in _REFERRING:
        i, definite = i - 1, True
    if i < 0 or tokens[i + 1].brk != NO_BREAK:
        return False
    if tokens[i].norm == "of" and (i - 1 in around.by_token or tokens[i - 1].norm in _T["words"]["amounts"]):
        return False            # "thirty seconds of goblet squats", "a bit of shadow boxing"
    return tokens[i].norm in (_PASSING if definite else _PASSING_BARE)


def _is_recovery(around: Around, lead: int) -> bool:
    """``One minute of easy paddling`` between the pieces is the rest, however it is spent."""
    before = around.by_token.get(lead)
    return before is not None and before.role in _RESTS and before.kind == LENGTH


def _lead(around: Around, first: int, before: int) -> int:
    """Where the thought that names the movement begins, past articles and the words of introduction."""
    tokens, i = around.words.tokens, first
    while i > before and tokens[i].brk == NO_BREAK and i - 1 >= 0 and (
            tokens[i - 1].norm in _T["words"]["lead"] or i - 1 in around.order_at or i - 1 in around.by_token):
        i -= 1
    return i


def _opening(around: Around, first: int, before: int) -> Phrase | None:
    """A word of introduction close before the movement: ``next``, ``then we've got``, ``first up``."""
    tokens = around.words.tokens
    for i in range(first - 1, max(before - 1, first - 1 - _FAR["opening"]), -1):
        if i in around.order_at:
            phrase = around.order_at[i]
            stops = sum(tokens[k].brk == STOP for k in range(phrase.end, first + 1))
            if stops == 0 or phrase.role in ("first", "last") and stops == 1:
                return phrase
            return None
        if tokens[i + 1].brk == STOP:
            continue
    return None


def _label(around: Around, first: int, end: int, before: int, after: int, *, combo: bool) -> tuple[int, tuple[int, int]] | None:
    """The number said with a movement: before it (``number two, the row``) or after it (``that was number one``)."""
    tokens = around.words.tokens
    best = None
    near = range(bisect_left(around.label_starts, first - _LABEL_REACH), bisect_right(around.label_starts, end + _LABEL_REACH))
    for q in (around.labels[k] for k in near):
        value = q.single or 0.0
        if (before <= q.first or combo and "combination" in q.pattern) and q.end <= first:
            stops = sum(tokens[k].brk == STOP for k in range(q.end, first + 1))
            far = _FAR["label_before_combo" if combo and "combination" in q.pattern else "label_before" if stops else "label_before_said"]
            if first - q.end <= far and stops <= (3 if combo else 1):
                best = (int(value), q.span)
        elif best is None and q.span[0] == end and _closes(tokens, end, q):
            return int(value), q.span
        elif best is None and q.first >= end and q.first < after and q.first - end <= _FAR["label_after"]:
            words_between = [tokens[k].norm for k in range(end, q.span[0])]
            told = tokens[end].brk < STOP or end + 1 not in around.by_token      # "a crunch. And three, no, that's four. Four, lunges"
            if told and q.pattern.startswith("movement") and any(w in ("is", "was", "that", "that's", "for", "as", "our") for w in words_between[-3:]) \
                    and not any(tokens[k].brk == STOP for k in range(end + 1, q.span[0])):
                return int(value), q.span
    return best


def _closes(tokens: Sequence[Token], end: int, q: Quantity) -> bool:
    """``And then glute bridges, number four.``: the number is set off, and is the last of its sentence."""
    return q.pattern.startswith("movement") and tokens[end].brk == COMMA and (q.end >= len(tokens) or tokens[q.end].brk == STOP)
