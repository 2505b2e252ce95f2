"""Plans and reports written by hand: one with every field filled, one with nothing said."""

from dataclasses import replace

from parser.clock import read_start
from parser.model import (
    Block,
    Break,
    Coverage,
    Cue,
    Dose,
    DosePhase,
    Equipment,
    Finding,
    Interval,
    Mark,
    Movement,
    Option,
    Part,
    Place,
    Plan,
    PlanSource,
    Reading,
    Recorded,
    Report,
    Sides,
    Source,
    StatedLength,
    TalkThrough,
    Text,
    Totals,
    Unplaced,
)
from parser.render import Output
from parser.render.look import Look


def said(start: float | None, quote: str = "as said") -> list[Source]:
    return [Source(start=start, end=None if start is None else start + 2, quote=quote, chars=(0, len(quote)))]


def source(name: str = "long-room.vtt", *, duration_s: float | None = 1560.0) -> PlanSource:
    return PlanSource(name=name, sha256="0" * 64, format="webvtt", resolution="cue", duration_s=duration_s, words=900)


def part(name: str, **more) -> Part:
    return Part(name=name, base=name, **more)


def movement(number: int, name: str, **more) -> Movement:
    more = {"said": name, "parts": [part(name)], **more}
    return Movement(number=number, name=name, **more)


START = read_start("2026-03-02T18:30")


def made(output: Output, document: Plan | Report, look: Look = Look()) -> str:
    """What ``output`` makes of ``document``, with what else it needs: a start, and what was done when."""
    if output.recorded:
        document = Recorded(plan=document, delivered=FAULTY.delivered)
    return output.one(document, look if output.start == "none" else replace(look, start=START))


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


def reading_of(words: str = "step-up") -> Reading:
    """A small class with ``words`` as its movement, its caution, its finding and in its talk; every source lies where it says."""
    cues = [(0.0, 8.0, "Two rounds, thirty on, ten off."), (10.0, 20.0, f"Number one, {words}, left leg, then the right."),
            (21.0, 30.0, f"Too high? {words} on the kerb."), (60.0, 90.0, "Go."), (90.0, 130.0, f"And rest. {words} again.")]
    text = "\n".join(said for _, _, said in cues)

    def at(quote: str, after: int = 0) -> Source:
        place = text.index(quote, after)
        start = next(s for s, _, said in reversed(cues) if text.index(said) <= place)
        return Source(start=start, end=start + 2, quote=quote, chars=(place, place + len(quote)))

    name, again = at(words), at(words, text.index("rest."))
    easier = at(f"{words} on the kerb")
    block = Block(kind="main", label=words, format="interval", rounds=2, work_s=30, rest_s=10, sources=[at("Two rounds"), at("thirty on, ten off")], movements=[
        movement(1, words, said=words, sources=[name, again], sides=Sides(mode="each", seconds_each=15, first="left"),
                 options=[Option(kind="regression", text=easier.quote, sources=[easier])])])
    plan = Plan(source=source(words, duration_s=130.0), title=words, blocks=[block], cautions=[Text(text=words, sources=[again])],
                unplaced=[Unplaced(kind="movement", text=words, sources=[again])])
    halves = [Interval(kind="work", block=1, round=1, number=1, side=side, start=start, end=start + 15, uncertainty_s=0.3, planned_s=15)
              for side, start in (("first", 60.0), ("second", 75.0))]
    finding = Finding(code="rest-off", severity="warning", message=words, said=[at("And rest"), at("ten off")], expected="10 s", block=1, round=1)
    report = Report(source=plan.source, findings=[finding],
                    delivered=[*halves, Interval(kind="rest", block=1, round=1, number=1, start=90.0, end=130.0, uncertainty_s=0.3, planned_s=10)])
    marks = [Mark(kind="number", means="rounds", source=at("Two")), Mark(kind="time", means="work", source=at("thirty")),
             Mark(kind="movement", means=words, source=name), Mark(kind="side", means="each", source=at("left leg, then the right")),
             Mark(kind="option", means="regression", source=easier)]
    places = [(text.index(said), text.index(said) + len(said)) for _, _, said in cues]
    talk = TalkThrough(name=words, sha256="0" * 64, format="stamped", resolution="block", duration_s=130.0, text=text,
                       cues=tuple(Cue(start=s, end=e, chars=place) for (s, e, _), place in zip(cues, places)))
    return Reading(talk=talk, plan=plan, report=report, marks=tuple(marks), meanwhile=(at("Go."), None, at(f"And rest. {words} again.")))
