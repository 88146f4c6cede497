"""One planted fault of each kind: the audit names the rule, its line and the smallest facts that
show it. Invented rules throughout.
"""

import pytest
from msgspec.structs import replace
from planted_base import CLEAN, DECISIONS, LINES_BEFORE, SOURCES, VOCABULARY, rule, write

from advisor.audit import hazards
from advisor.audit.audit import audit
from advisor.audit.bench import Bench
from advisor.cli import main
from advisor.model.effects import Control, Hazard

WARN = 'warn: {text: "A planted warning.", severity: note}'


def findings(folder):
    return audit(folder)["findings"]


def only(folder):
    found = findings(folder)
    assert len(found) == 1, found
    return found[0]


def at_first_planted_line(found):
    return found["place"].endswith(f"plan/rules.yaml:{LINES_BEFORE + 1}")


def test_the_minimal_base_is_clean(tmp_path):
    assert findings(write(tmp_path)) == []


def test_a_rule_whose_conditions_exclude_each_other(tmp_path):
    found = only(
        write(
            tmp_path,
            rule(
                "planted.never",
                "{pitch.depth: {at least: 30 m, at most: 20 m}, pitch.water: dry}",
                WARN,
            ),
        )
    )
    assert (found["kind"], found["rule"]) == (
        "never fires",
        "planted.never",
    ) and at_first_planted_line(found)
    assert sorted(found["facts"]) == ["pitch.depth = at least 30 m", "pitch.depth = at most 20 m"]


def test_a_rule_on_a_conclusion_that_nothing_draws(tmp_path):
    anchor = (
        VOCABULARY["anchor"]
        + "  proven:\n    type: yes/no\n    worse: no\n    derived: yes\n    otherwise: no\n   "
        " says: {yes: is proven, no: is not proven}\n    help: Proven.\n"
    )
    found = only(
        write(
            tmp_path,
            rule("planted.never", "{a.proven: yes}", WARN, "{a: anchor}"),
            vocabulary={"anchor": anchor},
        )
    )
    assert (found["kind"], found["facts"]) == (
        "never fires",
        ["anchor a.proven = yes"],
    ) and "no rule or calculation gives" in found["message"]


def test_a_rule_that_adds_nothing_to_another(tmp_path):
    found = only(
        write(
            tmp_path,
            rule(
                "planted.same",
                "{pitch.water: spray}",
                'warn: {text: "Keep out of the water.", severity: caution}',
            ),
        )
    )
    assert (found["kind"], found["rule"], found["facts"]) == (
        "redundant",
        "planted.same",
        ["pitch.water = spray"],
    ) and at_first_planted_line(found)
    assert "water.wet" in found["message"]


def test_a_rule_that_disfavours_what_another_prefers(tmp_path):
    found = only(
        write(
            tmp_path,
            rule(
                "planted.against",
                "{pitch.depth: {at most: 20 m}}",
                "disfavour: {decision: way, option: ladder, strength: may, concern: life}",
            ),
        )
    )
    assert (found["kind"], found["rule"]) == (
        "opposite",
        "way.ladder",
    ) and "planted.against" in found["message"]
    assert found["facts"] == ["pitch.depth = 20 m"]


def test_an_exception_that_weighs_no_less_is_only_noted(tmp_path):
    report = audit(
        write(
            tmp_path,
            rule(
                "planted.exception",
                "{pitch.water: spray}",
                "disfavour: {decision: way, option: ladder, strength: should, concern: life}",
            ),
        )
    )
    assert not report["findings"] and [
        n for n in report["notes"] if "planted.exception" in n["message"]
    ]


def test_a_preference_for_what_is_ruled_out(tmp_path):
    found = only(
        write(
            tmp_path,
            rule(
                "planted.out",
                "{pitch.depth: {at most: 25 m}}",
                "rule out: {decision: way, option: ladder}",
            ),
        )
    )
    assert (found["kind"], found["rule"]) == ("opposite", "way.ladder") and found["facts"] == [
        "pitch.depth = 20 m"
    ]


def test_an_option_no_rule_speaks_of(tmp_path):
    rope = "      rope: {"
    steps = "      steps: {for: They are easy., against: They are rare.}\n"
    found = only(write(tmp_path, decisions=DECISIONS.replace(rope, steps + rope)))
    assert (found["kind"], found["rule"], found["facts"]) == (
        "silent decision",
        "way",
        ["way = steps"],
    ) and found["place"].endswith("decisions.yaml:7")


def test_a_hazard_without_a_control_and_controls_that_do_not_hold_together(tmp_path):
    bench = Bench(write(tmp_path))
    first, elsewhere = bench.base.rule("water.wet"), bench.base.rule("anchor.sound").condition

    def planted(*controls):
        rule = replace(first, effects=(Hazard("cold", "all", controls),))
        bench.base = replace(bench.base, rules=(rule,))
        return hazards.uncontrolled_hazards(bench)

    for controls, words in (
        ((), "nothing controls"),
        ((Control("Stay dry.", ("water.streem",)),), "'water.streem' is not a rule"),
        ((Control("Stay dry.", ("water.wet",), (), elsewhere),), "no rule that breaks it looks"),
    ):
        (found,) = planted(*controls)
        assert (
            words in found.message
            and found.rule == "water.wet"
            and found.facts == ("pitch.water = drips",)
        )
    assert planted(Control("Stay dry.", ("water.wet",))) == []


def test_a_conclusion_nobody_reads(tmp_path):
    found = only(write(tmp_path, clean=CLEAN.replace("a.sound: no, ", "a.moves: yes, ")))
    assert (found["kind"], found["rule"], found["facts"]) == (
        "unread conclusion",
        "anchor.sound",
        ["anchor a.moves = no"],
    )


def test_a_step_that_another_always_replaces(tmp_path):
    steps = rule("planted.first", "{pitch.water: spray}", 'step: {do: "Wait."}') + rule(
        "planted.second",
        "{pitch.water: {as bad as: drips}}",
        'step: {do: "Leave.", instead of: [planted.first]}',
    )
    found = only(write(tmp_path, steps))
    assert (found["kind"], found["rule"], found["facts"]) == (
        "never reached",
        "planted.first",
        ["pitch.water = spray"],
    ) and at_first_planted_line(found)


def test_a_fact_nobody_uses(tmp_path):
    pitch = (
        VOCABULARY["pitch"]
        + "  width:\n    type: number\n    unit: m\n    range: [0 m, 9 m]\n    asks: How wide?\n   "
        " help: Across.\n    change: can only be found out\n"
    )
    found = only(write(tmp_path, vocabulary={"pitch": pitch}))
    assert (found["kind"], found["rule"]) == ("unused fact", "pitch.width") and found[
        "place"
    ].endswith(f"pitch.yaml:{VOCABULARY['pitch'].count(chr(10)) + 1}")


def test_a_warning_that_a_worse_fact_turns_off(tmp_path):
    found = only(write(tmp_path, rule("planted.middle", "{pitch.water: drips}", WARN)))
    assert (found["kind"], found["rule"], found["facts"]) == (
        "worse relaxes",
        "planted.middle",
        ["pitch.water = drips"],
    ) and at_first_planted_line(found)
    assert "drips -> spray" in found["message"]


def test_a_stop_that_rests_on_a_number_being_good(tmp_path):
    found = only(
        write(tmp_path, rule("planted.shallow", "{pitch.depth: {at most: 5 m}}", 'stop: "Stop."'))
    )
    assert found["kind"] == "worse relaxes" and found["facts"] == ["pitch.depth = 5 m"]


REFER = "refer: {to: somebody, about: a planted question}"


def test_a_referral_that_a_worse_fact_turns_off(tmp_path):
    found = only(write(tmp_path, rule("planted.middle", "{pitch.water: drips}", REFER)))
    assert (found["kind"], found["rule"], found["facts"]) == (
        "worse relaxes",
        "planted.middle",
        ["pitch.water = drips"],
    ) and at_first_planted_line(found)


def test_a_referral_may_give_way_to_a_stop_but_only_where_the_stop_always_comes(tmp_path):
    wet = "{pitch.water: {as bad as: spray}}"
    assert (
        findings(
            write(
                tmp_path / "always",
                rule("planted.middle", "{pitch.water: drips}", REFER),
                rule("planted.wet", wet, 'stop: "Stop."'),
            )
        )
        == []
    )
    deep = wet.replace("}}", "}, pitch.depth: {above: 5 m}}")
    found = only(
        write(
            tmp_path / "sometimes",
            rule("planted.middle", "{pitch.water: drips}", REFER),
            rule("planted.wet", deep, 'stop: "Stop."'),
        )
    )
    assert (found["kind"], found["rule"]) == ("worse relaxes", "planted.middle")


def test_a_warning_does_not_give_way_to_a_stop(tmp_path):
    rules = rule("planted.middle", "{pitch.water: drips}", WARN) + rule(
        "planted.wet", "{pitch.water: {as bad as: spray}}", 'stop: "Stop."'
    )
    assert only(write(tmp_path, rules))["rule"] == "planted.middle"


def test_a_referral_beyond_the_better_end_of_what_a_stop_judges_is_named_as_a_limit(tmp_path):
    shallow, deep = (
        rule("planted.shallow", "{pitch.depth: {below: 5 m}}", REFER),
        rule("planted.deep", "{pitch.depth: {above: 25 m}}", 'stop: "Stop."'),
    )
    report = audit(write(tmp_path / "both", shallow, deep))
    assert report["findings"] == [] and [
        limit
        for limit in report["limits"]
        if "planted.shallow" in limit and "planted.deep" in limit and "pitch.depth" in limit
    ]
    assert only(write(tmp_path / "alone", shallow))["rule"] == "planted.shallow"
    overlapping = deep.replace("above: 25 m", "above: 3 m")
    replaced = audit(
        write(tmp_path / "overlapping", shallow, overlapping)
    )  # here the stop takes its place
    assert replaced["findings"] == [] and not [
        limit for limit in replaced["limits"] if "planted" in limit
    ]


def test_an_effect_of_every_value_that_leaving_out_loses(tmp_path):
    each = "".join(
        rule(f"planted.{value}", f"{{pitch.water: {{{test}}}}}", WARN)
        for value, test in (("dry", "no worse than: dry"), ("wet", "as bad as: drips"))
    )
    found = only(write(tmp_path, each))
    assert (found["kind"], found["rule"], found["facts"]) == (
        "leaving out permits",
        "planted.dry",
        ["pitch.water = unknown"],
    ) and at_first_planted_line(found)


def test_a_source_nobody_cites_and_a_figure_nobody_uses(tmp_path):
    figures = (
        "figures:\n  climbing pace: {value: 3 m/min, source: practice, status: common practice,"
        " note: Invented.}\n"
    )
    report = audit(
        write(
            tmp_path, sources=SOURCES + SOURCES.replace("practice:", "spare:", 1), figures=figures
        )
    )
    (found,) = report["findings"]
    assert (found["kind"], found["rule"], found["facts"]) == (
        "source",
        "spare",
        ["source = spare"],
    ) and found["place"].endswith("sources.yaml:2")
    assert [n["rule"] for n in report["notes"] if "figure" in n["message"]] == ["climbing pace"]


@pytest.mark.parametrize("arguments, code", [([], 0), (["--format", "json"], 0)])
def test_exit_code_of_a_clean_base(tmp_path, arguments, code, capsys):
    assert main(["audit", str(write(tmp_path)), *arguments]) == code
    assert capsys.readouterr().out.strip()


def test_exit_codes_of_findings_and_of_what_cannot_be_read(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    folder = write(tmp_path / "a", rule("planted.middle", "{pitch.water: drips}", WARN))
    assert (
        main(["audit", str(folder)]) == 3
        and f"rules.yaml:{LINES_BEFORE + 1}: worse relaxes: planted.middle"
        in capsys.readouterr().out
    )
    (folder / "sources.yaml").write_text("practice: [", encoding="utf-8")
    assert main(["audit", str(folder)]) == 2 and main(["audit", str(tmp_path / "nowhere")]) == 2
    assert "Traceback" not in capsys.readouterr().err
