"""Cards: what stands on file between trips, as entries that are only ever added to.

A **card** is a piece of kit, a place, a leader or the usual practice, under its mark. Everything
known of it is an **entry**: what was told of it, and what happened to it on a date. From its
entries follow the facts of a case at a date; what no longer stands is unknown again.

Whoever builds on it comes in by these:

- `options.desk(options, advisor, writes=…)` gives a `Desk`: one file of cards on one day, read by
  the clock only there. `desk.on(day)`, `desk.day("last Saturday")`.
- `desk.card(mark, kind)` and `desk.all(kind)` give a `Card` at that day: `facts` and `expired` by
  (thing, key), `dates`, `findings`, `final`, `value(key)`, `type`.
- `desk.begin`, `tell`, `happened`, `correct` write entries and give them back; `write` takes
  entries that were made elsewhere (`body` makes that of a new card). All of it or, with Faults,
  nothing; what is retired takes no more. Marks are checked where they are written.
- `desk.cards.taken([Named(role, mark, place)])` gives (facts as a case lays them, what is told of
  them); `.of(document)` does so for the `with:` of a case.
- `verdict.advice_on(advisor, card)`, `verdict`, `passes`: by the rules, on a piece or any part.
- `sitting.sit(desk, marks, Examiner(by, competence), ask, tell)` examines and writes down.
- `store.check()` proves the chain now, `store.doubt()` for whoever reads, who trusts what was
  proven as long as the system says that the file was not changed: from records that are not whole
  a case takes nothing, and they take no entry.
- What an event ends, sets and mends, what stands on which card and the walks of an examination are
  data: `rules/records.yaml`, read by `load/records.py`.

The modules:

- entry: one entry, and the hash that chains it to the one before
- store: the file of entries (SQLite): append, read, check, back up
- dates: dates as people write them
- card: a card at a date, from its entries
- drawn: what all entries of a file come to, kept in the user's cache folder
- desk: where cards are looked at and written
- verdict: what the rules say of a piece of kit on its card
- examine, sitting: the walk of an examination; who examines, and what follows
- laid: cards named by a case (`with:`), as facts of the case
- sheets, taking_in, traffic, calendar, labels: spreadsheets, calendar files, labels
- shown: cards in words
- options, door: the options and the commands `kit`, `place`, `leader`, `practice`, `records`
"""
