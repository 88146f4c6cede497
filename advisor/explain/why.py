"""Why: a derivation as a tree of sentences, from what was concluded down to facts, calculations, absences and sources."""
from __future__ import annotations

from typing import NamedTuple

from advisor.decide.firing import name_of
from advisor.report.working import told


class Reason(NamedTuple):
    """kind: 'conclusion' | 'rule' | 'fact' | 'absence' | 'calculation' | 'source'; text; children."""

    kind: str
    text: str
    children: tuple = ()


class Reasons:
    """Tells reasons of one advice."""

    def __init__(self, base, advice):
        self.base, self.advice = base, advice
        self.derivations = {d["id"]: d for d in advice["derivations"]}
        self.facts = {f["id"]: f for f in advice["facts"]}
        self.numbers = {c["id"]: c for c in advice["calculations"]}

    def of(self, identity: str, seen=()) -> Reason:
        """The tree under one derivation id."""
        entry = self.derivations[identity]
        if entry["rule"] is None:
            return self._worked(identity, entry, seen)
        rule = self.base.rule(entry["rule"])
        children = [self._fact(f, (*seen, identity)) for f in entry["facts"]]
        children += [Reason("absence", text) for text in entry["absences"]]
        children += [Reason("source", f"{told(self.base, s)} ({rule.status}; {rule.authority})") for s in rule.sources]
        who = f" [{', '.join(name_of(self.base, e) for e in entry['bound'])}]" if entry["bound"] else ""
        return Reason("rule", f"{rule.title}{who}: {rule.because} [{rule.id}]", tuple(children))

    def _worked(self, identity, entry, seen):
        if identity in self.numbers:
            item = self.numbers[identity]
            children = tuple(self._fact(f, (*seen, identity)) for f in entry["facts"])
            sources = tuple(Reason("source", f"{told(self.base, s)} ({item['status']})") for s in item["sources"])
            return Reason("calculation", f"{item['text']}; formula {item['formula']}", children + sources)
        return Reason("absence", "; ".join(entry["absences"]) or identity)

    def _fact(self, identity, seen):
        fact = self.facts.get(identity)
        if fact is None:
            return Reason("absence", f"{identity}: not known")
        text = f"{identity}: {fact['value']}" + (" (doubtful)" if fact["state"] == "doubtful" else "")
        if fact["said_by"] != "rules":
            return Reason("fact", f"{text}, said in the {fact['said_by']}")
        below = tuple(self.of(d, seen) for d in fact["derivations"] if d not in seen)
        return Reason("conclusion", text, below)


def find(advice: dict, name: str) -> list:
    """(title, derivation ids) of what a name means in an advice: a decision, an item, a stop, a requirement, a rule or a fact."""
    wanted, found = name.strip().lower(), []
    for decision, d in advice["decisions"].items():
        if wanted == decision:
            found.append((f"{decision}: {d['choice'] or ' or '.join(d['equal']) or 'nothing'}", [r["derivation"] for r in d["reasons"]] + [x for a in d["alternatives"] for x in a["derivations"]]))
    for section in ("stops", "requirements", "warnings", "refer", "items", "open_questions"):
        for item in advice[section]:
            keys = {item["id"].lower(), item["id"].partition(" [")[0].lower(), str(item.get("rule", "")).lower(), str(item.get("item", "")).lower()}
            if wanted in keys:
                ids = item.get("derivations") or ([item["derivation"]] if "derivation" in item else [r["derivation"] for r in item["reasons"]])
                found.append((item.get("text") or f"{item['item']}: {item['verdict']}", ids))
    for step in (advice["response"] or {}).get("steps", []):
        if wanted in (step["id"].lower(), step["rule"].lower()):
            found.append((step["text"], [step["derivation"]]))
    for fact in advice["facts"]:
        if wanted == fact["id"].lower():
            found.append((f"{fact['id']}: {fact['value']}" + (f", said in the {fact['said_by']}" if fact["said_by"] != "rules" else ""), fact["derivations"]))
    return found


def told_tree(reason: Reason, depth: int = 0, levels: int = 9) -> list:
    """A tree as indented lines; `levels` deep."""
    lines = ["  " * depth + ("- " if depth else "") + reason.text]
    if levels > 0:
        for child in reason.children:
            lines += told_tree(child, depth + 1, levels - 1)
    return lines
