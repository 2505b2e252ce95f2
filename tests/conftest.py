"""What holds for all tests."""

import os
import tempfile

from hypothesis import settings

# Nothing is left in the cache of whoever runs the tests, and nothing of it is used.
_CACHE = tempfile.TemporaryDirectory()
os.environ["XDG_CACHE_HOME"] = _CACHE.name

# Speed is measured by the commands in tests/bench/, never by a test: a busy machine is no fault.
settings.register_profile("whatever the machine does", deadline=None)
settings.load_profile("whatever the machine does")
