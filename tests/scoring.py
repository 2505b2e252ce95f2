"""How a plan and a report compare with hand-checked gold, slot by slot.

Gold is a JSON object; what it leaves out is not compared:

    focus, equipment            lists; an inner list of equipment holds names that are equally good
    stated_length               {seconds, qualifier}
    blocks                      kind, format, rounds, work_s … as in the plan; movements with `parts` (each a list of accepted
                                names), number, sides (the mode), seconds_each, reps_each, dose, options (their kinds)
    totals                      as in the plan
    findings                    code, at (between which seconds it was said), corrected

A name is right when all words of an accepted one stand in it, whatever else does.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from .talks import Done

SETTINGS = ("rounds", "work_s", "rest_s", "round_rest_s", "interval_s", "duration_s", "rep_scheme", "time_scheme")
OPTIONS = ("regression", "progression", "substitution")
PRACTICE = {
    "number-missing", "slip-corrected", "option-missing", "equipment-unannounced", "equipment-unused", "transition-tight",
    "focus-mismatch", "warm-up-missing", "warm-up-unrelated", "cool-down-missing", "caution-missing",
}
"""Codes that gold lists only where they are the point; unasked they cost nothing."""
NEAR_S = {"word": 2.0, "cue": 3.0, "block": 5.0}
"""Seconds that a delivered edge may lie from the truth, by how fine the times of the file are."""
SAID_NEAR_S = {"word": 8.0, "cue": 8.0, "block": 25.0}
"""Seconds that what a finding cites may lie outside the stretch in gold."""
ONE_WORD = {
    "push up": "pushup", "press up": "pressup", "pull up": "pullup", "sit up": "situp", "step up": "stepup", "dead lift": "deadlift",
    "kettle bell": "kettlebell", "dumb bell": "dumbbell", "inch worm": "inchworm", "down dog": "downward dog", "body weight": "bodyweight",
}


@dataclass(frozen=True, slots=True)
class Mark:
    """One comparison. ``wanted`` is what gold has, ``got`` what came out; None where a side has nothing."""

    slot: str
    wanted: object
    got: object
    where: str = ""

    @property
    def right(self) -> bool:
        return self.wanted is not None and self.wanted == self.got


@dataclass(frozen=True, slots=True)
class Figure:
    """How often a slot was right, missed, and filled though it should not be."""

    right: int = 0
    missed: int = 0
    extra: int = 0

    @property
    def precision(self) -> float:
        return self.right / (self.right + self.extra) if self.right + self.extra else 1.0

    @property
    def recall(self) -> float:
        return self.right / (self.right + self.missed) if self.right + self.missed else 1.0

    @property
    def f1(self) -> float:
        """The harmonic mean of precision and recall."""
        whole = 2 * self.right + self.missed + self.extra
        return 2 * self.right / whole if whole else 1.0


def figure(marks: Iterable[Mark]) -> Figure:
    right = missed = extra = 0
    for mark in marks:
        if mark.right:
            right += 1
        else:
            missed += mark.wanted is not None
            extra += mark.got is not None
    return Figure(right, missed, extra)


def compare(gold: dict, plan: dict, report: dict, delivered: Iterable[Done]) -> list[Mark]:
    """All marks of one talk-through: ``plan`` and ``report`` as they come out as JSON, ``delivered`` from the script."""
    times = plan["source"]["resolution"]
    marks = [*_frame(gold, plan), *_blocks(gold, plan)]
    if times != "none":
        marks += [*_findings(gold, report, times), *_delivered(delivered, report, times)]
    return [m for m in marks if not (m.wanted is None and m.got is None)]


# ---------------------------------------------------------------- names


def words_of(name: str) -> frozenset[str]:
    """The words of a movement's name, singular, pairs like ``push up`` as one."""
    text = re.sub(r"[^a-z0-9]+", " ", name.lower())
    for apart, joined in ONE_WORD.items():
        text = re.sub(rf"\b{apart}(?=s?\b)", joined, text)
    return frozenset(w[:-1] if len(w) > 3 and w.endswith("s") and not w.endswith("ss") else w for w in text.split())


def is_named(part: dict, accepted: list[str]) -> bool:
    have = words_of(part["name"])
    return any(words_of(name) <= have for name in accepted)


def is_movement(gold: dict, got: dict) -> bool:
    return any(is_named(part, accepted) for accepted in gold["parts"] for part in got["parts"])


def aligned(gold: list[dict], got: list[dict]) -> Iterator[tuple[dict | None, dict | None]]:
    """The most pairs of movements that keep both orders; those without a partner come with None."""
    pairs: dict[tuple[int, int], tuple] = {}
    for i in range(len(gold), -1, -1):
        for j in range(len(got), -1, -1):
            ways = [(0, None)] if i == len(gold) and j == len(got) else []
            if i < len(gold) and j < len(got) and is_movement(gold[i], got[j]):
                ways.append((pairs[i + 1, j + 1][0] + 1, (i + 1, j + 1)))
            if i < len(gold):
                ways.append((pairs[i + 1, j][0], (i + 1, j)))
            if j < len(got):
                ways.append((pairs[i, j + 1][0], (i, j + 1)))
            pairs[i, j] = max(ways, key=lambda way: way[0])
    i = j = 0
    while (to := pairs[i, j][1]) is not None:
        yield (gold[i] if to[0] > i else None), (got[j] if to[1] > j else None)
        i, j = to


# ---------------------------------------------------------------- the plan


def _flat(value):
    """Lists as tuples, whole floats as integers: what can be compared."""
    if isinstance(value, (list, tuple)):
        return tuple(_flat(v) for v in value)
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _kinds(slot: str, wanted: Iterable[str], got: Iterable[str], where: str = "") -> Iterator[Mark]:
    wanted, got = set(wanted), set(got)
    for name in sorted(wanted | got):
        yield Mark(slot, name if name in wanted else None, name if name in got else None, where)


def _frame(gold: dict, plan: dict) -> Iterator[Mark]:
    if "focus" in gold:
        yield from _kinds("focus", gold["focus"], plan["focus"])
    if "stated_length" in gold:
        wanted, got = gold["stated_length"] or {}, plan["stated_length"] or {}
        yield Mark("stated_length", _flat(wanted.get("seconds")), _flat(got.get("seconds")))
    if "equipment" in gold:
        yield from _equipment(gold["equipment"], plan["equipment"])
    for key, wanted in gold.get("totals", {}).items():
        yield Mark("totals", _flat(wanted), _flat(plan["totals"][key]), key)


def _equipment(wanted: list, listed: list[dict]) -> Iterator[Mark]:
    left = list(listed)
    for entry in wanted:
        names = [entry] if isinstance(entry, str) else entry
        found = next((e for e in left if words_of(e["name"]) in map(words_of, names)), None)
        if found:
            left.remove(found)
        yield Mark("equipment", names[0], names[0] if found else None)
    for entry in left:
        if not entry["optional"]:
            yield Mark("equipment", None, entry["name"])


def _blocks(gold: dict, plan: dict) -> Iterator[Mark]:
    if "blocks" not in gold:
        return
    for kind in ("warm_up", "main", "cool_down"):
        wanted = [b for b in gold["blocks"] if b["kind"] == kind]
        got = [b for b in plan["blocks"] if b["kind"] == kind]
        for n in range(max(len(wanted), len(got))):
            one, other = wanted[n] if n < len(wanted) else None, got[n] if n < len(got) else None
            where = f"{kind} {n + 1}"
            yield Mark("block", one and kind, other and kind, where)
            yield from _block(one, other or {}, where) if one else _movements([], other["movements"], where)


def _block(gold: dict, got: dict, where: str) -> Iterator[Mark]:
    if "format" in gold:
        yield Mark("format", gold["format"], got.get("format"), where)
    for key in SETTINGS:
        if key in gold:
            yield Mark("timing", _flat(gold[key]), _flat(got.get(key)), f"{where} {key}")
    if "movements" in gold:
        yield from _movements(gold["movements"], got.get("movements", []), where)


def _movements(gold: list[dict], got: list[dict], where: str) -> Iterator[Mark]:
    for one, other in aligned(gold, got):
        name = f"{where}: {one['parts'] if one else ''} {other['name'] if other else ''}"
        yield Mark("movement", one and "movement", other and "movement", name)
        if one and other:
            yield from _movement(one, other, name)


def _movement(gold: dict, got: dict, where: str) -> Iterator[Mark]:
    left = list(got["parts"])
    for accepted in gold["parts"]:
        found = next((p for p in left if is_named(p, accepted)), None)
        if found:
            left.remove(found)
        yield Mark("part", accepted[0], accepted[0] if found else None, where)
    yield from (Mark("part", None, part["name"], where) for part in left)
    if "number" in gold and where.startswith("main"):
        yield Mark("number", gold["number"], got["number"], where)
    if "sides" in gold:
        yield Mark("sides", gold["sides"], got["sides"]["mode"], where)
    for key in ("seconds_each", "reps_each"):
        if key in gold:
            yield Mark("per_side", _flat(gold[key]), _flat(got["sides"][key]), f"{where} {key}")
    for key, wanted in gold.get("dose", {}).items():
        yield Mark("dose", _flat(wanted), _flat(got["dose"][key]), f"{where} {key}")
    if "options" in gold:
        yield from _kinds("option", gold["options"], (o["kind"] for o in got["options"]), where)


# ---------------------------------------------------------------- the report


def _findings(gold: dict, report: dict, times: str) -> Iterator[Mark]:
    if "findings" not in gold:
        return
    left = list(report["findings"])
    for wanted in gold["findings"]:
        found = next((f for f in left if _is_finding(wanted, f, SAID_NEAR_S[times])), None)
        if found:
            left.remove(found)
        yield Mark("finding", wanted["code"], wanted["code"] if found else None, str(wanted.get("at", "")))
    for finding in left:
        if finding["code"] not in PRACTICE and finding["severity"] != "note":
            yield Mark("finding", None, finding["code"], finding["message"])


def _is_finding(wanted: dict, got: dict, near: float) -> bool:
    if got["code"] != wanted["code"] or got["corrected"] != wanted.get("corrected", got["corrected"]):
        return False
    if "at" not in wanted or not got["said"]:
        return True
    low, high = wanted["at"]
    return any(s["start"] is None or s["start"] <= high + near and (s["end"] or s["start"]) >= low - near for s in got["said"])


def _delivered(delivered: Iterable[Done], report: dict, times: str) -> Iterator[Mark]:
    left = [d for d in report["delivered"] if d["kind"] != "block_rest"]
    for done in delivered:
        name = f"{done.kind} block {done.block} round {done.round} number {done.number} {done.side or ''}".rstrip()
        found = next((d for d in left if _is_done(done, d, NEAR_S[times])), None)
        if found:
            left.remove(found)
        yield Mark("delivered", name, name if found else None, f"{done.start:.0f}-{done.end:.0f}")
    for row in left:
        yield Mark("delivered", None, f"{row['kind']} {row['start']:.0f}-{row['end']:.0f}", f"round {row['round']} number {row['number']}")


def _is_done(done: Done, got: dict, near: float) -> bool:
    return (
        got["kind"] == done.kind and got["block"] == done.block and got["round"] == done.round
        and (done.kind == "round_rest" or got["number"] == done.number)
        and abs(got["start"] - done.start) <= near and abs(got["end"] - done.end) <= near
    )


def missed(marks: Iterable[Mark]) -> Counter:
    """What went wrong, for people: ``slot: wanted … got …`` with where, and how often."""
    return Counter(f"{m.slot}: wanted {m.wanted}, got {m.got} ({m.where})" for m in marks if not m.right)
