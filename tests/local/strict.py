"""What an advice under local guidance no longer says as the built-in rules alone say it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from advisor.decide.questions import GRAVITY
from advisor.decide.verdicts import VERDICTS
from advisor.model.advice import CLEAR, CLEAR_AT_HOME, NOT_YET, STOPPED, Advice

LISTS = (
    "stops",
    "first",
    "contradictions",
    "requirements",
    "warnings",
    "hazards",
    "calculations",
)
PARTS = ("call_now", "say", "do_not", "steps")
STANDINGS = ("firm", "firm, if the checks hold", "provisional", "refer", "stop")
MARK = "Local: "


def softened(before: Advice, after: Advice) -> list[str]:
    """All that `after` leaves out, words otherwise, puts in another order or adds unmarked."""
    found = [f"{name}: {what}" for name in LISTS for what in _list(before, after, name)]
    found += [f"refer: {what}" for what in _referrals(before, after)]
    for name in ("open_questions", "checks"):
        found += [
            f"{name}: {what}" for what in _graded(getattr(before, name), getattr(after, name))
        ]
    found += [f"decision: {what}" for what in _decisions(before, after)]
    found += [f"verdict: {what}" for what in _verdicts(before, after)]
    return found + [f"response: {what}" for what in _response(before, after)]


def _list(before: Advice, after: Advice, name: str) -> Iterator[str]:
    yield from in_order(getattr(before, name), getattr(after, name))


def in_order(old: Sequence, new: Sequence) -> Iterator[str]:
    """What is not said word for word in the old order, and what is added without a mark."""
    left = list(new)
    for item in old:
        if item in left:
            at = left.index(item)
            yield from (f"unmarked: {x.text}" for x in left[:at] if not x.text.startswith(MARK))
            left = left[at + 1 :]
        else:
            yield f"gone, other or moved: {item.text}"
    yield from (f"unmarked: {x.text}" for x in left if not x.text.startswith(MARK))


def _referrals(before: Advice, after: Advice) -> Iterator[str]:
    held = {(r.id, r.text.partition(" Local: ")[0]) for r in after.refer}
    yield from (r.text for r in before.refer if (r.id, r.text) not in held)


def _graded(old: Sequence, new: Sequence) -> Iterator[str]:
    """Questions and checks, each as grave as before and with all it could bring."""
    held = {item.id: item for item in new}
    grades = (*GRAVITY, "must")
    for item in old:
        now = held.get(item.id)
        if now is None or now.text != item.text or now.because != item.because:
            yield f"gone or other: {item.text}"
        elif grades.index(now.gravity) > grades.index(item.gravity):
            yield f"less grave: {item.text}"
        elif not set(getattr(item, "could", ())) <= set(getattr(now, "could", ())):
            yield f"brings less: {item.text}"


def _decisions(before: Advice, after: Advice) -> Iterator[str]:
    elsewhere = "another way or no pitch"
    for name, old in before.choices.items():
        new = after.choices[name]
        lost = {
            a.option
            for a in old.alternatives
            if a.lost_because.startswith(("ruled out", "not yet"))
        }
        if set(new.chosen) & lost or (elsewhere in old.chosen and new.chosen != old.chosen):
            yield f"{name}: {old.words()} -> {new.words()}"
        if new.chosen == old.chosen and STANDINGS.index(new.standing) < STANDINGS.index(
            old.standing
        ):
            yield f"{name}: {old.standing} -> {new.standing}"
    if "go" in before.decisions:
        yield from _go(before, after)


def _go(before: Advice, after: Advice) -> Iterator[str]:
    old, new = before.decisions["go"], after.decisions["go"]
    grades = (CLEAR, CLEAR_AT_HOME, NOT_YET, STOPPED)
    if old.choice not in grades:
        if new.choice not in (old.choice, STOPPED):
            yield f"go: {old.choice} -> {new.choice}"
    elif new.choice in grades and grades.index(new.choice) < grades.index(old.choice):
        yield f"go: {old.choice} -> {new.choice}"
    yield from (f"go for: {r.text}" for r in old.reasons if r not in new.reasons)


def _verdicts(before: Advice, after: Advice) -> Iterator[str]:
    held = {item.id: item for item in after.items}
    for old in before.items:
        new = held.get(old.id, replace(old, verdict=VERDICTS[0]))
        if VERDICTS.index(new.verdict) < VERDICTS.index(old.verdict):
            yield f"{old.item}: {old.verdict} -> {new.verdict}"
        yield from (f"{old.item}: {r.text}" for r in old.reasons if r not in new.reasons)


def _response(before: Advice, after: Advice) -> Iterator[str]:
    if before.response is None:
        return
    for part in PARTS:
        new = getattr(after.response, part) if after.response else ()
        yield from (f"{part}: {what}" for what in in_order(getattr(before.response, part), new))
    if after.response and after.response.steps[0] != before.response.steps[0]:
        yield f"first: {after.response.steps[0].text}"
