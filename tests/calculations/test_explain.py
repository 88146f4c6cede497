"""`advise CASE --explain NAME` prints formula, inputs with their origins, result and source."""

from depth import not_quick, sampled, sweep
from shipped import every_case, worked

from advisor.cli import main
from advisor.load.folder import find_folder


def explained(capsys, name, wanted):
    code = main(["advise", str(find_folder("cases") / f"{name}.yaml"), "--explain", wanted])
    return code, capsys.readouterr().out


def test_the_working_of_the_ladder_needed(capsys):
    """12 + 1.676 + 1 - 0.3 - 0.3 = 14.076 m, added up by hand; the run of 1.676 m is from 1.6 m
    up and 0.5 m back, by Pythagoras.
    """
    _, out = explained(capsys, "plan/arrival-left", "ladder-needed")
    assert "L = depth + run" in out and "Result: 14.1 m  (14.076 m)" in out
    assert "depth = 12 m  (a fact of the case, pitch.depth)" in out
    assert "foot spare = 1 m  (a trade figure, ladder foot spare)" in out
    assert "Common practice of the trade" in out


def test_the_working_of_the_cord(capsys):
    """EN 564: at least 12.8 kN for 8 mm cord."""
    _, out = explained(capsys, "plan/arrival-left", "tether-cord")
    assert "12.8 kN" in out and "cord polyamide minimum strength" in out and "EN 564" in out


@not_quick
def test_the_weakest_part_is_named(capsys):
    _, out = explained(capsys, "numbers/slab-and-three-pieces", "hang-weakest")
    assert "2.9 kN" in out and "Weakest: ladder" in out and "not there" not in out
    _, out = explained(capsys, "plan/arrival-left", "ladder-chain")
    assert "links = not there" in out


def test_what_is_missing_is_named(capsys):
    _, out = explained(capsys, "plan/arrival-left", "wind-chill")
    assert "not worked out" in out and "pitch.wind" in out


def test_a_clock_time_is_shown_as_a_clock_shows_it(capsys):
    _, out = explained(capsys, "plan/arrival-left", "margin-worked-out")
    assert "limit = 18:00" in out and "e+0" not in out


@not_quick
@sweep("name", lambda: sampled((n for n in every_case() if n.startswith("numbers/")), 1, 2))
def test_every_calculation_of_a_case_can_be_explained(name, capsys):
    for identity, item in sampled(worked(name).items(), 3, 6):
        _, out = explained(capsys, name, identity)
        assert (
            item.title.split()[0] in out
            and "Formula:" in out
            and "Inputs:" in out
            and "Result:" in out
            and "Why:" in out
        )
