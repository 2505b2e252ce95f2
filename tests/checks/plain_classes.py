"""Classes put together from a few templates, nothing wrong in them, and what makes each kind of fault in them.

A class is kept as data until it is spoken, so that a fault is one change of one thing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

SPOKEN = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
TENS = {20: "twenty", 30: "thirty", 40: "forty", 50: "fifty", 60: "sixty", 10: "ten", 15: "fifteen", 25: "twenty five", 45: "forty five", 35: "thirty five", 5: "five"}


@dataclass(frozen=True)
class Move:
    """One movement as it is shown. ``each``: said of the sides, with ``{a}`` and ``{b}`` seconds a side."""

    name: str
    show: str
    easier: str
    each: str = ""
    number: str | None = None       # what stands in place of "number four"
    seconds: tuple[int, int] | None = None


@dataclass(frozen=True)
class Class:
    moves: tuple[Move, ...]
    work: int = 40
    rest: int = 20
    rounds: int = 3
    length: str = ""
    focus: str = "strength session"
    caution: str = "If anything hurts, stop and tell me."
    kit: str = "two dumbbells and a mat"
    count: int | None = None
    warm_up: str = "Let's warm up. March on the spot. Big arm circles. Then hip hinges, slow."
    cool_down: str = "Let's cool down. Calf stretch, thirty seconds each side. Then a chest stretch."
    recap: tuple[str, ...] | None = None
    after: str = ""                 # said after the movements have been shown
    rounds_said: str = ""
    opener: str = "Evening everyone."
    style: str = "number"           # number | exercise | station

    def text(self) -> str:
        """The stamped transcript."""
        said = [f"{self.opener} It's a {self.focus} today. {self.caution}"]
        said += [f"You'll need {self.kit}. {self.length}"] if self.kit else [self.length]
        rounds = self.rounds_said or f"{SPOKEN[self.rounds]} rounds"
        count = self.count or len(self.moves)
        said.append(f"{SPOKEN[count].capitalize()} exercises, {TENS[self.work]} seconds on, {TENS[self.rest]} off. {rounds.capitalize()}, sixty seconds between rounds.")
        for k, move in enumerate(self.moves, 1):
            head = move.number if move.number is not None else f"{self.style.capitalize()} {SPOKEN[k]}"
            each = move.each
            if each:
                a, b = move.seconds or (self.work // 2, self.work // 2)
                each = each.format(a=TENS[a], b=TENS[b])
            said.append(" ".join(filter(None, [f"{head}, {move.name}." if head else f"Then {move.name}.", move.show, each, move.easier])))
        said.append("So that's " + ", ".join(self.recap or tuple(m.name for m in self.moves)) + ". " + self.after)
        said += [self.warm_up, self.cool_down, "And that's it. See you next week."]
        lines, at = [], 0
        for sentence in filter(str.strip, said):
            lines.append(f"[{at // 60}:{at % 60:02}] {sentence.strip()}")
            at += 4 + len(sentence.split()) // 2
        return "\n".join(lines) + "\n"

    def swap(self, at: int, **change) -> Class:
        moves = list(self.moves)
        moves[at] = replace(moves[at], **change)
        return replace(self, moves=tuple(moves))


SQUAT = Move("goblet squats", "Bell at the chest, sit down between your heels.", "Easier, put the bell down.")
PUSH = Move("push-ups", "Hands wide, chest to the floor.", "Easier, from your knees.")
BRIDGE = Move("glute bridges", "Heels close, hips up.", "If that's too much, only go half the way.")
LUNGE = Move("reverse lunges", "Step back, knee soft, and change legs every rep.", "Easier, a smaller step.")
CLIMB = Move("mountain climbers", "Hands under the shoulders, knees to the chest.", "Too much? Walk them in.")
JACKS = Move("jumping jacks", "Arms all the way up.", "Low impact, step it out.")
ROW = Move("single-arm row", "Hinge over, flat back.", "Easier, go lighter.", "{a} seconds on the right, then {b} seconds on the left.")
PRESS = Move("half-kneeling press", "Get nice and tall.", "Easier, sit on a chair.", "{a} seconds on the right, then {b} seconds on the left.")
MARCH = Move("suitcase march", "Bell down by your side, ribs stacked.", "Easier, just stand and hold it.", "{a} seconds in one hand, then {b} seconds in the other.")
SIDE = Move("side plank", "On your right elbow, right hip under you, hips up, then swap to the left.", "Easier, knees bent.")
CURL = Move("hammer curls", "Thumbs on top.", "Easier, one at a time.")
BUGS = Move("dead bugs", "Back on the floor, opposite arm and leg.", "Easier, tap your heels.")
BURPEE = Move("burpees", "Hands down, jump back, jump in, jump up.", "Easier, step it.")
SKATER = Move("skaters", "Side to side, land soft.", "Low impact, tap behind.")
JUMPS = Move("jump squats", "Land soft.", "Easier, no jump.")
BAND = Move("band pull-aparts", "Band out in front at chest height.", "Easier, hold it wider.")
CALF = Move("calf raises", "Up on your toes.", "Easier, hold on to something.")
SIT = Move("wall sit", "Back against the wall.", "Easier, sit higher.")


def plain_classes() -> dict[str, Class]:
    """Nothing is wrong in any of these."""
    return {
        "six, numbered": Class((SQUAT, PUSH, LUNGE, ROW, BRIDGE, BUGS)),
        "five, a press on one knee": Class((SQUAT, PRESS, LUNGE, PUSH, BRIDGE), work=50, rest=25, opener="Morning all."),
        "five, a side plank": Class((SQUAT, CURL, SIDE, BRIDGE, BUGS), work=40, rest=20, rounds=4, style="exercise"),
        "four, stations": Class((LUNGE, MARCH, PUSH, JACKS), work=60, rest=30, rounds=2, style="station", opener="Welcome to the Long Room."),
        "six, high impact": Class((BURPEE, SKATER, CLIMB, JUMPS, JACKS, PUSH), work=30, rest=30, rounds=3, focus="cardio session", kit="a mat"),
        "five, a band": Class((SQUAT, BAND, LUNGE, ROW, BRIDGE), kit="two dumbbells, a long band and a mat"),
        "seven": Class((SQUAT, PUSH, LUNGE, CURL, MARCH, BRIDGE, BUGS), rounds=2, opener="Hello everyone, come in."),
        "four, legs": Class((SQUAT, LUNGE, CALF, SIT), work=40, rest=20, warm_up="Let's warm up. March on the spot. Leg swings. Then hip hinges, slow."),
        "five, with a length": Class((SQUAT, PUSH, LUNGE, ROW, BRIDGE), length="Under half an hour today.",
                                     warm_up="Warm-up is five minutes. March on the spot. Big arm circles. Then hip hinges, slow."),
        "six, in the net loft": Class((PUSH, SQUAT, PRESS, CURL, LUNGE, BUGS), work=40, rest=20, rounds=2, opener="Right, the net loft, welcome.", style="exercise"),
        "five, one in the yard": Class((JACKS, SQUAT, SIDE, ROW, CLIMB), work=50, rest=25, rounds=2, opener="Evening, everybody into the yard."),
        "six, a march": Class((SQUAT, MARCH, PUSH, LUNGE, BRIDGE, CURL), work=60, rest=30, rounds=2, style="station"),
    }


# ---------------------------------------------------------------- faults


@dataclass(frozen=True)
class Fault:
    code: str
    name: str
    plant: Callable[[Class], Iterator[Class | None]]
    corrected: bool = False
    also: frozenset[str] = field(default_factory=frozenset)


def _middle(c: Class) -> range:
    return range(1, len(c.moves) - 1)


def _one_sided(c: Class) -> list[int]:
    return [k for k, m in enumerate(c.moves) if m.each]


def _number_of_the_one_before(c):
    for k in _middle(c):
        yield c.swap(k, number=f"{c.style.capitalize()} {SPOKEN[k]}") if k > 1 else None


def _number_skips(c):
    for k in _middle(c):
        yield c.swap(k, number=f"{c.style.capitalize()} {SPOKEN[k + 3]}")


def _last_number_off(c):
    k = len(c.moves)
    yield c.swap(k - 1, number=f"{c.style.capitalize()} {SPOKEN[k + 1]}")


def _number_put_right(c):
    for k in _middle(c):
        yield c.swap(k, number=f"{c.style.capitalize()} {SPOKEN[k + 2]}, sorry, {SPOKEN[k + 1]}, {c.style} {SPOKEN[k + 1]}")


def _number_dropped(c):
    for k in _middle(c):
        if len(c.moves) > 3:
            yield c.swap(k, number="And then we've got") if len(c.moves) > 3 else None


def _count_off(c):
    for by in (-1, 1, 2):
        yield replace(c, count=len(c.moves) + by)


def _recap_swapped(c):
    names = [m.name for m in c.moves]
    for k in range(len(names) - 1):
        swapped = names[:]
        swapped[k], swapped[k + 1] = swapped[k + 1], swapped[k]
        yield replace(c, recap=tuple(swapped))


def _recap_renamed(c):
    names = [m.name for m in c.moves]
    for other in ("bear crawls", "inchworms"):
        for k in _middle(c):
            yield replace(c, recap=(*names[:k], other, *names[k + 1 :]))


def _name_nobody_knows(c):
    for k in _middle(c):
        named = replace(c, recap=(c.moves[0].name,))
        yield named.swap(k, name="wobbly herons", each="", show="Try to stay up.")


def _rounds_put_right(c):
    yield replace(c, rounds_said=f"{SPOKEN[c.rounds + 1]} rounds, sorry, {SPOKEN[c.rounds]} rounds")
    yield replace(c, rounds_said=f"{SPOKEN[c.rounds + 2]} rounds. No. {SPOKEN[c.rounds].capitalize()} rounds")


def _times_said_otherwise(c):
    for work, rest in ((45, 15), (35, 25), (30, 20)):
        if (work, rest) != (c.work, c.rest) and work % 2 == 1 or work != c.work:
            yield replace(c, after=f"{TENS[work].capitalize()} seconds on, {TENS[rest]} off.")


def _split_off(c):
    for k in _one_sided(c):
        for each in (15, 20, 25, 30, 35):
            if each * 2 != c.work and each < c.work:
                yield c.swap(k, seconds=(each, each))


def _too_long(c):
    for promise in ("Under ten minutes today.", "Just under eight minutes today.", "No more than nine minutes today."):
        yield replace(c, length=promise)


def _one_side_named(c):
    for k, m in enumerate(c.moves):
        if m is SIDE:
            yield c.swap(k, show="On your right elbow, right hip under you, hips up.")
            yield c.swap(k, show="Left elbow down, left hip under you, hips up, hold it.")
        if m is ROW:
            yield c.swap(k, show="Hinge over, left foot back, and the left arm pulls.", each="")
        if m is PRESS:
            yield c.swap(k, show="Right knee down, bell in the right hand, and press.", each="")


def _uneven(c):
    for k in _one_sided(c):
        for a, b in ((25, 15), (20, 15), (15, 20)):
            yield c.swap(k, seconds=(a, b), each=c.moves[k].each.replace("in one hand", "on the right").replace("in the other", "on the left"))


def _both_on_one_side(c):
    for k, m in enumerate(c.moves):
        if m is PRESS:
            for side in ("right", "left"):
                yield c.swap(k, show=f"{side.capitalize()} knee down, {side} foot in front.")
                yield c.swap(k, show=f"Your {side} knee's on the mat, your {side} foot's out in front.")
        if m is SIDE:
            yield c.swap(k, show="Lie on your right side, right leg on top, hips up, then swap.")


def _wrong_limb(c):
    for k, m in enumerate(c.moves):
        for side in ("right", "left"):
            if m is ROW:
                yield c.swap(k, show=f"Hinge over, and your {side} leg rows the bell up.")
            if m is PRESS:
                yield c.swap(k, show=f"Get tall, and your {side} leg presses it up.")
            if m is CURL:
                yield c.swap(k, show=f"Thumbs on top, your {side} leg curls it up.")


def _limb_put_right(c):
    for k, m in enumerate(c.moves):
        if m in (ROW, PRESS):
            yield c.swap(k, show="Get tall, and the right leg, sorry, arm does the work.")


def _no_easier_way(c):
    for k, m in enumerate(c.moves):
        if m in (PUSH, BURPEE, SQUAT, JUMPS, LUNGE):
            yield c.swap(k, easier="")


def _band_not_asked_for(c):
    if BAND in c.moves:
        for kit in ("two dumbbells and a mat", "two dumbbells", "a kettlebell and a mat"):
            yield replace(c, kit=kit)


def _asked_for_nothing(c):
    for thing in ("a stability ball", "a foam roller", "a massage ball"):
        yield replace(c, kit=f"{thing}, {c.kit}")


def _no_time_to_get_down(c):
    needs = any(a in (SQUAT, CURL, ROW, MARCH) and b in (BRIDGE, BUGS, PUSH) for a, b in zip(c.moves, c.moves[1:]))
    if needs:
        yield replace(c, rest=10)
        yield replace(c, rest=5)


def _called_otherwise(c):
    if all(m in (BURPEE, SKATER, CLIMB, JUMPS, JACKS, PUSH) for m in c.moves) and JUMPS in c.moves:
        hard = tuple(m for m in c.moves if m in (BURPEE, SKATER, JUMPS, JACKS))
        for focus in ("mobility session", "recovery session"):
            yield replace(c, moves=hard, focus=focus)


def _no_warm_up(c):
    yield replace(c, warm_up="")


def _warm_up_of_the_other_half(c):
    if all(m in (SQUAT, LUNGE, CALF, SIT) for m in c.moves):
        yield replace(c, warm_up="Let's warm up. Shoulder rolls, backwards. Big arm circles. Then wrist circles.")


def _no_cool_down(c):
    yield replace(c, cool_down="")


def _no_caution(c):
    yield replace(c, caution="")


FAULTS = (
    Fault("number-misstated", "the number of the one before", _number_of_the_one_before),
    Fault("number-misstated", "a number ahead", _number_skips),
    Fault("number-misstated", "the last one", _last_number_off),
    Fault("number-misstated", "put right", _number_put_right, corrected=True),
    Fault("number-missing", "dropped", _number_dropped),
    Fault("count-mismatch", "one more or less", _count_off),
    Fault("order-changed", "two swapped", _recap_swapped),
    Fault("name-changed", "another name", _recap_renamed),
    Fault("movement-unknown", "a pet name", _name_nobody_knows),
    Fault("slip-corrected", "rounds", _rounds_put_right, corrected=True),
    Fault("timing-contradiction", "said otherwise later", _times_said_otherwise),
    Fault("split-mismatch", "a side's seconds", _split_off),
    Fault("length-mismatch", "promised less", _too_long),
    Fault("side-missing", "one side only", _one_side_named),
    Fault("side-uneven", "two amounts", _uneven),
    Fault("side-contradiction", "both of one side", _both_on_one_side),
    Fault("limb-mismatch", "the leg does it", _wrong_limb),
    Fault("limb-mismatch", "put right", _limb_put_right, corrected=True),
    Fault("option-missing", "one without", _no_easier_way),
    Fault("equipment-unannounced", "the band", _band_not_asked_for),
    Fault("equipment-unused", "one thing too many", _asked_for_nothing),
    Fault("transition-tight", "ten seconds", _no_time_to_get_down),
    Fault("focus-mismatch", "called otherwise", _called_otherwise),
    Fault("warm-up-missing", "left out", _no_warm_up),
    Fault("warm-up-unrelated", "the other half", _warm_up_of_the_other_half),
    Fault("cool-down-missing", "left out", _no_cool_down),
    Fault("caution-missing", "left out", _no_caution),
)


def mutants() -> Iterator[tuple[str, Fault, Class]]:
    for name, plain in plain_classes().items():
        for fault in FAULTS:
            for changed in fault.plant(plain):
                if changed is not None and changed != plain:
                    yield name, fault, changed
