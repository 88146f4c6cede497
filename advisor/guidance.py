"""The option `--local`: the one file of local guidance that the built-in rules are laid over."""

from __future__ import annotations

from argparse import Action, ArgumentParser, Namespace
from collections.abc import Sequence

from advisor.words import LOCAL_HELP


class _Once(Action):
    """A name of a file, given once."""

    def __call__(
        self,
        parser: ArgumentParser,
        namespace: Namespace,
        values: str | Sequence[object] | None,
        option_string: str | None = None,
    ) -> None:
        """Keep the name; an error in one line where it is none, or one was given before."""
        name = str(values)
        if getattr(namespace, self.dest) is not None:
            parser.error("argument --local: one file is laid over; put what both say into one")
        if not name.strip() or name == "-":
            parser.error("argument --local: expected the name of a file of local guidance")
        setattr(namespace, self.dest, name)


def add(command: ArgumentParser, help_: str = LOCAL_HELP) -> None:
    """Add it to a command."""
    command.add_argument("--local", metavar="FILE", action=_Once, help=help_)
