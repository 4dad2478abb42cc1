"""Which question comes next: the one whose answer settles most, what can be read on site first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.catalog.model import Fact, ValueType
from checker.facts.known import Ask, Leaf
from checker.findings.assembling.naming import subject_name
from checker.findings.review import view_of_job
from checker.site.model import Members, Site
from checker.tasks.questions.asked import Question, asked_as, question_of
from checker.tasks.questions.known_first import Turn, turn_of, waits_for
from checker.tasks.questions.waiting import Open, Waiting
from checker.values.possible import ABSENT, Possible, exactly, number, several

CORRECTION_WEIGHS = 3
"""A finding that may be a correction counts as so many that may not, for what is tried out first."""

LOOKED_AT = 6
"""So many of the most promising questions are tried out; a limit of effort."""

TRIED = 3
"""So many answers to a question are tried out; a limit of effort."""

LISTED = 64
"""A fact with no more values than these is tried value by value; a limit of effort."""

FAR = Fraction(1000)
"""A number that is tried where the catalog sets no upper end; nothing rests on it."""

Pins = Mapping[Leaf, Possible]


@dataclass(frozen=True, slots=True)
class Next:
    """A question with the findings that wait for it, and how many its answer settles, by the answer."""

    question: Question
    waits: tuple[Waiting, ...]
    fewest: int
    most: int
    corrections: int


def next_question(state: Open, aside: frozenset[Leaf], tried: dict[Leaf, Next]) -> Next | None:
    """The question to ask now, those set aside left out; None where nothing is left to ask.

    What a person knows best comes first, then what can be read on site, as long as some of it settles anything by
    itself; then the loads, then papers. ``tried`` keeps what was tried out in this state.
    """
    promising = sorted(_in_order(_candidates(state, aside)), key=lambda each: each.rank)
    turns = {turn: _in_turn(state, promising, turn) for turn in Turn}
    if turns[Turn.FIRST]:
        return _best(state, turns[Turn.FIRST][:1], tried)
    for best_known in (turns[Turn.THEN], _on_site(promising)[:LOOKED_AT]):
        found = _best(state, best_known, tried)
        if found is not None and found.most > 0:
            return found
    for in_order in (turns[Turn.THEN], turns[Turn.BEFORE_PAPERS]):
        if in_order:
            return _best(state, in_order[:1], tried)
    return _last(state, promising, tried)


def _last(state: Open, promising: list[_Candidate], tried: dict[Leaf, Next]) -> Next | None:
    """A paper that settles anything, or else what is seen on site and settles nothing by itself, or else any paper;
    last the figures that the program works out itself of the others.
    """
    papers = [each for each in promising if not each.question.is_on_site]
    read = _best(state, [each for each in papers if not each.question.is_worked_out][:LOOKED_AT], tried)
    if read is not None and read.most > 0:
        return read
    on_site = _best(state, _on_site(promising)[:LOOKED_AT], tried)
    return on_site or read or _best(state, papers[:LOOKED_AT], tried)


def _on_site(promising: list[_Candidate]) -> list[_Candidate]:
    return [each for each in promising if each.question.is_on_site]


def _in_turn(state: Open, candidates: Iterable[_Candidate], turn: Turn) -> list[_Candidate]:
    """Those that are asked in a turn, in its order, and along the line from the source."""

    def order(each: _Candidate) -> tuple[int, int, tuple[str, int, str, str, str]]:
        leaf = each.question.leaf
        found = turn_of(leaf)
        return 0 if found is None else found[1], subject_name(state.view, leaf.subject).walk[0], leaf.order

    def is_in_turn(each: _Candidate) -> bool:
        found = turn_of(each.question.leaf)
        return found is not None and found[0] is turn

    return sorted(filter(is_in_turn, candidates), key=order)


def _best(state: Open, candidates: Iterable[_Candidate], tried: dict[Leaf, Next]) -> Next | None:
    """The one that settles most, the most promising first among equals; none is tried out that cannot be better."""
    best: Next | None = None
    for each in candidates:
        if best is not None and each.at_best <= _gain(best):
            continue
        leaf = each.question.leaf
        if leaf not in tried:
            tried[leaf] = _tried(state, each)
        if best is None or _gain(tried[leaf]) > _gain(best):
            best = tried[leaf]
    return best


def questions(state: Open) -> tuple[tuple[Question, tuple[Waiting, ...]], ...]:
    """Every question that can be asked, with all findings that wait for it, due or not."""
    found = _by_question(state, state.waiting, frozenset())
    return tuple((question, waits) for question, waits in found)


@dataclass(frozen=True, slots=True)
class _Candidate:
    question: Question
    waits: tuple[Waiting, ...]
    promise: Fraction

    @property
    def rank(self) -> tuple[Fraction, tuple[str, int, str, str, str]]:
        return (-self.promise, self.question.leaf.order)

    @property
    def at_best(self) -> tuple[Fraction, int]:
        """What it gains if every answer settles all that wait for it."""
        return Fraction(len(self.waits)), sum(1 for each in self.waits if each.may_correct)


def _candidates(state: Open, aside: frozenset[Leaf]) -> Iterator[_Candidate]:
    site, catalog = state.job.site, state.job.catalog
    for question, waits in _by_question(state, state.due(), aside):
        shares = (
            Fraction(_weight(each), len({asked_as(leaf, site, catalog) for leaf in each.leaves})) for each in waits
        )
        yield _Candidate(question, waits, sum(shares, Fraction(0)))


def _in_order(candidates: Iterable[_Candidate]) -> Iterator[_Candidate]:
    """Without those that wait for another one that can be asked of the same thing."""
    listed = list(candidates)
    can_be_asked = {each.question.leaf for each in listed}
    return (each for each in listed if not can_be_asked.intersection(waits_for(each.question.leaf)))


def _by_question(
    state: Open, waiting: Iterable[Waiting], aside: frozenset[Leaf]
) -> Iterator[tuple[Question, tuple[Waiting, ...]]]:
    site, catalog = state.job.site, state.job.catalog
    found: dict[Leaf, dict[int, Waiting]] = {}
    for place, each in enumerate(waiting):
        for leaf in each.leaves:
            asked = asked_as(leaf, site, catalog)
            if asked not in aside and not _is_said(asked, site):
                found.setdefault(asked, {})[place] = each
    for leaf, waits in found.items():
        question = question_of(leaf, state.view)
        if question is not None:
            yield question, tuple(waits.values())


def _is_said(leaf: Leaf, site: Site) -> bool:
    """Whether the file says it already, or says it where an answer cannot change it: in the sheet of a piece."""
    stated = site.stated(leaf.subject, leaf.name) if leaf.ask is Ask.FACT else None
    return stated is not None and (stated.value.is_exact or stated.at.file != site.file)


def _weight(waiting: Waiting) -> int:
    return CORRECTION_WEIGHS if waiting.may_correct else 1


def _gain(found: Next) -> tuple[Fraction, int]:
    """What an answer settles on the average of the fewest and the most; of equals the one with more corrections."""
    return Fraction(found.fewest + found.most, 2), found.corrections


# --- trying answers --------------------------------------------------------------------------------------------------


def _tried(state: Open, candidate: _Candidate) -> Next:
    settled = list(_settled(state, candidate)) or [()]
    counts = [len(each) for each in settled]
    corrections = max(sum(1 for each in found if each.may_correct) for found in settled)
    return Next(candidate.question, candidate.waits, min(counts), max(counts), corrections)


def _settled(state: Open, candidate: _Candidate) -> Iterator[tuple[Waiting, ...]]:
    leaf = candidate.question.leaf
    if leaf.ask is not Ask.FACT:
        job = replace(state.job, site=_closed(state.job.site, leaf))
        yield replace(state, job=job, view=view_of_job(job)).settled_by({}, candidate.waits)
        yield ()
        return
    for pins in _answers(state, candidate):
        yield state.settled_by(pins, candidate.waits)


def _closed(site: Site, leaf: Leaf) -> Site:
    """The site when a list is complete, or when there is no further piece of a kind."""
    if leaf.ask is Ask.EXISTS:
        return replace(site, complete_kinds=site.complete_kinds | {leaf.name})
    key = (leaf.name, leaf.subject.id)
    return replace(site, lists={**site.lists, key: Members(site.members(*key).members, complete=True)})


def _answers(state: Open, candidate: _Candidate) -> Iterator[Pins]:
    """What could be answered: some of the choices, of a number its ends."""
    fact = candidate.question.fact
    assert fact is not None
    leaf = candidate.question.leaf
    whole, _, part = fact.name.partition(".")
    there: Pins = {Leaf(leaf.subject, whole): exactly(True)} if part else {}
    if fact.short_for is not None:
        yield from _short_answers(state, leaf, fact)
        return
    if fact.reads is None:
        yield from ({**there, leaf: value} for value in _values(state, leaf, fact))
        return
    asked = {each for waiting in candidate.waits for each in waiting.leaves if each.subject == leaf.subject}
    parts = sorted((each for each in asked if each.name.startswith(f"{whole}.")), key=lambda each: each.order)
    values = {each: _values(state, each, state.job.catalog.facts[each.name]) for each in parts}
    for end in (0, -1):
        yield {leaf: exactly(True), **{each: found[end] for each, found in values.items() if found}}


def _short_answers(state: Open, leaf: Leaf, fact: Fact) -> Iterator[Pins]:
    """Of a structure for which one part is short, that part; and that there is none, where it may be so."""
    part = Leaf(leaf.subject, f"{fact.name}.{fact.short_for}")
    for value in _values(state, part, state.job.catalog.facts[part.name]):
        yield {leaf: exactly(True), part: value}
    if state.view.read(leaf.subject, leaf.name).absent:
        yield {leaf: ABSENT}


def _values(state: Open, leaf: Leaf, fact: Fact) -> tuple[Possible, ...]:
    """Some values that are still possible for a fact."""
    value = state.view.read(leaf.subject, leaf.name)
    listed = value.alternatives(LISTED)
    if listed is not None:
        return _spread(listed)
    absent = (ABSENT,) if value.absent else ()
    return (*_some(state, fact, value), *absent)


def _some(state: Open, fact: Fact, value: Possible) -> tuple[Possible, ...]:
    if fact.several:
        choices = tuple(fact.choices)
        return tuple(several(choices[:count]) for count in (0, 1, len(choices)))
    if fact.type is ValueType.DATE:
        return (number(state.job.rules.date.toordinal()),)
    if fact.type.is_ordered:
        return tuple(number(each) for each in _ends(fact, value))
    if fact.type is ValueType.TAG:
        return _spread(tuple(exactly(tag) for tag in state.job.site.pieces))
    return (exactly(True),) if fact.type is ValueType.STRUCTURE else (exactly("as written"),)


def _ends(fact: Fact, value: Possible) -> tuple[Fraction, ...]:
    bounds, hull = fact.plausible or fact.physical, value.hull
    low = Fraction(1) if bounds is None or bounds.low is None else bounds.low
    high = max(low, FAR) if bounds is None or bounds.high is None else bounds.high
    if hull is not None:
        low = low if hull.low is None else max(low, hull.low)
        high = high if hull.high is None else max(low, min(high, hull.high))
    return tuple(dict.fromkeys((low, high)))


def _spread(listed: tuple[Possible, ...]) -> tuple[Possible, ...]:
    """Not more than a few, from one end to the other."""
    if len(listed) <= TRIED:
        return listed
    return tuple(listed[round(step * (len(listed) - 1) / (TRIED - 1))] for step in range(TRIED))
