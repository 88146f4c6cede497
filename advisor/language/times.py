"""Which attribute a time of day belongs to: the one the clause or the words before it name, or the
one just asked.
"""

from __future__ import annotations

import re

from advisor.language.clock import clock_at
from advisor.language.readings import canonical

_TIME = re.compile(r"\d\d:\d\d")


def _time_before(scene, clause) -> list:
    """The one attribute of time that the words just before name, even inside a longer phrase:
    "call-out's with the warden, 7 pm".
    """
    found = set()
    for at in range(max(clause.start - 8, 0), clause.start):
        for length in (1, 2, 3):
            stems = tuple(t.stem for t in scene.tokens[at : at + length] if t.text != "-")
            found |= {
                s.key
                for s in scene.index.phrases.get(stems, ())
                if s.form == "matter" and scene.vocabulary.attribute(s.key).type == "time"
            }
    return sorted(found) if len(found) == 1 else []


def _of_it(clause, times) -> list:
    """Of several times of day the one that stands nearest behind the one cue; all where that is not
    clear.
    """
    cues = [m for m in clause.matches if any(s.key in times for s in m.senses)]
    if len(set(times)) != 1 or len(cues) != 1 or len(clause.clocks) < 2:
        return list(clause.clocks)
    behind = [c for c in clause.clocks if c.start >= cues[0].end]
    return behind[:1] or list(clause.clocks)


def in_order(scene, key, clock) -> tuple:
    """The readings of a time of day that leave the times of its thing in the order in which the
    vocabulary names them: a call-out at 6 of who starts at 10:00 is at 18:00.
    """
    attribute = scene.vocabulary.attribute(key)
    times = [a.key for a in scene.entity(attribute.entity).attributes.values() if a.type == "time"]
    here = times.index(key)
    known = {k: str(scene.raw_of(attribute.entity, k) or "") for k in times if k != key}
    told = [(times.index(k) < here, raw) for k, raw in known.items() if _TIME.fullmatch(raw)]
    fits = tuple(
        r for r in clock.readings if all(raw < r if before else r < raw for before, raw in told)
    )
    return fits if told and len(fits) == 1 else clock.readings


def read_times(scene, clause):
    """Times of day go to the one attribute of time that the clause names, or that was asked."""
    times = [
        s.key
        for m in clause.matches
        for s in m.senses
        if s.form == "matter" and scene.vocabulary.attribute(s.key).type == "time"
    ]
    asked = scene.context.asked
    if not times and clause.clocks:
        times = _time_before(scene, clause)
    if not times and asked and scene.vocabulary.attribute(asked[1]).type == "time":
        times = [asked[1]]
    if times and not clause.clocks:
        bare = [clock_at(scene.tokens, q.start, True) for q in clause.quantities if q.unit is None]
        clause.clocks += [c for c in bare if c][:1]
        clause.quantities[:] = [
            q
            for q in clause.quantities
            if not any(c.start < q.end and q.start < c.end for c in clause.clocks)
        ]
    times_of_it = _of_it(clause, times)
    for clock in clause.clocks:
        if times_of_it and clock not in times_of_it:
            continue  # 'back by 14:00 with the call-out at 16:00'
        clause.used.update(range(clock.start, clock.end))
        for match in clause.matches:
            if any(s.key in times for s in match.senses):
                clause.used.update(range(match.start, match.end))
        keys = list(dict.fromkeys(times)) or [
            a.key for a in scene.vocabulary.by_key.values() if a.type == "time" and not a.derived
        ]
        left = in_order(scene, keys[0], clock) if len(keys) == 1 else clock.readings
        readings = [
            canonical(k.partition(".")[0], scene.vocabulary.attribute(k), r)
            for k in keys
            for r in left
        ]
        if len(readings) == 1:
            scene.say(
                keys[0].partition(".")[0],
                keys[0],
                left[0],
                scene.words(clock.start, clock.end),
                clause.doubt,
            )
        else:
            scene.unclear(scene.words(clock.start, clock.end), readings)
