"""No test of a sum depends on how fast the machine is just then."""

from hypothesis import settings

settings.register_profile("sums", deadline=None)
settings.load_profile("sums")
