"""Group times against a discrete-event simulation (simpy)."""

import random

import pytest
import simpy

from advisor.mechanics import time


def simulated(times, lanes):
    """Waits and the time at which the last is through, from people queueing for a resource."""
    world, waits = simpy.Environment(), []
    pitch = simpy.Resource(world, capacity=lanes)

    def person(each):
        with pitch.request() as turn:
            yield turn
            waits.append(world.now)
            yield world.timeout(each)

    for each in times:
        world.process(person(each))
    world.run()
    return waits, world.now


@pytest.mark.parametrize(
    "people, each, lanes", [(8, 312, 1), (8, 312, 2), (7, 250, 2), (1, 400, 1), (12, 180, 3)]
)
def test_equal_people(people, each, lanes, record):
    waits, last = simulated([each] * people, lanes)
    record(
        time.group_time,
        "simpy simulation",
        time.group_time(people, each, lanes, 0),
        last,
        rel=1e-12,
    )
    for place, wait in enumerate(waits, start=1):
        record(
            time.queue_wait, "simpy simulation", time.queue_wait(place, each, lanes), wait, abs=1e-9
        )


@pytest.mark.parametrize("seed, lanes", [(1, 1), (2, 2), (3, 3)])
def test_unequal_people(seed, lanes, record):
    chance = random.Random(seed)
    times = [chance.randint(100, 600) for _ in range(11)]
    for got, want in zip(time.queue_waits(times, lanes), simulated(times, lanes)[0]):
        record(time.queue_waits, "simpy simulation", got, want, abs=1e-9)


def test_eight_people_one_line(record):
    # Worked batch: 8 people at 5.2 min each wait 0, 5.2 ... 36.4 min, the last is clear at 41.6
    # min.
    record(
        time.queue_wait,
        "worked batch of eight",
        time.queue_wait(8, 5.2 * 60, 1),
        36.4 * 60,
        rel=1e-9,
    )
    record(
        time.group_time,
        "worked batch of eight",
        time.group_time(8, 5.2 * 60, 1, 0),
        41.6 * 60,
        rel=1e-9,
    )


def test_eight_novices_on_ten_metres(figure, record):
    # Common practice, no source: 3 min each and 3 m/min up gives 8 x 6.33 min, about 51 min.
    each = time.person_time(
        10, figure("climbing rate up, novice"), figure("overhead for each person")
    )
    record(
        time.group_time,
        "worked example, common practice",
        time.group_time(8, each, 1, 0),
        51 * 60,
        rel=0.01,
    )
