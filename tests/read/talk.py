"""What the tests of reading share: read a text, and look at the result as words and times."""

from parser.model import TalkThrough
from parser.read import read_bytes


def read(text: str, encoding: str = "utf-8") -> TalkThrough:
    return read_bytes(text.encode(encoding), name="talk")


def cues(talk: TalkThrough) -> list[tuple[float | None, float | None, str]]:
    """(start, end, text) of everything spoken."""
    return [(cue.start, cue.end, talk.text[slice(*cue.chars)]) for cue in talk.cues if not cue.heading]


def headings(talk: TalkThrough) -> list[str]:
    return [talk.text[slice(*cue.chars)] for cue in talk.cues if cue.heading]


def words(talk: TalkThrough) -> list[tuple[str, float, float]]:
    return [(talk.text[slice(*word.chars)], word.start, word.end) for word in talk.words]
