"""Counts by their numbers alone: ``0`` stands for a movement without one."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from parser.checks.numbering import counted_to, from_one, misfits, said_back, sure_count, unnumbered


def items(labels, lists=()):
    """Movements with these numbers, each mentioned once where it is shown and once later: the first is mention 0, and 100 later."""
    stretch = SimpleNamespace(lists=lists)
    return [SimpleNamespace(place=n, stretch=stretch, mention=SimpleNamespace(label=label or None), item=SimpleNamespace(mentions=(n, 100 + n)))
            for n, label in enumerate(labels)]


@pytest.mark.parametrize(("labels", "first"), [
    ([1, 2, 3], 0),
    ([0, 1, 2, 3], 1),
    ([1, 2, 1, 2, 3], 2),           # another count begins
    ([0, 0, 0], 0),
    ([1, 1, 3, 4], 0),              # the second "number one" is a slip for two: three and four run on from the first
    ([1, 1, 3], 1),                 # one number after it is too few to tell
    ([1, 1, 2, 3], 1),
    ([1, 0, 1, 4, 5], 0),
    ([1, 1, 3, 5], 1),
    ([1, 1, 0, 4, 5], 0),
    ([1, 2, 1, 1, 3, 4], 2),
    ([1, 2, 1, 4, 1, 6, 7], 4),
])
def test_where_a_count_begins(labels, first):
    assert [i.place for i in from_one(items(labels))] == list(range(first, len(labels)))


@pytest.mark.parametrize(("labels", "counts", "before", "wrong"), [
    ([1, 2, 3, 4], (), 0, []),
    ([1, 3, 3, 4], (), 0, [(1, 2)]),
    ([1, 2, 2, 4], (), 0, [(2, 3)]),
    ([1, 2, 5, 4], (), 0, [(2, 3)]),
    # the last: only where it is said twice running, or the count was said
    ([1, 2, 3, 3], (), 0, [(3, 4)]),
    ([1, 2, 2], (), 0, [(2, 3)]),
    ([1, 2, 3, 2], (), 0, []),
    ([1, 2, 3, 5], (), 0, []),
    ([1, 2, 3, 5], (4,), 0, [(3, 4)]),
    ([1, 2, 3, 5], (5,), 0, []),
    # the first: the beginning of a count may not have been heard
    ([2, 2, 3, 4], (), 0, []),
    ([3, 2, 3, 4], (), 0, []),
    # two and more
    ([1, 3, 2, 4], (), 0, []),
    ([1, 3, 3, 5, 5], (), 0, []),
    # one that was not heard
    ([1, 2, 4, 5], (), 0, []),
    ([1, 2, 4, 5], (4,), 0, []),
    ([1, 2, 4, 5], (5,), 0, []),
    ([2, 3, 4, 5], (), 0, []),
    # too few
    ([1, 3], (), 0, []),
    ([1, 3], (2,), 0, [(1, 2)]),
    ([1, 3], (3,), 0, []),
    ([1], (1,), 0, []),
    ([0, 0, 0], (), 0, []),
    # a count that runs on over a block
    ([4, 5, 6], (), 3, []),
    ([4, 4, 6, 7], (), 3, [(1, 5)]),
    ([4, 4, 6, 7], (), 2, []),
    # without a number between them: either reading makes sense of it
    ([1, 0, 3, 4], (), 0, []),
    ([1, 0, 2, 3], (), 0, []),
    ([1, 0, 3, 3, 5], (), 0, [(3, 4)]),
    ([1, 2, 0, 4, 4, 6], (), 0, [(4, 5)]),
    # more than half of them are out of place
    ([1, 3, 4, 5, 5], (5,), 0, []),
    ([1, 2, 4, 5, 6], (5,), 0, []),
])
def test_a_number_that_does_not_fit(labels, counts, before, wrong):
    assert [(i.place, should) for i, should in misfits(items(labels), counts=counts, before=before)] == wrong


@pytest.mark.parametrize(("labels", "missing"), [
    ([1, 2, 3, 4], []),
    ([1, 0, 3, 4], [(1, 2)]),
    ([1, 2, 0, 4], [(2, 3)]),
    ([4, 0, 6, 7], [(1, 5)]),
    ([0, 2, 3, 4], []),
    ([1, 2, 3, 0], []),
    ([1, 0, 0, 4, 5], []),
    ([1, 0, 2, 3], []),
    ([1, 0, 3, 5], []),
    ([1, 0, 3], []),
    ([0, 1, 0, 3, 4], [(2, 2)]),
])
def test_the_one_without_a_number(labels, missing):
    assert [(i.place, should) for i, should in unnumbered(items(labels))] == missing


@pytest.mark.parametrize(("labels", "run"), [
    ([1, 2, 3], 3),
    ([1, 2, 3, 4], 4),
    ([1, 2], 0),
    ([2, 3, 4], 4),             # the very first may not have been heard
    ([2, 3], 3),
    ([3, 4, 5], 0),
    ([1, 2, 4], 0),
    ([1, 2, 3, 5], 3),
    ([1, 0, 2, 0, 3], 3),
    ([1, 2, 2, 3], 3),
    ([0, 0], 0),
    ([], 0),
])
def test_how_far_the_numbers_run(labels, run):
    assert counted_to(items(labels)) == run


@pytest.mark.parametrize(("labels", "lists", "sure"), [
    ([1, 2, 3], (), True),
    ([1, 2], (), True),
    ([1], (), False),
    ([1, 2, 0], (), False),
    ([1, 2, 4], (), False),
    ([2, 3, 4], (), False),
    ([0, 1, 2], (), False),
    ([0, 0, 0], ((100, 101, 102),), True),
    ([0, 0, 0], ((102, 100, 101),), True),
    ([0, 0, 0], ((100, 101),), False),
    ([0, 0, 0], ((100, 101, 102, 103),), False),
    ([0, 0, 0], ((100, 101), (100, 101, 102)), True),
    ([0, 0, 0], ((100, 100, 101),), False),
])
def test_whether_their_number_is_sure(labels, lists, sure):
    assert sure_count(items(labels, lists)) == sure


def test_the_mentions_where_they_are_shown_may_be_the_list():
    assert said_back(items([0, 0], ((0, 1),)))
    assert said_back(items([0, 0], ((0, 1, 100, 101),)))
    assert not said_back(items([0, 0], ()))
