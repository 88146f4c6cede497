"""Where the files of a rule base lie, and what marks their state."""

from __future__ import annotations

import os
from pathlib import Path

from advisor.faults import Fault, Faults, Place
from advisor.walk import files_below


def find_folder(name: str) -> Path:
    """rules/ or cases/: inside the package when installed, beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "_data" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise Faults([Fault(Place(name), "this folder is missing; install the program again.")])


def files_of(folder: Path) -> list[Path]:
    """All YAML files below a folder, in a fixed order."""
    return files_below(folder, ".yaml")


def passed_over(folder: Path) -> list[Fault]:
    """Faults for what looks like a part of the rule base and would never be read: files of another
    ending, folders that cannot be opened.
    """
    faults = []

    def closed(error: OSError) -> None:
        faults.append(
            Fault(
                Place(os.path.relpath(error.filename)),
                f"cannot open this folder ({error.strerror or error}); change its permissions.",
            )
        )

    for at, _, names in os.walk(folder, onerror=closed):
        faults += [
            Fault(
                Place(os.path.relpath(os.path.join(at, name))),
                "only files that end in .yaml are read; rename it.",
            )
            for name in names
            if name.lower().endswith((".yaml", ".yml")) and not name.endswith(".yaml")
        ]
    return faults
