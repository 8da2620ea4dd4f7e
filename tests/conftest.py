"""One Hypothesis profile for every test: the same examples on every run, no clock."""

from hypothesis import settings

settings.register_profile("beamledger", deadline=None, derandomize=True, database=None)
settings.load_profile("beamledger")
