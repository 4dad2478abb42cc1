"""The opening sentence of a report on each set: its load, what it gives at its site, and what comes of the two."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.findings.finding import Finding, ListedLoads, LoadOfSet, Need, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.words import OUTCOME_WORDS, counted, joined, numbered

MOST_NAMED = 3
"""So many of the facts that are missing are named; the findings ask for all."""

CHOICE_NOT_TOLD = (
    "It is connected by hand: who starts it chooses what runs at once, and no rule can be held against a choice "
    "that is not told. State the load that is meant to run at once."
)


def capacity_sentences(review: Review) -> Iterator[str]:
    """One sentence for each set of the drawing."""
    for each in review.sets:
        compared = [finding for finding in review.findings if finding.id in each.findings]
        yield f"{each.tag}: {_load_words(each)}; {_output_words(each)}. {_answer(each, compared)}"
        listed = listed_words(each)
        if listed:
            yield f"{each.tag}: {listed}"


def listed_words(figures: LoadOfSet, given: str = "") -> str:
    """Of a set that is connected by hand what is listed past it, which is no choice of what runs; empty of others."""
    found = figures.listed
    return "" if found is None else " ".join(_listed_sentences(found, given))


def listed_and_given_words(figures: LoadOfSet) -> str:
    """The same with what the set gives."""
    words = listed_words(figures, f"; {_output_words(figures)}")
    return f"{figures.tag}: {words}" if words else ""


def _listed_sentences(found: ListedLoads, given: str) -> Iterator[str]:
    takes = f"takes {found.power}" if found.count == 1 else f"take {found.power} with all of them on"
    power = takes if found.power else "are not all shown with what they take"
    yield f"the {counted(found.count, 'load')} listed past it {power}{given}."
    yield from _starting_sentences(found)
    if found.is_more:
        yield "That is more than it gives: not all of them can run at once."
    if not found.is_all:
        yield "The list of loads is not said to be complete, so that there may be more."


def _starting_sentences(found: ListedLoads) -> Iterator[str]:
    if found.starting:
        yield f"The most that one of their motors takes to start is {found.starting}, {found.starter}."
    if found.motors_open:
        noun = "motor" if found.motors_open == 1 else f"{found.motors_open} motors"
        more = "another" if found.starting and found.motors_open == 1 else "a" if found.motors_open == 1 else ""
        who = f"{more} {noun}".strip()
        yield f"What {who} among them {'takes' if found.motors_open == 1 else 'take'} to start is not shown."


def _load_words(figures: LoadOfSet) -> str:
    if figures.selected and not figures.load:
        return f"meant to run on it at once {figures.selected}"
    load = f"load put on it automatically {figures.load}" if figures.load else "its load is not known"
    return f"{load}, {figures.managed} under load management" if figures.managed else load


def _output_words(figures: LoadOfSet) -> str:
    figures_known = [text for text in (figures.power, figures.current) if text]
    given = " or ".join(figures_known)
    if not given:
        return "what it gives at its site is not known"
    gives = f"it gives {given} at its site"
    if not figures.to_amperes:
        return gives
    verb = "tells" if len(figures.to_amperes) == 1 else "tell"
    return f"{gives}, and its {joined(figures.to_amperes)} {verb} how many amperes that is"


def _answer(figures: LoadOfSet, compared: Sequence[Finding]) -> str:
    """What the rules come to: those that apply, the gravest first; where none does, that the choice is not told or that
    none asks.
    """
    asked = [each for each in compared if each.outcome is not Outcome.NOT_APPLICABLE]
    if not asked and figures.by_hand and not figures.selected:
        return CHOICE_NOT_TOLD
    if not asked:
        return "Whether it carries its load no rule in force asks of it."
    alike: dict[tuple[Outcome, bool], list[Finding]] = {}
    for each in asked:
        alike.setdefault((each.outcome, each.outcome is Outcome.MET and bool(each.assumed)), []).append(each)
    return " ".join(_told(figures, outcome, findings, rests=rests) for (outcome, rests), findings in alike.items())


def _told(figures: LoadOfSet, outcome: Outcome, findings: Sequence[Finding], *, rests: bool) -> str:
    """One sentence for all findings of one outcome, with the number of each."""
    if outcome is Outcome.MET:
        return f"As shown it carries its load{', resting on an assumption' if rests else ''}."
    numbers = joined(str(each.number) for each in findings)
    if outcome is Outcome.AHJ_TO_DECIDE:
        return f"Whether it carries its load is for the AHJ to decide ({numbers})."
    if outcome is Outcome.NEEDS_INFORMATION:
        needs = [need for each in findings for need in each.needs]
        asks = "what else the finding asks" if len(findings) == 1 else "what else the findings ask"
        return f"Whether it carries its load is open ({numbers}): provide {_missing(needs, asks, figures.to_amperes)}."
    told = numbered(OUTCOME_WORDS[outcome], (each.number for each in findings))
    return f"As shown it does not carry its load ({told})."


def _missing(needs: Sequence[Need], more: str, first: Sequence[str]) -> str:
    """What brings both figures to one unit first, then figures before what they are worked out from."""

    def order(need: Need) -> tuple[bool, bool]:
        return need.title not in first, bool(need.in_place_of)

    titles = list(dict.fromkeys(each.title for each in sorted(needs, key=order)))
    return joined([*titles[:MOST_NAMED], *([more] if len(titles) > MOST_NAMED else [])])
