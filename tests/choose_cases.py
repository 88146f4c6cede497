"""Choose the worked cases that stand for all; prints what tests/chosen_cases.txt holds.

Each next case is the one that shows most of what none before it shows: rules fired, calculations
worked, standings of decisions, verdicts, what is asked.
"""

import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[1])]

from depth import all_cases, case_name  # noqa: E402

from advisor.advise import Advisor  # noqa: E402
from advisor.load.case import read_case  # noqa: E402
from advisor.model.advice import Advice  # noqa: E402

NUMBER = 60


def shown(advice: Advice) -> set:
    """What an advice shows of the rule base."""
    found = {("rule", d.rule) for d in advice.derivations}
    found |= {("calculation", c.id.partition(" [")[0], bool(c.result)) for c in advice.calculations}
    found |= {("decision", name, d.standing) for name, d in advice.decisions.items()}
    found |= {("verdict", item.id.partition(" ")[0], item.verdict) for item in advice.items}
    return found | {("asked", q.fact.rpartition(".")[2]) for q in advice.open_questions}


def chosen(shows: dict[str, set], number: int) -> list:
    """The names in the order in which each adds most; of equals the first in the alphabet."""
    left, found = set().union(*shows.values()), []
    for _ in range(number):
        best = min(shows, key=lambda name: (-len(shows[name] & left), name))
        found.append(best)
        left -= shows[best]
    return found


def main() -> None:
    advisor = Advisor()
    shows = {
        case_name(path): shown(advisor.advise(read_case(path, advisor.base)))
        for path in all_cases()
    }
    names = chosen(shows, NUMBER)
    everything = len(set().union(*shows.values()))
    for number in (10, 40, NUMBER):
        part = len(set().union(*(shows[name] for name in names[:number])))
        print(f"{number} cases show {part} of {everything}", file=sys.stderr)
    print("\n".join(names))


if __name__ == "__main__":
    main()
