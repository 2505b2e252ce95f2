"""What can go wrong with a call. Each exception knows the exit code its command ends with.

Problems *in* a talk-through are values (findings, unplaced, read problems), never exceptions.
"""


class PlanaloudError(Exception):
    """A call that cannot be carried out. The message is one or two sentences: what was found, where, what to do."""

    exit_code = 2


class UnreadableInput(PlanaloudError):
    """The input is none of the formats that can be read."""


class OutputRefused(PlanaloudError):
    """The output cannot be written as asked."""


class LexiconError(PlanaloudError):
    """A coach's own word file cannot be used."""


class ArchiveError(PlanaloudError):
    """An archive, or a class in it, cannot be used."""
