"""Pictures: no label on another, none off the sheet, drawn to scale, and saying in words what they
show.
"""

import re
import struct
from functools import cache

import pytest
from at_hand import IDS, made, made_from, some_cases
from depth import not_quick, sampled, sweep
from lxml import etree

from advisor.pictures.all import pictures
from advisor.pictures.canvas import Box, Canvas, spread
from advisor.pictures.png import png
from advisor.pictures.section import BOTTOM, LADDER, LINE, TOP
from advisor.pictures.sketch import sketch

SVG = "{http://www.w3.org/2000/svg}"


@cache
def drawn(name):
    return pictures(made(name).view)


@pytest.mark.parametrize(
    "other, meets",
    [
        (Box(5, 0, 15, 10), True),
        (Box(0, 5, 10, 15), True),
        (Box(2, 2, 8, 8), True),
        (Box(10, 0, 20, 10), False),
        (Box(0, 10, 10, 20), False),
    ],
)
def test_boxes_that_share_a_part_meet(other, meets):
    box = Box(0, 0, 10, 10)
    assert box.meets(other) == other.meets(box) == meets


@not_quick
@some_cases
def test_no_label_covers_another_and_none_is_cut(name):
    for canvas in drawn(name).values():
        for number, box in enumerate(canvas.boxes):
            clash = [other.text for other in canvas.boxes[number + 1 :] if box.meets(other)]
            assert not clash, (canvas.name, box.text, clash)
            assert (
                box.left >= 0
                and box.top >= 0
                and box.right <= canvas.width
                and box.bottom <= canvas.height
            ), (canvas.name, box)


@not_quick
@some_cases
def test_pictures_are_well_formed_and_black_and_white(name):
    for canvas in drawn(name).values():
        tree = etree.fromstring(canvas.svg().encode())
        assert tree.find(f"{SVG}title").text and tree.find(f"{SVG}desc").text == canvas.description
        colours = {e.get(k) for e in tree.iter() for k in ("fill", "stroke")} - {None, "none"}
        assert colours <= {"#000", "#fff", "#bbb"}


@not_quick
@sweep("name", lambda: sampled((i for i in IDS if i.startswith(("plan/", "method/"))), 5, 12))
def test_a_plan_has_head_section_and_chain(name):
    rigged = (
        {"load-chain"} if {"anchor", "ladder"} <= set(made(name).view.case.names) else set()
    )  # with nothing named, nothing hangs on anything
    assert {"pitch-head", "pitch-section"} | rigged <= set(drawn(name))


def lines_of(canvas):
    """(x1, y1, x2, y2) of the straight lines drawn."""
    found = []
    for path in etree.fromstring(canvas.svg().encode()).iter(f"{SVG}path"):
        points = [
            tuple(map(float, p.split(",")))
            for p in path.get("d").replace("M", "").replace("Z", "").split(" L")
        ]
        found += [(*a, *b) for a, b in zip(points, points[1:])]
    return found


@not_quick
@pytest.mark.parametrize("depth, ladder", [(12, 10), (20, 15), (8, 6)])
def test_a_short_ladder_is_drawn_short_to_scale(depth, ladder):
    """By proportion: the last rung hangs where bridle and ladder end, as a share of the depth."""
    text = (
        f"case: x\ngiven:\n  pitch: {{depth: {depth} m, hang: free}}\n  pitch head: {{run to lip: 0"
        f" m}}\n  tether: {{length out: 0 m, bridle leg: 300 mm}}\n  ladder a: {{length: {ladder}"
        " m}\n  lifeline: {length: 60 m}\n"
    )
    section = pictures(made_from(text).view)["pitch-section"]
    rails = [y2 for x1, _, x2, y2 in lines_of(section) if x1 == x2 == LADDER - 7]
    told = section.description
    if "not worked out" in told:
        pytest.fail("the foot was not worked out")
    assert rails and rails[0] == pytest.approx(
        TOP + (BOTTOM - TOP) * (0.3 + ladder) / depth, abs=0.1
    )
    assert "TOO SHORT" in told


def test_the_slip_is_drawn_to_scale():
    view = made("plan/arrival-left").view
    low, high = view.span("lifeline", "lifeline.drop at the foot")
    depth = view.middle("pitch", "pitch.depth")
    arrows = [
        y2 - y1
        for x1, y1, x2, y2 in lines_of(drawn("plan/arrival-left")["pitch-section"])
        if x1 == x2 == LINE + 16 and y2 > y1
    ]
    assert arrows[0] == pytest.approx(high * (BOTTOM - TOP) / depth, abs=0.1) and low < high


@not_quick
@some_cases
def test_the_weakest_link_is_the_least_figure(name):
    view, chain = made(name).view, drawn(name).get("load-chain")
    if chain is None:
        return
    from advisor.pictures.chain import chain_of

    item = chain_of(view)
    figures = {p.name: p.span and p.span[0] for p in item.inputs if p.there}
    known = [v for v in figures.values() if v is not None]
    marked = [
        n
        for n in figures
        if f"{n.capitalize()}: " in chain.description
        and "WEAKEST" in chain.description.partition(f"{n.capitalize()}: ")[2].partition(". ")[0]
    ]
    assert len(marked) == len([n for n in item.named if n.removeprefix("the ") in figures])
    if marked and len(known) == len(figures):
        assert min(known) in [figures[n] for n in marked]


@some_cases
def test_a_strength_is_told_as_it_was_worked_out(name):
    chain = drawn(name).get("load-chain")
    if chain is None:
        return
    from advisor.pictures.chain import chain_of

    for part in chain_of(made(name).view).inputs:
        told = chain.description.partition(f"{part.name.capitalize()}: ")[2].partition(". ")[0]
        ends = [float(figure) for figure in re.findall(r"([\d.]+) kN", told)]
        if part.there and part.span and part.span[0] >= 1000:  # said to 0.1 kN
            assert [ends[0], ends[-1]] == pytest.approx([e / 1000 for e in part.span], abs=0.0501)
        elif part.there and part.span is None:
            assert told == "no figure: judged, not counted"
        elif not part.there:
            assert not told


def test_what_is_not_known_is_said_not_left_out():
    found = pictures(made_from("case: x\nabout: [plan]\ngiven:\n  pitch: {hang: free}\n").view)
    assert (
        "No anchor is named" in found["pitch-head"].description
        and "not known" in found["pitch-head"].description
    )
    assert "not known deep" in found["pitch-section"].description
    assert any("Not to scale" in b.text for b in found["pitch-section"].boxes)


@not_quick
def test_a_doubtful_fact_is_marked():
    found = pictures(
        made_from(
            "case: x\ngiven:\n  pitch: {depth: 9 m}\n  anchor a: {kind: resin bolt?, side: left}\n"
        ).view
    )["pitch-head"]
    assert "doubtful" in found.description


@not_quick
def test_many_long_names_still_do_not_overlap():
    name = "W" * 50
    anchors = "".join(
        f"  anchor {name} {n}: {{kind: spike, side: {side}, distance from lip: {n} m, in lifeline:"
        " yes}\n"
        for n, side in enumerate(["left", "right", "middle"] * 4)
    )
    for canvas in pictures(
        made_from(f"case: x\ngiven:\n  pitch: {{depth: 9 m}}\n{anchors}").view
    ).values():
        for number, box in enumerate(canvas.boxes):
            assert not [o for o in canvas.boxes[number + 1 :] if box.meets(o)]
            assert box.bottom <= canvas.height


def test_the_overlap_check_sees_an_overlap():
    canvas = Canvas("x", "x", 100, 100)
    canvas.text(10, 20, "one")
    canvas.text(12, 22, "two")
    assert canvas.boxes[0].meets(canvas.boxes[1]) and not Box(0, 0, 1, 1).meets(Box(1, 0, 2, 1))


@pytest.mark.parametrize(
    "items",
    [[(50, 20), (52, 20), (54, 20)], [(0, 30), (0, 30)], [(90, 60), (95, 60), (99, 60)], []],
)
def test_spread_blocks_do_not_meet(items):
    tops = spread(items, 0, 100)
    assert all(t >= 0 for t in tops)
    assert all(a + h <= b + 1e-9 for (a, (_, h)), b in zip(zip(tops, items), tops[1:]))


def test_png_has_the_size_and_letters_without_system_fonts():
    canvas = Canvas("x", "x", 100, 50)
    blank = png(canvas.svg(), 2)
    assert struct.unpack(">II", blank[16:24]) == (200, 100)
    canvas.text(10, 30, "Anchor")
    assert len(png(canvas.svg(), 2)) > len(blank) + 200


@some_cases
def test_the_sketch_fits_eighty_columns_and_says_what_is_not_known(name):
    text = sketch(made(name).view)
    assert max(map(len, text.splitlines())) <= 80
    if not made(name).view.decided("ladder anchor"):
        assert "no anchor chosen" in text
