"""Plain data kept between starts in the user's cache folder: only ever to save time.

The form is Python's own for compiled modules (marshal), as in a .pyc. In front stands a checksum
over the data, the stamp it is kept under and the program's own source: what is spoilt, of a
changed program or of changed rules does not fit it, and is silently done without. A checksum can
be worked out by anyone, so nothing is read that another user could have written.

Each name has one file for each place the program lies in: a newer stamp takes an older one's place.
"""

from __future__ import annotations

import hashlib
import marshal
import os
import stat
import sys
import tempfile
from collections.abc import Callable, Iterable
from functools import cache
from importlib.util import MAGIC_NUMBER
from pathlib import Path
from typing import Any

from advisor.walk import files_below

PACKAGE = Path(__file__).resolve().parent
LENGTH = hashlib.sha256().digest_size  # of the checksum in front
FORM = "kept-2-"  # how names begin; files of other forms are removed
MOST = 40  # files; of more, the oldest are removed
OTHERS_WRITE = stat.S_IWGRP | stat.S_IWOTH


def read(name: str, stamp: str) -> Any:
    """The data kept under a name with this stamp, or None."""
    try:
        raw = _bytes(place(name))
        return marshal.loads(raw[LENGTH:]) if raw[:LENGTH] == _sum(stamp, raw[LENGTH:]) else None
    except (OSError, ValueError, EOFError, TypeError):
        return None


def write(name: str, stamp: str, data: Any) -> None:
    """Keep data under a name with a stamp, put in place in one move."""
    draft = None
    try:
        store, packed = place(name), marshal.dumps(data)
        _make_private(store.parent)
        handle, draft = tempfile.mkstemp(prefix=FORM, dir=store.parent)  # only the user may read it
        with os.fdopen(handle, "wb") as file:
            file.write(_sum(stamp, packed) + packed)
        os.replace(draft, store)
        _tidy(store.parent)
    except (OSError, ValueError):
        if draft and os.path.exists(draft):
            os.unlink(draft)


def place(name: str) -> Path:
    """The file of a name; raises OSError where the user has no folder for it."""
    from platformdirs import user_cache_dir

    folder = Path(user_cache_dir("ladder-pitch-advisor", appauthor=False))
    if not folder.is_absolute():  # no home
        raise FileNotFoundError(folder)
    return folder / f"{FORM}{name}-{short(PACKAGE)}-{sys.implementation.cache_tag}"


def short(path: Path) -> str:
    """A path as a few letters for a name."""
    return hashlib.sha256(os.fsencode(path)).hexdigest()[:16]


@cache
def program() -> str:
    """SHA-256 of the package's own source: a changed program never reads what another one kept."""
    return fingerprint(PACKAGE, files_below(PACKAGE, ".py", ".json"))


def fingerprint(folder: Path, paths: Iterable[Path]) -> str:
    """SHA-256 over names and contents of files below a folder, independent of where it lies."""
    total, above = hashlib.sha256(), len(os.path.join(folder, ""))
    for path in paths:
        with open(path, "rb") as file:
            content = file.read().replace(b"\r\n", b"\n")
        name = os.fspath(path)[above:].replace(os.sep, "/")
        total.update(name.encode() + b"\0" + content + b"\0")
    return total.hexdigest()


def _sum(stamp: str, packed: bytes) -> bytes:
    total = hashlib.sha256(MAGIC_NUMBER + program().encode() + stamp.encode() + b"\0")
    total.update(packed)
    return total.digest()


def _bytes(path: Path) -> bytes:
    """What a file holds that only this user can have written; raises OSError for any other."""
    _must_be_private(path.parent.lstat(), stat.S_ISDIR)
    no_link_no_wait = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    flags = os.O_RDONLY | no_link_no_wait | getattr(os, "O_BINARY", 0)
    with open(os.open(path, flags), "rb") as file:
        _must_be_private(os.fstat(file.fileno()), stat.S_ISREG)
        return file.read()


def _must_be_private(found: os.stat_result, kind: Callable[[int], bool]) -> None:
    """Raises PermissionError unless it is of the kind, this user's, and closed to others' writing.
    On Windows the user's profile is closed by itself, and no owner can be asked for.
    """
    if not kind(found.st_mode):
        raise PermissionError
    if hasattr(os, "geteuid") and (
        found.st_uid != os.geteuid() or stat.S_IMODE(found.st_mode) & OTHERS_WRITE
    ):
        raise PermissionError


def _make_private(folder: Path) -> None:
    """A folder of this user alone. One of theirs that others may write is closed and emptied, for
    they may have put anything into it; raises OSError for another user's.
    """
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    found = folder.lstat()
    if hasattr(os, "geteuid") and stat.S_IMODE(found.st_mode) & OTHERS_WRITE:
        if found.st_uid == os.geteuid() and stat.S_ISDIR(found.st_mode):
            folder.chmod(0o700)
            _remove(_files(folder))
        found = folder.lstat()
    _must_be_private(found, stat.S_ISDIR)


def _tidy(folder: Path) -> None:
    """Remove what no start will read any more."""
    found = _files(folder)
    mine = [entry for entry in found if entry.name.startswith(FORM)]
    mine.sort(key=lambda entry: entry.stat(follow_symlinks=False).st_mtime_ns, reverse=True)
    _remove([entry for entry in found if entry not in mine[:MOST]])


def _files(folder: Path) -> list[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        return [entry for entry in entries if not entry.is_dir(follow_symlinks=False)]


def _remove(entries: Iterable[os.DirEntry[str]]) -> None:
    for entry in entries:
        Path(entry.path).unlink(missing_ok=True)
