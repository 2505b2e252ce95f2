"""Movements: what the lexicon finds, how much the words around it introduce it, and the number said with it.

Roles come later, from all the mentions together (``build``). Here each mention only gets its evidence: a number, an opening
word, the start of a thought, a scope that makes it a mere mention, a dense list around it. Weights: ``data/intro.toml``.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import replace

from lexicon import Lexicon, Match, Part, Same

from ..mentions import COMMA, NO_BREAK, STOP, Clause, MovementMention, Phrase, Quantity, Slip, Token, Words
from .combos import BOXING_WORDS, is_combo, join_combos
from .numbers import LENGTH, NUMBER
from .tables import table

_T = table("intro")
_W: dict[str, float] = _T["weights"]
_FAR: dict[str, int] = _T["reach"]
_SHOWS = frozenset(_T["words"]["shows"])
_REFERRING = frozenset(_T["words"]["referring"])
_ARTICLES = frozenset(_T["words"]["articles"])
_PASSING = frozenset(_T["words"]["passing"])
_PASSING_BARE = frozenset(_T["words"]["passing_bare"])
_LINKS = frozenset(_T["words"]["list_links"])
LAST = 0
_FRAMES = ("warm_up", "cool_down", "close")


class _Around:
    """The mentions of other kinds by place, for looking left and right of a movement."""

    def __init__(self, words: Words, quantities: Sequence[Quantity], order: Sequence[Phrase], scopes: Sequence[Phrase],
                 void: set[int]) -> None:
        self.words = words
        self.by_token = {t: q for q in quantities for t in range(q.first, q.end)}
        self.labels = [q for q in quantities if q.role == "label" and q.first not in void]
        measures = [q for q in quantities if q.role in ("metres", "calories")]
        self.measured = {q.span[1] for q in measures}
        self.amounts = self.by_token.keys() | {t for q in measures for t in range(*q.span)}
        self.order_at = {t: p for p in order for t in range(p.first, p.end)}
        self.scopes = scopes
        self.scope_starts = [s.first for s in scopes]

    def scope(self, first: int) -> str | None:
        k = bisect_right(self.scope_starts, first)
        for scope in reversed(self.scopes[max(0, k - 4) : k]):
            if scope.first <= first < scope.end:
                return scope.role
        return None


def match_movements(words: Words, lexicon: Lexicon, void: set[int], labels: Sequence[int], surely: set[int], ends: set[int]) -> list[Match]:
    """What the lexicon finds in the words that count: not in those taken back, not in what others say. No name goes over the tokens
    ``labels``, at which a number ends, and ``ends``, at which something else does.
    """
    norms = [t.norm for t in words.tokens]
    links = BOXING_WORDS.union(_T["words"]["chain_links"])
    breaks = {t.i for t in words.tokens if t.brk == STOP or t.brk == COMMA and t.norm not in links}.union(labels, ends)
    matches = [m for m in lexicon.scan(norms, breaks) if m.start not in void and not words.tokens[m.start].quoted]
    matches += _numbered(words, lexicon, labels, surely, matches)
    matches = sorted(matches + _unknown_again(words, matches), key=lambda m: m.start)
    return join_combos(words, lexicon, matches)


def _unknown_again(words: Words, matches: Sequence[Match]) -> list[Match]:
    """A name that the lexicon does not have, where a thought opens with it after it got its number: ``Circles, eight forwards``."""
    taken, norms = {t for m in matches for t in range(m.start, m.end)}, [t.norm for t in words.tokens]
    out = []
    for match in (m for m in matches if m.rung == "unknown"):
        long = match.end - match.start
        for i in words.opens:
            if i >= match.end and tuple(norms[i : i + long]) == match.words and taken.isdisjoint(range(i, i + long)):
                out.append(replace(match, start=i, end=i + long))
                taken.update(range(i, i + long))
    return out


def _numbered(words: Words, lexicon: Lexicon, labels: Sequence[int], surely: set[int], matches: Sequence[Match]) -> list[Match]:
    """What stands right after a movement's number is its name, even where it is an everyday word: ``exercise one, the hundred``.

    ``labels`` are the tokens at which a number ends, ``surely`` those of them where it can only be a movement's.
    """
    tokens, taken = words.tokens, {t for m in matches for t in range(m.start, m.end)}
    out: list[Match] = []
    for at in labels:
        first = at
        while first < len(tokens) and first - at < _FAR["name_after_label"] and tokens[first].norm in _T["words"]["before_name"]:
            first += 1
        end = first + 1
        while end < len(tokens) and end - first < _FAR["longest_name"] and tokens[end].brk == NO_BREAK:
            end += 1
        for stop in range(end, first, -1):
            if taken.isdisjoint(range(first, stop)) and (
                    match := lexicon.find(" ".join(t.norm for t in tokens[first:stop]), named=at in surely)):
                out.append(replace(match, start=first, end=stop, everyday=False, verbal=False))
                break
        else:
            if at in surely and words.punctuated and (unknown := _unknown(words, first, end, taken)):
                out.append(unknown)
    return out


def _unknown(words: Words, first: int, end: int, taken: set[int]) -> Match | None:
    """A name that the lexicon does not have, where a number announces one and nothing known follows."""
    tokens = words.tokens
    if first >= len(tokens) or not taken.isdisjoint(range(first, min(len(tokens), first + _FAR["unknown_clear"]))):
        return None
    stop = first
    while stop < end and tokens[stop].norm not in _T["words"]["no_name"] and tokens[stop].norm.isalpha():
        stop += 1
    closed = stop >= len(tokens) or tokens[stop].brk > NO_BREAK
    if not 1 <= stop - first <= _FAR["longest_unknown"] or not closed or stop - first == 1 and tokens[first].norm in _T["words"]["vague"]:
        return None
    said = tuple(t.norm for t in tokens[first:stop])
    name = " ".join(said)
    part = Part(name=name, base=None, base_id="", family=None, link=None, modifiers=(), equipment=(), patterns=(), muscles=(), sides="both",
                position="", impact="", easier=(), harder=(), cautions=())
    return Match(start=first, end=stop, words=said, name=name, parts=(part,), sides="both", equipment=(), rung="unknown", score=0.0,
                 everyday=False, verbal=False)


def find_movements(words: Words, matches: Sequence[Match], *, quantities: Sequence[Quantity], order: Sequence[Phrase], scopes: Sequence[Phrase],
                   void: set[int]) -> list[MovementMention]:
    """Every movement phrase with its evidence; the phase is filled in later."""
    around = _Around(words, quantities, order, scopes, void)
    found = []
    for n, match in enumerate(matches):
        before = matches[n - 1].end if n else 0
        after = matches[n + 1].start if n + 1 < len(matches) else len(words.tokens)
        found.append(_weigh(around, match, before, after))
    return _mark_lists(words, _told_one_after_the_other(around, _one_combo_a_round(found)))


def _told_one_after_the_other(around: _Around, mentions: list[MovementMention]) -> list[MovementMention]:
    """``Ten burpees, twenty swings, thirty double unders`` and ``Thrusters and pull-ups.`` list what is done: at least three with their
    amounts, or two that are a sentence.
    """
    tokens, out = around.words.tokens, list(mentions)
    run: list[int] = []

    def close() -> None:
        first, end = (mentions[run[0]].first, mentions[run[-1]].end) if run else (0, 0)
        counted = len(run) >= 3 and all("counted" in mentions[k].why for k in run)
        whole = len(run) == 2 and around.words.punctuated and tokens[first].brk == STOP and (end >= len(tokens) or tokens[end].brk == STOP)
        sign = "enumerated" if counted else "alone" if whole else None
        for k in run if sign else ():
            if sign not in out[k].why:
                out[k] = replace(out[k], intro=out[k].intro + _W[sign], why=(*out[k].why, sign))
        run.clear()

    for n, mention in enumerate(mentions):
        if run and not all(t in around.amounts or tokens[t].norm in _LINKS for t in range(mentions[run[-1]].end, mention.first)):
            close()
        if mention.scope is None and not mention.match.verbal:
            run.append(n)
        else:
            close()
    close()
    return out


def _one_combo_a_round(mentions: list[MovementMention]) -> list[MovementMention]:
    """The number of a round belongs to the first combination after it, not to a punch named on the way there."""
    taken: dict[tuple[int, int], int] = {}
    for n, m in enumerate(mentions):
        if m.label_span and is_combo(m.match):
            taken.setdefault(m.label_span, n)
    return [m if m.label_span is None or taken.get(m.label_span, n) == n else replace(m, label=None, label_span=None, intro=m.intro - _W["label"],
                                                              why=tuple(w for w in m.why if w != "label"))
            for n, m in enumerate(mentions)]


def _weigh(around: _Around, match: Match, before: int, after: int) -> MovementMention:
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
    return tokens[match.start].brk == STOP and _is_moving_about(tokens, match, end)


def _is_moving_about(tokens: Sequence[Token], match: Match, end: int) -> bool:
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


def _is_pose(around: _Around, first: int, match: Match, presented: bool) -> bool:
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


def _dosed(around: _Around, first: int, end: int, after: int) -> bool:
    """A dose follows at once: ``deadlift, five reps``, ``pigeon, a minute each side``, ``goblet squats, ten``."""
    tokens = around.words.tokens
    for i in range(end, min(end + _FAR["dose_after"], after, len(tokens))):
        quantity = around.by_token.get(i)
        if quantity is not None:
            alone = quantity.role == "bare" and quantity.kind != "ordinal" and (quantity.end >= len(tokens) or tokens[quantity.end].brk > NO_BREAK) and i == end
            return quantity.role in _DOSES or alone
    return False


def _enumerated(around: _Around, first: int, before: int) -> bool:
    """Right after the count of movements: ``two moves, back to back: deadlift``."""
    for i in range(first - 1, max(before, first - 1 - _FAR["count_before"]), -1):
        quantity = around.by_token.get(i)
        if quantity is not None:
            return quantity.role == "movements"
    return False


def _is_passing(around: _Around, first: int) -> bool:
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


def _is_recovery(around: _Around, lead: int) -> bool:
    """``One minute of easy paddling`` between the pieces is the rest, however it is spent."""
    before = around.by_token.get(lead)
    return before is not None and before.role in _RESTS and before.kind == LENGTH


def _lead(around: _Around, first: int, before: int) -> int:
    """Where the thought that names the movement begins, past articles and the words of introduction."""
    tokens, i = around.words.tokens, first
    while i > before and tokens[i].brk == NO_BREAK and i - 1 >= 0 and (
            tokens[i - 1].norm in _T["words"]["lead"] or i - 1 in around.order_at or i - 1 in around.by_token):
        i -= 1
    return i


def _opening(around: _Around, first: int, before: int) -> Phrase | None:
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


def _label(around: _Around, first: int, end: int, before: int, after: int, *, combo: bool) -> tuple[int, tuple[int, int]] | None:
    """The number said with a movement: before it (``number two, the row``) or after it (``that was number one``)."""
    tokens = around.words.tokens
    best = None
    for q in around.labels:
        value = q.single
        if value is None:
            continue
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


def _mark_lists(words: Words, mentions: list[MovementMention]) -> list[MovementMention]:
    """Number the dense lists: three or more movements with hardly a word between them."""
    out, lists = list(mentions), 0
    run: list[int] = []

    def close() -> None:
        nonlocal lists
        if len(run) >= 3:
            for k in run:
                out[k] = replace(out[k], listed=lists)
            lists += 1
        run.clear()

    for n, mention in enumerate(mentions):
        if run:
            between = words.tokens[mentions[run[-1]].end : mention.first]
            dense = len(between) <= _FAR["list_gap"] and all(t.norm in _LINKS for t in between)
            rhythm = mention.match.name == mentions[run[-1]].match.name       # "kick, kick, sweep"
            if not dense or rhythm or mention.label is not None:
                close()
        if mention.scope not in ("negated", "other_time", "others"):
            run.append(n)
    close()
    return out


def with_phases(mentions: list[MovementMention], clauses: Sequence[Clause], options: Sequence[Phrase], words: Words) -> list[MovementMention]:
    """The mentions with the phase they are in, and whether they stand inside an option."""
    starts, openings = [c.first for c in clauses], [o.first for o in options]
    out = []
    for mention in mentions:
        clause = clauses[bisect_right(starts, mention.first) - 1] if clauses else None
        phase = clause.phase if clause else "briefing"
        if clause and phase in _FRAMES and _is_told_to_move(words, mention, clause):
            held = "verbal" if "verbal" in mention.why else "everyday"
            mention = replace(mention, intro=mention.intro + _W["moving"] - _W[held], why=(*mention.why, "moving"))
        # the last option that begins before it: an earlier one is farther, with no fewer stops in between
        k = bisect_right(openings, mention.first)
        inside = k > 0 and _in_option(words, options[k - 1], mention)
        out.append(replace(mention, phase=phase, option=inside))
    return out


def _is_told_to_move(words: Words, mention: MovementMention, clause: Clause) -> bool:
    """``Warm up, jog to the corner``: moving about, said where a thought of the warm-up or the cool-down begins."""
    return not {"verbal", "everyday"}.isdisjoint(mention.why) and mention.first - clause.first <= _FAR["move_after"] and _is_moving_about(words.tokens, mention.match, mention.end)


def _in_option(words: Words, option: Phrase, mention: MovementMention) -> bool:
    """In the same sentence after the words that open the option, or close before them."""
    if mention.first < option.end:
        return True
    gap = words.tokens[option.end : mention.first + 1]
    return len(gap) <= _FAR["option_after"] and not any(t.brk == STOP for t in gap)


def movement_slips(words: Words, mentions: Sequence[MovementMention], markers: Sequence[tuple[int, int]],
                   same: Callable[[Match, Match], Same]) -> list[tuple[int, int, Slip]]:
    """A movement said wrong and put right at once: ``goblet deadlift, sorry, goblet squat``.

    ``markers`` are the token spans of the words of repair. Gives ``(wrong index, right index, slip)``.
    """
    out = []
    for first, end in markers:
        left = next((k for k in range(len(mentions) - 1, -1, -1) if mentions[k].end <= first), None)
        right = next((k for k in range(len(mentions)) if mentions[k].first >= end), None)
        if left is None or right is None:
            continue
        a, b = mentions[left], mentions[right]
        if b.scope == "negated" and same(a.match, b.match).same and right + 1 < len(mentions):
            # "the pigeon first. No, not pigeon. Figure four": the next one is meant
            right, b, end = right + 1, mentions[right + 1], max(end, mentions[right + 1].first - _FAR["repair_after"])
            if b.first - first > _FAR["repair_restart"]:
                continue
        if first - a.end > _FAR["repair_before"] or b.first - end > _FAR["repair_after"]:
            continue
        if b.scope == "negated" or same(a.match, b.match).same or sum(t.brk == STOP for t in words.tokens[end : b.first + 1]) > 1:
            continue            # "Sorry. Down. Away. Plank." excuses, and goes on
        slip = Slip("movement", (a.first, a.end), (b.first, b.end), a.match.name, b.match.name)
        out.append((left, right, slip))
    return out
