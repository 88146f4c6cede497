"""The read rule base and its compiled strata kept under the hash of the files: a warm start reads
no rule file.
"""

from __future__ import annotations

from pathlib import Path

from advisor import kept
from advisor.engine.plain import compile_strata
from advisor.load.base import files_of, passed_over, read_base
from advisor.load.packed import packed, unpacked


def load_base(folder: Path):
    """(Base, code of the compiled strata); raises Faults."""
    sha256 = kept.fingerprint(folder, files_of(folder))
    name = f"rules-{kept.short(folder.resolve())}"
    found = _unpacked(kept.read(name, sha256))
    if found and not passed_over(folder):
        return found
    base = read_base(folder, sha256)
    code = compile_strata(base.rules, base.strata)
    kept.write(name, sha256, (packed(base), code))
    return base, code


def _unpacked(stored):
    """(Base, code) from what was kept; None where it is nothing, or of another shape."""
    try:
        data, code = stored
        return unpacked(data), code
    except (ValueError, TypeError, LookupError, AttributeError):
        return None
