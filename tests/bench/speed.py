"""How fast planaloud is, against what it stands on: ``python -m tests.bench.speed``. Prints, asserts nothing.

Ratios within one run on one machine, so that the machine hardly matters:

- plan and audit together, warm (an audit makes the plan on its way), against spaCy's blank tokeniser alone over the same text (goal: at
  most 8), and their cost a word in three hours of talk against that in half an hour (goal: at most 1.2). Those are other classes, though:
  the plan of three hours has two and a half times as many edges a word as that of half an hour, which has one short block. So the same classes are
  also compared one after the other in one recording with each alone;
- ``planaloud plan FILE`` from a cold start against ``import spacy; spacy.blank("en")`` (goal: at most 2 in time, 1.6 in memory);
- ``planaloud --help`` and what else needs no language against the same (goal: at most a quarter).
"""

from __future__ import annotations

import math
import os
import platform
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from functools import partial
from itertools import cycle
from pathlib import Path

import spacy

from parser import load_lexicon
from parser.model import TalkThrough
from parser.pipeline import audit
from parser.read import read_bytes

from ..accuracy import FOLDER, scripts
from ..captions import WRITERS
from ..talks import Spoken, read_script

LENGTHS_MIN = (30, 60, 180)
ROOT = Path(__file__).resolve().parents[2]
_GAP_S = 10.0
_COLD = "import spacy; spacy.blank('en')"
_COMMANDS = (
    ("plan FILE", ("plan", "samples/ropewalk-fifty-tens.md")),
    ("audit FILE", ("audit", "--fail-on", "never", "samples/ropewalk-fifty-tens.md")),
    ("--help", ("--help",)),
    ("plan --help", ("plan", "--help")),
    ("schema plan", ("schema", "plan")),
    ("archive find", ("archive", "find", "squat")),
)


def spoken(minutes: float) -> list[Spoken]:
    """Our own classes one after the other until so many minutes are full."""
    out: list[Spoken] = []
    for script in cycle(scripts()):
        begin = out[-1].end + _GAP_S if out else 0.0
        for word in read_script(FOLDER / f"{script}.talk").words:
            if word.end + begin > minutes * 60:
                return out
            out.append(Spoken(word.text, word.start + begin, word.end + begin))
    raise AssertionError("there are no scripts")


def least(calls: Sequence[Callable[[], object]], times: int) -> list[float]:
    """Seconds of processor time of each, the least of so many turns. They take turns, and each is called so often in its turn that all
    turns are about as long: where a machine is only quiet for moments, it would be so to a short call and to no long one."""
    for call in calls:
        call()      # what each keeps for the next
    once = [_seconds(call) for call in calls]
    often = [max(1, round(max(once) / took)) for took in once]
    best = [math.inf] * len(calls)
    for _ in range(times):
        for n, (call, count) in enumerate(zip(calls, often)):
            best[n] = min(best[n], _seconds(call, count) / count)
    return best


def _seconds(call: Callable[[], object], count: int = 1) -> float:
    began = time.process_time()
    for _ in range(count):
        call()
    return time.process_time() - began


def whole_classes(minutes: float) -> list[list[Spoken]]:
    """Our own classes, each for itself, as many as are whole in ``spoken(minutes)``."""
    out: list[list[Spoken]] = []
    full = 0.0
    for script in scripts():
        words = read_script(FOLDER / f"{script}.talk").words
        full += words[-1].end + _GAP_S
        if full > minutes * 60:
            break
        out.append(list(words))
    return out


def _captioned(words: Sequence[Spoken]) -> TalkThrough:
    return read_bytes(WRITERS["vtt"](words).encode(), name="talk.vtt")


def warm(*, times: int = 25) -> None:
    lexicon, tokenise = load_lexicon(), spacy.blank("en")

    print("plan and audit, warm, against the tokeniser alone")
    talks = [_captioned(spoken(minutes)) for minutes in LENGTHS_MIN]
    alone = [_captioned(words) for words in whole_classes(LENGTHS_MIN[-1])]

    def apart() -> None:
        for talk in alone:
            audit(talk, lexicon=lexicon)

    # all in turns: a machine that is slow with memory for a while is so to what has more of it
    *took, each_alone = least([*(partial(audit, talk, lexicon=lexicon) for talk in talks), *(partial(tokenise, talk.text) for talk in talks), apart], times)
    ours, theirs = took[: len(talks)], took[len(talks) :]
    a_word = [took / len(talk.text.split()) for took, talk in zip(ours, talks)]
    for minutes, talk, own, other, each in zip(LENGTHS_MIN, talks, ours, theirs, a_word):
        print(f"  {minutes:3} min, {len(talk.text.split()):6} words: {1000 * own:7.0f} ms to {1000 * other:6.1f} ms, {own / other:5.1f} times; "
              f"{1e6 * each:5.0f} µs a word, {each / a_word[0]:4.2f} times that of {LENGTHS_MIN[0]} min")
    a_word_alone = each_alone / sum(len(talk.text.split()) for talk in alone)
    print(f"  the {len(alone)} classes of {LENGTHS_MIN[-1]} min each alone: {1e6 * a_word_alone:5.0f} µs a word; "
          f"together {a_word[-1] / a_word_alone:4.2f} times that")


_STARTER = """
import os, subprocess, sys
process = subprocess.Popen(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
_, status, used = os.wait4(process.pid, 0)
print(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, os.waitstatus_to_exitcode(status))
"""
"""A small process in between: the memory of a process is counted from that of the one which starts it."""


def started(*commands: Sequence[str], times: int = 9) -> list[tuple[float, float, int]]:
    """Seconds of processor time, mebibytes and exit code of each of ``commands`` as a process of its own: the least of so many runs, in
    turns."""
    found = [(math.inf, math.inf, 0)] * len(commands)
    for _ in range(times):
        for n, command in enumerate(commands):
            told = subprocess.run([sys.executable, "-c", _STARTER, *command], cwd=ROOT, capture_output=True, text=True, check=True).stdout
            seconds, mebibytes, code = told.split()
            found[n] = min(found[n][0], float(seconds)), min(found[n][1], float(mebibytes)), int(code)
    return found


def cold() -> None:
    os.environ["PYTHONPATH"] = str(ROOT)
    # as it is once installed and called before: with compiled modules and the lexicon kept
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    with tempfile.TemporaryDirectory() as config, tempfile.TemporaryDirectory() as cache, tempfile.TemporaryDirectory() as data:
        os.environ["XDG_CONFIG_HOME"], os.environ["XDG_CACHE_HOME"], os.environ["XDG_DATA_HOME"] = config, cache, data
        for sample in sorted((ROOT / "samples").glob("*.md")):
            started([sys.executable, "-m", "parser.cli", "archive", "add", str(sample)], times=1)
        (base_s, base_mib, _), *ours = started([sys.executable, "-c", _COLD], *([sys.executable, "-m", "parser.cli", *command] for _, command in _COMMANDS))
        print(f"from a cold start, against {_COLD}: {1000 * base_s:.0f} ms, {base_mib:.0f} MiB")
        for (name, _), (took, most, code) in zip(_COMMANDS, ours):
            told = f", exit code {code}" if code else ""
            print(f"  {name:14} {1000 * took:5.0f} ms, {took / base_s:4.2f} times; {most:4.0f} MiB, {most / base_mib:4.2f} times{told}")


def main() -> None:
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    print(f"{platform.system()} {platform.machine()}, {cores} cores, Python {platform.python_version()}, spaCy {spacy.__version__}")
    warm()
    cold()
    print(f"most memory of this command: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


if __name__ == "__main__":
    main()
