"""The devices at which lines begin and end."""

from __future__ import annotations

from collections import Counter

from checker.facts.derivation import Context, Derived, Work, no_answer
from checker.facts.line.overcurrent import DEVICE, built_in_way
from checker.site.model import Subject
from checker.values.possible import ABSENT, exactly


def of_the_device_at_the_end(fact: str) -> Work:
    """Work that reads a fact of the device at which a line ends; absent where it ends without a device of its own."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        feed = context.drawing.feed(subject)
        way = built_in_way(context, feed.to, feed.input)
        if way is None:
            return Derived(ABSENT)
        device = context.read(way, DEVICE)
        if device.only_absent:
            return Derived(ABSENT)
        said = context.read(way, fact)
        return Derived(said.union(ABSENT) if device.absent else said)

    return work


def lines_share_a_device(context: Context, subject: Subject, name: str) -> Derived:
    """Whether two lines or more leave a piece by one way. Two of which no way is named may share one."""
    lines = Counter(feed.way for feed in context.drawing.out_of(subject.id))
    if any(many > 1 for way, many in lines.items() if way is not None):
        return Derived(exactly(True))
    if lines[None] > 1:
        return no_answer(f"it is not shown by which devices the lines leave {subject.id}")
    return Derived(exactly(False))
