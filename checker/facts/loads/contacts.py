"""Whether the transfer switch past which a load hangs has the auxiliary contact that the load rests on."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived, Work
from checker.facts.line.roles import flag
from checker.site.model import Subject
from checker.values.possible import several
from checker.values.relations import relate
from checker.values.truth import any_of

READS = ("at", "contacts")


def at_its_switch(contact: str) -> Work:
    """The derivation that tells whether some switch that the load is fed through has this contact."""
    wanted = several([contact])

    def work(context: Context, load: Subject, name: str) -> Derived:
        at = context.read(load, "at").atom
        drawing = context.drawing
        ahead = (tag for tag in drawing.of("transfer_switch") if at == tag or at in drawing.fed_in_any_way(tag))
        return Derived(
            flag(any_of(relate("includes_all", context.read(drawing.pieces[tag], "contacts"), wanted) for tag in ahead))
        )

    return work
