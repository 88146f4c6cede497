"""What a paper is written about: one run of a case, with the runs of the incidents that go with
it.
"""

from __future__ import annotations

import hashlib

from msgspec import Struct, field
from msgspec.structs import replace

from advisor.decide.names import source_name
from advisor.facts.values import CASE_FILE, read_fact
from advisor.faults import Place
from advisor.model import names
from advisor.model.advice import Advice
from advisor.papers.outline import headline
from advisor.pictures.view import View


class Subject(Struct):
    """view: the case as run; lists: rules/papers.yaml; date: as given or the day of the run;
    scale: words of the rating scale;
    guidance: the local guidance used, '' for none;
    responses: [(response, whether it is the case's own)]; times: when the run began and ended, as
    xsd:dateTime, empty where a date was given instead."""

    view: View
    lists: dict
    date: str
    scale: tuple = ()
    guidance: str = ""
    responses: list = field(default_factory=list)
    times: tuple[str, str] = ("", "")

    @property
    def advice(self) -> Advice:
        return self.view.advice

    @property
    def title(self) -> str:
        return self.view.case.title or "A ladder pitch"

    @property
    def version(self) -> str:
        """What tells this plan from another: its facts and the rules, by their fingerprints."""
        told = "\n".join(f"{f.id}={f.value}" for f in self.advice.facts if not f.concluded)
        facts = hashlib.sha256(f"{self.title}\n{told}".encode("utf-8", "replace")).hexdigest()
        return f"plan {facts[:8]}, rules {self.advice.rule_base.sha256[:8]}"

    def headline(self) -> str:
        """The first word on the whole: stop, not yet, nothing found that forbids it …"""
        return headline(self.advice)

    def source(self, identity: str) -> str:
        """A source in a few words."""
        return source_name(self.view.base, identity)


def subject(advisor, case, date, lists, scale=()) -> Subject:
    """Run a case and the incidents that belong in its paper."""
    run = advisor.answer(case)
    advice = run.advice
    # Pictures and tables show the built-in numbers.
    stated = advisor.stated(case) if advisor.local else run
    guidance = advisor.local.called if advisor.local else ""
    view = View(advisor.base, stated.case, stated.outcome.world, advice)
    named = lists["scales"].get(view.told(*names.RATING_SCALE), ())
    made = Subject(view, lists, date, scale or tuple(named), guidance)
    if advice.response:
        made.responses = [(advice.response, True)]
    elif "plan" in case.topics:
        made.responses = [
            (response, False)
            for response in (_rehearse(advisor, case, what) for what in lists["main incidents"])
            if response
        ]
    return made


def _rehearse(advisor, case, what):
    """The response to an incident that has not happened, on the plan's own facts; all that is told
    of it is its kind.
    """
    attribute = advisor.base.vocabulary.attribute(names.INCIDENT_KIND.key)
    fact, _ = read_fact(attribute, "incident", what, {}, CASE_FILE, Place("rules/papers.yaml"))
    kept = {key: value for key, value in case.facts.items() if key[0] != "incident"}
    made = replace(case, topics=("incident",), facts={**kept, ("incident", attribute.key): fact})
    return advisor.advise(made).response
