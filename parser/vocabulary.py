"""The coach's own words: which file they live in, and the lexicon with them layered over it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec, TypeVar

from .errors import LexiconError

if TYPE_CHECKING:
    from lexicon import Lexicon

Asked = ParamSpec("Asked")
T = TypeVar("T")

FILE_NAME = "words.toml"


def own_file(option: Path | None) -> Path:
    """The file that ``--lexicon`` names, else ``words.toml`` in the platform's usual config folder."""
    if option is not None:
        return option
    from platformdirs import user_config_path

    return user_config_path("planaloud", appauthor=False) / FILE_NAME


def load_lexicon(option: Path | None) -> Lexicon:
    """The shipped lexicon with the coach's own words. A file that was asked for must be there; the usual one need not.

    Raises LexiconError.
    """
    from lexicon import load

    path = own_file(option)
    if option is None and not path.exists():
        return load()
    return guarded(load, path)


def guarded(call: Callable[Asked, T], *args: Asked.args, **options: Asked.kwargs) -> T:
    """Call into the lexicon, which knows nothing of our errors: what it finds wrong becomes a LexiconError."""
    try:
        return call(*args, **options)
    except OSError as exc:
        raise LexiconError(f"The word file {exc.filename} cannot be used: {exc.strerror}.") from exc
    except ValueError as exc:
        raise LexiconError(str(exc)) from exc
