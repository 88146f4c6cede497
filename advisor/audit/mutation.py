"""The mutation test of a rule base: how many small mistakes the worked cases and the generated
situations notice.

A mutant is killed when a generated situation (see coverage) or a worked case gives another
answer. A changed condition is
judged on the rule's own situations, which is exact; a changed effect by the whole answer. A
mutant that no facts can tell
from its original (by exhaustive search) counts as equivalent, not as survived.
"""

from __future__ import annotations

from typing import Any

from advisor.audit.answer import answer, rules_replaced
from advisor.audit.goals import FALSE, SURE, Goal, fires
from advisor.audit.mutants import mutants
from advisor.audit.scene import truth_in
from advisor.model.effects import OnOption, Weigh


def mutation(bench, covered, cases=()) -> dict:
    """{'mutants', 'generated', 'cases', 'equivalent', 'survivors'}; cases: WorkedCase objects (see
    worked.py).
    """
    counts: dict[str, Any] = {
        "mutants": 0,
        "generated": 0,
        "cases": 0,
        "equivalent": 0,
        "survived": 0,
        "survivors": [],
    }
    rivals = _rivals(bench)
    for one in covered:
        scenes, known = _distinct(one.scenes), dict[int, object]()
        for mutant in mutants(bench.base, one.rule):
            counts["mutants"] += 1
            counts[
                _fate(bench, one.rule, mutant, scenes, rivals, cases, known, counts["survivors"])
            ] += 1
    return counts


def _fate(bench, rule, mutant, scenes, rivals, cases, known, survivors):
    """'generated', 'cases' or 'equivalent', or noted as a survivor."""
    if mutant.sort == "condition":
        killed = any(_differs(bench, rule, mutant.rule, s) for s in scenes)
    else:
        near = scenes + rivals.get(rule.id, []) if rule.gives(OnOption) else scenes
        killed = any(_answers_differ(bench, rule, mutant.rule, s, known) for s in near)
    if killed:
        return "generated"
    if any(case.notices(rule, mutant.rule) for case in cases):
        return "cases"
    if (
        _equivalent(bench, rule, mutant.rule)
        if mutant.sort == "condition"
        else _without_rival(rule, mutant, rivals)
    ):
        return "equivalent"
    survivors.append((rule.id, mutant.change))
    return "survived"


def _differs(bench, rule, mutated, scene) -> bool:
    bound = bench.bound(rule)
    return truth_in(bench.space, bench.plain, scene, rule.condition, bound) != truth_in(
        bench.space, bench.plain, scene, mutated.condition, bound
    )


def _answers_differ(bench, rule, mutated, scene, known) -> bool:
    identity = id(scene)
    if identity not in known:
        known[identity] = answer(bench, bench.base, scene, rule.about)
    return (
        answer(bench, rules_replaced(bench.base, rule, mutated), scene, rule.about)
        != known[identity]
    )


def _equivalent(bench, rule, mutated) -> bool:
    """Whether an exhaustive search finds no facts that tell the two apart."""
    bound = bench.bound(rule)
    ways = (
        [(rule.condition, SURE), (mutated.condition, FALSE)],
        [(rule.condition, FALSE), (mutated.condition, SURE)],
    )
    return all(
        bench.scene(
            [Goal(node, bound, want, {}) for node, want in way],
            bound.values(),
        )
        is None
        for way in ways
    )


def _without_rival(rule, mutant, rivals) -> bool:
    """Whether only a weight was changed, and no facts let any other rule for the decision fire
    beside this one.
    """
    return mutant.change.startswith("strength") and rule.gives(Weigh) and rule.id not in rivals


def _distinct(scenes) -> list:
    found: dict[Any, Any] = {}
    for scene in scenes:
        found.setdefault(
            (
                tuple(sorted(scene.values.items())),
                tuple(sorted(scene.named.items())),
                tuple(sorted(scene.kinds.items())),
            ),
            scene,
        )
    return list(found.values())


def _rivals(bench) -> dict:
    """{rule id: scenes in which it and another rule for the same decision both fire}, for what
    weighs against what.
    """
    speaking = [(r, e) for r in bench.base.rules for e in r.gives(OnOption)]
    found: dict[Any, Any] = {}
    for number, (rule, effect) in enumerate(speaking):
        for other, against in speaking[:number]:
            if other is rule or effect.decision != against.decision:
                continue
            scene = _together(bench, rule, effect, other, against)
            for one in (rule, other) if scene else ():
                found.setdefault(one.id, []).append(scene)
    return found


def _together(bench, rule, effect, other, against):
    """Both fire: for one word option or two, or for two entities."""
    bound = bench.bound(rule)
    second = {against.option: bound[effect.option] + "2"} if effect.is_variable else {}
    return bench.scene(
        [fires(rule, bound, SURE), fires(other, second, SURE)],
        (*bound.values(), *second.values()),
    )


def table(counts) -> list:
    """The score and the survivors as lines."""
    killed, real = counts["generated"] + counts["cases"], counts["mutants"] - counts["equivalent"]
    score = 100 * killed / real if real else 100.0
    rows = (
        ("mutants", counts["mutants"]),
        ("killed by a generated situation", counts["generated"]),
        ("killed by a worked case alone", counts["cases"]),
        ("equivalent (exhaustive search)", counts["equivalent"]),
        ("survived", len(counts["survivors"])),
    )
    lines = [
        "Mutation test of the rules:",
        *(f"    {name:<44}{number:>6}" for name, number in rows),
        f"    {'score':<44}{score:6.1f} %",
    ]
    return lines + [f"    survived: {rule}: {change}" for rule, change in counts["survivors"]]
