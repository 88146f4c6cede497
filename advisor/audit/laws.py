"""The laws of caution, asked of every stop, requirement, warning, referral and verdict.

Worse never relaxes: no worse value of a stated fact turns the effect off while nothing else gives
it (a referral: while no stop
takes its place; see referral.py).
Leaving out never permits: no effect that every value of a fact gives is lost when the fact is
left out.
Rules that look at what a decision came to are exempt: another choice has other needs.
"""

from __future__ import annotations

from advisor.audit.bench import finding, looks_at_choice
from advisor.audit.effects import GRAVE, same_entities
from advisor.audit.goals import NOT_SURE, SURE, either, fires
from advisor.audit.leaves import leaves
from advisor.audit.referral import nothing_graver, other_end, rests_on, stops
from advisor.audit.scene import words
from advisor.audit.space import truth_of
from advisor.decide.verdicts import LOOK_AGAIN, VERDICTS
from advisor.facts.world import UNKNOWN
from advisor.knowledge.rule import references, walk

WORSE, LEFT_OUT = "worse relaxes", "leaving out permits"


def check(bench):
    """Findings for both laws, one of each for a rule; rules that break a law on the same facts are
    told together.
    """
    found, asked = {}, set()
    for rule in bench.base.rules:
        grave = [
            e for e in rule.effects if e[0] in GRAVE and e[1].get("give") != "keep"
        ]  # keeping rightly needs the good values
        if grave and not looks_at_choice(rule):
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
                    cell[1],
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
        _wrong_way(bench, node, positive, cell[1])
        for _, node, positive in leaves(rule.condition)
        if node[0] not in ("chosen", "is") and rests_on(bench.space, node, cell[1])
    )


def _wrong_way(bench, node, positive, key) -> bool:
    """Whether a condition speaks for the better end of what it looks at."""
    attribute = bench.space.vocabulary.attribute(node[2])
    if node[0] == "num" and attribute.worse:
        return node[3] in ("==", "!=") or (node[3] in (">", ">=")) != (
            (attribute.worse == "more") == positive
        )
    if node[0] == "cmp" and key in (node[2], node[5]) and node[3] not in ("==", "!="):
        asked = bench.space.vocabulary.attribute(key)
        return bool(asked.worse) and ((node[3] in (">", ">=")) == (key == node[2])) != (
            (asked.worse == "more") == positive
        )
    if node[0] == "in" and attribute.ranks:
        yes = [rank for i, rank in enumerate(attribute.ranks) if node[3] >> i & 1]
        no = [rank for i, rank in enumerate(attribute.ranks) if not node[3] >> i & 1]
        return bool(yes and no) and (max(no) > min(yes) if positive else max(yes) > min(no))
    return node[0] in ("cmp", "same")


def may_permit(bench, rule, cell, grave) -> bool:
    """Whether several conditions on one fact could between them cover all its values."""
    entity, key = cell
    same = {
        r.id
        for effect in grave
        for r, _ in bench.same_effect(rule, effect)
        if key in {k for _, k in references(r.condition)}
    }
    direct = [k for _, k in references(rule.condition)].count(key)
    if any(node[0] == "state" and node[2] == key for node in walk(rule.condition)):
        return True
    return direct > 1 or direct == 1 and len(same) > 1


def cells(bench, rule):
    """The stated facts a rule rests on as (entity, key), also those behind what other rules
    conclude, each once.
    """
    kinds, found = dict(rule.variables), {}
    for node in walk(rule.condition):
        if node[0] == "some":
            kinds[node[2]] = node[3]
    names = {variable: f"{kind} {variable}" for variable, kind in kinds.items()}
    for node in walk(rule.condition):
        for variable, key in _looked(node):
            _behind(bench, names.get(variable, variable), key, found, {node})
    return [cell for cell in found if bench.space.vocabulary.attribute(cell[1]).type != "named"]


def _looked(node):
    if node[0] in ("in", "num", "state"):
        return [(node[1], node[2])]
    return (
        [(node[1], node[2]), (node[4], node[5])]
        if node[0] == "cmp"
        else [(node[1], node[2]), (node[3], node[4])]
        if node[0] == "same"
        else []
    )


def _behind(bench, entity, key, found, seen):
    if not bench.space.vocabulary.attribute(key).derived:
        found.setdefault((entity, key))
        return
    for rule in bench.space.concluding.get(key, ()):
        variable = rule.effects[0][1]["var"]
        for node in walk(rule.condition):
            for inner, inner_key in _looked(node):
                if node not in seen and (inner == variable or inner not in dict(rule.variables)):
                    _behind(
                        bench,
                        entity if inner == variable else inner,
                        inner_key,
                        found,
                        seen | {node},
                    )


def others(bench, rule, effect, bound, want, held, looking_at=None):
    """Goals for every rule (this one too) that gives the same effect; only those that look at one
    fact, where it is named.
    """
    for other, other_effect in bench.same_effect(rule, effect):
        if looking_at and looking_at not in {key for _, key in references(other.condition)}:
            continue
        yield fires(other, same_entities(rule, effect, other, other_effect, bound), want, held)


def _worse(bench, rule, effect, cell):
    """The smallest facts on which a worse value of one fact turns the effect off."""
    attribute, bound = bench.space.vocabulary.attribute(cell[1]), bench.bound(rule)
    if other_end(bench, rule, effect, cell[1]):
        return None
    for better, worse in steps_down(bench.space, attribute, rule):
        before, after = {cell: better}, {cell: worse}
        goals = [
            fires(rule, bound, SURE, before),
            *others(bench, rule, effect, bound, NOT_SURE, after),
            *nothing_graver(bench, rule, effect, cell[1], after),
        ]
        scene = bench.scene(
            goals, names_for(bound, cell, attribute), f"{rule.id} ({WORSE}, {cell[1]})"
        )
        if scene:
            lost = _loses(bench, rule, effect, cell, better, worse)
            facts = bench.facts(stated(scene, cell, better), lambda s: lost(s))
            text = (
                f"a worse {cell[1]} ({words(attribute, better)} -> {words(attribute, worse)}) turns"
                f" this {effect[0]} off and no other rule gives it; make the condition upward"
                " closed."
            )
            return finding(WORSE, rule, text, facts)
    return None


def names_for(bound, cell, attribute):
    """The entities to start from: the rule's own and the one whose fact is held."""
    return tuple(
        dict.fromkeys([*bound.values(), *([cell[0]] if cell[0] != attribute.entity else [])])
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
                _fires_somewhere(bench, stop, after) for stop in stops(bench, rule, effect, cell[1])
            )
        )

    return shows


def _fires_somewhere(bench, rule, scene) -> bool:
    """Whether a rule surely fires for any entities of a scene."""
    from advisor.engine.truth import judge

    return judge(fires(rule, {})[0], {}, scene.world(bench.space, bench.plain))[0] == 2


def _given(bench, rule, effect, scene) -> bool:
    """Whether any rule surely gives the effect in a scene."""
    from advisor.engine.truth import judge

    world = scene.world(bench.space, bench.plain)
    return any(
        judge(node, bound, world)[0] == 2
        for node, bound, _, _ in others(bench, rule, effect, bench.bound(rule), SURE, {})
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
    nodes = list(walk(rule.condition))
    if any(n[0] in ("cmp", "same") or n[0] == "in" and space.concluded(n[2]) for n in nodes):
        return False
    return all(
        truth_of(n, first) == truth_of(n, second)
        for n in nodes
        if n[0] in ("in", "num", "state") and n[2] == key
    )


def _left_out(bench, rule, effect, cell):
    """The smallest facts on which every value of one fact gives the effect and leaving it out does
    not.
    """
    if effect[1].get("give") in VERDICTS[: LOOK_AGAIN + 1]:
        return None  # an item with something open is looked at again, which is no milder
    attribute, bound = bench.space.vocabulary.attribute(cell[1]), bench.bound(rule)
    goals = [
        either(others(bench, rule, effect, bound, SURE, {cell: value}, cell[1]))
        for value in bench.space.known(cell[1])
    ]
    goals += list(
        others(bench, rule, effect, bound, NOT_SURE, {cell: (UNKNOWN, attribute.everything)})
    )
    scene = bench.scene(
        goals, names_for(bound, cell, attribute), f"{rule.id} ({LEFT_OUT}, {cell[1]})"
    )
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
                for v in bench.space.known(cell[1])
            )
        )

    if not shows(scene):
        bench.undecided.append(
            f"{rule.id} ({LEFT_OUT}, {cell[1]})"
        )  # the search and the engine differ
        return None
    text = (
        f"every {cell[1]} gives this {effect[0]}, but leaving it out does not; write one rule for"
        " all its values."
    )
    return finding(
        LEFT_OUT, rule, text, (*bench.facts(scene, shows), f"{cell[0]}.{attribute.name} = unknown")
    )
