"""Random operands of comparisons, each of the kind that its comparison needs, with the numbers that they read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise

from checker.catalog.model import ValueType
from checker.rules.grammar import COMBINATIONS, MOST_OPERATIONS
from checker.rules.model.citing import Checked
from checker.rules.model.conditions import (
    Combined,
    FactOperand,
    Lookup,
    NextSize,
    Operand,
    ParameterOperand,
    Scaled,
    Words,
)
from checker.rules.model.numbers import ParameterValue, Row, TableValues
from checker.rules.reading.value_kinds import CHOICES, ValueKind
from checker.rules.vocabulary import Around
from checker.values.dates import CalendarSpan
from checker.values.possible import Possible, Span, exactly, number, several
from tests.generators.choosing import Chooser
from tests.generators.names import NamedFact, Names
from tests.generators.numbers import Figure, figures_of_kind, has_figures

RATIO = ValueKind(ValueType.QUANTITY.value, "ratio")
COUNT = ValueKind(ValueType.COUNT.value)
_RISING = (COUNT, ValueKind("quantity", "load_current"), ValueKind("quantity", "fault_current"))
_CHECKED = Checked("high", "generated")
_NONE_OF_IT = Figure("0", Fraction(0))


@dataclass(slots=True)
class NumberBook:
    """The parameters and tables that one rule reads."""

    parameters: dict[str, ParameterValue] = field(default_factory=dict)
    tables: dict[str, TableValues] = field(default_factory=dict)

    def parameter(self, text: str, value: Possible | CalendarSpan | None, unit: str | None = None) -> ParameterOperand:
        """A new parameter; None is no limit."""
        name = f"parameter-{len(self.parameters) + 1}"
        self.parameters[name] = ParameterValue(text, value, unit, (), _CHECKED)
        return ParameterOperand(name)

    def table(self, rows: Sequence[Row]) -> str:
        """A new table; its name."""
        name = f"table-{len(self.tables) + 1}"
        self.tables[name] = TableValues(tuple(rows), "past this table an engineer decides", (), _CHECKED)
        return name


@dataclass(frozen=True, slots=True)
class Side:
    """One operand, and whether anything in it may be absent."""

    operand: Operand
    may_be_absent: bool = False


@dataclass(frozen=True, slots=True)
class OperandWriter:
    """Writes operands of one rule."""

    choose: Chooser
    names: Names
    book: NumberBook

    # --- words -------------------------------------------------------------------------------------------------------

    def words(self, kind: ValueKind, around: Around, *, wants_list: bool) -> Side:
        """A word, a flag or a list of words of a kind: written here, read from a fact, or set by a document."""
        if kind.type == ValueType.FLAG.value:
            return self._fact(kind, around) or Side(Words((self.choose.chance(50),), is_list=False))
        wanted = ValueKind(CHOICES if wants_list else ValueType.CHOICE.value, None, kind.words)
        found = self._fact(wanted, around)
        if found is not None:
            return found
        words = sorted(kind.words)
        if not wants_list:
            return Side(Words((self.choose.one(words),), is_list=False))
        chosen = self.choose.some(words, least=1, most=max(2, len(words) // 2))
        if self.choose.chance(25):
            return Side(self.book.parameter(", ".join(chosen), several(chosen)))
        return Side(Words(tuple(chosen), is_list=True))

    def same(self, kind: ValueKind, around: Around) -> Side:
        """A fact of a kind that only facts have: a text or a tag."""
        named = self.choose.one(self.names.alike(kind, around))
        return Side(FactOperand(named.path), named.may_be_absent)

    def _fact(self, kind: ValueKind, around: Around, percent: int = 25) -> Side | None:
        """Now and then a fact of the kind, where there is one."""
        alike = self.names.alike(kind, around) if self.choose.chance(percent) else ()
        return self._one_of(alike)

    def _one_of(self, alike: Sequence[NamedFact]) -> Side | None:
        if not alike:
            return None
        near = [each for each in alike if not each.path.links]
        named = self.choose.one(near if near and self.choose.chance(60) else list(alike))
        return Side(FactOperand(named.path), named.may_be_absent)

    # --- numbers and dates -------------------------------------------------------------------------------------------

    def span(self) -> Side:
        """A length of time by the calendar."""
        months, days = self.choose.one([(12, 0), (1, 0), (0, 30), (60, 0)])
        if self.choose.chance(5):
            return Side(self._no_limit())
        return Side(self.book.parameter(f"{months} months {days} days", CalendarSpan(months, days)))

    def ordered(self, kind: ValueKind, around: Around, depth: int = 0) -> Side:
        """A number or a date, as deep inside operations as rules may go."""
        found = self._fact(kind, around, percent=40)
        if found is not None:
            return found
        operations = self._operations(kind) if depth < MOST_OPERATIONS and self.choose.chance(40) else []
        if not operations:
            return Side(self._no_limit() if depth == 0 and self.choose.chance(4) else self._number(kind))
        return self.choose.one(operations)(kind, around, depth + 1)

    def _operations(self, kind: ValueKind) -> list[Callable[[ValueKind, Around, int], Side]]:
        if not kind.is_number:
            return [self._combined]
        tables = [self._next_size, self._lookup] if has_figures(kind.quantity or kind.type) else []
        return [self._combined, self._combined, self._scaled, *tables]

    def _number(self, kind: ValueKind) -> ParameterOperand:
        figures = figures_of_kind(kind.quantity or kind.type)
        figure = self.choose.one((*figures, _NONE_OF_IT) if kind == COUNT else figures)
        return self.book.parameter(figure.text, number(figure.number), figure.unit)

    def _no_limit(self) -> ParameterOperand:
        return self.book.parameter("no limit", None)

    def _combined(self, kind: ValueKind, around: Around, depth: int) -> Side:
        ways = COMBINATIONS if kind.is_number else [each for each in COMBINATIONS if each != "sum_of"]
        sides = [self.ordered(kind, around, depth) for _ in range(self.choose.whole(2, 3))]
        skip = self.choose.chance(50)
        operand = Combined(self.choose.one(ways), tuple(side.operand for side in sides), skip)
        return Side(operand, any(side.may_be_absent for side in sides))

    def _scaled(self, kind: ValueKind, around: Around, depth: int) -> Side:
        value = Side(self._no_limit()) if depth == 1 and self.choose.chance(2) else self.ordered(kind, around, depth)
        factor = self._fact(RATIO, around) or Side(self._ratio())
        return Side(Scaled(value.operand, factor.operand), value.may_be_absent or factor.may_be_absent)

    def _ratio(self) -> ParameterOperand:
        percent = self.choose.one([50, 80, 100, 110, 125, 250])
        return self.book.parameter(f"{percent} %", number(Fraction(percent, 100)), "%")

    def _next_size(self, kind: ValueKind, around: Around, depth: int) -> Side:
        value = self.ordered(kind, around, depth)
        sizes = self.choose.some(figures_of_kind(kind.quantity or kind.type), least=1)
        table = self.book.table([Row({}, number(size.number), size.text) for size in sizes])
        return Side(NextSize(value.operand, table), value.may_be_absent)

    def _lookup(self, kind: ValueKind, around: Around, depth: int) -> Side:
        """A cell of a table with a rising key, and perhaps a key of words beside it."""
        rising = self.choose.one(_RISING)
        keys = {"number": self.ordered(rising, around, depth)}
        cells = [{"number": key} for key in self._rising_keys(rising)]
        worded = self._worded_key(around)
        if worded is not None:
            keys["word"], words = worded
            cells = [{**row, "word": exactly(word)} for word in words for row in cells]
        table = self.book.table([self._row(kind, row) for row in self.choose.some(cells, least=1)])
        operands = {name: side.operand for name, side in keys.items()}
        return Side(Lookup(table, operands), any(side.may_be_absent for side in keys.values()))

    def _row(self, kind: ValueKind, keys: dict[str, Possible]) -> Row:
        figure = self.choose.one(figures_of_kind(kind.quantity or kind.type))
        return Row(keys, number(figure.number), figure.text)

    def _rising_keys(self, kind: ValueKind) -> list[Possible]:
        """Rows that each reach down to the one before, or bands with their own lower ends."""
        ends = [figure.number for figure in self.choose.some(figures_of_kind(kind.quantity or kind.type), least=2)]
        if self.choose.chance(50):
            starts: list[Fraction | None] = [None, *ends[:-1]]
            pairs = zip(starts, ends, strict=True)
            return [Possible(spans=(Span(low, high, low_open=low is not None),)) for low, high in pairs]
        bands = pairwise(ends)
        return [Possible(spans=(Span(low, high, low_open=place > 0),)) for place, (low, high) in enumerate(bands)]

    def _worded_key(self, around: Around) -> tuple[Side, list[str]] | None:
        facts = [each for each in self.names.facts(around, linked=False) if each.kind.type == ValueType.CHOICE.value]
        if not facts or not self.choose.chance(50):
            return None
        named = self.choose.one(facts)
        words = self.choose.some(sorted(named.kind.words), least=1, most=3)
        if self.choose.chance(30):
            return Side(Words((self.choose.one(words),), is_list=False)), words
        return Side(FactOperand(named.path), named.may_be_absent), words
