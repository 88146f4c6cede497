"""One way through the strata, for a whole base and for a part of one: rules and calculations, then
the decisions, then the rules that look at these.
"""

from __future__ import annotations

from advisor.decide.options import decide_all
from advisor.engine.driver import evaluate
from advisor.model.outcome import Choice, Outcome


def run(base, engines, world, topics) -> tuple[Outcome, dict[str, Choice]]:
    """What the strata conclude and what each decision comes to; raises Disagreement when the
    engines differ.
    """
    choices: dict[str, Choice] = {}

    def decide(base_, world_, instances):
        choices.update(decide_all(base_, world_, instances, topics))

    return evaluate(base, engines, world, topics, decide), choices
