"""What changes between two advices: decisions, stops, requirements, warnings, verdicts, steps,
numbers; and for each the rules behind it.
"""

from __future__ import annotations

from advisor.explain.names import rule_name

LISTS = (
    ("stops", "stop"),
    ("requirements", "requirement"),
    ("warnings", "warning"),
    ("refer", "referral"),
)


def differences(before: dict, after: dict) -> dict:
    """Data: {decisions: [...], stops: {new, gone}, …, items, steps, numbers, rules: {started,
    stopped}}.

    Decisions, items and numbers carry `started` and `stopped`: the rules and calculations behind
    them that hold only after, only before.
    """
    found = {"decisions": _decisions(before, after)}
    for name, _ in LISTS:
        found[name] = _list(before[name], after[name])
    found["items"] = _items(before, after)
    found["steps"] = _list(
        (before["response"] or {}).get("steps", []), (after["response"] or {}).get("steps", [])
    )
    found["numbers"] = _numbers(before, after)
    found["rules"] = _behind(_holding(before), _holding(after))
    return found


def _pairs(before: dict, after: dict):
    for name in sorted({*before, *after}):
        yield name, before.get(name), after.get(name)


def _holding(advice) -> set:
    """Derivation ids of all rules that surely hold and that the advice rests on."""
    return {d["id"] for d in advice["derivations"] if d["rule"] and d["sure"]}


def _behind(old: set, new: set) -> dict:
    return {"started": sorted(new - old), "stopped": sorted(old - new)}


def _rests_on(advice, roots) -> set:
    """Rules that surely hold among some derivations and all below them."""
    known, facts = (
        {d["id"]: d for d in advice["derivations"]},
        {f["id"]: f["derivations"] for f in advice["facts"]},
    )
    seen, todo = set(), list(roots)
    while todo:
        identity = todo.pop()
        if identity not in seen and identity in known:
            seen.add(identity)
            todo += [d for fact in known[identity]["facts"] for d in facts.get(fact, ())]
    return {i for i in seen if known[i]["rule"] and known[i]["sure"]}


def _outcome(decision):
    return decision["choice"] or " or ".join(decision["equal"]) or "nothing"


def _roots(decision) -> list:
    return (
        [r["derivation"] for r in decision["reasons"]]
        + [i for a in decision["alternatives"] for i in a["derivations"]]
        if decision
        else []
    )


def _decisions(before, after):
    rows = []
    for name, b, a in _pairs(before["decisions"], after["decisions"]):
        old, new = (_outcome(d) if d else None for d in (b, a))
        if old != new or (b and a and b["standing"] != a["standing"]):
            rows.append(
                {
                    "decision": name,
                    "before": old,
                    "after": new,
                    "standing_before": b and b["standing"],
                    "standing_after": a and a["standing"],
                    "because": [r["because"] for r in (a or {"reasons": []})["reasons"]][:3],
                    **_behind(_rests_on(before, _roots(b)), _rests_on(after, _roots(a))),
                }
            )
    return rows


def _items(before, after):
    rows = []
    for name, b, a in _pairs(
        *({i["id"]: i for i in advice["items"]} for advice in (before, after))
    ):
        old, new = (i and i["verdict"] for i in (b, a))
        if old != new:
            reasons = [[r["derivation"] for r in i["reasons"]] if i else [] for i in (b, a)]
            rows.append(
                {
                    "item": name,
                    "name": (a or b)["item"],
                    "before": old,
                    "after": new,
                    **_behind(_rests_on(before, reasons[0]), _rests_on(after, reasons[1])),
                }
            )
    return rows


def _numbers(before, after):
    rows = []
    for name, b, a in _pairs(
        *({c["title"]: c for c in advice["calculations"]} for advice in (before, after))
    ):
        old, new = (c["result"]["text"] if c and c["result"] else None for c in (b, a))
        if old != new:
            rows.append(
                {
                    "number": name,
                    "before": old,
                    "after": new,
                    "started": [a["id"]] if a and not b else [],
                    "stopped": [b["id"]] if b and not a else [],
                    "worked": (a or b)["id"],
                }
            )
    return rows


def _list(before, after):
    old, new = {i["id"]: i for i in before}, {i["id"]: i for i in after}
    reworded = [new[i] for i in new if i in old and old[i]["text"] != new[i]["text"]]
    return {
        "new": [new[i] for i in new if i not in old] + reworded,
        "gone": [old[i] for i in old if i not in new],
    }


def told(found: dict, base=None) -> list:
    """The differences as plain lines, gravest first; with a rule base each is followed by the
    rules that started or stopped holding.
    One line 'Nothing changes.' when there are none."""
    lines = []
    for text, started, stopped in _rows(found):
        lines.append(text)
        if base:
            lines += [f"  now holds: {rule_name(base, r)}" for r in started] + [
                f"  holds no longer: {rule_name(base, r)}" for r in stopped
            ]
    return lines or ["Nothing changes."]


def _rows(found):
    """(line, rules started, rules stopped) of every difference."""
    yield from _told_list(found["stops"], "stop")
    for row in found["decisions"]:
        standing = (
            ""
            if row["standing_before"] == row["standing_after"]
            else f" ({row['standing_before']} -> {row['standing_after']})"
        )
        because = (
            f" because {row['because'][0]}"
            if row["before"] != row["after"] and row["because"]
            else ""
        )
        yield (
            f"{row['decision']}: {row['before']} -> {row['after']}{standing}{because}",
            row["started"],
            row["stopped"],
        )
    for row in found["items"]:
        yield (
            f"{row['name']}: {row['before'] or 'no verdict'} -> {row['after'] or 'no verdict'}",
            row["started"],
            row["stopped"],
        )
    for row in found["numbers"]:
        yield (
            (
                f"{row['number']}: {row['before'] or 'not worked out'} ->"
                f" {row['after'] or 'not worked out'}"
            ),
            row["started"],
            row["stopped"],
        )
    for name, word in LISTS[1:]:
        yield from _told_list(found[name], word)
    yield from _told_list(found["steps"], "step")


def _told_list(rows, word):
    for item in rows["new"]:
        yield f"new {word}: {item['text']} ({item['because'].rstrip('.')})", (item["id"],), ()
    for item in rows["gone"]:
        yield f"no longer a {word}: {item['text']}", (), (item["id"],)
