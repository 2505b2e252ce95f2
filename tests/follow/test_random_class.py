"""Classes by chance: the error of the edges, and how it grows with the share of edges that nobody calls."""

from __future__ import annotations

import pytest

from .random_class import SHAPES, errors, figures, make

CLASSES = 6
MORE_CLASSES = 12


@pytest.mark.parametrize("resolution", SHAPES)
def test_with_every_edge_called_nearly_all_are_on_time(resolution):
    middle, most, near = figures(resolution, dropped=0.0, classes=CLASSES, seed=100)
    assert middle <= 0.5 and most <= 2.0 and near >= 0.97


@pytest.mark.parametrize(("resolution", "least"), [("word", 0.93), ("cue", 0.93), ("block", 0.8)])
def test_with_four_of_ten_uncalled_the_grid_still_holds(resolution, least):
    assert figures(resolution, dropped=0.4, classes=MORE_CLASSES, seed=200)[2] >= least


def test_the_more_is_left_out_the_less_is_found():
    shares = [figures("word", dropped=d, classes=CLASSES, seed=300)[2] for d in (0.0, 0.5, 0.9)]
    assert shares[0] >= shares[1] >= shares[2] and shares[2] < 0.9


def test_one_call_that_is_missed_shifts_nothing_after_it():
    """A single uncalled start: its own edge is filled in from the grid, the others stay where they are."""
    made = make(7, dropped=0.0, moved=0.0)
    silent = made.edges[4]
    words = tuple(w for w in made.words if not silent - 0.9 <= w.start <= silent + 2.5)
    off = errors(type(made)(made.plan, words, made.edges), "word")
    assert max(off) <= 2.0
