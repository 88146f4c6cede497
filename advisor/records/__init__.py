"""Cards: what stands on file between trips, as entries that are only ever added to.

A **card** is a piece of kit, a place, a leader or the usual practice, under its mark. Everything
known of it is an **entry**: what was told of it, and what happened to it on a date. From its
entries follow the facts of a case at a date; what no longer stands is unknown again.

- entry: one entry, and the hash that chains it to the one before
- store: the file of entries (SQLite): append, read, check, back up
- dates: dates as people write them
- card: a card at a date, from its entries
- verdict: what the rules say of a piece of kit on its card
- laid: cards named by a case (`with:`), as facts of the case
- door: the commands `kit`, `place`, `leader`, `practice`, `records`
"""
