"""Rules as data and as plain lines: a list by topic, or one rule with its reason and its
examples.
"""

from __future__ import annotations

from pathlib import Path

from advisor.decide.sentences import sentence
from advisor.load.folder import find_folder
from advisor.model.effects import Ask, Derive, Hazard, OnOption, Verdict, Weigh


def matching(base, word="") -> list:
    """Rules whose id, title, topic, reason or texts hold every word of `word`."""
    wanted = word.lower().split()
    return [r for r in base.rules if all(w in _all_text(r) for w in wanted)]


def _all_text(rule):
    texts = [word for effect in rule.effects for word in effect.words]
    return " ".join([rule.id, rule.title, rule.topic, rule.about, rule.because, *texts]).lower()


def listed(rules) -> list:
    """[{'id', 'title', 'topic', 'about'}] of rules."""
    return [{"id": r.id, "title": r.title, "topic": r.topic, "about": r.about} for r in rules]


def list_lines(rules) -> list:
    """The list by topic."""
    lines: list[str] = []
    topic = None
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
        "effects": [effect_words(base, e) for e in rule.effects],
        "because": rule.because,
        "sources": [source_words(base.sources[s]) for s in rule.sources],
        "status": rule.status,
        "authority": rule.authority,
        "place": short_place(rule.place),
        "fires": list(lines[0]),
        "near": list(lines[1]),
        "changed": [line for line in lines[1] if line not in lines[0]],
    }


def effect_words(base, effect) -> str:
    """One effect in words."""
    match effect:
        case Derive():
            attribute = base.vocabulary.attribute(effect.ref.key)
            value = attribute.values[effect.value]
            return f"conclude: {attribute.name} of {effect.ref.entity} is {value}"
        case OnOption():
            weight = f" ({effect.strength}, {effect.concern})" if isinstance(effect, Weigh) else ""
            return f"{effect.kind} for the {effect.decision}: {effect.option}{weight}"
        case Verdict():
            part = f"the {effect.ref.attribute} named" if effect.ref else effect.part
            return f"verdict on {effect.on}{', ' + part if part else ''}: {effect.give}"
        case Ask():
            asks = base.vocabulary.attribute(effect.ref.key).asks
            return f"ask: {asks.replace('{it}', effect.ref.entity)}"
    return _said(effect)


def _said(effect) -> str:
    """What an effect tells, with its grade and what else belongs to it."""
    grade = getattr(effect, "strength", "") or getattr(effect, "severity", "")
    more = {word: said for word in ("to", "who") if (said := getattr(effect, word, ""))}
    more |= {word: ", ".join(ids) for word, ids in effect.rules_named.items() if ids}
    if isinstance(effect, Hazard):
        more["controls"] = " ".join(control.do for control in effect.controls)
    return f"{effect.kind}{f' ({grade})' if grade else ''}: {effect.text}" + (
        f" [{'; '.join(f'{word}: {said}' for word, said in more.items())}]" if more else ""
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
