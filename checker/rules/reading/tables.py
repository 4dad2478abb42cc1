"""Tables: which row answers for which keys, by edition."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.files.yaml.tree import Entry, Node
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.grammar import NO_EDITION, NONE
from checker.rules.model.numbers import Row, Table, TableKey, TableValues
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import Head, read_sources
from checker.rules.reading.parameters import editions_of
from checker.rules.reading.row_spans import with_spans
from checker.rules.reading.value_kinds import kind_of_type
from checker.rules.reading.written_values import WrittenValue, read_band, read_upper_end, read_value
from checker.values.notation import NotationError
from checker.values.positions import Position
from checker.values.possible import Possible, Span

EXACT, AT_OR_ABOVE, BAND = "exact", "at_or_above", "band"


@dataclass(frozen=True, slots=True)
class _Column:
    """How the cells of one column are read."""

    name: str
    match: str
    type: str
    unit: str | None

    def read(self, text: str) -> WrittenValue:
        """One cell; raises NotationError."""
        if self.match == BAND:
            return read_band(text, self.type, self.unit)
        if self.match == AT_OR_ABOVE:
            return read_upper_end(text, self.type, self.unit)
        return read_value(text, self.type, self.unit)


@dataclass(frozen=True, slots=True)
class _Line:
    """One row as written: its cells, keys first, the value last."""

    cells: tuple[Node, ...]
    at: Position


def read_table(entry: Entry, head: Head, problems: ProblemList) -> Table:
    """One table; what is wrong with it is told, and rows that cannot be read are left out."""
    node = nodes.mapping(entry.value)
    keys = tuple(_key(each) for each in nodes.entries(node.get("keys")))
    gives = _Column("value", EXACT, nodes.text(node.get("gives")), nodes.text(node.get("unit")) or None)
    told_before = len(problems)
    _check_keys(entry, keys, problems)
    if not keys and not kind_of_type(gives.type).is_number:
        problems.add(
            f"`{entry.key}` is a list of sizes, but gives no number.", entry.at, "Give it keys, or another `gives:`."
        )
    written = dict(_rows_by_edition(node, head, problems))
    reader = _Rows(entry.key, keys, gives, problems)
    table_keys = tuple(TableKey(key.name, key.match, key.type) for key in keys)
    rows = dict.fromkeys(written, ()) if len(problems) > told_before else reader.by_edition(written, table_keys)
    sources = read_sources(entry, head, written, problems, may_cite_nothing=head.rests_on_practice)
    beyond = nodes.text(node.get("beyond"))
    return Table(
        entry.key,
        nodes.text(node.get("title")),
        table_keys,
        gives.type,
        reader.unit,
        {
            edition: TableValues(rows[edition], beyond, sources.cites[edition], sources.checked[edition])
            for edition in written
        },
        entry.at,
    )


def _key(entry: Entry) -> _Column:
    node = nodes.mapping(entry.value)
    unit = nodes.text(node.get("unit")) or None
    return _Column(entry.key, nodes.text(node.get("match")), nodes.text(node.get("type")), unit)


def _check_keys(entry: Entry, keys: Sequence[_Column], problems: ProblemList) -> None:
    for key in keys:
        _check_key(entry, key, problems)
    if sum(key.match != EXACT for key in keys) > 1:
        problems.add(f"`{entry.key}` has two keys that are matched by size.", entry.at, "Make one of them exact.")


def _check_key(entry: Entry, key: _Column, problems: ProblemList) -> None:
    if key.match != EXACT and not kind_of_type(key.type).is_number:
        label = kind_of_type(key.type).label
        problems.add(
            f"The key `{key.name}` of `{entry.key}` is {label}, which has no order for rows above or bands.",
            entry.at,
            "Write `match: exact`.",
        )


def _rows_by_edition(node: MappingNode, head: Head, problems: ProblemList) -> Iterator[tuple[str, Node | None]]:
    rows = node.entry("rows")
    if rows is None:
        return
    by_edition = isinstance(rows.value, MappingNode) and rows.value.get("columns") is None
    if by_edition and head.editions:
        yield from editions_of(nodes.mapping(rows.value), head, problems)
    elif by_edition:
        problems.add("There are no editions here: the rows are written once.", rows.at, "Write a list of rows.")
    elif head.editions:
        problems.add(
            "This pack has editions: the rows are written for each.", rows.at, 'Write `rows: {"2020": [...]}`.'
        )
    else:
        yield NO_EDITION, rows.value


class _Rows:
    """Reads the rows of one table and sees that no two answer for the same keys."""

    def __init__(self, name: str, keys: tuple[_Column, ...], gives: _Column, problems: ProblemList) -> None:
        self._name = name
        self._keys = keys
        self._gives = gives
        self._problems = problems
        self.unit = gives.unit

    def by_edition(self, written: Mapping[str, Node | None], keys: Sequence[TableKey]) -> dict[str, tuple[Row, ...]]:
        """The rows of each edition; what several editions share is read once."""
        read = {id(node): with_spans(self._read(node), keys) for node in written.values() if node is not None}
        return {edition: read.get(id(node), ()) for edition, node in written.items()}

    def _read(self, node: Node) -> tuple[Row, ...]:
        """The rows of one edition, in the order of the file."""
        lines = self._in_columns(node) if isinstance(node, MappingNode) else self._in_lines(node)
        read = [(line, row) for line in lines if (row := self._row(line)) is not None]
        self._check_order(read)
        return tuple(row for _, row in read)

    def _in_lines(self, node: Node) -> Iterator[_Line]:
        width = len(self._keys) + 1
        for item in nodes.items(node):
            cells = nodes.items(item)
            if len(cells) == width:
                yield _Line(cells, item.at)
            else:
                self._wrong_width(item.at, len(cells), width)

    def _in_columns(self, node: MappingNode) -> Iterator[_Line]:
        """Rows whose last key stands above the columns; ``none`` in a cell means that there is no such entry."""
        heads = nodes.items(node.get("columns"))
        if not self._keys:
            self._problems.add(f"`{self._name}` has no keys that could stand above columns.", node.at, "Write a list.")
            return
        first = len(self._keys) - 1
        for item in nodes.items(node.get("rows")):
            cells = nodes.items(item)
            if len(cells) != first + len(heads):
                self._wrong_width(item.at, len(cells), first + len(heads))
                continue
            for head, value in zip(heads, cells[first:], strict=True):
                if nodes.text(value) != NONE:
                    yield _Line((*cells[:first], head, value), value.at)

    def _wrong_width(self, at: Position, found: int, wanted: int) -> None:
        names = ", ".join((*(key.name for key in self._keys), self._gives.type))
        self._problems.add(
            f"This row of `{self._name}` has {found} cells, not {wanted}.", at, f"Its cells are {names}."
        )

    def _row(self, line: _Line) -> Row | None:
        cells = [self._cell(column, cell) for column, cell in zip((*self._keys, self._gives), line.cells, strict=True)]
        known = [cell for cell in cells if cell is not None]
        if len(known) < len(cells):
            return None
        value = known[-1]
        self.unit = self.unit or value.unit
        keys = {key.name: cell.value for key, cell in zip(self._keys, known[:-1], strict=True)}
        return Row(keys, value.value, value.text)

    def _cell(self, column: _Column, cell: Node) -> WrittenValue | None:
        try:
            return column.read(nodes.text(cell))
        except NotationError as error:
            self._problems.refuse(error, cell.at, f"{self._name}, {column.name}")
            return None

    def _check_order(self, read: Sequence[tuple[_Line, Row]]) -> None:
        """Rows with the same exact keys must rise, and no two may answer for the same."""
        rising = [key for key in self._keys if key.match != EXACT]
        last: dict[object, tuple[Fraction | None, bool]] = {}
        for line, row in read:
            exact = tuple((key.name, row.keys[key.name]) for key in self._keys if key.match == EXACT)
            ends = _ends(row.keys[rising[0].name]) if rising else _ends(row.value) if not self._keys else None
            self._check_after(line, exact, ends, last)

    def _check_after(
        self, line: _Line, exact: object, ends: Span | None, last: dict[object, tuple[Fraction | None, bool]]
    ) -> None:
        if exact not in last:
            last[exact] = (ends.high, ends.high_open) if ends else (None, False)
            return
        if ends is None:
            self._problems.add(f"Two rows of `{self._name}` answer for the same keys.", line.at, "Keep one of the two.")
            return
        if not _follows(ends, last[exact][0]):
            self._problems.add(
                f"The rows of `{self._name}` do not rise: this one begins before the one above ends.",
                line.at,
                "Put the rows in order, without overlap.",
            )
        last[exact] = (ends.high, ends.high_open)


def _ends(value: Possible) -> Span | None:
    return value.hull


def _follows(span: Span, high: Fraction | None) -> bool:
    """Whether a row lies past the end of the row above it."""
    if high is None or span.low is None:
        return False
    return span.low > high or (span.low == high and span.low_open)


def choices_in(table: Table, key: str) -> frozenset[str]:
    """The words that a key of a table knows, over all editions."""
    found: dict[str, None] = {}
    for values in table.values.values():
        for row in values.rows:
            found.update(dict.fromkeys(str(atom) for atom in row.keys[key].atoms))
    return frozenset(found)


def words_given(table: Table) -> frozenset[str]:
    """The words that a table gives, over all editions."""
    return frozenset(str(atom) for values in table.values.values() for row in values.rows for atom in row.value.atoms)


def by_edition_of(values: Mapping[str, TableValues], editions: tuple[str, ...]) -> dict[str, TableValues]:
    """The values of a shared table for the editions of the pack that uses it: its own, or the one for all."""
    once = values.get(NO_EDITION)
    if once is None:
        return {edition: values[edition] for edition in editions if edition in values}
    return dict.fromkeys(editions or (NO_EDITION,), once)
