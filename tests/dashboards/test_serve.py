import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from dashboards.serve import command_line, serve
from warehouse.errors import BeamledgerError, BookRefused


def test_the_child_listens_on_this_machine_only_and_reports_to_nobody() -> None:
    command = command_line(Path("/books/a b.duckdb"), 8530)
    assert command[:4] == [sys.executable, "-m", "streamlit", "run"]
    for flag in (
        "--server.address=127.0.0.1", "--server.port=8530", "--browser.gatherUsageStats=false",
        "--server.maxUploadSize=20", "--client.showErrorDetails=none", "--server.headless=true",
        "--server.allowedHosts=127.0.0.1", "--theme.primaryColor=#1F5C57",
    ):  # fmt: skip
        assert flag in command
    assert command[-3:] == ["--", "--book", "/books/a b.duckdb"]


def test_a_taken_port_is_refused(book: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(BeamledgerError) as refused:
            serve(book, port, open_browser=False)
    assert re.fullmatch(
        rf"port {port}: cannot be used on 127\.0\.0\.1 \(.*in use.*\); name another with --port, or leave it out",
        str(refused.value),
    )


def test_a_book_that_is_not_there_is_refused_before_anything_starts(tmp_path: Path) -> None:
    with pytest.raises(BookRefused, match="no book there; make one with `beamledger init"):
        serve(tmp_path / "gone.duckdb", None, open_browser=False)


@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM])
def test_it_answers_and_ends_cleanly(book: Path, ending: signal.Signals) -> None:
    code = "import sys; from pathlib import Path; from dashboards.serve import serve; serve(Path(sys.argv[1]), None, False)"
    root = Path(__file__).parents[2]
    server = subprocess.Popen([sys.executable, "-c", code, str(book)], stdout=subprocess.PIPE, text=True, cwd=root)
    assert server.stdout is not None
    try:
        address = re.fullmatch(
            r"The book is open at (http://127\.0\.0\.1:\d+)  \(Ctrl-C ends it\)\n", server.stdout.readline()
        )
        assert address is not None
        with urllib.request.urlopen(f"{address[1]}/_stcore/health") as answer:
            assert answer.read() == b"ok"
        server.send_signal(ending)
        assert server.stdout.read() == "Closing the book.\n"
        assert server.wait(15) == 0
        with pytest.raises(OSError, match="refused"):
            urllib.request.urlopen(f"{address[1]}/_stcore/health", timeout=2)
    finally:
        if server.poll() is None:
            server.terminate()
            server.wait(15)
        server.stdout.close()
