"""Finds equipment: its names and synonyms, plural too, and the number said with it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from .entry import EquipmentEntry, SharedWord
from .everyday import Around
from .normal import inflections, split

_FAR = 4          # words that a number may stand before its noun


@dataclass(frozen=True, slots=True)
class Kit:
    """``names``: first word -> [(words, name, plural, everyday)], longest first. ``shared``: word -> what it may be."""

    names: Mapping[str, tuple[tuple[tuple[str, ...], str, bool, bool], ...]]
    shared: Mapping[str, SharedWord]
    around: Around


def build(entries: Sequence[EquipmentEntry], shared: Sequence[SharedWord], around: Around) -> Kit:
    table: dict[str, dict[tuple[str, ...], tuple[tuple[str, ...], str, bool, bool]]] = {}
    ambiguous = {}
    for word_ in shared:
        for form in (word_.word, *_plurals(word_.word)):
            ambiguous[" ".join(split(form))] = word_
            table.setdefault(split(form)[0], {})[split(form)] = (split(form), "", form != word_.word, False)
    for entry in entries:
        for name in (entry.name, *entry.synonyms):
            forms = [(name, name == entry.plural)]
            if name == entry.name and entry.plural:
                forms.append((entry.plural, True))
            else:
                forms.extend((form, True) for form in _plurals(name))
            for form, plural in forms:
                words = split(form)
                table.setdefault(words[0], {}).setdefault(words, (words, entry.name, plural, name in entry.everyday))
        for name in entry.household:
            for form, plural in ((name, False), *((p, True) for p in _plurals(name))):
                words = split(form)
                table.setdefault(words[0], {}).setdefault(words, (words, name, plural, len(words) == 1))
    names = {first: tuple(sorted(rows.values(), key=lambda r: -len(r[0]))) for first, rows in table.items()}
    return Kit(names, ambiguous, around)


def _plurals(name: str) -> list[str]:
    """The plural of the noun: ``tins of beans``, ``yoga blocks``."""
    words = name.split()
    head = words.index("of") - 1 if "of" in words[1:] else len(words) - 1
    forms = [form for form in inflections(split(words[head])[0]) if form.endswith("s")]
    return [" ".join((*words[:head], form, *words[head + 1 :])) for form in forms]


def scan(kit: Kit, words: Sequence[str], breaks: Collection[int]) -> list[tuple[int, int, str, int | None]]:
    """``(start, end, name, quantity)`` in order. ``words`` are normal forms."""
    found: list[tuple[int, int, str, int | None]] = []
    over = 0
    for i in [i for i, word in enumerate(words) if word in kit.names]:
        if i >= over and (hit := _at(kit, words, i, breaks)) is not None:
            over, name, plural = hit
            found.append((i, over, name, _quantity(kit, words, i, breaks, plural)))
    return _resolve(kit, words, found)


def _at(kit: Kit, words: Sequence[str], i: int, breaks: Collection[int]) -> tuple[int, str, bool] | None:
    for name_words, name, plural, everyday in kit.names[words[i]]:
        end = i + len(name_words)
        if tuple(words[i:end]) != name_words or any(k in breaks for k in range(i + 1, end)):
            continue
        if everyday and not _meant(kit, words, i, end, breaks):
            continue
        return end, name, plural
    return None


def _meant(kit: Kit, words: Sequence[str], i: int, end: int, breaks: Collection[int]) -> bool:
    """An everyday word is equipment after an article, a number or a request: ``a step``, ``two blocks``; not ``step up``."""
    if end < len(words) and end not in breaks and words[end] in kit.around.particles and words[end] in ("up", "out", "over"):
        return False
    if i == 0 or i in breaks:
        return False
    before, around = words[i - 1], kit.around
    counted = before.isdigit() or before in around.determiners or before in around.possessives
    if not counted and end < len(words) and end not in breaks and (words[end] in around.determiners or words[end] in around.possessives):
        return False        # "and stick your arm up"
    return counted or before in around.asking or before in around.sizes


def _quantity(kit: Kit, words: Sequence[str], i: int, breaks: Collection[int], plural: bool) -> int | None:
    """``two light dumbbells`` 2, ``a pair of bells`` 2, ``a mat`` 1; ``one or two dumbbells`` and ``dumbbells`` None."""
    k = i - 1
    while k >= 0 and k >= i - _FAR and k + 1 not in breaks:
        if words[k] in kit.around.weights and words[k - 1 : k] and words[k - 1].isdigit():
            k -= 2
        elif words[k] in kit.around.sizes:
            k -= 1
        else:
            break
    if k < 0 or k + 1 in breaks:
        return None
    said = words[k]
    if said in kit.around.pairs:
        return 2
    if said.isdigit() and int(said) <= 20:
        ranged = k >= 2 and words[k - 1] in ("or", "to") and words[k - 2].isdigit()
        return None if ranged else int(said)
    return 1 if said in ("a", "an", "another") and not plural else None


def _resolve(kit: Kit, words: Sequence[str], found: list[tuple[int, int, str, int | None]]) -> list[tuple[int, int, str, int | None]]:
    """A shared word (``bells``) takes the name of what was spoken of before it, else after it, else goes along with what is there."""
    out = []
    spoken = {name for _, _, name, _ in found}
    for n, (start, end, name, quantity) in enumerate(found):
        if not name:
            shared = kit.shared[" ".join(words[start:end])]
            earlier = (other[2] for other in reversed(found[:n]) if other[2] in shared.means)
            later = (other[2] for other in found[n + 1 :] if other[2] in shared.means)
            along = (other for with_, other in shared.along.items() if with_ in spoken)
            meant = next(earlier, None) or next(later, None) or next(along, None) or shared.otherwise
            if meant is None:
                continue
            name = meant
        out.append((start, end, name, quantity))
    return out
