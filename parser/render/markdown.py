"""The plan and the report as Markdown (CommonMark, with the tables of its GitHub dialect)."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..model import Plan, Report
from . import rows
from .clean import clean
from .look import Look
from .sheet import Entry, Line, Section, plan_sheet

_MEANS_SOMETHING = re.compile(r"[\\`*_\[\]<>|~&#$]|:(?=//)|(?<=[wW])\.(?=\S)|@(?=\w)")
_LEADS = re.compile(r"^(?:(\d+)([.)])|([-+=]))(?=\s|$|[-+=])")


def escape(text: str) -> str:
    """``text``, already on one line, so that every character of it is printed and none is markup."""
    text = _MEANS_SOMETHING.sub(lambda found: "\\" + found[0], text)
    return _LEADS.sub(lambda f: f"{f[1]}\\{f[2]}" if f[1] else f"\\{f[3]}", text)


def _stamp(at: str) -> str:
    """In plain brackets: they could be a link only to a definition, and no said bracket is left that could make one."""
    return f" [{at}]" if at else ""


def _bullet(line: Line, depth: int = 0) -> str:
    label = f"*{escape(line.label)}:* " if line.label else ""
    return f"{'  ' * depth}- {label}{escape(line.text)}{_stamp(line.at)}"


def _entry(entry: Entry) -> list[str]:
    """Bold, not a numbered list: a list counts for itself and would hide a number that the coach left out."""
    detail = f" · {escape(entry.head.text)}" if entry.head.text else ""
    head = f"**{entry.number}. {escape(entry.head.label)}**{detail}{_stamp(entry.head.at)}"
    return ["", head, *([""] if entry.under else []), *map(_bullet, entry.under)]


def _section(section: Section) -> list[str]:
    lines = ["", f"## {escape(section.heading)}{_stamp(section.at)}"]
    if section.format:
        lines += ["", f"**{escape(section.format)}**"]
    for entry in section.entries:
        lines += _entry(entry)
    return lines + ([""] if section.lines else []) + [_bullet(line) for line in section.lines]


def plan(plan: Plan, look: Look) -> str:
    sheet = plan_sheet(plan)
    lines = [f"# {escape(sheet.title)}", "", escape(sheet.origin)]
    if sheet.facts:
        lines += ["", *map(_bullet, sheet.facts)]
    for section in sheet.sections:
        lines += _section(section)
    lines += ["", "---", "", *(f"- {escape(line)}" for line in sheet.foot)]
    return "\n".join(lines) + "\n"


def _table(heads: Sequence[str], body: Sequence[Sequence[str]]) -> list[str]:
    lines = [heads, ["---"] * len(heads), *([escape(cell) for cell in row] for row in body)]
    return ["| " + " | ".join(line) + " |" for line in lines]


def _findings(report: Report) -> list[str]:
    body = [
        (row.severity, row.at, "; ".join([row.message, *row.under]), row.code)
        for row in rows.finding_rows(report)
    ]
    return [*_table(("severity", "at", "what", "rule"), body), "", rows.summary(report.findings), "", rows.FOOT]


def report(report: Report, look: Look) -> str:
    lines = _findings(report) if report.findings else [rows.CLEAN]
    if report.delivered:
        covered = rows.coverage_line(report.coverage)
        lines += ["", "## As delivered", "", *([covered, ""] if covered else [])]
        lines += _table(rows.INTERVAL_HEADS, [row.cells() for row in rows.interval_rows(report)])
    return "\n".join(lines) + "\n"


def together(named: Sequence[tuple[str, str]], look: Look) -> str:
    """Several files one after another, each under a heading of its name, its own headings one level down."""
    def lower(text: str) -> str:
        return re.sub(r"^(#+ )", r"#\1", text, flags=re.MULTILINE)

    return "\n".join(f"# {escape(clean(name))}\n\n{lower(text)}" for name, text in named)


def classes(reports: Sequence[Report], look: Look) -> str:
    """Several classes side by side: a row each."""
    return "\n".join(["# All classes", "", *_table(rows.CLASS_HEADS, rows.class_rows(reports))]) + "\n"
