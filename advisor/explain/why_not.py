"""Why an option was not chosen, or a verdict not given, and what is missing for it."""

from __future__ import annotations

from advisor.decide.names import listed, option_name
from advisor.explain.grouping import told_findings
from advisor.explain.limits import limits_of
from advisor.explain.nearest import search
from advisor.explain.targets import read_target
from advisor.faults import Fault, Faults, Place
from advisor.progress import STOPPED, Watch
from advisor.reasons.why import Reasons, told_tree

MOST = 8  # findings told of what is missing
TRY_TWO = " --what-would with --changes 2 tries two at once."


def why_not(run, text, everything=False, watch=None) -> list:
    """By which rule or concern something was not chosen or not given; and what would have to be
    otherwise; raises Faults.
    """
    target = read_target(run, text, "--why-not")
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
        return _other_verdict(run, target, everything, watch)
    decision, option = run.advice.decisions[target.name], option_name(run.base, target.wanted)
    if decision.choice == option:
        return [
            f'{option} is the choice: see --why "{target.name}" for all of it.',
            *_reasons(run, (r.derivation for r in decision.reasons)),
        ]
    if option in decision.equal:
        lines = [
            f"{option} is as good as {listed(o for o in decision.equal if o != option)}: nothing"
            " tells them apart."
        ]
    else:
        lines = _lost(run, decision, option)
    return lines + _missing(run, target, option, everything, watch)


def _other_verdict(run, target, everything, watch) -> list:
    item = next(i for i in run.advice.items if i.id == target.name)
    given = _reasons(run, item.behind)
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
    return lines + _missing(run, target, target.wanted, everything, watch)


def _lost(run, decision, option) -> list:
    outs = [r.derivation for r in decision.reasons if r.option == option]
    if decision.standing == "stop" and outs:
        return [f"Not {option}: ruled out.", *_reasons(run, outs)]
    for row in decision.alternatives:
        if row.option == option:
            rival = decision.choice or listed(decision.equal, "or")
            lines = [f"Not {option}: {_how(run.base.concerns, row.lost_because, rival)}."]
            return lines + _reasons(run, row.derivations)
    return [f"Not {option}:"]


def _reasons(run, identities) -> list:
    """Derivations told two levels deep."""
    teller = Reasons(run.base, run.advice)
    return [line for i in dict.fromkeys(identities) for line in told_tree(teller.of(i), 1, 2)]


def _how(concerns, lost_because, rival) -> str:
    """'lost to flake at edge safety: …' or 'ruled out: …'."""
    concern, colon, reason = lost_because.partition(": ")
    if not colon or concern not in concerns:
        return lost_because
    return f"lost to {rival} at '{concern}': {reason}"


def _missing(run, target, option, everything, watch) -> list:
    """What would have to be otherwise for an option, by one change; two at once take minutes."""
    watch = watch or Watch()
    found = search(run, target, 1, watch)
    if not found.found:
        none = (
            f"{STOPPED}: nothing was found yet"
            if watch.stopped
            else f"No change of one fact alone would make it {option}"
        )
        return [
            "",
            f"{none} ({found.tried} tried).{TRY_TWO}",
        ]
    return [
        "",
        f"It would be {option} if:",
        *told_findings(run.base, target, limits_of(run, target, found, watch), everything, MOST),
    ]
