"""The real rule base in other engines, beside our own in one run: python tests/peers.py

Each is given the same finished facts of one worked case, ready as it wants them, and runs every
rule that it has. Figures depend on the machine, ratios much less.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE), str(HERE / "engine")]

from advisor.advise import Advisor  # noqa: E402
from advisor.load.case import read_case  # noqa: E402

CASE = HERE.parent / "cases/plan/arrival-left.yaml"
SPAN = 2.0  # s for which each engine runs


def milliseconds(work) -> float:
    """How long work() takes: the median of its runs in a span, after one that is not counted."""
    work()
    spans, end = [], time.perf_counter() + SPAN
    while not spans or time.perf_counter() < end:
        start = time.perf_counter()
        work()
        spans.append(1000 * (time.perf_counter() - start))
    return statistics.median(spans)


def _anew(second, run):
    """A run of the second engine in which no answer is remembered from the one before."""
    for shards in second.loaded.values():
        for ruleset, _ in shards:
            ruleset._answers.clear()
    run()


def compare():
    """Run all that is here on the real base and print times, ratios and what is left out."""
    from asp import Oracle
    from clips_rules import Clips

    advisor = Advisor()
    base, case = advisor.base, read_case(CASE, advisor.base)
    outcome, topics = advisor.run(case)[0], frozenset(case.topics)
    world = outcome.world
    fired = {(i.rule, i.bound, i.truth) for i in outcome.instances}

    oracle, clips = Oracle(base), Clips(base)
    atoms, facts = oracle.facts(world, topics), clips.facts(world, topics)
    translated = {item for item in fired if item[0] not in clips.left}
    same = {
        "clingo": oracle.fired(atoms, world.choices, world) == fired,
        "clipspy": clips.fired(facts, world) == translated,
    }

    runs = {
        engine.name: lambda e=engine: [
            e.run(number, world, topics) for number in range(len(base.strata))
        ]
        for engine in advisor.engines
    }
    if len(advisor.engines) > 1:
        runs["durable-rules, asked anew"] = lambda: _anew(advisor.engines[1], runs["durable-rules"])
    runs["clingo"] = lambda: oracle.fired(atoms, world.choices, world)
    written_out = oracle.grounded(atoms, world.choices, world)
    runs["clingo, solving alone"] = lambda: oracle.solved(written_out, world)
    runs["clipspy"] = lambda: clips.run(facts)

    print(
        f"peers: {len(base.rules)} real rules, all strata, on the finished facts of {CASE.stem};"
        f" {len(fired)} firings"
    )
    took = {name: milliseconds(run) for name, run in runs.items()}
    for name, spent in took.items():
        agreed = {True: ", the same firings", False: ", OTHER FIRINGS"}.get(same.get(name), "")
        print(f"  {name}: {spent:.2f} ms ({spent / took['compiled']:.1f} x compiled){agreed}")
    print("  given to all: numbers worked out, what the decisions came to; to all but clingo: what")
    print(
        "  rules derive. clingo reads and writes out all rules anew in each run of the first kind."
    )
    print(f"  not translated: {len(clips.left)} rules for clipspy (they count things, or hold two")
    print("  words against each other); none for clingo.")


if __name__ == "__main__":
    compare()
