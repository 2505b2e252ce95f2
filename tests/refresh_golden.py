"""The plans of the samples as they come out now: ``python -m tests.refresh_golden`` writes them to ``tests/golden``.

What is not valid is refused: a plan that its schema refuses, or one with a source that does not slice to its quote. Read the
difference before keeping it; the hand-written facts in ``tests/facts`` stand beside it.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

import jsonschema

from parser import load_lexicon, make_plan, read_talk
from parser.model import Plan, TalkThrough
from parser.render.as_json import schema

from .make_samples import SAMPLES, Sample

FOLDER = Path(__file__).with_name("golden")


def golden_path(sample: Sample) -> Path:
    return FOLDER / f"{sample.script}.plan.json"


def made(sample: Sample, lexicon=None) -> tuple[TalkThrough, dict]:
    """The talk-through of ``sample``, and its plan as JSON."""
    talk = read_talk(sample.path)
    return talk, make_plan(talk, lexicon=lexicon or load_lexicon()).model_dump(mode="json")


def sources(node: object) -> Iterator[dict]:
    """Every source in a plan or report."""
    if isinstance(node, dict):
        if node.keys() == {"start", "end", "quote", "chars"}:
            yield node
        else:
            for value in node.values():
                yield from sources(value)
    elif isinstance(node, list):
        for value in node:
            yield from sources(value)


def faults(plan: dict, talk: TalkThrough) -> list[str]:
    """Why ``plan`` may not be kept; nothing where it may."""
    out = [f"{fault.json_path}: {fault.message}" for fault in jsonschema.Draft202012Validator(json.loads(schema(Plan))).iter_errors(plan)]
    for source in sources(plan):
        start, end = source["chars"]
        if talk.text[start:end] != source["quote"] or not source["quote"].strip():
            out.append(f"{source['quote']!r} does not stand at {start} to {end}")
        if None not in (source["start"], source["end"]) and source["start"] > source["end"]:
            out.append(f"{source['quote']!r} ends before it starts")
    return out


def as_text(plan: dict) -> str:
    return json.dumps(plan, ensure_ascii=False, indent=1) + "\n"


def main() -> int:
    lexicon = load_lexicon()
    FOLDER.mkdir(exist_ok=True)
    refused = False
    for sample in SAMPLES:
        talk, plan = made(sample, lexicon)
        wrong = faults(plan, talk)
        for line in wrong:
            print(f"{sample.script}: {line}", file=sys.stderr)
        if wrong:
            refused = True
        else:
            golden_path(sample).write_text(as_text(plan), encoding="utf-8")
    return 1 if refused else 0


if __name__ == "__main__":
    sys.exit(main())
