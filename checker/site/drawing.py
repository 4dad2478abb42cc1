"""What has been read of a site so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.files.yaml.tree import Entry
from checker.site.model import Claim, DrawingNotice, Feed, Members, Stated, Subject, Thing
from checker.values.positions import Position


@dataclass(slots=True)
class Drawing:
    """Collects subjects with their facts, connections, lists and claims in the order of the file."""

    things: dict[Subject, Thing] = field(default_factory=dict)
    feeds: list[Feed] = field(default_factory=list)
    lists: dict[tuple[str, str], Members] = field(default_factory=dict)
    claims: list[Claim] = field(default_factory=list)
    notices: list[DrawingNotice] = field(default_factory=list)
    claimed: list[tuple[Subject, Entry]] = field(default_factory=list)

    def add(self, subject: Subject, at: Position, facts: Mapping[str, Stated]) -> None:
        """Keep a subject; one that is described in two places keeps all facts."""
        known = self.things.get(subject)
        before = {} if known is None else known.facts
        self.things[subject] = Thing(subject, at, {**before, **facts})
