"""A process that is ended in the middle of adding leaves an archive with every class that it told of, and none by half."""

import os
import random
import signal
import time
from multiprocessing import get_all_start_methods, get_context

import pytest

from parser.archive import check, opened, parcel_of_plan

from .plans import TRAINS, block, plan

KILLS = 240
TOGETHER = 24
"""Kills of one archive, before the next one is made."""

pytestmark = pytest.mark.skipif("fork" not in get_all_start_methods(), reason="a process for each kill would take minutes to start")


def _content(number: int) -> str:
    return f"{number:064x}"


def _small(number: int):
    names = list(TRAINS)
    made = plan(block(names[number % len(names)], names[(number + 3) % len(names)], work_s=30 + number % 20), title=f"Class {number}")
    return parcel_of_plan(made, name=f"{number}.json", sha256=_content(number))


def _add(file, first: int, told: int) -> None:
    os.write(told, b"begun\n")
    with opened(file, create=True) as kept:
        for number in range(first, first + 10_000):
            # Every second of three is a new version of the one before, so that classes are taken out of the tables too.
            kept.add(_small(number), path=f"/yard/{number - (number % 3 == 1)}.json")
            os.write(told, f"{number}\n".encode())


def _killed_after(file, first: int, seconds: float, *, lines: int) -> list[int]:
    """The numbers of what the process told of before it was ended, so long after it told so much."""
    reads, told = os.pipe()
    process = get_context("fork").Process(target=_add, args=(file, first, told))
    process.start()
    os.close(told)
    with os.fdopen(reads) as told_of:
        found = [told_of.readline() for _ in range(lines)]
        time.sleep(seconds)
        os.kill(process.pid, signal.SIGKILL)
        process.join()
        assert process.exitcode == -signal.SIGKILL
        found += told_of.readlines()
    return [int(line) for line in found if line != "begun\n"]


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # Python warns of forks beside threads; there is nothing here that a thread holds
def test_every_class_told_of_is_there_and_none_by_half(tmp_path):
    chance = random.Random(20260302)
    number, all_told = 0, 0
    for part in range(KILLS // TOGETHER):
        file = tmp_path / f"{part}.sqlite"
        told: list[int] = []
        for _ in range(TOGETHER):
            told += _killed_after(file, number, chance.uniform(0, 0.02), lines=chance.choice((1, 2)))
            number += 1_000
            with opened(file, create=True) as kept:
                found = {row[0] for row in kept.connection.execute("SELECT sha256 FROM version")}
                assert {_content(n) for n in told} <= found
                assert len(found) <= len(told) + TOGETHER, "no more than one that was not told of yet at each kill"
        with opened(file) as kept:
            assert check(kept).faults == ()
        all_told += len(told)
    assert all_told > KILLS, "most of them were ended while they added"
