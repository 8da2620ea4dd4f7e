"""A served book and a real browser. The server runs on a free port of this machine and is ended by its own id."""

import os
import re
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.dashboards.small_book import small_book

SERVE = "import sys; from pathlib import Path; from dashboards.serve import serve; serve(Path(sys.argv[1]), int(sys.argv[2]), False)"
ROOT = Path(__file__).parents[2]
CAUTION = "A book’s own rules and local law outrank this program."
Visit = Callable[[str, int], Page]


@contextmanager
def served(book: Path) -> Iterator[str]:
    """The address of a server that shows `book`, ended on leaving."""
    command = [sys.executable, "-c", SERVE, str(book), str(_free_port())]
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment)
    assert server.stdout is not None
    try:
        found = re.search(r"http://127\.0\.0\.1:\d+", server.stdout.readline())
        assert found is not None
        yield found[0]
    finally:
        server.terminate()
        server.wait(20)
        server.stdout.close()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@pytest.fixture(scope="session")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_book(tmp_path_factory.mktemp("book") / "small.duckdb")


@pytest.fixture(scope="session")
def address(book: Path) -> Iterator[str]:
    with served(book) as found:
        yield found


@pytest.fixture
def visit(browser: Browser, address: str) -> Iterator[Visit]:
    """Opens a path at a width; at the end no request of any visit may have left this machine."""
    contexts, strays = [], []

    def opened(path: str, width: int) -> Page:
        context = browser.new_context(viewport={"width": width, "height": 844})
        contexts.append(context)
        page = context.new_page()
        page.on("request", lambda request: strays.append(request.url) if _leaves(request.url) else None)
        page.on("dialog", lambda dialog: strays.append(f"dialog {dialog.message}"))
        page.goto(address + path)
        page.get_by_text(CAUTION).wait_for(timeout=60_000)
        page.wait_for_timeout(800)  # charts draw after the text
        return page

    yield opened
    for context in contexts:
        context.close()
    assert strays == []


def _leaves(url: str) -> bool:
    return re.match(r"(https?|wss?)://127\.0\.0\.1[:/]|data:|blob:", url) is None
