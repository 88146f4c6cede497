"""The provenance graph is read by the library `prov`, which knows the W3C recommendations PROV-DM
(2013) and the PROV-JSON submission (2013).
"""

import json
from datetime import datetime

from at_hand import deep_case, made, some_cases, written
from depth import not_quick
from prov.model import PROV, ProvActivity, ProvDocument, ProvStart

from advisor.cli import main
from advisor.reasons.tree import conclusions

RUN, DECIDER = "lpa:run", "lpa:decider"
PLAN = "plan/arrival-left"


def exported(name):
    return json.loads(written(name, ".json"))


def graph(name):
    return ProvDocument.deserialize(content=json.dumps(exported(name)["provenance"]), format="json")


def labels(records):
    return {str(next(iter(r.get_attribute("prov:label")))): str(r.identifier) for r in records}


def relations(document, kind):
    """[(first end, second end)] of one kind of relation."""
    return [
        tuple(str(value) for _, value in r.formal_attributes[:2])
        for r in document.get_records()
        if r.get_type().localpart == kind
    ]


@not_quick
@some_cases
def test_the_graph_is_valid_and_goes_round(name):
    document = graph(name)
    assert (
        ProvDocument.deserialize(content=document.serialize(format="json"), format="json")
        == document
    )


@deep_case
def test_relations_join_records_that_are_there(name):
    document = graph(name)
    known = {str(r.identifier) for r in document.get_records() if r.is_element()}
    for kind in ("Usage", "Generation", "Derivation", "Attribution", "Association"):
        for ends in relations(document, kind):
            assert set(ends) <= known, kind


@deep_case
def test_every_recommendation_is_generated_by_its_firings(name):
    document, advice = graph(name), made(name).advice
    entities = {}
    for record in document.get_records():
        if record.is_element():
            entities[str(record.identifier)] = str(next(iter(record.get_attribute("prov:label"))))
    generated = {}
    for entity, activity in relations(document, "Generation"):
        generated.setdefault(entity, set()).add(entities[activity])
    wanted = sorted((said.id, sorted(set(said.behind))) for said in conclusions(advice))
    found = sorted(
        (entities[e], sorted(generated.get(e, ()))) for e in entities if e.startswith("lpa:advice")
    )
    assert found == wanted


@not_quick
@deep_case
def test_every_stated_fact_is_attributed_and_every_concluded_one_generated(name):
    document, advice = graph(name), made(name).advice
    attributed = {a for a, _ in relations(document, "Attribution")}
    generated = {a for a, _ in relations(document, "Generation")}
    for number, fact in enumerate(advice.facts, 1):
        assert (f"lpa:fact{number}" in generated) == fact.concluded
        assert (f"lpa:fact{number}" in attributed) == (not fact.concluded)


def validator():
    """Of the whole document, by the schemas that come with the program."""
    from jsonschema import Draft202012Validator
    from referencing import Registry, Resource
    from referencing.jsonschema import DRAFT202012

    from advisor.load.schema import schema

    advice = Resource(schema("advice"), DRAFT202012)
    registry = Registry().with_resource("advice.json", advice)
    return Draft202012Validator(schema("export"), registry=registry)


@deep_case
def test_the_whole_keeps_its_contract(name):
    data = exported(name)
    validator().validate(data)
    assert data["advice"] == made(name).advice.to_json()


def test_the_contract_sees_what_breaks_it():
    data = exported(PLAN)
    data["provenance"]["wasStartedBy"]["_:wasStartedBy1"] = {"prov:activity": "lpa:firing1"}
    assert not validator().is_valid(data)
    data = exported(PLAN)
    data["provenance"]["agent"][DECIDER]["prov:label"] = ""
    assert not validator().is_valid(data)


@deep_case
def test_the_run_started_all_that_was_done(name):
    document = graph(name)
    activities = {str(r.identifier) for r in document.get_records(ProvActivity)}
    starts = [dict(r.attributes) for r in document.get_records(ProvStart)]
    ends = {(str(one[PROV["activity"]]), str(one[PROV["starter"]])) for one in starts}
    assert ends == {(activity, RUN) for activity in activities - {RUN}}


@deep_case
def test_the_program_acts_for_the_leader_who_decides(name):
    document = graph(name)
    (ends,) = relations(document, "Delegation")
    assert ends == ("lpa:program", DECIDER)
    (decider,) = [r for r in document.get_records() if str(r.identifier) == DECIDER]
    assert [str(t) for t in decider.get_asserted_types()] == ["prov:Person"]
    said = {entity for entity, agent in relations(document, "Attribution") if agent == DECIDER}
    assert not said  # the program puts no word into the leader's mouth
    members = {entity for _, entity in relations(document, "Membership")}
    assert len(members) == len(conclusions(made(name).advice))


@deep_case
def test_rehearsed_steps_come_from_a_supposed_incident_and_their_rules(name):
    document = graph(name)
    elements = {str(r.identifier): r for r in document.get_records() if r.is_element()}
    label = {i: str(next(iter(r.get_attribute("prov:label")))) for i, r in elements.items()}
    rehearsed = [response for response, own in made(name).responses if not own]
    made_by, derived = relations(document, "Generation"), dict(relations(document, "Derivation"))
    for number, response in enumerate(rehearsed, 1):
        activity = f"lpa:rehearsal{number}"
        steps = [entity for entity, by in made_by if by == activity]
        assert sorted(label[s] for s in steps) == sorted(s.id for s in response.lines)
        assert {label[derived[s]] for s in steps} == {s.rule for s in response.lines}
        assert (activity, f"lpa:supposed{number}") in relations(document, "Usage")
        assert label[f"lpa:supposed{number}"] == response.incident
    assert f"lpa:rehearsal{len(rehearsed) + 1}" not in elements


def times(path):
    document = ProvDocument.deserialize(
        content=json.dumps(json.loads(path.read_text("utf-8"))["provenance"]), format="json"
    )
    (run,) = [r for r in document.get_records() if str(r.identifier) == RUN]
    return run.get_startTime(), run.get_endTime()


@not_quick
def test_the_run_bears_its_times_unless_a_date_is_given(there):
    case, now = f"cases/{PLAN}.yaml", datetime.now().astimezone().replace(microsecond=0)
    main(["export", case, "-o", str(there / "now.json")])
    began, ended = times(there / "now.json")
    assert now <= began <= ended <= datetime.now().astimezone()
    validator().validate(json.loads((there / "now.json").read_text("utf-8")))
    for name in ("one.json", "two.json"):
        main(["export", case, "-o", str(there / name), "--date", "3 May 2031"])
    assert times(there / "one.json") == (None, None)
    assert (there / "one.json").read_bytes() == (there / "two.json").read_bytes()
