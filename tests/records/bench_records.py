"""How much slower ten thousand entries are than ten, in one run.

    python tests/records/bench_records.py

Prints the ratio for `kit due` and for a plan that takes a ladder's card, each the median of several
whole commands.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parent), str(HERE.parents[2])]

from desks import LADDER, MADE, desk_in  # noqa: E402

from advisor.records.entry import New  # noqa: E402

CASE = "based on: cases/group/two-leaders-sound.yaml\nwithout: [ladder main]\nwith: {ladder: L1}\n"
TIMES = 9


def records(folder: Path, entries: int) -> Path:
    """A file with twenty ladders and so many entries."""
    folder.mkdir()
    desk = desk_in(folder, "2020-01-01")
    for n in range(1, 3 if entries < 20 else 21):
        desk.begin(f"L{n}", "kit", "ladder", LADDER, MADE)
    cards = desk.store.cards()
    events = ("used", "inspected", "dried", "examined")
    desk.write([
        New(cards[n % len(cards)], events[n // len(cards) % 4], f"202{n % 6}-0{n % 9 + 1}-11", {})
        for n in range(entries - len(cards))
    ])  # fmt: skip
    return desk.store.path


def seconds(*arguments: str) -> float:
    """The median time of a whole command."""
    found = []
    for _ in range(TIMES):
        began = time.perf_counter()
        command = [sys.executable, "-m", "advisor", *arguments]
        subprocess.run(command, capture_output=True, cwd=HERE.parents[2], check=False)
        found.append(time.perf_counter() - began)
    return statistics.median(found)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        small, large = (records(Path(folder, str(n)), n) for n in (10, 10_000))
        case = Path(folder, "trip.yaml")
        case.write_text(CASE, "utf-8")
        for name, arguments in (
            ("kit due", ("kit", "due", "--until", "1 January 2027")),
            ("a plan", ("advise", str(case))),
        ):
            few, many = (seconds(*arguments, "--records", str(at)) for at in (small, large))
            print(
                f"{name}: {few:.3f} s with 10 entries, {many:.3f} s with 10,000: {many / few:.2f}"
            )


if __name__ == "__main__":
    main()
