"""One Hypothesis profile for every test (the same examples on every run, no clock), and one browser."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

settings.register_profile("beamledger", deadline=None, derandomize=True, database=None)
settings.load_profile("beamledger")

CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A headless Chromium; a process may start it only once."""
    if not CHROMIUM.exists():
        pytest.skip(f"no browser at {CHROMIUM}")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=list(ARGUMENTS))
        yield started
        started.close()
