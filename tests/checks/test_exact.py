"""What the rules find in the talks of ``exact/``, to the letter, and where they say nothing."""

import pytest

from .exact_talks import as_line, exact_talks


@pytest.mark.parametrize("exact", exact_talks(), ids=lambda e: e.name)
def test_the_finding_to_the_letter(exact, audited):
    assert [as_line(f) for f in audited(exact.talk) if f.code == exact.code] == list(exact.found)
