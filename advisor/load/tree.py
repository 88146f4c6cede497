"""Strict YAML: JSON types only, every value with its place, nothing surprising.

Built on the parser's events, so anchors, tags and aliases are seen and refused before anything is
expanded.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any, TypeAlias

import yaml
from msgspec import Struct, field

from advisor.bounded import read_file
from advisor.facts.values import HALF_PAIR
from advisor.faults import Fault, Faults, Place

MAX_BYTES, MAX_DEPTH, MAX_NODES = 1_000_000, 24, 60_000
LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
NUMBER = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][-+]?[0-9]+)?\Z")
# What YAML 1.1 would quietly turn into another number; here it is an error with a remedy.
SURPRISE = re.compile(
    r"[-+]?(0[0-9]+|0x[0-9a-fA-F]+|0o[0-7]+|0b[01]+|[0-9]+(_[0-9]+)+|\.[0-9]+|[0-9]+\."
    r"|\.(inf|nan)|\+[0-9.]+)\Z",
    re.I,
)
UNSHOWABLE = (  # what YAML forbids
    "[^\\t\\n\\r\\x20-\\x7e\\x85\\xa0-\\ud7ff\\ue000-\\ufefe\\uff00-\\ufffd\\U00010000-\\U0010ffff]"
)
CONSTANTS = {"true": True, "false": False, "null": None, "~": None, "": None}


Data: TypeAlias = Any  # JSON types; a schema says which
Step: TypeAlias = str | int  # a key or an index on the way to a value
Trail: TypeAlias = list[Step]


class Document(Struct):
    """data: dict, list, str, int, float, bool or None. places: path (tuple of keys and indexes)
    -> Place of the value;
    keys: path -> Place of the key that leads there."""

    file: str
    data: Data = None
    places: dict[tuple[Step, ...], Place] = field(default_factory=dict)
    keys: dict[tuple[Step, ...], Place] = field(default_factory=dict)

    def place(self, path: Sequence[Step] = ()) -> Place:
        """The nearest known place at or above a path."""
        path = tuple(path)
        while path and path not in self.places:
            path = path[:-1]
        return self.places.get(path, Place(self.file))

    def key_place(self, path: Sequence[Step]) -> Place:
        return self.keys.get(tuple(path)) or self.place(path)


def read_document(path: str | Path, shown: str | None = None) -> Document:
    """Read one YAML file. Raises Faults for anything that is not plain, safe YAML."""
    shown = shown or str(path) or "''"
    try:
        raw = read_file(path, MAX_BYTES)
    except (OSError, ValueError) as error:  # a name with a zero byte is a ValueError
        raise Faults(
            [
                Fault(
                    Place(shown),
                    f"cannot read this file ({getattr(error, 'strerror', None) or error}); check"
                    " the name.",
                )
            ]
        ) from None
    return parse_document(raw, shown)


def parse_document(raw: bytes, shown: str) -> Document:
    """Build a Document from bytes; raises Faults."""
    if len(raw) > MAX_BYTES:
        raise Faults(
            [Fault(Place(shown), f"the file is larger than {MAX_BYTES:,} bytes; split it.")]
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Faults(
            [
                Fault(
                    _spot(shown, raw[: error.start].decode("utf-8", "replace")),
                    "not UTF-8 text; save the file as UTF-8.",
                )
            ]
        ) from None
    if not text.replace(
        "\n", ""
    ).isprintable():  # the quick look; only what it doubts is gone through sign by sign
        faults = [
            Fault(
                _spot(shown, text[: m.start()]),
                f"a character that cannot be shown (U+{ord(m.group()):04X}) stands here;"
                " remove it.",
            )
            for m in re.finditer(UNSHOWABLE, text)
        ][:20]
        if faults:
            raise Faults(faults)
    builder = _Builder(shown)
    try:
        for event in yaml.parse(text, Loader=LOADER):
            builder.take(event)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = Place(shown, mark.line + 1, mark.column + 1) if mark else Place(shown)
        builder.fault(place, f"not valid YAML: {error.problem or error.context}.")
    except yaml.YAMLError as error:
        builder.fault(Place(shown), f"not valid YAML: {' '.join(str(error).split())}.")
    if builder.faults:
        raise Faults(builder.faults)
    return builder.document


def _spot(shown: str, before: str) -> Place:
    """The place just after some text."""
    return Place(shown, before.count("\n") + 1, len(before) - before.rfind("\n"))


class _Open(Struct):
    """A list or mapping that is being filled; `key` waits for its value."""

    box: Data
    path: tuple[Step, ...]
    key: str | None = None


class _Builder:
    """Turns parser events into a Document, gathering faults as it goes."""

    def __init__(self, shown: str) -> None:
        self.document = Document(shown)
        self.faults: list[Fault] = []
        self.stack: list[_Open] = []
        self.nodes = self.documents = 0

    def fault(self, place: Place, message: str) -> None:
        self.faults.append(Fault(place, message))

    def take(self, event: Any) -> None:
        kind, mark = type(event).__name__, event.start_mark
        place = Place(self.document.file, mark.line + 1, mark.column + 1)
        if kind == "DocumentStartEvent":
            self.documents += 1
            if self.documents > 1:
                raise Faults(
                    [Fault(place, "a second document starts here; keep one document in a file.")]
                )
        elif kind == "AliasEvent":
            self._refuse(place, f"'*{event.anchor}' is a YAML alias; write the value out instead.")
            self._add("", place)
        elif kind in ("ScalarEvent", "MappingStartEvent", "SequenceStartEvent"):
            self._node(event, kind, place)
        elif kind in ("MappingEndEvent", "SequenceEndEvent"):
            self.stack.pop()

    def _node(self, event: Any, kind: str, place: Place) -> None:
        self.nodes += 1
        if self.nodes > MAX_NODES or len(self.stack) > MAX_DEPTH:
            raise Faults(
                [
                    Fault(
                        place,
                        f"too deep or too long (more than {MAX_DEPTH} levels or {MAX_NODES:,}"
                        " values); split or flatten it.",
                    )
                ]
            )
        if event.anchor:
            self._refuse(
                place,
                f"'&{event.anchor}' is a YAML anchor; write the value out where it is needed.",
            )
        if event.tag and event.tag != "!":
            self._refuse(place, f"the tag '{event.tag}' is not allowed; write plain values.")
        if kind == "ScalarEvent":
            self._add(self._scalar(event, place), place)
            return
        box: Data = {} if kind == "MappingStartEvent" else []
        self.stack.append(_Open(box, self._add(box, place)))

    def _refuse(self, place: Place, message: str) -> None:
        self.fault(place, message)

    def _scalar(self, event: Any, place: Place) -> Data:
        text = event.value
        if HALF_PAIR.search(text):
            self.fault(
                place, "an escape here stands for half a character; write the whole character."
            )
            return ""
        # Most text is printable, and this pattern takes long to compile.
        if not text.isprintable() and (sign := re.search(UNSHOWABLE, text)):
            self.fault(
                place,
                f"an escape here stands for a character that cannot be shown"
                f" (U+{ord(sign.group()):04X}); remove it.",
            )
            return ""
        if event.style or event.tag == "!":  # quoted: words as they stand
            return text
        if text.lower() in CONSTANTS and text in (text.lower(), text.capitalize()):
            return CONSTANTS[text.lower()]
        if SURPRISE.match(text):
            self.fault(
                place,
                f"'{text}' is read differently by different YAML readers; write a plain number such"
                " as 10 or 0.5, or put it in quotes.",
            )
            return text
        if NUMBER.match(text):
            number = (
                float(text) if set(text) & set(".eE") else int(text) if len(text) < 19 else math.inf
            )
            if not math.isfinite(number):
                self.fault(place, f"the number '{text}' is too large.")
                return 0
            return number
        return text

    def _add(self, value: Data, place: Place) -> tuple[Step, ...]:
        if not self.stack:
            self.document.data = value
            self.document.places[()] = place
            return ()
        at = self.stack[-1]
        here: tuple[Step, ...]
        if isinstance(at.box, list):
            at.box.append(value)
            here = (*at.path, len(at.box) - 1)
        elif at.key is None:
            at.key = self._key(at.box, value, place)
            named = (*at.path, at.key)  # by itself, for the types of Python 3.10
            self.document.keys[named] = place
            return at.path
        else:
            at.box[at.key] = value
            here = (*at.path, at.key)
            at.key = None
        self.document.places[here] = place
        return here

    def _key(self, box: Data, value: Data, place: Place) -> str:
        if isinstance(value, (dict, list)):
            self.fault(place, "a key must be a word or a few words, not a list or a mapping.")
            return f"?{place.line}:{place.column}"
        key = (
            value
            if isinstance(value, str)
            else (
                "null"
                if value is None
                else str(value).lower()
                if isinstance(value, bool)
                else str(value)
            )
        )
        if key in box:
            self.fault(place, f"the key '{key}' stands twice; keep one.")
            return f"{key}?{place.line}"
        return key
