"""The provenance graph is read by the library `prov`, which knows the W3C recommendations PROV-DM
(2013) and the PROV-JSON submission (2013).
"""

import json

from at_hand import deep_case, made, some_cases, written
from depth import not_quick
from prov.model import ProvDocument

from advisor.reasons.tree import conclusions


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


@deep_case
def test_the_advice_keeps_its_contract(name):
    from jsonschema import Draft202012Validator

    from advisor.load.schema import schema

    data = exported(name)
    Draft202012Validator(schema("advice")).validate(data["advice"])
    assert data["advice"] == made(name).advice.to_json()
