"""The plan and the report for a person at a terminal, or on paper: plain lines, bold and dim where they can be shown."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rich.console import RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from ..model import Plan, Report
from . import rows
from .clean import clean
from .console import to_text
from .look import Look
from .sheet import Entry, Line, Section, plan_sheet


def _grid(*columns: dict[str, Any]) -> Table:
    table = Table.grid(padding=(0, 1), expand=True)
    for column in columns:
        table.add_column(**column)
    return table


_BODY = {"ratio": 1, "overflow": "fold"}
_STAMP = {"justify": "right", "no_wrap": True}


def _stamp(at: str) -> Text:
    return Text(f"[{at}]" if at else "", "dim")


def _labelled(line: Line) -> Text:
    return Text.assemble((f"{line.label}: ", "dim"), line.text) if line.label else Text(line.text)


def _entry(table: Table, entry: Entry) -> None:
    head = Text(entry.head.label, "bold")
    if entry.head.text:
        head.append(f"  {entry.head.text}", "not bold")
    table.add_row(Text(f"{entry.number}."), head, _stamp(entry.head.at))
    for line in entry.under:
        table.add_row("", Padding(_labelled(line), (0, 0, 0, 2)), _stamp(line.at))


def _section(section: Section) -> list[RenderableType]:
    heading = _grid(_BODY, _STAMP)
    heading.add_row(Text(section.heading.upper(), "bold"), _stamp(section.at))
    if section.format:
        heading.add_row(Text(section.format, "bold"), "")
    entries = _grid({"justify": "right", "width": 3}, _BODY, _STAMP)
    for entry in section.entries:
        _entry(entries, entry)
    lines = _grid(_BODY, _STAMP)
    for line in section.lines:
        lines.add_row(Padding(_labelled(line), (0, 0, 0, 2)), _stamp(line.at))
    return [Text(""), heading, *([entries] if section.entries else []), *([lines] if section.lines else [])]


def plan(plan: Plan, look: Look) -> str:
    sheet = plan_sheet(plan)
    facts = _grid({"no_wrap": True, "style": "dim"}, _BODY, _STAMP)
    before = None
    for fact in sheet.facts:
        facts.add_row(Text("" if fact.label == before else fact.label), Text(fact.text), _stamp(fact.at))
        before = fact.label
    parts: list[RenderableType] = [Text(sheet.title, "bold"), Text(sheet.origin, "dim")]
    if sheet.facts:
        parts += [Text(""), facts]
    for section in sheet.sections:
        parts += _section(section)
    return to_text([*parts, Text(""), *(Text(line, "dim") for line in sheet.foot)], look)


def _findings(report: Report) -> list[RenderableType]:
    table = _grid({"no_wrap": True}, _STAMP, _BODY)
    for row in rows.finding_rows(report):
        message = Text.assemble((row.message, "bold" if row.severity == "error" else ""), (f"  {row.code}", "dim"))
        table.add_row(Text(row.severity, "bold" if row.severity == "error" else ""), _stamp(row.at), message)
        for line in row.under:
            table.add_row("", "", Text(line, "dim"))
    return [table, Text(""), Text(rows.summary(report.findings)), Text(rows.FOOT, "dim")]


def _delivered(report: Report) -> list[RenderableType]:
    table = Table.grid(padding=(0, 2))
    for head in rows.INTERVAL_HEADS:
        table.add_column(justify="left" if head == "what" else "right", overflow="fold")
    table.add_row(*(Text(head, "dim") for head in rows.INTERVAL_HEADS))
    for row in rows.interval_rows(report):
        table.add_row(*map(Text, row.cells()))
    covered = rows.coverage_line(report.coverage)
    return [Text(""), Text("AS DELIVERED", "bold"), *([Text(covered)] if covered else []), table]


def report(report: Report, look: Look) -> str:
    parts = _findings(report) if report.findings else [Text(rows.CLEAN)]
    if report.delivered:
        parts += _delivered(report)
    return to_text(parts, look)


def together(named: Sequence[tuple[str, str]], look: Look) -> str:
    """Several files one after another, each under a heading of its name."""
    def heading(name: str) -> str:
        rule = Text(f"== {clean(name)} ".ljust(look.width, "="), "bold")
        return to_text([rule], look)

    return "\n".join(heading(name) + "\n" + text for name, text in named)


def classes(reports: Sequence[Report], look: Look) -> str:
    """Several classes side by side: a row each."""
    table = Table.grid(padding=(0, 2))
    for _ in rows.CLASS_HEADS:
        table.add_column(overflow="fold")
    table.add_row(*(Text(head, "dim") for head in rows.CLASS_HEADS))
    for row in rows.class_rows(reports):
        table.add_row(*map(Text, row))
    return to_text([Text("ALL CLASSES", "bold"), table], look)
