"""The last step of a search: one value for each fact, so that comparisons between two facts come
out as wanted.
"""

from __future__ import annotations

from itertools import count
from types import SimpleNamespace

from advisor.audit.goals import meets
from advisor.audit.space import grain_of
from advisor.engine.truth import judge

# values tried for one group of comparisons before the other search is asked (see exact.py)
TRIES = 20_000


class TooManyValues(Exception):
    """A group of comparisons has too many combinations to try one by one."""


def settle(space, state):
    """{(entity, key): (state, value)} for a branch of the search, or None when its comparisons
    cannot be met.
    """
    values = {
        cell: ordered(space, cell[1], domain)[0]
        for cell, domain in state.domains.items()
        if not space.is_name(cell[1])
    }
    if not state.pairs:
        return values
    wanted = [(goal, cells_of(goal)) for goal in state.pairs]
    held = {cell: value for goal, _ in wanted for cell, value in goal.held.items()}
    held.update(
        (
            (cell, (0, space.vocabulary.attribute(cell[1]).everything))
            for _, cells in wanted
            for cell in cells
            if space.never_known(cell[1])
        )
    )
    for part in _apart(wanted, held):
        # The fact that most comparisons share comes first: the others are then tested one by one,
        # not all together.
        cells = sorted(
            {
                cell
                for goal, pair in part
                for cell in pair
                if cell not in goal.held and cell not in held
            },
            key=lambda cell: (-sum(cell in pair for _, pair in part), cell),
        )
        found = _assign(
            part,
            cells,
            [ordered(space, cell[1], state.domains.get(cell, -1)) for cell in cells],
            held,
            {},
            count(),
        )
        if found is None:
            return None
        values.update(found)
    return values


def _apart(wanted, held):
    """The comparisons in groups that share no fact still to be chosen, so that each group is
    settled by itself.
    """
    groups = []
    for goal, pair in wanted:
        cells = {cell for cell in pair if cell not in held}
        touching = [g for g in groups if g[0] & cells]
        groups = [g for g in groups if not g[0] & cells]
        groups.append(
            (
                cells.union(*(g[0] for g in touching)),
                [item for g in touching for item in g[1]] + [(goal, pair)],
            )
        )
    return [group for _, group in groups]


def cells_of(goal):
    return tuple(ref.at(goal.bound) for ref in goal.condition.own)


def _assign(wanted, cells, choices, held, given, tries):
    if len(given) == len(cells):
        return dict(given) if all(holds(goal, pair, given, held) for goal, pair in wanted) else None
    cell = cells[len(given)]
    for value in choices[len(given)]:
        if next(tries) > TRIES:
            raise TooManyValues
        given[cell] = value
        ready = [
            (goal, pair)
            for goal, pair in wanted
            if cell in pair and all(c in given or c in held for c in pair)
        ]
        found = (
            _assign(wanted, cells, choices, held, given, tries)
            if all(holds(goal, pair, given, held) for goal, pair in ready)
            else None
        )
        if found is not None:
            return found
        del given[cell]
    return None


def holds(goal, pair, given, held):
    columns = {}
    for cell in pair:
        value = goal.held.get(cell) or given.get(cell) or held[cell]
        columns.setdefault(cell[1], {})[cell[0]] = value[1]
    world = SimpleNamespace(columns=columns, states={}, choices={})
    return meets(judge(goal.condition, goal.bound, world)[0], goal.want)


def ordered(space, key, domain) -> list:
    """The values in a domain, the most natural one to name first: near the figures rules test,
    written in round numbers.
    """
    values = space.values(key)
    allowed = [v for i, v in enumerate(values) if domain >> i & 1]
    known = [v for v in allowed if v[0] == 2]
    attribute = space.vocabulary.attribute(key)
    if not attribute.is_number or not known:
        return allowed
    ends = [v[1][0] for v in space.known(key)]
    steps = [v[1][0] for v in known]
    if steps[0] == ends[0] and steps[-1] != ends[-1]:
        known.reverse()
    elif steps[0] == ends[0] and len(known) > 2:
        known = known[1:] + known[:1]
    grain = grain_of(attribute)
    known[:3] = sorted(known[:3], key=lambda v: v[1][0] % grain != 0)
    return known + [v for v in allowed if v[0] != 2]
