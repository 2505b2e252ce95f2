"""What is said of left and right, and of what: words, and beside them each side with its part, and each state."""

from __future__ import annotations

import pytest

from parser.checks.setups import facts, laterals, other, side_changes


def everything(case):
    return 0, len(case.heard.words.tokens)


@pytest.mark.parametrize(("said", "sides"), [
    ("Right knee down.", "right knee 0-2"),
    ("Your left toes up.", "left foot 1-3"),
    ("The right foot's back.", "right foot 1-3"),
    ("Left hand side of the room.", "left side 0-3"),
    ("Left hand on the floor.", "left hand 0-2"),
    ("Left hand.", "left hand 0-2"),
    ("Two on the left, two more.", "left - 3-4"),
    ("Now to the right and hold.", "right - 3-4"),
    ("Your left first.", "left - 1-2"),
    ("It's on right.", "right - 2-3"),
    ("Look at your left neighbour.", ""),
    ("Twist to the right wall.", ""),
    ("Left.", ""),
    ("Hands, left.", ""),
    ("Right, knee down.", ""),
    ("My right knee down.", ""),
    ("My own right knee down.", ""),
    ("My very own right knee down.", "right knee 3-5"),
    ("That's right knee down.", ""),
    ("Two seconds left foot down.", ""),
    ("All right, two left.", ""),
    ("Then the left.", "left - 2-3"),
    ("Two on the left, sorry, on the right.", "right - 7-8"),
])
def test_sides(said, sides, case_of):
    case = case_of(f"[0:00] {said}\n")
    assert ", ".join(f"{s.side} {s.part or '-'} {s.first}-{s.end}" for s in laterals(case, everything(case))) == sides


def test_only_what_begins_in_the_span_counts(case_of):
    case = case_of("[0:00] Right knee down. Left knee down.\n")
    assert [s.first for s in laterals(case, (0, 3))] == [0]
    assert [s.first for s in laterals(case, (1, 6))] == [3]
    assert [s.first for s in laterals(case, (0, 99))] == [0, 3]


@pytest.mark.parametrize(("said", "states"), [
    ("Right knee down.", "right knee down 0-3"),
    ("Right knee on the mat.", "right knee down 0-5"),
    ("Right knee is nice and soft and down.", "right knee down 0-8"),
    ("Right knee is nice and soft and not down.", "right knee down 0-9"),
    ("Right knee is nice and soft and heavy and then down.", ""),
    ("Right knee. Down we go.", ""),
    ("Right knee, left foot down.", "left foot planted 2-5"),
    ("Right elbow down.", ""),
    ("Left foot out in front.", "left foot front 0-5"),
    ("Left leg back.", "left leg back 0-3"),
    ("Bell in the right hand.", "right hand load 3-5"),
    ("The bell, in the right hand.", ""),
    ("Right hand holds the bell.", "right hand load 0-4"),
    ("Lie on your left side.", "left side lie 3-5"),
    ("Come over now and then get to your left side.", ""),
    ("On the left, knee down.", ""),
])
def test_states(said, states, case_of):
    case = case_of(f"[0:00] {said}\n")
    assert ", ".join(f"{f.side} {f.part} {f.state} {f.first}-{f.end}" for f in facts(case, everything(case))) == states


def test_a_state_is_read_within_the_span_only(case_of):
    case = case_of("[0:00] Right knee soft and down.\n")
    assert [f.state for f in facts(case, (0, 5))] == ["down"]
    assert facts(case, (0, 4)) == []
    case = case_of("[0:00] The bell in the right hand.\n")
    assert [f.state for f in facts(case, (1, 6))] == ["load"]
    assert facts(case, (2, 6)) == []


@pytest.mark.parametrize(("said", "span", "changes"), [
    ("Tall and long, ribs down.", (0, 5), False),
    ("Tall then long, ribs down.", (0, 5), True),
    ("Tall then long, ribs down.", (0, 1), False),
    ("Tall then long, ribs down.", (1, 5), True),
    ("Tall then long, ribs down.", (2, 5), False),
    ("Stay tall. And rest. Stay long.", (0, 6), True),
    ("Stay tall. And rest. Stay long.", (0, 2), False),
    ("Stay tall. And rest. Stay long.", (4, 6), False),
    ("Stay tall. Easier, bend it. Stay long.", (0, 6), True),
    ("Stay tall. Easier, bend it. Stay long.", (0, 2), False),
    ("Stay tall. Easier, bend it. Stay long.", (2, 3), True),
    ("Stay tall. Easier, bend it. Stay long.", (3, 6), False),
])
def test_where_sides_may_change(said, span, changes, case_of):
    assert side_changes(case_of(f"[0:00] {said}\n"), *span) == changes


def test_the_other_side():
    assert (other("left"), other("right")) == ("right", "left")
