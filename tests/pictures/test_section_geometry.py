"""The section against the facts: measured in the SVG by its own scale bar. Lengths hold within 1 %
of the scale; the line's reach is worked here from the lengths that the advice tells, by arithmetic.
"""

import pytest
from drawn import plans, sheets, view_at, view_of, view_with

from advisor.pictures.view import View

# What rigging must be told or decided before a part of the picture may be there.
SURE = "pitch-section"


def span(view: View, key: str, entity: str = ""):
    return view.span(entity or key.partition(".")[0], key)


def one(view: View, key: str, entity: str = ""):
    """A number that is known to a point."""
    found = span(view, key, entity)
    return found[0] if found and found[0] == found[1] else None


def close(drawn: float, fact: float, scale: float) -> bool:
    """Within 1 % of the scale: of the length itself, or of a metre where it is shorter."""
    return abs(drawn / scale - fact) <= 0.01 * max(abs(fact), 1.0)


def hung_on(view: View) -> str:
    chosen = view.decided("ladder anchor")
    return next((a for a in view.entities("anchor") if view.name(a) == chosen), "")


@plans
def test_depth_and_ledge_are_to_scale(path):
    view = view_at(path)
    sheet, depth = sheets(view)[SURE], one(view, "pitch.depth")
    if depth is None:
        assert span(view, "pitch.depth") or not sheet.lines("depth")
        return
    (line,) = sheet.lines("depth")
    assert close(line.length, depth, sheet.scale)
    down = one(view, "pitch.ledge depth")
    ledges = sheet.lines("ledge")
    if view.choice("pitch", "pitch.ledge") == "yes" and down is not None and down <= depth:
        assert close(ledges[0].high - line.high, down, sheet.scale)
    else:
        assert not ledges


@plans
def test_anchors_stand_at_their_heights(path):
    view = view_at(path)
    sheet = sheets(view)[SURE]
    if not sheet.lines("depth"):
        assert not sheet.discs("anchor")
        return
    lip = sheet.lines("depth")[0].high
    expected = set()
    for anchor in view.entities("anchor"):
        height, back = (
            one(view, "anchor.height", anchor),
            one(view, "anchor.distance from lip", anchor),
        )
        if height is not None and back is not None:
            expected.add((round(back, 2), round(height, 2)))
    lip_x = sheet.lines("ground")[0].points[-1][0] + 4  # rock is drawn 4 units off the lip itself
    drawn = {
        (round((lip_x - x) / sheet.scale, 2), round((lip - y) / sheet.scale, 2))
        for x, y in sheet.discs("anchor")
    }
    near = {(b, h) for b, h in expected if any(abs(b - x) + abs(h - y) < 0.03 for x, y in drawn)}
    assert near == expected


@plans
def test_the_ladder_has_its_length_and_its_foot_its_gap(path):
    view = view_at(path)
    sheet = sheets(view)[SURE]
    gap = span(view, "pitch.gap below ladder")
    made = one(view, "pitch.ladder made up")
    if gap is None or made is None or not sheet.lines("depth"):
        assert not {"ladder", "coil", "gap", "tether"} & sheet.parts
        return
    if view.choice("pitch", "pitch.hang") == "slab" and "slab" not in sheet.parts:
        return
    anchor = hung_on(view)
    placed = anchor and None not in (
        one(view, "anchor.height", anchor),
        one(view, "anchor.distance from lip", anchor),
    )
    if placed:
        gap = span(view, "anchor.gap below ladder", anchor)
    (ladder,), landing = sheet.lines("ladder"), sheet.lines("depth")[0].low
    if gap[1] > 0.06:
        (measured,) = sheet.lines("gap")
        assert (
            close(landing - ladder.low, gap[1], sheet.scale)
            or view.choice("pitch", "pitch.hang") == "slab"
        )
        assert close(measured.length, gap[1], sheet.scale) or sheet.lines("slab")
        assert "TOO SHORT" in sheet.words
    else:
        assert "gap" not in sheet.parts and close(landing - ladder.low, 0, sheet.scale)
    coil = sum(line.length for line in sheet.lines("coil"))
    assert close(coil, max(-gap[1], 0) if gap[1] < -0.06 else 0, sheet.scale)
    told = [one(view, f"tether.{part}") for part in ("length out", "bridle leg")]
    if placed and gap[0] == gap[1] and None not in told:
        assert close(ladder.length + coil, made, sheet.scale)


def reach_by_arithmetic(view: View):
    """How deep the rope comes: its length less what the advice counts beside the depth, reserve
    left out.
    """
    way = view.choice("lifeline", "lifeline.way")
    length, depth = one(view, "lifeline.length"), one(view, "pitch.depth")
    name = {"from the top": "line-from-top", "doubled from below": "line-doubled"}.get(way)
    number = next((c for c in view.advice.calculations if c.calculation == name), None)
    if None in (length, depth, number) or number.result is None:
        return None
    counted = {p.name: p.span for p in number.inputs}
    if any(s is None or s[0] != s[1] for s in counted.values()):
        return None
    used = {n: s[0] for n, s in counted.items() if n not in ("depth", "reserve")}
    if way == "doubled from below":
        run = used.pop("run")
        return (length - sum(used.values())) / 2 - run
    return length - sum(used.values())


@plans
def test_the_lifeline_ends_where_it_ends(path):
    view = view_at(path)
    sheet, reach = sheets(view)[SURE], reach_by_arithmetic(view)
    if not view.choice("lifeline", "lifeline.way") or span(view, "lifeline.to spare") is None:
        assert not {"lifeline", "lifeline-second", "line-end", "belayer"} & sheet.parts
        return
    if reach is None or not sheet.lines("depth"):
        return
    depth = sheet.lines("depth")[0]
    (line,) = sheet.lines("lifeline")
    expected = max(min(reach, one(view, "pitch.depth")), 0)
    assert close(line.low - depth.high, expected, sheet.scale)
    short = reach < one(view, "pitch.depth") - 0.06
    assert bool(sheet.lines("line-end")) == short
    doubled = view.choice("lifeline", "lifeline.way") == "doubled from below"
    assert bool(sheet.lines("lifeline-second")) == bool(sheet.lines("belayer")) == doubled


@pytest.mark.parametrize("rope", [20, 26, 30])
def test_a_doubled_line_that_is_short_ends_at_half_of_what_is_left(rope):
    """By arithmetic: 12 m deep, anchors 1.6 m up and 0.5 m back (1.68 m to the lip), 4 m from foot
    to belayer and 2 m of tie-ins; each strand has half of the rest.
    """
    view = view_with("lifeline/doubled-line-too-short", f"lifeline.length={rope} m")
    sheet = sheets(view)[SURE]
    (line,), (depth,) = sheet.lines("lifeline"), sheet.lines("depth")
    assert close(line.low - depth.high, (rope - 6) / 2 - 1.676, sheet.scale)
    assert len(sheet.lines("line-end")) == 2 and "TOO SHORT" in sheet.words


@plans
def test_a_slip_reaches_as_far_as_worked_out(path):
    view = view_at(path)
    sheet, drop = sheets(view)[SURE], span(view, "lifeline.drop at the foot")
    least = sheet.rects("slip-least")
    if drop is None:
        assert not least
    if not least:
        assert drop is None or "lifeline" not in sheet.parts or "line-end" in sheet.parts
        return
    most = sheet.rects("slip-most")
    assert close(least[0].height, drop[0], sheet.scale)
    assert close(least[0].height + sum(r.height for r in most), drop[1], sheet.scale)
    left = span(view, "lifeline.clearance above landing")
    below = (sheet.lines("depth")[0].low - least[0].y) / sheet.scale - drop[1]
    assert below == pytest.approx(left[0], abs=0.02)
    assert ("STRIKE" in sheet.words) == (left[0] < 0)


@pytest.mark.parametrize("slope", [50, 64, 78])
def test_a_slab_lies_at_its_slope(slope):
    view = view_with("numbers/slab-and-three-pieces", f"pitch.slab slope={slope} deg")
    from math import atan2, degrees

    ((top, foot, *_),) = (line.points for line in sheets(view)[SURE].lines("slab"))
    assert degrees(atan2(foot[1] - top[1], foot[0] - top[0])) == pytest.approx(slope, abs=1)


@pytest.mark.parametrize("hang, part", [("free", "wall"), ("touching", "wall"), ("flush", "wall")])
def test_a_free_hang_stands_clear_of_the_wall(hang, part):
    sheet = sheets(view_with("plan/arrival-left", f"pitch.hang={hang}"))[SURE]
    clear = sheet.lines("ladder")[0].points[-1][0] - sheet.lines(part)[0].points[-1][0]
    assert (clear > 20) == (hang == "free")


@pytest.mark.parametrize("water", ["stream", "spray", "drips", "dry"])
def test_water_and_pool_are_drawn_only_where_told(water):
    sheet = sheets(view_with("plan/arrival-left", f"pitch.water={water}", "pitch.landing=pool"))[
        SURE
    ]
    assert {"stream", "spray", "drips"} & sheet.parts == ({water} - {"dry"})
    assert "pool" in sheet.parts and "landing" not in sheet.parts


@pytest.mark.parametrize(
    "taken, gone, said",
    [
        ("pitch.hang", {"wall"}, "how the pitch hangs"),
        ("pitch.landing", {"landing"}, "what the landing is like"),
        ("pitch.lip", set(), "what the lip is like"),
        ("pitch.ledge", set(), "whether a ledge"),
        ("pitch.water", set(), "whether water falls"),
        ("lifeline.way", {"lifeline", "slip-least"}, "how the lifeline is worked"),
        ("lifeline.length", {"lifeline", "slip-least"}, "lifeline reaches"),
        ("lifeline.slack", {"slip-least"}, "how far a slip"),
        ("pitch.depth", {"wall", "ladder", "lifeline", "anchor", "ground"}, "the depth"),
    ],
)
def test_what_is_not_known_is_in_the_box_and_not_in_the_drawing(taken, gone, said):
    before = sheets(view_with("plan/arrival-left"))[SURE]
    after = sheets(view_with("plan/arrival-left", f"{taken}=unknown"))[SURE]
    assert gone <= before.parts and not gone & after.parts
    assert said in after.all_text and said not in before.all_text
    assert after.rects("not-known")


def test_nothing_decided_draws_nothing():
    sheet = sheets(view_of("case: x\nabout: [plan]\ngiven:\n  pitch: {hang: free}\n"))[SURE]
    assert sheet.parts == {"not-known"}


def test_a_ladder_on_no_anchor_has_no_tether():
    sheet = sheets(view_with("numbers/one-ladder-too-short"))[SURE]
    assert "ladder" in sheet.parts and "tether" not in sheet.parts
    assert "which anchor the ladder hangs on" in sheet.all_text


def test_a_short_line_tells_its_reserve_apart_from_where_it_ends():
    """14 m of line where 22.7 m are needed: 17.7 m of way down and 5 m of reserve."""
    view = view_with("plan/arrival-left", "lifeline.length=14 m")
    (reserve,) = {round(n, 1) for n in view.span("lifeline", "lifeline.reserve")}
    sheet = sheets(view)[SURE]
    assert "TOO SHORT: 8.7 m too short with its reserve; without it, it ends 3.7 m" in sheet.words
    assert 8.7 - reserve == pytest.approx(3.7, abs=0.06)
