"""What is said of one movement while it is introduced: sides, dose, options, coaching points."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from typing import Literal, TypeVar

from ..mentions import FIRST, STOP, Heard, Item, MovementMention, Phrase, Quantity, beginning_in
from ..model import Amount, Dose, Option, Sides, Text
from .values import Plain, Value, plain
from .weights import weight, words

LeftOrRight = Literal["right", "left"]
Said = TypeVar("Said", Phrase, Quantity)

_SIDE_BEFORE, _SIDE_AFTER = 4, 5     # words around a movement in which the side that it is for is named
_ALONE = "ten seconds"      # the pattern of a length that is a sentence of its own
_DOSE_NEAR = 12            # words from a movement to a length that nothing else explains, in a block counted in repetitions
_BESIDE = 5        # words between a movement and its number
_HELD_FROM = 15             # from here on a bare number of a stretch is seconds
_EIGHT = 8.0
_SHORTEST_TOLD_S = 15        # less, on its own, is time left
_FEWEST_REPS, _MOST_REPS = 4, 30     # a bare number of which repetitions are believed without a mark around it
_MOST_POINTS = 4           # coaching points kept of a movement
_OPTION_REACH = 14         # words of an option where no sentence ends it
_LEAD, _LONGEST_UNMARKED = 5, 16     # ... without punctuation, before and after the words that open it
_LONGEST_OPTION = 22       # words kept of an option where no sentence ends it


def quantities_in(heard: Heard, span: tuple[int, int], *roles: str) -> list[Quantity]:
    return [q for q in beginning_in(heard.quantities, span) if q.role in roles]


def outside_options(heard: Heard, found: list[Said]) -> list[Said]:
    """Those that do not belong to an easier or harder way: ``float one foot off, four and four`` is the harder way's own."""
    return [x for x in found if not any(x.first < o.end + _OPTION_REACH and x.first < heard.words.sentence(o.end - 1)[1]
                                        for o in beginning_in(heard.options, (x.first - _LONGEST_OPTION - _OPTION_REACH, x.first + 1)))]


def _one(values: list[Value]) -> Plain | None:
    """The value if all agree, else ``None``."""
    distinct = list(dict.fromkeys(values))
    return plain(distinct[0]) if len(distinct) == 1 else None


def sides_of(heard: Heard, item: Item, *, work_s: Amount, timed: bool, through: bool = False, items: tuple[Item, ...] = ()) -> Sides:
    """The side mode with its amounts: what was said, else what the movement is by nature. ``through``: all of the block is done on one
    side and then all of it on the other."""
    natural = heard.movements[item.intro].match.sides
    if own := _side_of_its_own(heard, item, items):
        return Sides(mode="one", first=own)
    span = item.segment
    through = through or any(n.role == "side_through" for n in beginning_in(heard.notes, span))     # "all six on the right first"
    if through and natural == "alternating":
        natural = "each"
    half = work_s / 2 if timed and isinstance(work_s, (int, float)) else None
    in_name = [p for p in heard.sides if p.first < span[0] < p.end]      # "hug both | knees in"
    said = [p.role for p in outside_options(heard, in_name + beginning_in(heard.sides, span))]
    one_sided = natural == "each" or bool({"each", "halves"} & set(said))
    held = not timed and _is_held(heard, item)
    seconds, each_s = _per_side(heard, span, "each", "side", lengths=True, half=half, one_sided=one_sided, held=held)
    reps, each_n = _per_side(heard, span, "reps_each", "reps_side", lengths=False, half=half, one_sided=one_sided, held=held)
    combo = len(heard.movements[item.intro].match.parts) > 1
    if seconds or {"each", "halves", "other"} & set(said) and natural == "each":
        mode = "each"
    elif combo and not reps and natural == "both":
        mode = "both"           # in a chain the words about sides are about one of its parts
    elif "both" in said and natural == "both" and not reps:
        mode = "both"           # "both knees in, rock a bit, side to side"
    elif "alternating" in said and natural != "each":
        mode = "alternating"
    elif reps:
        mode = "alternating" if natural == "alternating" and not _one_after_the_other(heard, span) else "each"
    elif "one" in said:
        mode = "one"
    elif "each" in said and natural != "alternating":
        mode = "each"
    else:
        mode = natural
    if mode == "each" and not seconds:
        if half and (_switches_halfway(heard, span) or _halved_throughout(heard, half)):
            each_s = plain(half)
        elif not timed and each_n is None:
            each_s = _held_each(heard, span)
            each_s = _class_wide(heard, item, "each") if each_s is None else each_s
    return Sides(mode=mode, seconds_each=each_s if mode == "each" else None,
                 reps_each=each_n if mode in ("each", "alternating") and each_s is None else None, first=_first_side(heard, span, mode))


def _one_after_the_other(heard: Heard, span: tuple[int, int]) -> bool:
    """``Eight on the right leg, and then eight on the left``: both are named with their own amount, which is no changing rep by rep."""
    return len(outside_options(heard, quantities_in(heard, span, "reps_side"))) > 1


def _side_named(heard: Heard, mention: MovementMention) -> LeftOrRight | None:
    """The one side that is named right with a movement, in its sentence: ``clamshell, right side``."""
    tokens = heard.words.tokens
    first, end = heard.words.sentence(mention.first)
    if not heard.words.punctuated:
        first = mention.first
    near = {t.norm for t in tokens[max(first, mention.first - _SIDE_BEFORE) : min(end, mention.end + _SIDE_AFTER)]}
    if ("right" in near) == ("left" in near):
        return None
    return "right" if "right" in near else "left"


def on_two_sides(heard: Heard, one: MovementMention, two: MovementMention) -> bool:
    """``Number two, the clam, right side. Number three, clam, left side``: with each another side is named."""
    return {_side_named(heard, one), _side_named(heard, two)} == {"right", "left"}


def _side_of_its_own(heard: Heard, item: Item, items: tuple[Item, ...]) -> LeftOrRight | None:
    """The side of a movement whose other side is a movement of its own, with the number before or after it."""
    mention = heard.movements[item.intro]
    for twin in (heard.movements[other.intro] for other in items):
        if mention.label is not None and twin.label is not None and abs(twin.label - mention.label) == 1 and twin.match.name == mention.match.name \
                and on_two_sides(heard, mention, twin):
            return _side_named(heard, mention)
    return None


def _is_held(heard: Heard, item: Item) -> bool:
    """A stretch: what is counted of it in twenties and thirties is seconds."""
    parts = heard.movements[item.intro].match.parts
    return bool(parts) and "mobility" in parts[0].patterns and "stretch" in parts[0].name


def _per_side(heard: Heard, span: tuple[int, int], both: str, one: str, *, lengths: bool, half: float | None, one_sided: bool,
              held: bool) -> tuple[bool, Plain | None]:
    """Whether an amount a side was said, and the amount: what was said of both sides at once, else what the sides agree on.

    A bare number that is half the work time is seconds, whatever it was heard as; so is a large one of a stretch.
    """
    def counts(q: Quantity) -> bool:
        is_length = q.kind == "length" or half is not None and q.value == half or held and (q.single or 0) >= _HELD_FROM
        return q.kind != "ordinal" and is_length == lengths

    of_both = [q.value for q in outside_options(heard, quantities_in(heard, span, "each", "reps_each", both)) if counts(q)]
    of_one = [q.value for q in outside_options(heard, quantities_in(heard, span, "side", "reps_side", one)) if counts(q)]
    if of_both:
        return True, plain(of_both[0])
    if one_sided and lengths and half is not None and not of_one and any(q.value == half for q in quantities_in(heard, span, "bare", "work", "hold")):
        return True, plain(half)        # half the work time, said of a movement, is what one side gets
    return bool(of_one), _one(of_one) if of_one else None


def _halved_throughout(heard: Heard, half: float) -> bool:
    """The welcome splits the work time between the sides for all of it: ``twenty five on your right, twenty five on your left``."""
    return any(q.value == half and heard.phase_at(q.first) == "briefing" for q in heard.quantities if q.role in ("each", "side"))


def _held_each(heard: Heard, span: tuple[int, int]) -> Plain | None:
    """The length of a hold that is done on each side, where it was said once for both."""
    said = [q.value for q in quantities_in(heard, span, "hold", "work", "bare", "rest", "left") if q.kind == "length" and _is_told(heard, q)]
    return plain(said[0]) if said else None


def _is_told(heard: Heard, q: Quantity) -> bool:
    """Not time left: outside the work a length on its own (``Twenty five seconds.``) says how long, but for one so short that it tells of
    the end (``Ten seconds.``)."""
    return q.role != "left" or q.pattern == _ALONE and (q.single or 0) >= _SHORTEST_TOLD_S and heard.phase_at(q.first) in ("warm_up", "cool_down", "close")


def _class_wide(heard: Heard, item: Item, role: str) -> Plain | None:
    """What the welcome gives every movement: ``if it has two sides you hold it forty seconds on each. If it hasn't, a minute``."""
    said = [q.value for q in heard.quantities if q.role == role and q.kind == "length" and q.first < item.segment[0]
            and heard.phase_at(q.first) in ("briefing", "demo") and _before_all(heard, q)]
    return plain(said[0]) if said and not isinstance(said[0], tuple) else None


def _before_all(heard: Heard, q: Quantity) -> bool:
    """Before any movement was introduced."""
    return not any(m.first < q.first and m.scope is None and m.intro >= weight("threshold_frame") for m in heard.movements)


def _switches_halfway(heard: Heard, span: tuple[int, int]) -> bool:
    if any(p.role == "halves" for p in beginning_in(heard.sides, span)):
        return True
    halves = [e for e in heard.edges if e.role == "half" and span[0] <= e.first < span[1]]
    return any(abs(p.first - h.first) <= 5 for p in beginning_in(heard.sides, span) if p.role == "each" for h in halves)


def _first_side(heard: Heard, span: tuple[int, int], mode: str) -> str | None:
    if mode != "each":
        return None
    tokens = heard.words.tokens
    for t in tokens[span[0] : span[1]]:
        if t.norm in ("right", "left"):
            following = tokens[t.i + 1].norm if t.i + 1 < len(tokens) else ""
            if following in ("side", "leg", "arm", "hand", "foot", "knee", "hip", "first", "ear"):
                return t.norm
    return None


def dose_of(heard: Heard, item: Item, sides: Sides, *, timed: bool, counted: bool) -> Dose:
    """How much of it: seconds where the block has no common work time, repetitions where they are counted."""
    span = item.segment
    mention = heard.movements[item.intro]
    seconds = None
    if not timed:
        if sides.seconds_each is not None:
            seconds = sides.seconds_each
        elif sides.reps_each is None:
            said = [q.value for q in quantities_in(heard, span, "hold", "work", "bare", "left") if q.kind == "length" and _is_told(heard, q)
                    and (not counted or q.role != "bare" or q.first - mention.end <= _DOSE_NEAR)]
            seconds = plain(said[0]) if said else None
            if seconds is None and sides.mode in ("both", "one") and not quantities_in(heard, span, "reps", "breaths", "counts"):
                seconds = _class_wide(heard, item, "hold")
    said_breaths = [q.value for q in quantities_in(heard, span, "breaths")]
    breaths = _one(([b for b in said_breaths if b != 1.0] or said_breaths)[:1])      # "that's one breath" explains the count
    metres = _one([q.value for q in quantities_in(heard, span, "metres")][:1])
    calories = _one([q.value for q in quantities_in(heard, span, "calories")][:1])
    counts = _counts(heard, span)
    reps = None
    if counted and seconds is None and breaths is None and metres is None and calories is None:
        reps = sides.reps_each if sides.reps_each is not None and sides.mode == "each" else _reps(heard, item, mention, eights=counts is not None)
        if sides.mode == "each" and sides.reps_each is None and quantities_in(heard, span, "reps_each", "reps_side"):
            reps = None
    return Dose(seconds=seconds, reps=reps, counts=counts, breaths=breaths, metres=metres, calories=calories)


def _counts(heard: Heard, span: tuple[int, int]) -> Plain | None:
    """Counts of the music: ``two eights`` are sixteen."""
    said = outside_options(heard, quantities_in(heard, span, "eights"))
    return plain(_EIGHT * said[0].single) if said and said[0].single else None


def _reps(heard: Heard, item: Item, mention: MovementMention, *, eights: bool) -> Plain | None:
    """The repetitions said: right before the movement's name, else the first that stand for themselves; where it is done in eights,
    a number alone is of the count."""
    span = item.segment
    names = {heard.movements[n].first for n in item.mentions if span[0] <= heard.movements[n].first < span[1]}
    numbers = [q for q in quantities_in(heard, span, "bare", "reps") if q.kind == "number"
               and not (q.single is not None and q.single < 2)]
    numbers = outside_options(heard, numbers)
    counted = [q for q in numbers if q.end in names]
    if eights:
        numbers = [q for q in numbers if q.role == "reps"]
    said = counted[:1] or [q for q in numbers if q.role == "reps" or q.first >= mention.end and _stands_alone(heard, q)]
    if not said and not heard.words.punctuated:
        # nothing tells where its sentence ends: the only number there is
        bare = [q for q in numbers if q.role == "bare" and q.first >= mention.end and _FEWEST_REPS <= (q.single or 0) <= _MOST_REPS]
        said = bare if len({q.value for q in bare}) == 1 else []
    return plain(said[0].value) if said else None


def otherwise_later(heard: Heard, item: Item, reps: Plain) -> bool:
    """Whether another number of repetitions than ``reps`` is said when the movement is named once more: ``leg lifts, ten on the left``."""
    later = [m for n in item.mentions[1:] if (m := heard.movements[n]).scope is None and not m.option]
    return any(q.value != reps for m in later for q in quantities_in(heard, (m.first - _BESIDE, m.end + _BESIDE), "reps", "reps_side"))


def _stands_alone(heard: Heard, q: Quantity) -> bool:
    tokens = heard.words.tokens
    first = q.first - 1 if q.first and tokens[q.first - 1].norm == "and" else q.first
    end = q.end
    while end < len(tokens) and tokens[end].brk == 0 and tokens[end].norm in words("after_amount"):
        end += 1        # "twelve, please"
    return tokens[first].brk > 0 and (end >= len(tokens) or tokens[end].brk > 0)


def thought(heard: Heard, phrase_first: int, span: tuple[int, int]) -> tuple[int, int]:
    """The sentence around a phrase, kept within ``span`` and to a readable length."""
    first, end = heard.words.sentence(phrase_first)
    first, end = max(first, span[0]), min(end, span[1])
    if not heard.words.punctuated:
        return max(first, phrase_first - _LEAD), min(end, phrase_first + _LONGEST_UNMARKED)
    if phrase_first - first > _LONGEST_OPTION // 2:
        first = phrase_first
    tokens = heard.words.tokens
    if end - phrase_first <= 3 and end < span[1] and tokens[end].brk == STOP:
        # "Too much? One bell, both hands on it.": the answer belongs to it
        end = min(heard.words.sentence(end)[1], span[1])
    return first, min(end, first + 2 * _LONGEST_OPTION)


def options_of(heard: Heard, item: Item, others: tuple[Item, ...] = ()) -> list[Option]:
    """The ways offered while it is shown, and those that name it elsewhere before the work (``knees down for the push-ups``)."""
    out: list[Option] = []
    last_end, called = -1, _called(heard, item)
    near = [item.segment, *((at - 2 * _LONGEST_OPTION, at + _LONGEST_OPTION) for at in called)]
    for phrase in sorted({phrase for span in near for phrase in beginning_in(heard.options, span)}, key=FIRST):
        if not _offers(heard, phrase, item, others, called):
            continue
        if phrase.first < last_end and any(o.kind == phrase.role for o in out):
            continue
        span = item.segment if item.segment[0] <= phrase.first < item.segment[1] else (0, len(heard.words.tokens))
        first, end = thought(heard, phrase.first, span)
        if any(n.role == "caution" and first <= n.first < end for n in heard.notes):
            continue
        source = heard.words.source(first, end)
        if any(o.kind == phrase.role and o.text == source.quote for o in out):
            continue
        out.append(Option(kind=phrase.role, text=" ".join(source.quote.split()), sources=[source]))
        last_end = end
    return [o for o in out if o.kind != "substitution" or not any(_overlap(o, other) for other in out if other.kind == "regression")]


def points_of(heard: Heard, item: Item, options: list[Option]) -> list[Text]:
    """The coaching points said while it is shown, a few of them, each thought once; not those inside an option."""
    taken = [o.sources[0].chars for o in options]
    out: list[Text] = []
    for note in beginning_in(heard.notes, item.segment):
        if note.role != "cue" or len(out) == _MOST_POINTS or heard.phase_at(note.first) == "work":
            continue
        source = heard.words.source(*thought(heard, note.first, item.segment))
        if all(source.chars[1] <= a or b <= source.chars[0] for a, b in taken):
            taken.append(source.chars)
            out.append(Text(text=" ".join(source.quote.split()), sources=[source]))
    return out


def _overlap(one: Option, two: Option) -> bool:
    """In one thought: another movement that is offered as the easier way is the easier way."""
    a, b = one.sources[0].chars, two.sources[0].chars
    return a[0] < b[1] and b[0] < a[1]


def _offers(heard: Heard, phrase: Phrase, item: Item, others: tuple[Item, ...], called: Sequence[int]) -> bool:
    """Whether ``phrase`` offers another way of ``item``: it names it in its sentence, or stands in its segment and names no other.
    ``called``: where the item is named besides."""
    first, end = phrase.first - _LONGEST_OPTION // 2, phrase.end + _LONGEST_OPTION
    inside = item.segment[0] <= phrase.first < item.segment[1]
    sentence = heard.words.sentence(phrase.first)
    first, end = max(first, sentence[0]), min(end, sentence[1])
    if inside:
        return _within(called, first, end) or not any(o.segment[0] < item.segment[0] and _within(_called(heard, o), first, end) for o in others)
    return _within(called, first, end) and heard.phase_at(phrase.first) != "work" and not _introduces_something(heard, others, first, end)


def _called(heard: Heard, item: Item) -> list[int]:
    """The tokens at which the item is named once it was introduced, in a thought of its own or in passing."""
    mentions = (heard.movements[n] for n in item.mentions[1:])
    return sorted(m.first for m in mentions if "passing" in m.why or "starts" in m.why)


def _within(called: Sequence[int], first: int, end: int) -> bool:
    k = bisect_left(called, first)
    return k < len(called) and called[k] < end


def _introduces_something(heard: Heard, items: tuple[Item, ...], first: int, end: int) -> bool:
    return any(first <= heard.movements[i.intro].first < end for i in items)
