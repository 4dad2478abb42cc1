"""Operating states: named positions of everything that can be fed in more than one way.

The useful states are walked one by one. What could depend on any other combination of positions is folded, not listed:
ties, reach and live parts are looked for along the lines, whatever the selectors do.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import prod

from checker.facts.drawing import Drawing
from checker.facts.view import View
from checker.values.possible import exactly

AT_REST = "all on their normal supply"


@dataclass(frozen=True, slots=True)
class State:
    """A name and, for each selector, the input on which it is; a switch between two inputs is on none of them."""

    name: str
    positions: Mapping[str, str | None]

    def input_of(self, drawing: Drawing, tag: str) -> str | None:
        """The input on which a piece is in this state."""
        return self.positions.get(tag, drawing.entry(tag))


def walked_states(drawing: Drawing) -> tuple[State, ...]:
    """The states that are walked, in a fixed order: at rest, each selector alone on each other input, all of them
    together.
    """
    return tuple(_states(drawing))


def _states(drawing: Drawing) -> Iterator[State]:
    yield State(AT_REST, {})
    for tag in sorted(drawing.selectors):
        for entry in drawing.inputs(tag)[1:]:
            alone = "" if len(drawing.selectors) == 1 else ", the rest on normal"
            yield State(f"{tag} on {_words(entry)}{alone}", {tag: entry})
    if len(drawing.selectors) > 1:
        others = {tag: drawing.inputs(tag)[1] for tag in sorted(drawing.selectors)}
        yield State("all on their other supply", others)


def _words(entry: str) -> str:
    return entry if entry in ("normal", "alternate") else f"its feed {entry}"


def only_following(view: View) -> frozenset[str]:
    """The inverters that are known to feed nothing by themselves with the utility gone."""
    drawing = view.ground.drawing
    feeds_alone = {tag: view.read(drawing.pieces[tag], "forms_its_own_grid") for tag in drawing.of("inverter")}
    return frozenset(tag for tag, value in feeds_alone.items() if value == exactly(False))


def fed_in(drawing: Drawing, state: State, following: frozenset[str]) -> Mapping[str, tuple[str, ...]]:
    """What each source of the drawing feeds in a state if it runs, the nearest first.

    What only follows another source is left out: what it reaches is live by that other source or not at all.
    """
    utilities = drawing.of("utility_supply")
    others = (source for source in drawing.of("source") if source not in utilities and source not in following)
    sources = (*utilities, *others)
    return {
        source: drawing.downward(source, lambda feed: feed.input == state.input_of(drawing, feed.to))
        for source in sources
    }


def not_walked(drawing: Drawing) -> int:
    """How many combinations of positions were not walked one by one."""
    return prod(len(drawing.inputs(tag)) for tag in drawing.selectors) - len(walked_states(drawing))
