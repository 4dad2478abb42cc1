"""The steps in which load management puts loads on a source, and the worst that the source sees in each.

No code sets this procedure; that the source must carry the load that is left on it does (NFPA 70, 702.4). The order is
the maker's: *strict* stops at the first load that does not fit, *fill* passes over it and tries the next.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits


class Order(Enum):
    """What happens after a load that does not fit."""

    STRICT = "strict"
    FILL = "fill"


@dataclass(frozen=True, slots=True)
class ManagedLoad:
    """A load that is put on when it fits. Running and starting load in VA; priority 1 comes first.

    ``on_when_control_fails`` is None where nobody says what it does then, which counts as on. ``held_off`` says whether
    it is off before the source carries anything; a load that is not is there from the first step.
    """

    name: str
    running: Fraction
    starting: Fraction
    priority: int
    on_when_control_fails: bool | None
    held_off: bool = True


@dataclass(frozen=True, slots=True)
class Management:
    """A source with its loads, in VA.

    ``capacity`` is what it carries for good, ``start_capacity`` what it holds while something starts, ``set_point`` the
    running load up to which another load is let on (the capacity, where the system has no lower one).
    """

    capacity: Fraction
    start_capacity: Fraction
    set_point: Fraction
    always_on: Fraction
    always_on_starting: Fraction
    managed: tuple[ManagedLoad, ...]
    order: Order


@dataclass(frozen=True, slots=True)
class LoadStep:
    """One step: what is put on, what then runs, and the most while it starts, all in VA."""

    name: str
    put_on: tuple[str, ...]
    running: Fraction
    starting: Fraction
    exceeds: bool


@dataclass(frozen=True, slots=True)
class Managed:
    """What the steps come to. ``first_exceeding`` is the first step that is too much for the source, if any."""

    steps: tuple[LoadStep, ...]
    on: tuple[str, ...]
    never_fit: tuple[str, ...]
    when_control_fails: Fraction

    @property
    def first_exceeding(self) -> LoadStep | None:
        """The first step in which the source is asked for more than it has."""
        return next((step for step in self.steps if step.exceeds), None)

    @property
    def greatest_running(self) -> Fraction:
        """The greatest running load of any step, in VA."""
        return max(step.running for step in self.steps)

    @property
    def greatest_starting(self) -> Fraction:
        """The greatest load while something starts, in VA."""
        return max(step.starting for step in self.steps)


def manage(case: Management) -> Managed:
    """Put the managed loads on, one after another.

    First the loads that nothing holds off, then by priority each whose running load still lies within the set point.
    Loads of one priority come in the order given. Limits: every load starts by itself; after a long outage all that
    is thermostatic asks at once, so each counts with its whole running load and no diversity.
    """
    _check(case)
    steps = list(_steps(case))
    on = tuple(name for step in steps for name in step.put_on)
    return Managed(tuple(steps), on, tuple(_never(case)), _when_control_fails(case))


def _check(case: Management) -> None:
    for load in case.managed:
        if load.starting < load.running:
            raise OutsideLimits(f"{load.name} would take less while it starts than while it runs.")
    if case.always_on_starting < case.always_on:
        raise OutsideLimits("What is always on would take less while it starts than while it runs.")


def _steps(case: Management) -> Iterator[LoadStep]:
    at_once = [load for load in case.managed if not load.held_off]
    running = case.always_on + sum((load.running for load in at_once), Fraction(0))
    starting = case.always_on_starting + sum((load.starting for load in at_once), Fraction(0))
    yield _step("as the source takes over", tuple(load.name for load in at_once), running, starting, case)
    for load in sorted((load for load in case.managed if load.held_off), key=lambda load: load.priority):
        if running + load.running > case.set_point:
            if case.order is Order.STRICT:
                return
            continue
        starting = running + load.starting
        running += load.running
        yield _step(f"{load.name} put on", (load.name,), running, starting, case)


def _step(name: str, put_on: tuple[str, ...], running: Fraction, starting: Fraction, case: Management) -> LoadStep:
    exceeds = running > case.capacity or starting > case.start_capacity
    return LoadStep(name, put_on, running, starting, exceeds)


def _never(case: Management) -> Iterator[str]:
    """Loads that do not fit even alone on top of what is always on."""
    for load in case.managed:
        alone = case.always_on + load.running
        if alone > case.set_point or alone > case.capacity or case.always_on + load.starting > case.start_capacity:
            yield load.name


def _when_control_fails(case: Management) -> Fraction:
    """The running load with every managed load on that does not surely drop out."""
    staying = (load.running for load in case.managed if load.on_when_control_fails is not False)
    return case.always_on + sum(staying, Fraction(0))
