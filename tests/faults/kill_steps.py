"""The named steps of a load and of an upgrade at which a child kills itself: the product has no hooks, so it is patched."""

import os
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from loaders import check, load
from warehouse.book import anchor, database, ledger, migrations, upgrade


class Step(NamedTuple):
    """Where: the `nth` call of `name` in `owner` for which `only` holds, before or after it. `is_in`: the load is in then."""

    owner: Any
    name: str
    after: bool
    is_in: bool
    nth: int = 1
    only: Callable[..., bool] = lambda *arguments, **named: True


def _into_revisions(_: Any, table: str, *more: Any) -> bool:
    return table == "entry_revision"


LOAD = {
    "book read": Step(load, "_read_state", after=True, is_in=False),
    "files read": Step(check, "audit_table", after=False, is_in=False),
    "audited": Step(load, "check_files", after=True, is_in=False),
    "matched": Step(load, "_place", after=True, is_in=False),
    "before the first insert": Step(ledger, "write", after=False, is_in=False),
    "between two tables": Step(ledger, "insert", after=False, is_in=False, only=_into_revisions),
    "anchor half unsettled": Step(Path, "replace", after=False, is_in=False),
    "before the commit": Step(anchor, "unsettle", after=True, is_in=False),
    "after the commit": Step(database, "_settle", after=False, is_in=True),
    "after the checkpoint": Step(anchor, "write", after=False, is_in=True),
    "before the anchor is renamed": Step(Path, "replace", after=False, is_in=True, nth=2),
    "after the anchor": Step(anchor, "write", after=True, is_in=True),
}
UPGRADE = {
    "before the copy": Step(upgrade, "_keep", after=False, is_in=False),
    "before the copy is named": Step(Path, "replace", after=False, is_in=False),
    "after the copy": Step(upgrade, "_keep", after=True, is_in=False),
    "migrated": Step(migrations, "apply_all", after=True, is_in=False),
    "before its commit": Step(database, "_commit", after=False, is_in=False),
    "after its commit": Step(database, "_commit", after=True, is_in=True),
    "its anchor written": Step(anchor, "write", after=True, is_in=True),
}
STEPS = LOAD | UPGRADE


def arm(name: str) -> None:
    """Let this process kill itself at the step."""
    step = STEPS[name]
    original, calls = getattr(step.owner, step.name), 0

    def patched(*arguments: Any, **named: Any) -> Any:
        nonlocal calls
        calls += step.only(*arguments, **named)
        now = calls == step.nth and step.only(*arguments, **named)
        if now and not step.after:
            _die()
        done = original(*arguments, **named)
        if now:
            _die()
        return done

    setattr(step.owner, step.name, patched)


def _die() -> None:
    os.kill(os.getpid(), signal.SIGKILL)
