"""The device of the piece at which a line ends."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived, Work
from checker.facts.overcurrent import DEVICE, built_in_way
from checker.site.model import Subject
from checker.values.possible import ABSENT


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
