"""Words that are ordinary English as well as movements, and what around them decides. The words are in ``data/everyday.toml``."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Everyday(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")
