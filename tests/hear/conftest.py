from __future__ import annotations

import pytest

from parser.hear.markers import find_markers
from parser.hear.normal import lay
from parser.hear.numbers import read_units
from parser.hear.repairs import find_number_repairs
from parser.hear.tables import table
from parser.hear.tokens import hear_words
from parser.model import Cue, TalkThrough


def as_talk(text: str) -> TalkThrough:
    """``text`` as a talk-through without times."""
    return TalkThrough(name="said", sha256="0" * 64, format="plain", resolution="none", duration_s=None, text=text,
                       cues=(Cue(start=None, end=None, chars=(0, len(text))),))


@pytest.fixture
def layer_of():
    """The normal layer over a sentence, repairs done."""

    def lay_text(text: str):
        words = hear_words(as_talk(text))
        units = read_units(words, table("joins"))
        units, void, _ = find_number_repairs(words, units, find_markers(units))
        return lay(words, units, void)

    return lay_text
