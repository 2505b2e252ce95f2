"""Whether a phrase of the corpus is understood: what it should say against what hearing makes of it."""

from __future__ import annotations

import re
from functools import lru_cache

from parser import load_lexicon
from parser.hear import hear

from .reading import Phrase, as_talk, corpus, hear_phrase


@lru_cache(maxsize=1)
def lexicon():
    return load_lexicon()


def understood(name: str, phrase: Phrase) -> tuple[bool, object]:
    """Whether ``phrase`` of the file ``name`` is understood (where it is ``near``: not taken for its meaning), and what was heard."""
    return _JUDGES[name](phrase)


def _numbers(phrase: Phrase) -> tuple[bool, object]:
    wanted, format, heard = phrase.meaning["hears"], phrase.meaning.get("format"), hear_phrase(phrase.said)
    got = [*heard.values, *sorted(heard.formats)]
    says = not format or format in heard.formats
    if phrase.near:
        return not (says and (format or holds_values(wanted, heard.values))), got
    return says and same_values(wanted, heard.values), got


def same_values(wanted: list, got: list) -> bool:
    """Whether the same values stand in ``got`` in the same order; a role ``a|b`` is either."""
    return len(wanted) == len(got) and all(g[0] in w[0].split("|") and w[1:] == g[1:] for w, g in zip(wanted, got))


def holds_values(wanted: list, got: list) -> bool:
    """Whether ``wanted`` stand together in ``got``."""
    return any(same_values(wanted, got[i : i + len(wanted)]) for i in range(len(got) - len(wanted) + 1))


def _sides(phrase: Phrase) -> tuple[bool, object]:
    return _kinds(phrase, hear_phrase(phrase.said).sides)


def _options(phrase: Phrase) -> tuple[bool, object]:
    return _kinds(phrase, hear_phrase(phrase.said).options)


def _kinds(phrase: Phrase, got: set[str]) -> tuple[bool, object]:
    wanted = set(phrase.meaning["hears"])
    return (not wanted & got if phrase.near else wanted == got), sorted(got)


def _repairs(phrase: Phrase) -> tuple[bool, object]:
    slip = phrase.meaning["slip"]
    if phrase.meaning["about"] == "movement":
        slips = hear(as_talk(phrase.said), lexicon()).slips
        got = [[name.lower().removesuffix("s") for name in (s.was, s.became)] for s in slips]
    else:
        got = hear_phrase(phrase.said).slips
    return (not got if phrase.near else got == ([slip] if slip else [])), got


def _phases(phrase: Phrase) -> tuple[bool, object]:
    return _in_phase(phrase, lambda text: text)


def understood_without_marks(phrase: Phrase) -> tuple[bool, object]:
    """Whether a phrase of the phases is understood in a class without capitals and marks, and what was heard."""
    return _in_phase(phrase, without_marks)


def without_marks(text: str) -> str:
    """``text`` as captions without punctuation have it; the spaces at its ends stay."""
    return re.sub(r"[^\w\s']+", "", text.replace("-", " ").lower())


def _in_phase(phrase: Phrase, change) -> tuple[bool, object]:
    before, said, after = map(change, in_its_frame(phrase))
    heard = hear(as_talk(before + said + after), lexicon())
    last = len(before) + len(said.rstrip(".!?")) - 1
    got = heard.phase_at(next(t.i for t in heard.words.tokens if t.end > last))
    return got in corpus("phases")["states"][phrase.meaning["phase"]], got


def in_its_frame(phrase: Phrase) -> tuple[str, str, str]:
    """The words before ``phrase`` in its small class, the phrase, and the words after it."""
    before, after = corpus("phases")["frames"][phrase.meaning["frame"]].split("{}")
    return before, phrase.said, after


_JUDGES = {
    "numbers-and-times": _numbers,
    "counts-and-numbering": _numbers,
    "sides": _sides,
    "options": _options,
    "repairs": _repairs,
    "phases": _phases,
}
