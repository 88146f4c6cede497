"""The doors `export` and `sketch`."""

from __future__ import annotations

import os
from pathlib import PurePath

from advisor import guidance, moment
from advisor.faults import Fault, Faults, Place
from advisor.records import options as records
from advisor.screen import clean
from advisor.streams import give

FORMATS = (".txt", ".md", ".html", ".docx", ".json")


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
        help="file to write: .txt, .md, .html, .docx or .json",
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
    from advisor.papers.lists import read_scale, shipped_lists
    from advisor.papers.subject import subject
    from advisor.papers.write import THERE, write

    form = PurePath(options.output).suffix.lower()
    if form not in FORMATS:
        raise Faults(
            [
                Fault(
                    Place(options.output or "''"),
                    f"the name must end in one of {', '.join(FORMATS)}; its ending chooses the"
                    " form.",
                )
            ]
        )
    if (
        os.path.lexists(options.output) and not options.force
    ):  # told before the work, and checked again when writing
        raise Faults([Fault(Place(options.output), THERE)])
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
    write(options.output, papers(made, form), options.force)
    return give(f"Written: {clean(options.output)}\n", 3 if made.advice.stops else 0)


def papers(made, form: str) -> bytes:
    """A subject's papers in one form, as bytes."""
    from advisor.papers.build import build

    if form == ".json":
        from advisor.papers import jsonform

        return jsonform.render(made).encode("utf-8")
    if form == ".docx":
        from advisor.papers.faces import word

        return word.render(build(made))
    if form == ".html":
        from advisor.papers.faces import html

        return html.render(build(made)).encode("utf-8")
    if form == ".txt":
        from advisor.papers.faces import text

        return text.render(build(made)).encode("utf-8")
    from advisor.papers.faces import markdown

    return markdown.render(build(made)).encode("utf-8")


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
