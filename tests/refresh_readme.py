"""The README's commands and its sample: ``python -m tests.refresh_readme`` writes the sample again."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
SHOWN_LINES = 14
"""How much of a long sample the README shows."""


def _block(name: str) -> re.Pattern:
    return re.compile(rf"(<!-- {name} -->\n```\w*\n)(.*?)(^```$)", re.DOTALL | re.MULTILINE)


def block(text: str, name: str) -> str:
    """What stands in the fenced block after ``<!-- name -->``. Raises ValueError unless there is exactly one."""
    found = _block(name).findall(text)
    if len(found) != 1:
        raise ValueError(f"README.md needs one block after <!-- {name} -->, and has {len(found)}.")
    return found[0][1]


def sample_call(text: str) -> list[str]:
    """The arguments of ``planaloud`` at the end of the try command."""
    words = shlex.split(block(text, "try-command"))
    return words[words.index(".venv/bin/planaloud") + 1 :]


def run_sample(text: str) -> str:
    """Run that call with this Python, away from anybody's own words. Raises CalledProcessError."""
    with tempfile.TemporaryDirectory() as empty:
        done = subprocess.run(
            [sys.executable, "-m", "parser.cli", *sample_call(text)], cwd=ROOT, check=True, capture_output=True,
            env={**os.environ, "XDG_CONFIG_HOME": empty, "HOME": empty}, timeout=120,
        )
    return done.stdout.decode("utf-8")


def sample_beginning(text: str) -> str:
    lines = (ROOT / sample_call(text)[-1]).read_text(encoding="utf-8").splitlines()
    return "\n".join(lines[:SHOWN_LINES] + (["..."] if len(lines) > SHOWN_LINES else [])) + "\n"


def refreshed(text: str) -> str:
    for name, content in (("sample-in", sample_beginning(text)), ("sample-out", run_sample(text))):
        block(text, name)
        text = _block(name).sub(lambda found, content=content: found[1] + content + found[3], text)
    return text


if __name__ == "__main__":
    README.write_text(refreshed(README.read_text(encoding="utf-8")), encoding="utf-8")
