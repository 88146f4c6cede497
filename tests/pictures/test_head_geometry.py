"""The pitch head against the facts: angles within 1 degree, distances within 1 % of the scale, the
sheet never a mirror image, and people's way crossing what it is told to cross.
"""

from math import atan2, degrees

import pytest
from drawn import plans, sheets, view_at, view_of, view_with
from test_section_geometry import close, hung_on, one, span

HEAD = "pitch-head"
SPREAD = "plan/arrival-left"


def opening(legs) -> float:
    """The angle between the outermost of some lines that share an end."""
    apex = next(p for p in legs[0].points if all(p in leg.points for leg in legs[1:]))
    turns = []
    for leg in legs:
        (x, y) = next(p for p in leg.points if p != apex)
        turns.append(degrees(atan2(x - apex[0], apex[1] - y)))
    return max(turns) - min(turns)


@plans
def test_the_legs_stand_at_the_angle_of_the_facts(path):
    view = view_at(path)
    sheet, legs = sheets(view)[HEAD], sheets(view)[HEAD].lines("leg")
    wide = span(view, "pitch head.leg angle")
    side = one(view, "pitch head.side leg angle")
    if wide is None and side is None:
        assert not legs
    if not legs:
        return
    fits = [wide[1]] if wide else []
    fits += [2 * side] if side is not None and len(legs) != 2 else []
    assert any(opening(legs) == pytest.approx(angle, abs=1) for angle in fits)
    ((_, _, told),) = sheet.texts("angle")
    assert float(told.removesuffix("°")) == pytest.approx(opening(legs), abs=1)


@pytest.mark.parametrize("angle", [20, 50, 53, 90, 119, 125, 150])
def test_any_angle_is_drawn_and_from_120_on_it_stops(angle):
    """120 degrees: there each leg carries the whole load, T = W / (2 cos 60)."""
    view = view_with(
        "plan/wide-angle", f"pitch head.angle={angle} deg", "pitch head.master point height=unknown"
    )
    sheet = sheets(view)[HEAD]
    legs = sheet.lines("leg")
    assert opening(legs) == pytest.approx(angle, abs=1)
    assert bool(sheet.lines("stop")) == (angle >= 120) == (min(leg.thick for leg in legs) >= 4)
    assert f"{angle}°" in sheet.words and ("STOP" in sheet.words) == (angle >= 120)


@pytest.mark.parametrize("angle", [121, 125, 150])
def test_the_stop_mark_covers_nothing_that_is_measured(angle):
    change = (f"pitch head.angle={angle} deg", "pitch head.master point height=unknown")
    sheet = sheets(view_with("plan/wide-angle", *change))[HEAD]
    (mark,), (spacing,) = sheet.lines("stop"), sheet.lines("spacing")
    across = [x for x, _ in mark.points]
    for x, y in spacing.points:
        assert not (min(across) < x < max(across) and mark.high < y < mark.low)
    assert not (
        min(across) < spacing.points[-1][0]
        and spacing.points[0][0] < max(across)
        and mark.high < spacing.low < mark.low
    )


@plans
def test_distances_are_to_scale_both_ways(path):
    view = view_at(path)
    sheet = sheets(view)[HEAD]
    spacing = one(view, "pitch head.leg spacing")
    for line in sheet.lines("spacing"):
        assert spacing is not None and close(line.length, spacing, sheet.scale)
    gap = one(view, "pitch head.gap ladder to lifeline")
    for line in sheet.lines("ladder-to-lifeline"):
        assert gap is not None and close(line.length, gap, sheet.scale)
        ends = sorted(x for x, _ in line.points)
        rig = {sheet.lines(part)[0].points[-1][0] for part in ("ladder", "lifeline")}
        assert all(min(abs(end - x) for x in rig) < 4 for end in ends)
    (lip,) = sheet.lines("lip")
    backs = {one(view, "anchor.distance from lip", a) for a in view.entities("anchor")} - {None}
    for _, y in sheet.discs("anchor"):
        drawn = (lip.low - y) / sheet.scale
        about = [span(view, "anchor.distance from lip", a) for a in view.entities("anchor")]
        assert any(abs(drawn - back) <= 0.01 for back in backs) or any(
            s and s[0] <= drawn <= s[1] for s in about
        )


@plans
def test_left_is_left_for_whoever_faces_the_drop(path):
    """From above, with the drop below on the sheet, one who faces it has the left hand on the
    sheet's right; were the drop above, on its left. Anything else is a mirror image.
    """
    view = view_at(path)
    sheet = sheets(view)[HEAD]
    (left,), (right,), (lip,) = sheet.texts("LEFT"), sheet.texts("RIGHT"), sheet.lines("lip")
    people = sheet.discs("waiting") + sheet.discs("anchor")
    if people:
        below = lip.low > people[0][1]
        assert (left[0] > right[0]) == below
    texts = [e for e in sheet.tree.iter() if e.tag.endswith("text") and e.text]
    drawn = [e for e in texts if float(e.get("y")) < lip.low]  # the legend stands below
    letters = {e.text: float(e.get("x")) for e in drawn}
    towards = 1 if left[0] > right[0] else -1
    for letter, anchor in zip("ABCDEFGHIJ", view.entities("anchor")):
        side = view.choice(anchor, "anchor.side")
        in_line = view.choice(anchor, "anchor.in lifeline") == "yes"
        if (
            letter in letters
            and side in ("left", "right")
            and not in_line
            and anchor != hung_on(view)
        ):
            assert (towards * (letters[letter] - 200) > 0) == (side == "left")


def cross(a, b) -> bool:
    """Whether two straight lines cross, by the signs of the turns at their ends."""

    def turn(p, q, r):
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    (p, q), (r, s) = a, b
    return turn(p, q, r) * turn(p, q, s) < 0 and turn(r, s, p) * turn(r, s, q) < 0


def crossings(sheet) -> int:
    (way,) = sheet.lines("way")
    rig = [
        pair
        for part in ("ladder", "tether", "lifeline", "leg", "leg-from-above")
        for line in sheet.lines(part)
        for pair in zip(line.points, line.points[1:])
    ]
    return sum(cross(leg, pair) for leg in zip(way.points, way.points[1:]) for pair in rig)


@plans
def test_the_way_crosses_only_where_it_is_told_to(path):
    view = view_at(path)
    sheet, told = sheets(view)[HEAD], view.choice("pitch head", "pitch head.path crosses")
    if not told or not view.choice("pitch head", "pitch head.arrival side") or not hung_on(view):
        assert not sheet.lines("way") and not sheet.discs("next")
    elif sheet.lines("way"):
        assert (crossings(sheet) > 0) == (told == "yes")
        assert bool(sheet.discs("crossing")) == (told == "yes")


@pytest.mark.parametrize("crosses", ["yes", "no"])
@pytest.mark.parametrize("side", ["left", "right", "behind"])
@pytest.mark.parametrize("ladder", ["left", "right"])
def test_every_way_can_be_drawn(side, crosses, ladder):
    view = view_with(
        SPREAD,
        f"pitch head.arrival side={side}",
        f"pitch head.path crosses={crosses}",
        f"anchor left ladder bolt.side={ladder}",
    )
    sheet = sheets(view)[HEAD]
    if hung_on(view):
        assert (crossings(sheet) > 0) == (crosses == "yes")


@plans
def test_a_master_point_is_drawn_once(path):
    view = view_at(path)
    sheet = sheets(view)[HEAD]
    named = [a for a in view.entities("anchor") if view.choice(a, "anchor.kind") == "master point"]
    drawn = len(sheet.discs("master")) + len(sheet.lines("master"))
    assert drawn <= max(1, len(named))


@plans
def test_what_is_undecided_is_not_drawn(path):
    view = view_at(path)
    sheet = sheets(view)[HEAD]
    if not view.decided("ladder anchor"):
        assert not {"ladder", "tether"} & sheet.parts
    if not (view.decided("tether") or view.choice("tether", "tether.form")):
        assert "tether" not in sheet.parts
    held = [a for a in view.entities("anchor") if view.choice(a, "anchor.in lifeline") == "yes"]
    if not held:
        assert not {"lifeline", "leg", "master"} & sheet.parts
    assert view.choice("pitch head", "pitch head.leader side") or "leader" not in sheet.parts
    assert span(view, "pitch head.waiting distance") or "waiting" not in sheet.parts


def test_a_ladder_on_no_decided_anchor_is_not_drawn():
    anchors = "".join(
        f"  anchor {name}: {{kind: resin bolt, side: {name}, height: 1 m,"
        " distance from lip: 1 m}\n"
        for name in ("left", "right")
    )
    ladder = "  pitch: {depth: 9 m, hang: free}\n  ladder a: {length: 12 m}\n"
    view = view_of(f"case: x\nabout: [plan]\ngiven:\n{ladder}{anchors}")
    assert not view.decided("ladder anchor")
    sheet = sheets(view)[HEAD]
    assert len(sheet.discs("anchor")) == 2
    assert not {"ladder", "tether", "lifeline", "leg", "master"} & sheet.parts
    assert "which anchor the ladder hangs on" in sheet.all_text


@pytest.mark.parametrize(
    "taken, gone, said",
    [
        ("pitch head.leader side", {"leader"}, "on which side the leader stands"),
        ("pitch head.waiting distance", {"waiting"}, "how far from the drop people wait"),
        ("pitch head.path crosses", {"way", "next"}, "whether their way crosses"),
        ("pitch head.arrival side", {"way", "next"}, "from which side people arrive"),
        ("lifeline.belay place", {"belayer"}, "belayed"),
        ("tether.length out", {"tether"}, "how long the tether is"),
    ],
)
def test_what_is_not_known_is_in_the_box(taken, gone, said):
    before = sheets(view_with(SPREAD))[HEAD]
    after = sheets(view_with(SPREAD, f"{taken}=unknown"))[HEAD]
    assert gone <= before.parts and not gone & after.parts
    assert said in after.all_text and said not in before.all_text


def test_unequal_legs_keep_their_lengths():
    """Three sides leave one triangle (law of cosines): legs of 0.5 m and 0.3 m over 0.4 m."""
    view = view_with(
        SPREAD,
        "pitch head.left leg=0.5 m",
        "pitch head.right leg=0.3 m",
        "pitch head.angle=53 deg",
        "pitch head.master point height=unknown",
    )
    sheet = sheets(view)[HEAD]
    legs = sorted(line.length / sheet.scale for line in sheet.lines("leg"))
    assert legs == pytest.approx([0.3, 0.5], abs=0.005)
