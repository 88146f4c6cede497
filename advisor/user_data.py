"""Where what the user said is kept: the user's data folder, or PITCH_ADVISOR_DATA."""

from __future__ import annotations

import os
from pathlib import Path


def folder() -> Path:
    """The folder; without a home nothing is kept, and it is said where that matters."""
    chosen = os.environ.get("PITCH_ADVISOR_DATA")
    if chosen:
        return Path(chosen)
    from platformdirs import user_data_dir

    place = Path(user_data_dir("ladder-pitch-advisor", appauthor=False))
    return place if place.is_absolute() else Path(os.devnull) / "no home"
