"""The doors `export` and `sketch`."""

from __future__ import annotations

import os
from pathlib import PurePath

from advisor import guidance, moment
from advisor.faults import Fault, Faults, Place
from advisor.papers.size import KINDS, SIZES
from advisor.records import options as records
from advisor.screen import clean
from advisor.streams import give

FORMATS = (".txt", ".md", ".html", ".docx", ".json")
REGISTERS = (".xlsx", ".csv")  # tables of the assessment, or of kit


def add(commands):
    """Add both to the command line."""
    export = commands.add_parser(
        "export",
        help="write the papers for a risk assessment",
        description=(
            "Write a case's advice as papers for a risk assessment; the name's ending chooses the"
            " form."
        ),
    )
    export.add_argument("file", metavar="FILE")
    export.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        required=True,
        help="file to write: .txt, .md, .html, .docx or .json; registers also .xlsx and .csv",
    )
    export.add_argument(
        "--paper",
        choices=KINDS,
        default=None,
        help="which paper (default: what fits the case: working is plan, card and assessment)",
    )
    export.add_argument(
        "--size",
        choices=list(SIZES),
        default=None,
        help="the size of the sheets (default: as is usual where you are)",
    )
    export.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="ENTITY.ATTRIBUTE=VALUE",
        dest="settings",
        help="change or add one fact, as often as needed",
    )
    moment.add(export)
    guidance.add(export)
    records.add(export)
    export.add_argument(
        "--date", metavar="TEXT", default="", help="the date to print (default: the day of the run)"
    )
    export.add_argument(
        "--scale",
        metavar="WORDS",
        default="",
        help=(
            "rating words to mark by hand: 'plain' for low, medium, high, or your own parted by"
            " commas"
        ),
    )
    export.add_argument("--force", action="store_true", help="write over a file that is there")
    sketch = commands.add_parser(
        "sketch",
        help="the pitch as a sketch in plain characters",
        description="The pitch as a sketch in plain characters, at most 80 columns wide.",
    )
    sketch.add_argument("file", metavar="FILE")
    sketch.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="ENTITY.ATTRIBUTE=VALUE",
        dest="settings",
        help="change or add one fact, as often as needed",
    )
    records.add(sketch)


def export(options) -> int:
    """Write the papers; 3 when they hold a stop."""
    from advisor.advise import Advisor
    from advisor.papers.build import fitting
    from advisor.papers.lists import read_scale, shipped_lists
    from advisor.papers.size import usual
    from advisor.papers.subject import subject
    from advisor.papers.write import THERE, write

    form = PurePath(options.output).suffix.lower()
    _checked_form(options, form)
    if (
        os.path.lexists(options.output) and not options.force
    ):  # told before the work, and checked again when writing
        raise Faults([Fault(Place(options.output), THERE)])
    began = _now()
    advisor = Advisor(local_file=options.local)
    lists = shipped_lists(advisor.base)
    made = subject(
        advisor,
        advisor.read(
            options.file,
            options.settings,
            moment.asked_at(options),
            cards=records.cards(options, advisor),
        ),
        _date(options.date),
        lists,
        read_scale(options.scale, lists),
    )
    made.times = (began, _now()) if not options.date else ("", "")
    size = options.size or usual(os.environ)
    write(options.output, papers(made, form, options.paper or fitting(made), size), options.force)
    return give(f"Written: {clean(options.output)}\n", 3 if made.advice.stops else 0)


def _checked_form(options, form: str) -> None:
    """Raises Faults where the ending of the name gives no form for the paper."""
    told = ""
    if form not in (*FORMATS, *REGISTERS):
        told = f"the name must end in one of {', '.join(FORMATS)}; its ending chooses the form."
    elif form in REGISTERS and options.paper not in (None, "kit", "assessment"):
        told = f"a register is of 'kit' or 'assessment'; write '{options.paper}' as .html or .docx."
    if told:
        raise Faults([Fault(Place(options.output or "''"), told)])


def papers(made, form: str, kind: str = "all", size: str = "A4") -> bytes:
    """A subject's papers in one form, as bytes."""
    from advisor.papers.build import build

    if form in REGISTERS:
        from advisor.papers import registers

        return registers.render(made, form, kind)
    if form == ".json":
        from advisor.papers import jsonform

        return jsonform.render(made).encode("utf-8")
    if form == ".docx":
        from advisor.papers.faces import word

        return word.render(build(made, kind, size))
    if form == ".html":
        from advisor.papers.faces import html

        return html.render(build(made, kind, size)).encode("utf-8")
    if form == ".txt":
        from advisor.papers.faces import text

        return text.render(build(made, kind, size)).encode("utf-8")
    from advisor.papers.faces import markdown

    return markdown.render(build(made, kind, size)).encode("utf-8")


def _now() -> str:
    """The time, to the second, with its distance from universal time."""
    import datetime

    return datetime.datetime.now().astimezone().isoformat(timespec="seconds")


def _date(text):
    """The date as given, or the day of the run."""
    if text:
        if len(text) > 40 or not text.isprintable():
            raise Faults(
                [
                    Fault(
                        Place("--date"),
                        'a date is at most 40 plain characters, such as "14 March 2026".',
                    )
                ]
            )
        return text
    import datetime

    return datetime.date.today().isoformat()


def sketch(options) -> int:
    """Print the sketch; 3 when the advice holds a stop."""
    from advisor.advise import Advisor
    from advisor.load.case import read_case
    from advisor.pictures.sketch import sketch as drawn
    from advisor.pictures.view import View

    advisor = Advisor()
    cards = records.cards(options, advisor)
    case = read_case(options.file, advisor.base, options.settings, cards=cards)
    outcome, choices = advisor.run(case)
    advice = advisor.tell(case, outcome, choices)
    return give(drawn(View(advisor.base, case, outcome.world, advice)), 3 if advice.stops else 0)
