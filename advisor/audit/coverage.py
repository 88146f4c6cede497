"""How far generated situations exercise the rules: every rule fired and blocked, every simple
condition shown to decide alone.

For a simple condition two situations are wanted: one in which the rule fires only because of it,
and one in which the rule
does not fire only because of it (modified condition/decision coverage; 'unique' where the two
differ in that fact alone).
"""

from __future__ import annotations

from typing import NamedTuple

from msgspec.structs import replace

from advisor.audit.goals import FALSE, NOT_FALSE, SURE, Goal
from advisor.audit.leaves import leaves, replaced, told
from advisor.audit.scene import truth_in
from advisor.model.conditions import ALWAYS, NEVER, Compare, CompareRefs, OneFact
from advisor.model.rule import Rule

TWIN = {">=": ">", ">": ">=", "<=": "<", "<": "<="}


class Covered(NamedTuple):
    """One rule: situations in which it fires and is blocked, the pairs that show each condition,
    the conditions not shown,
    and situations just at a figure or where two numbers are equal, as far as the others do not
    show what holds there.

    `blocked` is None when no values of its facts keep the rule from firing.
    """

    rule: Rule
    fired: object
    blocked: object
    pairs: tuple  # (path, scene in which it decides for, scene in which it decides against, unique)
    missing: tuple  # conditions told, that no facts make decide alone
    edges: tuple = ()

    @property
    def scenes(self) -> list:
        return [
            s
            for s in (
                self.fired,
                self.blocked,
                *(s for _, a, b, _ in self.pairs for s in (a, b)),
                *self.edges,
            )
            if s
        ]


def cover(bench, rule) -> Covered:
    """Search the situations of one rule."""
    bound = bench.bound(rule)
    fired = bench.firing(rule)
    blocked = bench.scene([Goal(rule.condition, bound, FALSE, {})], bound.values())
    pairs, missing = [], []
    for path, leaf, positive in leaves(rule.condition):
        pair = _pair(bench, rule, bound, path, leaf, positive)
        if not (pair[0] and pair[1]):
            missing.append(told(bench.space, rule, leaf))
        else:
            pairs.append((path, *pair))
    covered = Covered(rule, fired, blocked, tuple(pairs), tuple(missing))
    return covered._replace(edges=tuple(_edges(bench, rule, bound, covered.scenes)))


def _edges(bench, rule, bound, scenes):
    """A situation for each comparison that tells 'at least' from 'above', where none of the
    situations so far does.
    """
    for path, leaf, _ in leaves(rule.condition):
        if isinstance(leaf, (Compare, CompareRefs)) and leaf.op in TWIN:
            twin = replaced(rule.condition, path, replace(leaf, op=TWIN[leaf.op]))
            if not any(
                truth_in(bench.space, bench.plain, s, rule.condition, bound)
                != truth_in(bench.space, bench.plain, s, twin, bound)
                for s in scenes
            ):
                yield _meet(bench, rule, bound, rule.condition, twin) or _meet(
                    bench, rule, bound, twin, rule.condition
                )


def _pair(bench, rule, bound, path, leaf, positive):
    """(deciding for, deciding against, whether they differ in its fact alone)."""
    on, off = (ALWAYS, NEVER) if positive else (NEVER, ALWAYS)
    for_it, against = replaced(rule.condition, path, on), replaced(rule.condition, path, off)
    first = _meet(bench, rule, bound, rule.condition, against)
    if not first:
        return first, None, False
    near = _beside(bench, rule, bound, first, leaf, for_it)
    return first, near or _meet(bench, rule, bound, for_it, rule.condition), bool(near)


def _meet(bench, rule, bound, holding, failing):
    """Facts on which one condition holds and another fails; where a rule asks what is known, 'may
    hold' will do.
    """
    for want in (SURE, NOT_FALSE):
        scene = bench.scene(
            [Goal(holding, bound, want, {}), Goal(failing, bound, FALSE, {})],
            bound.values(),
        )
        if scene is not None:
            return scene
    return None


def _beside(bench, rule, bound, scene, leaf, for_it):
    """A scene that differs in the leaf's own fact alone, the nearest first, in which that fact
    keeps the rule from firing.
    """
    if not isinstance(leaf, OneFact):
        return None
    for (entity, key), value in scene.values.items():
        if key != leaf.ref.key:
            continue
        known = bench.space.values(key)
        place = known.index(value)
        for other in sorted(known, key=lambda v: abs(known.index(v) - place)):
            new = scene.copy()
            new.values[entity, key] = other
            if (
                other != value
                and truth_in(bench.space, bench.plain, new, rule.condition, bound) == 0
                and truth_in(bench.space, bench.plain, new, for_it, bound) == 2
            ):
                return new
    return None


def coverage(bench) -> dict:
    """{'rules', 'fired', 'blocked', 'conditions', 'shown', 'unique', 'missing', 'covered'} over
    all rules.
    """
    covered = [cover(bench, rule) for rule in bench.base.rules]
    missing = [(c.rule.id, condition) for c in covered for condition in c.missing]
    return {
        "rules": len(covered),
        "fired": sum(c.fired is not None for c in covered),
        "blocked": sum(bool(c.blocked) for c in covered),
        "always": [c.rule.id for c in covered if c.blocked is None],
        "conditions": sum(len(c.pairs) + len(c.missing) for c in covered),
        "shown": sum(len(c.pairs) for c in covered),
        "unique": sum(unique for c in covered for *_, unique in c.pairs),
        "missing": missing,
        "covered": covered,
    }


def table(figures) -> list:
    """The figures as lines."""
    rules, conditions = figures["rules"], figures["conditions"]

    def row(name, part, whole):
        return f"    {name:<44}{part:>6} of {whole:<6}{100 * part / whole if whole else 100:6.1f} %"

    lines = [
        "Coverage by generated situations:",
        row("rules fired", figures["fired"], rules),
        row("rules blocked", figures["blocked"], rules),
        row("conditions that decide alone", figures["shown"], conditions),
        row("  of these by a change in their fact alone", figures["unique"], conditions),
    ]
    lines += [f"    always fires, whatever is known: {rule}" for rule in figures["always"]]
    return lines + [
        f"    not shown: {rule}: {condition}: no facts make it decide alone"
        for rule, condition in figures["missing"]
    ]
