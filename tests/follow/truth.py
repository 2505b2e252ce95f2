"""The plan of one of our scripts as gold has it, so that following is measured apart from understanding the plan."""

from __future__ import annotations

from parser.model import Block, Dose, Movement, Part, Plan, PlanSource, Sides

SETTINGS = ("format", "rounds", "work_s", "rest_s", "round_rest_s", "interval_s", "duration_s", "rep_scheme", "time_scheme", "rest_after_s")


def plan_of(gold: dict) -> Plan:
    blocks = [Block(kind=b["kind"], movements=[_movement(n, m) for n, m in enumerate(b.get("movements") or [], 1)],
                    **{k: b[k] for k in SETTINGS if k in b}) for b in gold.get("blocks") or []]
    return Plan(source=PlanSource(name="gold", sha256="0" * 64, format="plan", resolution="none", duration_s=None, words=0), blocks=blocks)


def _movement(place: int, gold: dict) -> Movement:
    names = [accepted[0] for accepted in gold["parts"]]
    return Movement(number=gold.get("number", place), name=" + ".join(names), parts=[Part(name=n, base=n) for n in names], said=" ".join(names),
                    sides=Sides(mode=gold.get("sides") or "both", seconds_each=gold.get("seconds_each"), reps_each=gold.get("reps_each")),
                    dose=Dose(**(gold.get("dose") or {})))
