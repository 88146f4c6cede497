"""The real rule base in other engines, beside our own in one run: python tests/peers.py

Each is given the same finished facts of one worked case, ready as it wants them, and runs every
rule that it has. Figures depend on the machine, ratios much less.
"""

from __future__ import annotations

import itertools
import statistics
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE), str(HERE / "engine")]

from advisor.advise import Advisor  # noqa: E402
from advisor.engine.rete import ReteEngine  # noqa: E402
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


def run_anew(engine, run):
    """A run in which an engine that remembers the last one knows nothing of it."""
    if isinstance(engine, ReteEngine):
        engine.forget()
    return run()


def one_fact_changed(advisor):
    """The case with another fact in place of one of its own."""
    return advisor.read(CASE, ("pitch.water=drips",))


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

    def strata_of(engine, on):
        return [engine.run(number, on, topics) for number in range(len(base.strata))]

    runs = {engine.name: lambda e=engine: strata_of(e, world) for engine in advisor.engines}
    if len(advisor.engines) > 1:
        second, whole = advisor.engines[1], runs["durable-rules"]
        runs["durable-rules"] = lambda: run_anew(second, whole)
        worlds = itertools.cycle([world, advisor.run(one_fact_changed(advisor))[0].world])
        runs["durable-rules, one fact changed"] = lambda: strata_of(second, next(worlds))
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
