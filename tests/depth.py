"""How deep the tests go, by `python -m pytest --depth=…`:

- `quick`, before each commit: every room is touched; a sweep takes a few things, and of a test with
  many parameters a few run (`conftest.py`).
- `normal`, without the option and in CI: a sweep takes a sample that was chosen.
- `all`, before a release: every sweep takes all there is.

A sweep makes one check over many things (every case, every rule) as one test. It goes on after a
failure, and each thing that fails is shown by its name.
"""

from __future__ import annotations

import enum
import functools
import inspect
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from advisor.load.folder import files_of, find_folder


class Depth(enum.IntEnum):
    quick = 0
    normal = 1
    all = 2


now = Depth.normal  # set from the option before any test file is read
drawn: int | None = None  # random examples a test, where the option says so

not_quick = pytest.mark.depth("normal")  # left out at quick
only_all = pytest.mark.depth("all")  # left out at quick and normal


def examples(normal: int, times: int = 3) -> int:
    """How many random examples to draw, where so many are drawn at normal and `times` as many at
    all.
    """
    if drawn is not None:
        return drawn
    return {Depth.quick: max(2, normal // 20), Depth.normal: normal, Depth.all: times * normal}[now]


def kept(work: Callable) -> Callable:
    """Keep what was worked out for whoever asks again; at `all` only the last ones fit."""
    return functools.lru_cache(maxsize=128 if now == Depth.all else None)(work)


def most(quick: int | None, normal: int | None) -> int | None:
    """How many things to take at this depth; None: all."""
    return {Depth.quick: quick, Depth.normal: normal, Depth.all: None}[now]


def sampled(things: Iterable, quick: int | None = 2, normal: int | None = 24) -> list:
    """The things to take at this depth, evenly spread over their order."""
    things, number = list(things), most(quick, normal)
    if number is None or number >= len(things):
        return things
    return [things[n * len(things) // number] for n in range(number)]


@functools.cache
def all_cases() -> tuple:
    """The files of all worked cases."""
    return tuple(files_of(find_folder("cases")))


def case_name(path: Path) -> str:
    return f"{path.parent.name}/{path.stem}"


# Those first that show most of what no case before them shows; `python tests/choose_cases.py`
# chooses anew.
CHOSEN = Path(__file__).parent / "chosen_cases.txt"


def cases(quick: int | None = 2, normal: int | None = 24) -> list:
    """The files of the worked cases to take at this depth."""
    number = most(quick, normal)
    if number is None:
        return list(all_cases())
    chosen, named = CHOSEN.read_text("utf-8").split(), {case_name(p): p for p in all_cases()}
    assert number <= len(chosen), f"only {len(chosen)} cases are chosen"
    return [named[name] for name in chosen[:number]]


def sweep(name: str, things: Callable[[], Iterable], told: Callable[..., str] = str):
    """Make the test of one thing, which it takes as `name`, a loop over many.

    things: gives those to take at this depth; called when the test runs.
    told: gives the name under which a thing that fails is shown.
    """

    def over(test):
        @functools.wraps(test)
        def swept(subtests, **fixtures):
            taken = list(things())
            assert taken, "nothing to sweep over"
            for thing in taken:
                with subtests.test(told(thing)):
                    test(**{name: thing}, **fixtures)

        signature = inspect.signature(test)
        fixtures = [p for key, p in signature.parameters.items() if key != name]
        assert len(fixtures) < len(signature.parameters), f"{test.__name__} takes no {name}"
        first = inspect.Parameter("subtests", inspect.Parameter.POSITIONAL_OR_KEYWORD)
        swept.__signature__ = signature.replace(parameters=[first, *fixtures])
        return swept

    return over


def case_numbers(quick: int | None = 2, normal: int | None = 24) -> list:
    """Where the cases to take stand among all of them."""
    return [all_cases().index(path) for path in cases(quick, normal)]


def told_number(number: int) -> str:
    return case_name(all_cases()[number])


every_case = sweep("path", lambda: cases(4, None), case_name)  # what a case says of itself
many_cases = sweep("path", lambda: cases(4, 60), case_name)  # where one takes milliseconds
some_cases = sweep("path", cases, case_name)
some_numbers = sweep("number", case_numbers, told_number)
