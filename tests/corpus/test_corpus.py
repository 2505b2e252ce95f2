"""Each phrase of the corpus says what its meaning says, the whole of it and nothing else; phrases close by do not."""

from __future__ import annotations

import pytest

from .reading import FOLDER, MEANING_KEYS, Phrase, corpus, hear_phrase, phrases

LEAST = {"numbers-and-times": 300, "counts-and-numbering": 150, "sides": 150, "options": 120, "repairs": 100, "phases": 100}


def params(*names: str):
    return [pytest.param(p, id=p.id) for name in names for p in phrases(name)]


def same_values(wanted: list, got: list) -> bool:
    """Whether the same values stand in ``got`` in the same order; a role ``a|b`` is either."""
    return len(wanted) == len(got) and all(
        g[0] in w[0].split("|") and w[1:] == g[1:] for w, g in zip(wanted, got)
    )


def holds_values(wanted: list, got: list) -> bool:
    """Whether ``wanted`` stand together in ``got``."""
    return any(same_values(wanted, got[i : i + len(wanted)]) for i in range(len(got) - len(wanted) + 1))


def judge(phrase: Phrase, understood: bool, got) -> None:
    """A known miss must still be one: take its mark away when it is mended."""
    if phrase.known_miss:
        assert not understood, f"“{phrase.said}” is understood now: take its known_miss away"
    else:
        assert understood, f"“{phrase.said}” is heard as {got}"


@pytest.mark.parametrize("phrase", params("numbers-and-times", "counts-and-numbering"))
def test_numbers(phrase):
    wanted, format, heard = phrase.meaning["hears"], phrase.meaning.get("format"), hear_phrase(phrase.said)
    says = not format or format in heard.formats
    if phrase.near:
        understood = not (says and (format or holds_values(wanted, heard.values)))
    else:
        understood = says and same_values(wanted, heard.values)
    judge(phrase, understood, [*heard.values, *sorted(heard.formats)])


@pytest.mark.parametrize("phrase", params("sides"))
def test_sides(phrase):
    wanted, got = set(phrase.meaning["hears"]), hear_phrase(phrase.said).sides
    judge(phrase, not wanted & got if phrase.near else wanted == got, sorted(got))


@pytest.mark.parametrize("phrase", params("options"))
def test_options(phrase):
    wanted, got = set(phrase.meaning["hears"]), hear_phrase(phrase.said).options
    judge(phrase, not wanted & got if phrase.near else wanted == got, sorted(got))


@pytest.mark.parametrize("phrase", params("repairs"))
def test_repairs(phrase):
    wanted, got = [phrase.meaning["slip"]] if phrase.meaning["slip"] else [], hear_phrase(phrase.said).slips
    judge(phrase, not got if phrase.near else wanted == got, got)


@pytest.mark.parametrize("name", sorted(LEAST))
def test_the_corpus_is_as_large_as_we_say(name):
    assert sum(not p.near for p in phrases(name)) >= LEAST[name]


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.toml")), ids=lambda p: p.stem)
def test_no_phrase_stands_twice_in_a_meaning_and_no_key_is_read_by_nobody(path):
    for meaning in corpus(path.stem)["meaning"]:
        assert set(meaning) <= MEANING_KEYS
        said = [e if isinstance(e, str) else e["say"] for e in meaning["say"] + meaning.get("near", [])]
        assert len(said) == len(set(said))


def test_every_file_of_the_corpus_is_read():
    assert {path.stem for path in FOLDER.glob("*.toml")} == set(LEAST)
