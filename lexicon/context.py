"""What stands around a phrase decides whether it is a movement at all, only maybe one, or a verb in passing."""

from __future__ import annotations

from dataclasses import dataclass

from .everyday import Around, Everyday, Never, compile_never, never_spans
from .grammar import Item
from .speech import Speech

_MANY = 4         # this many of something mis-heard, with a dose beside it, is believed
_BESIDE = 3       # words on either side
_NOTHING = ("",) * _BESIDE


Barred = dict[int, list[tuple[int, int]]]
"""Spans by each word in them."""


@dataclass(frozen=True, slots=True)
class Verdict:
    everyday: bool
    verbal: bool


def over(item: Item, barred: Barred) -> set[tuple[int, int]]:
    """The barred spans that hold a word of the item."""
    return {span for i in range(item.start, item.end) for span in barred.get(i, ())}


class Context:
    """The word classes, compiled once."""

    def __init__(self, everyday: Everyday, body: frozenset[str], muscles: frozenset[str],
                 kit: frozenset[str]) -> None:
        self.around: Around = everyday.around
        self.things = everyday.things
        self.turned = everyday.turned
        self.body = body
        self.told = body | muscles
        self.at_hand = body | kit | everyday.around.surroundings
        self.never: Never = compile_never(everyday)

    def barred(self, speech: Speech) -> Barred:
        """The spans that are certainly no movement."""
        table: Barred = {}
        if speech.never is None:
            speech.never = never_spans(speech.words, self.never, self.around)
        for span in speech.never:
            if speech.breaks.isdisjoint(range(span[0] + 1, span[1])):       # "Next up, rises. Up on your toes": no rising up
                for i in range(*span):
                    table.setdefault(i, []).append(span)
        return table

    def judge(self, speech: Speech, item: Item, barred: Barred, *, named: bool = False) -> Verdict | None:
        """None: no movement here. Otherwise whether it is still in doubt, and whether it is used as a verb. ``named``: a name stands here."""
        place = _Place(speech, item)
        if self._held_so(place) or self._is_told(place):
            return None
        if place.past and not item.everyday:
            return Verdict(False, True)
        if item.name_words[0] == "a" and not place.plural and len(speech) > item.end - item.start:
            return None  # "a march" is one march, not the drill of that letter
        doubtful = item.everyday and not item.strong
        for start, end in over(item, barred):
            named_in_it = start == item.start and end > item.base_at + len(item.name_words)     # "rowers to | the wall" names no row at a wall
            within = item.start <= start and end <= item.end and (start, end) != (item.start, item.end) and not named_in_it
            if start <= item.start and item.end <= end or doubtful and start < item.end and item.start < end and not within:
                return None
        if item.unsure and not item.strong and len(item.name_words) < 2 and not named and not self._counted(place):
            return None
        if item.rung == "fuzzy" and item.everyday:
            return None
        verbal = self._is_verb(place, doubtful)
        if not doubtful:
            return Verdict(False, verbal)
        if self._told_of_another(place) or "like" in (place.before, place.before2):
            return None
        if self._of_something_else(place):
            return None
        return Verdict(verbal or not self._decided(place), verbal)

    # ---------------------------------------------------------------- verbs

    def _held_so(self, place: _Place) -> bool:
        """``chest lifted``, ``heels lifted off the floor``: how a part of the body is held meanwhile."""
        return place.ending.endswith("ed") and place.ending != place.item.name_words[-1] and place.item.name_words[0] in self.body

    def _is_told(self, place: _Place) -> bool:
        """A part of the body and what it does: ``your heel drops a little``, ``inner thighs squeeze together``; not ``your leg lifts``."""
        a, names = self.around, place.item.name_words
        if len(names) < 2 or names[-2] not in self.told or place.item.end - place.item.start != len(names):
            return False
        if place.next in ("it", "them") and place.ending == names[-1]:   # "the right ankle on your left knee, pull it in"
            return True
        goes_on = place.next in a.particles or place.next in a.telling
        if place.acting == names[-2] + "s" and place.ending == names[-1]:
            return goes_on or place.next in a.objects
        owner = place.before2 if place.before in a.surroundings else place.before
        return place.ending == names[-1] + "s" and (owner in a.possessives or owner in a.determiners) and goes_on

    def _is_verb(self, place: _Place, doubtful: bool) -> bool:
        """``press it up``, ``row to the hips``, ``you lunge``; not ``the row to the hips``."""
        a, item = self.around, place.item
        if item.name_words[0] in self.turned and item.name_words[-1] in self.body:
            return True
        if len(item.name_words) > 1 and not (len(item.name_words) == 2 and item.name_words[1] in a.particles):
            return False
        if item.strong:
            return False
        if place.next in ("it", "them"):
            return True
        if place.plural or place.before in a.determiners or place.before in a.possessives or place.before.isdigit():
            return False
        if place.before in a.before_verb or place.before in a.subjects:
            return True
        if place.next in ("to", "through", "into", "from", "towards", "off") and (
                place.next2 in a.possessives or place.next2 in ("the", "each") and place.next3 in self.body):
            return True
        if len(item.name_words) == 2 and not doubtful:
            return False
        if place.next == "down":
            return True
        return doubtful and (place.next in a.objects or place.next in a.particles or place.next in self.body)

    def _told_of_another(self, place: _Place) -> bool:
        """The past and the third person of an everyday word: ``pressed``, ``it runs``."""
        first = place.item.name_words[0]
        pulled = place.opening.endswith("ed") and place.opening != first and place.item.base_at == place.item.start
        return place.past or pulled or place.plural and place.before in self.around.subjects

    def _of_something_else(self, place: _Place) -> bool:
        """``kick the bucket``, ``leap of faith``: what follows is no part of the body, no equipment, no place in the room."""
        a, (one, two, three) = self.around, (place.next, place.next2, place.next3)
        if one == "of":
            return not (two.isdigit() or two in a.objects and two not in a.determiners and two not in a.possessives or two in ("each", "those", "these"))
        if place.plural or place.before in a.determiners or place.before in a.possessives or place.before.isdigit():
            return False
        return bool(two) and (one in a.determiners or one in a.possessives) and two not in self.at_hand and three not in self.at_hand

    # ---------------------------------------------------------------- evidence that an everyday word is a movement

    def _counted(self, place: _Place) -> bool:
        a = self.around
        if place.before.isdigit() and int(place.before) >= _MANY and place.plural:
            return place.next in a.doses or place.next2 in a.doses or place.next in ("left", "right", "on")
        timed = place.next == "for" and place.next2.isdigit() and place.next3 in a.units
        return timed or place.before == "of" and place.before2 in a.units or place.before.isdigit() and place.before2 in a.labels and place.plural

    def _decided(self, place: _Place) -> bool:
        a, item = self.around, place.item
        if place.next in a.confirming or place.nominal:
            return True
        if place.next in a.doses or place.next.isdigit() and place.next2 in a.doses:
            return True
        if place.next == "for" and place.next2.isdigit() and place.next3 in a.units:
            return True
        if place.before == "of" and place.before2 in a.units:
            return True
        if place.before.isdigit() and place.before2 in a.labels and place.before3 != "this":
            return True
        if " ".join(item.name_words) in self.things:
            return False
        if place.before.isdigit():
            return place.plural and int(place.before) > 1 and place.next not in ("of", "to", "back", "away", "forward", "forwards", "in")
        closed = not place.next or place.next in a.closers or place.next.isdigit()
        if place.next in a.prepositions:
            closed = any(w in self.at_hand or w.isdigit() for w in (place.next2, place.next3))
        if place.determined(a):
            return closed
        if place.opened and place.before == "of":
            return False
        return place.before in a.openers and closed and place.next not in a.objects


class _Place:
    """An item with the words before and after it; empty where a sentence begins or ends."""

    def __init__(self, speech: Speech, item: Item) -> None:
        self.item = item
        words, breaks, start, end = speech.words, speech.breaks, item.start, item.end
        self.opening = words[start]
        self.last = words[end - 1]
        at = item.base_at + len(item.name_words)            # where the name itself ends, before what is said after it
        self.ending = words[min(at, end) - 1]
        self.acting = words[min(at, end) - 2] if min(at, end) - 2 >= start else ""
        first = start
        while first > max(0, start - _BESIDE) and first not in breaks:
            first -= 1
        self.before, self.before2, self.before3 = (*words[first:start][::-1], *_NOTHING)[:_BESIDE]
        last = end
        while last < min(len(words), end + _BESIDE) and last not in breaks:
            last += 1
        self.next, self.next2, self.next3 = (*words[end:last], *_NOTHING)[:_BESIDE]
        tail = item.name_words[-1]
        self.plural = self.last != tail and self.last.endswith("s")
        # "step ups", "push ups": a particle takes an s only in a name
        self.nominal = self.plural and tail in ("up", "down", "in", "out", "over", "back", "through", "off", "away", "apart")
        self.past = self.last != tail and self.last.endswith("ed")
        self.opened = start == 0 or start in breaks

    def determined(self, around: Around) -> bool:
        return self.before in around.determiners or self.before in around.possessives
