import pytest

from parser.archive import opened


@pytest.fixture
def kept(tmp_path):
    """An empty archive, open."""
    with opened(tmp_path / "archive.sqlite", create=True) as archive:
        yield archive
