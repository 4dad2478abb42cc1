"""The signs that a rule wants at a subject: where they stand, what is on them, and what is shown there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from checker.catalog.model import Catalog
from checker.facts.collections import collection
from checker.facts.view import View
from checker.findings.assembling.naming import known_text, plain_number
from checker.findings.assembling.texts import filled
from checker.findings.finding import Sign
from checker.findings.judging.conditions import Judge
from checker.findings.judging.evaluation import Evaluation
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.operands import Numbers
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.paths import Place, linked
from checker.findings.judging.plan import Planned
from checker.rules.model.conditions import Condition
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.rule import Label
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.words.condition_words import words_in_force
from checker.site.model import Subject
from checker.values.dates import CalendarSpan
from checker.values.truth import Truth, all_of


def signs(view: View, on: date, planned: Planned, evaluation: Evaluation, words: str) -> tuple[Sign, ...]:
    """The signs of a rule that may apply, those left out that are surely not the ones that are wanted; ``words`` names
    the subject.
    """
    labels = planned.rule.rule.labels
    if not labels or evaluation.outcome is Outcome.NOT_APPLICABLE:
        return ()
    painter = _Painter(view, on, planned.rule, planned.subject, words)
    return tuple(sign for label in labels for sign in painter.signs(label, evaluation))


@dataclass(frozen=True, slots=True)
class _Stand:
    """Where a sign stands: the pieces, and what they are among where there can be several."""

    pieces: tuple[Subject, ...]
    among: str = ""


@dataclass(frozen=True, slots=True)
class _Painter:
    """Makes the signs of one rule at one subject."""

    view: View
    on: date
    rule: RuleInForce
    subject: Subject
    words: str

    def signs(self, label: Label, evaluation: Evaluation) -> Iterator[Sign]:
        """The sign of a label; none where another one is wanted."""
        wanted = self._holds(label.when, self.subject)
        if wanted is Truth.NO:
            return
        stand, catalog = self._stand(label), self._catalog
        height, feet = self._letter_height(label)
        colors = label.colors
        part = evaluation.look.parts.get(label.part or "")
        yield Sign(
            words=label.words,
            meaning=filled(label.meaning, self.words, self._place, SiteEvidence(self.view), ()),
            class_word=label.class_word,
            places=tuple(each.id for each in stand.pieces),
            among=stand.among,
            ground="" if colors is None else catalog.facts["ground_color"].choices[colors.ground],
            letters="" if colors is None else catalog.facts["letter_color"].choices[colors.letters],
            letter_height=height,
            letter_feet=feet,
            only_if=self._only_if(label.when) if wanted is Truth.UNKNOWN else "",
            holds=None if part is None else part.truth,
            shown=tuple(text for piece in stand.pieces for text in _shown_at(self.view, piece)),
        )

    @property
    def _catalog(self) -> Catalog:
        return self.view.ground.catalog

    @property
    def _place(self) -> Place:
        return Place(self.subject, self.subject)

    def _holds(self, condition: Condition | None, member: Subject) -> Truth:
        judge = Judge(SiteEvidence(self.view), Numbers.of(self.rule), self.on)
        return judge.condition(condition, Place(self.subject, member)).truth

    def _only_if(self, condition: Condition | None) -> str:
        if condition is None:
            return ""
        vocabulary = Vocabulary(self._catalog)
        around = Around(vocabulary.types_of(self.rule.rule.subject))
        return words_in_force(self.rule, vocabulary).line(condition, around)

    def _stand(self, label: Label) -> _Stand:
        if label.at is None:
            return _Stand((self.subject,) if self.subject.id in self.view.ground.drawing.pieces else ())
        if not label.at.name:
            piece = linked(self.view, self._place, label.at.links)
            return _Stand(() if piece is None else (piece,))
        members = SiteEvidence(self.view).members(self._place, label.at).members
        can_be = (
            each.subject
            for each in members
            if all_of((each.belongs, self._holds(label.where, each.subject))) is not Truth.NO
        )
        return _Stand(tuple(can_be), self._catalog.collections[label.at.name].title)

    def _letter_height(self, label: Label) -> tuple[str, str]:
        """The least height as it is written and as an exact number; nothing where the edition asks for none."""
        value = None if label.letter_height is None else self.rule.parameters.get(label.letter_height)
        if value is None or value.value is None or isinstance(value.value, CalendarSpan):
            return "", ""
        number = value.value.number
        return value.text, "" if number is None else plain_number(number)


_FACTS_OF_A_LABEL = ("marking", "tells", "ground_color", "letter_color", "letter_height")


def _shown_at(view: View, piece: Subject) -> Iterator[str]:
    """Each label that is shown at a piece: what is on it, and how it looks as far as that is said."""
    if view.ground.catalog.collection("labels", piece.type) is None:
        return
    for member in collection(view, "labels", piece).members:
        said = [text for name in _FACTS_OF_A_LABEL if (text := _said(view, member.subject, name))]
        if said:
            yield "; ".join(said)


def _said(view: View, label: Subject, name: str) -> str:
    if view.ground.site.stated(label, name) is None:
        return ""
    fact, known = view.ground.catalog.facts[name], view.known(label, name)
    text = known_text(fact, known)
    if name in ("marking", "tells"):
        return "" if known.value.only_absent else text
    return f"{fact.title} {text}"
