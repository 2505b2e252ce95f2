"""What holds for all tests."""

from hypothesis import settings

# Speed is measured by the commands in tests/bench/, never by a test: a busy machine is no fault.
settings.register_profile("whatever the machine does", deadline=None)
settings.load_profile("whatever the machine does")
