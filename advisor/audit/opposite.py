"""Two rules that conclude the opposite of the same option, or of the same fact, for the same
facts.
"""

from __future__ import annotations

from itertools import combinations

from advisor.audit.bench import at, finding
from advisor.audit.goals import NOT_SURE, SURE, fires
from advisor.model.effects import Disfavour, Prefer, RuleOut

KIND = "opposite"


def contradictions(bench):
    """Prefer against disfavour at one concern; prefer of what is always ruled out; facts concluded
    two ways without an order.
    """
    return _pulls(bench) + _ruled_out(bench) + _facts(bench)


def _effects(bench, form):
    return [(rule, effect) for rule in bench.base.rules for effect in rule.gives(form)]


def _same_option(first, second):
    return first.decision == second.decision and (
        first.is_variable or first.option == second.option
    )


def _for_option(bench, rule, effect, other_effect):
    """(entities for both rules) with one entity for the option of both."""
    bound = bench.bound(rule)
    shared = {other_effect.option: bound[effect.option]} if effect.is_variable else {}
    return bound, shared


def _pulls(bench, wanted=True):
    """Prefer against disfavour.

    Settled by the language (then only a note) where the disfavour weighs no less and is the
    exception.
    """
    found = []
    for rule, effect in _effects(bench, Prefer):
        for other, against in _effects(bench, Disfavour):
            if not _same_option(effect, against) or effect.concern != against.concern:
                continue
            bound, shared = _for_option(bench, rule, effect, against)
            scene = bench.scene(
                [fires(rule, bound, SURE), fires(other, shared, SURE)], bound.values()
            )
            if scene and wanted == _unsettled(bench, rule, effect, other, against, shared):
                facts = bench.facts(scene, _both(bench, rule, bound, other, shared))
                found.append(
                    finding(KIND if wanted else "note", rule, _words(wanted, effect, other), facts)
                )
    return found


def _unsettled(bench, rule, effect, other, against, shared) -> bool:
    outweighs = effect.strength == "should" and against.strength == "may"
    return outweighs or bench.firing(rule, fires(other, shared, NOT_SURE)) is None


def _words(wanted, effect, other):
    text = (
        f"this rule prefers what {other.id} ({at(other.place)}) disfavours, at the same concern"
        f" ({effect.concern})"
    )
    return (
        f"{text}; let their conditions exclude each other."
        if wanted
        else f"{text}; the disfavour counts first."
    )


def settled_by_precedence(bench):
    """Prefer against disfavour where the language's own precedence settles it."""
    return _pulls(bench, wanted=False)


def _both(bench, rule, bound, other, shared):
    """A test whether both rules hold in a scene, the other for some entities."""
    node = fires(other, shared, SURE).condition

    def shows(scene):
        there = {e for ids in scene.kinds.values() for e in ids}
        if not there >= set(bound.values()):
            return False
        from advisor.audit.scene import truth_in

        return (
            bench.truth(rule, scene, bound) == 2
            and truth_in(bench.space, bench.plain, scene, node, shared) == 2
        )

    return shows


def _ruled_out(bench):
    found = []
    for rule, effect in _effects(bench, Prefer):
        for other, out in _effects(bench, RuleOut):
            if _same_option(effect, out):
                bound, shared = _for_option(bench, rule, effect, out)
                if bench.firing(rule, fires(other, shared, NOT_SURE)) is None and bench.firing(
                    rule
                ):
                    facts = bench.facts(bench.firing(rule), bench.holds(rule))
                    found.append(
                        finding(
                            KIND,
                            rule,
                            f"this rule prefers only what {other.id} ({at(other.place)}) rules out;"
                            " change one of them.",
                            facts,
                        )
                    )
    return found


def _facts(bench):
    found = []
    for key, rules in bench.space.concluding.items():
        attribute = bench.space.vocabulary.attribute(key)
        for rule, other in combinations(rules, 2):
            mine, theirs = rule.conclusion, other.conclusion
            if (
                mine.value == theirs.value
                or attribute.ranks[mine.value] != attribute.ranks[theirs.value]
            ):
                continue
            bound = bench.bound(rule)
            shared = (
                {theirs.ref.entity: bound[mine.ref.entity]}
                if mine.ref.entity in bound and theirs.ref.entity in dict(other.variables)
                else {}
            )
            scene = bench.scene(
                [fires(rule, bound, SURE), fires(other, shared, SURE)], bound.values()
            )
            if scene:
                facts = bench.facts(scene, _both(bench, rule, bound, other, shared))
                found.append(
                    finding(
                        KIND,
                        rule,
                        f"this rule and {other.id} ({at(other.place)}) give {key} two values that"
                        " are equally cautious, so neither stands; order them.",
                        facts,
                    )
                )
    return found
