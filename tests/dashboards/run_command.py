"""Runs the command: in this process, which is fast, or in one of its own where the process is what is tested."""

import io
import json
import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any, NamedTuple

from dashboards.command import main

ROOT = Path(__file__).parents[2]


class Ran(NamedTuple):
    """How a command ended and what it printed."""

    code: int
    out: str
    err: str

    def lines(self) -> list[dict[str, Any]]:
        """The JSON objects it printed, one a line."""
        return [json.loads(line) for line in self.out.splitlines()]


def run(*arguments: str | Path) -> Ran:
    """Run the command in this process."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            code = main([str(argument) for argument in arguments])
        except SystemExit as leave:  # the argument parser leaves by itself
            code = int(leave.code or 0)
    return Ran(code, out.getvalue(), err.getvalue())


def run_apart(*arguments: str | Path, folder: Path = ROOT, **environment: str) -> Ran:
    """Run the command in a process of its own."""
    command = [sys.executable, "-m", "dashboards.command", *map(str, arguments)]
    settings = os.environ | {"PYTHONPATH": str(ROOT)} | environment
    done = subprocess.run(command, capture_output=True, text=True, cwd=folder, env=settings)
    return Ran(done.returncode, done.stdout, done.stderr)
