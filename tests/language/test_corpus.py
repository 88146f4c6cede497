"""The corpus: at least 95 in 100 facts right, and no fact wrong that was not questioned."""

from __future__ import annotations

import pytest
from talk import Outcome, corpus


@pytest.fixture(scope="module")
def outcomes():
    return [(kind, Outcome(line, settings)) for kind, settings, line in corpus()]


def _table(found):
    lines = [
        f"{'kind of talk':14} {'lines':>6} {'facts':>6} {'right':>6} {'wrong':>6} {'intents':>8}"
    ]
    for kind in sorted({k for k, _ in found}) + ["all"]:
        mine = [o for k, o in found if kind in (k, "all")]
        lines.append(
            f"{kind:14} {len(mine):6} {sum(len(o.wanted) for o in mine):6}"
            f" {sum(len(o.right) for o in mine):6} {sum(len(o.wrong) for o in mine):6}"
            f" {sum(o.intents_right for o in mine):5}/{len(mine)}"
        )
    return lines


def _confusions(found):
    return [
        f"  {o.typed!r}: missed {o.missed}, wrong {o.wrong}, intents {o.intents_got} for"
        f" {o.intents}"
        for _, o in found
        if o.missed or o.wrong or not o.intents_right
    ]


def test_there_is_enough_talk(outcomes, record_property):
    record_property(
        "talk understood", _table(outcomes) + _confusions(outcomes)
    )  # shown at the end of the run
    assert len(outcomes) >= 400


def test_facts_are_right(outcomes):
    wanted, right = (
        sum(len(getattr(o, name)) for _, o in outcomes) for name in ("wanted", "right")
    )
    assert right >= 0.95 * wanted


def test_no_fact_is_wrong_and_unquestioned(outcomes):
    assert [(o.typed, o.wrong) for _, o in outcomes if o.wrong] == []


def test_intents_are_right(outcomes):
    assert sum(o.intents_right for _, o in outcomes) >= 0.95 * len(outcomes)


def test_what_is_unclear_or_outside_is_said(outcomes):
    assert sum(o.marks_right for _, o in outcomes) >= 0.97 * len(outcomes)
    assert [o.typed for _, o in outcomes if o.outside and not o.marks_right] == []
