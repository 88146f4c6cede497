"""The doors: what can be typed after `pitch-advisor`, and the exit codes.

0 advice without a stop; 3 advice with a stop; 2 bad usage or bad input; 1 an internal fault.
"""

from __future__ import annotations

import argparse
import sys

from advisor import guidance, moment
from advisor.faults import Disagreement, Fault, Faults, Place
from advisor.papers.door import add as add_papers
from advisor.progress import Progress
from advisor.records import door as records_door
from advisor.records import options as records_options
from advisor.streams import NotShown, give, give_pages, ready

OK, FAULT, USAGE, STOP = 0, 1, 2, 3
DESCRIPTION = (
    "Planning advice for a ladder pitch on an independent lifeline, with its reasons. It advises;"
    " the leader decides."
)


class _Parser(argparse.ArgumentParser):
    """argparse that puts every error in one line."""

    def error(self, message):
        message = "".join(
            c if c.isprintable() else "?" for c in message
        )  # it may quote what was typed
        self.exit(USAGE, f"{self.prog}: {message}; see '{self.prog} --help'.\n")


class _Version(argparse.Action):
    """The version of the program, looked up only when it is asked for."""

    def __init__(self, option_strings, dest, **more):
        super().__init__(option_strings, dest, nargs=0, **more)

    def __call__(self, parser, *_):
        from importlib.metadata import version

        give(f"pitch-advisor {version('ladder-pitch-advisor')}\n")
        parser.exit(OK)


def parser(wanted: str | None = None) -> argparse.ArgumentParser:
    """The command line as data; where one command is wanted, the many of the cards are only named
    unless it is one of theirs.
    """
    top = _Parser(prog="pitch-advisor", description=DESCRIPTION)
    top.add_argument("--version", action=_Version, help="show the version and end")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    advise = commands.add_parser(
        "advise",
        help="advice for a case file",
        description="Advice for a case file ('-' reads standard input).",
    )
    advise.add_argument("file", metavar="FILE")
    advise.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="ENTITY.ATTRIBUTE=VALUE",
        dest="settings",
        help="change or add one fact, as often as needed",
    )
    advise.add_argument(
        "--assume",
        action="append",
        default=[],
        metavar="ENTITY.ATTRIBUTE=VALUE",
        help="take a fact that is not known so, to look ahead; it clears nothing",
    )
    moment.add(advise)
    records_options.add(advise)
    guidance.add(advise)
    advise.add_argument("--format", choices=["text", "json", "markdown"], default="text")
    advise.add_argument(
        "--explain",
        type=_name,
        metavar="NAME",
        help="show the working of one calculation instead of the advice",
    )
    advise.add_argument(
        "--why",
        type=_name,
        metavar="NAME",
        help="tell the reasons of a decision, stop, item, rule or fact, down to its sources",
    )
    advise.add_argument(
        "--why-not",
        type=_name,
        metavar="DECISION=OPTION",
        help="tell why an option was not chosen, and what is missing for it",
    )
    advise.add_argument(
        "--what-would",
        type=_name,
        metavar="DECISION=OPTION",
        help="find the smallest changes that bring an outcome ('stops' clears the stops)",
    )
    advise.add_argument(
        "--levels",
        type=_level,
        default=99,
        metavar="N",
        help="how many levels of reasons --why tells (default all)",
    )
    advise.add_argument(
        "--how-sure",
        type=_name,
        metavar="NAME",
        help=(
            "tell how a decision, stop or item stands and how far each number may move before it"
            " turns"
        ),
    )
    advise.add_argument(
        "--find-out",
        action="store_true",
        help="tell what to find out next, and what each answer would lead to",
    )
    advise.add_argument(
        "--changes",
        type=int,
        choices=(1, 2, 3),
        default=1,
        help="how many facts --what-would may change at once (default 1)",
    )
    advise.add_argument("--all", action="store_true", help="tell everything, not one screen")
    chat = commands.add_parser(
        "chat",
        help="talk it over (what 'pitch-advisor' alone does)",
        description="A conversation; a pipe gives a line a turn.",
    )
    chat.add_argument(
        "file",
        metavar="FILE",
        nargs="?",
        help="a case file to begin with, or a word from a worked case",
    )
    chat.add_argument(
        "--resume",
        nargs="?",
        const="last",
        metavar="SESSION",
        help="go on with the last session, or one named by --sessions",
    )
    chat.add_argument("--sessions", action="store_true", help="list the sessions that were kept")
    guidance.add(chat)
    records_options.add(chat)
    chat.add_argument("--plain", action="store_true", help="plain lines, for screen readers")
    chat.add_argument("--format", choices=["text", "json"], default="text")
    compare = commands.add_parser(
        "compare",
        help="what changes between two cases, and why",
        description="What changes when facts change, or between two case files.",
    )
    compare.add_argument("file", metavar="FILE")
    compare.add_argument("second", metavar="FILE2", nargs="?")
    records_options.add(compare)
    compare.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="ENTITY.ATTRIBUTE=VALUE",
        dest="settings",
        help="the changed facts, as often as needed",
    )
    moment.add(compare)
    guidance.add(compare, "local guidance, for both sides")
    compare.add_argument("--format", choices=["text", "json"], default="text")
    drill = commands.add_parser(
        "drill",
        help="rehearse a case a step at a time",
        description=(
            "A case a step at a time: facts, your choice and reason, then the advice. A pipe gives"
            " a line an answer."
        ),
    )
    drill.add_argument(
        "file",
        metavar="CASE",
        nargs="?",
        help="a case file, or a word from its name; left out, the cases are listed",
    )
    drill.add_argument(
        "--incidents",
        type=_level,
        default=2,
        metavar="N",
        help="how many incidents to throw in (default 2)",
    )
    guidance.add(drill)
    drill.add_argument(
        "--sheet", metavar="FILE", help="keep a sheet (Markdown) of what was discussed"
    )
    add_papers(commands)
    begin = commands.add_parser(
        "new",
        help="begin a plan: asks what is known at home and writes a case file",
        description="Asks what is known at home, a line an answer, and writes a case file.",
    )
    begin.add_argument("file", metavar="FILE")
    begin.add_argument(
        "--blank", action="store_true", help="ask nothing; write a template with comments"
    )
    helping = commands.add_parser(
        "help", help="help by topic", description="Help by topic; alone it lists the topics."
    )
    helping.add_argument("topic", metavar="TOPIC", nargs="?", default="")
    complete = commands.add_parser(
        "completion",
        help="print completion for a shell",
        description="Print the lines with which a shell completes commands and options.",
    )
    complete.add_argument("shell", choices=["bash", "zsh", "tcsh"])
    commands.add_parser(
        "cases",
        help="list the worked cases",
        description="The worked cases that come with the program.",
    )
    _looking(commands)
    records_door.add(commands, wanted)
    return top


def _looking(commands):
    """The commands that look at the rules themselves."""
    for name, help_ in (
        ("rules", "list or search the rules, or show one by its id"),
        ("facts", "list or search the facts rules look at, or show one"),
    ):
        command = commands.add_parser(
            name, help=help_, description=help_[0].upper() + help_[1:] + "."
        )
        command.add_argument("words", metavar="WORD", nargs="*")
        command.add_argument("--format", choices=["text", "json"], default="text")
    audit = commands.add_parser(
        "audit",
        help="find faults in a rule base",
        description="Exit code 0: clean; 3: findings; 2: the folder cannot be read.",
    )
    audit.add_argument(
        "folder",
        metavar="DIR",
        nargs="?",
        help="a folder like rules/ (default: the rules that come with the program)",
    )
    audit.add_argument(
        "--coverage",
        action="store_true",
        help="measure instead how far generated situations exercise the rules",
    )
    audit.add_argument(
        "--mutation",
        action="store_true",
        help="measure instead how many mistakes put in on purpose are noticed",
    )
    audit.add_argument("--all", action="store_true", help="show every note")
    audit.add_argument("--format", choices=["text", "json"], default="text")


def _level(text: str) -> int:
    if not (text.isascii() and text.isdecimal()) or int(text) > 99:
        raise argparse.ArgumentTypeError(f"'{text}' should be a whole number from 0 to 99")
    return int(text)


def _name(text: str) -> str:
    if not text.strip():
        raise argparse.ArgumentTypeError("expected a name, found nothing")
    return text


def main(arguments=None) -> int:
    """Run one command; never shows a traceback."""
    ready()
    try:
        words = sys.argv[1:] if arguments is None else arguments
        wanted = words[0] if words and not words[0].startswith("-") else None
        options = parser(wanted).parse_args(arguments)
        if options.command is None:
            options = parser().parse_args(["chat"])
        return _COMMANDS[options.command](options)
    except Faults as error:
        for fault in error.faults:
            print(fault, file=sys.stderr)
        return USAGE
    except NotShown as error:
        # an output that is closed or full; the advice was worked out, and a stop in it still counts
        if not error.closed_pipe:
            print(
                f"standard output: cannot be written ({error}); nothing more is shown.",
                file=sys.stderr,
            )
        return error.code if error.closed_pipe or error.code == STOP else USAGE
    except Disagreement as error:
        from advisor.bug import write_report

        print(
            f"pitch-advisor: internal fault: {error}; no advice is given. Details:"
            f" {write_report(error, _case_text(arguments))}",
            file=sys.stderr,
        )
        return FAULT
    except Exception as error:  # the last net: one line for the user, the rest in a file
        from advisor.bug import write_report

        print(
            f"pitch-advisor: internal fault: {type(error).__name__}; no advice is given. Details:"
            f" {write_report(error, _case_text(arguments))}",
            file=sys.stderr,
        )
        return FAULT


def _case_text(arguments) -> str:
    return " ".join(arguments if arguments is not None else sys.argv[1:])


def _advise(options) -> int:
    from advisor.advise import Advisor

    advisor = Advisor(local_file=options.local)
    at = moment.asked_at(options)
    cards = records_options.cards(options, advisor)
    run = advisor.answer(advisor.read(options.file, options.settings, at, options.assume, cards))
    watch, code = Progress(), STOP if run.advice.stops else OK
    text = "\n".join(_answers(options, run, watch)) or _shown(options, run)
    if watch.stopped:  # who breaks off wants what was found, and then the prompt
        return give(text, code)
    return give_pages(text, code)


def _answers(options, run, watch):
    """The answers to questions about the advice; none where none was asked."""
    from advisor.screen import wrapped

    if options.explain:
        from advisor.reasons.working import find, lines

        found = find(run.advice, options.explain)
        yield "\n".join(wrapped(lines(number, run.base)) for number in found)
    if options.why:
        from advisor.reasons.why import why

        yield wrapped(why(run.base, run.advice, options.why, options.levels))
    for ask in _searches(options, watch):
        from advisor.explain.both import both

        lines = both(run, ask)
        watch.clear()
        yield wrapped(lines)


def _searches(options, watch):
    """Questions answered by search, which the built-in rules are asked too."""
    if options.why_not:
        from advisor.explain.why_not import why_not

        yield lambda run: why_not(run, options.why_not, options.all, watch)
    if options.how_sure:
        from advisor.explain.how_sure import how_sure

        yield lambda run: how_sure(run, options.how_sure, watch)
    if options.find_out:
        from advisor.explain.find_out import find_out

        yield lambda run: find_out(run, options.all, watch)
    if options.what_would:
        from advisor.explain.what_would import what_would

        size, everything = options.changes, options.all
        yield lambda run: what_would(run, options.what_would, size, watch, everything)


def _shown(options, run) -> str:
    advice = run.advice
    if options.format == "json":
        from advisor.model.record import as_json

        return as_json(advice)
    if options.format == "markdown":
        from advisor.papers.faces.markdown import render
        from advisor.papers.outline import whole_paper

        return render(whole_paper(advice))
    if options.all:
        from advisor.papers.faces.text import advised

        return advised(advice)
    from advisor.papers.one_screen.screen import shown

    return shown(run.base, advice)


def _chat(options) -> int:
    from advisor.chat.loop import converse, list_sessions

    return list_sessions() if options.sessions else converse(options)


def _compare(options) -> int:
    from advisor.advise import Advisor
    from advisor.load.case_file import document_of
    from advisor.reasons.differences import differences, told
    from advisor.screen import wrapped

    advisor = Advisor(local_file=options.local)
    if options.second == options.file == "-":
        raise Faults(
            [
                Fault(
                    Place("compare"),
                    "standard input can be read once; name a file for one of the two cases.",
                )
            ]
        )
    document = document_of(options.file)  # read once: standard input has no second reading
    at, cards = moment.asked_at(options), records_options.cards(options, advisor)
    before = advisor.advise(advisor.read(document, at=at, cards=cards))
    second = options.second or document
    after = advisor.advise(advisor.read(second, options.settings, at, cards=cards))
    found = differences(advisor.base, before, after)
    if options.format == "json":
        from advisor.model.record import as_json

        text = as_json(found)
    else:
        text = wrapped(told(found, advisor.base))
    return give_pages(text, STOP if after.stops else OK)


def _drill(options) -> int:
    from advisor.drill.run import run

    return run(options)


def _new(options) -> int:
    from advisor.begin.door import new

    return new(options)


def _help(options) -> int:
    from advisor.begin.help import tell

    return tell(options.topic)


def _completion(options) -> int:
    import shtab

    return give(shtab.complete(parser(), options.shell) + "\n")


def _cases(options) -> int:
    from advisor.load.folder import files_of, find_folder
    from advisor.load.tree import read_document
    from advisor.screen import narrowed

    folder = find_folder("cases")
    found = (
        (path.relative_to(folder.parent).as_posix(), read_document(path).data)
        for path in files_of(folder)
    )
    told = (
        (name, f"    {data.get('case', '')}: {data.get('teaches', '')}") for name, data in found
    )
    return give_pages("".join(f"{name}\n{narrowed([text])}" for name, text in told), OK)


def _rules(options) -> int:
    from advisor.browse.command import rules

    return rules(options)


def _facts(options) -> int:
    from advisor.browse.command import facts

    return facts(options)


def _audit(options) -> int:
    from advisor.audit.command import run

    return run(options)


def _export(options) -> int:
    from advisor.papers.door import export

    return export(options)


def _sketch(options) -> int:
    from advisor.papers.door import sketch

    return sketch(options)


def _records(options) -> int:
    from advisor.records.door import run

    return run(options)


_COMMANDS = {
    "advise": _advise,
    "compare": _compare,
    "chat": _chat,
    "drill": _drill,
    "export": _export,
    "sketch": _sketch,
    "new": _new,
    "help": _help,
    "completion": _completion,
    "cases": _cases,
    "rules": _rules,
    "facts": _facts,
    "audit": _audit,
    **dict.fromkeys((*records_door.HELPS, "records"), _records),
}
