"""Questions under local guidance: the built-in rules stay in force beside it, so both are asked."""

from __future__ import annotations

from advisor.faults import Faults

BUILT_IN = "By the built-in rules, which stay in force whatever local guidance says:"
LOCAL = "With local guidance over them:"


def both(run, ask) -> list:
    """The lines of `ask(run)`; with local guidance those of the built-in rules in front where they
    differ.

    Raises Faults when neither knows what is asked about."""
    if run.advisor.local is None:
        return ask(run)
    answers, faults = [], []
    built_in = run.advisor.stated(run.case)
    for head, by in ((BUILT_IN, built_in), (LOCAL, run)):
        try:
            answers.append((head, ask(by)))
        except Faults as error:  # a rule of its own, or an item that only one of the two judges
            faults.append(error)
    if not answers:
        raise faults[-1]
    if len({tuple(lines) for _, lines in answers}) == 1 and not faults:
        return answers[0][1]
    return [
        line for head, lines in answers for line in (head, *(f"  {line}" for line in lines), "")
    ][:-1]
