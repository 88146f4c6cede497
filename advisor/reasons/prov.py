"""Where everything came from, in the W3C's PROV-JSON form: facts and conclusions as entities,
each firing of a rule or calculation as an activity that the run started, that used facts and
followed a rule; rules with their sources; steps that were only rehearsed; and as agents who said
what, and on whose behalf, for it is the leader on the spot who decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from advisor.facts.values import CASE_FILE
from advisor.model.advice import Advice, FactTold, Response
from advisor.model.base import Base
from advisor.reasons.tree import Applied, Fact, Tree, conclusions

PREFIX = {
    "lpa": "urn:ladder-pitch-advisor:",
    "src": "urn:ladder-pitch-advisor:source:",
    "rule": "urn:ladder-pitch-advisor:rule:",
}


PROGRAM, DECIDER, RUN, WHOLE = "lpa:program", "lpa:decider", "lpa:run", "lpa:whole"
DECIDES = "the leader on the spot, who decides"


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
            f"prov:{end}": value for end, value in ends.items() if value
        }


def _kind(name: str) -> dict[str, str]:
    """What kind of thing a record is of, in the terms of the W3C."""
    return {"$": f"prov:{name}", "type": "prov:QUALIFIED_NAME"}


def provenance(
    advice: Advice,
    base: Base,
    times: tuple[str, str] = ("", ""),
    rehearsed: Sequence[Response] = (),
) -> dict[str, Any]:
    """The PROV-JSON document of one advice.

    times: when the run began and ended, as xsd:dateTime; empty where that is not told.
    rehearsed: responses to incidents that have not happened.
    """
    graph = Graph()
    names = {f.id: f"lpa:fact{n}" for n, f in enumerate(advice.facts, 1)}
    _run(graph, advice, times)
    _facts(graph, advice, names)
    tree = Tree(base, advice)
    plans = Plans(graph, base)
    firings = _firings(graph, tree, names, plans)
    _conclusions(graph, advice, firings)
    for fact in advice.facts:
        for applied in tree.fact(fact.id).below:
            graph.tie("wasGeneratedBy", entity=names[fact.id], activity=firings[applied.id])
    for number, response in enumerate(rehearsed, 1):
        _rehearsal(graph, response, number, plans)
    return graph.records


def _run(graph: Graph, advice: Advice, times: tuple[str, str]) -> None:
    """The run with its times, the program that made it, and the leader for whom it did."""
    began, ended = times
    graph.node(
        "agent", PROGRAM, prov_label="Ladder Pitch Advisor", prov_type=_kind("SoftwareAgent")
    )
    graph.node("agent", DECIDER, prov_label=DECIDES, prov_type=_kind("Person"))
    graph.tie("actedOnBehalfOf", delegate=PROGRAM, responsible=DECIDER, activity=RUN)
    graph.node(
        "entity",
        "lpa:rulebase",
        prov_label=f"rule base version {advice.rule_base.version}",
        lpa_sha256=advice.rule_base.sha256,
    )
    graph.node(
        "activity",
        RUN,
        prov_label="the run that gave this advice",
        prov_startTime=began,
        prov_endTime=ended,
        lpa_engines=", ".join(advice.checked_by),
    )
    graph.tie("used", activity=RUN, entity="lpa:rulebase")
    graph.tie("wasAssociatedWith", activity=RUN, agent=PROGRAM)
    graph.node(
        "entity", WHOLE, prov_label=advice.case or "the advice", prov_type=_kind("Collection")
    )
    graph.tie("wasGeneratedBy", entity=WHOLE, activity=RUN, time=ended)


def _rehearsal(graph: Graph, response: Response, number: int, plans: Plans) -> None:
    """The steps for an incident that is only supposed, each derived from its rule."""
    activity, supposed = f"lpa:rehearsal{number}", f"lpa:supposed{number}"
    graph.node("entity", supposed, prov_label=response.incident, lpa_state="supposed")
    graph.node("activity", activity, prov_label=f"rehearsal: {response.incident}")
    graph.tie("used", activity=activity, entity=supposed)
    graph.tie("wasStartedBy", activity=activity, starter=RUN)
    graph.tie("wasAssociatedWith", activity=activity, agent=PROGRAM)
    for count, step in enumerate(response.lines, 1):
        entity = f"lpa:rehearsed{number}-{count}"
        graph.node("entity", entity, prov_label=step.id, lpa_text=step.words, lpa_state="supposed")
        graph.tie("wasGeneratedBy", entity=entity, activity=activity)
        rule = plans.rule(step.rule)
        graph.tie("wasDerivedFrom", generatedEntity=entity, usedEntity=rule, activity=activity)


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


def _firings(graph: Graph, tree: Tree, names: dict[str, str], plans: Plans) -> dict[str, str]:
    """{derivation id: activity}."""
    found: dict[str, str] = {}
    for number, applied in enumerate(tree, 1):
        activity = found[applied.id] = f"lpa:firing{number}"
        graph.node(
            "activity",
            activity,
            prov_label=applied.id,
            lpa_sure="yes" if applied.derivation.sure else "no",
            lpa_absences="; ".join(applied.derivation.absences),
        )
        graph.tie("wasStartedBy", activity=activity, starter=RUN)
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
        return self._plan(applied.name, applied.title, applied.sources)

    def rule(self, identity: str) -> str:
        """The entity of a rule by its id."""
        rule = self.base.rule(identity)
        return self._plan(identity, rule.title if rule else identity, rule.sources if rule else ())

    def _plan(self, name: str, title: str, sources: Sequence[str]) -> str:
        if name not in self.rules:
            entity = self.rules[name] = f"rule:r{len(self.rules) + 1}"
            self.graph.node(
                "entity", entity, prov_label=name, lpa_title=title, prov_type=_kind("Plan")
            )
            for source in sources:
                used = self._source(source)
                self.graph.tie("wasDerivedFrom", generatedEntity=entity, usedEntity=used)
        return self.rules[name]

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
        graph.tie("wasAttributedTo", entity=entity, agent=PROGRAM)
        graph.tie("hadMember", collection=WHOLE, entity=entity)
        for identity in dict.fromkeys(said.behind):
            graph.tie("wasGeneratedBy", entity=entity, activity=firings[identity])
