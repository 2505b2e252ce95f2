"""The comparison with general-purpose libraries: its files, its sums, and, where the libraries are installed, its results."""

from __future__ import annotations

import pytest

from . import compare_libraries as comparison
from .refresh_readme import README


def test_the_readme_has_the_sums_of_the_files():
    text = README.read_text(encoding="utf-8")
    table = comparison.summary(comparison.read_rows(comparison.TIMES), comparison.read_rows(comparison.READING))
    assert comparison.with_summary(text, table) == text


def test_every_phrase_with_a_time_and_every_file_is_compared():
    assert [r["phrase"] for r in comparison.read_rows(comparison.TIMES)] == [said for said, _ in comparison.time_phrases()]
    assert [r["captions"] for r in comparison.read_rows(comparison.READING)] == [what for what, *_ in comparison.captions()]


def test_our_column_is_what_we_hear_and_read_now():
    for row in comparison.read_rows(comparison.TIMES):
        heard = comparison.ours(row["phrase"])
        assert row["planaloud"] == " ".join(f"{v:g}" for v in heard), "run python -m tests.compare_libraries"
    for row, (_, suffix, text, wanted) in zip(comparison.read_rows(comparison.READING), comparison.captions(), strict=True):
        assert row["planaloud"] == ("right" if comparison.is_read(wanted, comparison.our_cues(text, suffix)) else "wrong")


def test_we_read_all_captions_of_the_comparison():
    assert {row["planaloud"] for row in comparison.read_rows(comparison.READING)} == {"right"}


@pytest.mark.parametrize("got, right", [
    ([(1.0, 3.0, "forty on twenty off")], True),
    ([(1.0, 2.0, "Forty on,"), (2.0, 3.0, "twenty off.")], True),
    ([(1.0, 3.0, "forty on twenty off"), (1.0, 3.0, "forty on twenty off")], False),
    ([(1.0, 3.0, "forty<00:01.500> on twenty off")], False),
    ([(1.005, 3.0, "forty on twenty off")], True),
    ([(1.5, 3.0, "forty on twenty off")], False),
    ([], False),
])
def test_what_counts_as_read(got, right):
    assert comparison.is_read([(1.0, 3.0, "forty on twenty off")], got) is right


@pytest.mark.parametrize("name, phrase, found", [
    # What the libraries made of these when the comparison was first run; a new version may do better, and then this shows it.
    ("text2num", "forty seconds on, twenty seconds off", [40, 20]),
    ("quantulum3", "thirty seconds of rest", [30]),
    ("timelength", "ninety seconds", [90]),
])
def test_a_library_is_asked_fairly(name, phrase, found):
    pytest.importorskip({"text2num": "text_to_num"}.get(name, name))
    assert comparison.TIME_LIBRARIES[name]()(phrase) == found
