"""Forks a child for each command it is told to run: `python -m tests.faults.nursery`, one JSON object a line on stdin.

It imports everything once and forks before Polars or DuckDB have started their pools, so that a kill falls into the command
and not before it, and the imports are paid for once. A child is buried only when it is asked for; until then no other
process has its number.
"""

import gc
import importlib
import io
import json
import os
import resource
import signal
import sys
import traceback
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

from dashboards import command
from tests.faults import kill_steps

# what the commands under test import only when they need it; Polars its pyarrow
LATE = (
    "pyarrow", "dashboards.commands", "dashboards.correct_command", "dashboards.decide_command", "dashboards.publish_command",
    "dashboards.backup_command", "dashboards.restore_command",
)  # fmt: skip


def main() -> None:
    """Answer each line: {"arguments", "said", "room", "step"} with the child's number, {"end": number} with its code or "running"."""
    for name in LATE:
        importlib.import_module(name)
    gc.collect()
    gc.freeze()  # a collection in a child would copy every page that holds an object
    for line in sys.stdin:
        asked = json.loads(line)
        answer = _buried(asked["end"]) if "end" in asked else _begun(asked)
        print(answer, flush=True)


def _buried(child: int) -> int | str:
    number, status = os.waitpid(child, os.WNOHANG)
    return os.waitstatus_to_exitcode(status) if number else "running"


def _begun(asked: dict[str, Any]) -> int:
    child = os.fork()
    if child:
        return child
    code = 70  # of a child that broke down: this copy of the nursery must not go on reading
    said = io.StringIO()  # told at the end, for a child without room for files has none for this one either
    try:
        with redirect_stdout(said), redirect_stderr(said):
            code = _run(asked)
    except BaseException:
        said.write(traceback.format_exc())
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
        Path(asked["said"]).write_text(said.getvalue(), encoding="utf-8")
        os._exit(code)


def _run(asked: dict[str, Any]) -> int:
    if asked["step"] is not None:
        kill_steps.arm(asked["step"])
    if asked["room"] is not None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (asked["room"], resource.RLIM_INFINITY))
    return command.main(asked["arguments"])


if __name__ == "__main__":
    main()
