"""Shapes: how a pattern over the normal layer is written, and how it becomes a regular expression.

A shape is a row of elements with single spaces. Between any two a comma may stand; none runs over a sentence's end.

    word  a|b|c      these words (``one`` and other numbers as digits)
    <name>           any phrase of the word class ``name``
    {d} {n} {o}      a length of time, a number, an ordinal; ``{n:rest}`` gives it the role ``rest``
    {=}              the number just before it once more
    ..3              up to three words of any kind, none of them a length of time
    x?               ``x`` or nothing
    ^ $              the start and the end of a sentence
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from .expressions import Expression, Expressions, Words
from .normal import Normal
from .tables import plain_word, table

_VALUE = {
    "d": r"\d+(?:\.\d+)?(?:~\d+(?:\.\d+)?)?s",
    "n": r"\d+(?:\.\d+)?(?:~\d+(?:\.\d+)?)?",
    "o": r"#\d+",
}
_ANY = rf"(?!\.(?:\s|$)|{_VALUE['d']}(?!\S))\S+"
_GAP = r" (?:, )?"
_PLACE = re.compile(r"\{([dno])(?::(\w+))?\}")


@dataclass(frozen=True, slots=True)
class Pattern:
    """One way of saying something. ``say`` is an example and its own test; ``roles`` names what each group stands for."""

    name: str
    say: str
    shape: str
    role: str
    rank: int
    expression: Expression
    roles: tuple[tuple[str, str], ...]


@lru_cache(maxsize=1)
def classes() -> dict[str, str]:
    """Word classes as alternations, longest phrase first."""
    return {name: "|".join(re.escape(w) for w in sorted({_as_heard(w) for w in words}, key=len, reverse=True))
            for name, words in table("classes").items()}


def _as_heard(phrase: str) -> str:
    """``phrase`` as it stands in the normal layer: hyphens and underscores apart, numbers as digits, ordinals as ``#3``, ``once`` a number too."""
    numbers = table("numbers")
    out = []
    for word in phrase.replace("_", " ").replace("-", " ").split():
        word, verb = plain_word(word)
        if word == "once":
            out.append(f"{numbers['times'][word]} twice")
        elif word in numbers["ordinals"]:
            out.append(f"#{numbers['ordinals'][word]}")
        else:
            out.append(str(numbers["ones"].get(word, numbers["tens"].get(word, word))))
        if verb:
            out.append("is")
    return " ".join(out)


def _element(text: str, groups: list[tuple[str, str, str]], role: str) -> str:
    """The expression of one element without its trailing ``?``."""
    if text == "{=}":
        return f"(?P={groups[-1][0]})"
    if place := _PLACE.fullmatch(text):
        name = f"g{len(groups)}"
        groups.append((name, place[1], place[2] or role))
        return f"(?P<{name}>{_VALUE[place[1]]})"
    words = (classes()[w[1:-1]] if w.startswith("<") else re.escape(_as_heard(w)) for w in text.split("|"))
    return "(?:" + "|".join(words) + ")"


@cache
def _phrases(element: str) -> tuple[tuple[str, ...], ...]:
    """What an element without its ``?`` can match, word by word; nothing: anything, or no word at all."""
    if element == "$" or element.startswith(("..", "{=}")):
        return ()
    if place := _PLACE.fullmatch(element):
        return ((f"{{{place[1]}}}",),)
    found = [tuple(_as_heard(phrase).split()) for option in element.split("|")
             for phrase in (table("classes")[option[1:-1]] if option.startswith("<") else [option])]
    return tuple(found) if all(found) else ()


@cache
def _opening(element: str) -> Words:
    """The words that stand first in what an element matches; none: any."""
    return frozenset(phrase[0] for phrase in _phrases(element))


def _opens(parts: Sequence[str]) -> Words | None:
    """The words that stand first in what the elements ``parts`` match; ``None``: any, or none at all."""
    words: Words = frozenset()
    for part in parts:
        opening = _opening(part.rstrip("?"))
        if not opening:
            return None
        words |= opening
        if not part.endswith("?"):
            return words
    return None


def _begins(parts: Sequence[str]) -> dict[str, Words | None] | None:
    """The words that stand first in what the elements match, and for each those that can come next; ``None``: any."""
    if _opens(parts) is None:
        return None
    begins: dict[str, Words | None] = {}
    for k, part in enumerate(parts):
        after = _opens(parts[k + 1 :])
        for first, *more in _phrases(part.rstrip("?")):
            then, known = frozenset(more[:1]) if more else after, begins.get(first, frozenset())
            begins[first] = None if then is None or known is None else known | then
        if not part.endswith("?"):
            break
    return begins


def _needs(parts: Sequence[str]) -> tuple[Words, ...]:
    """For each element that may not be left out the words of which one must be there, first ones and last ones, the fewest first."""
    needed = (frozenset(phrase[at] for phrase in _phrases(part)) for part in parts if not part.endswith("?") for at in (0, -1))
    return tuple(sorted({words for words in needed if words}, key=len))


def compile_shape(shape: str, role: str) -> tuple[Expression, tuple[tuple[str, str], ...]]:
    """The expression of ``shape`` and ``(group, role)`` for each of its values."""
    groups: list[tuple[str, str, str]] = []
    out, first = "", True
    for part in shape.split():
        if part == "^":
            out += r"(?:(?<=\. )|(?<![\s\S]))"
            continue
        if part == "$":
            out += r"(?= \.|$)"
            continue
        if part.startswith(".."):
            out += rf"(?:{_GAP}{_ANY}){{0,{int(part[2:])}}}?"
            continue
        optional = part.endswith("?")
        body = _element(part.rstrip("?"), groups, role)
        if first:
            out += rf"(?:{body} (?:, )?)?" if optional else body
            first = optional
        else:
            out += rf"(?:{_GAP}{body})?" if optional else _GAP + body
    head = "" if shape.startswith("^") else r"(?<!\S)"
    parts = [part for part in shape.split() if part != "^"]
    expression = Expression(head + out + r"(?!\S)", _begins(parts), _needs(parts))
    return expression, tuple((name, kind_role) for name, _, kind_role in groups)


@cache
def patterns(name: str) -> tuple[Pattern, ...]:
    """The patterns of the table ``name``, specific before general."""
    out: list[Pattern] = []
    for row in table(name)["pattern"]:
        shapes = row["shape"] if isinstance(row["shape"], list) else [row["shape"]]
        for shape in shapes:
            expression, roles = compile_shape(shape, row["role"])
            out.append(Pattern(row["say"], row["say"], shape, row["role"], len(out), expression, roles))
    return tuple(out)


@cache
def _expressions(name: str) -> Expressions:
    return Expressions([pattern.expression for pattern in patterns(name)])


def find(layer: Normal, name: str) -> Iterator[tuple[Pattern, re.Match[str]]]:
    """Where the patterns of the table ``name`` stand in ``layer``, pattern by pattern."""
    table_patterns = patterns(name)
    for which, match in _expressions(name).found(layer):
        yield table_patterns[which], match
