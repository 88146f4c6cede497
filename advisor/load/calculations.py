"""Reading rules/calculations/*.yaml: which facts and figures go into which formula."""

from __future__ import annotations

import inspect
from collections.abc import Collection, Mapping

from advisor.facts.quantity import NotAQuantity
from advisor.facts.vocabulary import Vocabulary
from advisor.faults import Fault, did_you_mean
from advisor.load.conditions import ConditionReader
from advisor.load.figures import si
from advisor.load.schema import form_faults
from advisor.load.tree import Data, Document, Trail
from advisor.model.calculation import Calculation, Figure, Form, Named
from advisor.model.inputs import (
    TAKES,
    Cell,
    FirstOf,
    FromFact,
    FromFigure,
    Input,
    NotThere,
    Number,
    Over,
    Pick,
    PickedBy,
    RowBy,
    WholeRange,
    Word,
)
from advisor.model.ref import Ref

EVERY = -1  # mask that any value of a choice lies in


def read_calculations(
    document: Document,
    vocabulary: Vocabulary,
    figures: Mapping[str, Figure],
    sources: Collection[str],
) -> tuple[list[Calculation], list[Fault]]:
    """(calculations, faults) of one file."""
    faults = form_faults(document, "calculations")
    if faults:
        return [], faults
    found = []
    for index, spec in enumerate(document.data["calculations"]):
        reader = _Reader(document, ["calculations", index], spec, vocabulary, figures, sources)
        calculation = reader.read(document.data["topic"], document.data["about"])
        faults += reader.faults
        if calculation:
            found.append(calculation)
    return found, faults


def _plain_words(value: Data) -> bool:
    """Whether every part of an input has its shape: words or numbers, but mappings behind 'pick'
    and 'figures'.
    """
    return all(
        (
            isinstance(v, dict) and bool(v)
            if key in ("pick", "figures", "where")
            else isinstance(v, list) and bool(v)
            if key == "first of"
            else isinstance(v, (str, int, float))
        )
        for key, v in value.items()
    )


class _Reader:
    """Reads one calculation; faults gather in `faults`."""

    def __init__(
        self,
        document: Document,
        path: Trail,
        spec: Data,
        vocabulary: Vocabulary,
        figures: Mapping[str, Figure],
        sources: Collection[str],
    ) -> None:
        self.path, self.spec, self.figures, self.sources, self.vocabulary = (
            path,
            spec,
            figures,
            sources,
            vocabulary,
        )
        self.names = ConditionReader(document, vocabulary, {})
        self.names.declare(spec.get("for", {}), path + ["for"])
        self.faults = self.names.faults

    def fault(self, path: Trail, message: str) -> None:
        self.names.fault(self.path + path, message)

    def read(self, topic: str, about: str) -> Calculation | None:
        spec = self.spec
        form: Form = "work" if "work" in spec else "weakest" if "weakest of" in spec else "ladders"
        given = {
            "work": spec.get("from"),
            "weakest": spec.get("weakest of"),
            "ladders": {"needed": spec.get("ladders to reach")},
        }[form]
        where = {"work": "from", "weakest": "weakest of", "ladders": "ladders to reach"}[form]
        inputs = tuple(
            Named(name, self._input(value, [where] + ([name] if form != "ladders" else [])))
            for name, value in given.items()
        )
        if form == "work":
            self._formula(spec["work"], given)
        outputs = [
            self._output(spec[key], key)
            for key in ("gives", "names", "surplus", "joins")
            if key in spec
        ]
        sources = spec["source"] if isinstance(spec["source"], list) else [spec["source"]]
        for source in sources:
            if source not in self.sources:
                self.fault(
                    ["source"],
                    f"'{source}' is not in sources.yaml.{did_you_mean(source, self.sources)}",
                )
        if self.faults:
            return None
        return Calculation(
            spec["id"],
            spec["title"],
            topic,
            about,
            form,
            tuple(self.names.scope.items()),
            spec.get("work", ""),
            inputs,
            tuple(outputs),
            spec["because"],
            tuple(sources),
            spec["status"],
            "key" in spec,
            self._quantity(spec["otherwise"], ["otherwise"]) if "otherwise" in spec else None,
        )

    def _formula(self, function: str, given: Mapping[str, Data]) -> None:
        from advisor.mechanics import CALCULATIONS

        if function not in CALCULATIONS:
            self.fault(
                ["work"],
                f"'{function}' is not a formula known here.{did_you_mean(function, CALCULATIONS)}",
            )
            return
        parameters = inspect.signature(CALCULATIONS[function].function).parameters
        wanted = {n for n, p in parameters.items() if p.default is p.empty}
        for name in sorted(set(given) - set(parameters)):
            self.fault(
                ["from", name],
                f"'{name}' is no input of {function}; expected {', '.join(parameters)}.",
            )
        for name in sorted(wanted - set(given)):
            self.fault(["from"], f"the input '{name}' of {function} is missing; add it.")

    def _output(self, text: str, key: str) -> str:
        kind, dot, name = text.partition(".")
        variable = next(
            (v for v, k in self.names.scope.items() if k == kind), kind
        )  # 'anchor.margin' is written for each anchor
        reference = self.names.reference(variable + dot + name, self.path + [key])
        if reference and not reference.attribute.derived:
            self.fault(
                [key],
                f"{reference.ref.key} is stated by people; mark it 'derived: yes' in the vocabulary"
                " if it is to be worked out.",
            )
        return reference.ref.key if reference else ""

    def _fact(self, text: str, path: Trail) -> Ref:
        reference = self.names.reference(text, self.path + path)
        return reference.ref if reference else Ref("", "")

    def _figure(self, name: Data, path: Trail) -> None:
        if name not in self.figures:
            self.fault(
                path,
                f"'{name}' is not a figure in"
                f" rules/figures.{did_you_mean(str(name), self.figures)}",
            )

    def _input(self, value: Data, path: Trail) -> Input:
        if isinstance(value, str) and value != "not there":
            return FromFact(self._fact(value, path))
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return Number(float(value))
        if value == "not there":
            return NotThere()
        kinds = {
            "figure",
            "row",
            "cell",
            "whole range",
            "figures",
            "pick",
            "by",
            "first of",
            "least over",
            "most over",
            "any over",
            "where",
            "of",
            "word",
            "quantity",
        }
        if (
            not isinstance(value, dict)
            or not value
            or not set(value) <= kinds
            or not _plain_words(value)
        ):
            self.fault(
                path,
                "expected a fact, or {figure: …} with row, cell or whole range, {figures: {value:"
                " figure}, by: fact}, {pick: {value: input}, by: fact}, {first of: [input, …]},"
                " {least over (or most over, any over): entity, of: attribute, where: {attribute:"
                " value}}, {quantity: …}, {word: …}.",
            )
            return Number(0.0)
        return self._mapping(value, path)

    def _mapping(self, value: Data, path: Trail) -> Input:
        if "word" in value:
            return Word(value["word"])
        if "quantity" in value:
            return Number(self._quantity(value["quantity"], path + ["quantity"]))
        if "first of" in value:
            choices = enumerate(value["first of"])
            return FirstOf(tuple(self._input(v, path + ["first of", n]) for n, v in choices))
        take = next((t for t in TAKES if f"{t} over" in value), None)
        if take:
            return self._over(take, value, path)
        if "figures" in value:
            return self._pick(
                {word: {"figure": figure} for word, figure in value["figures"].items()},
                value,
                path,
                "figures",
            )
        if "pick" in value:
            return self._pick(value["pick"], value, path, "pick")
        self._figure(value.get("figure"), path + ["figure"])
        return self._of_figure(value, self.figures.get(value.get("figure")), path)

    def _over(self, take: str, value: Mapping[str, Data], path: Trail) -> Input:
        """The least, the most or any value over the entities of a kind, all or where a choice has
        one of some values.
        """
        kind = value[f"{take} over"]
        where, wanted = next(iter((value.get("where") or {"": []}).items()))
        key, condition = f"{kind}.{value.get('of')}", f"{kind}.{where}" if where else ""
        for one in (key, condition) if condition else (key,):
            if not self.vocabulary.attribute(one):
                self.fault(path, f"'{one}' is not an attribute.")
                return Number(0.0)
        mask = 0 if condition else EVERY
        for word in wanted if isinstance(wanted, list) else [wanted]:
            values = self.vocabulary.by_key[condition].values
            if word not in values:
                self.fault([*path, "where"], f"'{word}' is not a value of {condition}.")
                return Number(0.0)
            mask |= 1 << values.index(word)
        return Over(kind, key, condition, mask, take)

    def _quantity(self, written: object, path: Trail) -> float:
        try:
            return si(written)
        except NotAQuantity as error:
            self.fault(path, str(error))
            return 0.0

    def _of_figure(self, value: Data, figure: Figure | None, path: Trail) -> Input:
        """A figure's point, its whole range, one cell of its table, or the row that a
        fact picks.
        """
        name = value.get("figure")
        if figure and (figure.value is None) != bool({"row", "cell"} & set(value)):
            self.fault(
                path,
                (
                    f"'{name}' is a table; add row: or cell:."
                    if figure.value is None
                    else f"'{name}' has no table; leave out row and cell."
                ),
            )
        elif figure and "cell" in value and value["cell"] not in figure.table:
            self.fault(
                path + ["cell"],
                f"'{value['cell']}' is not in the table of"
                f" '{name}'.{did_you_mean(str(value['cell']), figure.table)}",
            )
        elif figure and "whole range" in value and not figure.limits:
            self.fault(path, f"'{name}' has no range.")
        elif figure and "whole range" in value:
            return WholeRange(name, *map(si, figure.limits))
        elif "cell" in value:
            return Cell(name, value["cell"])
        elif "row" in value:
            return RowBy(name, self._fact(value["row"], path + ["row"]))
        return FromFigure(name)

    def _pick(self, inputs: Mapping[str, Data], value: Data, path: Trail, where: str) -> PickedBy:
        """One input for each value of a choice."""
        by = self._fact(value.get("by", ""), path + ["by"])
        attribute, picks = self.vocabulary.attribute(by.key), []
        for word, item in inputs.items():
            if attribute and word not in attribute.values:
                self.fault(
                    path + [where, word],
                    f"'{word}' is not a value of {by.key}.{did_you_mean(word, attribute.values)}",
                )
            elif attribute:
                picks.append(
                    Pick(
                        attribute.values.index(word),
                        self._input(item, path + [where] + ([word] if where == "pick" else [])),
                    )
                )
        return PickedBy(by, tuple(picks))
