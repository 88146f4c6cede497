"""What to find out: the facts that could still bring a stop or change the advice, gravest first."""

from __future__ import annotations

from advisor.decide.derivations import fact_id
from advisor.decide.firing import name_of
from advisor.decide.verdicts import takes_out

GRAVITY = ("stop", "decision", "verdict", "requirement", "referral", "warning", "step")
_OF_KIND = {
    "stop": "stop",
    "require": "requirement",
    "refer": "referral",
    "warn": "warning",
    "ask": "warning",
}


def question_list(base, world, found, choices, judged, unknowns, derivations, text):
    """Open questions as items, each with its derivation; `text(firing, key)` fills in a firing's
    text.
    """
    asked = {}
    for kind, gravity in _OF_KIND.items():
        for firing in found.get(kind, ()):
            if kind == "ask" and firing.truth == 2:
                _note(
                    asked,
                    (_entity(firing), firing.details["key"]),
                    gravity,
                    firing,
                    firing.rule.title,
                )
            elif firing.truth == 1 and kind != "ask":
                for reference in unknowns.behind(firing.instance):
                    _note(
                        asked,
                        reference,
                        gravity,
                        firing,
                        text(firing, "about" if kind == "refer" else "text"),
                    )
    for name, choice in choices.items():
        for firing in choice.open:
            last = _may_leave_none(choice, firing)
            words = (
                base.decisions[name]["none left"]
                if last
                else f"the {name} may change: {firing.rule.title}"
            )
            for reference in unknowns.behind(firing.instance):
                _note(asked, reference, "stop" if last else "decision", firing, words)
    _verdicts(base, judged, unknowns, asked)
    if "incident.what" in world.columns:
        _branches(found, unknowns, asked, text, world)
    named = _unnamed(base, world, choices, derivations)
    return named + [
        _item(base, reference, notes, derivations)
        for reference, notes in sorted(asked.items(), key=_order)
    ]


def _verdicts(base, judged, unknowns, asked):
    """Note what verdicts on the kit still turn on."""
    for verdict in judged:
        for firing in verdict.open:
            gravity = "stop" if takes_out(base, firing) else "verdict"
            words = f"{firing.details['give']}: {firing.rule.title}"
            for reference in unknowns.behind(firing.instance):
                _note(asked, reference, gravity, firing, words)


def _may_leave_none(choice, firing) -> bool:
    """A winner that may yet be ruled out means that no option is certainly allowed: then nothing
    may be left at all.
    """
    details = firing.details
    return firing.kind == "rule out" and (
        firing.bound.get(details["option"]) if details["variable"] else details["option"]
    ) in (choice.option, *choice.equal)


def _unnamed(base, world, choices, derivations) -> list:
    """Questions for decisions with nothing to choose from: no plan is clear while nobody has named
    an anchor.
    """
    found = []
    for name in choices:
        kind = base.decisions[name].get("each")
        if kind and not world.kinds[kind]:
            reason = base.decisions[name]["none left"]
            found.append(
                {
                    "id": f"open: {kind}",
                    "fact": kind,
                    "text": base.decisions[name]["question"],
                    "gravity": "stop",
                    "could": [reason],
                    "because": reason,
                    "sources": [],
                    "derivation": derivations.absence(f"no {kind} is named", kind),
                    "rules": [],
                }
            )
    return found


def _entity(firing):
    return firing.bound.get(firing.details["var"], firing.details["var"])


def _branches(found, unknowns, asked, text, world):
    what = world.columns["incident.what"]["incident"]
    if what & (what - 1):
        return
    for kind, key in (("call now", "text"), ("step", "do")):
        for firing in found.get(kind, ()):
            if firing.truth == 1:
                for reference in unknowns.behind(firing.instance):
                    _note(asked, reference, "step", firing, text(firing, key))


def _note(asked, reference, gravity, firing, words):
    asked.setdefault(reference, []).append((GRAVITY.index(gravity), words, firing))


def _order(entry):
    (entity, key), notes = entry
    gravest = min(n[0] for n in notes)
    return gravest, -sum(n[0] == gravest for n in notes), entity, key


def _item(base, reference, notes, derivations):
    entity, key = reference
    attribute = base.vocabulary.attribute(key)
    gravest = min(n[0] for n in notes)
    could = list(dict.fromkeys(words for grade, words, _ in notes if grade == gravest))
    firings = [firing for grade, _, firing in notes if grade == gravest]
    return {
        "id": "open: " + fact_id(entity, key),
        "fact": fact_id(entity, key),
        "text": attribute.asks.replace("{it}", name_of(base, entity)),
        "gravity": GRAVITY[gravest],
        "could": could,
        "because": could[0],
        "sources": sorted({s for f in firings for s in f.rule.sources}),
        "derivation": derivations.of(firings[0].instance),
        "rules": sorted({f.rule.id for f in firings}),
    }
