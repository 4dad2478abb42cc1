"""What lands on a set: everything that is connected automatically."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived
from checker.facts.known import Known
from checker.facts.loads.house import READS as OF_HOUSES
from checker.facts.loads.house import Counts, House, end, house, standing_in
from checker.facts.loads.methods import EXISTING, Ends, Terms, counts_motors, load_by
from checker.facts.loads.sheet import VOLTAGE, load_sheet
from checker.site.model import SITE, Subject
from checker.values.arithmetic import rounded, smallest
from checker.values.possible import Possible, between, exactly, undefined
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

READS = (
    *OF_HOUSES,
    *("occupancy", "load_method", "heating_or_cooling_added", "operation", "rated_current", "system"),
)

_NOTHING = Fraction(0)
ONE_DWELLING = exactly("one_family_dwelling")


def automatic_load(context: Context, subject: Subject, name: str) -> Derived:
    """Current of all loads of the dwelling, or of the part of it that is fed, at the voltage of the set, by the
    calculation that the drawing names.
    """
    reason = why_not(context, subject)
    if reason:
        return Derived(undefined(reason), reasons=(reason,))
    voltage = context.known(subject, VOLTAGE)
    try:
        found = fed(context, subject, standing_in(context, reached(context, subject)))
        ends = load_by(context.read(SITE, "load_method"), found, context.numbers, terms_of(context, subject))
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    sheet = load_sheet(context, subject, name, found, ends, voltage)
    return Derived(current(ends, voltage), worksheet=sheet)


# --- whether it is the load of the set -------------------------------------------------------------------------------


def why_not(context: Context, subject: Subject) -> str:
    """Why this calculation is not the load of the set; empty where it is."""
    if context.read(SITE, "occupancy") != ONE_DWELLING:
        return "the load is worked out for one dwelling only; elsewhere it has to be stated"
    drawing = context.drawing
    switches = drawing.switches_fed(subject.id)
    automatic = (relate("is", context.read(drawing.pieces[tag], "operation"), exactly("automatic")) for tag in switches)
    if not switches or all_of(automatic) is not Truth.YES:
        return f"{subject} does not feed the dwelling by automatic switches alone; its load has to be stated"
    if not any(tag in reached(context, subject) for tag in drawing.of("board")):
        return f"{subject} feeds no board on the drawing; its load has to be stated"
    return ""


def is_part(context: Context, subject: Subject) -> bool:
    """Whether a board of the dwelling is drawn that the set does not feed."""
    boards = reached(context, subject)
    return any(tag not in boards for tag in context.drawing.of("board"))


def fed(context: Context, subject: Subject, counts: Counts) -> House:
    """What the set feeds of the dwelling, with the loads that count. Raises OutsideLimits like the calculations."""
    terms = terms_of(context, subject)
    reads_motors = counts_motors(context.read(SITE, "load_method"), context.numbers, terms)
    return house(context, counts, reads_motors=reads_motors, is_part=terms.is_part)


def reached(context: Context, subject: Subject) -> frozenset[str]:
    """Every piece that the set can feed."""
    return frozenset(context.drawing.fed_in_any_way(subject.id))


def heating_added(context: Context) -> Truth:
    """Whether heating or cooling is added, which only the calculation of an existing dwelling asks."""
    if context.read(SITE, "load_method").atom != EXISTING:
        return Truth.UNKNOWN
    return relate("is", context.read(SITE, "heating_or_cooling_added"), exactly(True))


def terms_of(context: Context, subject: Subject) -> Terms:
    """What the calculations need beside the loads."""
    added = heating_added(context)
    pieces = context.drawing.pieces
    ratings = [context.read(pieces[tag], "rated_current") for tag in context.drawing.switches_fed(subject.id)]
    smallest_one = smallest(ratings, skip_absent=False)
    least, most = end(smallest_one, upper=False) or _NOTHING, end(smallest_one, upper=True)
    return Terms(least, most, added, is_part=is_part(context, subject))


def current(ends: Ends, voltage: Known) -> Possible:
    """Both ends of a load in amperes."""
    volts = voltage.value.number
    if volts is None or volts <= 0:
        return between(_NOTHING, None)
    return between(rounded(ends.least.value / volts), None if ends.most is None else rounded(ends.most.value / volts))
