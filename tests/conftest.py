"""The option that says how deep the tests go; a fault in rules/ ends them before they begin."""

import gc
import os
import sys

import depth
import hypothesis
import pytest

# The tests start the program hundreds of times; compiled anew each time it would cost minutes.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# No example fails for the time it takes: a busy machine is no fault of the program.
hypothesis.settings.register_profile("untimed", deadline=None)
hypothesis.settings.load_profile("untimed")


def pytest_addoption(parser):
    parser.addoption(
        "--depth",
        choices=[d.name for d in depth.Depth],
        default=depth.Depth.normal.name,
        help="quick: before each commit; normal: as in CI; all: every sweep over all there is",
    )
    parser.addoption(
        "--examples",
        type=int,
        help="random examples to draw in each test, whatever the depth",
    )


def pytest_configure(config):
    depth.drawn = config.getoption("examples")
    depth.now = depth.Depth[config.getoption("depth")]
    config.addinivalue_line("markers", "depth(least): the least depth at which the test runs")


def pytest_sessionstart(session):
    """Read the rules once, before any worker does: were each test to find out by itself that they
    cannot be read, a slip in one file would cost minutes and be told a thousand times.
    """
    if hasattr(session.config, "workerinput"):
        return
    from advisor.advise import Advisor
    from advisor.faults import Faults

    try:
        Advisor()
    except Faults as faults:
        pytest.exit(f"the rules cannot be read:\n{faults}", returncode=1)


def pytest_collection_finish(session):
    """Look for garbage no more in what stays: the rules and the tests themselves."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 10, 10)


def pytest_collection_modifyitems(config, items):
    def least(item):
        mark = item.get_closest_marker("depth")
        return depth.Depth[mark.args[0]] if mark else depth.Depth.quick

    alike = {}
    for item in items:
        if least(item) <= depth.now:
            alike.setdefault(item.nodeid.partition("[")[0], []).append(item)
    taken = {item for of_one in alike.values() for item in depth.sampled(of_one, 2, None)}
    if left_out := [item for item in items if item not in taken]:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if item in taken]
