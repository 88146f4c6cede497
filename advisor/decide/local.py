"""Local guidance over an advice: built-in musts that it would drop stay in force, and every
departure is shown with both sources.
"""

from __future__ import annotations

from advisor.decide.verdicts import VERDICTS
from advisor.load.local import more_cautious


def hold(built_in: dict, local_advice: dict, local, base, case) -> dict:
    """The advice under local guidance, with every stop, must and verdict of the built-in base
    kept; adds `local`.
    """
    departures = [_told(base, row) for row in local.departures]
    for section, words in (("stops", "stop"), ("requirements", "must")):
        for item in built_in[section]:
            if item["id"] not in {i["id"] for i in local_advice[section]} and (
                section == "stops" or item["strength"] == "must"
            ):
                local_advice[section].append(item)
                departures.append(
                    {
                        "text": f"The built-in {words} stays: {item['text']}",
                        "built_in": item["rule"],
                        "sources": item["sources"],
                        "local": local.title,
                    }
                )
    _verdicts(built_in, local_advice, departures, local)
    _derivations(built_in, local_advice)
    departures += _facts(case, local, base)
    for item in local_advice["refer"]:
        name = local.ask.get(item["to"])
        item["text"] = (
            item["text"].replace(f"Ask {item['to']}", f"Ask {name}", 1) if name else item["text"]
        )
    if local_advice["stops"] and "go" in local_advice["decisions"]:
        local_advice["decisions"]["go"].update(choice="do not go on", standing="stop", open=[])
    local_advice["local"] = {
        "title": local.title,
        "issued_by": local.issuer,
        "date": local.date,
        "departures": departures,
    }
    return local_advice


def _told(base, row):
    rule = base.rule(row["from"])
    return {
        "text": (
            f"Local guidance says: {row['says']} The built-in rule stays in force: {rule.title}."
        ),
        "built_in": rule.id,
        "sources": list(rule.sources),
        "local": row["says"],
    }


def _facts(case, local, base):
    """Facts of the case that stay beside other ones of local guidance, since no order of caution
    tells which is the safer.
    """
    for reference, fact in local.facts.items():
        held, attribute = case.facts[reference], base.vocabulary.attribute(fact.key)
        if held.value != fact.value and not more_cautious(attribute, held.value, fact.value):
            yield {
                "text": (
                    f"The fact of the case stays: {fact.key.replace('.', ' ')}: {held.text}. Local"
                    f" guidance has {fact.text}; settle which is so."
                ),
                "built_in": f"{fact.entity}.{attribute.name}",
                "sources": [],
                "local": local.title,
            }


def _verdicts(built_in, local_advice, departures, local):
    held = {i["id"]: i for i in built_in["items"]}
    for number, item in enumerate(local_advice["items"]):
        first = held.get(item["id"])
        if first and VERDICTS.index(first["verdict"]) > VERDICTS.index(item["verdict"]):
            local_advice["items"][number] = first
            departures.append(
                {
                    "text": f"The built-in verdict stays: {first['item']}: {first['verdict']}",
                    "built_in": first["reasons"][0]["rule"] if first["reasons"] else "",
                    "sources": sorted({s for r in first["reasons"] for s in r["sources"]}),
                    "local": local.title,
                }
            )


def _derivations(built_in, local_advice):
    """Derivations of what was kept come along."""
    known = {d["id"] for d in local_advice["derivations"]}
    local_advice["derivations"] = sorted(
        local_advice["derivations"] + [d for d in built_in["derivations"] if d["id"] not in known],
        key=lambda d: d["id"],
    )
