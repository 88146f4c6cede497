"""Count how common the lines of each rule are among the sound plans of cases/ and write
rules/common.yaml anew: `python tests/count_common.py`.

Sound is a plan without a stop and without an incident. Only the band is kept, so that one more case
seldom changes it.
"""

import sys
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[1])]

from depth import all_cases  # noqa: E402

from advisor.advise import Advisor  # noqa: E402
from advisor.load.case import read_case  # noqa: E402
from advisor.load.folder import find_folder  # noqa: E402
from advisor.model.advice import Advice  # noqa: E402

# Above which share of the sound plans a line is how common.
BANDS = {"nearly all": 0.6, "many": 0.25, "some": 0.05, "few": 0.0}
HEAD = """\
# How common the lines of each rule are among the sound plans of cases/.
# Counted by `python tests/count_common.py`, never by hand.
# What few are told, or none, is news; what nearly all are told is the standing drill.
"""


def sound(advice: Advice) -> bool:
    """Whether an advice is about a plan that nothing forbids."""
    return "plan" in advice.about and not advice.stops and not advice.response


def told(advice: Advice) -> set[str]:
    """The rules whose lines an advice holds."""
    lines = (*advice.first, *advice.requirements, *advice.warnings, *advice.refer)
    return {line.rule for line in lines}


def counted(advices: Iterable[Advice]) -> str:
    """The file's text."""
    plans = [told(advice) for advice in advices if sound(advice)]
    shares = {rule: n / len(plans) for rule, n in Counter(r for p in plans for r in p).items()}
    bands: dict[str, list[str]] = {band: [] for band in BANDS}
    for rule, share in sorted(shares.items()):
        bands[next(band for band, least in BANDS.items() if share > least)].append(rule)
    return HEAD + "".join(
        f"{band}:" + ("".join(f"\n  - {rule}" for rule in rules) or " []") + "\n"
        for band, rules in bands.items()
    )


def main() -> None:
    """Write the file."""
    advisor = Advisor()
    cases = (read_case(path, advisor.base) for path in all_cases())
    text = counted(advisor.advise(case) for case in cases)
    (find_folder("rules") / "common.yaml").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
