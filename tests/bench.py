"""Speed and memory, printed as ratios within one run: python tests/bench.py

Nothing here passes or fails; figures depend on the machine, ratios much less.
"""

from __future__ import annotations

import itertools
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from peers import compare, one_fact_changed, run_anew  # noqa: E402

from advisor.advise import Advisor  # noqa: E402
from advisor.engine.plain import PlainEngine  # noqa: E402
from advisor.engine.rete import ReteEngine, available  # noqa: E402
from advisor.facts.vocabulary import Attribute, Entity, Vocabulary  # noqa: E402
from advisor.facts.world import World  # noqa: E402
from advisor.faults import Place  # noqa: E402
from advisor.load.case import read_case  # noqa: E402
from advisor.model.conditions import AllOf, Compare, InValues, SameWord  # noqa: E402
from advisor.model.effects import Stop  # noqa: E402
from advisor.model.ref import Ref  # noqa: E402
from advisor.model.rule import Rule  # noqa: E402
from advisor.model.strata import strata  # noqa: E402
from advisor.start import collect_seldom  # noqa: E402

CASE = ROOT / "cases/plan/arrival-left.yaml"


def rate(work, seconds=1.0) -> float:
    """Runs of work() a second, the best of three spans."""
    best = 0.0
    for _ in range(3):
        count, start = 0, time.perf_counter()
        while time.perf_counter() - start < seconds / 3:
            work()
            count += 1
        best = max(best, count / (time.perf_counter() - start))
    return best


def whole_process(command) -> float:
    """Median seconds of seven whole processes after one warm-up."""
    spans = []
    for _ in range(8):
        start = time.perf_counter()
        subprocess.run(command, stdout=subprocess.DEVNULL, cwd=ROOT, check=False)
        spans.append(time.perf_counter() - start)
    return statistics.median(spans[1:])


def edge_words(things: int) -> tuple[str, ...]:
    """The words of what joins things: one for every five of them."""
    return tuple(f"edge{n}" for n in range(things // 5))


def synthetic(rules=150, things=20, seed=7):
    """A made-up base: 20 things of 3 attributes (60 facts), rules of two or three tests with an
    equality join in every third; a thing has as many partners however many there are.
    """
    import random

    draw = random.Random(seed)
    words, edges = ("red", "green", "blue", "white"), edge_words(things)
    attributes = {
        "colour": Attribute("thing", "colour", "choice", values=words),
        "edge": Attribute("thing", "edge", "choice", values=edges),
    }
    attributes["size"] = Attribute("thing", "size", "number", unit="count", low=0, high=100)
    vocabulary = Vocabulary({"thing": Entity("thing", True, False, "", (), attributes)})
    made = []
    for number in range(rules):
        pair = number % 3 == 0
        nodes = [
            InValues(Ref("a", "thing.colour"), 1 << draw.randrange(4)),
            Compare(Ref("a", "thing.size"), ">=", draw.randrange(30, 95)),
        ]
        if pair:
            nodes += [
                SameWord(
                    Ref("a", "thing.edge"), Ref("b", "thing.edge"), (*range(len(edges)),), True
                ),
                InValues(Ref("b", "thing.colour"), 1 << draw.randrange(4)),
                Compare(Ref("b", "thing.size"), "<", draw.randrange(5, 40)),
            ]
        variables = (("a", "thing"), ("b", "thing")) if pair else (("a", "thing"),)
        made.append(
            Rule(
                f"made.r{number}",
                "",
                "",
                "plan",
                variables,
                AllOf(tuple(nodes)),
                (Stop(""),),
                "",
                (),
                "",
                "",
                "",
                Place("-"),
            )
        )
    ids = [f"thing {n:02d}" for n in range(things)]
    world = World(vocabulary, {"thing": ids})
    for i in ids:
        world.columns["thing.colour"][i], world.columns["thing.edge"][i] = (
            1 << draw.randrange(4),
            1 << draw.randrange(len(edges)),
        )
        size = draw.randrange(101)
        world.columns["thing.size"][i] = (size, size)
    return vocabulary, made, strata(made), world


def clips_engine(rules, world):
    """The synthetic base in another rule engine from PyPI; returns (run, number of firings)."""
    import clips

    words = ("red", "green", "blue", "white")
    edges = edge_words(len(world.kinds["thing"]))
    environment, fired = clips.Environment(), []
    environment.define_function(lambda *a: fired.append(a), name="take")
    environment.build("(deftemplate thing (slot id) (slot colour) (slot edge) (slot size))")
    for rule in rules:
        tests = {"a": ["(id ?a)"], "b": ["(id ?b&~?a)"]}
        for node in rule.condition.children:
            one = node.ref.entity
            if isinstance(node, InValues):
                tests[one].append(f"(colour {words[node.mask.bit_length() - 1]})")
            elif isinstance(node, Compare):
                tests[one].append(f"(size ?{one}s&:({node.op} ?{one}s {node.steps}))")
            else:
                tests["a"].append("(edge ?e)")
                tests["b"].append("(edge ?e)")
        patterns = " ".join(f"(thing {' '.join(tests[v])})" for v, _ in rule.variables)
        name = rule.id.replace(".", "-")
        environment.build(
            f"(defrule {name} {patterns} => (take {name}"
            f" {' '.join('?' + v for v, _ in rule.variables)}))"
        )
    columns = world.columns
    facts = [
        f'(thing (id "{i}") (colour {words[columns["thing.colour"][i].bit_length() - 1]}) (edge'
        f" {edges[columns['thing.edge'][i].bit_length() - 1]}) (size"
        f" {columns['thing.size'][i][0]}))"
        for i in world.kinds["thing"]
    ]

    def run():
        fired.clear()
        environment.reset()
        for fact in facts:
            environment.assert_string(fact)
        environment.run()
        return fired

    return run


def resident() -> float:
    """Resident memory in MB (Linux)."""
    return int(Path("/proc/self/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6


TALK = (
    "14 m shaft, dripping a bit, hangs free, nine of them plus me and a helper",
    "left bolt is a resin bolt on the left, it doesn't move",
    "right bolt is an expansion bolt, a bit loose I think",
    "they come in from the left",
    "where does the ladder go",
    "sorry, 14 not 16",
    "suppose the water is a stream",
    "ladder main is 15 m, tied with a releasable hitch",
    "is it safe to go",
    "undo",
    "foot jammed between the rungs",
)


def conversation(advisor):
    """Print how long a terminal waits for the first prompt, and how long a turn takes."""
    from advisor.chat.session import Session
    from advisor.chat.turn import take

    spans = []
    for _ in range(5):
        session = Session(advisor)
        for line in TALK:
            start = time.perf_counter()
            take(session, line)
            spans.append(time.perf_counter() - start)
    print(
        f"conversation: a turn takes {statistics.median(spans) * 1000:.0f} ms (median),"
        f" {statistics.quantiles(spans, n=20)[-1] * 1000:.0f} ms (p95)"
    )
    try:
        import pexpect
    except ImportError:  # no pseudo-terminals here
        return
    import tempfile

    first = []
    for _ in range(4):
        with tempfile.TemporaryDirectory() as folder:
            start = time.perf_counter()
            child = pexpect.spawn(
                sys.executable,
                ["-m", "advisor", "chat"],
                cwd=str(ROOT),
                env={**os.environ, "TERM": "xterm", "PITCH_ADVISOR_DATA": folder},
                timeout=60,
            )
            child.expect(">")
            first.append(time.perf_counter() - start)
            child.close(force=True)
    print(f"conversation: first prompt after {min(first) * 1000:.0f} ms")


def growth(topics):
    """Print how one evaluation grows with the number of rules and of facts, as ratios to the base
    of 150 rules and 60 facts.
    """

    def milliseconds(rules, things):
        vocabulary, made, order, world = synthetic(rules, things)
        number = next(n for n, (name, _) in enumerate(order) if name == "weigh")
        engines = [PlainEngine(made, order)] + (
            [ReteEngine(made, order, vocabulary)] if available() else []
        )
        return [
            1000 / rate(lambda e=e: run_anew(e, lambda: e.run(number, world, topics)), 0.6)
            for e in engines
        ]

    base = milliseconds(150, 20)
    for times in (2, 5, 10):
        by_rules, by_facts = milliseconds(150 * times, 20), milliseconds(150, 20 * times)
        print(
            f"  {times} x rules: {' and '.join(f'{b / a:.1f} x' for a, b in zip(base, by_rules))}; "
            f" {times} x facts: {' and '.join(f'{b / a:.1f} x' for a, b in zip(base, by_facts))} "
            " (compiled and durable-rules)"
        )


def main():
    """Print every figure."""
    collect_seldom()
    python = sys.executable
    bare = whole_process([python, "-c", "pass"])
    shot = whole_process([python, "-m", "advisor", "advise", str(CASE)])
    print(
        f"one-shot answer, warm cache: {shot / bare:.1f} x python -c pass ({shot * 1000:.0f} ms /"
        f" {bare * 1000:.0f} ms)"
    )
    listing = subprocess.run(
        [
            python,
            "-c",
            (
                "import sys; before = set(sys.modules); import advisor.cli;"
                " advisor.cli.main(['advise', sys.argv[1]]); print(len(sys.modules), 'MODULES',"
                " *sorted({m.split('.')[0] for m in set(sys.modules) - before} -"
                " set(sys.stdlib_module_names)))"
            ),
            str(CASE),
        ],
        capture_output=True,
        text=True,
        cwd=ROOT,
    ).stdout.splitlines()[-1]
    print(f"modules loaded by a one-shot answer: {listing}")

    advisor = Advisor()
    case = read_case(CASE, advisor.base)
    print(f"real rules: {len(advisor.base.rules)} rules, {len(case.facts)} facts")
    rates = {
        engine.name: rate(lambda e=engine: run_anew(e, lambda: advisor.run(case, [e])))
        for engine in advisor.engines
    }
    for name, value in rates.items():
        print(
            f"  {name}: {value:.0f} evaluations a second ({value / rates['compiled']:.2f} x"
            " compiled)"
        )
    cases = itertools.cycle([case, one_fact_changed(advisor)])  # as in a talk
    whole = 1000 / rate(lambda: advisor.advise(next(cases)))
    print(f"  both engines, whole advice, one fact changed each time: {whole:.1f} ms")

    conversation(advisor)

    vocabulary, rules, order, world = synthetic()
    topics = frozenset({"plan"})
    engines = [PlainEngine(rules, order)] + (
        [ReteEngine(rules, order, vocabulary)] if available() else []
    )
    found = {}
    weigh = next(n for n, (name, _) in enumerate(order) if name == "weigh")
    for engine in engines:
        found[engine.name] = (
            rate(lambda e=engine: run_anew(e, lambda: e.run(weigh, world, topics))),
            len(engine.run(weigh, world, topics)),
        )
    run = clips_engine(rules, world)
    found["clipspy"] = (rate(run), len(run()))
    print("synthetic base: 150 rules, 60 facts")
    for name, (value, fired) in found.items():
        print(
            f"  {name}: {value:.0f} evaluations a second ({value / found['compiled'][0]:.3f} x"
            f" compiled), {fired} firings"
        )

    compare()
    growth(topics)
    if Path("/proc/self/statm").exists():
        for _ in range(300):
            advisor.run(case)
        before, start = resident(), time.perf_counter()
        for _ in range(10_000):
            advisor.run(case)
        print(
            f"memory over 10,000 evaluations, both engines: {resident() - before:+.1f} MB (from"
            f" {before:.0f} MB, {time.perf_counter() - start:.0f} s)"
        )


if __name__ == "__main__":
    main()
