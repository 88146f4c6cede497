"""The read rule base and its compiled strata kept under the hash of the files: a warm start reads
no rule file.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from types import CodeType
from typing import Any, TypeAlias

from advisor import kept
from advisor.load.folder import files_of, passed_over
from advisor.load.packed import packed, unpacked
from advisor.model.base import Base, Stratum
from advisor.model.rule import Rule

Code: TypeAlias = tuple[CodeType, ...]
Compiler: TypeAlias = Callable[[Sequence[Rule], Sequence[Stratum]], Code]


def load_base(folder: Path, compiled: Compiler) -> tuple[Base, Code]:
    """(Base, code of its strata); raises Faults. `compiled` makes the code, which is kept too."""
    sha256 = kept.fingerprint(folder, files_of(folder))
    name = f"rules-{kept.short(folder.resolve())}"
    found = _unpacked(kept.read(name, sha256))
    if found and not passed_over(folder):
        return found
    from advisor.load.base import read_base  # with all the readers, which a warm start needs not

    base = read_base(folder, sha256)
    code = compiled(base.rules, base.strata)
    kept.write(name, sha256, (packed(base), code))
    return base, code


def _unpacked(stored: Any) -> tuple[Base, Code] | None:
    """(Base, code) from what was kept; None where it is nothing, or of another shape."""
    try:
        data, code = stored
        return unpacked(data), code
    except (ValueError, TypeError, LookupError, AttributeError):
        return None
