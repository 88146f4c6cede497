"""The sketch in plain characters shows what the drawings show, in the same order across the sheet,
and what it can't show it says.
"""

import pytest
from drawn import plans, sheets, view_at, view_with

from advisor.pictures.sketch import sketch


def art(text: str, title: str) -> list[str]:
    """The drawing under a title, without the words beside it."""
    lines = text.partition(f"\n{title}")[2].split("\n\n")[0].splitlines()[1:]
    return [line[:42] for line in lines]


@plans
def test_it_fits_eighty_columns_and_says_what_is_not_known(path):
    view = view_at(path)
    text = sketch(view)
    assert max(map(len, text.splitlines())) <= 80
    if not view.decided("ladder anchor"):
        assert "no anchor chosen" in text
    boxed = any(sheet.rects("not-known") for n, sheet in sheets(view).items() if "pitch" in n)
    assert ("NOT KNOWN" in text) == boxed


@plans
def test_it_shows_ladder_and_line_where_the_drawings_do(path):
    view = view_at(path)
    text = sketch(view)
    for title, name in (("PITCH HEAD", "pitch-head"), ("SECTION", "pitch-section")):
        rows, sheet = "\n".join(art(text, title)), sheets(view)[name]
        assert ("H" in rows.replace("RIGHT", "")) == ("ladder" in sheet.parts)
        assert (":" in rows) == ("lifeline" in sheet.parts)


@plans
def test_letters_stand_in_the_order_of_the_drawing(path):
    view = view_at(path)
    rows, sheet = art(sketch(view), "PITCH HEAD"), sheets(view)["pitch-head"]
    (lip,) = sheet.lines("lip")
    drawn = [
        (float(e.get("x")), e.text)
        for e in sheet.tree.iter()
        if e.tag.endswith("text") and len(e.text or "") == 1 and float(e.get("y")) < lip.low
    ]
    seen = {word: row.index(word) for row in rows[1:] for _, word in drawn if word in row}
    for x, word in drawn:
        for other_x, other in drawn:
            if word in "ABCDEFG" and other in "ABCDEFG" and x + 25 < other_x:
                assert seen[word] < seen[other]


@pytest.mark.parametrize("water, mark", [("stream", "%"), ("dry", "")])
def test_water_and_a_short_ladder_show(water, mark):
    view = view_with("plan/arrival-left", f"pitch.water={water}", "ladder main.length=9 m")
    rows = art(sketch(view), "SECTION")
    assert ("%" in "".join(rows)) == bool(mark)
    ladder = [n for n, row in enumerate(rows) if "H" in row]
    floor = [n for n, row in enumerate(rows) if row.count("#") > 15][-1]
    # 13.1 m to the floor, 9 m of ladder: the gap is a third of the depth, and so of the rows.
    assert floor - ladder[-1] >= 4 and "TOO SHORT" in sketch(view)
