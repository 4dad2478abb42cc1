"""How binding a rule is, and what it rests on."""

from __future__ import annotations

from enum import Enum

Editions = frozenset[str]
"""The editions in which something exists; empty means every edition of the document."""


class Basis(Enum):
    """What a rule rests on; it bounds what may come out."""

    LAW = "law"
    ADOPTED_STANDARD = "adopted_standard"
    LISTING = "listing_or_instructions"
    WRITTEN_POLICY = "written_policy"
    TRADE_PRACTICE = "trade_practice"
    LOCAL_PRACTICE = "local_practice"

    @property
    def can_correct(self) -> bool:
        """Whether a miss may be a correction; practice gives at most a recommendation."""
        return self not in (Basis.TRADE_PRACTICE, Basis.LOCAL_PRACTICE)


class Force(Enum):
    """How binding the text is."""

    MANDATORY = "mandatory"
    RECOMMENDED = "recommended"
    INFORMATIONAL = "informational"


class Harm(Enum):
    """The worst that a miss can bring, the worst first: somebody killed without anything else going wrong (exhaust that
    comes in, backfeed, gas, a building that is live again), killed once something else goes wrong (shock, a fault that
    nothing opens), fire, equipment broken or dead when it is wanted; none of these, as where a paper or a sign is
    missing. It puts findings in order and decides none.
    """

    LIFE_AT_ONCE = "life_at_once"
    LIFE = "life"
    FIRE = "fire"
    EQUIPMENT = "equipment"
    NONE = "none"

    @property
    def kills(self) -> bool:
        """Whether it can kill, at once or later."""
        return self in (Harm.LIFE_AT_ONCE, Harm.LIFE)

    @property
    def order(self) -> int:
        """Place in a report, from 0."""
        return list(Harm).index(self)
