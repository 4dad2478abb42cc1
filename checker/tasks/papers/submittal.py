"""The papers of a job: what the rules in force ask for, what of it is in the packet, and what would answer open
questions.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog
from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.findings.finding import Finding, PaperAsked, Review
from checker.findings.judging.outcomes import Outcome
from checker.rules.grammar import PAPER
from checker.rules.layers.own_papers import knowing
from checker.rules.model.profile import OwnPaper
from checker.rules.reading import nodes
from checker.values.truth import Truth

SHOWS = "shows"


class PaperState(Enum):
    """Whether a paper is in the packet, with all that it has to show."""

    THERE = "there"
    INCOMPLETE = "incomplete"
    MISSING = "missing"
    OPEN = "not_told"
    AHJ = "ahj_to_decide"
    PERMITTED = "by_special_permission"


@dataclass(frozen=True, slots=True)
class Shown:
    """Something that a paper has to show, in words, and whether it does."""

    words: str
    truth: Truth


@dataclass(frozen=True, slots=True)
class Asking:
    """A finding that asks for a paper, with all that it has to show by it."""

    finding: Finding
    state: PaperState
    shows: tuple[Shown, ...]


@dataclass(frozen=True, slots=True)
class PaperWanted:
    """A paper that is asked for; ``names`` are the choices of the catalog of which one does, ``title`` the same in
    words. ``declared`` is what the town itself says of papers of its own among them.
    """

    names: tuple[str, ...]
    title: str
    askings: tuple[Asking, ...]
    made_by: str
    declared: tuple[OwnPaper, ...] = ()

    @property
    def state(self) -> PaperState:
        """Whether it is there, by the finding that is worst."""
        return min((each.state for each in self.askings), key=_WORST_FIRST.index)

    @property
    def can_be_drafted(self) -> bool:
        """Whether it is not there, or not told to be, and the program makes a draft of it."""
        return bool(self.made_by) and self.state in (PaperState.MISSING, PaperState.OPEN)


@dataclass(frozen=True, slots=True)
class PaperAnswering:
    """A paper that would settle open findings; ``facts`` is what is looked for on it."""

    title: str
    findings: tuple[Finding, ...]
    facts: tuple[str, ...]
    in_packet: bool


@dataclass(frozen=True, slots=True)
class PaperBeside:
    """A paper that is in the packet and that no rule in force asks for."""

    title: str
    shows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PaperCommon:
    """A paper that offices commonly want and that no rule in force asks for: by its choice of the catalog, in words,
    and what it is for.
    """

    name: str
    title: str
    what: str
    in_packet: bool
    made_by: str


@dataclass(frozen=True, slots=True)
class Submittal:
    """The papers of a job, in the order in which a packet is put together. ``told_complete`` says whether the site file
    says that its list of papers is the whole packet. ``common`` are papers that offices commonly want besides
    those that a rule asks for.
    """

    wanted: tuple[PaperWanted, ...]
    answering: tuple[PaperAnswering, ...]
    beside: tuple[PaperBeside, ...]
    told_complete: bool
    common: tuple[PaperCommon, ...] = ()


MADE_BY = {
    "one_line": "review SITE --format html",
    "load_calculation": "worksheet SITE",
    "label_schedule": "labels SITE",
}
"""The commands that make a draft of a paper from the site file."""

DRAFT_FILES = {
    "review SITE --format html": "one-line.html",
    "worksheet SITE": "load-calculation.txt",
    "labels SITE": "label-schedule.txt",
}
"""The file into which each of these commands is best written, so that the packet names the papers."""

_WORST_FIRST = (
    PaperState.MISSING,
    PaperState.INCOMPLETE,
    PaperState.AHJ,
    PaperState.OPEN,
    PaperState.PERMITTED,
    PaperState.THERE,
)


def common_papers() -> Mapping[str, str]:
    """The papers of ``shared/common-papers.yaml``: choice of the catalog -> what the paper is for."""
    node = read_file(data_folder("shared") / "common-papers.yaml", "common-papers.yaml")
    listed = nodes.mapping(nodes.mapping(node).get("common_papers"))
    return {entry.key: nodes.text(entry.value) for entry in listed.entries}


def submittal(review: Review, catalog: Catalog | None = None) -> Submittal:
    """The papers that this job needs. Papers are in the order of the catalog, which is that of a packet; those of the
    town's own come last.
    """
    return _Clerk(review, catalog or shipped_catalog()).submittal()


class _Clerk:
    """Goes through the findings for what they ask of the packet."""

    def __init__(self, review: Review, catalog: Catalog) -> None:
        self._review = review
        self._own = {each.name: each for each in review.own_papers}
        self._titles = knowing(catalog, review.own_papers).facts[PAPER].choices
        self._shown_titles = catalog.facts[SHOWS].choices

    def submittal(self) -> Submittal:
        """All of it."""
        wanted = tuple(self._wanted())
        named = {name for each in wanted for name in each.names}
        beside = tuple(
            PaperBeside(self._title((each.paper,)), tuple(map(self._shown_words, each.shows)))
            for each in self._review.packet
            if each.paper not in named
        )
        common = tuple(each for each in self._common() if each.name not in named)
        return Submittal(wanted, tuple(self._answering()), beside, self._review.packet_complete, common)

    def _common(self) -> Iterator[PaperCommon]:
        """What offices commonly want, with what is in the packet of it already."""
        there = {each.paper for each in self._review.packet}
        for name, what in common_papers().items():
            yield PaperCommon(name, self._title((name,)), what, name in there, MADE_BY.get(name, ""))

    # --- what is asked for -------------------------------------------------------------------------------------------

    def _wanted(self) -> Iterator[PaperWanted]:
        by_names: dict[tuple[str, ...], list[Asking]] = {}
        for finding in self._review.findings:
            for names, asking in self._askings(finding):
                by_names.setdefault(names, []).append(asking)
        order = {name: place for place, name in enumerate(self._titles)}
        for names in sorted(by_names, key=lambda each: [order.get(name, len(order)) for name in each]):
            made_by = next((MADE_BY[name] for name in names if name in MADE_BY), "")
            declared = tuple(self._own[name] for name in names if name in self._own)
            yield PaperWanted(names, self._title(names), tuple(by_names[names]), made_by, declared)

    def _askings(self, finding: Finding) -> Iterator[tuple[tuple[str, ...], Asking]]:
        """The papers by a rule that looks for them in the packet, and those that a rule looks at themselves."""
        if finding.outcome is Outcome.NOT_APPLICABLE:
            return
        for paper in finding.papers:
            shows = (*(Shown(self._shown_words(word), truth) for word, truth in paper.shows),)
            further = (*(Shown(words, truth) for words, truth in paper.further),)
            yield paper.papers, Asking(finding, _state(finding, paper), (*shows, *further))
        if finding.subject.type == PAPER:
            name = next((name for name, title in self._titles.items() if title == finding.subject.words), "")
            yield (name,), Asking(finding, _state_of_paper(finding), (Shown(finding.title, _truth(finding)),))

    def _title(self, names: Iterable[str]) -> str:
        return " or ".join(self._titles.get(name, name.replace("_", " ")) for name in names) or "a paper"

    def _shown_words(self, choice: str) -> str:
        return self._shown_titles.get(choice, choice.replace("_", " "))

    # --- what would answer -------------------------------------------------------------------------------------------

    def _answering(self) -> Iterator[PaperAnswering]:
        """The papers on which that is found what open findings wait for."""
        in_packet = {self._titles.get(each.paper, each.paper) for each in self._review.packet}
        waiting = self._waiting()
        for name, title in self._titles.items():
            found = {**waiting.get(title, {}), **waiting.get(name.replace("_", " "), {})}
            if found:
                findings = tuple({id(each): each for each in found.values()}.values())
                yield PaperAnswering(title, findings, tuple(found), title in in_packet)

    def _waiting(self) -> Mapping[str, dict[str, Finding]]:
        """By the title of a paper the facts that are looked for on it, each with the first finding that waits."""
        by_paper: dict[str, dict[str, Finding]] = {}
        for finding in self._review.findings:
            if finding.outcome is Outcome.NEEDS_INFORMATION:
                for need in finding.needs:
                    if need.ask == "fact":
                        by_paper.setdefault(need.paper, {}).setdefault(need.fact, finding)
        return by_paper


def _state(finding: Finding, paper: PaperAsked) -> PaperState:
    """Whether a paper is there. What may not be asked for at all is not missing; a finding that is met in another way
    wants nothing.
    """
    if finding.outcome is Outcome.AHJ_TO_DECIDE:
        return PaperState.AHJ
    if finding.outcome is Outcome.SPECIAL_PERMISSION:
        return PaperState.PERMITTED
    asked = (paper.there, *(truth for _, truth in (*paper.shows, *paper.further)))
    if finding.outcome is Outcome.MET and not finding.assumed:
        return PaperState.THERE
    if Outcome.NOT_APPLICABLE in finding.could_be or finding.outcome in (Outcome.RULE_ERROR, Outcome.MET):
        return PaperState.OPEN
    if paper.there is Truth.NO:
        return PaperState.MISSING
    if Truth.NO in asked:
        return PaperState.INCOMPLETE
    return PaperState.OPEN if Truth.UNKNOWN in asked else PaperState.THERE


def _state_of_paper(finding: Finding) -> PaperState:
    """Whether a paper of the packet is as a rule wants it."""
    return {
        Outcome.MET: PaperState.OPEN if finding.assumed else PaperState.THERE,
        Outcome.AHJ_TO_DECIDE: PaperState.AHJ,
        Outcome.SPECIAL_PERMISSION: PaperState.PERMITTED,
        Outcome.NEEDS_INFORMATION: PaperState.OPEN,
        Outcome.VERIFY_IN_FIELD: PaperState.OPEN,
        Outcome.RULE_ERROR: PaperState.OPEN,
    }.get(finding.outcome, PaperState.INCOMPLETE)


def _truth(finding: Finding) -> Truth:
    state = _state_of_paper(finding)
    return {PaperState.THERE: Truth.YES, PaperState.INCOMPLETE: Truth.NO}.get(state, Truth.UNKNOWN)
