"""One object as one line of JSON."""

import json
import math
from collections.abc import Mapping
from typing import Any


def json_line(row: Mapping[str, Any]) -> str:
    """The line. JSON has no infinity and no NaN: a figure that is none is null; a day is text."""
    return json.dumps(_finite(row), ensure_ascii=False, default=str)


def _finite(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _finite(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(part) for part in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value
