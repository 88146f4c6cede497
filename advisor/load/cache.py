"""The read rule base, with what the engines make of it, kept under the hash of the files: a warm
start reads no rule file.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from advisor import kept
from advisor.load.folder import files_of, passed_over
from advisor.load.packed import packed, unpacked
from advisor.model.base import Base

Made = TypeVar("Made")


def load_base(folder: Path, make: Callable[[Base], Made]) -> tuple[Base, Made]:
    """(Base, what `make` makes of it); raises Faults. What is made is plain data or code, and is
    kept too.
    """
    sha256 = kept.fingerprint(folder, files_of(folder))
    name = f"rules-{kept.short(folder.resolve())}"
    found = _unpacked(kept.read(name, sha256))
    if found and not passed_over(folder):
        return found
    from advisor.load.base import read_base  # with all the readers, which a warm start needs not

    base = read_base(folder, sha256)
    made = make(base)
    kept.write(name, sha256, (packed(base), made))
    return base, made


def _unpacked(stored: Any) -> tuple[Base, Any] | None:
    """(Base, what was made of it) from what was kept; None where it is nothing, or of another
    shape.
    """
    try:
        data, made = stored
        return unpacked(data), made
    except (ValueError, TypeError, LookupError, AttributeError):
        return None
