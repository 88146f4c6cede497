"""Load chain, change-over and tether against the figures and the facts, measured in the SVG."""

import re
from math import atan2, degrees

import pytest
from drawn import plans, sheets, view_at, view_with
from test_section_geometry import one

from advisor.pictures.chain import chain_of


@plans
def test_bars_are_as_long_as_their_figures(path):
    view = view_at(path)
    sheet, number = sheets(view).get("load-chain"), chain_of(view)
    if number is None:
        assert sheet is None
        return
    parts = [part for part in number.inputs if part.there]
    known = [part.span for part in parts if part.span]
    least, most = sheet.rects("bar-least"), sheet.rects("bar-most")
    assert len(least) == len(known) and len(sheet.rects("link")) == len(parts)
    assert len(sheet.rects("bar-unknown")) == len(parts) - len(known)
    assert len(sheet.texts("weakest")) == (1 if known else 0)
    if not known:
        return
    scale = least[0].width / known[0][0]
    for bar, (low, high) in zip(least, known):
        assert bar.width == pytest.approx(low * scale, abs=0.6)
        light = [r.width for r in most if r.y == bar.y]
        assert sum(light) == pytest.approx((high - low) * scale, abs=0.6)
    for line, load in zip(sheet.lines("load"), [view.span("group", "group.expected load")]):
        assert line.points[0][0] - least[0].x == pytest.approx(load[1] * scale, abs=0.6)
    dark = [bar.width for bar in least if bar.fill == "#000"]
    assert dark == [min(bar.width for bar in least)]


@plans
def test_the_margin_is_never_said_too_high(path):
    """Least strength over greatest load, as it stands in the advice."""
    view = view_at(path)
    sheet = sheets(view).get("load-chain")
    load = view.span("group", "group.expected load")
    if sheet is None or load is None:
        return
    known = [part.span[0] for part in chain_of(view).inputs if part.there and part.span]
    told = re.search(r"at least ([\d.]+) times", sheet.words)
    if told:
        assert float(told[1]) <= min(known) / load[1] + 1e-9 < float(told[1]) + 0.1
    assert ("LESS than the load" in sheet.words) == bool(known and min(known) < load[1])


@plans
def test_a_strength_is_told_as_it_was_worked_out(path):
    view = view_at(path)
    sheet = sheets(view).get("load-chain")
    if sheet is None:
        return
    for part in chain_of(view).inputs:
        told = sheet.words.partition(f"{part.name.capitalize()}: ")[2].partition(". ")[0]
        ends = [float(figure) for figure in re.findall(r"([\d.]+) kN", told)]
        if part.there and part.span and part.span[0] >= 1000:  # said to 0.1 kN
            assert [ends[0], ends[-1]] == pytest.approx([e / 1000 for e in part.span], abs=0.0501)
        elif part.there and part.span is None:
            assert told.startswith("no figure: judged, not counted")


@plans
def test_nobody_is_unattached_in_any_frame(path):
    """Eight frames, each with a cowstail or a lifeline, and none where the way down is another."""
    view = view_at(path)
    sheet = sheets(view).get("change-over")
    assert (sheet is not None) == (view.decided("method") == "lifelined ladder")
    if sheet is None:
        return
    frames = sheet.rects("frame")
    held = sheet.lines("frame-cowstail") + sheet.lines("frame-lifeline")
    assert len(frames) == 8 == len(sheet.lines("frame-person"))
    for frame in frames:
        inside = [
            line
            for line in held
            if frame.x <= line.points[-1][0] <= frame.x + frame.width
            and frame.y <= line.points[-1][1] <= frame.y + frame.height
        ]
        assert inside
    rigged = view.choice("pitch head", "pitch head.safety line") == "yes"
    assert bool(sheet.lines("safety-line")) == rigged != bool(sheet.rects("not-told"))


@plans
def test_the_bridle_opens_at_its_angle(path):
    view = view_at(path)
    sheet = sheets(view).get("tether")
    if sheet is None:
        return
    legs, angle = sheet.lines("bridle-leg"), one(view, "tether.bridle angle")
    if angle is None or not legs:
        return
    (apex, left), (_, right) = (leg.points for leg in legs)
    drawn = degrees(
        atan2(right[0] - apex[0], right[1] - apex[1]) - atan2(left[0] - apex[0], left[1] - apex[1])
    )
    assert drawn == pytest.approx(angle, abs=1)


@pytest.mark.parametrize(
    "form, part",
    [
        ("releasable hitch", "hitch-turn"),
        ("lowering device", "device"),
        ("fixed cord", "fixed-cord"),
        ("fixed wire", "fixed-wire"),
        ("direct connector", "direct-connector"),
    ],
)
def test_the_form_told_is_the_form_drawn(form, part):
    open_facts = ("let-out", "cord length", "lock-off", "release tested", "material")
    forgotten = [f"tether.{fact}=unknown" for fact in open_facts]
    sheet = sheets(view_with("plan/arrival-left", f"tether.form={form}", *forgotten))["tether"]
    forms = {"hitch-turn", "device", "fixed-cord", "fixed-wire", "direct-connector"}
    assert forms & sheet.parts == {part}
    assert ("lets-out" in sheet.parts) == (form in ("releasable hitch", "lowering device"))
