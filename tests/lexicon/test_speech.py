"""The quick looks of a row of words miss nothing that the slow ones find, whatever was looked for before."""

from __future__ import annotations

import random
import re

import pytest

from lexicon.grammar import candidates
from lexicon.speech import Speech
from lexicon.stretched import named_part

from ..accuracy import FOLDER, scripts
from ..noise import mishear
from ..talks import read_script


def words_of(script: str) -> list[str]:
    """The words of a script, misheard, in small letters without marks."""
    said = " ".join(word.text for word in mishear(read_script(FOLDER / f"{script}.talk").words, rate=0.5))
    return re.findall(r"[a-z0-9']+", said.lower().replace("-", " "))


def by_chance(lexicon, count: int, dice: random.Random) -> list[str]:
    """Words of names and modifiers, many of them spelt a little wrong, with small words between."""
    names = [w for entry in lexicon.movements() for name in (entry.name, *entry.aliases) for w in name.replace("-", " ").split()]
    other = ["the", "a", "and", "to", "on", "your", "two", "right", "single", "arm", "dumbbell", "slow", "heavy", "lovely"]
    out = []
    for _ in range(count):
        word = dice.choice(names if dice.random() < 0.7 else other)
        if len(word) > 5 and dice.random() < 0.2:
            at = dice.randrange(len(word))
            word = word[:at] + dice.choice("aeioulnrst") + word[at + 1 :]
        out.append(word)
    return out


def breaks_by_chance(words, dice: random.Random, share: float) -> set[int]:
    return {k for k in range(1, len(words)) if dice.random() < share}


@pytest.fixture(scope="module")
def own(lexicon):
    return lexicon.with_taught("speedies", "high knees").with_taught("the top shelf", "single-arm overhead press").with_taught("wobbling bug", "dead bug")


@pytest.mark.parametrize("script", scripts())
def test_no_name_of_a_talk_begins_where_none_is_looked_for(script, lexicon):
    dice, words = random.Random(script), words_of(script)
    for share in (0.0, 0.1):
        speech = Speech(words, breaks_by_chance(words, dice, share), (lexicon.trade.index,))
        found = {k for k in range(len(words)) if candidates(speech, k)}
        assert found <= speech.names and {k for k in range(len(words)) if named_part(speech, k)} <= speech.parts and found
        # most words are no place for one
        assert len(speech.openings) < 0.5 * len(words)


@pytest.mark.parametrize("seed", range(8))
def test_no_name_begins_where_none_is_looked_for_among_the_words_of_names(seed, lexicon, own):
    dice = random.Random(seed)
    for coach in (lexicon, own):
        words = by_chance(lexicon, 400, dice)
        for _ in range(10):
            words[dice.randrange(len(words))] = dice.choice(["speedies", "speedees", "shelf", "wobbling", "bug", "slow"])
        speech = Speech(words, breaks_by_chance(words, dice, 0.1), coach._indexes)
        assert {k for k in range(len(words)) if candidates(speech, k)} <= speech.names


@pytest.mark.parametrize("script", scripts()[::3])
def test_with_other_breaks_the_same_is_found_as_by_a_first_look(script, own):
    dice, words = random.Random(script), words_of(script)
    kept = own.speech(words)
    for share in (0.05, 0.2, 0.0, 0.1, 0.1):
        breaks = breaks_by_chance(words, dice, share)
        assert own.scan(kept, breaks) == own.scan(words, breaks)


def test_a_coachs_own_name_is_found_where_it_is_misheard(own):
    assert [m.parts[0].base for m in own.scan("now wobblink bugs everyone".split())] == ["dead bug"]
    assert [m.parts[0].name for m in own.scan("then slow speedies again".split())] == ["slow high knee"]
