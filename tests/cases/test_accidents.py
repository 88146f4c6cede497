"""Published accidents, retold as what could be known beforehand: each gets its control, and its
sound twin gets no stop.

The accidents are the outside evidence: journals, rescue logs, safety bulletins and reports, each
named in its case under 'retold from'.
Which control should have come is a judgement from trade practice, written down in the case before
the advisor is asked.
"""

from collections import Counter

from depth import not_quick, sampled, sweep
from worked import advised

from advisor.load.folder import find_folder
from advisor.load.tree import read_document

FOLDER = find_folder("cases") / "accidents"
DATA = {path.stem: read_document(path).data for path in sorted(FOLDER.glob("*.yaml"))}
ACCIDENTS = [name for name, data in DATA.items() if "retold from" in data]
TWINS = {
    name: data["twin of"].removesuffix(".yaml") for name, data in DATA.items() if "twin of" in data
}
KINDS = (
    "journal",
    "forum",
    "club report",
    "near-miss database",
    "safety bulletin",
    "rescue log",
    "rescue report",
    "court report",
    "news",
    "journalism",
    "hearsay",
    "technical test",
)
FARTHER = ["do not go on", "not yet", "another way or no pitch", "nothing found that forbids it"]
VERDICTS = [
    "keep",
    "keep and watch",
    "clean and look again",
    "replace part",
    "set aside for a competent person",
    "retire",
]

every_accident = sweep("name", lambda: sampled(ACCIDENTS, 10, None))
every_twin = sweep("name", lambda: sampled(TWINS, 10, None))


def advice_on(name):
    return advised(FOLDER / f"{name}.yaml")


def stops(advice):
    return {s.id if ": " in s.id else s.rule for s in advice.stops}


def controls(name):
    """What the case says should have come: {kind: set of rule ids, or of (item, verdict)}; a
    warning alone is no control.
    """
    expect = DATA[name]["expect"]
    kinds = ("stops", "first", "requires", "steps", "response")
    named = {kind: set(expect.get(kind, ())) for kind in kinds}
    return {
        **named,
        "items": {
            (item, verdict)
            for item, verdict in expect.get("items", {}).items()
            if verdict != "keep"
        },
    }


def given_controls(name):
    """What the advisor gives, in the same shape; a step that hangs on something unknown does not
    count.
    """
    advice = advice_on(name)
    items = {
        (key, item.verdict)
        for item in advice.items
        for key in (item.id, item.id.removeprefix("kit "))
    }
    return {
        "stops": stops(advice),
        "first": {f.rule for f in advice.first},
        "requires": {r.rule for r in advice.requirements},
        "items": items,
        "steps": {s.rule for s in (advice.response.steps if advice.response else ()) if not s.when},
        "response": {
            s.rule for s in (advice.response.lines if advice.response else ()) if not s.when
        },
    }


def test_counts():
    found = Counter(kind for name in ACCIDENTS for kind, ids in controls(name).items() if ids)
    print(
        f"\n{len(ACCIDENTS)} accidents, {len(TWINS)} sound twins; controls expected: {dict(found)}"
    )
    assert len(ACCIDENTS) >= 20 and len(TWINS) >= 20
    assert len(ACCIDENTS) + len(TWINS) == len(DATA)


def test_every_accident_has_one_twin_named_after_it():
    assert sorted(TWINS.values()) == sorted(ACCIDENTS)
    assert all(twin == f"{accident}-twin" for twin, accident in TWINS.items())


@every_accident
def test_the_source_is_named_with_its_kind_and_without_an_address(name):
    source = DATA[name]["retold from"]
    assert (
        any(f"({kind}" in source for kind in KINDS) and "://" not in source and "www." not in source
    )


@not_quick
@every_accident
def test_an_accident_gets_the_control_that_should_have_come(name):
    wanted, given = controls(name), given_controls(name)
    assert any(wanted.values()), "the case names no control"
    assert {kind: ids - given[kind] for kind, ids in wanted.items() if ids - given[kind]} == {}


@not_quick
@every_twin
def test_a_twin_has_no_stop(name):
    assert stops(advice_on(name)) == set() and DATA[name]["expect"]["stops"] == []


@not_quick
@every_twin
def test_a_planned_twin_can_go(name):
    if "plan" in advice_on(name).about:
        assert advice_on(name).decisions["go"].choice == FARTHER[-1]
    else:
        assert {item.verdict for item in advice_on(name).items} == {"keep"}


@not_quick
@every_twin
def test_a_twin_comes_at_least_as_far_as_its_accident(name):
    before, after = advice_on(TWINS[name]), advice_on(name)
    go = [FARTHER.index(a.decisions["go"].choice) for a in (before, after) if "go" in a.decisions]
    assert go == sorted(go)
    worst = [max((VERDICTS.index(i.verdict) for i in a.items), default=0) for a in (before, after)]
    assert worst[1] <= worst[0] if before.items else True
    assert given_controls(TWINS[name]) != given_controls(name)
