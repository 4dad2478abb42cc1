"""Load that comes on a set at once."""

from __future__ import annotations

from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between

READS = ("automatic_load", "capacity")

_NOTHING = Fraction(0)
_NO_LOAD = "the set has no load or no rating"


def greatest_block(context: Context, subject: Subject, name: str) -> Derived:
    """The load that is connected automatically over what the set gives at its site: all of it comes on at once.

    Rises with the load, falls with the rating. Loads that come on in steps put on less.
    """
    load, rating = (context.read(subject, each) for each in READS)
    reasons = tuple(sorted({*load.undefined, *rating.undefined}))
    if not load.spans or not rating.spans or _end(rating, upper=True) == 0:
        return Derived(Possible(undefined=reasons or (_NO_LOAD,)), reasons=reasons)
    low = _share(_end(load, upper=False) or _NOTHING, _end(rating, upper=True))
    most = _end(load, upper=True)
    high = None if most is None or not _end(rating, upper=False) else _share(most, _end(rating, upper=False))
    value = Possible(spans=between(low, high).spans, undefined=reasons)
    return Derived(value, worksheet=_sheet(context, subject, name, value), reasons=reasons)


def _share(load: Fraction, rating: Fraction | None) -> Fraction:
    return rounded(load / rating) if rating else _NOTHING


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    hull = value.hull
    return None if hull is None else hull.high if upper else hull.low


def _sheet(context: Context, subject: Subject, name: str, value: Possible) -> Worksheet:
    lines = []
    for place, each in enumerate(READS, start=1):
        fact, known = context.catalog.facts[each], context.known(subject, each)
        lines.append(
            Line(str(place), fact.title, "", value_text(fact, known.value, known.unit), "", source_text(known))
        )
    lines.append(Line("a", "block of load", "1 / 2", number_text(value, "ratio", "%"), "", ""))
    limits = "All load that is connected automatically comes on at once."
    return Worksheet(f"{subject}.{name}", "Greatest block of load", subject.id, tuple(lines), limits)
