"""Plain data kept between starts in the user's cache folder: only ever to save time.

The form is Python's own for compiled modules (marshal), as in a .pyc. A checksum stands in front
of it, for a spoilt byte could change a rule,
or end the program. What is spoilt, or cannot be read or written, is silently done without.
"""

from __future__ import annotations

import hashlib
import marshal
import os
import sys
from pathlib import Path

LENGTH = hashlib.sha256().digest_size  # of the checksum in front


def place(name: str) -> Path:
    """The file of a name; a path that cannot be written where the user has no home."""
    try:
        home = (
            os.environ.get("XDG_CACHE_HOME")
            or (os.environ.get("LOCALAPPDATA") if os.name == "nt" else None)
            or Path.home() / ".cache"
        )
    except RuntimeError:  # no HOME, and none in the system's list of users
        home = os.devnull
    return Path(home) / "ladder-pitch-advisor" / f"{name}-{sys.implementation.cache_tag}"


def read(name: str):
    """The data kept under a name, or None."""
    try:
        raw = place(name).read_bytes()
        return (
            marshal.loads(raw[LENGTH:])
            if hashlib.sha256(raw[LENGTH:]).digest() == raw[:LENGTH]
            else None
        )
    except (OSError, ValueError, EOFError, TypeError):
        return None


def write(name: str, data):
    """Keep data under a name, put in place in one move."""
    store = place(name)
    try:
        store.parent.mkdir(parents=True, exist_ok=True)
        draft, packed = store.with_suffix(f".{os.getpid()}"), marshal.dumps(data)
        draft.write_bytes(hashlib.sha256(packed).digest() + packed)
        draft.replace(store)
    except (OSError, ValueError):
        return


def stamp(*files: Path) -> str:
    """A mark of the program's own files, so that a changed program never reads what an older one
    kept.
    """
    return str(sum(int(file.stat().st_mtime_ns) for file in files) % 10**12)
