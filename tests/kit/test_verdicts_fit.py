"""Whatever is found on whatever piece: a verdict and what is asked beside it fit together."""

import re
from itertools import product

from depth import not_quick, sampled, sweep
from scenes import KNOWN, case, of_type, program, texts, verdict

KINDS = program().base.vocabulary.by_key["kit.type"].values
FOUND = program().base.vocabulary.by_key["finding.what"].values
PARTS = ("rung", "side wire", "links", "spreader", "cord", "whole")
HISTORIES = ("known from new", "borrowed without its history", "no known history")
CARE = re.compile(r"\b(Wash|Clean|Rinse|Dry|Store|Measure|Oil|Brush|Write|Keep the record)\b")
OUT = re.compile(r"DO NOT USE|Do not use (?!.*until that part)|Retire |Destroy |Cut .* pieces")


def pieces():
    """(item, its facts with one history, a finding's facts or none)."""
    for history, what in product(HISTORIES, (None, *FOUND)):
        for kind in KINDS:
            facts = of_type(kind).replace("history: known from new", f"history: {history}")
            yield "kit x", facts, what and f"item: kit x, what: {what}"
        facts = KNOWN.replace("history: known from new", f"history: {history}")
        for part in PARTS if what else (None,):
            found = what and f"item: ladder x, part: {part}, what: {what}"
            yield "ladder x", facts, found


def judged(piece):
    """(Verdict, advice) of one piece."""
    item, facts, found = piece
    advice = case({item: facts} | ({"finding f": found} if found else {}))
    return verdict(advice, item.removeprefix("kit ")), advice


every_piece = sweep("piece", lambda: sampled(pieces(), 20, 300), str)


@not_quick
@every_piece
def test_verdict_and_what_is_asked_fit(piece):
    given, advice = judged(piece)
    told = texts(advice)
    if given == "retire":
        assert not CARE.search(told), "what is thrown away is not cared for"
    if given in ("keep", "keep and watch"):
        assert not OUT.search(told), "what is kept is used"
    if "borrowed" in piece[1] and given:
        assert "back if it is borrowed" in told or "type: fixed" in piece[1]
        assert not re.search(r"(Cut|Destroy) (?!.*if it is yours)[^|]* x", told)
