"""A file for a bug report, written when the program itself is at fault."""

from __future__ import annotations

import json
import os
import tempfile
import traceback

from advisor.faults import Disagreement


def write_report(error: BaseException, command: str) -> str:
    """Write what happened, with both answers where the engines differed; returns the
    file's path.
    """
    report: dict[str, object] = {
        "command": command,
        "error": f"{type(error).__name__}: {error}",
        "trace": traceback.format_exception(type(error), error, error.__traceback__),
    }
    if isinstance(error, Disagreement):
        report["only_first_engine"], report["only_second_engine"] = (
            repr(error.first),
            repr(error.second),
        )
        report["facts"] = getattr(error, "facts", None)
    try:
        handle, path = tempfile.mkstemp(prefix="pitch-advisor-", suffix=".json")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            json.dump(report, file, indent=2)  # ASCII: an argument may hold bytes that are not text
        return path
    except OSError:
        return "not written (no folder for temporary files)"
