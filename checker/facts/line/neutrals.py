"""Neutral bonds and what they mean for a set."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.line.roles import flag, is_service_disconnect
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
        return Derived(exactly("bonded"), reasons=(f"The list of bonds names one at {subject} that stays.",))
    if stays is Truth.NO and listed.complete:
        told = "names none" if not here else "names none that stays"
        return Derived(exactly("floating"), reasons=(f"The list of bonds is complete and {told} at {subject}.",))
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
    disconnect, and reaches every service disconnect: from a place ahead of all, in the enclosure where it ends, or
    by a tap or a conductor to each, where that is said.
    """
    ends = context.read(subject, "electrode_conductor_ends_at")
    if ends.anything or ends.undefined:
        return Derived(one_of((True, False)))
    answers = [_ends_rightly(context, subject, str(tag)) for tag in ends.atoms]
    answers += [Truth.NO] if ends.absent else []
    return Derived(union_of(flag(answer) for answer in answers))


def _ends_rightly(context: Context, utility: Subject, tag: str) -> Truth:
    not_past = _not_past(context, utility, tag)
    return not_past if not_past is Truth.NO else all_of((not_past, _reaches_each(context, utility, tag)))


def _not_past(context: Context, utility: Subject, tag: str) -> Truth:
    piece = context.drawing.pieces.get(tag)
    if piece is None or context.drawing.utility_of(tag) != utility.id:
        return Truth.NO
    return ~relate("is", context.read(piece, "past_service_disconnect"), exactly(True))


def _reaches_each(context: Context, utility: Subject, tag: str) -> Truth:
    """Whether no service disconnect of the supply is left on another line than the one on which it ends."""
    beside = [
        each for each in _on_other_lines(context, utility, tag) if is_service_disconnect(context, each) is not Truth.NO
    ]
    if not beside:
        return Truth.YES
    tapped = relate("is", context.read(utility, "electrode_conductor_to_each"), exactly(True))
    return any_of((tapped, all_of(_reached_where_it_ends(context, tag, each) for each in beside)))


def _on_other_lines(context: Context, utility: Subject, tag: str) -> list[Subject]:
    drawing = context.drawing
    on_its_line = {tag, *drawing.ahead(tag), *drawing.below(tag)}
    others = (each for each in drawing.below(utility.id) if each not in on_its_line)
    return [drawing.pieces[each] for each in others if drawing.is_of(each, "disconnecting")]


def _reached_where_it_ends(context: Context, tag: str, other: Subject) -> Truth:
    """A piece that is no service disconnect needs nothing; one in the enclosure where the conductor ends has it."""
    needs_nothing = ~is_service_disconnect(context, other)
    if not context.drawing.is_of(tag, "disconnecting"):
        return needs_nothing
    pair = Subject("service_disconnect_pair", "~".join(sorted((tag, other.id))))
    return any_of((needs_nothing, relate("is", context.read(pair, "shared_enclosure"), exactly(True))))


def neutral_poles(context: Context, subject: Subject, name: str) -> Derived:
    """One pole where the switch opens the neutral, none where it carries it solid or has none."""
    neutral = context.read(subject, "neutral")
    opens = relate("one_of", neutral, _OPENS)
    if opens is Truth.UNKNOWN:
        return Derived(union_of((number(0), number(1))))
    return Derived(number(1 if opens is Truth.YES else 0))


_OPENS = several(("switched", "overlapping"))
