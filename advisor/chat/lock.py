"""One writer for one file: a lock that the system lets go when the program ends, however
it ends.
"""

from __future__ import annotations

import os


def taken(path):
    """An open descriptor that holds the lock of a path, or None when another program holds it."""
    descriptor = os.open(path, os.O_CREAT | os.O_RDWR, 0o600)
    try:
        _lock(descriptor)
        return descriptor
    except OSError:
        os.close(descriptor)
        return None


def _lock(descriptor):
    try:
        import fcntl
    except ImportError:  # Windows
        import msvcrt

        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        return
    fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
