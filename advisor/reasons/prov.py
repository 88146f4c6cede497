"""Where everything came from, in the W3C's PROV-JSON form: facts and conclusions as entities,
each firing of a rule or calculation
as an activity that used facts and followed a rule, rules with their sources, and who said what as
agents.
"""

from __future__ import annotations

from typing import Any

from advisor.facts.values import CASE_FILE
from advisor.model.advice import Advice, FactTold
from advisor.model.base import Base
from advisor.reasons.tree import Applied, Fact, Tree, conclusions

PREFIX = {
    "lpa": "urn:ladder-pitch-advisor:",
    "src": "urn:ladder-pitch-advisor:source:",
    "rule": "urn:ladder-pitch-advisor:rule:",
}


class Graph:
    """Collects the records of a document; identifiers are short and stable for the same advice."""

    def __init__(self) -> None:
        self.records: dict[str, dict[str, Any]] = {"prefix": dict(PREFIX)}
        self.count: dict[str, int] = {}

    def node(self, kind: str, identity: str, **attributes: Any) -> None:
        """An entity, activity or agent."""
        self.records.setdefault(kind, {})[identity] = {
            name.replace("_", ":", 1): value for name, value in attributes.items() if value != ""
        }

    def tie(self, relation: str, **ends: str) -> None:
        """A relation between two records."""
        number = self.count[relation] = self.count.get(relation, 0) + 1
        self.records.setdefault(relation, {})[f"_:{relation}{number}"] = {
            f"prov:{end}": value for end, value in ends.items()
        }


def provenance(advice: Advice, base: Base) -> dict[str, Any]:
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
    tree = Tree(base, advice)
    firings = _firings(graph, tree, names)
    _conclusions(graph, advice, firings)
    for fact in advice.facts:
        for applied in tree.fact(fact.id).below:
            graph.tie("wasGeneratedBy", entity=names[fact.id], activity=firings[applied.id])
    return graph.records


def _facts(graph: Graph, advice: Advice, names: dict[str, str]) -> None:
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


def _speaker(fact: FactTold) -> str:
    """Who said a fact; a case and the cases below it are one speaker."""
    return CASE_FILE if fact.said_by.startswith(CASE_FILE) else fact.said_by


def _firings(graph: Graph, tree: Tree, names: dict[str, str]) -> dict[str, str]:
    """{derivation id: activity}."""
    found: dict[str, str] = {}
    plans = Plans(graph, tree.base)
    for number, applied in enumerate(tree, 1):
        activity = found[applied.id] = f"lpa:firing{number}"
        graph.node(
            "activity",
            activity,
            prov_label=applied.id,
            lpa_sure="yes" if applied.derivation.sure else "no",
            lpa_absences="; ".join(applied.derivation.absences),
        )
        for fact in applied.facts:
            graph.tie("used", activity=activity, entity=_looked_at(graph, fact, names))
        if applied.rule or applied.sources:
            graph.tie("used", activity=activity, entity=plans.of(applied))
    return found


def _looked_at(graph: Graph, fact: Fact, names: dict[str, str]) -> str:
    """A fact that was looked at, also one that nobody stated."""
    if fact.id not in names:
        names[fact.id] = f"lpa:fact{len(names) + 1}"
        graph.node(
            "entity",
            names[fact.id],
            prov_label=fact.id,
            lpa_value="not known",
            lpa_state="unknown",
        )
    return names[fact.id]


class Plans:
    """The rules and calculations that were followed, once each, with their sources."""

    def __init__(self, graph: Graph, base: Base) -> None:
        self.graph, self.base = graph, base
        self.rules: dict[str, str] = {}
        self.sources: dict[str, str] = {}

    def of(self, applied: Applied) -> str:
        """The entity of a rule or calculation."""
        if applied.name not in self.rules:
            rule = self.rules[applied.name] = f"rule:r{len(self.rules) + 1}"
            self.graph.node(
                "entity",
                rule,
                prov_label=applied.name,
                lpa_title=applied.title,
                prov_type={"$": "prov:Plan", "type": "prov:QUALIFIED_NAME"},
            )
            for source in applied.sources:
                used = self._source(source)
                self.graph.tie("wasDerivedFrom", generatedEntity=rule, usedEntity=used)
        return self.rules[applied.name]

    def _source(self, source: str) -> str:
        if source not in self.sources:
            self.sources[source] = f"src:s{len(self.sources) + 1}"
            spec = self.base.sources[source]
            self.graph.node(
                "entity",
                self.sources[source],
                prov_label=spec["title"],
                lpa_publisher=spec["publisher"],
                lpa_year=str(spec.get("year", "unknown")),
                lpa_read=spec["read"],
            )
        return self.sources[source]


def _conclusions(graph: Graph, advice: Advice, firings: dict[str, str]) -> None:
    """Everything the advice says as an entity generated by its firings."""
    for number, said in enumerate(conclusions(advice), 1):
        entity = f"lpa:advice{number}"
        graph.node("entity", entity, prov_label=said.id, lpa_text=said.text)
        graph.tie("wasAttributedTo", entity=entity, agent="lpa:program")
        for identity in dict.fromkeys(said.behind):
            graph.tie("wasGeneratedBy", entity=entity, activity=firings[identity])
