"""`pitch-advisor rules` and `pitch-advisor facts`."""

from __future__ import annotations

from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.streams import give, give_pages


def rules(options) -> int:
    """List rules, search them, or show one in full."""
    from advisor.advise import Advisor
    from advisor.browse import rules as browse

    advisor, word = Advisor(), " ".join(options.words)
    rule = advisor.base.rule(word)
    if rule:
        data = browse.shown(advisor, rule)
        return _write(options, data, lambda: browse.rule_lines(data))
    found = browse.matching(advisor.base, word)
    _some(found, word, "rule", [r.id for r in advisor.base.rules])
    return _write(options, browse.listed(found), lambda: browse.list_lines(found))


def facts(options) -> int:
    """List facts, search them, or show one in full."""
    from advisor.advise import Advisor
    from advisor.browse import facts as browse

    base, word = Advisor().base, " ".join(options.words)
    attribute = base.vocabulary.attribute(word)
    if attribute:
        return _write(
            options, browse.shown(base, attribute), lambda: browse.fact_lines(base, attribute)
        )
    found = browse.matching(base, word)
    _some(found, word, "fact", list(base.vocabulary.by_key))
    return _write(
        options, [browse.shown(base, a) for a in found], lambda: browse.list_lines(base, found)
    )


def _some(found, word, what, known):
    if not found:
        raise Faults(
            [
                Fault(
                    Place(what + "s"),
                    f"no {what} speaks of '{word}'; try another word.{did_you_mean(word, known)}",
                )
            ]
        )


def _write(options, data, lines) -> int:
    if options.format == "json":
        from advisor.model.record import as_json

        return give(as_json(data))
    from advisor.screen import page

    return give_pages(page(lines()))
