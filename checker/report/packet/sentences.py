"""What is said of the papers of a job, in sentences that any layout can set."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.model import Stage
from checker.findings.finding import Review
from checker.report.paragraphs import dated_words
from checker.report.words import STAGE_WORDS, authority_text, citation_text, counted, joined
from checker.tasks.papers.submittal import (
    DRAFT_FILES,
    Asking,
    PaperAnswering,
    PaperBeside,
    PaperCommon,
    PaperState,
    PaperWanted,
    Submittal,
)
from checker.values.truth import Truth

NOTHING_WANTED = (
    "No rule in force asks for a paper. What the office wants at its counter may stand in no rule: ask there."
)

STATE_WORDS = {
    PaperState.THERE: "in the packet, as asked for",
    PaperState.INCOMPLETE: "in the packet, and not as asked for",
    PaperState.MISSING: "not in the packet",
    PaperState.OPEN: "not told",
    PaperState.AHJ: "AHJ to decide",
    PaperState.PERMITTED: "left out by special permission",
}
_SHOWS = {Truth.YES: "shows", Truth.NO: "does not show", Truth.UNKNOWN: "not told whether it shows"}


def heading(review: Review) -> str:
    """The name of the site and the date that fixes the rules."""
    return f"{review.site_name}, papers, {dated_words(review.in_force)}"


def state_words(wanted: PaperWanted, *, told_complete: bool) -> str:
    """Whether it is there, or can be drafted; where it is not told, what would tell it."""
    state = f"{DRAFT}, {_NOT_YET[wanted.state]}" if wanted.can_be_drafted else STATE_WORDS[wanted.state]
    asks = wanted.state is PaperState.OPEN and not told_complete
    asked = "; list it under papers, or write complete: yes if these are all" if asks else ""
    return f"{wanted.title}: {state}{asked}"


DRAFT = "draft"
_NOT_YET = {PaperState.MISSING: "not in the packet yet", PaperState.OPEN: "not told to be in the packet"}
"""How far a paper of which a draft can be made is not there."""


def made_words(wanted: PaperWanted) -> Iterator[str]:
    """What the program makes of a paper that is not as it is asked for: the command, and the file it fills."""
    if wanted.made_by and wanted.state is not PaperState.THERE:
        yield f"Make a draft: {_command(wanted.made_by)}. Who signs for it checks it."


def _command(made_by: str) -> str:
    return f"`standby-checker {made_by} > {DRAFT_FILES[made_by]}`"


def declared_words(wanted: PaperWanted) -> Iterator[str]:
    """What the town says of a paper of its own, where it is set down, and how a site file lists it."""
    for paper in wanted.declared:
        verify = "verify the citation" if any(cite.verify for cite in paper.cites) else ""
        source = ", ".join(filter(None, (citation_text(paper.cites), verify)))
        told = f"{paper.means[:1].upper()}{paper.means[1:].rstrip('.')}" or "A paper of this town's own"
        yield f"{told}{f' ({source})' if source else ''}. In a site file it is written paper: {paper.name}."


def shown_words(asking: Asking, state: PaperState) -> Iterator[str]:
    """What it has to show by one rule: of a paper that is not there all of it, otherwise by what it shows."""
    if state is PaperState.MISSING and asking.shows:
        yield f"It has to show: {'; '.join(each.words for each in asking.shows)}."
        return
    for truth in (Truth.NO, Truth.UNKNOWN, Truth.YES):
        found = [each.words for each in asking.shows if each.truth is truth]
        if found:
            yield f"{_SHOWS[truth].capitalize()}: {'; '.join(found)}."


def asked_words(asking: Asking, stage: Stage) -> str:
    """Who asks for it, under which section, by which finding, and when it is due."""
    finding = asking.finding
    later = f"; due at {STAGE_WORDS[finding.due]}" if finding.due.order > stage.order else ""
    return f"Asked for by {authority_text(finding)}; {finding.rule}, finding {finding.number}{later}"


def answering_words(answering: PaperAnswering) -> str:
    """A paper on which is found what open findings wait for."""
    facts = list(answering.facts)
    more = len(facts) - _MOST_FACTS
    named = joined([*facts[:_MOST_FACTS], f"{more} more"]) if more > 0 else joined(facts)
    numbers = joined(str(each.number) for each in answering.findings)
    plural = "findings" if len(answering.findings) > 1 else "finding"
    where = " It is in the packet; read it for these." if answering.in_packet else ""
    return f"{answering.title}, for {plural} {numbers}: {named}.{where}"


_MOST_FACTS = 6
"""More would not be read; the review asks for each."""


def beside_words(beside: PaperBeside) -> str:
    """A paper of the packet for which nobody asks."""
    return f"{beside.title}{f', showing {joined(beside.shows)}' if beside.shows else ''}"


def common_words(common: PaperCommon, *, drafts: bool, told_complete: bool) -> str:
    """A paper that offices commonly want, with whether it is in the packet and what it is for; of one that is not there
    the command that makes a draft.
    """
    if common.in_packet:
        return f"{common.title}: in the packet; {common.what}"
    absent = _NOT_YET[PaperState.MISSING] if told_complete else _NOT_YET[PaperState.OPEN]
    if not common.made_by:
        return f"{common.title}: {absent.removesuffix(' yet')}; {common.what}"
    draft = f"; {_command(common.made_by)}" if drafts else ""
    return f"{common.title}: {DRAFT}, {absent}; {common.what}{draft}"


def lists_beside(found: Submittal, *, drafts: bool = True) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What is told beside the papers that are asked for, each list under its heading; with the commands that draft one,
    where who reads it can give them.
    """
    return (
        (COMMON, tuple(_common(found, drafts=drafts))),
        ("On these papers stands what open findings wait for", tuple(map(answering_words, found.answering))),
        ("Also in the packet, asked for by no rule", tuple(map(beside_words, found.beside))),
    )


def _common(found: Submittal, *, drafts: bool) -> Iterator[str]:
    return (common_words(each, drafts=drafts, told_complete=found.told_complete) for each in found.common)


COMMON = "What offices commonly want, by common practice and demanded by no rule here"


def counted_words(found: Submittal) -> str:
    """How many papers are asked for, and what of them is told."""
    if not found.wanted:
        return NOTHING_WANTED
    drafted = sum(each.can_be_drafted for each in found.wanted)
    told = [f"{drafted} to be drafted"] if drafted else []
    told += [
        f"{count} {words}"
        for state, words in _SHORT.items()
        if (count := sum(each.state is state and not each.can_be_drafted for each in found.wanted))
    ]
    return f"{counted(len(found.wanted), 'paper')} asked for: {joined(told)}."


_SHORT = {
    PaperState.THERE: "in the packet",
    PaperState.INCOMPLETE: "not as asked for",
    PaperState.MISSING: "not in the packet",
    PaperState.OPEN: "not told",
    PaperState.AHJ: "for the AHJ to decide",
    PaperState.PERMITTED: "by special permission",
}
