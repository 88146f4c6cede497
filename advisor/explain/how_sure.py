"""How sure: how an outcome stands, what it rests on, and how far each number may move."""

from __future__ import annotations

from collections import Counter

from advisor.decide.names import id_name, listed
from advisor.explain.targets import is_now, read_target, state_of, told_state
from advisor.explain.thresholds import Reach, reaches, told_reach
from advisor.model.advice import BLOCKING
from advisor.progress import STOPPED, Watch


def how_sure(run, text, watch=None) -> list:
    """How an outcome stands, what it rests on, and how far each number may move before it turns."""
    target = read_target(run, text, "--how-sure")
    target, base = target._replace(wanted=""), run.base
    state = state_of(base, target, run.outcome, run.choices)
    lines = [f"Now {is_now(base, target, state)}.", *_standing(base, run.advice, target)]
    moves: list[Reach] = []
    steady: list[Reach] = []
    watch = watch or Watch()
    for reach in reaches(run, target, watch):
        (steady if len(reach.pieces) == 1 else moves).append(reach)
    if moves:
        lines += [
            "How far each number given may move, one at a time:",
            *(
                f"  - {told_reach(base, r, lambda s: told_state(base, target, s, state))}"
                for r in moves
            ),
        ]
    if steady:
        facts = (id_name(base, f"{r.entity}.{r.key.partition('.')[2]}") for r in steady)
        lines.append(f"No value of {listed(facts, 'or')} alone changes it.")
    if watch.stopped:
        return [*lines, f"{STOPPED}: {len(moves) + len(steady)} numbers were looked at."]
    return lines if moves or steady else [*lines, "No number that was given bears on it."]


def _standing(base, advice, target) -> list:
    """Standing, open facts and the standing of the rules behind."""
    if target.kind == "decision":
        found = advice.decisions[target.name]
    elif target.kind == "verdict":
        found = next((i for i in advice.items if i.id == target.name), None)
    else:
        return _stop_standing(base, advice, target)
    if found is None:
        return _told_standing(base, "nothing found", (), ())
    return _told_standing(base, found.standing, found.open, [r.rule for r in found.reasons])


def _stop_standing(base, advice, target) -> list:
    """The same of one stop, or of all."""
    every = target.kind == "stops"
    rules = [s.rule for s in advice.stops if every or s.rule == target.name]
    could = [q.fact for q in advice.blocking if every or target.name in q.rules]
    could += [
        check.fact
        for check in advice.checks
        if check.gravity in BLOCKING and (every or check.rule == target.name)
    ]
    could = list(dict.fromkeys(could))
    if rules:
        return _told_standing(base, "certain on the facts given", could, rules)
    standing = "a stop could still come" if could else "no fact still asked for could bring it"
    return _told_standing(base, standing, could, rules)


def _told_standing(base, standing, open_, identities) -> list:
    lines = [f"Standing: {standing}."]
    if open_:
        lines.append(f"Open: {listed(id_name(base, f) for f in open_)}.")
    rules = [base.rule(i) for i in dict.fromkeys(identities)]
    counted = Counter(f"{r.status}, {r.authority}" for r in rules if r)
    if counted:
        kinds = (f"{n} rule{'s' if n > 1 else ''} ({words})" for words, n in counted.items())
        lines.append(f"It rests on {listed(kinds)}.")
    return lines
