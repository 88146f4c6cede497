"""Which meaning of a phrase holds in a clause. Where two still tie, neither is taken."""

from __future__ import annotations

from advisor.language.words import OTHERS


def choose(scene, clause, match, subject: str | None, named: bool):
    """The senses left of a phrase (all of one key if it is clear).

    subject: entity the clause is about; named: it stands in the clause itself.
    """
    senses = [s for s in match.senses if s.form != "entity"]
    senses = _of_incident(scene, clause, match, senses)
    if of_another(scene, clause):
        senses = [s for s in senses if s.entity != "leader"] or senses
    elif "i" in {scene.tokens[i].text for i in range(clause.start, clause.end)} and not named:
        senses = [s for s in senses if s.entity == "leader"] or senses
    if (
        not named
        and scene.recent
        and subject
        and scene.recent[-1].entity != subject
        and not scene.entity(scene.kind_of(scene.recent[-1].entity)).many
    ):
        subject = scene.recent[
            -1
        ].entity  # 'ladder hangs free, dry': what was told last is told of the pitch
    kind = scene.kind_of(subject) if subject else None
    if named and kind and scene.entity(kind).many and match.stems == 1:
        senses = [
            s
            for s in senses
            if s.entity in (kind, "finding")
            or s.key == "incident.what"
            or s.entity == "incident"
            and scene.incident_live
        ] or _others(scene, clause, match, senses)
    for keep in (
        lambda s: scene.context.asked and s.key == scene.context.asked[1] and not named,
        lambda s: s.key in scene.contrasted,
        lambda s: s.entity == kind or s.key == "finding.what" and kind in _item_kinds(scene),
        lambda s: s.entity == "finding" and kind in _item_kinds(scene),
        lambda s: s.key in _matters(clause, match),
        lambda s: kind and kind in s.key.partition(".")[2],
        lambda s: s.value in ("yes", "no") and s.key.endswith("." + s.text),
        lambda s: s.form == "value" and {x.entity for x in senses} == {s.entity},
        lambda s: (
            s.rank == 0 and s.value in scene.base.decisions.get(s.entity, {}).get("options", ())
        ),
    ):
        kept = [s for s in senses if keep(s)]
        senses = kept or senses
        if len({s.key for s in senses}) <= 1:
            break
    return senses


def of_another(scene, clause) -> bool:
    """'one lad is hungover' says nothing of the speaker."""
    texts = {scene.tokens[i].text for i in range(clause.start, clause.end)}
    return bool(texts & OTHERS) and not texts & {"i", "me", "my", "leader", "leaders", "myself"}


def tells_incident(match) -> bool:
    """Whether a phrase can only mean that something has happened."""
    return any(s.key == "incident.what" for s in match.senses) and (
        match.stems > 1
        and all(
            s.form == "entity"
            or s.entity
            in (
                "incident",
                "group",
                "lifeline",
                "tether",
                "anchor",
                "finding",
                "kit",
                "ladder",
            )
            for s in match.senses
        )
        or all(s.key == "incident.what" for s in match.senses)
    )


def _of_incident(scene, clause, match, senses):
    """Words of an incident count once the talk is of one, or when the phrase is long enough to be
    nothing else.
    """
    happened = scene.incident_live or any(tells_incident(m) for m in clause.matches)
    inside = [s for s in senses if s.entity == "incident"]
    if scene.context.facts.get(("incident", "incident.what")) and not scene.correcting:
        inside = [
            s for s in inside if s.key != "incident.what"
        ] or inside  # once it is told what happened, more is told of it
    if (
        not scene.incident_live
        and match.stems > 1
        and any(s.key == "incident.what" for s in inside)
    ):
        inside = [s for s in inside if s.key == "incident.what"]
    if happened:
        return inside or senses
    others = [s for s in senses if s.entity != "incident"]
    if others and not (match.stems > 1 and all(s.key == "incident.what" for s in inside)):
        return others
    return (
        [s for s in senses if s.entity != "incident" or s.key == "incident.what"]
        if match.stems > 1 or any(s.key == "incident.what" for s in senses)
        else others
    )


def _others(scene, clause, match, senses):
    """One word about a named thing is not about something else, unless that too is named."""
    named = {
        s.entity
        for m in clause.matches
        if m is not match
        for s in m.senses
        if s.form in ("entity", "matter")
    }
    return [s for s in senses if s.entity in named]


def _matters(clause, match) -> set:
    """Attributes that other words of the clause name."""
    return {s.key for m in clause.matches if m is not match for s in m.senses if s.form == "matter"}


def _item_kinds(scene) -> tuple:
    attribute = scene.vocabulary.attribute("finding.item")
    return attribute.of if attribute else ()
