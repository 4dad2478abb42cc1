"""The current that a place has to carry: what everything ahead of it lets through for good, in its greatest state.

Two facts come out of one fold. ``overcurrent_limit`` counts the overcurrent devices alone; ``current_to_carry`` also
counts what the sources can give. Along a line the smallest counts; a transfer switch has to carry the larger of its two
sides, whatever is on at rest; a board with several feeds the sum of those that can be closed at once, but never more
than the sources behind them give. The moment of a closed transition is not counted: it is over before anything gets
warm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial

from checker.catalog.wording import number_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.line.overcurrent import DEVICE, built_in_way, no_line, way_of
from checker.facts.line.routes import perhaps, surely
from checker.facts.line.supplies import Supplies, Supply, TooManySupplies
from checker.site.model import Feed, Subject
from checker.values.arithmetic import largest, smallest, total
from checker.values.possible import ABSENT, Possible, Span, undefined, union_of

TOO_MANY = "more combinations of sources can feed it than are looked at"


class DeviceRatings:
    """Only overcurrent devices limit. Amperes ahead of a transformer are amperes at another voltage, so that the line
    past one begins with it.
    """

    divides = False

    def __init__(self, context: Context) -> None:
        self._context = context

    def at_source(self, _tag: str) -> Possible:
        """No device of its own: what stands in a way of the source is met along the line."""
        return ABSENT

    def at_end(self, tag: str, _end: str) -> Possible:
        """Nobody can say what feeds a line that is not drawn."""
        return undefined(f"it is not drawn what feeds {tag}")

    def past_transformer(self, _tag: str, _ahead: Possible) -> Possible:
        """The line begins here."""
        return ABSENT

    def along(self, feed: Feed, ahead: Possible) -> Possible:
        """The device in the way from which the line leaves."""
        way = way_of(self._context, feed)
        return ahead if way is None else held_by(self._rating(way), ahead)

    def into(self, tag: str, entry: str, ahead: Possible) -> Possible:
        """The device built into the piece."""
        way = built_in_way(self._context, tag, entry)
        return ahead if way is None else held_by(self._rating(way), ahead)

    def joined(self, supplies: Iterable[Supply]) -> Possible:
        """All of them together."""
        return total([each.current for each in supplies])

    def _rating(self, way: Subject) -> Possible:
        return self._context.read(way, f"{DEVICE}.rated_current")


class CurrentsOfSources(DeviceRatings):
    """Devices and sources limit. Past a transformer without a device on its secondary nothing can be said, since the
    drawing does not give its power.
    """

    divides = True

    def at_source(self, tag: str) -> Possible:
        """The greatest current of a set, the rated current of an inverter; a utility is not limited."""
        piece = self._context.drawing.pieces[tag]
        facts = {"generator": "greatest_current", "inverter": "rated_current"}
        return self._context.read(piece, facts[piece.type]) if piece.type in facts else ABSENT

    def past_transformer(self, tag: str, _ahead: Possible) -> Possible:
        """Not worked out."""
        return undefined(f"what {tag} gives at its secondary is not worked out")

    def joined(self, supplies: Iterable[Supply]) -> Possible:
        """All of them together. Where one source feeds several of them no more than the sources give, and no less than
        the largest alone; how it divides in between is not worked out.
        """
        chosen = tuple(supplies)
        summed = super().joined(chosen)
        tags = sorted(frozenset[str]().union(*(each.sources for each in chosen)))
        if sum(len(each.sources) for each in chosen) == len(tags) or summed.undefined:
            return summed
        given = total([self._given(tag) for tag in tags])
        # Of a source of which nobody may be able to say what it gives, the devices alone may limit; past a
        # transformer it gives other amperes.
        is_said = not (given.undefined or self._pass_a_transformer(chosen))
        most = smallest([summed, given], skip_absent=True) if is_said else summed
        return all_between(largest([each.current for each in chosen], skip_absent=False), most)

    def _pass_a_transformer(self, chosen: Iterable[Supply]) -> bool:
        passed = {device.partition("/")[0] for each in chosen for device in each.devices}
        return any(self._context.drawing.is_of(tag, "transformer") for tag in passed)

    def _given(self, end: str) -> Possible:
        """What a source gives, or what is not drawn at the end of a line."""
        return self.at_source(end) if end in self._context.drawing.pieces else self.at_end(end, end)


class SetsAlone(CurrentsOfSources):
    """What sets give, whatever devices stand in their lines. Neither a utility nor an inverter has such a figure."""

    def at_source(self, tag: str) -> Possible:
        """The greatest current of a set."""
        piece = self._context.drawing.pieces[tag]
        return self._context.read(piece, "greatest_current") if piece.type == "generator" else ABSENT

    def along(self, _feed: Feed, ahead: Possible) -> Possible:
        """Devices are left out."""
        return ahead

    def into(self, _tag: str, _entry: str, ahead: Possible) -> Possible:
        """Devices are left out."""
        return ahead


def held_by(device: Possible, ahead: Possible) -> Possible:
    """What a device lets through of what is ahead; of what cannot be said it lets through its rating."""
    cases: list[Possible] = []
    said = Possible(spans=ahead.spans, absent=ahead.absent) if ahead.spans or ahead.absent else None
    if said is not None:
        cases.append(smallest([device, said], skip_absent=True))
    if ahead.undefined:
        there = device.present()
        cases += [] if there is None else [there]
        cases += [Possible(undefined=ahead.undefined)] if device.absent else []
    return union_of(cases)


def device_limit(context: Context, subject: Subject, name: str) -> Derived:
    """The smallest device in line ahead, in the state in which it is largest; absent where some state has none."""
    found = _let_through(context, subject, DeviceRatings(context))
    return replace(found, state=_closed_at_once(context, subject, found.value))


def _closed_at_once(context: Context, subject: Subject, value: Possible) -> str | None:
    """The feeds of a board whose devices make up this sum; nothing where it is no sum of all of them."""
    entries = context.drawing.inputs(subject.id) if subject.id in context.drawing.pieces else ()
    if len(entries) < 2 or not context.drawing.is_of(subject.id, "board") or not value.is_exact or value.absent:
        return None
    currents = DeviceRatings(context)
    parts = [
        greatest_over_states(partial(_through_input, context, currents, subject.id, entry), lambda each: each.current)
        for entry in entries
    ]
    if total(parts) != value or any(part.hull is None for part in parts):
        return None
    named = [f"{entry} ({_amperes(part)})" for entry, part in zip(entries, parts, strict=True)]
    return f"{subject} fed at once by {', '.join(named[:-1])} and {named[-1]}"


def _through_input(
    context: Context, currents: DeviceRatings, tag: str, entry: str, weigh: Callable[..., bool]
) -> tuple[Supply, ...]:
    return _side(Supplies(context, currents, weigh, in_transfer=False), tag, entry)


def _amperes(value: Possible) -> str:
    return number_text(value, "load_current", "A")


def current_to_carry(context: Context, subject: Subject, name: str) -> Derived:
    """The smallest device in line ahead, or what the sources give where that is less, in the state in which it is
    largest; absent where some state has no limit, as on the line of a utility ahead of its first device.
    """
    return _let_through(context, subject, CurrentsOfSources(context))


def greatest_of_sides(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest current of the sets that feed one side of a switch, those that feed it together added; absent where
    a utility can feed it, which has none.
    """
    tag, entry = subject.id.rsplit(".", 1)
    if context.drawing.source_of(tag, entry) is None:
        return no_line(subject)
    sets = SetsAlone(context)
    value = greatest_over_states(
        lambda weigh: _side(Supplies(context, sets, weigh, in_transfer=False), tag, entry),
        lambda supply: supply.current,
    )
    return Derived(value, unit="A", reasons=value.undefined)


def one_of_source(context: Context, subject: Subject, name: str) -> Derived:
    """A current of the one source that can feed a side of a switch. With several, together or by turns, none of their
    figures is that of the side; past a transformer amperes are amperes at another voltage.
    """
    tag, entry = subject.id.rsplit(".", 1)
    source = context.drawing.source_of(tag, entry)
    if source is None:
        return no_line(subject)
    if context.drawing.ends_above(tag, entry) != {source}:
        return no_answer(f"more than one source can feed {subject}")
    if any(context.drawing.is_of(feed.source, "transformer") for feed in context.drawing.path(tag, entry).feeds):
        return no_answer(f"{subject} is past a transformer, and what comes through that is not worked out")
    known = context.known(context.drawing.pieces[source], name)
    return Derived(known.value, unit=known.unit, worksheet=known.worksheet, reasons=known.reasons)


def _let_through(context: Context, subject: Subject, currents: DeviceRatings) -> Derived:
    if not _is_fed(context, subject):
        return no_line(subject)
    value = greatest_over_states(
        lambda weigh: _supplies(Supplies(context, currents, weigh, in_transfer=False), context, subject),
        lambda supply: supply.current,
    )
    return Derived(value, unit="A", reasons=value.undefined)


def _is_fed(context: Context, subject: Subject) -> bool:
    """Whether a source of the drawing feeds it with all switches on normal."""
    drawing = context.drawing
    if subject.type == "side":
        tag, entry = subject.id.rsplit(".", 1)
        return drawing.source_of(tag, entry) is not None
    if subject.type == "connection":
        feed = drawing.feed(subject)
        return drawing.source_of(feed.to, feed.input) is not None
    return drawing.source_of(subject.id) is not None


def _supplies(supplies: Supplies, context: Context, subject: Subject) -> tuple[Supply, ...]:
    if subject.type == "side":
        tag, entry = subject.id.rsplit(".", 1)
        return _side(supplies, tag, entry)
    if subject.type == "connection":
        return supplies.whole(supplies.of_feed(context.drawing.feed(subject)))
    if context.drawing.is_of(subject.id, "transformer"):
        # What it has to carry comes in at its primary.
        return _side(supplies, subject.id, context.drawing.inputs(subject.id)[0])
    return supplies.whole(supplies.of_piece(subject.id))


def _side(supplies: Supplies, tag: str, entry: str) -> tuple[Supply, ...]:
    return supplies.whole(supplies.of_input(tag, entry))


def greatest_over_states(
    supplies: Callable[[Callable[..., bool]], Iterable[Supply]], given: Callable[[Supply], Possible]
) -> Possible:
    """The largest over the supplies: one value where what is sure and what is possible give the same, otherwise
    everything between the two.
    """
    try:
        least, most = (
            largest([given(each) for each in supplies(weigh)], skip_absent=False) for weigh in (surely, perhaps)
        )
    except TooManySupplies:
        return undefined(TOO_MANY)
    return least if least == most else all_between(least, most)


def all_between(least: Possible, most: Possible) -> Possible:
    """Everything from the smaller to the larger of two answers."""
    both = union_of((least, most))
    if not both.spans:
        return both
    low = least.hull.low if least.hull is not None else None
    high = most.hull.high if most.hull is not None else None
    return Possible(spans=(Span(low, high),), absent=both.absent, undefined=both.undefined)
