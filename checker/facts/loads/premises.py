"""What the drawing says of a building and its loads, each as far as it is known."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.facts.derivation import Context
from checker.facts.known import Known
from checker.site.model import SITE, Subject
from checker.values.possible import Possible, exactly, number
from checker.values.relations import relate
from checker.values.truth import Truth

AREA, SMALL_APPLIANCES, LAUNDRY = "floor_area", "small_appliance_circuits", "laundry_circuits"
OF_THE_WHOLE = (AREA, SMALL_APPLIANCES, LAUNDRY)

OWN_CONTROLS, MOTOR_DRIVEN = "own_controls", "motor_driven"
"""What of a load only some calculations count."""

LARGEST_MOTOR = "largest_motor"
"""Asks what drives a load only where that load can be the largest motor of all that count."""

READS = (
    *OF_THE_WHOLE,
    *("name", "load_kind", "load_power", OWN_CONTROLS, "with_compressor", MOTOR_DRIVEN, "kept_off", "at"),
)

MOTORS = ("cooling", "heat_pump")
"""Loads that a motor drives whatever the drawing says."""

_MAY_BE_A_MOTOR = "appliance"

NOTHING = Fraction(0)

Counts = Callable[[Subject], Truth]
"""Whether a load counts in a calculation."""


@dataclass(frozen=True, slots=True)
class Load:
    """One load as far as it is known; a kind that is None is not decided."""

    subject: Subject
    name: str
    kind: str | None
    power: Known
    controls: Possible
    with_compressor: Truth
    motor: Truth
    counts: Truth


@dataclass(frozen=True, slots=True)
class Premises:
    """The figures of a building by fact, the loads that count or may count, and whether those are all.

    Of a part of a building there are no figures: nothing of it follows from the floor area, and the circuits for
    lighting and receptacles count as they are listed. ``units`` says how many dwelling units have the circuits of the
    figures each, where these are counted together.
    """

    figures: Mapping[str, Known]
    loads: tuple[Load, ...]
    complete: bool
    is_part: bool = False
    units: int = 1

    @property
    def is_settled(self) -> bool:
        """Whether no load can come to those that surely count, and none of them is of an open kind."""
        return self.complete and all(each.kind is not None and each.counts is Truth.YES for each in self.loads)


def premises(
    context: Context,
    counts: Counts,
    *,
    asks: frozenset[str],
    is_part: bool = False,
    figures_read: tuple[str, ...] = OF_THE_WHOLE,
) -> Premises:
    """The building, or the part of it that is fed, with the loads that count.

    ``asks`` names what of a load counts besides its kind and rating, so that nothing else is asked for: whether a motor
    drives it (all of them, or the largest alone), how many controls heaters have. ``figures_read`` says what of the
    whole counts.
    """
    listed = context.members("loads")
    figures = {} if is_part else {name: context.known(SITE, name) for name in figures_read}
    judged = ((each, counts(each)) for each in listed.members)
    loads = tuple(_load(context, each, truth, asks) for each, truth in judged if truth is not Truth.NO)
    if LARGEST_MOTOR in asks:
        loads = _with_motors(context, loads)
    return Premises(figures, loads, listed.complete, is_part)


def standing_in(context: Context, boards: frozenset[str] | set[str]) -> Counts:
    """Loads at one of these pieces."""

    def counts(load: Subject) -> Truth:
        at = context.read(load, "at").atom
        return Truth.UNKNOWN if at is None else Truth.YES if at in boards else Truth.NO

    return counts


def _load(context: Context, load: Subject, counts: Truth, asks: frozenset[str]) -> Load:
    """A load with what its kind makes count; the rest is not read, so that nobody is asked for it."""
    kind, name = context.read(load, "load_kind").atom, context.read(load, "name").atom

    def holds(fact: str, *kinds: str) -> Truth:
        counted = kind is None or kind in kinds
        return relate("is", context.read(load, fact), exactly(True)) if counted else Truth.NO

    return Load(
        load,
        "" if name is None else str(name),
        None if kind is None else str(kind),
        context.known(load, "load_power"),
        context.read(load, OWN_CONTROLS) if OWN_CONTROLS in asks and kind in (None, "heat") else number(NOTHING),
        holds("with_compressor", "supplementary_heat"),
        holds(MOTOR_DRIVEN, _MAY_BE_A_MOTOR) if MOTOR_DRIVEN in asks else Truth.NO,
        counts,
    )


def _with_motors(context: Context, loads: tuple[Load, ...]) -> tuple[Load, ...]:
    """The loads with what drives them, as far as that can move the largest motor.

    An appliance that is surely no larger than a motor that counts moves nothing, so that nobody is asked about it.
    """
    largest = max((_least(each) for each in loads if each.kind in MOTORS), default=NOTHING)
    driven: dict[Subject, Truth] = {}
    for load in sorted((each for each in loads if each.kind == _MAY_BE_A_MOTOR), key=_largest_first):
        most = end(load.power.value, upper=True)
        if most is not None and most <= largest:
            continue
        motor = relate("is", context.read(load.subject, MOTOR_DRIVEN), exactly(True))
        driven[load.subject] = motor
        largest = max(largest, _least(load)) if motor is Truth.YES else largest
    return tuple(replace(each, motor=driven.get(each.subject, each.motor)) for each in loads)


def _least(load: Load) -> Fraction:
    """The least that a load surely counts."""
    return (end(load.power.value, upper=False) or NOTHING) if load.counts is Truth.YES else NOTHING


def _largest_first(load: Load) -> tuple[bool, Fraction]:
    most = end(load.power.value, upper=True)
    return most is not None, -(most or NOTHING)


def end(value: Possible, *, upper: bool) -> Fraction | None:
    """One end of what is possible; zero at the lower end where it may be absent. None where there is no end."""
    if value.only_absent:
        return NOTHING
    hull = value.hull
    found = None if hull is None else hull.high if upper else hull.low
    return NOTHING if value.absent and not upper else found
