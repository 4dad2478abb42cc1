"""A whole review: the plan drawn up, every rule applied, findings in order, and what was not looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from checker.catalog.model import Catalog, Stage
from checker.engineering.worksheet import Worksheet
from checker.facts.drawing import Drawing
from checker.facts.line.states import fed_in, not_walked, only_following, walked_states
from checker.facts.registry import registry
from checker.facts.view import Ground, View
from checker.findings.assembling.assembly import Desk, finding, rule_error
from checker.findings.assembling.companions import Assembled, assembled, with_companions_that_apply
from checker.findings.assembling.described import described
from checker.findings.assembling.figures_of_pieces import figures_of_pieces
from checker.findings.assembling.limits import limits_together
from checker.findings.assembling.loads_of_sets import loads_of_sets
from checker.findings.assembling.one_line import one_line
from checker.findings.assembling.ordering import ordered
from checker.findings.assembling.packet import is_complete, packet
from checker.findings.assembling.permissions import permitted
from checker.findings.assembling.together import told_together
from checker.findings.assembling.told import deleted_told, notices_told, on_record
from checker.findings.assembling.unread import unread_facts
from checker.findings.finding import FROM_FILE, DateTaken, Finding, InForce, Notice, Review, StateOfLine, States
from checker.findings.judging.conditions import Judge
from checker.findings.judging.evaluation import evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.operands import Numbers
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.paths import Place
from checker.findings.judging.plan import Planned, plan
from checker.rules.model.conditions import Words
from checker.rules.model.force import Basis
from checker.rules.model.in_force import NO_NUMBERS, NumbersInForce, RuleInForce, RulesInForce
from checker.rules.model.rule import Rule
from checker.rules.reading.names_read import NamesRead, names_read
from checker.rules.walk import operands_in
from checker.site.model import SITE, Site
from checker.values.possible import exactly
from checker.values.truth import Truth

CAUTIONS_PACK = "cautions"
"""The pack whose looks are printed as cautions of the whole report and are no findings."""

Progress = Callable[[int, int], None]
"""Told after each finding how many of how many are done."""


@dataclass(frozen=True, slots=True)
class Topic:
    """Something that a reader may expect to be looked at, and the rules any of which looks at it: by their ids, or what
    an office asks for that they answer, or a fact that they compare; ``by_law`` where practice and a maker's
    instructions do not count. A rule that compares the fact ``of`` has to name one of these choices of it; one that
    compares a fact of ``but_not`` is about something else. ``where`` is a flag of the site without which nobody expects
    it.
    """

    title: str
    rules: frozenset[str]
    covers: frozenset[str] = frozenset()
    facts: frozenset[str] = frozenset()
    by_law: bool = False
    of: str = ""
    choices: frozenset[str] = frozenset()
    but_not: frozenset[str] = frozenset()
    where: str = ""

    def is_expected_at(self, site: Site) -> bool:
        """Whether a reader of a report on this site may expect it."""
        said = site.stated(SITE, self.where) if self.where else None
        return not self.where or (said is not None and said.value == exactly(True))

    def is_looked_at_by(self, rule: Rule) -> bool:
        """Whether a rule looks at it, whoever wrote it."""
        if rule.id in self.rules:
            return True
        if self.by_law and rule.basis not in _BY_LAW:
            return False
        if self.covers.intersection(rule.covers):
            return True
        if not self.facts:
            return False
        facts = _facts_of(names_read(rule))
        if self.but_not & facts:
            return False
        return bool(self.facts & facts) and (self.of not in facts or bool(self.choices & _choices_in(rule)))


_BY_LAW = (Basis.LAW, Basis.ADOPTED_STANDARD, Basis.WRITTEN_POLICY)
"""What rests on law or on what an office has written down; the instructions of a maker and practice do not."""


def _choices_in(rule: Rule) -> frozenset[str]:
    words = (each.words for each in operands_in(rule) if isinstance(each, Words))
    return frozenset(str(word) for listed in words for word in listed)


def _facts_of(names: NamesRead) -> frozenset[str]:
    """The facts that are read, of the subject and of members of lists, without the links that lead to them."""
    own = frozenset(name.rpartition(".")[2] for name in names.facts)
    return own.union(*(_facts_of(each) for each in names.lists.values()))


@dataclass(frozen=True, slots=True)
class Job:
    """What a review is made of."""

    site: Site
    catalog: Catalog
    rules: RulesInForce
    stage: Stage
    topics: tuple[Topic, ...] = ()
    notices: tuple[Notice, ...] = ()
    dated: DateTaken = FROM_FILE


def view_of(site: Site, catalog: Catalog, numbers: NumbersInForce = NO_NUMBERS) -> View:
    """The facts of a site, nothing pinned; calculations read the numbers that are in force."""
    return View(Ground(site, catalog, Drawing(site, catalog), registry(), numbers))


def view_of_job(job: Job) -> View:
    """The facts of a site under the rules of its job, so that every answer about it rests on the same figures."""
    return view_of(job.site, job.catalog, job.rules.numbers)


def review(job: Job, progress: Progress | None = None) -> Review:
    """Apply the rules in force to the site."""
    view = view_of_job(job)
    planned = plan(job.rules, view)
    desk = Desk(view, job.rules.date, _titles(job, planned))
    judged = list(_judged(desk, planned, progress))
    site_name = site_name_of(job.site)
    uncovered = (found for found in with_companions_that_apply(judged) if not _is_caution(found))
    covered = permitted(uncovered, job.rules.permissions, site_name, job.rules.date)
    findings, limits = limits_together(told_together(ordered(covered.findings), job.catalog))
    read = view.compared().union(*(each.leaves for each in judged))
    return Review(
        site_name=site_name,
        file=job.site.file,
        digest=job.site.digest,
        stage=job.stage,
        in_force=in_force_of(job),
        states=_states(view),
        one_line=one_line(view),
        findings=findings,
        notices=(
            *job.notices,
            *notices_told(job.rules.notices),
            *on_record(job.rules.profile.interpretations),
            *covered.notices,
            *_drawing_notices(job.site),
            *_set_aside_notices(job.site, view.ground.drawing),
            *_taken_notices(job.site, view.ground.drawing),
            *unread_facts(job.site, job.catalog, read),
        ),
        worksheets={**_worksheets(view), **limits},
        not_covered=_not_covered(job, planned),
        cautions=tuple(dict.fromkeys(each.look for each in _cautions(judged))),
        deleted=tuple(deleted_told(job.rules.deleted, _elsewhere(view, job.rules.date))),
        # Last: what is read for the table alone counts neither as read by a rule nor as a worksheet.
        figures=figures_of_pieces(view),
        sets=loads_of_sets(view, findings),
        packet=packet(view),
        packet_complete=is_complete(view),
        own_papers=job.rules.papers,
        described=described(view, job.rules),
    )


def _elsewhere(view: View, on: date) -> Callable[[RuleInForce], bool]:
    """Whether a rule is surely out of its scope on this site."""

    def is_elsewhere(rule: RuleInForce) -> bool:
        judge = Judge(SiteEvidence(view), Numbers.of(rule), on)
        return any(judge.condition(where, Place(SITE, SITE)).truth is Truth.NO for where in rule.scopes)

    return is_elsewhere


def _titles(job: Job, planned: tuple[Planned, ...]) -> Mapping[str, str]:
    """The titles, by id and by pack and id, of rules that may be companions of a cure: one on a pair is none where
    there is no such pair.
    """
    spoken_of = {each.rule.name for each in planned}
    may_be = [each for each in job.rules.rules if each.name in spoken_of or each.rule.subject not in job.catalog.pairs]
    return {name: each.rule.title for each in may_be for name in (each.rule.id, each.name)}


def _states(view: View) -> States:
    drawing, following = view.ground.drawing, only_following(view)
    walked = (
        StateOfLine(state.name, tuple(fed_in(drawing, state, following).items())) for state in walked_states(drawing)
    )
    return States(tuple(walked), not_walked(drawing))


def _judged(desk: Desk, planned: tuple[Planned, ...], progress: Progress | None) -> Iterator[Assembled]:
    for done, each in enumerate(planned, start=1):
        yield _one(desk, each)
        if progress is not None:
            progress(done, len(planned))


def _one(desk: Desk, planned: Planned) -> Assembled:
    """One finding with what it read. A rule that breaks must not take the others with it, nor look like an
    answer.
    """
    try:
        evaluation = evaluate(planned.rule, planned.subject, planned.belongs, SiteEvidence(desk.view), desk.on)
        return assembled(finding(desk, planned, evaluation), evaluation)
    except Exception as error:  # noqa: BLE001  whatever breaks is told as this rule's own, and the others go on
        return Assembled(rule_error(desk, planned, f"{type(error).__name__}: {error}"))


def _cautions(judged: Iterable[Assembled]) -> Iterator[Finding]:
    return (each.finding for each in judged if _is_caution(each.finding) and _holds(each.finding))


def _is_caution(found: Finding) -> bool:
    return found.id.startswith(f"{CAUTIONS_PACK}:")


def _holds(found: Finding) -> bool:
    return found.outcome is not Outcome.NOT_APPLICABLE


def site_name_of(site: Site) -> str:
    """The name of a site as it is written, else its file."""
    name = site.stated(SITE, "name")
    return name.text if name is not None else site.file


def in_force_of(job: Job) -> InForce:
    """Which rules a job uses, as a report tells it."""
    rules, profile = job.rules, job.rules.profile
    used = rules.packs, rules.layers, rules.elected
    return InForce(profile.id, profile.title, rules.date, profile.event, *used, job.dated, profile.symbols)


def _set_aside_notices(site: Site, drawing: Drawing) -> Iterable[Notice]:
    for tag in drawing.set_aside:
        status = site.stated(site.pieces[tag], "status")
        words = "" if status is None else status.text.replace("_", " ")
        yield Notice("set_aside", f"{tag} is {words}, so no rule looked at it.", None if status is None else status.at)


def _taken_notices(site: Site, drawing: Drawing) -> Iterable[Notice]:
    """Figures of a utility of which nobody says of which kind of fault they are: a default never hides."""
    for tag in drawing.of("utility_supply"):
        figure = site.stated(drawing.pieces[tag], FAULT_FIGURE)
        hull = None if figure is None else figure.value.hull
        is_written = hull is not None and hull.high is not None
        if figure is None or not is_written or site.stated(drawing.pieces[tag], KIND_OF_FAULT) is not None:
            continue
        yield Notice(
            "default",
            f"{tag}: the available fault current is written without between:, so it is taken as the greatest of every "
            "kind of fault.",
            figure.at,
            "Ask the utility of which kind its figure is, and write it as between: lines or between: line_and_neutral; "
            "beside the transformer a fault to the neutral can draw more than one between lines.",
        )


FAULT_FIGURE = "available_fault_current"
KIND_OF_FAULT = f"{FAULT_FIGURE}.between"


def _drawing_notices(site: Site) -> Iterable[Notice]:
    for notice in site.notices:
        yield Notice(
            "drawing", notice.sentence, notice.at, "What it touches cannot be judged until the drawing is mended."
        )


def _worksheets(view: View) -> Mapping[str, Worksheet]:
    """Every calculation that was worked out, in the order of the walk."""
    places = view.ground.drawing.walk_order
    sheets = view.worksheets()
    return {name: sheets[name] for name in sorted(sheets, key=lambda each: (places.get(sheets[each].subject, 0), each))}


def _not_covered(job: Job, planned: tuple[Planned, ...]) -> tuple[str, ...]:
    looking = {id(each.rule): each.rule.rule for each in planned}.values()
    expected = (topic for topic in job.topics if topic.is_expected_at(job.site))
    return tuple(topic.title for topic in expected if not any(map(topic.is_looked_at_by, looking)))
