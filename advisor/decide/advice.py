"""The advice as plain data, by the outside contract: everything a reader needs, each item with its
derivation.
"""

from __future__ import annotations

from advisor.decide.calculations import calculation_list, calculation_text
from advisor.decide.derivations import Derivations, fact_id, fact_list
from advisor.decide.firing import Unknowns, fill, firings, known_value, name_of
from advisor.decide.questions import question_list
from advisor.decide.sequence import response
from advisor.decide.verdicts import item_id, out_of_use, verdicts
from advisor.load.base import VERSION
from advisor.model.rule import TEMPLATE

SCHEMA = "ladder-pitch-advisor/advice/1"
SEVERITY = ("danger", "caution", "note")
STRENGTH = ("must", "should", "may")


class Advice:
    """Builds the advice of one evaluated case; `data` is the result (JSON types only)."""

    def __init__(self, base, case, outcome, choices, engines):
        self.base, self.case, self.world, self.choices, self.outcome = (
            base,
            case,
            outcome.world,
            choices,
            outcome,
        )
        self.found = firings(base, outcome.instances)
        self.unknowns = Unknowns(base, outcome)
        self.derivations = Derivations(base, outcome)
        self.worked = outcome.worked
        self.data = self._data(engines)

    def _data(self, engines):
        steps, do_not, calls = response(self.base, self.world, self.found)
        judged = verdicts(self.base, self.world, self.found)
        data = {
            "schema": SCHEMA,
            "rule_base": {"version": VERSION, "sha256": self.base.sha256},
            "checked_by": engines,
            "case": self.case.title,
            "about": list(self.case.topics),
            "local": None,
            "calculations": calculation_list(self.base, self.world, self.worked, self.derivations),
            "stops": self._stops(judged),
            "decisions": self._decisions(),
            "requirements": self._list("require", "strength", STRENGTH),
            "warnings": self._list("warn", "severity", SEVERITY),
            "response": self._response(steps, do_not, calls),
            "items": [self._verdict(v) for v in judged],
            "hazards": self._hazards(),
            "refer": self._refer(),
            "cautions": [*self.base.cautions, self.base.last_word],
        }
        data["open_questions"] = question_list(
            self.base,
            self.world,
            self.found,
            self.choices,
            judged,
            self.unknowns,
            self.derivations,
            self._text,
        )
        if "plan" in self.case.topics:
            data["decisions"]["go"] = self._go(data["stops"], data["open_questions"])
        data["facts"] = fact_list(self.base, self.case, self.world, self.derivations)
        data["derivations"] = self.derivations.used()
        return data

    def _text(self, firing, key="text"):
        return fill(self.base, self.world, firing.details[key], firing.bound)

    def _item(self, firing, text, **more):
        rule = firing.rule
        return {
            "id": firing.derivation,
            "rule": rule.id,
            "text": text,
            "because": fill(self.base, self.world, rule.because, firing.bound),
            "sources": list(rule.sources),
            "status": rule.status,
            "derivation": self.derivations.of(firing.instance),
            **more,
        }

    def _sure(self, kind):
        return [f for f in self.found.get(kind, ()) if f.truth == 2]

    def _stops(self, judged):
        stops = [self._item(f, self._text(f)) for f in self._sure("stop")]
        for name, choice in self.choices.items():
            if choice.standing == "stop":
                ids = [self.derivations.of(f.instance) for f in choice.ruled_out]
                stops.append(
                    {
                        "id": f"no option left: {name}",
                        "rule": choice.ruled_out[0].rule.id,
                        "text": self.base.decisions[name]["none left"],
                        "because": "Every option is ruled out.",
                        "sources": sorted({s for f in choice.ruled_out for s in f.rule.sources}),
                        "status": choice.ruled_out[0].rule.status,
                        "derivation": ids[0],
                        "derivations": ids,
                    }
                )
        return stops + [
            self._out_of_use(v) for v in out_of_use(self.base, judged, self.outcome.instances)
        ]

    def _out_of_use(self, v):
        text = self.base.out_of_use["stop"].format(
            item=self._name(v), verdict=v.reasons[0].details["give"]
        )
        return {**self._item(v.reasons[0], text), "id": f"out of use: {item_id(v)}"}

    def _name(self, v):
        return name_of(self.base, v.entity) + (f", {v.part}" if v.part else "")

    def _list(self, kind, grade, order):
        items = [
            self._item(f, self._text(f), **{grade: f.details[grade]}) for f in self._sure(kind)
        ]
        return sorted(items, key=lambda i: order.index(i[grade]))

    def _refer(self):
        return [
            self._item(
                f,
                f"Ask {fill(self.base, self.world, f.details['to'], f.bound)}:"
                f" {self._text(f, 'about')}",
                to=f.details["to"],
            )
            for f in self._sure("refer")
        ]

    def _hazards(self):
        """Hazards that exist (sure) or may exist, each with the rules that control it."""
        rules = {r.id: r for r in self.base.rules}
        return [
            self._item(
                f,
                self._text(f, "hazard"),
                who=self._text(f, "who"),
                sure=f.truth == 2,
                controls=[{"rule": c, "title": _title(rules[c])} for c in f.details["controls"]],
            )
            for f in self.found.get("hazard", ())
        ]

    def _option(self, option):
        return name_of(self.base, option) if option in self.world.bits else option

    def _decisions(self):
        """Every decision of the topics at hand, in the order of decisions.yaml."""
        found = {}
        for name, spec in self.base.decisions.items():
            if name in self.choices:
                found[name] = self._decision(self.choices[name])
            elif "by" in spec:
                found.update(
                    {
                        name: self._worked_out(done)
                        for done in self.worked
                        if done.calculation.id == spec["by"]
                    }
                )
        return found

    def _worked_out(self, done):
        """A decision that a calculation makes: firm when every number it rests on is exact."""
        derivation = self.derivations.calculation(done)
        text = calculation_text(self.base, self.world, done)
        open_ = sorted(fact_id(*ref) for ref in self.unknowns.settle(done.looked_at))
        names = " + ".join(name_of(self.base, n) for n in done.named)
        reason = {
            "id": derivation,
            "rule": done.calculation.id,
            "text": text,
            "because": done.calculation.because,
            "sources": list(done.calculation.sources),
            "status": done.calculation.status,
            "derivation": derivation,
        }
        return {
            "choice": names or None,
            "equal": [],
            "standing": "provisional" if open_ or done.low is None else "firm",
            "reasons": [reason],
            "alternatives": [],
            "open": open_,
        }

    def _decision(self, choice):
        reasons = [self._item(f, f.rule.title) for f in choice.reasons]
        lost = [
            {
                "option": self._option(option),
                "lost_because": self._lost(concern, beat),
                "derivations": [self.derivations.of(f.instance) for f in beat],
            }
            for option, concern, beat in choice.alternatives
        ]
        if choice.standing == "stop":
            reasons = [
                self._item(f, f.rule.title, option=self._option(self._of(f)))
                for f in choice.ruled_out
            ]
        open_ = sorted(
            {
                f"{e}.{k.partition('.')[2]}"
                for f in choice.open
                for e, k in self.unknowns.behind(f.instance)
            }
        )
        return {
            "choice": self._option(choice.option) if choice.option else None,
            "equal": [self._option(o) for o in choice.equal],
            "standing": choice.standing,
            "reasons": reasons,
            "alternatives": lost,
            "open": open_,
        }

    @staticmethod
    def _of(firing):
        return (
            firing.bound[firing.details["option"]]
            if firing.details["variable"]
            else firing.details["option"]
        )

    def _lost(self, concern, beat):
        if not beat:
            return "it stands lower on a concern that comes first"
        first = max(
            beat, key=lambda f: (f.kind == "disfavour", f.details.get("strength") == "should")
        )  # what weighed most
        text = fill(self.base, self.world, first.rule.because, first.bound).rstrip(".")
        return (
            f"{concern or ('not yet shown to be allowed' if first.truth == 1 else 'ruled out')}:"
            f" {text}"
        )

    def _go(self, stops, questions):
        blocked = [q["fact"] for q in questions if q["gravity"] == "stop"]
        elsewhere = [
            spec["means no pitch"]
            for name, spec in self.base.decisions.items()
            if "means no pitch" in spec
            and name in self.choices
            and self.choices[name].option == spec["means no pitch"]
        ]
        choice = (
            "do not go on"
            if stops
            else (
                "not yet"
                if blocked
                else elsewhere[0]
                if elsewhere
                else "nothing found that forbids it"
            )
        )
        reasons = stops or [q for q in questions if q["gravity"] == "stop"]
        return {
            "choice": choice,
            "equal": [],
            "standing": "stop" if stops else "provisional" if blocked else "firm",
            "reasons": [
                {k: r[k] for k in ("id", "text", "because", "sources", "derivation")}
                for r in reasons
            ],
            "alternatives": [],
            "open": [] if stops else blocked,
        }

    def _verdict(self, v):
        open_ = sorted(
            {
                f"{e}.{k.partition('.')[2]}"
                for f in v.open
                for e, k in self.unknowns.behind(f.instance)
            }
        )
        return {
            "id": item_id(v),
            "item": self._name(v),
            "verdict": v.verdict,
            "standing": v.standing,
            "open": open_,
            "reasons": [
                self._item(f, fill(self.base, self.world, f.rule.title, f.bound)) for f in v.reasons
            ],
        }

    def _response(self, steps, do_not, calls):
        if not steps:
            return None

        def line(firing, key):
            when = (
                ""
                if firing.truth == 2
                else fill(
                    self.base, self.world, firing.rule.when or firing.rule.title, firing.bound
                )
            )
            return self._item(firing, self._text(firing, key), when=when)

        return {
            "incident": known_value(self.base, self.world, "incident", "incident.what"),
            "steps": [line(f, "do") for f in steps],
            "do_not": [line(f, "text") for f in do_not],
            "call_now": [line(f, "text") for f in calls],
        }


def _title(rule) -> str:
    """A rule's title where it speaks of no particular entity: 'the anchor' for {a}."""
    kinds = dict(rule.variables)

    def words(match):
        variable, _, attribute = match.group(1).partition(".")
        return f"the {kinds.get(variable, variable)}" + (f"'s {attribute}" if attribute else "")

    return TEMPLATE.sub(words, rule.title)
