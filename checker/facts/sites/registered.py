"""Which facts of places are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import entry
from checker.facts.sites import enclosures

DERIVATIONS = (entry("enclosure_serves", enclosures.ENCLOSED, enclosures.READS, enclosures.serves_there),)

NUMBERS = enclosures.NUMBERS
"""What of the documents in force is read here."""
