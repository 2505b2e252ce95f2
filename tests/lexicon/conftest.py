"""The lexicon as shipped, made once for all tests, and the tables beside this file."""

import tomllib
from pathlib import Path

import pytest

from lexicon import load

HERE = Path(__file__).parent


@pytest.fixture(scope="session")
def lexicon():
    return load()


def table(name: str) -> dict:
    return tomllib.loads((HERE / name).read_text(encoding="utf-8"))
