"""The page a coach reads: plan, report and talk-through side by side, in one file that asks for nothing.

Everything in it works as plain links; the script adds what links cannot do. What was said reaches the page as text only, through the
escaping of the templates, and the page's own policy lets nothing run but the one script that is named in it by its hash.
"""

from __future__ import annotations

from functools import cache
from importlib import resources

from ...model import Reading
from .. import rows
from ..card import card_body
from ..card import stylesheet as card_stylesheet
from ..clean import clean
from ..sheet import Line, Section, plan_sheet
from ..templates import fill, source_hash
from .links import FINDING, PLAN, Link, Links, groups
from .talk import KINDS, paragraphs
from .timeline import timeline

__all__ = ["page"]


@cache
def _own(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


def page(reading: Reading, *, home: str = "", kept_as: str = "") -> str:
    """The page of one talk-through. The same reading gives the same page, byte for byte. ``home``: the file beside it that has all
    classes, where there is one; ``kept_as``: what the archive knows the class as."""
    links = Links()
    sheet = plan_sheet(reading.plan)
    facts = [_linked(line, links) for line in sheet.facts]
    sections = [_section(section, links) for section in sheet.sections]
    findings = [(row, links.add(FINDING, row.said)) for row in rows.finding_rows(reading.report)]
    drawing = timeline(reading, links, findings)
    talk, places = paragraphs(reading.talk, links.all, reading.marks)
    style, script = _own("page.css") + card_stylesheet(), _own("page.js")

    def to(link: Link) -> str:
        return groups(link, places)

    return fill(
        "page/page.html.j2", sheet=sheet, facts=facts, sections=sections, findings=findings, timeline=drawing, talk=talk, to=to,
        said_line=rows.said_line, summary=rows.summary(reading.report.findings), clean_report=rows.CLEAN, report_foot=rows.FOOT,
        coverage=rows.coverage_line(reading.report.coverage), timed=reading.talk.resolution != "none", kinds=KINDS,
        home=home, kept_as=clean(kept_as), card=card_body(reading.plan),
        style=style, script=script, style_hash=source_hash(style), script_hash=source_hash(script),
    )


def _linked(line: Line, links: Links) -> tuple[Line, Link]:
    return line, links.add(PLAN, line.sources)


def _section(section: Section, links: Links) -> dict[str, object]:
    return {
        "section": section,
        "link": links.add(PLAN, section.sources),
        "entries": [(entry, links.add(PLAN, entry.head.sources), [_linked(line, links) for line in entry.under]) for entry in section.entries],
        "lines": [_linked(line, links) for line in section.lines],
    }
