"""What the modules of the command line share: kinds of arguments, and how trouble is told."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Annotated, Any, TypeVar

import typer

from .render.clean import clean

T = TypeVar("T")


def read_with(read: Callable[[str], T]) -> Callable[[str], T]:
    """``read`` as typer wants it: what it refuses is a wrong call."""
    def parsed(text: str) -> T:
        try:
            return read(text)
        except ValueError as exc:
            raise typer.BadParameter(str(exc)) from exc

    return parsed


def one_of(values: Iterable[str]) -> dict[str, Any]:
    """What makes typer take one of ``values`` and nothing else."""
    known = tuple(values)

    def chosen(text: str) -> str:
        if text not in known:
            raise ValueError(f"{text!r} is not one of {', '.join(known)}.")
        return text

    return {"parser": read_with(chosen), "metavar": "|".join(known)}


def written_as(values: Iterable[str]) -> Any:
    return typer.Option("--format", help="How it is written.", **one_of(values))


def complain(message: object) -> None:
    sys.stderr.write(f"planaloud: {clean(str(message))}\n")


Files = Annotated[list[str], typer.Argument(metavar="FILES", help="Captions or stamped transcripts; - is standard input.")]
Target = Annotated[Path | None, typer.Option("--output", "-o", metavar="FILE", help="Write to FILE, whole or not at all.")]
Force = Annotated[bool, typer.Option("--force", help="Let -o write over a file that is there.")]
OwnWords = Annotated[Path | None, typer.Option("--lexicon", metavar="FILE", help="The coach's own words, instead of the usual file.")]
