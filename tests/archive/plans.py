"""Plans written by hand, as short as a test can say them."""

import hashlib

from parser.model import Block, Interval, Movement, Option, Part, Plan, Reading, Report, Sides, Source, TalkThrough
from tests.render.examples import source

TRAINS = {
    "squat": (["squat"], ["quadriceps", "glutes"]),
    "push-up": (["horizontal-push"], ["chest", "triceps"]),
    "press": (["vertical-push"], ["shoulders", "triceps"]),
    "row": (["horizontal-pull"], ["upper-back", "lats"]),
    "pull-up": (["vertical-pull"], ["lats", "biceps"]),
    "reverse lunge": (["lunge"], ["quadriceps", "glutes"]),
    "march": (["locomotion"], ["heart"]),
    "thruster": (["squat", "vertical-push"], ["quadriceps", "shoulders"]),
    "hamstring stretch": (["mobility", "hold"], ["hamstrings"]),
    "downward dog": (["mobility", "vertical-push"], ["shoulders", "hamstrings"]),
}
"""What a few movements train; from memory."""


def movement(number: int, name: str, *, sides: str = "both", first: str | None = None, easier: str | None = None, **more) -> Movement:
    """``squat + press`` has two parts."""
    parts = [Part(name=p, base=p, patterns=TRAINS[p][0], muscles=TRAINS[p][1]) for p in name.split(" + ")]
    options = [Option(kind="regression", text=easier, sources=[])] if easier else []
    return Movement(number=number, name=name, parts=parts, sides=Sides(mode=sides, first=first), options=options, said=name, **more)


def block(*names: str | Movement, kind: str = "main", **settings) -> Block:
    made = [m if isinstance(m, Movement) else movement(n, m) for n, m in enumerate(names, 1)]
    return Block(kind=kind, movements=made, **settings)


def plan(*blocks: Block, name: str = "yard.vtt", **more) -> Plan:
    return Plan(source=source(name), blocks=list(blocks), **more)


def said(at: float | None, quote: str) -> Source:
    return Source(start=at, end=at, quote=quote, chars=(0, len(quote)))


def reading(made: Plan, findings=(), *, text: str = "", followed: bool = False) -> Reading:
    """A class as the archive keeps it; another for each text."""
    talk = TalkThrough(name=made.source.name, sha256=hashlib.sha256(text.encode()).hexdigest(), format="webvtt", resolution="cue",
                       duration_s=60.0, text=text, cues=())
    done = [Interval(kind="work", block=1, start=0, end=40, uncertainty_s=1)] if followed else []
    return Reading(talk=talk, plan=made, report=Report(source=made.source, findings=list(findings), delivered=done))
