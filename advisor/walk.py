"""Files below a folder."""

from __future__ import annotations

import os
from pathlib import Path


def files_below(folder: Path, *endings: str) -> list[Path]:
    """All files below a folder whose names end so, in a fixed order."""
    return sorted(
        Path(path)
        for at, _, names in os.walk(folder)
        for name in names
        if name.endswith(endings) and os.path.isfile(path := os.path.join(at, name))
    )
