"""What lands on a set: everything that is connected automatically."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.loads.current import currents
from checker.facts.loads.methods import EXISTING, Ends, Terms
from checker.facts.loads.premises import Counts, end, standing_in
from checker.facts.loads.sheet import load_sheet
from checker.facts.loads.work import READS as OF_LOADS
from checker.facts.loads.work import load_of
from checker.site.model import SITE, Subject
from checker.values.arithmetic import smallest
from checker.values.possible import Possible, exactly
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

READS = (*OF_LOADS, "heating_or_cooling_added", "operation", "rated_current", "system")

_NOTHING = Fraction(0)


def automatic_load(context: Context, subject: Subject, name: str) -> Derived:
    """Current of all loads of the dwelling, or of the part of it that is fed, at the voltage of the set, by the
    calculation that the drawing names.
    """
    reason = why_not(context, subject)
    if reason:
        return no_answer(reason)
    return derived_load(context, subject, name, put_on(context, subject), terms_of(context, subject))


def derived_load(context: Context, subject: Subject, name: str, counts: Counts, terms: Terms) -> Derived:
    """The current at a source of the loads that count, with its worksheet."""
    try:
        found, ends = load_of(context, counts, terms)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived(current(context, subject, ends), worksheet=load_sheet(context, subject, name, found, ends))


# --- whether it is the load of the set -------------------------------------------------------------------------------


def why_not(context: Context, subject: Subject) -> str:
    """Why this calculation is not the load of the set; empty where it is."""
    drawing = context.drawing
    switches = drawing.switches_fed(subject.id)
    automatic = (relate("is", context.read(drawing.pieces[tag], "operation"), exactly("automatic")) for tag in switches)
    if not switches or all_of(automatic) is not Truth.YES:
        return f"{subject} does not feed the dwelling by automatic switches alone; its load has to be stated"
    if not feeds_a_board(context, subject):
        return f"{subject} feeds no board on the drawing; its load has to be stated"
    return ""


def put_on(context: Context, subject: Subject) -> Counts:
    """Loads that the set feeds, without those that are kept off as long as it runs."""
    here = standing_in(context, reached(context, subject))

    def counts(load: Subject) -> Truth:
        return all_of((here(load), relate("is_not", context.read(load, "kept_off"), exactly("while_the_set_runs"))))

    return counts


def feeds_a_board(context: Context, subject: Subject) -> bool:
    """Whether a board is drawn that the set can feed."""
    boards = reached(context, subject)
    return any(tag in boards for tag in context.drawing.of("board"))


def is_part(context: Context, subject: Subject) -> bool:
    """Whether a board of the dwelling is drawn that the set does not feed."""
    boards = reached(context, subject)
    return any(tag not in boards for tag in context.drawing.of("board"))


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


def current(context: Context, subject: Subject, ends: Ends) -> Possible:
    """Both ends of a load in amperes."""
    return currents(context, subject, ends.least.value, None if ends.most is None else ends.most.value)
