"""The queue at the pitch, one row a place in it: who waits how long above, and then below, on one
scale of time. Drawn only from times that are known to the minute.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.facts.times import show_time
from advisor.model import names
from advisor.model.ref import Ref
from advisor.pictures.canvas import SIZE, Canvas, width_of
from advisor.pictures.legend import Notes, noted
from advisor.pictures.measure import nice_minutes
from advisor.pictures.view import View

WIDTH, LEFT, RIGHT = 400, 46.0, 384.0
HEAD, FOOT = 22.0, 34.0  # units above and below the rows of a part
ROW, ROWS = 14.0, 100.0  # the height of a row; of all rows, at most
MINUTE = 60.0
NEAR = 60.0  # seconds; a time known less nearly is not drawn
MOST = 40  # people; the rows of more could not be told apart


class Turn(NamedTuple):
    """One way of the whole group: `before` is for rigging, `each` the time of each person, all in
    seconds; `start` is the time of day in seconds, None where it is not known.
    """

    name: str
    where: str
    people: int
    before: float
    each: float
    start: float | None

    @property
    def whole(self) -> float:
        """The time of all, in seconds."""
        return self.before + self.people * self.each

    @property
    def longest(self) -> float:
        """The wait of the last, in seconds."""
        return self.before + (self.people - 1) * self.each


def draw(view: View) -> Canvas | None:
    """The queue down and up; None where no time of it is known."""
    return noted(compose(view))


def compose(view: View) -> tuple[Canvas, Notes] | None:
    """The drawing, and what is to stand below it."""
    if view.choice(*names.PITCH_IN_TWO) == "yes":  # these times are of one pitch
        return None
    notes = Notes()
    turns = [turn for turn in (_down(view, notes), _up(view, notes)) if turn]
    if not turns:
        return None
    canvas = Canvas("queue", "The queue at the pitch: who waits, and how long", WIDTH, 4)
    scale = (RIGHT - LEFT) / max(turn.whole for turn in turns)
    for turn in turns:
        _draw(canvas, turn, scale)
    notes.entry("", "light: waits; black: on the ladder, from the checks until the line is back")
    if any(turn.before for turn in turns):
        notes.entry("", "grey: rigging, while all wait")
    notes.entry("", "one ladder, one after the other, each as long as the mean of all")
    return canvas, notes


def _known(view: View, ref: Ref) -> float | None:
    """A time that is known to the minute, in seconds."""
    span = view.span(*ref)
    return None if span is None or span[1] - span[0] > NEAR else sum(span) / 2


def _people(view: View) -> int:
    """How many go, 0 where that is open or too many to draw."""
    span = view.span(*names.GROUP_SIZE)
    return int(span[1]) if span and span[0] == span[1] <= MOST else 0


def _down(view: View, notes: Notes) -> Turn | None:
    people, each = _people(view), _known(view, names.EACH_DOWN)
    whole = _known(view, names.TIME_DOWN)
    if not people or each is None or whole is None:
        notes.lacks("the way down: how many go, how long each takes, or how long the rigging takes")
        return None
    before = max(whole - people * each, 0.0)
    return Turn("DOWN", "above", people, before, each, _known(view, names.START))


def _up(view: View, notes: Notes) -> Turn | None:
    people, each = _people(view), _known(view, names.EACH_UP)
    if not people or each is None:
        notes.lacks("the way up: how many go, or how long each takes")
        return None
    return Turn("UP", "below", people, 0.0, each, _known(view, names.START_UP))


def _draw(canvas: Canvas, turn: Turn, scale: float) -> None:
    """One way: a heading, a row a place in the queue, the axis of time."""
    top = canvas.height + HEAD
    row = min(ROW, ROWS / turn.people)
    canvas.text(8, top - 8, _heading(turn), bold=True, part=f"heading-{turn.name.lower()}")
    part = turn.name.lower()
    if turn.before:
        wide = turn.before * scale
        canvas.box(LEFT, top, wide, row * turn.people, 0.8, "#bbb", part=f"rigging-{part}")
        if wide > width_of("rigging"):
            middle = top + row * turn.people / 2
            canvas.text(LEFT + wide / 2, middle + 4, "rigging", anchor="middle")
    rim = min(1.5, row * 0.15)
    for place in range(turn.people):
        y = top + row * place
        begins = turn.before + place * turn.each
        waits = begins - turn.before
        if waits:
            x = LEFT + turn.before * scale
            canvas.box(x, y + rim, waits * scale, row - 2 * rim, 0.8, part=f"wait-{part}")
        x, wide = LEFT + begins * scale, turn.each * scale
        canvas.box(x, y + rim, wide, row - 2 * rim, 0.8, "#000", part=f"climb-{part}")
        if row >= SIZE + 1 or place in (0, turn.people - 1):
            canvas.text(LEFT - 6, y + row / 2 + 4, str(place + 1), size=11, anchor="end")
    canvas.height = top + row * turn.people
    _axis(canvas, turn, scale)
    canvas.say(f"{_heading(turn)}.")


def _heading(turn: Turn) -> str:
    waits = f"the last waits {_minutes(turn.longest)} {turn.where}"
    if turn.start is None:
        return f"{turn.name}: {_minutes(turn.whole)}; {waits}"
    ends = _clock(turn.start + turn.whole)
    return f"{turn.name}: {_clock(turn.start)} to {ends}; {waits}"


def _axis(canvas: Canvas, turn: Turn, scale: float) -> None:
    """Strokes at round minutes from the beginning, told by the clock where that is known."""
    y = canvas.height + 3
    canvas.line(LEFT, y, LEFT + turn.whole * scale, y, thick=0.8, part=f"axis-{turn.name.lower()}")
    step = nice_minutes(58 / scale / MINUTE)
    at = 0
    while at * MINUTE <= turn.whole + 1:
        x = LEFT + at * MINUTE * scale
        canvas.line(x, y, x, y + 4, thick=0.8)
        clock = turn.start is not None
        told = _clock((turn.start or 0.0) + at * MINUTE) if clock else f"{at} min"
        anchor = "end" if x > RIGHT - 16 else "middle"
        canvas.text(x, y + 16, told, size=11, anchor=anchor, part="time")
        at += step
    canvas.height += FOOT - 10


def _minutes(seconds: float) -> str:
    """A time in whole minutes."""
    return f"{round(seconds / MINUTE)} min"


def _clock(seconds: float) -> str:
    """A time of day to the minute."""
    return show_time(round(seconds / MINUTE) * 60)
