"""What a schedule says in sentences, whatever sets them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.report.capacity import listed_and_given_words
from checker.report.paragraphs import dated_words
from checker.report.words import authority_text, counted, joined
from checker.tasks.scheduling.model import Bound, ByTheTables, Cell, Column, Combination, Note, Schedule, Together

HOW_TO_READ = (
    "Each cell says what the rules in force leave of one property while all else stays as shown; the numbers are "
    "those of the notes. Open until shown: no rule turns it down yet, and none can be met before that is on the "
    "drawing; it is no advice. Practice: better, and not asked for. May bring, brings more: a correction of something "
    "else, as of a sign or of another conductor. Not settled here: missed as drawn, and cured by something else. Where "
    "nothing is said, no rule bounds it."
)
TOGETHER = "What hangs together"
BY_THE_TABLES = "by the tables alone"
MOST_NAMED = 2
"""So many of the facts that are missing are named in a cell; the review asks for all."""
MORE_MAY_BE_WANTED = "and what is not told yet may want more"
NOT_SETTLED_HERE = "not settled here"
CHOSEN_BY_WHO_STARTS = "Who connects it by hand chooses which of them run at once."
NONE_OFFERED = "No combination of these is left while all else stays as shown."
NO_MORE = "More than is wanted does no harm and is not listed."
HOW_TO_READ_TOGETHER = "Where two of these are changed at once, these lines count and not the cells above."


Line = tuple[str, tuple[int, ...]]
"""What is left in words, and the notes that say so."""
NOT_BOUNDED = "not bounded"


def title_of(schedule: Schedule) -> str:
    """Site, event, date and jurisdiction."""
    return f"{schedule.site_name}: what each piece must be, {dated_words(schedule.in_force)}"


def column_words(column: Column) -> str:
    """The head of a column: the tag and what it is; of a run its ends alone."""
    return column.tag if column.title == "run" else f"{column.tag}, {column.title}"


def rows_of(columns: Sequence[Column]) -> Iterator[tuple[str, list[Cell | None]]]:
    """Each property with its cell in each column. Properties of one name stand in one row, a way has its own."""
    for row in dict.fromkeys(_row(cell) for column in columns for cell in column.cells):
        yield row[1], [next((each for each in column.cells if _row(each) == row), None) for column in columns]


def _row(cell: Cell) -> tuple[str, str]:
    return (cell.fact, cell.title)


def bound_words(bound: Bound) -> Iterator[Line]:
    """What is left, each line with the numbers of the notes that say so."""
    if bound.must:
        given_up = f"only if you give up {bound.gives_up}: " if bound.gives_up else ""
        yield f"{given_up}{bound.must}", bound.must_notes
    if bound.undecided or bound.undecided_notes:
        yield _undecided_words(bound), bound.undecided_notes
    if bound.by_the_tables is not None:
        yield _by_the_tables_words(bound.by_the_tables), ()
    if bound.better:
        yield f"practice: {bound.better}", bound.better_notes
    if bound.open:
        yield _open_words(bound), bound.open
    if bound.larger:
        yield f"larger than {bound.larger} brings more", bound.larger_notes
    if bound.brings:
        yield "may bring", bound.brings
    if bound.elsewhere:
        yield NOT_SETTLED_HERE, bound.elsewhere


def _open_words(bound: Bound) -> str:
    if bound.must or bound.undecided_notes:
        return MORE_MAY_BE_WANTED
    return f"open until shown: {_first(bound.until)}" if bound.until else "open"


def _undecided_words(bound: Bound) -> str:
    """What is open, until what is shown; of a size with the one below which none can do, which is no advice."""
    open_until = f"open until shown: {_first(bound.until)}" if bound.until else "open"
    told = f"{bound.undecided} {open_until}" if bound.undecided else open_until
    # Where the least of an ordinary run follows, a smaller one that only a tap or cold air allows would read as advice.
    return f"{told}; below {bound.never} none can do" if bound.never and bound.by_the_tables is None else told


def _by_the_tables_words(found: ByTheTables) -> str:
    told = f"{BY_THE_TABLES}: {found.must}"
    until = f" until shown: {_first(found.until)}" if found.until else ""
    return f"{told}; {found.undecided} open{until}" if found.undecided else told


def _first(titles: Sequence[str]) -> str:
    return joined([*titles[:MOST_NAMED], *(["more"] if len(titles) > MOST_NAMED else [])])


def shown_words(cell: Cell) -> str:
    """What is shown; that nothing is, where something is wanted."""
    if not cell.shown:
        return "not shown" if cell.bound.must or cell.bound.undecided_notes else ""
    # Where no choice of it is left, what is shown is no worse than the others: the findings of the notes stand.
    aside = ", which is not among them" if cell.kept is False and not cell.bound.nothing_left else ""
    return f"shown {cell.shown}{aside}{', and follows from what else is drawn' if cell.follows else ''}"


def combinations_told(together: Together) -> Iterator[tuple[str, tuple[Line, ...]]]:
    """Each thing that is left, once, with all combinations that leave it and with the name of the fact that is told."""
    alike: dict[tuple[Line, ...], list[Combination]] = {}
    for each in together.combinations:
        if each.is_offered:
            alike.setdefault(tuple(bound_words(each.bound)) or ((NOT_BOUNDED, ()),), []).append(each)
    for lines, combinations in alike.items():
        yield f"{_all_given_words(together, combinations)}: {together.titles[-1]}", lines


def turned_down_told(together: Together) -> Iterator[Line]:
    """The combinations that the rules leave nothing of, with the notes that say so."""
    alike: dict[tuple[int, ...], list[Combination]] = {}
    for each in together.combinations:
        if each.turned_down:
            alike.setdefault(each.turned_down, []).append(each)
    for notes, combinations in alike.items():
        yield f"turned down: {_all_given_words(together, combinations)}", notes


def asides_told(together: Together) -> Iterator[str]:
    """What else has to be known of the combinations that are told."""
    if not any(each.is_offered for each in together.combinations):
        yield NONE_OFFERED
    if any(each.is_more and not each.is_offered and not each.turned_down for each in together.combinations):
        yield NO_MORE
    if together.left_out:
        yield f"{counted(together.left_out, 'combination')} more not tried."


def _all_given_words(together: Together, combinations: Sequence[Combination]) -> str:
    given = "; or ".join(_given_words(together, each) for each in _gathered(combinations))
    return f"{given}{_as_shown_words(combinations)}"


Given = tuple[tuple[str, ...], ...]
"""For each of the first facts the values that stand together."""


def _gathered(combinations: Sequence[Combination]) -> list[Given]:
    """Combinations as few products of values, gathered from the last fact to the first."""
    found: list[Given] = [tuple((value,) for value in each.given) for each in combinations]
    for place in reversed(range(len(found[0]) if found else 0)):
        others: dict[Given, list[str]] = {}
        for given in found:
            others.setdefault((*given[:place], *given[place + 1 :]), []).extend(given[place])
        found = [(*rest[:place], tuple(dict.fromkeys(values)), *rest[place:]) for rest, values in others.items()]
    return found


def _given_words(together: Together, given: Given) -> str:
    titled = zip(together.titles, given, strict=False)
    return ", ".join(f"{title} {' or '.join(values)}" for title, values in titled)


def _as_shown_words(combinations: Sequence[Combination]) -> str:
    shown = next((each for each in combinations if each.as_shown), None)
    if shown is None:
        return ""
    return " (as shown)" if len(combinations) == 1 else f" (shown: {', '.join(shown.given)})"


def note_words(note: Note) -> tuple[str, str]:
    """What the rule asks of what, and on whose authority, with its id."""
    found = note.finding
    return f"{found.subject.words}: {found.title}.", f"{authority_text(found)}; {found.rule}"


def by_hand(schedule: Schedule) -> Iterator[str]:
    """What is listed past each set that is connected by hand, against what it gives."""
    for each in schedule.sets:
        words = listed_and_given_words(each)
        if words:
            yield f"{words} {CHOSEN_BY_WHO_STARTS}"


def closing(schedule: Schedule) -> Iterator[str]:
    """What is shown and falls away, what was not tried, and what no schedule says."""
    cells = (cell for table in schedule.tables for column in table.columns for cell in column.cells)
    outside = [cell for cell in cells if cell.kept is False and not cell.bound.nothing_left]
    if outside:
        names = joined(f"{cell.subject} {cell.title}" for cell in outside)
        yield f"Shown and not among what is left: {names}."
    else:
        yield "Nothing that is shown is outside what the rules leave, as far as they could be judged."
    if schedule.by_the_tables:
        yield (
            f"By the tables alone: with {schedule.by_the_tables}, where nothing else is shown. It is the least "
            "that the device ahead leaves then, and no size to pull before all of it is known."
        )
    if schedule.not_told:
        yield f"Not or not wholly tried: {'; '.join(schedule.not_told)}."
    yield from schedule.limits
    yield from by_hand(schedule)
    yield "What no rule in force compares is not in it: size, make and features are chosen by who designs and signs."
