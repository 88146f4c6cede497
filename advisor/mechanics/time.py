"""Times of a group on a pitch, in seconds."""

import heapq
import math
from collections.abc import Iterable

from advisor.mechanics.check import above, at_least, whole
from advisor.mechanics.registry import calculation


@calculation(
    formula="t = overhead + depth / rate", unit="s", rises=("overhead", "depth"), falls=("rate",)
)
def person_time(depth: float, rate: float, overhead: float) -> float:
    """Time for which one person keeps the ladder and the line.

    Formula: t = overhead + depth / rate.
    Inputs: depth, m, 0 or more; climbing rate with rests, m/s, above 0; time for checks, clipping
    and sending the line back, s, 0 or more.
    Answer: s. Errors: ValueError outside these ranges. Source: common practice, no source.
    """
    at_least("The depth", depth, 0, "m")
    above("The climbing rate", rate, 0, "m/s")
    at_least("The overhead", overhead, 0, "s")
    return overhead + depth / rate


@calculation(
    formula="t = overhead + depth (m / novice rate + (n - m) / practised rate) / n",
    unit="s",
    turns={
        "people": lambda novices, **_: [novices],
        "novices": lambda people, **_: [people],
    },
    rises=("depth", "overhead"),
    falls=("novice_rate", "practised_rate"),
)
def mean_person_time(
    people: float,
    novices: float,
    depth: float,
    novice_rate: float,
    practised_rate: float,
    overhead: float,
) -> float:
    """Mean time for which one person of a mixed group keeps the ladder and the line.

    Formula: t = overhead + depth (m / novice rate + (n - m) / practised rate) / n, with m never
    counted above n.
    Inputs: people n, whole, at least 1; novices m, whole, 0 or more; others as for person_time.
    Answer: s. Errors: ValueError outside these ranges. Source: arithmetic on person_time.
    """
    whole("The number of people", people, 1)
    whole("The number of novices", novices, 0)
    share = min(novices, people) / people
    slow = person_time(depth, novice_rate, overhead)
    return share * slow + (1 - share) * person_time(depth, practised_rate, overhead)


@calculation(formula="lanes = min(ladders, lifelines)", unit="1", rises=("ladders", "lifelines"))
def lanes(ladders: float, lifelines: float) -> float:
    """How many people can be on the pitch at once, each with a ladder and an own lifeline.

    Formula: lanes = min(ladders, lifelines). Inputs: whole counts, 0 or more. Answer: count.
    Errors: ValueError if a count is not whole. Source: each person has an independent lifeline.
    """
    whole("The number of ladders", ladders, 0)
    whole("The number of lifelines", lifelines, 0)
    return float(min(ladders, lifelines))


@calculation(
    formula="t = rigging + ceil(n / lanes) x t1",
    unit="s",
    rises=("people", "each", "rigging"),
    falls=("lanes_open",),
)
def group_time(people: float, each: float, lanes_open: float, rigging: float) -> float:
    """Time for the whole group one way.

    Formula: t = rigging + ceil(n / lanes) x t1.
    Inputs: people, whole, 0 or more; time of each, s, 0 or more; lanes, whole, at least 1;
    rigging time, s, 0 or more. Answer: s.
    Errors: ValueError outside these ranges. Source: a closed batch served in turn.
    """
    whole("The number of people", people, 0)
    at_least("The time of each person", each, 0, "s")
    whole("The number of lanes", lanes_open, 1)
    at_least("The rigging time", rigging, 0, "s")
    return rigging + math.ceil(people / lanes_open) * each


@calculation(
    formula="wait = floor((i - 1) / lanes) x t1",
    unit="s",
    rises=("place", "each"),
    falls=("lanes_open",),
)
def queue_wait(place: float, each: float, lanes_open: float) -> float:
    """Time for which the person at one place of the queue stands waiting.

    Formula: wait = floor((i - 1) / lanes) x t1.
    Inputs: place in the queue, whole, from 1; time of each, s, 0 or more; lanes, whole, at least
    1. Answer: s.
    Errors: ValueError outside these ranges. Source: a closed batch served in turn.
    """
    whole("The place in the queue", place, 1)
    at_least("The time of each person", each, 0, "s")
    whole("The number of lanes", lanes_open, 1)
    return math.floor((place - 1) / lanes_open) * each


def queue_waits(times: Iterable[float], lanes_open: float) -> tuple[float, ...]:
    """Waits of a queue whose people take different times, in order.

    Method: whoever is next takes the lane that comes free first.
    Inputs: time of each person in order, s, 0 or more; lanes, whole, at least 1. Answer: tuple of
    waits, s.
    Errors: ValueError outside these ranges. Source: a closed batch served in turn.
    """
    whole("The number of lanes", lanes_open, 1)
    free_at = [0.0] * int(lanes_open)
    waits = []
    for each in times:
        at_least("The time of each person", each, 0, "s")
        start = heapq.heappop(free_at)
        waits.append(start)
        heapq.heappush(free_at, start + each)
    return tuple(waits)


@calculation(
    formula="start = out by - after - way up",
    unit="s",
    rises=("out_by",),
    falls=("way_up", "after"),
)
def latest_start(out_by: float, way_up: float, after: float) -> float:
    """Latest time at which somebody must start up.

    Formula: start = out by - after - way up.
    Inputs: time by which the group must be out, s from any fixed moment; time up the pitch of that
    person and of all behind, s; time from the pitch to the way out, s; the last two 0 or more.
    Answer: s from the same moment; it may be negative (too late already).
    Errors: ValueError for a negative duration. Source: arithmetic.
    """
    at_least("The time up the pitch", way_up, 0, "s")
    at_least("The time after the pitch", after, 0, "s")
    return out_by - after - way_up


@calculation(formula="to spare = limit - time", unit="s", rises=("limit",), falls=("needed",))
def time_to_spare(limit: float, needed: float) -> float:
    """Time to spare; below 0 it is the time that is missing.

    Formula: to spare = limit - time. Inputs and answer: s. Errors: ValueError if the needed time
    is negative. Source: arithmetic.
    """
    at_least("The needed time", needed, 0, "s")
    return limit - needed


@calculation(formula="out = start + way + after", unit="s", rises=("start", "way", "after"))
def end_time(start: float, way: float, after: float) -> float:
    """When something ends that starts at a moment and takes two stretches of time.

    Formula: out = start + way + after. Inputs: start, s from any fixed moment; the two times, s, 0
    or more. Answer: s from the same moment. Errors: ValueError for a negative time. Source:
    arithmetic.
    """
    at_least("The time of the way", way, 0, "s")
    at_least("The time after it", after, 0, "s")
    return start + way + after


@calculation(formula="later = max(first, second)", unit="s", rises=("first", "second"))
def later_of(first: float, second: float) -> float:
    """The later of two moments.

    Formula: later = max(first, second). Inputs and answer: s from the same fixed moment.
    Errors: none of its own. Source: arithmetic.
    """
    return max(first, second)


@calculation(formula="ratio = people / leaders", unit="1", rises=("people",), falls=("leaders",))
def people_per_leader(people: float, leaders: float) -> float:
    """People looked after by each leader.

    Formula: ratio = people / leaders. Inputs: whole counts, people 0 or more, leaders at least 1.
    Answer: ratio.
    Errors: ValueError outside these ranges. Source: arithmetic; the ratio allowed is for the
    local rule.
    """
    whole("The number of people", people, 0)
    whole("The number of leaders", leaders, 1)
    return people / leaders
