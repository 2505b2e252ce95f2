"""Values said wrong and put right at once: ``two, sorry, one``; ``four times. No. Three times``; ``I mean left``.

Found before any value is trusted. What was said first becomes void in the normal layer, so that every pattern sees the
sentence as the coach meant it; the slip itself is kept for the report.
"""

from __future__ import annotations

from ..mentions import Slip, Words
from .markers import FILLERS, STRONG, WEAK, Marker, phrase_at
from .numbers import LENGTH, MARK, NUMBER, ORDINAL, TIME_UNITS, WORD, Unit, say
from .tables import table

_T = table("repairs")
_PUT_OFF = FILLERS.union(WEAK)
_LABELS = frozenset(_T["labels"])
_BRIDGE = frozenset(_T["bridge"])
_COUNTED = frozenset(_T["counted"])
_CLASSES = {word: name for name, words in _T["classes"].items() for word in words}
_SAID_TWICE = _T["said_twice"]
_LOOK_BACK = _T["look_back"]
_LOOK_BACK_LABEL = _T["look_back_label"]
_LOOK_BACK_COUNT = _T["look_back_count"]
_LOOK_AHEAD = _T["look_ahead"]
_LOOK_PAST_DOUBT = _T["look_past_doubt"]
_DOUBTED_WITHIN = _T["doubted_within"]
_LOOK_FOR_UNIT = _T["look_for_unit"]


def _is_pronoun(units: list[Unit], k: int) -> bool:
    """``one`` in ``the easier one`` is no number."""
    if units[k].value != 1.0 or units[k].kind != NUMBER:
        return False
    before = units[k - 1].text if k else ""
    after = units[k + 1].text if k + 1 < len(units) else ""
    return before not in _LABELS and after not in _COUNTED


def _number_before(units: list[Unit], marker: Marker) -> int | None:
    """The unit index of the number that the marker may take back."""
    steps = 0
    for k in range(marker.first - 1, -1, -1):
        unit = units[k]
        if unit.kind == MARK:
            continue
        if unit.kind in (NUMBER, LENGTH, ORDINAL):
            if _is_pronoun(units, k):
                return None
            labelled = k and units[k - 1].text in _LABELS
            counts = marker.strong and _noun_after(units, k) in _COUNTED       # "five sets of this pair. No, I don't, four"
            return k if steps <= (_LOOK_BACK_LABEL if labelled else _LOOK_BACK_COUNT if counts else _LOOK_BACK) else None
        steps += 1
        if steps > _LOOK_BACK_LABEL:
            return None
    return None


def _number_after(units: list[Unit], marker: Marker, wrong: Unit) -> tuple[int, int] | None:
    """``(unit index, words between)`` of the number that the marker puts in the place of ``wrong``."""
    steps, k, doubted = 0, marker.end, False
    if marker.strong and (alone := _alone_after(units, marker, wrong)) is not None:
        return alone, 0
    reach = min(len(units), marker.end + 2 * _LOOK_AHEAD + 2)
    while k < reach:
        unit = units[k]
        if unit.kind == MARK:
            if unit.text == "." and steps and not doubted:
                return None
            k += 1
            continue
        doubt = phrase_at(units, k + 1, STRONG)
        if doubt is not None and unit.kind == NUMBER and unit.value == wrong.value:
            # "hang on. Five's too many. Four": the wrong value once more, and that it is wrong
            reach, k, doubted = min(len(units), reach + doubt - k + _LOOK_PAST_DOUBT), doubt, True
            continue
        if unit.kind in (NUMBER, LENGTH, ORDINAL):
            return (_counted_to(units, k) if unit.kind == NUMBER else k), steps
        if doubted and unit.kind == WORD:
            k += 1              # "five's too many, I did the sums on a napkin. Four": why it was wrong
            continue
        if unit.text not in _BRIDGE and unit.text not in _LABELS:
            return None
        steps, k = steps + 1, k + 1
        if steps > _LOOK_AHEAD:
            return None
    return None


def _echoed(units: list[Unit], left: int, marker: Marker) -> int | None:
    """``Thirty on, ten off. Thirty, listen to me. Twenty.``: the wrong value was only said once more, alone; it is wrong where it was first."""
    if units[left - 1].text != "." or any(u.kind != MARK for u in units[left + 1 : marker.first]):
        return None
    return next((k for k in range(left - 1, max(-1, left - _DOUBTED_WITHIN), -1) if units[k][2:] == units[left][2:]), None)


def _alone_after(units: list[Unit], marker: Marker, wrong: Unit) -> int | None:
    """``Thirty, listen to me, that's my mother's oven. Twenty.``: why it was wrong, and the right value as a sentence of its own.

    Only where the wrong value stood right before the marker, and not in a count, which may be interrupted: ``Five, sorry, Dee. Four.``
    """
    before = units[marker.first - 1] if units[marker.first - 1].kind != MARK else units[marker.first - 2]
    ahead = range(marker.end, min(len(units), marker.end + _LOOK_PAST_DOUBT))
    k = next((k for k in ahead if units[k].kind in (NUMBER, LENGTH, ORDINAL)), None)
    if before is not wrong or k is None or units[k].kind not in (NUMBER, wrong.kind) or units[k - 1].text != ".":
        return None
    if any(u.kind != MARK for u in units[k + 1 : k + 2]):
        return None
    after = next((u.value for u in units[k + 1 : k + 4] if u.kind in (NUMBER, LENGTH)), units[k].value)
    counted = isinstance(a := units[k].value, float) and isinstance(b := wrong.value, float) and abs(a - b) == 1.0
    return None if counted or after != units[k].value else k


def _counted_to(units: list[Unit], k: int) -> int:
    """``No, hold on. One, two, three. Four.``: counting up to the right number says the last one."""
    j = k
    while isinstance(value := units[j].value, float):
        following = next((n for n in range(j + 1, min(j + 4, len(units))) if units[n].kind == NUMBER), None)
        if following is None or units[following].value != value + 1:
            break
        j = following
    return j if units[k].value == 1.0 else k


def _noun_after(units: list[Unit], k: int) -> str:
    return units[k + 1].text.rstrip("s") if k + 1 < len(units) and units[k + 1].kind == WORD else ""


def _is_label(units: list[Unit], k: int) -> bool:
    """The number of something: ``station two``, ``the third``; not ``round three times``."""
    return units[k].kind == ORDINAL or k > 0 and units[k - 1].text in _LABELS and _noun_after(units, k) not in _COUNTED


def _compatible(units: list[Unit], left: int, right: int, marker: Marker, between: int) -> bool:
    a, b = units[left], units[right]
    if a.value == b.value and (a.kind == b.kind or LENGTH in (a.kind, b.kind)):
        return False            # "ninety seconds, and I mean ninety"
    if (a.kind == ORDINAL) != (b.kind == ORDINAL) and b.kind != NUMBER:
        return False
    if a.kind == NUMBER and b.kind == LENGTH:
        # "forty, sorry, thirty seconds"; a mere "no" answers a question too, and takes back only what stands right before it
        return between == 0 and marker.first - left <= 2 and (marker.strong or units[left + 1].text == ",")
    if left and units[left - 1].text == "at" and marker.first - left > 2:
        return False            # "if you're still swinging at forty-five then do fewer, make it eight": a moment, and how many from then on
    if _is_label(units, left):
        return b.kind != LENGTH and b.value != a.value and (right and units[right - 1].text in _LABELS or between == 0 or a.kind == b.kind)
    nouns = _noun_after(units, left), _noun_after(units, right)
    if a.kind == LENGTH and b.kind == LENGTH:
        return True
    if marker.strong:
        return nouns[0] == nouns[1] or not nouns[0] or not nouns[1] or between == 0
    return nouns[0] == nouns[1] and bool(nouns[0]) or between == 0 and (not nouns[0] or not nouns[1])


def _like(left: Unit, right: Unit, words: Words) -> Unit:
    """``right`` as the same kind as ``left``: after ``forty seconds, no, fifty`` the fifty is seconds."""
    if left.kind != LENGTH or right.kind != NUMBER or isinstance(right.value, tuple):
        return right
    minutes = any(words.tokens[t].norm.startswith("min") for t in range(left.first, left.end))
    seconds = (right.value or 0.0) * (60 if minutes else 1)
    return Unit(right.first, right.end, LENGTH, f"{say(seconds)}s", seconds)


def _every_minute(units: list[Unit], k: int) -> Unit:
    """``Every minute on the, no, every two minutes``: a minute said without its number can be wrong like any other length."""
    unit = units[k]
    if unit.kind == WORD and k and units[k - 1].text == "every":
        return Unit(unit.first, unit.end, LENGTH, "60s", 60.0)
    return unit


def find_number_repairs(words: Words, units: list[Unit], markers: list[Marker]) -> tuple[list[Unit], set[int], list[Slip]]:
    """The units with repaired values, the indices that became void, and the slips."""
    read, units = units, units.copy()
    lent = {}                   # a minute without its number is a length here, and a word again for the patterns
    for k in [k for k, unit in enumerate(units) if unit.text == "minute"]:
        units[k] = lent[k] = _every_minute(units, k)
    numbers = [k for k, unit in enumerate(units) if unit.kind in (NUMBER, LENGTH)]
    void: set[int] = set()
    slips = _said_again(units, numbers, void)
    meant = {slip.right for slip in slips}      # "four rounds. Three. Three rounds, what am I saying": that was put right before
    settled: set[int] = set()
    for marker in markers:
        if marker.swap:
            slip = _swapped(units, marker, void)
            if slip:
                slips.append(slip)
            continue
        left = _number_before(units, marker)
        if left is None or left in void or any(first <= units[left].first <= end + 2 for first, end in meant):
            continue
        if (after := _number_after(units, marker, units[left])) is None:
            continue
        right, between = after
        if right in settled or not _compatible(units, left, right, marker, between):
            continue
        new = _like(units[left], units[right], words)
        labelled = _is_label(units, left)
        slips.append(Slip("label" if labelled else units[left].kind, (units[left].first, units[left].end),
                          (new.first, new.end), units[left].text, new.text))
        units[right] = new
        settled.add(right)
        void.update(range(left, marker.end))
        if (echoed := _echoed(units, left, marker)) is not None:
            void.add(echoed)
        if labelled and right and units[right - 1].text in _LABELS:
            void.update(range(marker.end, right))
    slips += _doubted(words, units, numbers, void)
    slips += _other_time_unit(words, units, numbers, markers, void)
    for k, length in lent.items():
        if units[k] is length:
            units[k] = read[k]
    return units, void, slips


def _said_again(units: list[Unit], numbers: list[int], void: set[int]) -> list[Slip]:
    """``Four rounds of that. Three. Three rounds``: a number alone, then with the noun of the one before it. ``There's a cap. Twelve. Ten, ten
    minutes``: two numbers alone, the second once more with its noun."""
    slips = []
    for k in numbers:
        if units[k].kind != NUMBER or not 0 < k < len(units) - 2:
            continue
        again = k + 1 if units[k + 1].kind != MARK else k + 2       # captions may have no marks
        if again + 1 > len(units) - 1 or not _is_again(units[k], units[again]):
            continue
        if units[k - 1].text == "," or again == k + 2 and units[k - 1].text != ".":
            continue
        noun = _noun_after(units, again)
        wrong = next((j for j in range(k - 1, max(-1, k - 8), -1) if units[j].kind == NUMBER and j not in void), None)
        if wrong is None or units[wrong].value == units[k].value:
            continue
        alone = wrong == k - 2 and again == k + 2 and units[wrong - 1].text == "." and not _next_in_count(units[wrong], units[k])
        if noun and _noun_after(units, wrong) == noun or alone and (noun or units[again].kind == LENGTH):
            slips.append(Slip(NUMBER, (units[wrong].first, units[wrong].end), (units[k].first, units[k].end), units[wrong].text, units[k].text))
            void.update(range(wrong, k))
    return slips


def _is_again(one: Unit, two: Unit) -> bool:
    """The same number, or it as a length: ``ten, ten minutes``."""
    return two.value == one.value or two.kind == LENGTH and isinstance(one.value, float) and two.value in (one.value, 60 * one.value)


def _next_in_count(one: Unit, two: Unit) -> bool:
    return isinstance(one.value, float) and isinstance(two.value, float) and abs(one.value - two.value) == 1.0


def _doubted(words: Words, units: list[Unit], numbers: list[int], void: set[int]) -> list[Slip]:
    """``Fifteen seconds to change. Fifteen? Twenty.``: the value once more as a question, and another one as the answer."""
    slips = []
    for k in numbers:
        echo = units[k]
        if not 2 <= k < len(units) - 2 or units[k + 1].kind != MARK or not words.talk.text.startswith("?", words.tokens[echo.end - 1].end):
            continue
        answer = next((j for j in range(k + 2, min(k + 6, len(units))) if units[j].kind != MARK and units[j].text not in _PUT_OFF), k)
        if units[answer].kind not in (NUMBER, LENGTH):
            continue
        said = _words_of(words, echo)
        wrong = next((j for j in range(k - 1, max(-1, k - _DOUBTED_WITHIN), -1) if j not in void and units[j].kind in (NUMBER, LENGTH)
                      and (units[j].value == echo.value or _words_of(words, units[j])[: len(said)] == said)), None)
        if wrong is None or units[answer].value == echo.value:
            continue
        new = _like(units[wrong], units[answer], words)
        slips.append(Slip(units[wrong].kind, (units[wrong].first, units[wrong].end), (new.first, new.end), units[wrong].text, new.text))
        units[answer] = new
        void.update({wrong, k})
    return slips


def _other_time_unit(words: Words, units: list[Unit], numbers: list[int], markers: list[Marker], void: set[int]) -> list[Slip]:
    """``Fifteen minutes to breathe. Minutes! Sorry, seconds``; ``twenty minutes a station, I mean seconds``: the number was right, and stands
    where it was said."""
    slips = []
    meant = {k for marker in markers for k in (*range(marker.end, marker.end + 2), marker.first - 1, marker.first - 2)}
    for k in numbers:
        wrong = units[k]
        if wrong.kind != LENGTH or k in void or not isinstance(wrong.value, float):
            continue
        scale = TIME_UNITS.get(words.tokens[wrong.end - 1].norm)
        if scale is None or words.tokens[wrong.first].norm in ("a", "an", "half", "quarter"):
            continue
        near = range(k + 1, min(k + 1 + _LOOK_FOR_UNIT, len(units)))
        end = next((j for j in near if units[j].kind in (NUMBER, LENGTH)), len(units))
        alone = [j for j in near if j < end and units[j].kind == WORD and units[j].text in TIME_UNITS and units[j - 1].kind != NUMBER]
        other = next((j for j in alone if TIME_UNITS[units[j].text] != scale), None)
        if other is None:
            continue
        echoed = any(TIME_UNITS[units[j].text] == scale and all(u.kind == MARK for u in units[j + 1 : other]) for j in alone if j < other)
        if not echoed and other not in meant:
            continue
        seconds = wrong.value / scale * TIME_UNITS[units[other].text]
        right = Unit(wrong.first, wrong.end, LENGTH, f"{say(seconds)}s", seconds)
        slips.append(Slip(LENGTH, (wrong.first, wrong.end), (units[other].first, units[other].end), wrong.text, right.text))
        units[k] = right
        void.update(alone)
    return slips


def _words_of(words: Words, unit: Unit) -> list[str]:
    return [t.norm for t in words.tokens[unit.first : unit.end]]


def _swapped(units: list[Unit], marker: Marker, void: set[int]) -> Slip | None:
    """``fifteen of work and forty five, sorry, other way about``: both values become void; they are said again."""
    numbers = [k for k in range(max(0, marker.first - 14), marker.first) if units[k].kind in (NUMBER, LENGTH)][-2:]
    if len(numbers) < 2:
        return None
    ahead = [k for k in range(marker.end, min(len(units), marker.end + 24)) if units[k].kind in (NUMBER, LENGTH)][:2]
    if len(ahead) < 2 or {units[k].value for k in ahead} != {units[k].value for k in numbers}:
        return None
    void.update(range(numbers[0], marker.end))
    return Slip("order", (units[numbers[0]].first, units[numbers[1]].end), (units[ahead[0]].first, units[ahead[1]].end),
                f"{units[numbers[0]].text} {units[numbers[1]].text}", f"{units[ahead[0]].text} {units[ahead[1]].text}")


def find_word_repairs(words: Words, units: list[Unit], markers: list[Marker]) -> list[Slip]:
    """Sides, limbs and focus said wrong and put right: ``your right, sorry, left knee``; ``the right leg. Arm.``"""
    slips = []
    for marker in markers:
        for name in _T["classes"]:
            slip = _class_slip(units, marker, name)
            if slip:
                slips.append(slip)
                break
    for k in [k for k, unit in enumerate(units[:-2]) if k > 1 and unit.text in _CLASSES]:
        # a single word as a whole sentence, of the same class as the word before it
        if units[k - 1].text in ".," and units[k + 1].text in ".," and units[k].kind == WORD:
            a = units[k - 2].text
            again = units[k - 3].text in ("right", "left") or any(u.text == units[k].text for u in units[k + 2 : k + 2 + _SAID_TWICE])
            if _CLASSES.get(a) == "limb" == _CLASSES[units[k].text] and a != units[k].text and units[k - 1].text == "." and again:
                slips.append(_word_slip(units, k - 2, k))
    return slips


def _class_slip(units: list[Unit], marker: Marker, name: str) -> Slip | None:
    """A word of the class before the marker and another of the same class after it: ``right leg, no, left leg``."""
    left = next((k for k in range(marker.first - 1, max(-1, marker.first - 5), -1) if _CLASSES.get(units[k].text) == name), None)
    right = next((k for k in range(marker.end, min(len(units), marker.end + 5)) if _CLASSES.get(units[k].text) == name), None)
    if left is None or right is None or units[left].text == units[right].text or any(units[k].text == "." for k in range(marker.end, right)):
        return None
    if units[left].text == "right" and (left == 0 or units[left - 1].text == ".") and units[left + 1].kind == MARK and right > marker.end:
        return None             # "Right, sorry, we start on the left": a word to begin with
    near = right - marker.end <= 1 or units[right - 1].text in _BRIDGE
    return _word_slip(units, left, right) if near and (marker.strong or right - marker.end <= 1) else None


def _word_slip(units: list[Unit], left: int, right: int) -> Slip:
    while (earlier := next((k for k in range(left - 1, max(-1, left - _SAID_TWICE), -1) if units[k].text == units[left].text), None)) is not None:
        left = earlier         # "the right leg presses, the right leg. Arm.": both were meant
    return Slip(_CLASSES[units[left].text], (units[left].first, units[left].end), (units[right].first, units[right].end),
                units[left].text, units[right].text)
