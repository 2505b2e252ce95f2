"""An archive as lines of JSON, one a class, and as an archive again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Literal

from pydantic import Field, ValidationError

from ..errors import ArchiveError
from ..model import Frozen, Mark, Plan, Reading, Report, Source, TalkThrough
from .kept import Kept
from .packing import Damaged
from .parcels import parcel, parcel_of_plan
from .rows import DayFrom, Parcel
from .store import Added, Archive


class ExportedVersion(Frozen):
    number: int = Field(ge=1)
    added: datetime
    name: str
    path: str | None
    sha256: str
    plan: Plan
    report: Report | None
    talk: TalkThrough | None
    marks: tuple[Mark, ...] = ()
    meanwhile: tuple[Source | None, ...] = ()

    def parcel(self) -> Parcel:
        if self.talk is None or self.report is None:
            return parcel_of_plan(self.plan, name=self.name, sha256=self.sha256)
        return parcel(Reading(talk=self.talk, plan=self.plan, report=self.report, marks=self.marks, meanwhile=self.meanwhile))


class Exported(Frozen):
    """A class with all its versions, and what the coach said of it."""

    schema_version: Literal["1"] = "1"
    id: int = Field(ge=1, lt=2**63)
    day: date | None
    day_from: DayFrom | None
    title: str | None
    title_given: bool
    coach: str | None
    place: str | None
    tags: list[str]
    path: str | None
    version: int
    versions: list[ExportedVersion] = Field(min_length=1)


def exported(archive: Archive) -> Iterator[str]:
    """Each class as a line of JSON, in the order of their numbers."""
    for (number,) in archive.connection.execute("SELECT id FROM class ORDER BY id").fetchall():
        row = archive.row(number)
        yield _exported({
            **{name: row[name] for name in ("id", "day", "day_from", "title", "coach", "place", "path", "version")},
            "title_given": bool(row["title_given"]), "tags": archive.tags(number),
            "versions": [_version(archive.get(number, version.number)) for version in archive.versions(number)],
        }).model_dump_json()


def _exported(row: Mapping[str, Any]) -> Exported:
    """Raises Damaged."""
    try:
        return Exported.model_validate(row)
    except ValidationError as exc:
        raise Damaged("a class cannot be read") from exc


def _version(kept: Kept) -> ExportedVersion:
    told = kept.version
    marks, meanwhile = kept.marks()
    return ExportedVersion(
        number=told.number, added=told.added, name=told.name, path=told.path, sha256=told.sha256, plan=kept.plan, report=kept.report,
        talk=kept.talk, marks=marks, meanwhile=meanwhile,
    )


@dataclass(frozen=True, slots=True)
class Restored:
    name: str
    added: Added


def restored(archive: Archive, line: bytes, *, where: str) -> Restored:
    """Put in the class of one line. ``where`` is what a complaint calls it. Raises ArchiveError for what is no class as ``exported`` has it."""
    try:
        found = Exported.model_validate_json(line)
        numbers = [version.number for version in found.versions]
        if found.version not in numbers or len(set(numbers)) < len(numbers):
            raise ValueError("its versions are not counted as they should be")
        return Restored(found.versions[-1].name, archive.restore(found))
    except ValidationError as exc:
        wrong = exc.errors()[0]
        field = ".".join(map(str, wrong["loc"])) or "the line"
        raise ArchiveError(f"{where} is no class as `planaloud archive export` writes it: {field}: {wrong['msg']}.") from exc
    except ValueError as exc:
        raise ArchiveError(f"{where} is no class as `planaloud archive export` writes it: {exc}.") from exc
