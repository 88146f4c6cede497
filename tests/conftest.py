"""The option that says how deep the tests go."""

import depth


def pytest_addoption(parser):
    parser.addoption(
        "--depth",
        choices=[d.name for d in depth.Depth],
        default=depth.Depth.normal.name,
        help="quick: before each commit; normal: as in CI; all: every sweep over all there is",
    )


def pytest_configure(config):
    depth.now = depth.Depth[config.getoption("depth")]
    config.addinivalue_line("markers", "depth(least): the least depth at which the test runs")


def pytest_collection_modifyitems(config, items):
    def least(item):
        mark = item.get_closest_marker("depth")
        return depth.Depth[mark.args[0]] if mark else depth.Depth.quick

    left_out = [item for item in items if least(item) > depth.now]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if least(item) <= depth.now]
