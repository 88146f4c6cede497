"""The advice by its contract, with the provenance graph and what the paper was made for."""

from __future__ import annotations

from advisor.model.record import as_json
from advisor.reasons.prov import provenance


def render(s) -> str:
    """One JSON document: `advice`, `provenance` (PROV-JSON), `responses` for rehearsal, `paper`."""
    rehearsed = [response for response, own in s.responses if not own]
    return as_json(
        {
            "advice": s.advice,
            "provenance": provenance(s.advice, s.view.base, s.times, rehearsed),
            "responses": rehearsed,
            "paper": {
                "title": s.title,
                "date": s.date,
                "version": s.version,
                "rating scale": list(s.scale),
                "local guidance": s.guidance or "none",
                "does not cover": s.lists["not covered"],
            },
        }
    )
