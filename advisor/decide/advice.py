"""Puts the answer together: the records of advisor/model/advice.py, each with its derivation."""

from __future__ import annotations

from advisor.decide.calculations import calculation_list, calculation_text
from advisor.decide.derivations import Derivations, fact_id, fact_list
from advisor.decide.firing import Unknowns, fill, firings, known_value, name_of
from advisor.decide.questions import Open, question_list
from advisor.decide.sequence import response
from advisor.decide.verdicts import item_id, out_of_use, verdicts
from advisor.model.advice import (
    CLEAR,
    NOT_YET,
    SEVERITY,
    STOPPED,
    STRENGTH,
    Advice,
    Alternative,
    Control,
    Decision,
    Hazard,
    Item,
    KitVerdict,
    Reason,
    Referral,
    Requirement,
    Response,
    RuleBase,
    Step,
    Stop,
    Warned,
)
from advisor.model.base import VERSION
from advisor.model.effects import TEMPLATE
from advisor.model.names import INCIDENT_KIND


def tell(base, case, outcome, choices, engines) -> Advice:
    """The advice of one evaluated case; `engines`: the names of those that agreed on it."""
    return _Teller(base, case, outcome, choices).advice(tuple(engines))


class _Teller:
    """Turns the firings of one run into records."""

    def __init__(self, base, case, outcome, choices):
        self.base, self.case, self.choices, self.outcome = base, case, choices, outcome
        self.world, self.worked = outcome.world, outcome.worked
        self.found = firings(base, outcome.instances)
        self.unknowns = Unknowns(base, outcome)
        self.derivations = Derivations(base, outcome)

    def advice(self, engines) -> Advice:
        judged = verdicts(self.base, self.world, self.found)
        stops, decisions = self._stops(judged), self._decisions()
        told = {
            "calculations": calculation_list(self.base, self.world, self.worked, self.derivations),
            "requirements": self._graded(Requirement, "require", "strength", STRENGTH),
            "warnings": self._graded(Warned, "warn", "severity", SEVERITY),
            "response": self._response(),
            "items": tuple(self._verdict(v) for v in judged),
            "hazards": self._hazards(),
            "refer": self._refer(),
        }
        questions = question_list(self._open(judged), self.derivations)
        if "plan" in self.case.topics:
            decisions["go"] = self._go(stops, questions)
        # Last, for only now is it known which facts and derivations were asked for.
        facts = fact_list(self.base, self.case, self.world, self.derivations)
        return Advice(
            rule_base=RuleBase(version=VERSION, sha256=self.base.sha256),
            checked_by=engines,
            case=self.case.title,
            about=tuple(self.case.topics),
            stops=stops,
            decisions=decisions,
            open_questions=questions,
            cautions=(*self.base.cautions, self.base.last_word),
            facts=facts,
            derivations=self.derivations.used(),
            **told,
        )

    def _open(self, judged) -> Open:
        return Open(
            self.base, self.world, self.found, self.choices, judged, self.unknowns, self._text
        )

    def _text(self, firing):
        return fill(self.base, self.world, firing.effect.text, firing.bound)

    def _item(self, firing, text, kind=Item, **more):
        rule = firing.rule
        return kind(
            id=more.pop("id", firing.derivation),
            rule=rule.id,
            text=text,
            because=fill(self.base, self.world, rule.because, firing.bound),
            sources=tuple(rule.sources),
            status=rule.status,
            derivation=self.derivations.of(firing.instance),
            **more,
        )

    def _sure(self, kind):
        return [f for f in self.found.get(kind, ()) if f.truth == 2]

    def _stops(self, judged) -> tuple[Stop, ...]:
        none_left = (c for c in self.choices.values() if c.standing == "stop")
        worn_out = out_of_use(self.base, judged, self.outcome.instances)
        return (
            *(self._item(f, self._text(f), Stop) for f in self._sure("stop")),
            *(self._none_left(choice) for choice in none_left),
            *(self._out_of_use(v) for v in worn_out),
        )

    def _none_left(self, choice) -> Stop:
        behind = tuple(self.derivations.of(f.instance) for f in choice.ruled_out)
        return Stop(
            id=f"no option left: {choice.decision}",
            rule=choice.ruled_out[0].rule.id,
            text=self.base.decisions[choice.decision]["none left"],
            because="Every option is ruled out.",
            sources=tuple(sorted({s for f in choice.ruled_out for s in f.rule.sources})),
            status=choice.ruled_out[0].rule.status,
            derivation=behind[0],
            derivations=behind,
        )

    def _out_of_use(self, v) -> Stop:
        text = self.base.out_of_use["stop"].format(
            item=self._name(v), verdict=v.reasons[0].effect.give
        )
        return self._item(v.reasons[0], text, Stop, id=f"out of use: {item_id(v)}")

    def _name(self, v):
        return name_of(self.base, v.entity) + (f", {v.part}" if v.part else "")

    def _graded(self, record, kind, grade, order) -> tuple:
        """The items of one kind, the gravest grade first."""
        found = self._sure(kind)
        items = (
            self._item(f, self._text(f), record, **{grade: getattr(f.effect, grade)}) for f in found
        )
        return tuple(sorted(items, key=lambda item: order.index(getattr(item, grade))))

    def _refer(self) -> tuple[Referral, ...]:
        def text(f):
            asked = fill(self.base, self.world, f.effect.to, f.bound)
            return f"Ask {asked}: {self._text(f)}"

        return tuple(self._item(f, text(f), Referral, to=f.effect.to) for f in self._sure("refer"))

    def _hazards(self) -> tuple[Hazard, ...]:
        """Hazards that exist (sure) or may exist, each with the rules that control it."""
        rules = {r.id: r for r in self.base.rules}

        def controls(f):
            return tuple(Control(rule=c, title=_title(rules[c])) for c in f.effect.controls)

        return tuple(
            self._item(
                f,
                self._text(f),
                Hazard,
                who=fill(self.base, self.world, f.effect.who, f.bound),
                sure=f.truth == 2,
                controls=controls(f),
            )
            for f in self.found.get("hazard", ())
        )

    def _option(self, option):
        return name_of(self.base, option) if option in self.world.bits else option

    def _decisions(self) -> dict[str, Decision]:
        """Every decision of the topics at hand, in the order of decisions.yaml."""
        found = {}
        for name, spec in self.base.decisions.items():
            if name in self.choices:
                found[name] = self._decision(self.choices[name])
            elif "by" in spec:
                for done in self.worked:
                    if done.calculation.id == spec["by"]:
                        found[name] = self._worked_out(done)
        return found

    def _worked_out(self, done) -> Decision:
        """A decision that a calculation makes: firm when every number it rests on is exact."""
        derivation = self.derivations.calculation(done)
        open_ = tuple(sorted(fact_id(*ref) for ref in self.unknowns.settle(done.looked_at)))
        reason = Reason(
            id=derivation,
            rule=done.calculation.id,
            text=calculation_text(self.base, self.world, done),
            because=done.calculation.because,
            sources=tuple(done.calculation.sources),
            status=done.calculation.status,
            derivation=derivation,
        )
        return Decision(
            choice=" + ".join(name_of(self.base, n) for n in done.named) or None,
            standing="provisional" if open_ or done.low is None else "firm",
            reasons=(reason,),
            open=open_,
        )

    def _decision(self, choice) -> Decision:
        lost = (
            Alternative(
                option=self._option(beaten.option),
                lost_because=self._lost(beaten.concern, beaten.by),
                derivations=tuple(self.derivations.of(f.instance) for f in beaten.by),
            )
            for beaten in choice.alternatives
        )
        if choice.standing == "stop":
            reasons = (
                self._item(f, f.rule.title, Reason, option=self._option(f.effect.of(f.bound)))
                for f in choice.ruled_out
            )
        else:
            reasons = (self._item(f, f.rule.title, Reason) for f in choice.reasons)
        return Decision(
            choice=self._option(choice.option) if choice.option else None,
            equal=tuple(self._option(o) for o in choice.equal),
            standing=choice.standing,
            reasons=tuple(reasons),
            alternatives=tuple(lost),
            open=self._open_facts(choice.open),
        )

    def _open_facts(self, firings) -> tuple[str, ...]:
        """Ids of the facts that keep some firings open."""
        return tuple(
            sorted({fact_id(*ref) for f in firings for ref in self.unknowns.behind(f.instance)})
        )

    def _lost(self, concern, beat):
        if not beat:
            return "it stands lower on a concern that comes first"
        first = max(
            beat,
            key=lambda f: (f.kind == "disfavour", getattr(f.effect, "strength", "") == "should"),
        )  # what weighed most
        text = fill(self.base, self.world, first.rule.because, first.bound).rstrip(".")
        return (
            f"{concern or ('not yet shown to be allowed' if first.truth == 1 else 'ruled out')}:"
            f" {text}"
        )

    def _go(self, stops, questions) -> Decision:
        """Whether to go on, by the stops and by the questions that could each bring one."""
        grave = tuple(q for q in questions if q.gravity == "stop")
        blocked = tuple(q.fact for q in grave)
        reasons = tuple(
            Reason(
                id=r.id,
                text=r.text,
                because=r.because,
                sources=r.sources,
                derivation=r.derivation,
            )
            for r in stops or grave
        )
        if stops:
            return Decision(choice=STOPPED, standing="stop", reasons=reasons)
        if blocked:
            return Decision(choice=NOT_YET, standing="provisional", reasons=reasons, open=blocked)
        return Decision(choice=self._elsewhere() or CLEAR, standing="firm")

    def _elsewhere(self) -> str:
        """The option chosen that leaves the pitch alone; '' where none is."""
        for name, choice in self.choices.items():
            if choice.option and choice.option == self.base.decisions[name].get("means no pitch"):
                return choice.option
        return ""

    def _verdict(self, v) -> KitVerdict:
        return KitVerdict(
            id=item_id(v),
            item=self._name(v),
            verdict=v.verdict,
            standing=v.standing,
            open=self._open_facts(v.open),
            reasons=tuple(
                self._item(f, fill(self.base, self.world, f.rule.title, f.bound)) for f in v.reasons
            ),
        )

    def _response(self) -> Response | None:
        steps, do_not, calls = response(self.base, self.world, self.found)
        if not steps:
            return None
        return Response(
            incident=known_value(self.base, self.world, *INCIDENT_KIND),
            steps=tuple(self._step(f) for f in steps),
            do_not=tuple(self._step(f) for f in do_not),
            call_now=tuple(self._step(f) for f in calls),
        )

    def _step(self, firing) -> Step:
        open_ = firing.rule.when or firing.rule.title
        when = "" if firing.truth == 2 else fill(self.base, self.world, open_, firing.bound)
        return self._item(firing, self._text(firing), Step, when=when)


def _title(rule) -> str:
    """A rule's title where it speaks of no particular entity: 'the anchor' for {a}."""
    kinds = dict(rule.variables)

    def words(match):
        variable, _, attribute = match.group(1).partition(".")
        return f"the {kinds.get(variable, variable)}" + (f"'s {attribute}" if attribute else "")

    return TEMPLATE.sub(words, rule.title)
