"""Proofs at scale, each from a seed and printed with its figures; exits 1 where anything failed.

    python tests/proof.py engines --number 100000      random fact sets through both engines, and
                                                       every hundredth through clingo
    python tests/proof.py doors --number 1000000       hostile inputs at six doors
    python -m pytest tests/laws --examples 10000       the laws, on so many sets each

A failure is shown with the number that draws it again: `--first NUMBER --number 1`.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections import Counter
from collections.abc import Iterator
from functools import cache
from multiprocessing import get_context
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE), str(HERE / "engine"), str(HERE / "bad_files")]

CHUNK = 250  # numbers that a process takes at once
SHOWN = 20  # failures shown
SOLVED = int(os.environ.get("SOLVED_EVERY", "100"))  # clingo takes a hundred times as long


@cache
def _oracles():
    import real
    from asp import Oracle
    from compare import engines

    return engines(real.base()), Oracle(real.base())


def engines(number: int) -> Iterator[str]:
    """One random fact set: both engines agree, and clingo with them; yields what it came to."""
    import real

    pair, oracle = _oracles()
    outcome = real.outcome(pair, number)  # raises Disagreement where the two differ
    yield "fact sets through both engines"
    if number % SOLVED:
        return
    yield "of them through clingo"
    atoms = oracle.facts(outcome.world, real.facts(number)[1])
    ours = {(i.rule, i.bound, i.truth) for i in outcome.instances}
    theirs = oracle.fired(atoms, outcome.world.choices, outcome.world)
    if ours != theirs:
        raise AssertionError(f"clingo differs: {sorted(ours ^ theirs)[:5]}")
    for _, _, truth in ours:
        yield "sure firings" if truth == 2 else "possible firings"


def doors(number: int) -> Iterator[str]:
    """One hostile input at one door."""
    from hostile import at_a_door

    yield at_a_door(number)


PROOFS = {"engines": engines, "doors": doors}


def chunk(what: str, first: int, end: int) -> tuple[int, Counter, list[str]]:
    """A part of a proof: (how many, what they came to, failures)."""
    seen, failed = Counter(), []
    for number in range(first, end):
        try:
            seen.update(PROOFS[what](number))
        except Exception as error:  # whatever it is, it is a failure with a number
            failed.append(f"{what} {number}: {type(error).__name__}: {str(error)[:300]!r}")
    return end - first, seen, failed


def _some(task: tuple[str, int, int]) -> tuple[int, Counter, list[str]]:
    return chunk(*task)


def prove(what: str, first: int, number: int, processes: int) -> int:
    """Run one proof; prints its figures and returns 1 where anything failed."""
    start, done, seen, failed = time.monotonic(), 0, Counter(), list[str]()
    tasks = [(what, n, min(n + CHUNK, first + number)) for n in range(first, first + number, CHUNK)]
    with get_context("spawn").Pool(processes, maxtasksperchild=40) as pool:
        for size, some, wrong in pool.imap_unordered(_some, tasks):
            done, seen, failed = done + size, seen + some, failed + wrong
            print(f"\r{done:,} of {number:,}, {len(failed)} failed", end="", flush=True)
    print(f"\n{what}: {number:,} from number {first}, {time.monotonic() - start:.0f} s")
    for name, count in sorted(seen.items()):
        print(f"  {name}: {count:,}")
    for line in failed[:SHOWN]:
        print(f"  FAILED {line}")
    print(f"  {len(failed)} failed")
    return 1 if failed else 0


def main() -> int:
    """Read the options and run."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("proof", choices=PROOFS)
    options.add_argument("--number", type=int, default=1000)
    options.add_argument("--first", type=int, default=1)
    options.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    asked = options.parse_args()
    return prove(asked.proof, asked.first, asked.number, asked.processes)


if __name__ == "__main__":
    sys.exit(main())
