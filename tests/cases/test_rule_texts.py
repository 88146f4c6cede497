"""Whatever a rule asks for begins with what to do and fits two lines."""

import re
from pathlib import Path
from textwrap import wrap

from depth import many_cases
from worked import advised, program

from advisor.model.effects import First, Require, Stop

WIDTH, LINES = 76, 2
A_NAME, A_FIGURE = "ladder main", "12.5 kN"
VERBS = set((Path(__file__).parent / "verbs.txt").read_text("utf-8").split())
WHEN = re.compile(r"(Before|When|After) [^,]+, ")


def asked():
    """(rule, text) of everything that a rule asks for."""
    return [
        (rule.id, effect.text)
        for rule in program().base.rules
        for effect in rule.effects
        if isinstance(effect, Require | Stop | First)
    ]


def filled(text):
    """A text as long as it is with a name and figures of usual length in it."""
    return re.sub(r"\{\w+\}", A_NAME, re.sub(r"\{[^{}]*\.[^{}]*\}", A_FIGURE, text))


def too_long(text):
    return len(wrap(text, WIDTH)) > LINES


def test_what_is_asked_begins_with_what_to_do():
    wrong = [
        (rule, text)
        for rule, text in asked()
        if not WHEN.match(text) and re.split(r"[ ,:;]", text)[0] not in VERBS
    ]
    assert not wrong, "begin with a verb of tests/cases/verbs.txt, or with 'Before …, '"


def test_what_is_asked_fits_two_lines():
    assert not [(rule, text) for rule, text in asked() if too_long(filled(text))]


@many_cases
def test_what_is_asked_of_a_case_fits_two_lines(path):
    advice = advised(path)
    said = (*advice.stops, *advice.first, *advice.requirements)
    assert not [item.text for item in said if too_long(item.text)]
