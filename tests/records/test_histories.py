"""Random histories: what a card says at a date, held against what its entries allow; and a plan
that takes cards, which time never makes more permissive.

The checks look at the entries themselves, each by a rule of its own, and go through no history.
"""

from datetime import date, timedelta
from functools import cache

import pytest
import yaml
from depth import examples
from desks import LADDER, desk_in, layout
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from worked import program

from advisor.faults import Faults, Place
from advisor.load.case import read_case
from advisor.records.card import CORRECTED, TOLD, card_at
from advisor.records.entry import Entry
from advisor.records.laid import Named

START, DAYS = date(2024, 1, 1), 900
YEAR = 366
GO = ("do not go on", "not yet", "clear at home", "nothing found that forbids it")
VOCABULARY = program().base.vocabulary
TELLABLE = {
    f"ladder.{name}": value.split(" / ")
    for name, value in {
        "storage": "dry and aired / damp or closed",
        "identity": "yes / no",
        "record": "in order / gaps",
        "mishap": "no / yes",
        "inspection": "full by fingertip / none",
        "standing": "in use / set aside",
    }.items()
}
told = st.sampled_from(sorted(TELLABLE)).flatmap(
    lambda key: st.tuples(st.just(key), st.sampled_from(TELLABLE[key]))
)
FOUND = [{"part": "links", "what": "burr"}]
happening = st.one_of(
    st.sampled_from(sorted(layout().events)).map(lambda event: (event, {})),
    st.just(("examined", {"findings": FOUND})),


    told.map(lambda pair: (TOLD, {"facts": dict([pair])})),
)  # fmt: skip
histories = st.lists(st.tuples(st.integers(0, DAYS), happening), max_size=14)
plain = settings(max_examples=examples(150, 10), deadline=None, derandomize=True)


def entries_of(history):
    facts = {f"ladder.{name}": raw for name, raw in LADDER.items()}
    body = {"kind": "kit", "type": "ladder", "facts": facts, "dates": {"made": "2023-06-01"}}
    events = enumerate(history, 2)
    return [
        Entry("L3", "card", START.isoformat(), body, number=1),
        *(
            Entry("L3", what, (START + timedelta(day)).isoformat(), body, number=n)
            for n, (day, (what, body)) in events
        ),
    ]


def at(entries, day):
    return card_at(entries, day, layout(), VOCABULARY)


def grade(key, raw):
    attribute = VOCABULARY.by_key[key]
    known = raw in attribute.values and attribute.ranks
    return attribute.ranks[attribute.values.index(raw)] if known else 0


def said(entry):
    """(fact, value) of all that an entry says by itself."""
    event = layout().events.get(entry.what)
    found = entry.body.get("findings")
    for key, raw in event.sets.items() if event else ():
        if not (found and key in event.unless_found):
            yield key, raw
    yield from entry.body.get("facts", {}).items()


def after(entries, entry):
    return [e for e in entries if (e.on, e.number) > (entry.on, entry.number)]


def ends(entry, key):
    event = layout().events.get(entry.what)
    return bool(event) and VOCABULARY.by_key[key].stands in event.ends


@plain
@given(histories)
def test_what_is_well_stands_only_as_long_as_its_entry_allows(history):
    entries, on = entries_of(history), START + timedelta(DAYS)
    for (_, key), held in at(entries, on).facts.items():
        if key in layout().since or grade(key, held.raw):
            continue
        assert (key, held.raw) in set(said(held.entry))
        later = after(entries, held.entry)
        assert not [e for e in later if ends(e, key)], (key, held)
        if VOCABULARY.by_key[key].stands == "12 months":
            assert date.fromisoformat(held.on) >= on - timedelta(YEAR), (key, held)


@plain
@given(histories)
def test_what_is_bad_stays_until_an_entry_mends_it(history):
    entries, on = entries_of(history), START + timedelta(DAYS)
    card = at(entries, on)
    for entry in entries:
        for key, raw in said(entry):
            mended = [
                e
                for e in after(entries, entry)
                if key in e.body.get("facts", {})
                or (e.what in layout().events and key in layout().events[e.what].mends)
            ]
            before = [e for e in entries if e.what == "retired" and entry not in after(entries, e)]
            if grade(key, raw) and not mended and "ladder" in key and not before:
                assert grade(key, card.value(key)) >= grade(key, raw), (key, raw, card.value(key))


@plain
@given(histories, st.integers(1, 900))
def test_what_has_expired_is_told_with_its_reason(history, later):
    entries = entries_of(history)
    card, then = (at(entries, START + timedelta(DAYS + n)) for n in (0, later))
    for ref in card.facts.keys() - then.facts.keys():
        assert then.expired[ref].why and then.expired[ref].held.raw == card.facts[ref].raw
    assert card.expired.keys() <= then.expired.keys()
    assert not card.facts.keys() & card.expired.keys()


@plain
@given(histories, st.data())
def test_a_corrected_entry_counts_as_never_written(history, data):
    entries, on = entries_of(history), START + timedelta(DAYS)
    wrong = data.draw(st.lists(st.sampled_from(range(2, len(entries) + 1)), unique=True)
                      if history else st.just([]))  # fmt: skip
    days = data.draw(st.lists(st.integers(0, DAYS), min_size=len(wrong), max_size=len(wrong)))
    corrections = [
        Entry("L3", CORRECTED, (START + timedelta(day)).isoformat(), {"entry": number}, number=n)
        for n, (day, number) in enumerate(zip(days, wrong), len(entries) + 1)
    ]
    told_wrong = at([*entries, *corrections], on)
    never = at([e for e in entries if e.number not in wrong], on)
    assert told_wrong.facts == never.facts and told_wrong.expired == never.expired
    assert told_wrong.findings == never.findings


def test_nothing_brings_back_what_is_retired():
    history = [(10, ("retired", {})), (20, ("examined", {"facts": {"ladder.standing": "in use"}})),
               (30, (TOLD, {"facts": {"ladder.standing": "in use"}}))]  # fmt: skip
    assert at(entries_of(history), START + timedelta(40)).value("ladder.standing") == "retired"


def test_what_was_found_is_not_inspected_and_sound(tmp_path):
    desk = desk_in(tmp_path)
    desk.begin("R2", "kit", "rope", {"length": "30 m"}, {})
    desk.happened(["R2"], ["examined"])
    assert desk.card("R2").value("lifeline.state") == "inspected and sound"
    desk.happened(["R2"], ["examined"], {"findings": [{"part": "sheath", "what": "core showing"}]})
    card = desk.card("R2")
    assert card.value("lifeline.state") == ""
    assert ("lifeline", "lifeline.state") in card.expired


def test_a_mishap_ends_what_stood_until_it_was_examined(tmp_path):
    for n, event in enumerate(("fall held", "flooded", "dropped", "overloaded", "chemicals")):
        desk = desk_in(tmp_path / str(n))
        desk.begin("R2", "kit", "rope", {"length": "30 m", "identity": "yes"}, {})
        desk.happened(["R2"], ["examined"], {"facts": {"kit.identity": "yes"}})
        desk.happened(["R2"], [event])
        assert {"kit.identity", "lifeline.state"} <= {key for _, key in desk.card("R2").expired}


SOUND = "cases/group/two-leaders-sound.yaml"


@cache
def of_ladder():
    """(what stands on the card of the sound plan's ladder, what is told of it on the trip)"""
    facts = read_case(SOUND, program().base).facts
    told = {k: f.text for (entity, k), f in facts.items() if entity == "ladder main"}
    on_card = {k for k in told if layout().holds("kit", VOCABULARY.by_key[k])}
    trip = {k.partition(".")[2]: raw for k, raw in told.items() if k not in on_card}
    trip.pop("examined and passed", None)
    return {k: told[k] for k in on_card}, trip


def plan_on(desk, day):
    """The advice on a sound plan with this ladder on a day."""
    path = desk.store.path.parent / "trip.yaml"
    case = {
        "based on": SOUND,
        "without": ["ladder main"],
        "given": {"ladder L3": of_ladder()[1]},
        "with": {"ladder": "L3"},
    }
    path.write_text(yaml.safe_dump(case), "utf-8")
    return program().advise(read_case(path, program().base, cards=desk.on(day).cards.of))


def go(advice):
    return GO.index(advice.decisions["go"].choice)


def desk_with(folder, history):
    """A desk with a ladder as the sound plan's, examined on the first day, and a history."""
    on_card = {f"ladder.{name}": raw for name, raw in LADDER.items()} | of_ladder()[0]
    seen = [("nothing to report", {}), ("washed", {}), ("dried", {}), ("inspected", {}),
            ("examined", {"facts": on_card})]  # fmt: skip
    desk = desk_in(folder)
    days = [*((0, event) for event in seen), *history]
    desk.store.add(entries_of(sorted(days, key=lambda one: one[0])))
    return desk


def test_a_plan_with_cards_can_be_clear_and_is_not_once_they_are_old(tmp_path):
    desk = desk_with(tmp_path, [])
    days = (1, 30, 250, 500)
    assert [go(plan_on(desk, START + timedelta(day))) for day in days] == [3, 3, 0, 0]
    desk = desk_with(tmp_path / "used", [(10, ("used", {}))])
    assert go(plan_on(desk, START + timedelta(9))) == 3 > go(plan_on(desk, START + timedelta(11)))


@settings(
    max_examples=examples(20, 20),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],  # a plan takes its time, and shrinking many of them
)
@given(
    st.lists(st.tuples(st.integers(0, 60), happening), max_size=3),
    st.integers(0, 120),
    st.integers(1, 500),
)
def test_time_never_makes_a_plan_with_cards_more_permissive(tmp_path_factory, history, day, later):
    desk = desk_with(tmp_path_factory.mktemp("desk"), history)
    base = START + timedelta(60 + day)
    now, then = (plan_on(desk, base + timedelta(n)) for n in (0, later))
    assert go(then) <= go(now)
    assert {s.id for s in now.stops} <= {s.id for s in then.stops}


@settings(
    max_examples=examples(20, 20),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],
)
@given(st.lists(st.tuples(st.integers(0, 60), happening), max_size=3))
def test_use_and_mishap_never_make_a_plan_more_permissive(tmp_path_factory, history):
    """What mends nothing and tells no fact, added last, clears nothing."""
    worse = [e for e in layout().events.values() if not e.mends and e.name != "nothing to report"]
    folder, base = tmp_path_factory.mktemp("desk"), START + timedelta(90)
    before = plan_on(desk_with(folder / "before", history), base)
    event = worse[sum(day for day, _ in history) % len(worse)]
    desk = desk_with(folder / "after", [*history, (70, (event.name, {}))])
    assert go(plan_on(desk, base)) <= go(before), event.name


def test_records_that_are_not_whole_give_a_plan_nothing(tmp_path):
    import sqlite3
    from contextlib import closing

    desk = desk_in(tmp_path)
    desk.begin("L3", "kit", "ladder", LADDER, {})
    desk.happened(["L3"], ["overloaded"])
    with closing(sqlite3.connect(desk.store.path)) as db:
        db.execute("DROP TRIGGER entries_are_kept")
        db.execute("DELETE FROM entries WHERE what = 'overloaded'")
        db.commit()
    fresh = desk_in(tmp_path)
    with pytest.raises(Faults, match="entry 2 "):
        fresh.cards.taken([Named("ladder", "L3", Place("trip"))])
