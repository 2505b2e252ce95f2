"""Movements: what the lexicon finds, how much the words around it introduce it, and the number said with it.

Roles come later, from all the mentions together (``build``). Here each mention only gets its evidence: a number, an opening
word, the start of a thought, a scope that makes it a mere mention, a dense list around it. Weights: ``data/intro.toml``.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import replace

from lexicon import Lexicon, Match, Part, Same, Speech

from ..mentions import COMMA, NO_BREAK, STOP, Clause, MovementMention, Phrase, Quantity, Slip, Token, Words
from .combos import BOXING_WORDS, is_combo, join_combos
from .tables import table
from .weighing import Around, is_moving_about, weigh

_T = table("intro")
_W: dict[str, float] = _T["weights"]
_FAR: dict[str, int] = _T["reach"]
_LINKS = frozenset(_T["words"]["list_links"])
_CHAIN_LINKS = frozenset(_T["words"]["chain_links"])
Weighed = tuple[tuple[Match, int, int, list[Quantity]], MovementMention]
"""A match, where those next to it end and begin, the numbers around it, and what was made of it."""
_ONE_OF_IT = frozenset({"alone", "set_off", "named"})
_FRAMES = ("warm_up", "cool_down", "close")


def match_movements(words: Words, lexicon: Lexicon, speech: Speech, void: set[int], labels: Sequence[int], surely: set[int],
                    ends: set[int]) -> list[Match]:
    """What the lexicon finds in the words that count: not in those taken back, not in what others say. No name goes over the tokens
    ``labels``, at which a number ends, and ``ends``, at which something else does. ``speech`` are the words as the lexicon has them.
    """
    breaks = {t.i for t in words.tokens if t.brk == STOP or t.brk == COMMA and not _goes_on(words, t)}.union(labels, ends)
    matches = [m for m in lexicon.scan(speech, breaks) if m.start not in void and not words.tokens[m.start].quoted]
    matches += _numbered(words, lexicon, speech, labels, surely, matches)
    matches = sorted(matches + _unknown_again(words, matches), key=lambda m: m.start)
    return join_combos(words, lexicon, matches)


def _goes_on(words: Words, token: Token) -> bool:
    """Whether a name may go over the comma before ``token``: ``squat, then press``; of punches, ``jab, cross, roll``."""
    before = words.tokens[token.i - 1].norm if token.i else ""
    return token.norm in _CHAIN_LINKS or token.norm in BOXING_WORDS and (before in BOXING_WORDS or before in _CHAIN_LINKS or before.isdigit())


def told_by_another_name(movements: Sequence[MovementMention]) -> list[MovementMention]:
    """``Game three is the washing machine. Sit down, lean back a touch, and twist. Russian twists, your gym people say``: a name that the
    lexicon does not have, with its number, and before the next number a movement that it has, as a thought of its own: one movement."""
    out = list(movements)
    for k, unknown in enumerate(movements):
        if unknown.match.rung != "unknown" or unknown.label is None:
            continue
        for told in movements[k + 1 :]:
            if told.label is not None or told.first - unknown.end > _FAR["other_name"]:
                break
            named = "full_name" in told.why and "starts" in told.why and not _ONE_OF_IT.isdisjoint(told.why)
            if named and told.scope is None and told.match.rung != "unknown" and not told.match.verbal and told.match.words[-1].endswith("s"):
                out[k] = replace(unknown, match=replace(told.match, start=unknown.match.start, end=unknown.match.end, words=unknown.match.words))
                break
    return out


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


def _numbered(words: Words, lexicon: Lexicon, speech: Speech, labels: Sequence[int], surely: set[int], matches: Sequence[Match]) -> list[Match]:
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
        begins = {first, first + 1}         # there may be an article before the name
        named = not (speech.names.isdisjoint(begins) and speech.parts.isdisjoint(begins))
        for stop in range(end, first, -1) if named else ():
            if taken.isdisjoint(range(first, stop)) and (match := lexicon.find_in(speech, first, stop, named=at in surely)):
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
                   void: set[int], weighed: dict[int, Weighed]) -> list[MovementMention]:
    """Every movement phrase with its evidence; the phase is filled in later. ``weighed`` keeps what was found by the first word of the phrase:
    it holds again where nothing around it is another."""
    around = Around(words, quantities, order, scopes, void)
    found = []
    for n, match in enumerate(matches):
        before = matches[n - 1].end if n else 0
        after = matches[n + 1].start if n + 1 < len(matches) else len(words.tokens)
        beside = match, before, after, around.numbers(match, before, after)
        known = weighed.get(match.start)
        if known is None or known[0] != beside:
            known = weighed[match.start] = beside, weigh(around, match, before, after)
        found.append(known[1])
    return _mark_lists(words, _told_one_after_the_other(around, _one_combo_a_round(found)))


def _told_one_after_the_other(around: Around, mentions: list[MovementMention]) -> list[MovementMention]:
    """``Ten burpees, twenty swings, thirty double unders`` and ``Thrusters and pull-ups.`` list what is done: at least three with their
    amounts, or two that are a sentence.
    """
    tokens, out = around.words.tokens, list(mentions)
    run: list[int] = []

    def close() -> None:
        first, end = (mentions[run[0]].first, mentions[run[-1]].end) if run else (0, 0)
        counted = len(run) >= 3 and all("counted" in mentions[k].why for k in run)
        whole = len(run) == 2 and around.words.punctuated and tokens[first].brk == STOP and (end >= len(tokens) or tokens[end].brk == STOP)
        if counted or whole:
            sign = "enumerated" if counted else "alone"
            for k in run:
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
    near = mention.first - clause.first <= _FAR["move_after"]
    return near and not {"verbal", "everyday"}.isdisjoint(mention.why) and is_moving_about(words.tokens, mention.match, mention.end)


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
        if a.scope == "negated" or b.scope == "negated" or same(a.match, b.match).same or sum(t.brk == STOP for t in words.tokens[end : b.first + 1]) > 1:
            continue            # "Sorry. Down. Away. Plank." excuses, and goes on
        slip = Slip("movement", (a.first, a.end), (b.first, b.end), a.match.name, b.match.name)
        out.append((left, right, slip))
    return out
