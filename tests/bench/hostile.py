"""Files made to be too much: ``python -m tests.bench.hostile [NAME]``. Each goes through the command in a process of its own, held to
its limits, and the command prints how long that took, the most memory, and how it ended.

Goal: each ends in seconds, with a plan or a clear line, under 1 GiB. Exit code 1 where one does not, or ends in a traceback.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MOST_S = 60
MOST_BYTES = 1024**3
_MIB = 1024 * 1024


def _cue(n: int, text: str, *, mark: str = ".") -> str:
    at = [f"{s // 3600:02}:{s // 60 % 60:02}:{s % 60:02}{mark}000" for s in (n, n + 1)]
    return f"{at[0]} --> {at[1]}\n{text}\n\n"


def _bomb(levels: int) -> str:
    entities = "".join(f'<!ENTITY e{n + 1} "{f"&e{n};" * 10}">' for n in range(levels))
    return f'<?xml version="1.0"?><!DOCTYPE t [<!ENTITY e0 "squats">{entities}]><tt><body><p begin="1s" end="2s">&e{levels};</p></body></tt>'


HOSTILE: dict[str, Callable[[], str | bytes]] = {
    "a line of 10 MB": lambda: "[0:00] " + "squats and lunges " * (10_000_000 // 18),
    "a word of 10 MB": lambda: "[0:00] " + "a" * 10_000_000,
    "digits for 10 MB": lambda: "[0:00] " + "9" * 10_000_000,
    "10 MB of numbers": lambda: "[0:00] " + "forty twenty " * (10_000_000 // 13),
    "10 MB of one movement": lambda: "[0:00] " + "squat " * (10_000_000 // 6),
    "10 MB of commas": lambda: "[0:00] go" + "," * 10_000_000,
    "a million cues": lambda: "WEBVTT\n\n" + "".join(_cue(n, "go") for n in range(1_000_000)),
    "a hundred thousand cues with movements": lambda: "WEBVTT\n\n" + "".join(_cue(n, "ten squats, then rest") for n in range(100_000)),
    "a million stamps": lambda: "".join(f"[{n // 3600}:{n // 60 % 60:02}:{n % 60:02}] go\n" for n in range(1_000_000)),
    "a million stamps in a line": lambda: " ".join(f"[{n // 3600}:{n // 60 % 60:02}:{n % 60:02}]" for n in range(1_000_000)),
    "a million segments": lambda: json.dumps({"segments": [{"start": n, "end": n + 1, "text": "go"} for n in range(1_000_000)]}),
    "a million words in a segment": lambda: json.dumps(
        {"segments": [{"start": 0, "end": 9, "text": "go " * 1_000_000, "words": [{"word": "go", "start": 0, "end": 1}] * 1_000_000}]}),
    "TTML a hundred thousand deep": lambda: "<tt><body>" + "<div>" * 100_000 + '<p begin="1s" end="2s">go</p>' + "</div>" * 100_000 + "</body></tt>",
    "JSON a hundred thousand deep": lambda: '{"segments": ' + "[" * 100_000 + "]" * 100_000 + "}",
    "an entity bomb": lambda: _bomb(9),
    "an entity that is a file": lambda: '<!DOCTYPE t [<!ENTITY x SYSTEM "file:///etc/hostname">]><tt><body><p begin="1s" end="2s">&x;</p></body></tt>',
    "NUL bytes": lambda: b"[0:00] squats\0\0\0 lunges\n" * 1000,
    "half surrogates": lambda: "[0:00] squats \ud800 lunges \udfff\n".encode("utf-8", "surrogatepass") * 1000,
    "right to left": lambda: "[0:00] \u202enumber one squats\u202c \u2066lunges\n" * 1000,
    "numbers beyond all reason": lambda: f"[0:00] {'9' * 5000} rounds, {'9' * 400} seconds on, 1e{'9' * 300} off. Number {'8' * 400}, squats.\n",
    "times beyond all reason": lambda: f"WEBVTT\n\n{'9' * 4000}:00:00.000 --> {'9' * 4001}:00:00.000\nsquats\n",
    "a recording of a year": lambda: "WEBVTT\n\n" + _cue(0, "Three rounds, forty on, twenty off. Number one, squats. Number two, lunges.") + _cue(366 * 86_400, "Go!"),
    "a thousand rounds": lambda: "[0:00] A thousand rounds, one second on, one second off. Number one, squats.\n" + "".join(
        f"[{n // 60}:{n % 60:02}] Go! Squats.\n" for n in range(2000)),
    "a thousand blocks": lambda: "".join(f"[{n}:00] Block {n + 1}. Three rounds, forty on, twenty off. Number one, squats. Number two, lunges. Go!\n" for n in range(1000)),
    "no breath in three hours": lambda: "WEBVTT\n\n" + "".join(_cue(n, "and squat and row") for n in range(10_800)),
    "slips without end": lambda: "[0:00] " + "number two, sorry, number one, no, squats, I mean lunges, " * 4_000,
}


def _limited() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (4 * MOST_BYTES, 4 * MOST_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (2 * MOST_S, 2 * MOST_S))


_STARTER = """
import os, subprocess, sys
process = subprocess.Popen(sys.argv[1:], stdout=subprocess.DEVNULL)
_, status, used = os.wait4(process.pid, 0)
print(used.ru_utime + used.ru_stime, used.ru_maxrss * 1024, os.waitstatus_to_exitcode(status))
"""
"""A small process in between: the memory of a process is counted from that of the one which starts it."""


def run(path: Path, command: str) -> tuple[float, float, int, str]:
    """Seconds of processor time, bytes, exit code and what was told of ``planaloud COMMAND PATH``."""
    ours = [sys.executable, "-m", "parser.cli", command, str(path), "--format", "json"]
    done = subprocess.run([sys.executable, "-c", _STARTER, *ours], cwd=ROOT, capture_output=True, text=True, errors="replace", check=True,
                          preexec_fn=_limited, env={**os.environ, "PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": str(path.parent)})
    seconds, memory, code = done.stdout.split()
    return float(seconds), float(memory), int(code), done.stderr.strip()


def main() -> int:
    wanted = sys.argv[1:]
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for name, make in HOSTILE.items():
            if wanted and not any(part in name for part in wanted):
                continue
            made = make()
            path = Path(folder, "hostile.txt")
            path.write_bytes(made if isinstance(made, bytes) else made.encode("utf-8", "surrogatepass"))
            for command in ("plan", "audit"):
                seconds, memory, code, told = run(path, command)
                wrong = code not in (0, 1, 2) or "Traceback" in told or seconds > MOST_S or memory > MOST_BYTES
                failed += wrong
                print(f"{'NOT MET ' if wrong else ''}{name}, {path.stat().st_size / _MIB:.1f} MiB, {command}: {seconds:.1f} s, {memory / _MIB:.0f} MiB, "
                      f"exit code {code}{': ' + told.splitlines()[-1][:100] if told else ''}", flush=True)
    return int(failed > 0)


if __name__ == "__main__":
    sys.exit(main())
