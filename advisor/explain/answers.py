"""Answers to questions about an advice, as plain lines: why, why not, what would change it, how
sure, what to find out, what changes.
"""

from __future__ import annotations

from collections import Counter

from advisor.decide.names import id_name, listed, option_name
from advisor.explain.find_out import questions, told_question
from advisor.explain.grouping import grouped, told_group
from advisor.explain.nearest import search
from advisor.explain.targets import Target, read_target, state_of, stop_ids, told_state
from advisor.explain.thresholds import reaches, told_reach
from advisor.faults import Fault, Faults, Place
from advisor.reasons.why import Reasons, told_tree

MOST_LINES, MOST_QUESTIONS, MOST_MISSING = 30, 10, 8
MORE = "… and {n} more; --all shows them."


def why_not(advisor, case, advice, outcome, choices, text, everything=False) -> list:
    """Why an option was not chosen, or a verdict not given: by which rule or concern; and what is
    missing for it.
    """
    target = read_target(advisor, outcome, choices, text, "--why-not")
    if target.kind not in ("decision", "verdict") or not target.wanted:
        raise Faults(
            [
                Fault(
                    Place("--why-not"),
                    'write DECISION=OPTION, such as "ladder anchor=flake", or ITEM=VERDICT.',
                )
            ]
        )
    if target.kind == "verdict":
        return _other_verdict(advisor, case, advice, target, everything)
    decision, option = advice.decisions[target.name], option_name(advisor.base, target.wanted)
    if decision.choice == option:
        return [
            f'{option} is the choice: see --why "{target.name}" for all of it.',
            *_reasons(advisor, advice, [r.derivation for r in decision.reasons]),
        ]
    if option in decision.equal:
        lines = [
            f"{option} is as good as {listed(o for o in decision.equal if o != option)}: nothing"
            " tells them apart."
        ]
    else:
        lines = _lost(advisor, advice, decision, option)
    return lines + _missing(advisor, case, target, option, everything)


def _other_verdict(advisor, case, advice, target, everything) -> list:
    item = next(i for i in advice.items if i.id == target.name)
    given = _reasons(advisor, advice, [r.derivation for r in item.reasons])
    if item.verdict == target.wanted:
        return [
            (
                f"{target.wanted} is the verdict on {item.item}, and the worst that any rule"
                " gives stands:"
            ),
            *given,
        ]
    lines = [
        (
            f"Not {target.wanted}: the verdict on {item.item} is {item.verdict}, and the"
            " worst that any rule gives stands:"
        ),
        *given,
    ]
    return lines + _missing(advisor, case, target, target.wanted, everything)


def _lost(advisor, advice, decision, option) -> list:
    lines = [f"Not {option}:"]
    for row in decision.alternatives:
        if row.option == option:
            rival = decision.choice or listed(decision.equal, "or")
            lines = [f"Not {option}: {_how(row.lost_because, rival)}."]
            lines += _reasons(advisor, advice, row.derivations)
    outs = [
        r.derivation for r in decision.reasons if decision.standing == "stop" and r.option == option
    ]
    return [f"Not {option}: ruled out.", *_reasons(advisor, advice, outs)] if outs else lines


def _reasons(advisor, advice, identities) -> list:
    """Derivations told two levels deep."""
    teller = Reasons(advisor.base, advice)
    return [line for i in dict.fromkeys(identities) for line in told_tree(teller.of(i), 1, 2)]


def _how(lost_because, rival) -> str:
    """'lost to flake at edge safety: …' or 'ruled out: …'."""
    concern, colon, reason = lost_because.partition(": ")
    if concern == "ruled out" or not colon or concern.startswith("not yet"):
        return lost_because
    return f"lost to {rival} at '{concern}': {reason}"


def _missing(advisor, case, target: Target, option, everything) -> list:
    """What would have to be otherwise for an option: single changes, else pairs."""
    found = search(advisor, case, target, 1)
    if not found.found:
        found = search(advisor, case, target, 2)
    if not found.found:
        return [
            "",
            f"No change of one or two facts would make it {option} ({found.tried} sets tried).",
        ]
    return [
        "",
        f"It would be {option} if:",
        *_told_findings(advisor.base, target, found.found, everything, MOST_MISSING),
    ]


def _told_findings(base, target, findings, everything, most=MOST_LINES) -> list:
    groups = grouped(findings)
    lines = [
        f"  - {told_group(base, choices)}"
        + (
            ""
            if target.wanted or target.kind in ("stop", "stops")
            else f" -> {told_state(base, target, state)}"
        )
        for choices, state in groups
    ]
    return (
        lines
        if everything or len(lines) <= most
        else lines[:most] + [f"  {MORE.format(n=len(lines) - most)}"]
    )


def what_would(
    advisor, case, outcome, choices, text, size=2, progress=None, everything=False, rate=None
) -> list:
    """The smallest sets of changes that bring another outcome, complete up to the stated size;
    `rate` is called with the evaluations a second.
    """
    target = read_target(advisor, outcome, choices, text, "--what-would")
    already = state_of(advisor.base, target, outcome, choices)
    if _is_so(target, already):
        return [f"Nothing is needed: {_is_now(advisor.base, target, already)}."]
    found = search(advisor, case, target, size, progress)
    if rate and found.rate:
        rate(found.tried, found.rate)
    lines = [
        f"Now {_is_now(advisor.base, target, already)}.",
        f"What would make {_goal(advisor.base, target, already)}:",
    ]
    lines += _told_findings(advisor.base, target, found.found, everything) or [
        "  Nothing of that size." if found.complete == size else "  Nothing found yet."
    ]
    stops = stop_ids(advisor.base, outcome, choices)
    if stops and target.kind != "stops":
        lines.append(
            f"{len(stops)} stop{'s' if len(stops) > 1 else ''} on this case"
            f" {'stand' if len(stops) > 1 else 'stands'} whatever this comes to; ask --what-would"
            " stops."
        )
    reach = (
        f"all sets of up to {found.complete} change{'s' if found.complete > 1 else ''} were tried"
        if found.complete
        else "no size was tried to its end"
    )
    lines.append(
        f"{found.tried} evaluations over {found.candidates} single changes;"
        f" {reach}{'' if found.complete == size else ' (the search was stopped early)'}. Numbers:"
        f" at and beside every threshold of the rules. {found.confirmed} of {len(found.found)}"
        f" findings run again with {listed(e.name for e in advisor.engines)}."
    )
    return lines


def _is_so(target, state) -> bool:
    if target.kind == "stops":
        return not state
    return bool(target.wanted) and state == (
        (target.wanted,) if target.kind == "decision" else target.wanted
    )


def _is_now(base, target, state) -> str:
    if target.kind == "stops":
        return f"this stops it: {told_state(base, target, state)}" if state else "no stop stands"
    if target.kind == "stop":
        return f"the stop {target.name} {'stands' if state == 'stands' else 'does not stand'}"
    return (
        f"{target.name if target.kind == 'decision' else f'the verdict on {target.name}'} is:"
        f" {told_state(base, target, state)}"
    )


def _goal(base, target, state) -> str:
    if target.kind == "stops":
        return "every stop go"
    if target.kind == "stop":
        return f"{target.name} {'go' if state == 'stands' else 'stand'}"
    name = target.name if target.kind == "decision" else f"the verdict on {target.name}"
    return (
        f"{name} come to {option_name(base, target.wanted)}"
        if target.wanted
        else f"{name} come out otherwise"
    )


def how_sure(advisor, case, advice, outcome, choices, text) -> list:
    """How an outcome stands, what it rests on, and how far each number may move before it turns."""
    target = read_target(advisor, outcome, choices, text, "--how-sure")
    target, base = target._replace(wanted=""), advisor.base
    state = state_of(base, target, outcome, choices)
    lines = [f"Now {_is_now(base, target, state)}.", *_standing(base, advice, target)]
    moves, steady = [], []
    for reach in reaches(advisor, case, target):
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
    if rules:
        return _told_standing(base, "certain on the facts given", could, rules)
    standing = "a stop could still come" if could else "no open fact could bring it"
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


def find_out(advisor, case, advice, everything=False) -> list:
    """The open questions, those first whose answers reach furthest, with what each answer would
    lead to.
    """
    found = questions(advisor, case, advice)
    if not found:
        return ["Nothing is open on these facts."]
    shown = found if everything else found[:MOST_QUESTIONS]
    lines = ["Find out next, the gravest outcome first; each answer was tried by itself:"]
    for number, question in enumerate(shown, 1):
        lines += told_question(number, question)
    return lines + ([MORE.format(n=len(found) - len(shown))] if len(shown) < len(found) else [])
