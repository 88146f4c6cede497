"""What changes between two advices: decisions, stops, requirements, warnings, verdicts, steps, numbers; and the rules behind it."""
from __future__ import annotations

LISTS = (("stops", "stop"), ("requirements", "requirement"), ("warnings", "warning"), ("refer", "referral"))


def differences(before: dict, after: dict) -> dict:
    """Data: {decisions: [...], stops: {new, gone}, …, items, steps, numbers, rules: {started, stopped}}."""
    found = {"decisions": _decisions(before["decisions"], after["decisions"])}
    for name, _ in LISTS:
        found[name] = _list(before[name], after[name])
    found["items"] = [{"item": i, "before": b, "after": a} for i, b, a in _pairs(_verdicts(before), _verdicts(after)) if a != b]
    found["steps"] = _list((before["response"] or {}).get("steps", []), (after["response"] or {}).get("steps", []))
    found["numbers"] = [{"number": n, "before": b, "after": a} for n, b, a in _pairs(_numbers(before), _numbers(after)) if a != b]
    found["rules"] = _rules(before, after)
    return found


def _pairs(before: dict, after: dict):
    for name in sorted({*before, *after}):
        yield name, before.get(name), after.get(name)


def _verdicts(advice):
    return {i["id"]: i["verdict"] for i in advice["items"]}


def _numbers(advice):
    return {c["title"]: c["result"]["text"] if c["result"] else None for c in advice["calculations"]}


def _outcome(decision):
    return decision["choice"] or " or ".join(decision["equal"]) or "nothing"


def _decisions(before, after):
    rows = []
    for name, b, a in _pairs(before, after):
        old, new = (_outcome(d) if d else None for d in (b, a))
        if old != new or (b and a and b["standing"] != a["standing"]):
            rows.append({"decision": name, "before": old, "after": new, "standing_before": b and b["standing"], "standing_after": a and a["standing"],
                         "because": [r["because"] for r in (a or {"reasons": []})["reasons"]][:3]})
    return rows


def _list(before, after):
    old, new = {i["id"]: i for i in before}, {i["id"]: i for i in after}
    reworded = [new[i] for i in new if i in old and old[i]["text"] != new[i]["text"]]
    return {"new": [new[i] for i in new if i not in old] + reworded, "gone": [old[i] for i in old if i not in new]}


def _rules(before, after):
    old, new = ({d["id"] for d in a["derivations"] if d["rule"] and d["sure"]} for a in (before, after))
    return {"started": sorted(new - old), "stopped": sorted(old - new)}


def told(found: dict) -> list:
    """The differences as plain lines, gravest first; one line 'Nothing changes.' when there are none."""
    lines = []
    for name, word in LISTS[:1]:
        lines += _told_list(found[name], word)
    for row in found["decisions"]:
        standing = "" if row["standing_before"] == row["standing_after"] else f" ({row['standing_before']} -> {row['standing_after']})"
        because = f" because {row['because'][0]}" if row["before"] != row["after"] and row["because"] else ""
        lines.append(f"{row['decision']}: {row['before']} -> {row['after']}{standing}{because}")
    lines += [f"{row['item']}: {row['before'] or 'no verdict'} -> {row['after'] or 'no verdict'}" for row in found["items"]]
    lines += [f"{row['number']}: {row['before'] or 'not worked out'} -> {row['after'] or 'not worked out'}" for row in found["numbers"]]
    for name, word in LISTS[1:]:
        lines += _told_list(found[name], word)
    lines += _told_list(found["steps"], "step")
    return lines or ["Nothing changes."]


def _told_list(rows, word):
    return [f"new {word}: {i['text']} ({i['because'].rstrip('.')})" for i in rows["new"]] + [f"no longer a {word}: {i['text']}" for i in rows["gone"]]
