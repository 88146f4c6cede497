"""Where everything came from, in the W3C's PROV-JSON form: facts and conclusions as entities,
each firing of a rule or calculation
as an activity that used facts and followed a rule, rules with their sources, and who said what as
agents.
"""

from __future__ import annotations

from advisor.facts.values import CASE_FILE

PREFIX = {
    "lpa": "urn:ladder-pitch-advisor:",
    "src": "urn:ladder-pitch-advisor:source:",
    "rule": "urn:ladder-pitch-advisor:rule:",
}


class Graph:
    """Collects the records of a document; identifiers are short and stable for the same advice."""

    def __init__(self):
        self.records, self.count = {"prefix": dict(PREFIX)}, {}

    def node(self, kind, identity, **attributes):
        """An entity, activity or agent."""
        self.records.setdefault(kind, {})[identity] = {
            name.replace("_", ":", 1): value for name, value in attributes.items() if value != ""
        }

    def tie(self, relation, **ends):
        """A relation between two records."""
        number = self.count[relation] = self.count.get(relation, 0) + 1
        self.records.setdefault(relation, {})[f"_:{relation}{number}"] = {
            f"prov:{end}": value for end, value in ends.items()
        }


def provenance(advice, base) -> dict:
    """The PROV-JSON document of one advice."""
    graph = Graph()
    names = {f.id: f"lpa:fact{n}" for n, f in enumerate(advice.facts, 1)}
    graph.node(
        "agent",
        "lpa:program",
        prov_label="Ladder Pitch Advisor",
        prov_type={"$": "prov:SoftwareAgent", "type": "prov:QUALIFIED_NAME"},
    )
    graph.node(
        "entity",
        "lpa:rulebase",
        prov_label=f"rule base version {advice.rule_base.version}",
        lpa_sha256=advice.rule_base.sha256,
    )
    graph.node("activity", "lpa:run", prov_label="the run that gave this advice")
    graph.tie("used", activity="lpa:run", entity="lpa:rulebase")
    graph.tie("wasAssociatedWith", activity="lpa:run", agent="lpa:program")
    _facts(graph, advice, names)
    firings = _firings(graph, advice, base, names)
    _conclusions(graph, advice, firings)
    for fact in advice.facts:
        for identity in fact.derivations:
            graph.tie("wasGeneratedBy", entity=names[fact.id], activity=firings[identity])
    return graph.records


def _facts(graph, advice, names):
    said = {_speaker(f) for f in advice.facts if not f.concluded}
    speakers = {name: f"lpa:speaker{n}" for n, name in enumerate(sorted(said), 1)}
    for name, identity in speakers.items():
        graph.node("agent", identity, prov_label=name)
    for fact in advice.facts:
        graph.node(
            "entity",
            names[fact.id],
            prov_label=fact.id,
            lpa_value=fact.value or "not known",
            lpa_state=fact.state,
            lpa_from=fact.said_by,
        )
        if _speaker(fact) in speakers:
            graph.tie("wasAttributedTo", entity=names[fact.id], agent=speakers[_speaker(fact)])


def _speaker(fact) -> str:
    """Who said a fact; a case and the cases below it are one speaker."""
    return CASE_FILE if fact.said_by.startswith(CASE_FILE) else fact.said_by


def _firings(graph, advice, base, names):
    """{derivation id: activity}."""
    found, rules, sources = {}, {}, {}
    numbers = {c.id: c for c in advice.calculations}
    for number, entry in enumerate(advice.derivations, 1):
        activity = found[entry.id] = f"lpa:firing{number}"
        graph.node(
            "activity",
            activity,
            prov_label=entry.id,
            lpa_sure="yes" if entry.sure else "no",
            lpa_absences="; ".join(entry.absences),
        )
        for fact in entry.facts:
            if fact not in names:
                names[fact] = f"lpa:fact{len(names) + 1}"
                graph.node(
                    "entity",
                    names[fact],
                    prov_label=fact,
                    lpa_value="not known",
                    lpa_state="unknown",
                )
            graph.tie("used", activity=activity, entity=names[fact])
        rule = base.rule(entry.rule) if entry.rule else None
        sourced = rule.sources if rule else numbers[entry.id].sources if entry.id in numbers else ()
        if rule or sourced:
            _plan(
                graph,
                activity,
                rule.id if rule else entry.id.partition(" [")[0],
                rule.title if rule else numbers[entry.id].title,
                sourced,
                base,
                rules,
                sources,
            )
    return found


def _plan(graph, activity, identity, title, sourced, base, rules, sources):
    """The rule or calculation a firing followed, once each, with its sources."""
    if identity not in rules:
        rules[identity] = f"rule:r{len(rules) + 1}"
        graph.node(
            "entity",
            rules[identity],
            prov_label=identity,
            lpa_title=title,
            prov_type={"$": "prov:Plan", "type": "prov:QUALIFIED_NAME"},
        )
        for source in sourced:
            if source not in sources:
                sources[source] = f"src:s{len(sources) + 1}"
                spec = base.sources[source]
                graph.node(
                    "entity",
                    sources[source],
                    prov_label=spec["title"],
                    lpa_publisher=spec["publisher"],
                    lpa_year=str(spec.get("year", "unknown")),
                    lpa_read=spec["read"],
                )
            graph.tie("wasDerivedFrom", generatedEntity=rules[identity], usedEntity=sources[source])
    graph.tie("used", activity=activity, entity=rules[identity])


def _conclusions(graph, advice, firings):
    """Every item of the advice as an entity generated by its firings."""
    for number, (label, text, identities) in enumerate(conclusions(advice), 1):
        entity = f"lpa:advice{number}"
        graph.node("entity", entity, prov_label=label, lpa_text=text)
        graph.tie("wasAttributedTo", entity=entity, agent="lpa:program")
        for identity in dict.fromkeys(identities):
            graph.tie("wasGeneratedBy", entity=entity, activity=firings[identity])


def conclusions(advice) -> list:
    """[(id, text, derivation ids)] of everything the advice says."""
    found = [(f"decision: {name}", d.words(), d.behind) for name, d in advice.decisions.items()]
    found += [(i.id, i.text, i.behind) for i in advice.said]
    found += [(i.id, i.verdict, i.behind) for i in advice.items]
    return found + [
        (i.id, i.text, i.behind) for i in (advice.response.lines if advice.response else ())
    ]
