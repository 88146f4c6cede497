"""The laws of caution, asked of every stop, requirement, warning, referral and verdict.

Worse never relaxes: no worse value of a stated fact turns the effect off while nothing else gives
it (a referral: while no stop
takes its place; see referral.py).
Leaving out never permits: no effect that every value of a fact gives is lost when the fact is
left out.
Rules that look at what a decision came to are exempt: another choice has other needs.
"""

from __future__ import annotations

from advisor.audit.bench import finding
from advisor.audit.effects import GRAVE, same_entities
from advisor.audit.goals import NOT_SURE, SURE, either, fires
from advisor.audit.leaves import leaves
from advisor.audit.referral import nothing_graver, other_end, rests_on, stops
from advisor.audit.scene import words
from advisor.audit.space import keys_of, truth_of
from advisor.decide.verdicts import LOOK_AGAIN, VERDICTS
from advisor.facts.world import UNKNOWN
from advisor.model.conditions import (
    Chosen,
    Compare,
    CompareRefs,
    InValues,
    OneFact,
    PointsAt,
    Some,
    State,
    TwoFacts,
    looks_at_choice,
)

WORSE, LEFT_OUT = "worse relaxes", "leaving out permits"
EQUAL = ("==", "!=")


def broken_laws(bench):
    """Findings for both laws, one of each for a rule; rules that break a law on the same facts are
    told together.
    """
    found, asked = {}, set()
    for rule in bench.base.rules:
        grave = [
            e for e in rule.gives(*GRAVE) if getattr(e, "give", "") != "keep"
        ]  # keeping rightly needs the good values
        if grave and not looks_at_choice(rule.condition):
            for breach in _breaches(bench, rule, grave, asked):
                found.setdefault((breach.kind, breach.facts), []).append(breach)
    return [_together(group) for group in found.values()]


def _breaches(bench, rule, grave, asked):
    """At most one breach of each law; a group of rules with one effect is asked once
    about a fact.
    """
    for law, applies in ((_worse, may_relax), (_left_out, may_permit)):
        found = None
        for cell in cells(bench, rule):
            for effect in grave if applies(bench, rule, cell, grave) else ():
                question = (
                    law,
                    frozenset(r.id for r, _ in bench.same_effect(rule, effect)),
                    cell.key,
                    rule.id if law is _worse else "",
                )
                found = found or (law(bench, rule, effect, cell) if question not in asked else None)
                asked.add(question)
            if found:
                yield found
                break


def _together(group):
    first = group[0]
    more = ", ".join(f.rule for f in group[1:])
    return (
        first._replace(message=first.message + f" The same facts show it of {more}.")
        if more
        else first
    )


def may_relax(bench, rule, cell, grave) -> bool:
    """Whether some condition speaks for a better value: all others are upward closed, so worse
    cannot turn the effect off.
    """
    return any(
        _wrong_way(bench, node, positive, cell.key)
        for _, node, positive in leaves(rule.condition)
        if not isinstance(node, (Chosen, PointsAt)) and rests_on(bench.space, node, cell.key)
    )


def _wrong_way(bench, node, positive, key) -> bool:
    """Whether a condition speaks for the better end of what it looks at."""
    attribute = bench.space.vocabulary.attribute(node.ref.key)
    match node:
        case Compare() if attribute.worse:
            return node.op in EQUAL or (node.op in (">", ">=")) != (
                (attribute.worse == "more") == positive
            )
        case CompareRefs() if key in (node.ref.key, node.other.key) and node.op not in EQUAL:
            asked = bench.space.vocabulary.attribute(key)
            return bool(asked.worse) and ((node.op in (">", ">=")) == (key == node.ref.key)) != (
                (asked.worse == "more") == positive
            )
        case InValues() if attribute.ranks:
            yes = [rank for i, rank in enumerate(attribute.ranks) if node.mask >> i & 1]
            no = [rank for i, rank in enumerate(attribute.ranks) if not node.mask >> i & 1]
            return bool(yes and no) and (max(no) > min(yes) if positive else max(yes) > min(no))
    return isinstance(node, TwoFacts)


def may_permit(bench, rule, cell, grave) -> bool:
    """Whether several conditions on one fact could between them cover all its values."""
    key = cell.key
    same = {
        r.id
        for effect in grave
        for r, _ in bench.same_effect(rule, effect)
        if key in keys_of(r.condition)
    }
    direct = [ref.key for ref in rule.condition.references()].count(key)
    if any(isinstance(node, State) and node.ref.key == key for node in rule.condition.walk()):
        return True
    return direct > 1 or direct == 1 and len(same) > 1


def cells(bench, rule):
    """The stated facts a rule rests on as Refs, also those behind what other rules
    conclude, each once.
    """
    kinds, found = dict(rule.variables), {}
    for node in rule.condition.walk():
        if isinstance(node, Some):
            kinds[node.variable] = node.kind
    names = {variable: f"{kind} {variable}" for variable, kind in kinds.items()}
    for node in rule.condition.walk():
        for ref in _looked(node):
            _behind(bench, ref.at(names), found, {node})
    return [cell for cell in found if bench.space.vocabulary.attribute(cell.key).type != "named"]


def _looked(node):
    return node.own if isinstance(node, (OneFact, TwoFacts)) else ()


def _behind(bench, cell, found, seen):
    if not bench.space.vocabulary.attribute(cell.key).derived:
        found.setdefault(cell)
        return
    for rule in bench.space.concluding.get(cell.key, ()):
        variable = rule.conclusion.ref.entity
        for node in rule.condition.walk():
            for inner in _looked(node):
                if node not in seen and (
                    inner.entity == variable or inner.entity not in dict(rule.variables)
                ):
                    _behind(bench, inner.at({variable: cell.entity}), found, seen | {node})


def others(bench, rule, effect, bound, want, held, looking_at=None):
    """Goals for every rule (this one too) that gives the same effect; only those that look at one
    fact, where it is named.
    """
    for other, other_effect in bench.same_effect(rule, effect):
        if looking_at and looking_at not in keys_of(other.condition):
            continue
        yield fires(other, same_entities(rule, effect, other, other_effect, bound), want, held)


def _worse(bench, rule, effect, cell):
    """The smallest facts on which a worse value of one fact turns the effect off."""
    attribute, bound = bench.space.vocabulary.attribute(cell.key), bench.bound(rule)
    if other_end(bench, rule, effect, cell.key):
        return None
    for better, worse in steps_down(bench.space, attribute, rule):
        before, after = {cell: better}, {cell: worse}
        goals = [
            fires(rule, bound, SURE, before),
            *others(bench, rule, effect, bound, NOT_SURE, after),
            *nothing_graver(bench, rule, effect, cell.key, after),
        ]
        scene = bench.scene(goals, names_for(bound, cell, attribute))
        if scene:
            lost = _loses(bench, rule, effect, cell, better, worse)
            facts = bench.facts(stated(scene, cell, better), lambda s: lost(s))
            text = (
                f"a worse {cell.key} ({words(attribute, better)} -> {words(attribute, worse)})"
                f" turns this {effect.kind} off and no other rule gives it; make the condition"
                " upward closed."
            )
            return finding(WORSE, rule, text, facts)
    return None


def names_for(bound, cell, attribute):
    """The entities to start from: the rule's own and the one whose fact is held."""
    return tuple(
        dict.fromkeys(
            [*bound.values(), *([cell.entity] if cell.entity != attribute.entity else [])]
        )
    )


def stated(scene, cell, value):
    """The scene with one fact stated (or left out)."""
    new = scene.without(cell)
    if value[0] != UNKNOWN:
        new.values[cell] = value
    return new


def _loses(bench, rule, effect, cell, better, worse):
    """A test whether a scene shows the loss."""

    def shows(scene):
        if (
            not set(bench.bound(rule).values()) <= {e for ids in scene.kinds.values() for e in ids}
            or cell not in scene.values
        ):
            return False
        after = stated(scene, cell, worse)
        return (
            bench.truth(rule, scene) == 2
            and not _given(bench, rule, effect, after)
            and not any(
                _fires_somewhere(bench, stop, after)
                for stop in stops(bench, rule, effect, cell.key)
            )
        )

    return shows


def _fires_somewhere(bench, rule, scene) -> bool:
    """Whether a rule surely fires for any entities of a scene."""
    from advisor.engine.truth import truth_alone

    return truth_alone(fires(rule, {}).condition, {}, scene.world(bench.space, bench.plain)) == 2


def _given(bench, rule, effect, scene) -> bool:
    """Whether any rule surely gives the effect in a scene."""
    from advisor.engine.truth import truth_alone

    world = scene.world(bench.space, bench.plain)
    return any(
        truth_alone(goal.condition, goal.bound, world) == 2
        for goal in others(bench, rule, effect, bench.bound(rule), SURE, {})
    )


def steps_down(space, attribute, rule) -> list:
    """(better, next worse) pairs of known values that the rule base tells apart; none where
    caution has no direction.
    """
    known = space.known(attribute.key)
    pairs = []
    if attribute.is_choice and attribute.ranks:
        pairs = [
            (known[i], known[j])
            for i, a in enumerate(attribute.ranks)
            for j, b in enumerate(attribute.ranks)
            if b == a + 1
        ]
    elif attribute.is_number and attribute.worse:
        order = known if attribute.worse == "more" else tuple(reversed(known))
        pairs = list(zip(order, order[1:]))
    return [(a, b) for a, b in pairs if not _alike(space, rule, attribute.key, a, b)]


def _alike(space, rule, key, first, second) -> bool:
    """Whether the rule's conditions cannot tell two values apart."""
    nodes = list(rule.condition.walk())
    if any(
        isinstance(n, TwoFacts) or isinstance(n, InValues) and space.concluded(n.ref.key)
        for n in nodes
    ):
        return False
    return all(
        truth_of(n, first) == truth_of(n, second)
        for n in nodes
        if isinstance(n, OneFact) and n.ref.key == key
    )


def _left_out(bench, rule, effect, cell):
    """The smallest facts on which every value of one fact gives the effect and leaving it out does
    not.
    """
    if getattr(effect, "give", "") in VERDICTS[: LOOK_AGAIN + 1]:
        return None  # an item with something open is looked at again, which is no milder
    attribute, bound = bench.space.vocabulary.attribute(cell.key), bench.bound(rule)
    goals = [
        either(others(bench, rule, effect, bound, SURE, {cell: value}, cell.key))
        for value in bench.space.known(cell.key)
    ]
    goals += list(
        others(bench, rule, effect, bound, NOT_SURE, {cell: (UNKNOWN, attribute.everything)})
    )
    scene = bench.scene(goals, names_for(bound, cell, attribute))
    if not scene:
        return None
    scene = scene.without(cell)

    def shows(less):
        there = set(bound.values()) <= {e for ids in less.kinds.values() for e in ids}
        return (
            there
            and not _given(bench, rule, effect, less)
            and all(
                _given(bench, rule, effect, stated(less, cell, v))
                for v in bench.space.known(cell.key)
            )
        )

    if not shows(scene):
        bench.undecided.append(
            f"{rule.id} ({LEFT_OUT}, {cell.key})"
        )  # the search and the engine differ
        return None
    text = (
        f"every {cell.key} gives this {effect.kind}, but leaving it out does not; write one rule"
        " for all its values."
    )
    return finding(
        LEFT_OUT,
        rule,
        text,
        (*bench.facts(scene, shows), f"{cell.entity}.{attribute.name} = unknown"),
    )
