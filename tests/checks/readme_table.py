"""The README's table of findings, made from the rules: ``python -m tests.checks.readme_table`` writes it again."""

from __future__ import annotations

import re

from parser.checks import CLOCK, RULES, countdown_off, length_mismatch, timing
from parser.checks.kit import table

from ..refresh_readme import README

_TABLE = re.compile(r"(<!-- rules -->\n).*?(<!-- /rules -->)", re.DOTALL)
_PAGE = re.compile(r"\A(?P<when>[^\n]+)\.\n")


def rows() -> list[str]:
    """One row a rule, in the order in which the rules have the word."""
    return [f"| `{rule.code}` | {rule.severity} | {_PAGE.match(rule.doc)['when']}{' †' if rule.code in CLOCK else ''} |" for rule in RULES]


def thresholds() -> list[str]:
    """From which difference on the rules with a tolerance speak."""
    seconds = table()["seconds"]
    return [
        f"- Work and rests: the larger of {timing.LEAST_S:g} s and {timing.SHARE:.0%} of the announced time, and how surely the edge is heard on top.",
        f"- Time left as said: the larger of {countdown_off.LEAST_S_OF_LEFT:g} s and {countdown_off.SHARE_OF_LEFT:.0%} of it, {timing.LEAST_S:g} s more where nothing says"
        " that it is time left, and the same on top.",
        f"- Length of the class: *about* allows {length_mismatch.ABOUT:.0%}, *exactly* {length_mismatch.EXACT_S:g} s, *under* and *over* nothing on their side.",
        f"- Changes between movements: {seconds['down_or_up']:g} s to get down or up, {seconds['kit']:g} s for other equipment (common practice, no source).",
    ]


def block() -> str:
    return "\n".join(["| code | severity | when |", "| --- | --- | --- |", *rows(), "", *thresholds()]) + "\n"


def with_table(text: str) -> str:
    """The README's ``text`` with the table between its marks. Raises ValueError where they are missing."""
    made, times = _TABLE.subn(lambda found: found[1] + block() + found[2], text)
    if times != 1:
        raise ValueError("README.md needs one <!-- rules --> and, below it, <!-- /rules -->.")
    return made


if __name__ == "__main__":
    README.write_text(with_table(README.read_text(encoding="utf-8")), encoding="utf-8")
