"""Plans and reports written by hand: one with every field filled, one with nothing said."""

from parser.model import (
    Block, Break, Coverage, Dose, DosePhase, Equipment, Finding, Interval, Movement, Option, Part, Partner, Place, Plan,
    PlanSource, Report, Sides, Source, StatedLength, Text, Totals, Unplaced,
)


def said(start: float | None, quote: str = "as said") -> list[Source]:
    return [Source(start=start, end=None if start is None else start + 2, quote=quote, chars=(0, len(quote)))]


def source(name: str = "long-room.vtt", *, duration_s: float | None = 1560.0) -> PlanSource:
    return PlanSource(name=name, sha256="0" * 64, format="webvtt", resolution="cue", duration_s=duration_s, words=900)


def part(name: str, **more) -> Part:
    return Part(name=name, base=name, **more)


def movement(number: int, name: str, **more) -> Movement:
    more = {"said": name, "parts": [part(name)], **more}
    return Movement(number=number, name=name, **more)


EMPTY = Plan(source=source(duration_s=None))

FULL = Plan(
    source=source(),
    title="Lunch on the slipway",
    focus=["resistance", "core"],
    stated_length=StatedLength(seconds=1800, qualifier="under", sources=said(3)),
    equipment=[
        Equipment(name="dumbbell", quantity=2, alternatives=["bottle"], sources=said(21)),
        Equipment(name="mat", optional=True, sources=said(24)),
    ],
    cautions=[Text(text="keep clear of the wet boards", sources=said(30))],
    blocks=[
        Block(kind="warm_up", duration_s=240, movements=[movement(1, "arm circle", sources=said(62))], sources=said(60)),
        Block(
            kind="main", label="the long rope", format="interval", rounds=3, work_s=40, rest_s=20, round_rest_s=90,
            rest_after_s=120, sources=said(92),
            movements=[
                movement(
                    1, "hammer curl + reverse lunge", said="curl and lunge", aliases=["the mooring"], sources=said(101),
                    parts=[part("hammer curl"), part("reverse lunge", link="with")],
                    sides=Sides(mode="alternating"), equipment=["dumbbell"],
                    options=[
                        Option(kind="regression", part=1, text="step back half as far", sources=said(110)),
                        Option(kind="progression", text="pause at the bottom", sources=said(114)),
                        Option(kind="substitution", text="sit and stand from the bench", sources=said(118)),
                    ],
                    cues=[Text(text="elbows stay by the ribs", sources=said(122))],
                ),
                movement(2, "half-kneeling press", sides=Sides(mode="each", seconds_each=20, first="left"), sources=said(130)),
            ],
        ),
        Block(
            kind="main", format="sets", rounds=(2, 3), rest_s=0, round_rest_s=60, sources=said(700),
            movements=[
                movement(3, "single-arm row", dose=Dose(reps=(8, 10)), sides=Sides(mode="each", reps_each=(8, 10)), sources=said(705)),
                movement(4, "wall sit", sources=said(720),
                         dose=Dose(phases=[DosePhase(text="pulses", reps=8), DosePhase(text="hold", seconds=8)])),
            ],
        ),
        Block(kind="cool_down", each_side_through=True, sources=said(1400),
              movements=[movement(1, "pigeon", sides=Sides(mode="one", first="right"), sources=said(1410))]),
    ],
    breaks=[Break(text="a sip of water", after=Place(block=1, round=2), sources=said(500))],
    totals=Totals(warm_up_s=(240, 240), main_s=(1035, 1065), class_s=(1275, None)),
    unplaced=[Unplaced(kind="time", text="give it a minute", sources=said(640))],
)

CLEAN = Report(source=source())

FAULTY = Report(
    source=source(),
    findings=[
        Finding(code="slip-corrected", severity="note", message="The rest was put right at 1:50.", said=said(108), corrected=True),
        Finding(code="caution-missing", severity="note", message="No caution is said."),
        Finding(code="work-off", severity="warning", message="This work was 33 s, not 40 s.", said=said(400, "and rest"),
                expected="40 s", block=1, round=2, number=2),
        Finding(code="split-mismatch", severity="error", message="25 s a side do not fit 40 s.", said=said(130, "twenty five each side")),
    ],
    delivered=[
        Interval(kind="work", block=1, round=2, number=2, side="first", start=367, end=400, uncertainty_s=1.5, planned_s=40),
        Interval(kind="round_rest", block=1, round=2, start=400, end=490, uncertainty_s=2, planned_s=90),
        Interval(kind="work", block=2, start=700, end=1300.04, uncertainty_s=2),
    ],
    coverage=Coverage(rounds_planned=3, rounds_delivered=2, movements_planned=6, movements_delivered=4, main_s_delivered=933.0),
)
