"""How long a load of a transfer switch waits: from the loss of the normal supply until the set carries it."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.wording import number_text, value_text
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.site.model import Subject
from checker.values.arithmetic import total
from checker.values.possible import Possible, between, exactly, number, union_of
from checker.values.relations import relate
from checker.values.truth import Truth

READS = (
    *("sensing_delay", "time_to_ready", "transfer_delay", "carried_meanwhile"),
    *("loads_in_steps", "last_load_delay"),
)

_ANYTHING = between(None, None)
_NO_SET = "its other side is not fed by one set alone; the time has to be stated"
_STORED = "a stored supply carries its load until the set does; the time has to be stated"


def time_to_load(context: Context, subject: Subject, name: str) -> Derived:
    """Delay of sensing, time until the set is ready, delay of the transfer, in seconds, one after the other, and the
    delay of the last load where loads are put on in steps.

    Rises with each. The time counts from the loss of the normal supply, so that the delay before the start is part of
    it (NFPA 70, 700.12 and 701.12).
    """
    source = _the_set(context, subject)
    if source is None:
        return no_answer(_NO_SET)
    if context.read(subject, "carried_meanwhile") == exactly(True):
        return no_answer(_STORED)
    terms: _Terms = ((subject, "sensing_delay"), (source, "time_to_ready"), (subject, "transfer_delay"))
    in_steps = relate("is", context.read(subject, "loads_in_steps"), exactly(True))
    if in_steps is not Truth.NO:
        terms = (*terms, (subject, "last_load_delay"))
    delays = [_number(context.read(*each)) for each in terms]
    if in_steps is Truth.UNKNOWN:
        delays[-1] = union_of([delays[-1], number(0)])
    value = total(delays)
    return Derived(value, worksheet=_sheet(context, subject, name, terms, value))


def _the_set(context: Context, switch: Subject) -> Subject | None:
    """The one set that can feed the other side of the switch; None where there is not exactly one source."""
    feed = context.drawing.into(switch.id, "alternate")
    if feed is None:
        return None
    sources = context.drawing.sources_reaching(feed.source) or (feed.source,)
    if len(sources) != 1 or not context.drawing.is_of(sources[0], "generator"):
        return None
    return context.drawing.pieces[sources[0]]


def _number(value: Possible) -> Possible:
    return Possible(spans=value.spans) if value.spans else _ANYTHING


_Terms = tuple[tuple[Subject, str], ...]


def _sheet(context: Context, subject: Subject, name: str, terms: _Terms, value: Possible) -> Worksheet:
    how = " + ".join(str(place) for place, _ in enumerate(terms, start=1))
    lines = [
        *_given(context, terms),
        Line("a", "last load fed again", how, number_text(value, "duration", "s"), "", ""),
    ]
    limits = "Steps one after another, from the loss of the normal supply on; a test on the spot goes before it."
    return Worksheet(f"{subject}.{name}", "Time until the load is fed again", subject.id, tuple(lines), limits)


def _given(context: Context, terms: _Terms) -> Iterator[Line]:
    for place, (owner, name) in enumerate(terms, start=1):
        fact, known = context.catalog.facts[name], context.known(owner, name)
        shown = value_text(fact, known.value, known.unit)
        yield Line(str(place), f"{owner}: {fact.title}", "", shown, "", source_text(known))
