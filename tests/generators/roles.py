"""Roles of disconnects that can stand together on one drawing."""

from __future__ import annotations

from collections.abc import Callable

from tests.generators.choosing import Chooser
from tests.generators.walk import Walk

SERVICE, FEEDER = "service_disconnect", "feeder_disconnect"
AHEAD = ("emergency_disconnect", "meter_disconnect")

Role = str | None
"""A role, or None for a piece that has none."""

Allowed = Callable[[str, Role], bool]
"""Whether what is written of a piece allows it a role."""


def roles_together(choose: Chooser, walk: Walk, allowed: Allowed) -> dict[str, Role] | None:
    """A role, or none, for every piece that can disconnect; None where what is written leaves no way.

    Past a service disconnect everything is a feeder disconnect; nothing else is one on a utility's line; a piece that
    a set feeds on normal is a feeder disconnect or nothing; where the line ends in the air everything can be.
    """
    found: dict[str, Role] = {}
    pieces = [tag for utility in walk.of("utility_supply") for tag in walk.below(utility)]
    others = [tag for tag in walk.kinds if walk.utility(tag) is None]
    pieces += sorted(others, key=lambda tag: len(walk.ahead(tag)))
    for tag in pieces:
        if not walk.is_of(tag, "disconnecting"):
            continue
        ways = [role for role in _ways(walk, tag, found) if allowed(tag, role)]
        if not ways:
            return None
        found[tag] = choose.one(ways)
    return found


def _ways(walk: Walk, tag: str, found: dict[str, Role]) -> tuple[Role, ...]:
    source = walk.line(tag).source
    if source is not None and walk.utility(tag) is None:
        return (None, FEEDER)
    if any(found.get(above) == SERVICE for above in walk.ahead(tag)):
        return (FEEDER,)
    return (SERVICE, SERVICE, *AHEAD, None, *((FEEDER,) if source is None else ()))
