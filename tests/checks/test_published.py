"""Lengths that others have published, against what the rule about the class length makes of them."""

from __future__ import annotations

import pytest

from parser.checks.length_mismatch import allowed, laid_out

TWELVE = ("jumping jacks", "wall sit", "push-ups", "crunches", "step-ups", "air squats", "triceps dips", "plank", "high knees", "reverse lunges",
          "push-up with rotation", "side plank, swap halfway")


def circuit(opening: str, names=TWELVE) -> str:
    lines = [f"[0:00] {opening} If anything hurts, stop."]
    spoken = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
    lines += [f"[0:{10 + 4 * n:02}] Number {spoken[n]}, {name}." for n, name in enumerate(names)]
    return "\n".join(lines) + "\n"


def lengths(found):
    return [f for f in found if f.code == "length-mismatch"]


def test_the_twelve_movement_circuit_called_seven_minutes_is_not_seven(audited):
    # 12 x 30 s with 10 s between: 470 s, 480 s with the last rest. Klika & Jordan 2013, ACSM's Health & Fitness Journal
    # 17(3):8-13 (the 30/10 found second-hand, the last four movements from memory).
    found = lengths(audited(circuit("It's a seven minute workout. Twelve exercises, thirty seconds on, ten seconds off, one round.")))
    assert [f.expected for f in found] == ["7:50 to 8:00"]
    assert found[0].said[0].quote and found[0].severity == "error"


def test_the_same_with_twenty_five_and_ten_is_seven(audited):
    # 12 x (25 + 10) = 420 s, 410 s without the last rest: arithmetic.
    said = "It's a seven minute workout. Twelve exercises, twenty five seconds on, ten seconds off, one round."
    assert lengths(audited(circuit(said))) == []


def test_eight_bouts_of_twenty_and_ten_are_four_minutes(audited, case_of):
    # 230 s, 240 s with the last rest. Tabata et al. 1996, Med Sci Sports Exerc 28(10):1327-1330 (bouts found second-hand).
    said = "[0:00] It's a four minute workout. Eight rounds, twenty seconds on, ten seconds off. If anything hurts, stop.\n[0:10] Number one, mountain climbers.\n"
    assert laid_out(case_of(said), None) == (230, 240)
    least, most = allowed(240, "about")
    assert least <= 230 and 240 <= most
    assert lengths(audited(said)) == []


@pytest.mark.parametrize(("seconds", "qualifier", "least", "most"), [
    (420, "about", 378, 462),           # a tenth
    (420, "exact", 360, 480),           # a minute
    (1800, "under", None, 1800),        # nothing on its side
    (1800, "over", 1800, None),
])
def test_what_a_promise_allows(seconds, qualifier, least, most):
    # The project's own rule, see the plan format; no published source.
    assert allowed(seconds, qualifier) == (least, most)


def test_five_times_four_minutes_and_one_are_no_half_hour(audited):
    # 5 x (4:00 + 1:00) = 25:00: arithmetic.
    said = "[0:00] A workout of exactly thirty minutes. Five rounds, four minutes on, one minute off. If anything hurts, stop.\n[0:10] Number one, the indoor row. Long slide.\n"
    found = lengths(audited(said))
    assert [f.expected for f in found] == ["24:00 to 25:00"]


def test_eight_counts_of_thirty_and_fifteen_are_reported_against_four_minutes(audited):
    # 8 x 30 s + 7 x 15 s = 345 s: arithmetic. The four minutes of the 20/10 do not fit it.
    said = "[0:00] Just under five minutes today. Eight rounds, thirty seconds on, fifteen seconds off. If anything hurts, stop.\n[0:10] Number one, mountain climbers.\n"
    assert [f.expected for f in lengths(audited(said))] == ["5:45 to 6:00"]
