"""What lands on a set: everything that is connected automatically, and what load management leaves on it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.worksheet import Line
from checker.facts.derivation import Context, Derived
from checker.facts.known import Known
from checker.facts.loads.house import READS as OF_HOUSES
from checker.facts.loads.house import Counts, House, Load, end, house, standing_in
from checker.facts.loads.methods import Ends, Terms, load_by
from checker.facts.loads.sheet import VOLTAGE, load_sheet
from checker.facts.two_ends import amount
from checker.site.model import SITE, Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between, exactly, undefined
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of

AUTOMATIC_READS = (
    *OF_HOUSES,
    *("occupancy", "load_method", "heating_or_cooling_added", "operation", "rated_current", "system"),
)
MANAGED_READS = (*AUTOMATIC_READS, "when_control_fails", "manages", "set_point", "capacity")

_NOTHING = Fraction(0)
ONE_DWELLING = exactly("one_family_dwelling")


def automatic_load(context: Context, subject: Subject, name: str) -> Derived:
    """Current of all loads of the dwelling at the voltage of the set, by the calculation that the drawing names."""
    reason = _why_not(context, subject)
    if reason:
        return Derived(undefined(reason), reasons=(reason,))
    voltage = context.known(subject, VOLTAGE)
    found = house(context, standing_in(context, _reached(context, subject)))
    try:
        ends = load_by(context.read(SITE, "load_method"), found, context.numbers, _terms(context, subject))
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    sheet = load_sheet(context, subject, name, found, ends, voltage)
    return Derived(_current(ends, voltage), worksheet=sheet)


def managed_load(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest current that load management leaves on the set.

    At the least it is that of the loads that nothing keeps off. A load that is put on when it fits adds up to the set
    point; one that may stay on when the control fails counts as if nothing kept it off. Without a set point that is
    known, whatever is managed may come on.
    """
    reason = _why_not(context, subject)
    if reason:
        return Derived(undefined(reason), reasons=(reason,))
    voltage = context.known(subject, VOLTAGE)
    reached = standing_in(context, _reached(context, subject))
    always = house(context, _always_on(context, reached))
    method, terms = context.read(SITE, "load_method"), _terms(context, subject)
    try:
        least = load_by(method, always, context.numbers, terms)
        staying = house(context, _may_stay(context, reached))
        most = load_by(method, staying, context.numbers, terms)
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    everything = house(context, reached)
    low, high = _current(least, voltage), _current(most, voltage)
    sheet = load_sheet(
        context, subject, name, always, least, voltage, tuple(_managed(context, subject, everything, low))
    )
    return Derived(_left_on(context, subject, everything, low, high), worksheet=sheet)


# --- whether it is the load of the set -------------------------------------------------------------------------------


def _why_not(context: Context, subject: Subject) -> str:
    """Why this calculation is not the load of the set; empty where it is."""
    if context.read(SITE, "occupancy") != ONE_DWELLING:
        return "the load is worked out for one dwelling only; elsewhere it has to be stated"
    drawing = context.drawing
    switches = drawing.switches_fed(subject.id)
    automatic = (relate("is", context.read(drawing.pieces[tag], "operation"), exactly("automatic")) for tag in switches)
    if not switches or all_of(automatic) is not Truth.YES:
        return f"{subject} does not feed the dwelling by automatic switches alone; its load has to be stated"
    boards, reached = drawing.of("board"), _reached(context, subject)
    if not boards or any(tag not in reached for tag in boards):
        return f"{subject} feeds only a part of the dwelling; the load of that part has to be stated"
    return ""


def _reached(context: Context, subject: Subject) -> frozenset[str]:
    return frozenset(context.drawing.fed_in_any_way(subject.id))


def _terms(context: Context, subject: Subject) -> Terms:
    added = relate("is", context.read(SITE, "heating_or_cooling_added"), exactly(True))
    return Terms(_least_rating(context, subject), added)


def _least_rating(context: Context, subject: Subject) -> Fraction:
    """The smallest rating that the switches to the dwelling have for sure, in amperes."""
    pieces = context.drawing.pieces
    hulls = [context.read(pieces[tag], "rated_current").hull for tag in context.drawing.switches_fed(subject.id)]
    return min((hull.low or _NOTHING if hull is not None else _NOTHING for hull in hulls), default=_NOTHING)


def _current(ends: Ends, voltage: Known) -> Possible:
    volts = voltage.value.number
    if volts is None or volts <= 0:
        return between(_NOTHING, None)
    return between(rounded(ends.least.value / volts), None if ends.most is None else rounded(ends.most.value / volts))


# --- what is managed -------------------------------------------------------------------------------------------------


def _always_on(context: Context, reached: Counts) -> Counts:
    """Loads that nothing keeps off for sure."""

    def counts(load: Subject) -> Truth:
        kept = context.read(load, "kept_off")
        here = reached(load)
        nothing = Truth.YES if kept.only_absent else Truth.UNKNOWN if kept.absent else Truth.NO
        return all_of((here, nothing))

    return counts


def _may_stay(context: Context, reached: Counts) -> Counts:
    """Loads that nothing keeps off, and those that may stay on when the control fails."""
    always = _always_on(context, reached)

    def counts(load: Subject) -> Truth:
        on = relate("is_not", context.read(load, "when_control_fails"), exactly("stays_off"))
        return any_of((always(load), all_of((reached(load), on))))

    return counts


def _left_on(context: Context, subject: Subject, found: House, low: Possible, high: Possible) -> Possible:
    """From what nothing keeps off up to what may stay on or, where loads are put on as they fit, to the set point."""
    least = low.hull.low if low.hull is not None else None
    most = high.hull.high if high.hull is not None else None
    if most is None or not _puts_on(context, found):
        return between(least, most)
    set_point = _set_point(context, subject)
    return between(least, None if set_point is None else max(most, set_point))


def _puts_on(context: Context, found: House) -> bool:
    """Whether a load may be put on while it fits, other than one that stays off for good."""
    kept = (context.read(each.subject, "kept_off") for each in found.loads)
    return any(relate("is", each, exactly("until_it_fits")) is not Truth.NO for each in kept)


def _set_point(context: Context, subject: Subject) -> Fraction | None:
    """The greatest set point of the load management of this set; None where one is not known, or there is none."""
    pieces, managers = context.drawing.pieces, context.drawing.of("load_manager")
    of_this = [pieces[tag] for tag in managers if context.read(pieces[tag], "manages").atom == subject.id]
    points = [context.read(each, "set_point") for each in of_this]
    ends = [None if each.absent else end(each, upper=True) for each in points]
    known = [each for each in ends if each is not None]
    return max(known) if known and len(known) == len(ends) and context.all_drawn("load_manager") else None


def _managed(context: Context, subject: Subject, found: House, low: Possible) -> Iterator[Line]:
    """Of each load that is put on when it fits, whether it ever fits beside what is always on."""
    capacity = context.read(subject, "capacity").hull
    base = low.hull.low if low.hull is not None else None
    volts = context.read(subject, VOLTAGE).number
    if capacity is None or capacity.high is None or base is None or not volts:
        return
    spare = max(capacity.high - base, _NOTHING)
    yield Line("s", "spare on the set", "capacity - current", amount(spare), "A", "")
    for place, load in enumerate(_put_on(context, found)):
        takes = end(load.power.value, upper=False)
        if takes is not None:
            fits = "fits at times" if takes / volts <= spare else "never fits beside what is always on"
            yield Line(
                f"s{place}", load.name or "load", f"{amount(takes / volts)} A of {amount(spare)} A", fits, "", ""
            )


def _put_on(context: Context, found: House) -> Iterator[Load]:
    for each in found.loads:
        if relate("is", context.read(each.subject, "kept_off"), exactly("until_it_fits")) is Truth.YES:
            yield each
