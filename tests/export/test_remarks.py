"""What is noted with a plan stands on its papers, as words that no rule weighs."""

from at_hand import made, made_from

from advisor.papers.assessment import assessment
from advisor.papers.blocks import Para


def paragraphs(subject):
    return [block.text for block in assessment(subject) if isinstance(block, Para)]


def test_a_remark_stands_on_the_assessment():
    subject = made_from("given:\n  plan: {remarks: 'gate key 3', start: '10:00'}\n")
    assert "Noted as it was told, weighed by no rule: gate key 3" in paragraphs(subject)


def test_a_plan_without_remarks_has_no_such_line():
    assert not any("weighed by no rule" in text for text in paragraphs(made("plan/arrival-left")))
