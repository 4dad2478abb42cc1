"""Random rules in force: every kind of condition, relation, operand and subject that the grammar has, well typed."""

from __future__ import annotations

from datetime import date

from hypothesis import strategies as st

from checker.catalog.model import Stage
from checker.rules.model.citing import Citation
from checker.rules.model.force import Basis, Force
from checker.rules.model.in_force import PackInForce, RuleInForce, RulesInForce
from checker.rules.model.profile import Profile
from checker.rules.model.rule import Instead, NamedException, Reading, Requires, Rule
from checker.rules.vocabulary import Around
from checker.values.positions import Position
from tests.generators.choosing import Chooser, drawn, seeded
from tests.generators.conditions import ConditionWriter
from tests.generators.days import TODAY
from tests.generators.names import Names
from tests.generators.operands import NumberBook

PACK = "generated"
_AT = Position("generated/pack.yaml", 1, 1)
_OFTEN = (
    "transfer_switch", "generator", "panelboard", "disconnecting", "board", "line_equipment", "service", "site",
    "connection", "figure", "fault_source", "service_disconnect_pair", "switches_on_one_set", "service_disconnect",
    "emergency_disconnect", "outdoor_role", "feeder_disconnect", "label", "bond", "withstand_row", "paper",
)  # fmt: skip
"""Subjects that most drawings have."""


def seeded_rules(seed: int, names: Names, most: int = 4) -> RulesInForce:
    """The rules that belong to a number."""
    return rules(seeded(seed), names, most)


@st.composite
def drawn_rules(draw: st.DrawFn, names: Names, most: int = 2) -> RulesInForce:
    """Rules, for hypothesis."""
    return rules(drawn(draw), names, most)


def rules(choose: Chooser, names: Names, most: int) -> RulesInForce:
    """One rule or a few, in force on the day of the review."""
    found = tuple(rule(choose, names, place) for place in range(1, choose.whole(1, most) + 1))
    return in_force(found)


def in_force(found: tuple[RuleInForce, ...], on: date = TODAY) -> RulesInForce:
    """Rules as a profile has them in force."""
    profile = Profile("nowhere", "Nowhere", "permit_application", (), "profile.yaml", "0" * 64)
    pack = PackInForce(PACK, "Generated rules", None, "0" * 64, "nobody", None)
    return RulesInForce(profile, on, found, (pack,))


def rule(choose: Chooser, names: Names, place: int = 1) -> RuleInForce:
    """Any rule."""
    book = NumberBook()
    subject = choose.one(_OFTEN) if choose.chance(75) else choose.one(names.vocabulary.subjects)
    body = _Writer(choose, names, book, Around(names.vocabulary.types_of(subject))).rule(subject, place)
    titles = {name: name.replace("-", " ") for name in book.parameters}
    return RuleInForce(body, None, "nobody", body.cites, book.parameters, book.tables, titles)


class _Writer:
    """Writes one rule."""

    def __init__(self, choose: Chooser, names: Names, book: NumberBook, around: Around) -> None:
        self._choose = choose
        self._around = around
        self._conditions = ConditionWriter.of(choose, names, book)

    def rule(self, subject: str, place: int) -> Rule:
        choose = self._choose
        look: str | None = None
        readings: tuple[Reading, ...] = ()
        requires: Requires | None = None
        way = choose.whole(1, 100)
        if way > 90:
            look = "Look at {subject}."
        elif way > 75:
            readings = tuple(self._reading(number) for number in range(1, choose.whole(2, 3) + 1))
        else:
            requires = self._requires()
        return Rule(
            id=f"generated-rule-{place}",
            pack=PACK,
            title="A generated rule",
            subject=subject,
            basis=choose.one(list(Basis)),
            force=choose.one(list(Force)),
            due=choose.one(list(Stage)),
            says="{subject} misses a generated rule.",
            at=_AT,
            when=self._conditions.condition(self._around) if choose.chance(55) else None,
            unless=tuple(self._exception(number) for number in range(1, self._few() + 1)),
            instead=tuple(self._instead(number) for number in range(1, self._few() + 1)) if requires else (),
            requires=requires,
            readings=readings,
            look=look,
            cites=(Citation("generated", None, "1"),),
        )

    def _few(self) -> int:
        return self._choose.whole(1, 2) if self._choose.chance(25) else 0

    def _requires(self) -> Requires:
        size = self._choose.whole(1, 3) if self._choose.chance(50) else 1
        parts = {f"part_{number}": self._conditions.condition(self._around) for number in range(1, size + 1)}
        return Requires(parts, any_way=self._choose.chance(25))

    def _exception(self, place: int) -> NamedException:
        return NamedException(f"exception-{place}", self._conditions.condition(self._around), "it is generated so")

    def _instead(self, place: int) -> Instead:
        return Instead(f"instead-{place}", self._conditions.condition(self._around), self._requires())

    def _reading(self, place: int) -> Reading:
        return Reading(f"reading_{place}", "some offices", self._requires())
