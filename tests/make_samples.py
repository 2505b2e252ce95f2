"""The samples, made from scripts: ``python -m tests.make_samples`` writes them again.

A sample is one class of ``tests/gold`` as one kind of file that a coach would have, from tidy to misheard.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from .captions import WRITERS
from .noise import mishear
from .talks import read_script

ROOT = Path(__file__).resolve().parents[1]
FOLDER = ROOT / "samples"
GOLD = Path(__file__).with_name("gold")
SUFFIX = {"md": "md", "stamps": "txt", "srt": "srt", "vtt": "vtt", "clean-vtt": "vtt", "ttml": "ttml", "json": "json", "podcast": "json",
          "txt": "txt"}


@dataclass(frozen=True, slots=True)
class Sample:
    script: str
    shape: str
    noise: float = 0.0

    @property
    def path(self) -> Path:
        return FOLDER / f"{self.script}.{SUFFIX[self.shape]}"


SAMPLES = (
    Sample("ropewalk-fifty-tens", "md"),                          # an interval circuit, tidy
    Sample("net-loft-sun-flow", "clean-vtt"),                     # a flow by breath
    Sample("long-room-six-from-the-chair", "ttml"),               # seated
    Sample("net-loft-three-pairs", "podcast"),                    # supersets
    Sample("yard-wall-evening-stretch", "txt"),                   # all stretching, no times
    Sample("slipway-six-rounds", "srt"),                          # boxing rounds
    Sample("yard-rounds-then-ladder", "json", noise=0.2),         # AMRAP, then a ladder
    Sample("long-room-thursday-alone", "srt", noise=0.3),         # a rehearsal, alone
    Sample("net-loft-minute-then-eights", "vtt", noise=0.3),      # EMOM and 20/10, as automatic captions have it
    Sample("long-room-lunch-sweat", "stamps", noise=0.5),         # a circuit, messy
)


def written(sample: Sample) -> str:
    """What stands in the file of ``sample``."""
    words = read_script(GOLD / f"{sample.script}.talk").words
    return WRITERS[sample.shape](mishear(words, rate=sample.noise))


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    for sample in SAMPLES:
        sample.path.write_text(written(sample), encoding="utf-8")


if __name__ == "__main__":
    main()
