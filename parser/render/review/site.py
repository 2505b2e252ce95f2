"""The archive as pages: an index that can be searched without a server, with programming over time and what comes again under it.

What was said reaches it as text only, through the escaping of the templates; its policy lets nothing run but the one script that is named
in it by its hash, and lets it ask for nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from importlib import resources

from ...review.habits import Habit, Habits, Moment
from ...review.history import History
from ...review.listed import Listed
from ..clean import clean
from ..sheet import ORDINARY_CAUTIONS
from ..templates import fill, source_hash
from . import habits as habit_words
from . import history as history_words
from .days import classes, day, span
from .picture import STYLE, inside

INDEX = "index.html"


@cache
def _own(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


def index(listed: Sequence[Listed], history: History, habits: Habits) -> str:
    """The index of a site whose other pages are those of ``listed``, in their order."""
    style, script = _own("site.css") + STYLE, _own("site.js")
    by_number = {one.shown.id: one for one in listed}
    return fill(
        "review/site.html.j2", listed=[_entry(one) for one in listed], counted=classes(len(listed)),
        picture=inside(history), span=span(history.period), unused=_unused(history), facts=history_words.facts(history),
        habit_facts=habit_words.facts(habits), habits=[_habit(h, by_number) for h in habit_words.again(habits)],
        foot=ORDINARY_CAUTIONS, habit_foot=habit_words.FOOT, history_foot=history_words.FOOT,
        style=style, script=script, styles=source_hash(style), scripts=source_hash(script),
    )


def _entry(one: Listed) -> dict[str, object]:
    lines = {
        "coach": clean(one.coach or ""), "place": clean(one.place or ""), "tags": ", ".join(map(clean, one.tags)),
        "movements": ", ".join(map(clean, one.movements)), "settings": "; ".join(map(clean, one.settings)),
        "equipment": ", ".join(map(clean, one.equipment)), "report": one.findings,
    }
    return {
        "page": one.page, "title": clean(one.shown.title or one.shown.name), "id": one.shown.id, "day": day(one.shown.day),
        "lines": [(name, words) for name, words in lines.items() if words],
    }


def _unused(history: History) -> list[tuple[str, str]]:
    """What none of the weeks has, where there are any classes to have it."""
    if not history.classes:
        return []
    kinds = {"movements used before": history.movements_unused, "patterns": history.patterns_unused, "muscles": history.muscles_unused}
    return [(name, ", ".join(map(history_words.unused, rows))) for name, rows in kinds.items() if rows]


def _habit(habit: Habit, listed: Mapping[int, Listed]) -> dict[str, object]:
    shown = habit.moments[: habit_words.MOMENTS]
    return {
        "about": clean(habit.about or habit.code), "severity": habit.severity, "code": clean(habit.code), "told": habit_words.told(habit),
        "moments": [(_place(moment, listed[moment.id]), habit_words.cells(moment)) for moment in shown if moment.id in listed],
    }


def _place(moment: Moment, one: Listed) -> str:
    """Where its finding stands on the page of its class."""
    return f"{one.page}#found-{one.places[moment.place]}"
