"""Neutral bonds and what they mean for a set."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.roles import flag
from checker.site.model import Subject
from checker.values.possible import exactly, number, one_of, several, union_of
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of

CARRIED_SOLID = exactly("solid")


def neutral_bond(context: Context, subject: Subject, name: str) -> Derived:
    """Bonded where the list of bonds has one here that stays; floating where the list is complete and has none."""
    listed = context.members("bonds")
    here = [bond for bond in listed.members if context.read(bond, "at").atom == subject.id]
    stays = any_of(relate("is_not", context.read(bond, "bond_status"), exactly("to_be_removed")) for bond in here)
    if stays is Truth.YES:
        return Derived(exactly("bonded"))
    if stays is Truth.NO and listed.complete:
        return Derived(exactly("floating"))
    return Derived(one_of(("bonded", "floating")))


def separately_derived(context: Context, subject: Subject, name: str) -> Derived:
    """Yes when no switch fed by the set carries its neutral solid; no when one of them does."""
    switches = context.drawing.switches_fed(subject.id)
    if not switches:
        return no_answer(f"{subject} feeds no transfer switch on the drawing")
    neutrals = [context.read(context.drawing.pieces[tag], "neutral") for tag in switches]
    return Derived(flag(all_of(relate("is_not", neutral, CARRIED_SOLID) for neutral in neutrals)))


def electrode_conductor_ahead(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the electrode conductor ends on the line of this supply at a piece that is not past the service
    disconnect.
    """
    ends = context.read(subject, "electrode_conductor_ends_at")
    if ends.anything or ends.undefined:
        return Derived(one_of((True, False)))
    answers = [_not_past(context, subject, str(tag)) for tag in ends.atoms]
    answers += [Truth.NO] if ends.absent else []
    return Derived(union_of(flag(answer) for answer in answers))


def _not_past(context: Context, utility: Subject, tag: str) -> Truth:
    piece = context.drawing.pieces.get(tag)
    if piece is None or context.drawing.utility_of(tag) != utility.id:
        return Truth.NO
    return ~relate("is", context.read(piece, "past_service_disconnect"), exactly(True))


def neutral_poles(context: Context, subject: Subject, name: str) -> Derived:
    """One pole where the switch opens the neutral, none where it carries it solid or has none."""
    neutral = context.read(subject, "neutral")
    opens = relate("one_of", neutral, _OPENS)
    if opens is Truth.UNKNOWN:
        return Derived(union_of((number(0), number(1))))
    return Derived(number(1 if opens is Truth.YES else 0))


_OPENS = several(("switched", "overlapping"))
