"""Tests that take long and say the same of another command: they run where BEAMLEDGER_NIGHTLY is set."""

import os

import pytest

nightly = pytest.mark.skipif(not os.environ.get("BEAMLEDGER_NIGHTLY"), reason="long: set BEAMLEDGER_NIGHTLY to run it")
