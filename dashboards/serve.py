"""Start the pages as a child process on this machine's own address, and end them cleanly."""

import os
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
import webbrowser
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from dashboards.theme import STREAMLIT_THEME
from warehouse.book.database import reading
from warehouse.errors import BeamledgerError, InternalFault

ADDRESS = "127.0.0.1"
USUAL_PORTS = range(8600, 8620)
START_SECONDS = 40.0
END_SECONDS = 8.0
SETTINGS: dict[str, str] = {
    "server.address": ADDRESS,
    "server.headless": "true",
    "server.fileWatcherType": "none",
    "server.maxUploadSize": "20",  # megabytes
    "server.enableXsrfProtection": "true",
    "server.enableCORS": "true",
    "server.showEmailPrompt": "false",
    "browser.serverAddress": ADDRESS,
    "browser.gatherUsageStats": "false",
    "client.disableDataExport": "true",  # its CSV would let a name starting with = act in a spreadsheet
    "client.showErrorDetails": "none",
    "client.showErrorLinks": "false",
    "client.toolbarMode": "minimal",
    "logger.level": "warning",
}
LOOK_EVERY_SECONDS = 0.2
ALLOWED_HOSTS = (ADDRESS, "localhost")  # another name in the Host header is a rebinding attack


def serve(book: Path, port: int | None, open_browser: bool) -> None:
    """Show the book at `book` until Ctrl-C (or a request to end) comes; prints the address once the pages answer.

    `port` None takes the first free one from 8600. Raises BookRefused (and its kinds) for a book
    that cannot be read, BeamledgerError for a port that is taken, InternalFault where the pages do not start.
    """
    with reading(book):
        pass  # a book that cannot be read is refused here, in the terminal, before a browser opens
    taken = _free_port() if port is None else _checked(port)
    with _requests_to_end():
        child = subprocess.Popen(command_line(book, taken), env=_environment(), stdout=subprocess.DEVNULL)
        try:
            _wait_until_up(child, taken)
            print(f"The book is open at http://{ADDRESS}:{taken}  (Ctrl-C ends it)", flush=True)
            if open_browser:
                webbrowser.open(f"http://{ADDRESS}:{taken}")
            _wait_for_end(child)
        except KeyboardInterrupt:
            print("Closing the book.", flush=True)
        finally:
            _end(child)


def _wait_for_end(child: subprocess.Popen[bytes]) -> None:
    """Wait in steps: once Polars is loaded an interrupt no longer wakes a wait without an end."""
    while child.poll() is None:
        time.sleep(LOOK_EVERY_SECONDS)


def command_line(book: Path, port: int) -> list[str]:
    """The command of the child process: this Python, Streamlit, our settings and theme, and the book."""
    settings = SETTINGS | STREAMLIT_THEME | {"server.port": str(port)}
    flags = [f"--{name}={value}" for name, value in settings.items()]
    hosts = [f"--server.allowedHosts={host}" for host in ALLOWED_HOSTS]
    app = str(Path(__file__).with_name("app.py"))
    return [
        sys.executable,
        "-m",
        "streamlit",
        "run",
        app,
        *flags,
        *hosts,
        "--",
        "--book",
        str(book.absolute()),
    ]


def _environment() -> dict[str, str]:
    """The child finds this very program, and no settings of another one."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("STREAMLIT_")}
    here = str(Path(__file__).parent.parent)
    return kept | {
        "PYTHONPATH": os.pathsep.join(filter(None, (here, kept.get("PYTHONPATH")))),
        "PYTHONSAFEPATH": "1",
    }


def _free_port() -> int:
    for port in (*USUAL_PORTS, 0):
        with socket.socket() as probe:
            try:
                _bind(probe, port)
            except OSError:
                continue
            return int(probe.getsockname()[1])
    raise InternalFault(f"no free port on {ADDRESS}; end another program, and try again")


def _bind(probe: socket.socket, port: int) -> None:
    if os.name == "posix":  # a port whose last server has just ended is free there only for those who say so
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    probe.bind((ADDRESS, port))


def _checked(port: int) -> int:
    with socket.socket() as probe:
        try:
            _bind(probe, port)
        except (OSError, OverflowError) as refusal:
            raise BeamledgerError(
                f"port {port}: cannot be used on {ADDRESS} ({refusal}); name another with --port, or leave it out"
            ) from refusal
    return port


def _wait_until_up(child: subprocess.Popen[bytes], port: int) -> None:
    give_up = time.monotonic() + START_SECONDS
    while time.monotonic() < give_up:
        if child.poll() is not None:
            raise InternalFault(f"the pages did not start: Streamlit left with exit code {child.returncode}")
        try:
            with urllib.request.urlopen(f"http://{ADDRESS}:{port}/_stcore/health", timeout=1.0):
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    raise InternalFault(f"the pages did not answer within {START_SECONDS:.0f} s; try again, or name another --port")


def _end(child: subprocess.Popen[bytes]) -> None:
    if child.poll() is None:
        child.terminate()
    try:
        child.wait(END_SECONDS)
    except subprocess.TimeoutExpired:
        child.kill()
        child.wait()


@contextmanager
def _requests_to_end() -> Iterator[None]:
    """A SIGTERM ends the child too, instead of leaving it behind; only a main thread may listen for it."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def interrupt(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGTERM, interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)
