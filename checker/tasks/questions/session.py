"""Questions about one site, each answer written into its file at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from checker.catalog.reading.texts import read_text
from checker.facts.known import Ask, Leaf
from checker.files.editing import CannotEdit
from checker.files.written import put_in_place
from checker.files.yaml.strict_yaml import read_bytes
from checker.findings.review import Job, view_of_job
from checker.tasks.gathering.library import Library
from checker.tasks.questions.answers import GIVEN_AT, POLES, answer_words, place_of, poles_of
from checker.tasks.questions.asked import NO, YES, Question
from checker.tasks.questions.choosing import Next, next_question, questions
from checker.tasks.questions.entries import NAME, Form, tag_of
from checker.tasks.questions.known_first import turn_of
from checker.tasks.questions.open_notes import without_note
from checker.tasks.questions.together import Together, together
from checker.tasks.questions.waiting import Open, open_of
from checker.tasks.questions.writing import with_closed, with_fact, with_listed, with_piece, yaml_of
from checker.tasks.reviewing import Overrides, job_of
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class _Step:
    """An answer, in words and with the file before and after it; a question that was left out has neither, but the
    sentence in which it was asked. An answer that lists something leaves its question open.
    """

    leaf: Leaf
    told: str
    before: bytes | None = None
    after: bytes | None = None
    stays_open: bool = False
    asked: str = ""


_CLASSES = "classes"


def _whole(leaf: Leaf) -> Leaf:
    """What a part is a part of: whoever leaves the whole out is not asked for its parts."""
    return replace(leaf, name=leaf.name.partition(".")[0])


class Session:
    """The questions of one site file; holds what was answered, so that it can be taken back."""

    def __init__(self, path: Path, library: Library, overrides: Overrides) -> None:
        self._path, self._library, self._overrides = path, library, overrides
        self._steps: list[_Step] = []
        self._tried: dict[Leaf, Next] = {}
        self._job = self._read()
        self._open: Open | None = None

    @property
    def waiting(self) -> int:
        """How many findings that are due still wait."""
        return len(self.state.due())

    @property
    def later(self) -> int:
        """How many wait that are due at a later stage."""
        return len(self.state.waiting) - self.waiting

    @property
    def state(self) -> Open:
        """What is open as the site file stands, judged when it is asked for."""
        if self._open is None:
            self._open = open_of(self._job)
        return self._open

    @property
    def skipped(self) -> tuple[str, ...]:
        """The questions that were left out and for which findings still wait, in the order in which they were asked.
        Nothing keeps them: whoever asks again is asked them again.
        """
        waiting = {question.leaf for question, _ in questions(self.state)}
        left = (step for step in self._steps if step.before is None and step.leaf in waiting)
        return tuple(dict.fromkeys(step.asked for step in left))

    def only_papers(self, found: Next) -> bool:
        """Whether nothing that is read on site settles anything more, so that papers are asked for."""
        leaf = found.question.leaf
        return not found.question.is_on_site and turn_of(leaf) is None

    @property
    def papers(self) -> tuple[str, ...]:
        """The papers in which what is left to ask is found."""
        return tuple(dict.fromkeys(each.paper for each, _ in questions(self.state) if not each.is_on_site))

    def next(self) -> Next | None:
        """The question to ask now; None where nothing is left."""
        return next_question(self.state, self._aside(), self._tried)

    def _aside(self) -> frozenset[Leaf]:
        """What was asked already, with the parts of what was left out whole and what would have got the same answer."""
        asked = [question.leaf for question, _ in questions(self.state)]
        skipped = {step.leaf for step in self._steps if step.before is None}
        aside = frozenset(step.leaf for step in self._steps if not step.stays_open)
        same = {other for leaf in skipped for other in self._same_as(leaf)}
        return aside | same | {leaf for leaf in asked if _whole(leaf) in skipped}

    def together(self, question: Question) -> Together | None:
        """What is asked at once with a question; None where it is asked alone."""
        aside, due = self._aside(), {leaf for each in self.state.due() for leaf in each.leaves}
        found = (each for each in questions(self.state) if each[0].leaf in due and each[0].leaf not in aside)
        return together(question, found, self._job.catalog)

    def answer_together(self, asked: Together, answers: Mapping[int, str]) -> None:
        """Write an answer to each, by its place, and leave out those without one. Raises Unreadable or NotationError
        before anything is written where one of them cannot be read.
        """
        for place, typed in answers.items():
            self.readable(asked.each[place], answer_words(asked.each[place], typed))
        for place, question in enumerate(asked.each):
            if place in answers:
                self.answer(question, answers[place])
            else:
                self.skip(question)

    def answer(self, question: Question, typed: str) -> tuple[str, ...]:
        """Write an answer; gives the tags of other pieces for which the same was written. Raises Unreadable where it
        cannot be read or written; the file is then as it was.
        """
        before = read_bytes(self._path, self._path.name)
        after, also = self._with_answer(before, question, typed), []
        for leaf in self._same_as(question.leaf):
            assert question.fact is not None
            words = answer_words(question, typed)
            after = with_fact(after, self._job.site, self._job.catalog, leaf, yaml_of(question.fact, words))
            also.append(leaf.subject.id)
        if after != before:
            after = without_note(after, question.leaf.name, question.leaf.subject.id)
        self._write(_Step(question.leaf, f"{typed}, to: {question.sentence}", before, after))
        return tuple(also)

    def enter(self, question: Question, form: Form, facts: Mapping[str, str]) -> str:
        """List, or draw, what a question found missing, with these facts in YAML; gives its tag, or its name. Raises
        Unreadable where it cannot be written; the file is then as it was.
        """
        before = read_bytes(self._path, self._path.name)
        is_listed = question.leaf.ask is Ask.MORE
        tag = form.name if is_listed else tag_of(form, self._job.site)
        try:
            after = with_listed(before, form.name, facts) if is_listed else with_piece(before, tag, form.name, facts)
        except (CannotEdit, ValueError):
            raise self._not_written(question.leaf) from None
        after = without_note(after, form.name, question.leaf.subject.id) if is_listed else after
        self._write(_Step(question.leaf, f"{facts.get(NAME, tag)}, which was entered.", before, after, stays_open=True))
        return tag

    def listed(self, question: Question) -> tuple[str, ...]:
        """The names, or else the ids, of what the list of a question holds; the tags of the pieces of its kind."""
        site = self._job.site
        if question.leaf.ask is Ask.EXISTS:
            return tuple(tag for tag, piece in site.pieces.items() if piece.type == question.leaf.name)
        found = []
        for member in site.members(question.leaf.name, question.leaf.subject.id).members:
            name = site.stated(member, "name")
            found.append(member.id if name is None else name.text)
        return tuple(found)

    @property
    def job(self) -> Job:
        """The site as its file stands."""
        return self._job

    def _write(self, step: _Step) -> None:
        assert step.after is not None
        if step.after != step.before:
            put_in_place(self._path, step.after, self._check)
        self._steps.append(step)
        self._read_again()

    def skip(self, question: Question) -> None:
        """Leave a question out, for as long as this session lasts."""
        told = f"what was left out: {question.sentence}"
        self._steps.append(_Step(question.leaf, told, asked=question.sentence))

    def undo(self) -> str | None:
        """Take the last answer, or the last question left out, back, and say which; None where there is none. Raises
        Unreadable where somebody else has changed the file since.
        """
        if not self._steps:
            return None
        step = self._steps[-1]
        if step.before is not None and step.before != step.after:
            if read_bytes(self._path, self._path.name) != step.after:
                sentence = f"{self._path.name} was changed by other hands since, so the answer stays in it."
                raise Unreadable([Problem(sentence, None, "Change it in the file itself.")])
            put_in_place(self._path, step.before, self._check)
        self._steps.pop()
        self._read_again()
        return step.told

    def _read(self) -> Job:
        return job_of(self._path, self._library, self._overrides)

    def _read_again(self) -> None:
        self._job, self._open = self._read(), None
        self._tried.clear()

    def _check(self, half: Path) -> None:
        """Read what is to take the place of the file, from where the file itself is read: its sheets lie in reach."""
        here = Path.cwd()
        is_below = not self._path.is_absolute() and ".." not in self._path.parts and half.is_relative_to(here)
        job_of(half.relative_to(here) if is_below else half, self._library, self._overrides)

    def _with_answer(self, before: bytes, question: Question, typed: str) -> bytes:
        words, site, leaf = answer_words(question, typed), self._job.site, question.leaf
        try:
            if leaf.ask is Ask.FACT:
                assert question.fact is not None
                after = with_fact(before, site, self._job.catalog, leaf, yaml_of(question.fact, words))
                for part, value in ((POLES, poles_of(question, typed)), (GIVEN_AT, place_of(question, typed))):
                    beside = Leaf(leaf.subject, f"{leaf.name}.{part}")
                    after = with_fact(after, site, self._job.catalog, beside, value) if value else after
                return after
            if words == (YES if leaf.ask is Ask.MORE else NO,):
                self._refuse_empty(leaf)
                return with_closed(before, leaf)
        except (CannotEdit, ValueError):
            raise self._not_written(leaf) from None
        else:
            return before

    def _same_as(self, leaf: Leaf) -> Iterator[Leaf]:
        """The class of a switch is that of the set that feeds no other, and the other way round, unless it is said."""
        if leaf.ask is not Ask.FACT or leaf.name != _CLASSES:
            return
        drawing, site = view_of_job(self._job).ground.drawing, self._job.site
        for tag, piece in site.pieces.items():
            fed = drawing.switches_fed(tag) if piece.type == "generator" else ()
            both = (tag, *fed)
            if len(fed) != 1 or leaf.subject.id not in both:
                continue
            other = site.pieces[both[1] if leaf.subject.id == tag else tag]
            if site.stated(other, _CLASSES) is None:
                yield Leaf(other, _CLASSES)

    def readable(self, question: Question, words: tuple[str, ...]) -> tuple[str, ...]:
        """The words, each of which a site file can hold for the fact. Raises NotationError."""
        assert question.fact is not None
        for word in words:
            read_text(word, question.fact, may_be_none=question.fact.may_be_none)
        return words

    def _refuse_empty(self, leaf: Leaf) -> None:
        """Nothing is complete that always holds something and lists nothing yet."""
        listing = self._job.catalog.lists.get(leaf.name) if leaf.ask is Ask.MORE else None
        if listing is None or not listing.never_empty or self._job.site.members(leaf.name, leaf.subject.id).members:
            return
        sentence = f"The list of {listing.title} holds none yet, and every building has some, so it is not complete."
        raise Unreadable([Problem(sentence, None, "Type add and list them one by one.")])

    def _not_written(self, leaf: Leaf) -> Unreadable:
        sentence = f"{leaf} cannot be written into {self._path.name} without other lines being changed."
        return Unreadable([Problem(sentence, None, "Write it there yourself, or skip it.")])
