"""Questions about advice that stands on two legs: under local guidance the built-in rules stay in
force beside it, and beside what is assumed stands what is known; so both are asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from advisor.faults import Faults

BUILT_IN = "By the built-in rules, which stay in force whatever local guidance says:"
LOCAL = "With local guidance over them:"
KNOWN = "On what is known, which alone clears anything:"
AHEAD = "With what is assumed taken as known, to look ahead:"


def both(run, ask) -> list:
    """The lines of `ask(run)`; beside them, where they differ, those on what is known alone, and
    with local guidance those of the built-in rules in front.

    Raises Faults when nothing knows what is asked about."""
    known = run.advisor.known(run.case)
    if known is None:
        return _by_rules(run, ask)
    ahead = run.advisor.as_given(run.case)
    return _answers(
        (
            (KNOWN, lambda: _by_rules(run.advisor.answer(known), ask)),
            (AHEAD, lambda: _by_rules(run.advisor.answer(ahead), ask)),
        )
    )


def _by_rules(run, ask) -> list:
    """The lines by the built-in rules, and with local guidance over them."""
    if run.advisor.local is None:
        return ask(run)
    return _answers(
        (
            (BUILT_IN, lambda: ask(run.advisor.stated(run.case))),
            (LOCAL, lambda: ask(run)),
        )
    )


def _answers(asked: Iterable[tuple[str, Callable[[], list]]]) -> list:
    """What each comes to under its head; once where all come to the same."""
    answers, faults = [], []
    for head, ask in asked:
        try:
            answers.append((head, ask()))
        except Faults as error:  # a rule or an item that only one of the two knows
            faults.append(error)
    if not answers:
        raise faults[-1]
    if len({tuple(lines) for _, lines in answers}) == 1 and not faults:
        return answers[0][1]
    return [
        line for head, lines in answers for line in (head, *(f"  {line}" for line in lines), "")
    ][:-1]
