"""A class is packed small and comes out as it went in."""

import json
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parser.archive.documents import pack, pack_talk, pack_times, unpack, unpack_talk
from parser.archive.packing import squeeze, unsqueeze
from parser.model import Cue, TalkThrough, WordTime

from ..render.examples import reading_of

TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)
TREES = st.recursive(st.none() | st.booleans() | st.integers(-9**9, 9**9) | st.floats(allow_nan=False, allow_infinity=False) | TEXT,
                     lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXT.filter(lambda key: key != "@"), inner, max_size=4))
SECONDS = st.none() | st.floats(0, 1e5) | st.integers(0, 10**8).map(lambda ms: ms / 1000)


@st.composite
def sources(draw):
    """Quotes that are in the text, and quotes that are not."""
    said = draw(TEXT)
    first = draw(st.integers(0, len(said)))
    end = draw(st.integers(first, len(said)))
    quote = draw(st.just(said[first:end]) | TEXT)
    return said, {"start": draw(SECONDS), "end": draw(SECONDS), "quote": quote, "chars": [first, end]}


@given(TREES, TEXT)
def test_any_tree(tree, said):
    assert unpack(pack(tree, said), said) == tree


@given(sources())
def test_any_source(case):
    said, source = case
    assert unpack(pack({"sources": [source]}, said), said) == {"sources": [source]}


@given(st.lists(st.tuples(SECONDS, SECONDS, st.integers(0, 99), st.integers(0, 9), st.booleans()), max_size=6), TEXT)
def test_any_talk(cues, said):
    talk = TalkThrough(
        name="a.vtt", sha256="0", format="vtt", resolution="cue", duration_s=None, text=said,
        cues=tuple(Cue(start=a, end=b, chars=(first, first + long), heading=heading) for a, b, first, long, heading in cues),
        words=tuple(WordTime(start=a, end=b, chars=(first, first + long)) for a, b, first, long, _ in cues if a is not None and b is not None),
    )
    assert unpack_talk(pack_talk(talk), pack_times(talk.words, said), said) == talk


def test_a_quote_of_the_text_is_not_kept_twice():
    reading = reading_of("step-up")
    tree = reading.plan.model_dump(mode="json")
    packed = pack(tree, reading.talk.text)
    assert b"quote" not in zlib.decompressobj(zdict=reading.talk.text.encode()).decompress(packed)
    assert len(packed) < len(zlib.compress(json.dumps(tree).encode(), 9))


@pytest.mark.parametrize("blob", [b"", b"nothing", squeeze("said")[:-3], b"x" + squeeze("said")])
def test_damage_is_seen(blob):
    with pytest.raises(ValueError):
        unsqueeze(blob)


def test_packed_with_other_words():
    with pytest.raises(ValueError):
        unpack(pack({"a": "step-up"}, "step-up"), "row")
