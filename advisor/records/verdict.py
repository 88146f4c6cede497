"""What the rules say of a piece of kit on its card, as they would of the same facts in a case."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.decide.verdicts import VERDICTS
from advisor.facts.values import read_fact
from advisor.faults import Fault, Faults, Place
from advisor.load.case import Case, nameable
from advisor.model.advice import Advice
from advisor.model.names import FINDING_ITEM
from advisor.records.card import Card
from advisor.records.laid import facts_of

if TYPE_CHECKING:
    from advisor.advise import Advisor

FIT = ("keep", "keep and watch")
LADDER, KIT = "ladder", "kit"  # what a piece is a thing of
# What a piece comes to that is dirty, or of which too little is known: looked at again it may pass.
OPEN = "clean and look again"


def case_of(advisor: Advisor, card: Card) -> Case:
    """A card as a case about kit: its facts, and what was found since it was last examined. Raises
    Faults for what the rules do not read any more: left out, it would speak for the piece.
    """
    vocabulary = advisor.base.vocabulary
    facts = list(facts_of(card))
    whole = f"{LADDER if card.type == LADDER else KIT} {card.mark}"
    for entry in card.findings:
        for n, finding in enumerate(entry.body["findings"], 1):
            thing = f"finding {entry.number} {n}"
            facts.append((thing, FINDING_ITEM, whole))
            facts += [(thing, f"finding.{name}", str(raw)) for name, raw in finding.items()]
    case = Case(f"{card.mark} on {card.on.isoformat()}", topics=("kit",), about=("kit",))
    for thing in (whole, *(thing for thing, _, _ in facts)):
        found = vocabulary.split(thing)
        if found:
            case.names.setdefault(found[0].name, set()).add(thing)
    for thing, key, raw in facts:
        fact, message = None, "no such fact"
        attribute = vocabulary.attribute(key)
        if attribute:
            names, said_by = nameable(advisor.base, case.names), f"records of {card.mark}"
            fact, message = read_fact(attribute, thing, raw, names, said_by, Place(""))
        if fact is None or message:
            text = f"its entries say '{raw}', which is not read here ({message}); tell it anew."
            raise Faults([Fault(Place(f"{card.mark}, {key}"), text)])
        case.facts[thing, key] = fact
    return case


def advice_on(advisor: Advisor, card: Card) -> Advice:
    """The advice on a piece of kit as it stands on its card, by the built-in rules: what it comes
    to is stated in a plan, where local guidance has its own say.
    """
    judge = advisor.built_in or advisor
    return judge.advise(case_of(judge, card))


def verdict(advice: Advice) -> str:
    """The verdict on the one piece an advice is about: the gravest on it or on any part of it."""
    return max((item.verdict for item in advice.items), key=VERDICTS.index, default="")


def takes_out(advisor: Advisor, word: str) -> bool:
    """Whether a verdict takes a piece out of use until somebody puts it right."""
    out = advisor.base.out_of_use
    return bool(word and out) and VERDICTS.index(word) >= VERDICTS.index(out["from"])


def passes(advisor: Advisor, card: Card) -> bool | None:
    """Whether a piece is fit for use by the rules; None where that is not known, or the card is of
    no piece.
    """
    advice = advice_on(advisor, card)
    bad = [item for item in advice.items if item.verdict not in FIT]
    if advice.stops or any(item.verdict != OPEN for item in bad):
        return False
    return True if advice.items and not bad else None
