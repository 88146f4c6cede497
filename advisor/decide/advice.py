"""Puts the answer together: the records of advisor/model/advice.py, each with its derivation."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from advisor.decide.calculations import calculation_list
from advisor.decide.checks import check_list
from advisor.decide.controls import Controls
from advisor.decide.decisions import decisions, go
from advisor.decide.derivations import fact_id, fact_list
from advisor.decide.doubt import contradictions
from advisor.decide.firing import Found, firings, given, name_of, open_words
from advisor.decide.items import Teller
from advisor.decide.questions import Open, noted, question_list
from advisor.decide.sequence import happening, response
from advisor.decide.verdicts import (
    item_id,
    out_of_use,
    told,
    verdict_of,
    verdicts,
    what_was_found,
)
from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.model import effects
from advisor.model.advice import (
    SEVERITY,
    STRENGTH,
    Advice,
    Contradiction,
    Decision,
    First,
    Ground,
    Hazard,
    KitVerdict,
    Referral,
    Requirement,
    Response,
    RuleBase,
    Step,
    Stop,
    Warned,
)
from advisor.model.base import VERSION, Base
from advisor.model.outcome import Choice, Firing, Judged, Outcome

if TYPE_CHECKING:
    from advisor.load.case import Case


def tell(
    base: Base, case: Case, outcome: Outcome, choices: dict[str, Choice], engines: Sequence[str]
) -> Advice:
    """The advice of one evaluated case; `engines`: the names of those that agreed on it."""
    teller, world = Teller(base, outcome), outcome.world
    found = firings(base, outcome.instances)
    judged = verdicts(base, world, found)
    found = told(judged, found)
    stops = _stops(teller, found, choices, judged)
    made = decisions(teller, choices, outcome.worked)
    calculations = calculation_list(base, world, outcome.worked, teller.derivations)
    requirements, warnings = _requirements(teller, found), _warnings(teller, found)
    answer, refer = _response(teller, found), _refer(teller, found)
    hazards = _hazards(teller, found, Controls(base, outcome, case.topics, teller.unknowns))
    items = tuple(_verdict(teller, v) for v in judged)
    named = frozenset(kind for kind, ids in case.names.items() if ids)
    left = Open(
        base,
        world,
        found,
        choices,
        judged,
        teller.unknowns,
        teller.text,
        plan="plan" in case.topics,
        named=named,
    )
    first = tuple(teller.item(First, f, teller.text(f)) for f, _ in given(found, effects.First, 2))
    against = _contradictions(teller, outcome)
    notes, moment = noted(left), moment_of(case)
    checks = check_list(teller, notes) if left.plan and "incident" not in case.topics else ()
    if left.plan and moment == AT_HOME:  # what is only seen on the spot is no question before
        by_key = base.vocabulary.by_key
        notes = {ref: could for ref, could in notes.items() if not by_key[ref.key].on_the_spot}
    questions = question_list(left, notes, teller.derivations)
    if left.plan:
        made["go"] = go(base, choices, stops, (*against, *first), questions, checks, moment)
    # Facts and derivations come last, for only now is it known which were asked for.
    return Advice(
        rule_base=RuleBase(version=VERSION, sha256=base.sha256),
        checked_by=tuple(engines),
        case=case.title,
        about=tuple(case.topics),
        moment=moment,
        on_file=case.on_file,
        calculations=calculations,
        stops=stops,
        first=first,
        contradictions=against,
        decisions=made,
        requirements=requirements,
        warnings=warnings,
        response=answer,
        items=items,
        hazards=hazards,
        refer=refer,
        open_questions=questions,
        checks=checks,
        cautions=(*base.cautions, base.last_word),
        facts=fact_list(base, case, teller.derivations),
        derivations=teller.derivations.used(),
    )


def decided(base: Base, outcome: Outcome, choices: dict[str, Choice]) -> dict[str, Decision]:
    """The decisions of one evaluated case alone, without whether to go, which rests on all the
    rest of the advice.
    """
    return decisions(Teller(base, outcome), choices, outcome.worked)


def moment_of(case: Case) -> str:
    """The moment at which a case is advised on: where something has happened, people are there."""
    return AT_THE_HEAD if "incident" in case.topics else case.at


def _contradictions(teller: Teller, outcome: Outcome) -> tuple[Contradiction, ...]:
    """Facts that cannot all be true, shown by the run in which they were not yet doubted."""
    if outcome.against is None:
        return ()
    earlier = Teller(teller.base, outcome.against)
    against = {item for item, _ in contradictions(teller.base, outcome.against)}
    shown = firings(teller.base, against)
    found = tuple(
        earlier.item(
            Contradiction,
            firing,
            earlier.text(firing),
            facts=tuple(fact_id(*ref.at(firing.bound)) for ref in effect.between),
        )
        for firing, effect in given(shown, effects.Contradiction, 2)
    )
    teller.derivations.take(earlier.derivations)
    return found


def _stops(
    teller: Teller,
    found: Found,
    choices: dict[str, Choice],
    judged: Sequence[Judged],
) -> tuple[Stop, ...]:
    said = (f for f, _ in given(found, effects.Stop, 2))
    none_left = (c for c in choices.values() if c.standing == "stop")
    worn_out = out_of_use(teller.base, judged)
    return (
        *(teller.item(Stop, f, teller.text(f)) for f in said),
        *(_none_left(teller, choice) for choice in none_left),
        *(_out_of_use(teller, v) for v in worn_out),
    )


def _none_left(teller: Teller, choice: Choice) -> Stop:
    behind = tuple(teller.derivations.of(f.instance) for f in choice.ruled_out)
    first = choice.ruled_out[0].rule
    return Stop(
        id=f"no option left: {choice.decision}",
        rule=first.id,
        text=teller.base.decisions[choice.decision]["none left"],
        because="Every option is ruled out.",
        sources=tuple(sorted({s for f in choice.ruled_out for s in f.rule.sources})),
        status=first.status,
        derivation=behind[0],
        derivations=behind,
    )


def _out_of_use(teller: Teller, judged: Judged) -> Stop:
    worst = judged.reasons[0]
    words = teller.base.out_of_use["part" if judged.part else "stop"]
    text = words.format(
        item=name_of(teller.base, judged.entity), part=judged.part, verdict=verdict_of(worst)
    )
    return teller.item(Stop, worst, text, id=f"out of use: {item_id(judged)}")


def _requirements(teller: Teller, found: Found) -> tuple[Requirement, ...]:
    items = (
        teller.item(Requirement, f, teller.text(f), strength=effect.strength)
        for f, effect in given(found, effects.Require, 2)
    )
    return tuple(sorted(items, key=lambda item: STRENGTH.index(item.strength)))


def _warnings(teller: Teller, found: Found) -> tuple[Warned, ...]:
    items = (
        teller.item(Warned, f, teller.text(f), severity=effect.severity)
        for f, effect in given(found, effects.Warn, 2)
    )
    return tuple(sorted(items, key=lambda item: SEVERITY.index(item.severity)))


def _refer(teller: Teller, found: Found) -> tuple[Referral, ...]:
    return tuple(
        teller.item(Referral, f, f"Ask {teller.fill(effect.to, f)}: {teller.text(f)}", to=effect.to)
        for f, effect in given(found, effects.Refer, 2)
    )


def _hazards(teller: Teller, found: Found, controls: Controls) -> tuple[Hazard, ...]:
    """Hazards that exist (sure) or may exist, each with its controls and how they stand."""
    return tuple(
        teller.item(
            Hazard,
            f,
            teller.text(f),
            who=teller.fill(effect.who, f),
            sure=f.truth == 2,
            controls=controls.told(effect.controls),
        )
        for f, effect in given(found, effects.Hazard)
    )


def _verdict(teller: Teller, judged: Judged) -> KitVerdict:
    return KitVerdict(
        id=item_id(judged),
        item=teller.piece(judged),
        verdict=judged.verdict,
        standing=judged.standing,
        open=teller.open_facts(judged.open),
        reasons=_grounds(teller, judged.reasons),
        beside=_grounds(teller, judged.beside),
    )


def _grounds(teller: Teller, firings: Sequence[Firing]) -> tuple[Ground, ...]:
    return tuple(
        teller.item(
            Ground,
            f,
            teller.fill(f.rule.title, f),
            found=what_was_found(teller.base, teller.world, f),
        )
        for f in firings
    )


def _response(teller: Teller, found: Found) -> Response | None:
    parts = response(teller.base, teller.world, found)
    if not parts.get("steps"):
        return None
    told = {part: tuple(_step(teller, f) for f in lines) for part, lines in parts.items()}
    return Response(
        incident=", and ".join(happening(teller.base, teller.world)),
        steps=told["steps"],
        do_not=_once(told["do_not"]),
        call_now=_once(told["call_now"]),
        say=_once(told["say"]),
    )


def _once(lines: Sequence[Step]) -> tuple[Step, ...]:
    """Lines of a response without those that say again what another says."""
    return tuple({(line.text, line.when): line for line in reversed(lines)}.values())[::-1]


def _step(teller: Teller, firing: Firing) -> Step:
    when = "" if firing.truth == 2 else open_words(teller.base, teller.world, firing)
    return teller.item(Step, firing, teller.text(firing), when=when)
