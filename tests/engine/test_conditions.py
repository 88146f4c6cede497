"""Conditions that could never hold, or that ask what the engines do not know, are refused when
rules are read.
"""

from __future__ import annotations

import pytest
import real

from advisor.load.rules import read_rules
from advisor.load.tree import parse_document

RULE = """\
topic: A test
about: plan
rules:
  - id: made.up
    title: Made up for a test
    for: {{a: anchor}}
    if:
      {condition}
    then:
      - stop: "Go no further."
    because: It is made up for a test.
    source: common-practice
    status: common practice
"""


def faults(condition):
    base = real.base()
    document = parse_document(RULE.format(condition=condition).encode(), "made-up.yaml")
    return [
        str(f)
        for f in read_rules(document, base.vocabulary, base.decisions, base.concerns, base.sources)[
            1
        ]
    ]


def test_a_good_rule_has_no_fault():
    assert (
        faults("a.moves: yes")
        == faults("a.moves: {is: unknown}")
        == faults("a.moves: {not: yes}")
        == []
    )


@pytest.mark.parametrize("word", ["known", "unknown", "doubtful"])
def test_whether_a_concluded_fact_is_known_cannot_be_asked(word):
    (fault,) = faults(f"a.sound: {{is: {word}}}")
    assert fault.startswith("made-up.yaml:8:") and "is concluded, not stated" in fault


def test_leaving_out_every_value_is_refused():
    (fault,) = faults("a.moves: {not: [yes, no]}")
    assert fault.startswith("made-up.yaml:8:") and "can never hold" in fault
