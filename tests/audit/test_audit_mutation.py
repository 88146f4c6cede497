"""The mutation test on the minimal base: every mistake is noticed, and one that changes nothing is
told apart.
"""

from msgspec.structs import replace
from planted_base import write

from advisor.audit.bench import Bench
from advisor.audit.coverage import cover, coverage, table
from advisor.audit.mutants import mutants
from advisor.audit.mutation import mutation
from advisor.audit.mutation import table as mutation_table


def test_every_mutant_of_the_minimal_base_is_noticed(tmp_path):
    bench = Bench(write(tmp_path))
    counts = mutation(bench, coverage(bench)["covered"])
    assert (
        counts["survivors"] == []
        and counts["generated"] + counts["equivalent"] == counts["mutants"] > 30
    )


def test_a_rule_without_situations_lets_mutants_survive(tmp_path):
    bench = Bench(write(tmp_path))
    blind = [replace_scenes(cover(bench, bench.base.rule("way.ladder")))]
    counts = mutation(bench, blind)
    assert {rule for rule, _ in counts["survivors"]} == {
        "way.ladder"
    } and "way.ladder" in "\n".join(mutation_table(counts))


def replace_scenes(covered):
    return covered._replace(fired=None, blocked=None, pairs=(), edges=())


def test_mutants_differ_from_their_rule(tmp_path):
    bench = Bench(write(tmp_path))
    for rule in bench.base.rules:
        for mutant in mutants(bench.base, rule):
            assert (
                replace(mutant.rule, condition=rule.condition, effects=rule.effects) == rule
                and mutant.rule != rule
            )


def test_coverage_of_the_minimal_base_is_complete(tmp_path):
    bench = Bench(write(tmp_path))
    figures = coverage(bench)
    assert (
        figures["fired"] == figures["blocked"] == figures["rules"] == 5 and not figures["missing"]
    )
    assert "100.0 %" in table(figures)[1]
