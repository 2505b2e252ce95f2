"""How well planaloud understands our own scripts: ``python -m tests.accuracy``.

Every script of ``tests/gold`` is written as each kind of file, clean and misheard, read back and compared with its gold. Prints one
table and fails when a figure falls below ``tests/accuracy.toml``. ``--state`` writes the figures of this run there and into the README,
``--misses NAME`` lists what went wrong in the scripts whose name holds NAME.
"""

from __future__ import annotations

import argparse
import json
import math
import re
import sys
import tomllib
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from parser import audit, load_lexicon, make_plan
from parser.read import read_bytes

from .captions import WRITERS
from .noise import mishear
from .refresh_readme import README
from .scoring import Figure, Mark, compare, figure, missed
from .talks import read_script

FOLDER = Path(__file__).with_name("gold")
STATED = Path(__file__).with_name("accuracy.toml")
SHAPES = ("md", "srt", "vtt", "json")
RATES = (0.0, 0.3, 0.5)
"""How much of what captions can mishear they do."""

_TABLE = re.compile(r"(<!-- accuracy -->\n).*?(<!-- /accuracy -->)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Run:
    """One script as one kind of file at one rate of noise."""

    script: str
    shape: str
    rate: float
    marks: tuple[Mark, ...]


@lru_cache(maxsize=1)
def _lexicon():
    return load_lexicon()


def run(script: str, shape: str, rate: float) -> Run:
    done = read_script(FOLDER / f"{script}.talk")
    gold = json.loads((FOLDER / f"{script}.gold.json").read_text(encoding="utf-8"))
    talk = read_bytes(WRITERS[shape](mishear(done.words, rate=rate)).encode(), name=f"{script}.{shape}")
    plan = make_plan(talk, lexicon=_lexicon()).model_dump(mode="json")
    report = audit(talk, lexicon=_lexicon()).model_dump(mode="json")
    return Run(script, shape, rate, tuple(compare(gold, plan, report, done.delivered)))


def all_runs(scripts: list[str], *, shapes=SHAPES, rates=RATES, jobs: int = 2) -> list[Run]:
    calls = [(script, shape, rate) for script in scripts for shape in shapes for rate in rates]
    if jobs == 1:
        return [run(*call) for call in calls]
    with ProcessPoolExecutor(jobs) as pool:
        return list(pool.map(run, *zip(*calls), chunksize=4))


def scripts() -> list[str]:
    return sorted(path.stem for path in FOLDER.glob("*.talk") if path.with_suffix(".gold.json").exists())


# ---------------------------------------------------------------- figures


def figures(runs: list[Run]) -> dict[str, dict[str, float]]:
    """The figures that are stated, each with its name: F1 by file and noise and by slot, findings, and the worst script."""
    def over(chosen: list[Run], *slots: str) -> Figure:
        return figure(m for r in chosen for m in r.marks if not slots or m.slot in slots)

    clean = [r for r in runs if r.rate == 0]
    names = sorted({m.slot for r in clean for m in r.marks})
    found = over(clean, "finding")
    worst = min((figure(m for r in clean if (r.script, r.shape) == one for m in r.marks).f1
                 for one in {(r.script, r.shape) for r in clean}), default=1.0)
    by_file = {
        f"{shape} at noise {rate:g}": over([r for r in runs if (r.shape, r.rate) == (shape, rate)]).f1
        for shape in SHAPES for rate in RATES
    }
    return {
        "file": by_file,
        "slot": {slot: over(clean, slot).f1 for slot in names},
        "report": {"findings, precision": found.precision, "findings, recall": found.recall},
        "script": {"the worst script, clean": worst},
    }


def stated() -> dict[str, dict[str, float]]:
    return tomllib.loads(STATED.read_text(encoding="utf-8"))


def below(now: dict, said: dict) -> list[str]:
    """Each figure that is lower than stated, or stated and gone."""
    return [
        f"{name}: {now.get(group, {}).get(name, 0.0):.3f}, stated {value:.2f}"
        for group, figures in said.items() for name, value in figures.items()
        if now.get(group, {}).get(name, 0.0) < value
    ]


def floored(value: float) -> float:
    """Two decimals, never more than was reached."""
    return math.floor(value * 100 + 1e-9) / 100


def as_toml(now: dict) -> str:
    out = ["# The accuracy that the README states. Written by `python -m tests.accuracy --state`; lower figures fail."]
    for group, values in now.items():
        out += ["", f"[{group}]", *(f'"{name}" = {floored(value):.2f}' for name, value in values.items())]
    return "\n".join(out) + "\n"


def as_table(said: dict) -> str:
    """The stated figures as the README shows them: files against noise, then everything else."""
    rows = ["| read from | " + " | ".join("clean" if rate == 0 else f"noise {rate:g}" for rate in RATES) + " |"]
    rows.append("| --- |" + " --- |" * len(RATES))
    for shape in SHAPES:
        values = (said["file"][f"{shape} at noise {rate:g}"] for rate in RATES)
        rows.append(f"| `{shape}` | " + " | ".join(f"{v:.2f}" for v in values) + " |")
    rows += ["", "| clean, all files | |", "| --- | --- |"]
    for group in ("slot", "report", "script"):
        rows += [f"| {name} | {value:.2f} |" for name, value in said[group].items()]
    return "\n".join(rows) + "\n"


def with_table(text: str, table: str) -> str:
    """The README's ``text`` with ``table`` between its marks. Raises ValueError where they are missing."""
    made, times = _TABLE.subn(lambda found: found[1] + table + found[2], text)
    if times != 1:
        raise ValueError("README.md needs one <!-- accuracy --> and, below it, <!-- /accuracy -->.")
    return made


def printed(now: dict, runs: list[Run]) -> str:
    out = []
    for values in now.values():
        out += [f"{name:28} {value:6.3f}" for name, value in values.items()] + [""]
    by_script = {s: figure(m for r in runs if r.script == s and r.rate == 0 for m in r.marks).f1 for s in sorted({r.script for r in runs})}
    out += [f"{script:28} {value:6.3f}  clean" for script, value in sorted(by_script.items(), key=lambda row: row[1])]
    return "\n".join(out)


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--state", action="store_true", help="write the figures to accuracy.toml and the README")
    asked.add_argument("--misses", metavar="NAME", help="list what went wrong in these scripts, clean")
    asked.add_argument("--jobs", type=int, default=2)
    given = asked.parse_args()
    if given.misses is not None:
        chosen = [s for s in scripts() if given.misses in s]
        for one in all_runs(chosen, rates=(0.0,), jobs=given.jobs):
            print(f"{one.script} as {one.shape}: {figure(one.marks).f1:.3f}")
            for line, times in missed(one.marks).items():
                print(f"    {line}" + (f" × {times}" if times > 1 else ""))
        return 0
    runs = all_runs(scripts(), jobs=given.jobs)
    now = figures(runs)
    print(printed(now, runs))
    if given.state:
        STATED.write_text(as_toml(now), encoding="utf-8")
        README.write_text(with_table(README.read_text(encoding="utf-8"), as_table(stated())), encoding="utf-8")
        return 0
    wrong = below(now, stated())
    print(*(f"lower than stated: {line}" for line in wrong), sep="\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
