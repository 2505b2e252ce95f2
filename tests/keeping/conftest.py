"""Files as a coach has them in a folder."""

import pytest

TALK = """[0:00] Morning all, welcome to the Long Room. {said}

[0:20] Number one, goblet squat. Easier, sit on the bench. Number two, half-kneeling press, each side.

[0:50] Three rounds, forty on, twenty off. If anything hurts, stop.
"""


@pytest.fixture
def folder(tmp_path):
    """Makes so many short talk-throughs, each of other words, in a folder."""
    def make(count: int, name: str = "talks"):
        made = tmp_path / name
        made.mkdir()
        for number in range(count):
            (made / f"{number:03}.md").write_text(TALK.format(said=f"This is class {number} of the week."))
        return made

    return make


@pytest.fixture
def archive(tmp_path):
    return tmp_path / "archive.sqlite"
