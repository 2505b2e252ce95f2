"""Commands run in this process. The stages behind them are played by a few lines: these tests are about the call."""

import sys
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

from parser import cli, pipeline
from parser.errors import UnreadableInput
from parser.model import Plan, Recorded, Report

from ..render.examples import FAULTY, reading_of, source


@dataclass(frozen=True)
class Result:
    code: int
    out: str
    err: str


@pytest.fixture
def run(capsys, monkeypatch):
    """``run("plan", "a.vtt")`` as a person would call it."""
    def call(*args: str) -> Result:
        monkeypatch.setattr(sys, "argv", ["planaloud", *args])
        with pytest.raises(SystemExit) as ended:
            cli.main()
        return Result(ended.value.code, *capsys.readouterr())

    return call


def module(monkeypatch, name: str, **members) -> None:
    made = ModuleType(name)
    vars(made).update(members)
    monkeypatch.setitem(sys.modules, name, made)


@pytest.fixture
def stages(monkeypatch, tmp_path):
    """Reading takes any file but those called ``bad…``. What the stages were asked is kept in ``stages.asked``."""
    asked: list[dict] = []
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))

    def read_path(name):
        if "bad" in name:
            raise UnreadableInput(f"{name} holds no words.\nGive captions.")
        return SimpleNamespace(name=name)

    def load_path(name):
        written = Path(name)
        return (written.read_bytes() if written.suffix == ".json" else b""), read_path(name).name

    def read_bytes(data, *, name):
        return SimpleNamespace(name=name)

    def plan(talk, *, lexicon=None, timed=None):
        asked.append({"lexicon": lexicon})
        return Plan(source=source(talk.name), title=f"Class of {talk.name}")

    def recorded(talk, *, lexicon=None, timed=None):
        return Recorded(plan=plan(talk, lexicon=lexicon), delivered=FAULTY.delivered)

    def audit(talk, *, lexicon=None, strict=False, against=None, timed=None):
        asked.append({"lexicon": lexicon, "strict": strict})
        kept = [f for f in FAULTY.findings if "clean" not in talk.name and (f.severity in talk.name or "all" in talk.name)]
        return Report(source=source(talk.name), findings=kept)

    def explain(talk, *, at, lexicon=None):
        asked.append({"at": at, "lexicon": lexicon})
        return SimpleNamespace(lines=[f"at {at:g}", "    said \x1b[31m“row”"])

    def reading(talk, *, lexicon=None):
        asked.append({"lexicon": lexicon})
        return reading_of(f"step-up of {talk.name}")

    module(monkeypatch, "parser.read", read_path=read_path, load_path=load_path, read_bytes=read_bytes)
    module(monkeypatch, "parser.pipeline", plan=plan, recorded=recorded, revised=pipeline.revised, audit=audit, explain=explain, reading=reading)
    module(monkeypatch, "lexicon", load=lambda taught=None: ("lexicon", taught), MUSCLES=("chest",), PATTERNS=("squat",))
    monkeypatch.setattr("parser.keeping.lexicon_of", lambda words: ("lexicon", words))  # keeps what it once loaded
    return SimpleNamespace(asked=asked)
