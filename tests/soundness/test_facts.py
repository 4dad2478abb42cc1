"""Soundness fact by fact: what is worked out for a drawing holds whatever is worked out once more is known.

The same as for findings, and closer to where a mistake is made: every derived fact and every collection.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.facts.collections import collection
from checker.facts.view import View
from checker.findings.review import view_of
from checker.values.possible import Possible, SetSpan, Span
from checker.values.truth import Truth
from tests.generators.cases import CATALOG, Case
from tests.generators.choosing import seeded
from tests.one_line.comparing import enumerated, wrong
from tests.one_line.reading import COLUMNS, column
from tests.soundness.completions import completed, completions
from tests.soundness.exact_facts import STATE_BY_STATE, Bounded, ExactFacts, NoAnswer, exact_value
from tests.soundness.sweep import sweep
from tests.soundness.views import subjects, worked_out
from tests.soundness.widenings import widened


def _not_covered(before: View, after: View) -> Iterator[str]:
    """Facts of which something turned out that was not possible before; what has or had no answer is set apart."""
    for subject, fact in worked_out(before):
        was, now = before.read(subject, fact.name), after.read(subject, fact.name)
        if not (was.undefined or now.undefined or was.covers(now)):
            yield f"{subject}.{fact.name} was {was}, and then {now}"


def _members_lost(before: View, after: View) -> Iterator[str]:
    """Members of collections that should have stayed in or out."""
    for subject in subjects(before):
        for name in CATALOG.collections:
            if CATALOG.collection(name, subject.type) is None:
                continue
            was, now = collection(before, name, subject), collection(after, name, subject)
            belonging = {each.subject: each.belongs for each in now.members}
            for member in was.members:
                later = belonging.pop(member.subject, Truth.NO)
                if member.belongs is not Truth.UNKNOWN and later is not member.belongs:
                    yield f"{member.subject} was in {name} of {subject}: {member.belongs}, and then {later}"
            yield from (f"{each} came into {name} of {subject}" for each in belonging if not was.is_open)


def _unsound(case: Case) -> list[str] | None:
    completion = next(completions(case.site, CATALOG, case.seed, 1), None)
    if completion is None:
        return None
    before, after = view_of(case.site, CATALOG), view_of(completion.site, CATALOG)
    return [*_not_covered(before, after), *_members_lost(before, after)]


def _narrower(case: Case) -> list[str] | None:
    """The same for a drawing that was completed, and of which less is known again."""
    filled_in = completed(case.site, CATALOG, seeded(case.seed))
    if filled_in is None:
        return None
    less = widened(filled_in.site, CATALOG, seeded(case.seed), most=40)
    before, after = view_of(less, CATALOG), view_of(filled_in.site, CATALOG)
    return [*_not_covered(before, after), *_members_lost(before, after)]


def test_what_is_worked_out_holds_when_more_is_known() -> None:
    sweep(50, _unsound)


def test_what_is_worked_out_from_less_leaves_more_possible() -> None:
    sweep(40, _narrower)


# --- against the oracle --------------------------------------------------------------------------------------------


def _unlike_the_oracle(case: Case) -> list[str] | None:
    filled_in = completed(case.site, CATALOG, seeded(case.seed))
    if filled_in is None:
        return None
    view, facts = view_of(filled_in.site, CATALOG), ExactFacts(filled_in.site, CATALOG)
    return [*_other_facts(view, facts), *_other_members(view, facts)]


def _other_facts(view: View, facts: ExactFacts) -> Iterator[str]:
    for subject, fact in worked_out(view):
        if fact.name in STATE_BY_STATE:
            continue
        found = view.read(subject, fact.name)
        try:
            wanted = facts.fact(subject, fact.name)
        except Bounded as error:
            if found != _between(error):
                yield f"{subject}.{fact.name} is {found}, by the oracle {error}"
            continue
        except NoAnswer:
            if not found.undefined:
                yield f"{subject}.{fact.name} is {found}, and has no answer by the oracle"
            continue
        if not found.is_exact or exact_value(found) != wanted:
            yield f"{subject}.{fact.name} is {found}, by the oracle {wanted}"


def _between(bounds: Bounded) -> Possible:
    """Everything that bounds leave possible."""
    least, most = bounds.least, bounds.most
    if isinstance(least, frozenset) and isinstance(most, frozenset):
        return Possible(sets=(SetSpan(least, most),))
    assert isinstance(least, Fraction)
    assert isinstance(most, Fraction)
    return Possible(spans=(Span(least, most),))


def _other_members(view: View, facts: ExactFacts) -> Iterator[str]:
    for subject in subjects(view):
        for name in CATALOG.collections:
            if CATALOG.collection(name, subject.type) is None:
                continue
            found = {each.subject for each in collection(view, name, subject).members if each.belongs is Truth.YES}
            wanted, _ = facts.collection(name, subject)
            if found != set(wanted):
                yield f"{name} of {subject}: {sorted(found)}, by the oracle {sorted(wanted)}"


def _unlike_every_position(case: Case) -> list[str] | None:
    """What depends on every position, against the second implementation that lists the positions."""
    filled_in = completed(case.site, CATALOG, seeded(case.seed))
    if filled_in is None:
        return None
    site, view = filled_in.site, view_of(filled_in.site, CATALOG)
    tied = enumerated(site, "tie")
    return [
        f"{name} of {tag} is {column(view, name)[tag]}, with every position listed {enumerated(site, name)[tag]}"
        for name in COLUMNS
        for tag in wrong(column(view, name), enumerated(site, name), tied if name == "overlap" else {})
    ]


def test_what_depends_on_every_position_is_what_listing_them_gives() -> None:
    sweep(30, _unlike_every_position)


def test_what_is_worked_out_for_a_drawing_of_which_all_is_known_is_what_the_oracle_works_out() -> None:
    sweep(50, _unlike_the_oracle)
