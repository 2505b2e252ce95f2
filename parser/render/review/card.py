"""One class as it is kept, as plain lines: when, who and where, where it came from, its plan and its report."""

from __future__ import annotations

from rich.text import Text

from ...review.card import Card
from ...review.shown import Version
from .. import terminal
from ..clean import clean
from ..console import to_text
from ..look import Look
from .days import called
from .found import told_of


def text(found: Card, look: Look) -> str:
    head = [Text(f"Class {called(found.shown)}", "bold")]
    if told := told_of(found):
        head.append(Text(told))
    head += [Text(_version(version, of=found), "dim") for version in found.versions]
    parts = [to_text(head, look), terminal.plan(found.plan, look)]
    if found.report is not None:
        parts.append(terminal.report(found.report, look))
    return "\n".join(parts)


def _version(version: Version, *, of: Card) -> str:
    number = f"Version {version.number}, k" if len(of.versions) > 1 else "K"
    this = ", shown here" if len(of.versions) > 1 and version.number == of.version else ""
    return f"{number}ept {version.added:%Y-%m-%d %H:%M} UTC from {clean(version.path or 'standard input')}{this}"
