"""What stands below a drawing: one legend, then a box of what is not known, so that nothing is
drawn that nobody has told.
"""

from __future__ import annotations

from msgspec import Struct, field

from advisor.pictures.canvas import LEADING, SIZE, Canvas, wrap

EDGE = 8  # from the rim of the sheet
MARK = 26  # the column of the marks
NOT_KNOWN_TITLE = "Not known, so not drawn:"


class Notes(Struct):
    """Entries of the legend as (mark, words), what is told of the place in one run of words, and
    what is not known.
    """

    legend: list[tuple[str, str]] = field(default_factory=list)
    place: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)

    def entry(self, mark: str, words: str) -> None:
        """One line of the legend."""
        self.legend.append((mark, words))

    def tell(self, words: str) -> None:
        """A few words on the place."""
        self.place.append(words)

    def lacks(self, words: str) -> None:
        """One thing that is not known or not decided, said once."""
        if words not in self.unknown:
            self.unknown.append(words)


def set_notes(canvas: Canvas, notes: Notes) -> None:
    """Set legend and box below what is drawn; the sheet grows as needed, and the description tells
    both.
    """
    y = canvas.height + 4
    for mark, words in _entries(notes):
        y = _entry(canvas, mark, words, y)
    if notes.unknown:
        y = _unknown(canvas, notes.unknown, y + 4)
    canvas.height = y + EDGE
    _describe(canvas, notes)


def noted(made: tuple[Canvas, Notes] | None) -> Canvas | None:
    """A drawing with its notes set below it; None where nothing was drawn."""
    if made is None:
        return None
    set_notes(*made)
    return made[0]


def set_apart(canvas: Canvas, notes: Notes) -> tuple[str, ...]:
    """The legend as lines that stand beside what is drawn, in the letters of a page; the
    description tells it too.
    """
    canvas.height += EDGE
    _describe(canvas, notes)
    lines = [f"{mark} {words}".strip() for mark, words in _entries(notes)]
    if notes.unknown:
        lines.append(f"{NOT_KNOWN_TITLE} {'; '.join(notes.unknown)}")
    return tuple(lines)


def _entries(notes: Notes) -> list[tuple[str, str]]:
    told = "; ".join(notes.place)
    return [*in_order(notes), *([("", told)] if told else [])]


def _describe(canvas: Canvas, notes: Notes) -> None:
    for mark, words in _entries(notes):
        canvas.say(_told(mark, words))
    if notes.unknown:
        canvas.say(f"{NOT_KNOWN_TITLE} {'; '.join(notes.unknown)}.")


def in_order(notes: Notes) -> list[tuple[str, str]]:
    """The entries of the legend as they are to stand."""
    return sorted(notes.legend, key=_order)


def _order(entry: tuple[str, str]) -> tuple[int, str]:
    """Letters in their order, then numbers, then what has no mark."""
    mark = entry[0]
    if not mark:
        return 2, ""
    return (1, mark) if mark.isdigit() else (0, "")


def _told(mark: str, words: str) -> str:
    words = (words[:1].upper() + words[1:]).rstrip(".")
    return f"{mark}: {words}." if mark.isalnum() else f"{words}."


def _entry(canvas: Canvas, mark: str, words: str, y: float) -> float:
    left = EDGE + (MARK if mark else 0)
    lines = wrap(words, canvas.width - left - EDGE, most=8)
    if mark:
        canvas.text(EDGE, y + SIZE, mark, bold=True)
    for number, line in enumerate(lines):
        canvas.text(left, y + SIZE + number * LEADING, line)
    return y + len(lines) * LEADING + 3


def _unknown(canvas: Canvas, unknown: list[str], y: float) -> float:
    inner = canvas.width - 2 * EDGE - 16
    blocks = [wrap(words, inner - 12, most=4) for words in unknown]
    height = LEADING * (1 + sum(map(len, blocks))) + 12
    canvas.box(EDGE, y, canvas.width - 2 * EDGE, height, thick=1.2, dashes="6 3", part="not-known")
    at = y + SIZE + 5
    canvas.text(EDGE + 8, at, NOT_KNOWN_TITLE, bold=True)
    for lines in blocks:
        for number, line in enumerate(lines):
            at += LEADING
            if not number:
                canvas.text(EDGE + 8, at, "-")
            canvas.text(EDGE + 20, at, line)
    return y + height
