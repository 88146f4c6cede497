"""Pictures: no label on another by the program's own guess of letters, none off the sheet, and
saying in words what they show. What they show is measured in tests/pictures.
"""

import struct

import pytest
from at_hand import IDS, made, made_from, some_cases
from depth import kept, not_quick, sampled, sweep
from lxml import etree

from advisor.pictures.all import pictures
from advisor.pictures.canvas import Box, Canvas, width_of, wrap
from advisor.pictures.png import png
from advisor.pictures.sketch import sketch

SVG = "{http://www.w3.org/2000/svg}"


@kept
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


def test_what_is_not_known_is_said_not_left_out():
    found = pictures(made_from("case: x\nabout: [plan]\ngiven:\n  pitch: {hang: free}\n").view)
    assert "Not known, so not drawn" in found["pitch-head"].description
    assert "any anchor: none is named" in found["pitch-head"].description
    assert "the depth" in found["pitch-section"].description


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


@pytest.mark.parametrize("width", [40, 90, 300])
@pytest.mark.parametrize(
    "text", ["The quick brown fox jumps over the lazy dog", "WWWWWWWWWWWWWWWWWWWW", "a b c", ""]
)
def test_wrapped_lines_keep_their_width(text, width):
    lines = wrap(text, width, most=9)
    assert all(width_of(line) <= width or len(line) <= 4 for line in lines)
    assert "".join(lines).replace(" ", "").replace("…", "") in text.replace(" ", "")


def test_a_tag_keeps_off_labels_and_symbols():
    canvas, sheet = Canvas("x", "x", 200, 100), Box(0, 0, 200, 100)
    canvas.mark(100, 50, 20)
    for _ in range(5):
        canvas.tag("5 m", 100, 50, sheet)
    canvas.place_tags()
    assert len(canvas.boxes) == 5
    for number, box in enumerate(canvas.boxes):
        assert not any(box.meets(other) for other in canvas.boxes[number + 1 :] + canvas.marks)


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
