"""Rules as data and as plain lines: a list by topic, or one rule with its reason and its
examples.
"""

from __future__ import annotations

from pathlib import Path

from advisor.explain.sentences import sentence
from advisor.load.base import find_folder

QUIET = ("decision", "concern", "variable", "var", "key", "value", "ref")


def matching(base, word="") -> list:
    """Rules whose id, title, topic, reason or texts hold every word of `word`."""
    wanted = word.lower().split()
    return [r for r in base.rules if all(w in _all_text(r) for w in wanted)]


def _all_text(rule):
    texts = [v for _, details in rule.effects for v in details.values() if isinstance(v, str)]
    return " ".join([rule.id, rule.title, rule.topic, rule.about, rule.because, *texts]).lower()


def listed(rules) -> list:
    """[{'id', 'title', 'topic', 'about'}] of rules."""
    return [{"id": r.id, "title": r.title, "topic": r.topic, "about": r.about} for r in rules]


def list_lines(rules) -> list:
    """The list by topic."""
    lines, topic = [], None
    for rule in sorted(rules, key=lambda r: (r.about, r.topic)):
        if (rule.about, rule.topic) != topic:
            topic = (rule.about, rule.topic)
            lines += [""] * bool(lines) + [f"{rule.topic} ({rule.about})"]
        lines.append(f"  {rule.id}: {rule.title}")
    return [*lines, "", f"{len(rules)} rules. One in full: pitch-advisor rules ID"]


def shown(advisor, rule, examples=None) -> dict:
    """One rule as plain data, with a situation in which it fires and the nearest in which it does
    not.
    """
    from advisor.browse.example import Examples

    base, examples = advisor.base, examples or Examples(advisor)
    example = examples.of(rule)
    words = {variable: f"{kind} {variable}" for variable, kind in rule.variables}
    lines = [tuple(scene.lines(examples.space)) if scene else () for scene in example]
    return {
        "id": rule.id,
        "title": rule.title,
        "topic": rule.topic,
        "about": rule.about,
        "if": f"If {sentence(base, rule.condition, words)}.",
        "effects": [effect_words(base, rule, *e) for e in rule.effects],
        "because": rule.because,
        "sources": [source_words(base.sources[s]) for s in rule.sources],
        "status": rule.status,
        "authority": rule.authority,
        "place": short_place(rule.place),
        "fires": list(lines[0]),
        "near": list(lines[1]),
        "changed": [line for line in lines[1] if line not in lines[0]],
    }


def effect_words(base, rule, kind, details) -> str:
    """One effect in words."""
    if kind == "derive":
        return (
            f"conclude: {details['key'].partition('.')[2]} of {details['var']} is"
            f" {base.vocabulary.attribute(details['key']).values[details['value']]}"
        )
    if kind in ("prefer", "disfavour", "rule out"):
        weight = f" ({details['strength']}, {details['concern']})" if "concern" in details else ""
        return f"{kind} for the {details['decision']}: {details['option']}{weight}"
    if kind == "verdict":
        part = (
            details["part"]
            if not details["ref"]
            else f"the {details['ref'][1].partition('.')[2]} named"
        )
        return f"verdict on {details['on']}{', ' + part if part else ''}: {details['give']}"
    if kind == "ask":
        return (
            f"ask: {base.vocabulary.attribute(details['key']).asks.replace('{it}', details['var'])}"
        )
    grade = details.get("strength") or details.get("severity")
    said = (
        details.get("text")
        or details.get("do")
        or details.get("about")
        or details.get("hazard")
        or ""
    )
    more = [
        f"{name}: {value if isinstance(value, str) else ', '.join(map(str, value))}"
        for name, value in details.items()
        if name not in (*QUIET, "text", "do", "about", "hazard", "strength", "severity") and value
    ]
    return f"{kind}{f' ({grade})' if grade else ''}: {said}" + (
        f" [{'; '.join(more)}]" if more else ""
    )


def source_words(source) -> str:
    """'Title, publisher, year (read …)'."""
    year = f", {source['year']}" if source.get("year") else ""
    return f"{source['title']}, {source['publisher']}{year}"


def short_place(place) -> str:
    """'rules/anchors/choice.yaml:12', wherever the program stands."""
    parts = Path(place.file).parts
    folder = find_folder("rules")
    for start in range(len(parts)):
        if folder.joinpath(*parts[start:]).is_file():
            return f"rules/{'/'.join(parts[start:])}:{place.line}"
    return f"{place.file}:{place.line}"


def rule_lines(data) -> list:
    """One rule in full."""
    lines = [
        data["id"],
        f"  {data['title']}",
        "",
        f"  {data['if']}",
        *(f"    - {e}" for e in data["effects"]),
        "",
        f"  Because: {data['because']}",
    ]
    lines += [f"  Source: {s}" for s in data["sources"]]
    lines += [f"  Status: {data['status']}; authority: {data['authority']}; {data['place']}", ""]
    lines += (
        ["  Fires, for example, with:", *(f"    {line}" for line in data["fires"])]
        if data["fires"]
        else ["  No situation was found in which it fires."]
    )
    lines += (
        [
            "",
            "  Does not fire with:",
            *(
                f"    {line}{'   (changed)' if line in data['changed'] else ''}"
                for line in data["near"]
            ),
        ]
        if data["near"]
        else ["  No situation was found in which it does not fire."]
        if data["fires"]
        else []
    )
    return lines
