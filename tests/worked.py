"""The worked cases and the advice on each, worked out once a process, whichever test asks."""

from functools import cache
from pathlib import Path

from depth import kept

from advisor.advise import Advisor
from advisor.load.case import Case, read_case
from advisor.model.advice import Advice


@cache
def program() -> Advisor:
    """The real rule base with its engines, loaded once."""
    return Advisor()


@kept
def case_at(path: Path) -> Case:
    """The case in a file; it is shared, so a test that changes one takes a copy."""
    return read_case(path, program().base)


@kept
def advised(path: Path) -> Advice:
    """The advice on the case in a file."""
    return program().advise(case_at(path))
