"""Whether the neutral lets a sensor of ground-fault protection see what it is there to see.

A piece is the place of its sensor. It sits on the incoming main (of a transfer switch: on the normal side): the supply
side of the sensor is the line into that main, with the bond of the piece itself; all else at the piece is its load
side. A source has the sensor on its own breaker, its own bond ahead of it.

A *residual* or *zero-sequence* sensor adds up phase and neutral current at its place. A fault counts only if it comes
back outside the sensor, so with the neutral cut there no bond may be left on the load side. A *ground-return* sensor
measures the jumper between neutral and ground; it sees the whole fault only if its neutral is bonded there and nowhere
else. Both follow from Kirchhoff's current law. That the bond belongs ahead of the sensor is the rule behind NFPA 70
250.24(A)(5) and the note to 230.95(C); that the piece is the place of the sensor is our reading (confidence: medium).

Neutrals are followed along routes, as in ``neutral_paths``: what is not known counts both ways, so that an answer is
given only where every possibility agrees.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import Leg
from checker.facts.line.neutral_paths import EVERY_POSITION, Bonds, Neutrals, positions_on
from checker.facts.line.roles import flag
from checker.facts.line.routes import Arrives, Route, TooManyRoutes, Weigh, first_route, perhaps, surely
from checker.site.model import Subject
from checker.values.possible import Possible, exactly, union_of
from checker.values.relations import present, relate
from checker.values.truth import Truth, all_of, any_of

SENSOR = "ground_fault_protection.sensor"
_AT_THE_JUMPER = frozenset({"ground_return"})
_ROUND_THE_CONDUCTORS = frozenset({"residual", "zero_sequence"})
_KINDS = _AT_THE_JUMPER | _ROUND_THE_CONDUCTORS


@dataclass(frozen=True, slots=True)
class _Answer:
    """What holds for one kind of sensor, and in which state."""

    truth: Truth
    state: str | None = None


_Search = Callable[[Weigh], Route | None]


def ground_fault_sensing_defeated(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the sensor does not see a fault rightly in some position of the switches; no where there is none."""
    place = _Place(context, subject.id)
    return _for_each_kind(context, subject, place.has_no_jumper_of_its_own, place.has_a_bond_past_it)


def trips_for_fault_of_set(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the fault current of a set that cannot feed through the sensor comes back through it."""
    place = _Place(context, subject.id)
    return _for_each_kind(context, subject, place.has_a_set_on_its_jumper, place.is_on_the_way_back_to_a_set)


def _for_each_kind(
    context: Context, subject: Subject, at_the_jumper: Callable[[], _Answer], round_it: Callable[[], _Answer]
) -> Derived:
    """The answers for all kinds of sensor that are possible, and no where there may be none."""
    there = present(context.read(subject, "ground_fault_protection"))
    answers = [_Answer(Truth.NO)] if there is not Truth.YES else []
    if there is not Truth.NO:
        kinds = _kinds(context.read(subject, SENSOR))
        answers += [round_it()] if kinds & _ROUND_THE_CONDUCTORS else []
        answers += [at_the_jumper()] if kinds & _AT_THE_JUMPER else []
    value = union_of(flag(answer.truth) for answer in answers)
    return Derived(value, state=answers[0].state if value.is_exact else None)


def _kinds(sensor: Possible) -> frozenset[str]:
    """The kinds of sensor that are possible; all, where nothing is said of a sensor that is there."""
    kinds = frozenset(kind for kind in _KINDS if relate("is", sensor, exactly(kind)) is not Truth.NO)
    return kinds or _KINDS


class _Place:
    """The place of a sensor in the net of neutrals."""

    def __init__(self, context: Context, tag: str) -> None:
        self._drawing = context.drawing
        self._neutrals = Neutrals(context)
        self._bonds = Bonds(context)
        self._tag = tag
        self._main = self._drawing.legs(tag)[0] if self._drawing.entry(tag) is not None else None

    # --- what is asked -----------------------------------------------------------------------------------------------

    def has_a_bond_past_it(self) -> _Answer:
        """Whether a bond hangs on the load side with the neutral cut at the sensor."""

        def search(weigh: Weigh) -> Route | None:
            return self._from_here(weigh, lambda legs: weigh(self._is_bond_past(legs)), by_main=False)

        return self._looked_for(search)

    def has_no_jumper_of_its_own(self) -> _Answer:
        """Whether the neutral at the sensor is not bonded here, or at another place too."""
        own = self._bonds.at(self._tag)
        if own.bonded is Truth.NO:
            return _Answer(Truth.YES, f"{EVERY_POSITION}: no bond at {self._tag}")

        def search(weigh: Weigh) -> Route | None:
            def arrives(legs: Sequence[Leg]) -> bool:
                end = legs[-1].end
                return (
                    end != self._tag and weigh(self._is_bonded(legs)) and weigh(self._bonds.at(end).is_apart_from(own))
                )

            return self._from_here(weigh, arrives, by_main=True)

        found = self._looked_for(search)
        return found if own.bonded is Truth.YES or found.truth is Truth.YES else _Answer(Truth.UNKNOWN)

    def is_on_the_way_back_to_a_set(self) -> _Answer:
        """Whether the neutral of a set leads through the sensor to a bond."""

        def arrives(weigh: Weigh) -> Arrives:
            return lambda legs: weigh(self._leads_through_to_a_bond(legs))

        return self._looked_for(lambda weigh: self._from_sets(weigh, arrives(weigh)))

    def has_a_set_on_its_jumper(self) -> _Answer:
        """Whether the neutral of a set is bonded by the jumper with the sensor."""

        def arrives(weigh: Weigh) -> Arrives:
            return lambda legs: weigh(any_of((self._is_own_bond(legs), self._comes_round_to_own_bond(legs))))

        return self._looked_for(lambda weigh: self._from_sets(weigh, arrives(weigh)))

    def _looked_for(self, search: _Search) -> _Answer:
        try:
            sure = search(surely)
            if sure is not None:
                return _Answer(Truth.YES, positions_on(self._neutrals, sure))
            return _Answer(Truth.NO if search(perhaps) is None else Truth.UNKNOWN)
        except TooManyRoutes:
            return _Answer(Truth.UNKNOWN)

    # --- routes ------------------------------------------------------------------------------------------------------

    def _from_here(self, weigh: Weigh, arrives: Arrives, *, by_main: bool) -> Route | None:
        """A route of neutrals from the sensor: out of its load side, or also up its own line."""

        def passes(tag: str, came: Leg | None, goes: Leg) -> bool:
            if came is None:
                return weigh(self._neutrals.line(goes.feed)) and weigh(self._leaves(goes, by_main=by_main))
            return self._goes_on(weigh, tag, came, goes)

        return first_route(self._drawing, self._tag, passes, arrives)

    def _leaves(self, goes: Leg, *, by_main: bool) -> Truth:
        """Whether the neutral at the sensor leads on by a line of its piece."""
        if self._main is None:
            return Truth.YES
        if goes == self._main:
            return Truth.YES if by_main else Truth.NO
        return self._neutrals.through(self._tag, Leg(self._main.feed, up=False), goes)

    def _from_sets(self, weigh: Weigh, arrives: Arrives) -> Route | None:
        """A route of neutrals from a set that cannot feed what is ahead of the sensor."""

        def passes(tag: str, came: Leg | None, goes: Leg) -> bool:
            return self._goes_on(weigh, tag, came, goes)

        return next(filter(None, (first_route(self._drawing, tag, passes, arrives) for tag in self._sets())), None)

    def _goes_on(self, weigh: Weigh, tag: str, came: Leg | None, goes: Leg) -> bool:
        return weigh(self._neutrals.line(goes.feed)) and weigh(self._neutrals.through(tag, came, goes))

    def _sets(self) -> list[str]:
        entry = self._drawing.entry(self._tag)
        ahead = frozenset({self._tag}) if entry is None else self._drawing.ends_above(self._tag, entry)
        return [tag for tag in self._drawing.of("generator") if tag not in ahead]

    # --- where they lead ---------------------------------------------------------------------------------------------

    def _is_bond_past(self, legs: Sequence[Leg]) -> Truth:
        """A bond elsewhere, or by a ring the bond of the piece itself, which is ahead of the sensor."""
        if legs[-1].end != self._tag:
            return self._is_bonded(legs)
        return self._bonds.at(self._tag).bonded if self._by_main(legs) else Truth.NO

    def _leads_through_to_a_bond(self, legs: Sequence[Leg]) -> Truth:
        """A bond past the sensor as seen from the set. Round a ring to the bond of the set itself nothing flows."""
        if legs[-1].end == legs[0].start:
            return Truth.NO
        if legs[-1].end == self._tag:
            return Truth.NO if self._by_main(legs) else self._is_own_bond(legs)
        passed = self._main is not None and any(leg.feed == self._main.feed for leg in legs)
        return self._is_bonded(legs) if passed else Truth.NO

    def _is_own_bond(self, legs: Sequence[Leg]) -> Truth:
        """Whether a route ends at the bond of the piece itself, which is ahead of the sensor."""
        last = legs[-1]
        if last.end != self._tag:
            return Truth.NO
        bonded = self._bonds.at(self._tag).bonded
        if self._main is None or last.feed == self._main.feed:
            return bonded
        return all_of((bonded, self._neutrals.through(self._tag, last, self._main)))

    def _comes_round_to_own_bond(self, legs: Sequence[Leg]) -> Truth:
        """Whether a route that ends past the sensor of a switch goes on, and comes back by the line into its main."""
        last, before = legs[-1], frozenset(leg.start for leg in legs)
        if last.end != self._tag or self._main is None or last.feed == self._main.feed:
            return Truth.NO

        def search(weigh: Weigh) -> Route | None:
            def passes(tag: str, came: Leg | None, goes: Leg) -> bool:
                is_free = goes.end not in before and (came is not None or goes != self._main)
                return is_free and self._goes_on(weigh, tag, last if came is None else came, goes)

            return first_route(
                self._drawing, self._tag, passes, lambda on: on[-1].end == self._tag and self._by_main(on)
            )

        return all_of((self._bonds.at(self._tag).bonded, self._looked_for(search).truth))

    def _by_main(self, legs: Sequence[Leg]) -> bool:
        return self._main is not None and legs[-1].feed == self._main.feed

    def _is_bonded(self, legs: Sequence[Leg]) -> Truth:
        """Whether a route ends at a bond; from a side of a switch it comes there only by the neutral of the switch."""
        last = legs[-1]
        bonded = self._bonds.at(last.end).bonded if last.end in self._drawing.pieces else Truth.NO
        comes_from_side = not last.up and self._drawing.is_of(last.end, "transfer_switch")
        return all_of((bonded, self._neutrals.is_carried(last.end))) if comes_from_side else bonded
