"""A card at a date: what is good stands only its time, what is bad until it is mended."""

from datetime import date, timedelta

import pytest
from depth import examples
from desks import LADDER, desk_in, layout, with_ladder
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from worked import program

from advisor.faults import Faults
from advisor.records.card import card_at
from advisor.records.entry import Entry
from advisor.records.verdict import advice_on, passes, verdict

START = date(2024, 1, 1)
EVENTS = st.sampled_from(sorted(layout().events))
HISTORY = st.lists(st.tuples(st.integers(0, 900), EVENTS), max_size=12)


def entries_of(history):
    """The entries of a ladder with a history of (day, event)."""
    facts = {f"ladder.{name}": raw for name, raw in LADDER.items()}
    body = {"kind": "kit", "type": "ladder", "facts": facts, "dates": {"made": "2023-06-01"}}
    card = Entry("L3", "card", START.isoformat(), body, number=1)
    return [
        card,
        *(
            Entry("L3", what, (START + timedelta(day)).isoformat(), {}, number=n)
            for n, (day, what) in enumerate(history, 2)
        ),
    ]


def at(entries, day):
    return card_at(entries, day, layout(), program().base.vocabulary)


def grade(key, raw):
    attribute = program().base.vocabulary.by_key[key]
    known = raw in attribute.values and attribute.ranks
    return attribute.ranks[attribute.values.index(raw)] if known else 0


@settings(max_examples=examples(60), deadline=None, derandomize=True)
@given(HISTORY)
def test_no_fact_is_better_than_an_entry_says(history):
    entries = entries_of(history)
    card = at(entries, START + timedelta(1000))
    said = {(key, raw) for e in layout().events.values() for key, raw in e.sets.items()}
    said |= {(f"ladder.{name}", raw) for name, raw in LADDER.items()}
    for (_, key), held in card.facts.items():
        assert key in layout().since or (key, held.raw) in said
        assert held.entry in entries and held.on <= card.on.isoformat()


@settings(max_examples=examples(60), deadline=None, derandomize=True)
@given(HISTORY, st.integers(0, 400))
def test_time_alone_makes_nothing_better(history, later):
    entries = entries_of(history)
    day = START + timedelta(900)
    now, then = at(entries, day), at(entries, day + timedelta(later))
    for ref, held in then.facts.items():
        if ref[1] not in layout().since:
            assert now.facts[ref].raw == held.raw
    for ref, held in now.facts.items():
        if grade(ref[1], held.raw):
            assert then.facts[ref].raw == held.raw


@settings(max_examples=examples(60), deadline=None, derandomize=True)
@given(HISTORY, st.randoms())
def test_the_order_of_writing_down_does_not_matter(history, random):
    days = {day for day, _ in history}
    history = [(day, what) for day, what in history if sum(d == day for d, _ in history) == 1]
    shuffled = random.sample(history, len(history))
    day = START + timedelta(max(days, default=0) + 1)
    one, other = (at(entries_of(h), day) for h in (history, shuffled))
    assert {r: h.raw for r, h in one.facts.items()} == {r: h.raw for r, h in other.facts.items()}
    assert one.expired.keys() == other.expired.keys()


@settings(
    max_examples=examples(12),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(HISTORY, st.integers(1, 600))
def test_a_verdict_grows_no_milder_with_time(history, later):
    order = ("keep", "keep and watch", "clean and look again", "replace part")
    entries = entries_of(history)
    day = START + timedelta(900)
    words = [verdict(advice_on(program(), at(entries, d))) for d in (day, day + timedelta(later))]
    first, second = (order.index(w) if w in order else len(order) for w in words)
    assert second >= first, words


def test_a_year_later_with_nothing_examined_nothing_counts(tmp_path):
    desk = with_ladder(tmp_path)
    desk.happened(["L3"], ["nothing to report", "washed", "dried", "examined"], {
        "facts": {f"ladder.{k}": LADDER[k] for k in ("history", "identity", "record", "repair")}
    })  # fmt: skip
    assert passes(program(), desk.card("L3"))
    later = desk.on(date(2027, 1, 6))
    assert not passes(program(), later.card("L3"))
    word = verdict(advice_on(program(), later.card("L3")))
    assert word == "set aside for a competent person"


def test_use_ends_what_was_seen_and_a_fall_stays(tmp_path):
    desk = with_ladder(tmp_path)
    desk.happened(["L3"], ["inspected", "used", "fall held"])
    card = desk.card("L3")
    assert ("ladder", "ladder.inspection") in card.expired
    assert card.value("ladder.overloaded") == "yes"
    desk.happened(["L3"], ["used", "nothing to report", "inspected"])
    assert desk.card("L3").value("ladder.overloaded") == "yes"


def test_a_correction_takes_an_entry_out_and_keeps_it(tmp_path):
    desk = with_ladder(tmp_path)
    wrong = desk.happened(["L3"], ["fall held"])[0]
    desk.correct(wrong.number, "that was R2")
    assert desk.card("L3").value("ladder.overloaded") == ""
    assert wrong in desk.store.entries("L3")


def test_nothing_is_kept_of_a_line_with_a_fault(tmp_path):
    desk = with_ladder(tmp_path)
    with pytest.raises(Faults, match="fall held"):
        desk.happened(["L3"], ["used", "fal held"])
    with pytest.raises(Faults, match="no kit card"):
        desk.happened(["L3", "L4"], ["used"])
    assert len(desk.store.entries()) == 1


def test_a_rope_is_kit_and_a_lifeline(tmp_path):
    desk = desk_in(tmp_path)
    desk.begin("R2", "kit", "rope", {"length": "30 m", "material": "polyamide"}, {})
    keys = {key for _, key in desk.card("R2").facts}
    assert keys == {"kit.type", "kit.material", "lifeline.length"}


def test_of_one_trip_nothing_stands_on_a_card(tmp_path):
    with pytest.raises(Faults, match="no fact that stands"):
        desk_in(tmp_path).begin("L1", "kit", "ladder", {"foot seen": "yes"}, {})
