"""Pages of markup from the templates beside the outputs. Everything that is put into one is escaped; nothing it says is ever markup."""

from __future__ import annotations

import base64
import hashlib
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment

_HERE = Path(__file__).parent


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(loader=FileSystemLoader(_HERE), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)


def fill(template: str, **values: object) -> str:
    """The template at the path ``template``, from this folder, with ``values`` in it."""
    return _environment().get_template(template).render(**values)


def source_hash(content: str) -> str:
    """What a content security policy (W3C, CSP level 2) allows one inline style or script by: the hash of its exact text."""
    return "'sha256-" + base64.b64encode(hashlib.sha256(content.encode("utf-8")).digest()).decode("ascii") + "'"
