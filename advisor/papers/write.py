"""Writing a file whole or not at all, and never over another unless told to."""

from __future__ import annotations

import os
import tempfile

from advisor.faults import Fault, Faults, Place

THERE = "this file is there already; choose another name, or add --force to write over it."


def write(path: str, data: bytes, force: bool = False):
    """Write bytes to a path: a draft beside it, then one move. Raises Faults with what to do."""
    place = Place(path or "''")
    if os.path.isdir(path):
        raise Faults([Fault(place, "this is a folder; name a file in it.")])
    if os.path.lexists(path) and not force:
        raise Faults([Fault(place, THERE)])
    draft = None
    try:
        handle, draft = tempfile.mkstemp(
            prefix=".draft-", dir=os.path.dirname(os.path.abspath(path))
        )
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(draft, 0o666 & ~_mask())
        _move(draft, path, force)
    except FileExistsError:
        raise Faults([Fault(place, THERE)]) from None
    except (OSError, ValueError) as error:
        raise Faults(
            [
                Fault(
                    place,
                    f"cannot write this file ({getattr(error, 'strerror', None) or error}); check"
                    " the folder and the name.",
                )
            ]
        ) from None
    finally:
        if draft and os.path.exists(draft):
            os.unlink(draft)


def _move(draft, path, force):
    """Into place; without `force` by a link, which fails if another file came there in the
    meantime.
    """
    if force:
        os.replace(draft, path)
        return
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without links
        os.replace(draft, path)


def _mask() -> int:
    """The mask for new files."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
