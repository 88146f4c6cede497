"""Why: every leaf of every tree is a stated fact, a source, an absence or a calculation's figure;
levels; names.
"""

import re

import pytest
from depth import not_quick, some_numbers
from small_base import advised, program, ran, shipped

from advisor.decide.names import id_name, source_name
from advisor.explain.find_out import find_out
from advisor.explain.how_sure import how_sure
from advisor.explain.what_would import what_would
from advisor.explain.why_not import why_not
from advisor.faults import Faults
from advisor.reasons.find import find
from advisor.reasons.tree import Tree
from advisor.reasons.why import LEAVES, Reasons, leaves, why


def nodes(reason):
    yield reason
    for child in reason.children:
        yield from nodes(child)


def test_all_that_stands_below_a_reason_is_found():
    """By following each fact in turn, whichever place it has in its rule."""
    tree = Tree(program().base, advised(0))

    def below(applied):
        found = {applied.id}
        for fact in applied.facts:
            for one in fact.below:
                found |= below(one)
        return found

    found = [(one.id, below(one)) for one in tree]
    assert max(len(ids) for _, ids in found) > 2
    for identity, ids in found:
        assert {one.id for one in tree.under((identity,))} == ids


@not_quick
@some_numbers
def test_every_leaf_of_every_reason(number):
    base, advice = program().base, advised(number)
    teller = Reasons(base, advice)
    sources = {source_name(base, s) for s in base.sources}
    stated = {f"{id_name(base, f.id)}: {f.value}" for f in advice.facts if not f.concluded}
    for derivation in advice.derivations:
        for leaf in leaves(teller.of(derivation.id)):
            assert leaf.kind in LEAVES and leaf.text.strip()
            if leaf.kind == "source":
                assert leaf.text.rpartition(" (")[0] in sources
            elif leaf.kind == "fact":
                assert (
                    leaf.text.partition(", said in the ")[0].removesuffix(" (doubtful)") in stated
                )
            elif leaf.kind == "figure":
                assert (
                    "trade figure: " in leaf.text
                    or "fixed by the method" in leaf.text
                    or "no such part" in leaf.text
                )


@some_numbers
def test_every_rule_and_calculation_shows_its_source(number):
    teller = Reasons(program().base, advised(number))
    for derivation in advised(number).derivations:
        for node in nodes(teller.of(derivation.id)):
            assert not re.search(r"\{[a-z]", node.text)  # a rule's {a} and {a.height} are filled in
            if (
                node.kind == "rule"
                or node.kind == "calculation"
                and "could not be worked out" not in node.text
            ):
                assert any(child.kind == "source" for child in node.children), node.text


@not_quick
@some_numbers
def test_whatever_the_advice_names_can_be_asked_why(number):
    base, advice = program().base, advised(number)
    names = [
        *advice.decisions,
        *(i.item for i in advice.items),
        *(f.id for f in advice.facts),
    ]
    names += [
        item.rule
        for item in (
            *advice.stops,
            *advice.requirements,
            *advice.warnings,
            *advice.refer,
            *advice.hazards,
        )
    ]
    names += [line.rule for line in (advice.response.lines if advice.response else ())]
    names += [c.title for c in advice.calculations]
    assert not [n for n in names if not find(base, advice, n)]


def depth(line):
    return (len(line) - len(line.lstrip())) // 2


def test_levels_open_the_same_tree_further_and_further():
    advice = advised(number_of("One bolt"))
    whole = why(program().base, advice, "go")
    deepest = max(map(depth, whole))
    assert deepest >= 4
    for levels in range(deepest + 2):
        assert why(program().base, advice, "go", levels) == [
            line for line in whole if depth(line) <= levels
        ]


def number_of(title):
    return next(
        n for n, c in enumerate(shipped()) if title in c.title or title.lower() in c.title.lower()
    )


def test_absences_are_told_in_words():
    lines = why(program().base, advised(number_of("One bolt")), "lifeline-anchor.two-sound")
    assert any(
        line.strip().startswith("- there are fewer than 2 anchors such that") for line in lines
    )


def test_a_name_that_nothing_has_is_answered_with_the_nearest():
    with pytest.raises(Faults) as error:
        why(program().base, advised(number_of("arriving from the left")), "tethr")
    assert "Did you mean 'tether'" in str(error.value)


@not_quick
def test_options_are_told_by_the_users_names():
    """No entity id such as 'anchor left ladder bolt' stands where 'left ladder bolt' is meant."""
    number = number_of("arriving from the left")
    run = ran(number)
    lines = [
        *why(run.base, run.advice, "ladder anchor"),
        *why_not(run, "ladder anchor=right ladder bolt"),
        *find_out(run),
        *what_would(run, "ladder anchor", 1),
        *how_sure(run, "stops"),
    ]
    assert not [
        line
        for line in lines
        for name in ("left ladder bolt", "right ladder bolt", "belay left bolt", "belay right bolt")
        if f"anchor {name}" in line
    ]


def test_unknown_options_are_answered_with_the_users_names():
    number = number_of("arriving from the left")
    with pytest.raises(Faults) as error:
        why_not(ran(number), "ladder anchor=flake")
    assert (
        "expected one of: belay left bolt, belay right bolt, left ladder bolt, right ladder bolt."
        in str(error.value)
    )
