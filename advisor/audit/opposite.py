"""Two rules that conclude the opposite of the same option, or of the same fact, for the same
facts.
"""

from __future__ import annotations

from itertools import combinations

from advisor.audit.bench import at, finding
from advisor.audit.goals import NOT_SURE, SURE, fires

KIND = "opposite"


def check(bench):
    """Prefer against disfavour at one concern; prefer of what is always ruled out; facts concluded
    two ways without an order.
    """
    return _pulls(bench) + _ruled_out(bench) + _facts(bench)


def _effects(bench, kind):
    return [
        (rule, details) for rule in bench.base.rules for k, details in rule.effects if k == kind
    ]


def _same_option(first, second):
    return first["decision"] == second["decision"] and (
        first["variable"] or first["option"] == second["option"]
    )


def _for_option(bench, rule, details, other, other_details):
    """(entities for both rules) with one entity for the option of both."""
    bound = bench.bound(rule)
    shared = {other_details["option"]: bound[details["option"]]} if details["variable"] else {}
    return bound, shared


def _pulls(bench, wanted=True):
    """Prefer against disfavour.

    Settled by the language (then only a note) where the disfavour weighs no less and is the
    exception.
    """
    found = []
    for rule, details in _effects(bench, "prefer"):
        for other, against in _effects(bench, "disfavour"):
            if not _same_option(details, against) or details["concern"] != against["concern"]:
                continue
            bound, shared = _for_option(bench, rule, details, other, against)
            scene = bench.scene(
                [fires(rule, bound, SURE), fires(other, shared, SURE)], bound.values(), rule.id
            )
            if scene and wanted == _unsettled(bench, rule, details, other, against, shared):
                facts = bench.facts(scene, _both(bench, rule, bound, other, shared))
                found.append(
                    finding(KIND if wanted else "note", rule, _words(wanted, details, other), facts)
                )
    return found


def _unsettled(bench, rule, details, other, against, shared) -> bool:
    outweighs = details["strength"] == "should" and against["strength"] == "may"
    return outweighs or bench.firing(rule, fires(other, shared, NOT_SURE)) is None


def _words(wanted, details, other):
    text = (
        f"this rule prefers what {other.id} ({at(other.place)}) disfavours, at the same concern"
        f" ({details['concern']})"
    )
    return (
        f"{text}; let their conditions exclude each other."
        if wanted
        else f"{text}; the disfavour counts first."
    )


def notes(bench):
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
    for rule, details in _effects(bench, "prefer"):
        for other, out in _effects(bench, "rule out"):
            if _same_option(details, out):
                bound, shared = _for_option(bench, rule, details, other, out)
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
            mine, theirs = rule.effects[0][1], other.effects[0][1]
            if (
                mine["value"] == theirs["value"]
                or attribute.ranks[mine["value"]] != attribute.ranks[theirs["value"]]
            ):
                continue
            bound = bench.bound(rule)
            shared = (
                {theirs["var"]: bound[mine["var"]]}
                if mine["var"] in bound and theirs["var"] in dict(other.variables)
                else {}
            )
            scene = bench.scene(
                [fires(rule, bound, SURE), fires(other, shared, SURE)], bound.values(), rule.id
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
