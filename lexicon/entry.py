"""The shapes of the data files. Every model is frozen and refuses keys that it does not know."""

from __future__ import annotations

import re
from typing import Annotated, Literal, get_args

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

Sides = Literal["both", "alternating", "each"]
Position = Literal["standing", "kneeling", "half-kneeling", "seated", "prone", "supine", "side-lying", "plank", "quadruped", "hanging"]
Impact = Literal["none", "low", "high"]
Pattern = Literal[
    "squat", "hinge", "lunge", "horizontal-push", "vertical-push", "horizontal-pull", "vertical-pull", "carry", "rotation",
    "anti-rotation", "locomotion", "jump", "hold", "mobility", "core-flexion", "core-extension", "hip-extension", "elbow-flexion",
    "elbow-extension", "shoulder-raise", "calf-raise", "abduction", "adduction", "punch", "step", "balance", "breathing",
]
Muscle = Literal[
    "quadriceps", "hamstrings", "glutes", "adductors", "abductors", "calves", "hip-flexors", "shins", "abdominals", "obliques",
    "lower-back", "upper-back", "lats", "traps", "chest", "shoulders", "rotator-cuff", "biceps", "triceps", "forearms", "neck",
    "full-body", "heart",
]
PATTERNS: tuple[str, ...] = get_args(Pattern)
MUSCLES: tuple[str, ...] = get_args(Muscle)
Caution = Literal[
    "knees", "lower-back", "shoulders", "wrists", "neck", "ankles", "hips", "pelvic-floor", "blood-pressure", "pregnancy", "balance",
    "elbows",
]

_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def _kebab(value: str) -> str:
    if not _ID.fullmatch(value):
        raise ValueError("write it in small letters and digits with a hyphen between words, such as goblet-squat")
    return value


def _plain(value: str) -> str:
    if not value.strip() or value != " ".join(value.split()) or value != value.lower():
        raise ValueError("write it in small letters, with single spaces and none at either end")
    return value


Id = Annotated[str, AfterValidator(_kebab)]
Name = Annotated[str, AfterValidator(_plain)]


class _Row(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=False)


class MovementEntry(_Row):
    """One base movement. ``everyday`` holds those of its names that are ordinary words too (``row``, ``plank``); ``stretched``,
    the parts of the body that name it where stretches are done (``calf``).

    ``sides``: ``both`` together, ``alternating`` rep by rep, or ``each`` side for itself. ``source``: where the values come from;
    ``memory`` is common practice, not looked up.
    """

    id: Id
    name: Name
    aliases: tuple[Name, ...] = ()
    misheard: tuple[Name, ...] = ()
    family: Id | None = None
    patterns: Annotated[tuple[Pattern, ...], Field(min_length=1)]
    primary: Annotated[tuple[Muscle, ...], Field(min_length=1)]
    secondary: tuple[Muscle, ...] = ()
    equipment: tuple[Name, ...]
    sides: Sides
    position: Position
    impact: Impact
    easier: tuple[Id, ...] = ()
    harder: tuple[Id, ...] = ()
    cautions: tuple[Caution, ...] = ()
    everyday: tuple[Name, ...] = ()
    stretched: tuple[Name, ...] = ()
    source: Annotated[str, Field(min_length=1)]


class ModifierEntry(_Row):
    """A word or phrase that changes a movement: before it (``name``, ``aliases``) or only after it (``after``;
    ``title``: only in a written title).

    ``axis``: two different modifiers of one axis contradict each other (seated, standing). ``weak``: says too little to make an
    everyday word a movement (``a quick row``). ``understood``: what a coach adds or leaves out without meaning another movement.
    """

    name: Name
    kind: Literal["stance", "side", "direction", "tempo", "load", "range", "grip"]
    aliases: tuple[Name, ...] = ()
    after: tuple[Name, ...] = ()
    title: tuple[Name, ...] = ()
    axis: Name | None = None
    sides: Sides | None = None
    position: Position | None = None
    equipment: tuple[Name, ...] = ()
    weak: bool = False
    understood: bool = False


class EquipmentEntry(_Row):
    """``household``: what does instead at home. ``plural`` where adding an s is wrong. ``before``: what of it is said right before
    a movement (``dumbbell row``); left out: all its names. ``load``: lifted or pulled, so that another load replaces it.
    ``needs``: what comes with it (a landmine holds a barbell). ``everyday``: names that are ordinary words too."""

    name: Name
    plural: Name | None = None
    synonyms: tuple[Name, ...] = ()
    household: tuple[Name, ...] = ()
    before: tuple[Name, ...] | None = None
    load: bool = False
    needs: tuple[Name, ...] = ()
    everyday: tuple[Name, ...] = ()


class SharedWord(_Row):
    """A word that stands for one of several pieces of equipment, whichever was spoken of (``bells``); for the piece ``along`` names where
    another one is spoken of that goes with it (a ``bag`` with boxing gloves); else for ``otherwise``, or for no equipment."""

    word: Name
    means: Annotated[tuple[Name, ...], Field(min_length=2)]
    along: dict[Name, Name] = {}
    otherwise: Name | None = None


class BodyPart(_Row):
    """``can`` and ``cannot``: verbs, in their plain form, that the part is told to do, or cannot be meant to do."""

    name: Name
    words: tuple[Name, ...] = ()
    region: Literal["upper", "lower", "trunk"]
    sided: bool
    can: tuple[Name, ...] = ()
    cannot: tuple[Name, ...] = ()


class Confusion(_Row):
    """What speech-to-text writes instead of a word of the trade. Believed only where the words around it make it a movement,
    unless it is ``sure``: no other English word."""

    heard: Name
    means: Annotated[tuple[Name, ...], Field(min_length=1)]
    sure: bool = False


class AndPairs(_Row):
    """``apart``: pairs of ``first`` and ``second`` that stay two movements all the same."""

    first: tuple[Pattern, ...] = ()
    second: tuple[Pattern, ...] = ()
    apart: tuple[tuple[Pattern, Pattern], ...] = ()


class ChainWords(_Row):
    """Words between two movements that make one item of them. ``and``: by movement patterns, since it mostly lists."""

    links: dict[Literal["then", "with", "while"], tuple[Name, ...]] = {}
    pairs: Annotated[AndPairs, Field(alias="and")] = AndPairs()


class TaughtWord(_Row):
    name: Annotated[str, Field(min_length=1, max_length=80)]
    means: Annotated[str, Field(min_length=1, max_length=200)]
