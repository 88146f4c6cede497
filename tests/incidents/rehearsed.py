"""Incidents as cases in a few words, for the tests of responses."""

from functools import cache

from advisor.advise import Advisor
from advisor.facts.values import read_fact
from advisor.faults import Place
from advisor.load.case import Case


@cache
def program():
    return Advisor()


KINDS = program().base.vocabulary.attribute("incident.what").values


def told(facts):
    """The case of some facts, as {'incident.what': 'rockfall', …}; only the incident's rules run
    unless facts of a plan come with them.
    """
    vocabulary, found = program().base.vocabulary, {}
    for key, raw in facts.items():
        entity, attribute = key.partition(".")[0], vocabulary.attribute(key)
        fact, message = read_fact(attribute, entity, raw, {}, "case file", Place("test"))
        assert fact, message
        found[entity, key] = fact
    names = {entity: {entity} for entity, _ in found}
    return Case(title="x", topics=("incident",), names=names, facts=found)


def response(what, **facts):
    """The response to one incident; `can_hold_on='no'` is incident.can hold on, other entities
    are written with two underscores: `pitch__water='dry'`.
    """
    given = {"incident.what": what}
    for name, raw in facts.items():
        entity, parted, attribute = name.partition("__")
        key = f"{entity}.{attribute}" if parted else f"incident.{entity}"
        given[key.replace("_", " ")] = raw
    return program().advise(told(given)).response


def certain(answer, part="steps"):
    """Rules of the lines that hang on nothing open."""
    return [line.rule for line in getattr(answer, part) if not line.when]


def open_lines(answer, part="steps"):
    """{rule: the condition still open}"""
    return {line.rule: line.when for line in getattr(answer, part) if line.when}
