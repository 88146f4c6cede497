"""The cards that a case names under `with:`, as facts of that case.

    with: {place: quarry shaft, ladder: L3, lifeline: R2, tether: T1, leader: AB, practice: usual,
           as of: "214 3f9a0c1d22e4"}

'as of' pins the last entry looked at, so that an old answer can be given again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from datetime import date

from msgspec import Struct

from advisor.facts.vocabulary import Vocabulary
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.load.based_on import Laid, Said, Thing
from advisor.load.records import Layout
from advisor.load.tree import Document
from advisor.model.advice import OnFile, PieceOnCard
from advisor.records.card import EXAMINED, Card, Held, card_at
from advisor.records.entry import Entry
from advisor.records.shown import due
from advisor.records.store import Store

WITH, AS_OF = "with", "as of"
SHORT = 12  # characters of a hash that are written down
USUAL = "usual"
# What a case names, and which kind of card that must be.
ROLES = {
    "place": "place",
    "ladder": "kit",
    "lifeline": "kit",
    "tether": "kit",
    "leader": "leader",
    "practice": "practice",
}
PIECES = ("ladder", "lifeline", "tether")  # kit, of which it is asked whether it passed
PASSED = "examined and passed"


class Named(Struct, frozen=True):
    """A card that a case names, as what, and where."""

    role: str
    mark: str
    place: Place


class Cards:
    """The cards of a store at a date."""

    def __init__(
        self,
        store: Store,
        on: date,
        layout: Layout,
        vocabulary: Vocabulary,
        passes: Callable[[Card], bool | None],
    ) -> None:
        self.store, self.on, self.layout = store, on, layout
        self.vocabulary, self.passes = vocabulary, passes

    def card(self, mark: str, up_to: int = 0) -> Card | None:
        """A card by its mark, as of an entry; raises Faults where the records are not whole."""
        fault = self.store.doubt()
        if fault:  # what is missing may be what spoke against a piece
            raise Faults([fault])
        return card_at(self.store.entries(mark, up_to), self.on, self.layout, self.vocabulary)

    def of(self, document: Document, given: Laid) -> tuple[Laid, OnFile]:
        """What the cards named by a case say under what is `given`, and what is told of them;
        raises Faults for a card that is not there.
        """
        named, as_of = self._named(document)
        kind, _, name = self.layout.apart.where.partition(".")
        used = {
            thing
            for thing, told in given.things.items()
            if thing.startswith(f"{kind} ") and name in told.facts and told.facts[name].raw == "yes"
        }
        return self.taken(named, as_of, used)

    def taken(
        self, named: Iterable[Named], as_of: Entry | None = None, used: Collection[str] = ()
    ) -> tuple[Laid, OnFile]:
        """What these cards say, as of an entry or as they stand; `used`: the things of which just
        two may be used, so that how far they are apart is a fact of the plan.
        """
        laid, expired, cards = Laid(), list[str](), list[str]()
        usual, pieces = list[str](), list[PieceOnCard]()
        for one in named:
            card = self.card(one.mark, as_of.number if as_of else 0)
            if card is None or card.kind != ROLES[one.role]:
                raise Faults([self._no_card(one, card)])
            laid = Laid(_things(one, card, self._passed(one, card))).over(laid)
            laid = Laid(self._between(one, card, used)).over(laid)
            expired += _told(one, card)
            cards.append(f"{one.role} {one.mark}")
            if one.role == "practice":
                usual += usually(card)
            if card.kind == "kit":
                pieces.append(_piece(one, card))
        last = as_of or self.store.last()
        told = OnFile(
            cards=tuple(cards),
            expired=tuple(expired),
            as_of=pin(last) if last else "",
            usual=tuple(usual),
            pieces=tuple(pieces),
        )
        return laid, told

    def _between(self, named: Named, card: Card, used: Collection[str]) -> dict[str, Thing]:
        """How far the two that are used are apart."""
        apart, things = self.layout.apart, dict[str, Thing]()
        pair = " to ".join(sorted(name.removeprefix(f"{apart.between} ") for name in used))
        held = card.apart.get(pair) if len(used) == 2 else None
        if held:
            entity = apart.gives.partition(".")[0]
            _put(things, entity, apart.gives, held.raw, _said_by(held), named.place)
        return things

    def role_of(self, card: Card) -> str:
        """What a plan takes a card for; '' for kit that no plan names by itself."""
        if card.kind != "kit":
            return card.kind
        return next((t for t in self.layout.things_of(card.type) if t in PIECES), "")

    def _passed(self, named: Named, card: Card) -> bool | None:
        return self.passes(card) if named.role in PIECES else None

    def _named(self, document: Document) -> tuple[list[Named], Entry | None]:
        """(the cards that a case names, the entry it pins)"""
        section = document.data.get(WITH) or {}
        as_of = None
        if AS_OF in section:
            as_of = self._pinned(str(section[AS_OF]), document.place((WITH, AS_OF)))
        return [
            Named(role, str(mark), document.place((WITH, role)))
            for role, mark in section.items()
            if role != AS_OF
        ], as_of

    def _pinned(self, text: str, place: Place) -> Entry:
        number, _, short = text.partition(" ")
        found = self.store.entries(up_to=int(number)) if number.isdigit() else []
        if not found or found[-1].number != int(number) or not short:
            text = f"'{text}' names no entry here: write its number and the start of its hash."
            raise Faults([Fault(place, text)])
        if not found[-1].hash.startswith(short):
            raise Faults(
                [
                    Fault(
                        place,
                        f"entry {number} is another than the one this case was"
                        " made with; take the records it was made with.",
                    )
                ]
            )
        return found[-1]

    def _no_card(self, named: Named, card: Card | None) -> Fault:
        if card:
            text = f"'{named.mark}' is a card of a {card.kind}, not of a {ROLES[named.role]}."
        else:
            near = did_you_mean(named.mark, self.store.cards())
            text = f"there is no card '{named.mark}' in {self.store.path}.{near}"
        return Fault(named.place, text)


def pin(entry: Entry) -> str:
    """What a case writes under 'as of'."""
    return f"{entry.number} {entry.hash[:SHORT]}"


def _things(named: Named, card: Card, passed: bool | None) -> dict[str, Thing]:
    """The facts of a card as those of the case."""
    things: dict[str, Thing] = {}
    for (thing, key), held in card.facts.items():
        if _is_for(named, thing):
            _put(things, _thing(named, thing), key, held.raw, _said_by(held), named.place)
    if passed is not None:
        entity = _thing(named, named.role)
        said_by = f"records of {card.mark}, by the rules, on {card.on.isoformat()}"
        raw = "yes" if passed else "no"
        _put(things, entity, f"{named.role}.{PASSED}", raw, said_by, named.place)
    return things


def _put(
    things: dict[str, Thing], entity: str, key: str, raw: str, said_by: str, place: Place
) -> None:
    thing = things.setdefault(entity, Thing(place))
    thing.facts[key.partition(".")[2]] = Said(raw, place, place, said_by)


def _said_by(held: Held) -> str:
    return held.entry.called


def _is_for(named: Named, thing: str) -> bool:
    """Whether facts of a thing belong to what the case takes the card for: a rope is a lifeline or
    a tether, and what it is as kit decides whether it passed.
    """
    return named.role not in PIECES or thing == named.role


def _thing(named: Named, thing: str) -> str:
    """The thing of the case that a thing of the card is."""
    return f"ladder {named.mark}" if thing == named.role == "ladder" else thing


def usually(card: Card) -> list[str]:
    """How it is usually done, fact by fact."""
    told = sorted(card.facts.items())
    return [f"{thing} {key.partition('.')[2]}: {held.raw}" for (thing, key), held in told]


def _piece(named: Named, card: Card) -> PieceOnCard:
    """What identifies a piece on its card."""
    days = {
        name: entry.on if name == EXAMINED else str(entry.body["dates"][name])
        for name, entry in card.dates.items()
    }
    then, last = due(card), card.dates.get(EXAMINED)
    if then and then.day:
        days["next examination"] = then.day.isoformat()
    who = (last.by, str(last.body.get("competence", ""))) if last else ()
    entity = _thing(named, named.role)
    by = ", ".join(filter(None, who))
    return PieceOnCard(entity=entity, mark=card.mark, type=card.type, days=days, by=by)


def facts_of(card: Card) -> Iterator[tuple[str, str, str]]:
    """(thing, key, value as said) of a card as a case about kit would say them."""
    for (thing, key), held in card.facts.items():
        if thing in ("kit", "ladder"):
            yield f"{thing} {card.mark}", key, held.raw


def _told(named: Named, card: Card) -> Iterator[str]:
    """What of a card no longer stands, and why, as far as the case would take it."""
    for (thing, key), gone in sorted(card.expired.items()):
        if _is_for(named, thing):
            name = f"{_thing(named, thing)} {key.partition('.')[2]}"
            yield f"{name} ({gone.why}, {gone.since})"
