"""The schedule of a site: for each fact of each piece what the rules in force leave of it, with the rules that do so.

A cell holds while everything else stays as shown. A stated fact is freed first. A value falls away where a mandatory
rule surely asks for a correction with it, and not where that is open. A rule that turns down every value of a fact is
not this fact's to settle, and bounds it not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from pathlib import Path

from checker.catalog.model import Catalog, Fact, ValueType
from checker.catalog.reading.texts import read_text
from checker.catalog.wording import one_number, value_text
from checker.facts.conductors.numbers import STANDARD_DEVICES
from checker.facts.drawing import in_order
from checker.facts.known import Leaf, Origin
from checker.findings.assembling.loads_of_sets import loads_of_sets
from checker.findings.assembling.naming import leaf_name, subject_name
from checker.findings.review import Job, in_force_of, site_name_of
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.tasks.scheduling.bench import Bench, Pins, there
from checker.tasks.scheduling.combining import Group, leaves_something, marked_as_more, never_cured
from checker.tasks.scheduling.model import (
    Bound,
    ByTheTables,
    Cell,
    Column,
    Combination,
    Note,
    Schedule,
    Table,
    Together,
    Value,
)
from checker.tasks.scheduling.rows import Hanging, Rows, Section, read_rows
from checker.tasks.scheduling.sizes import SizesLeft, sizes_left
from checker.tasks.scheduling.trying import Trial, Tried, tried
from checker.tasks.scheduling.words import NONE_LEFT, left_words
from checker.values.possible import ABSENT, Possible, number

_Noting = Callable[[Callable[[Tried], frozenset[int]], Sequence[Tried]], tuple[int, ...]]

Progress = Callable[[int, int], None]
"""Told after each fact, and each group of facts that hang together, how many of how many are tried."""

MOST_COLUMNS = 24
"""Pieces and runs of one table."""

MOST_COMBINATIONS = 48
"""Combinations of one group of facts that hang together."""

SIZES_AROUND = 2
"""Standard sizes above and below what is shown that stand for a number in combinations."""


def schedule_of(path: Path, library: Library, overrides: Overrides, progress: Progress | None = None) -> Schedule:
    """What each piece of a site must be. Raises Unreadable."""
    return schedule_of_job(job_of(path, library, overrides), read_rows(), progress)


def schedule_of_job(job: Job, rows: Rows, progress: Progress | None = None) -> Schedule:
    """What each piece of a site must be in these rows."""
    return _Maker(Bench(job, dict(rows.figures)), rows, progress).schedule()


@dataclass(slots=True)
class _Notes:
    """Numbers notes in the order in which they are first called for."""

    bench: Bench
    told: dict[int, Note]

    def numbers(self, found: Sequence[tuple[int, Pins]]) -> tuple[int, ...]:
        """The numbers of some rules, each told at facts with which it misses."""
        return tuple(sorted(self._number(index, pins) for index, pins in found))

    def _number(self, index: int, pins: Pins) -> int:
        note = self.told.get(index)
        if note is None:
            note = self.told[index] = Note(len(self.told) + 1, self.bench.told(index, pins))
        return note.number


class _Maker:
    """Puts a schedule together, cell by cell."""

    def __init__(self, bench: Bench, rows: Rows, progress: Progress | None) -> None:
        self._bench = bench
        self._rows = rows
        self._catalog: Catalog = bench.view.ground.catalog
        self._notes = _Notes(bench, {})
        self._progress = progress
        self._done = self._of = 0
        self._limits: list[str] = []
        self._not_told: list[str] = []
        self._bounded: set[Leaf] = set()
        self._is_by_the_tables = False
        table = bench.job.rules.numbers.tables.get(STANDARD_DEVICES)
        rows_of = () if table is None else table.rows
        self._sizes = tuple(row.value.number for row in rows_of if row.value.number is not None)

    def schedule(self) -> Schedule:
        columns = [(section, list(self._columns(section))) for section in self._rows.sections]
        groups = list(self._groups())
        self._of = sum(len(found) for _, listed in columns for _, _, found in listed) + len(groups)
        tables = tuple(
            Table(section.title, tuple(self._column(subject, title, found) for subject, title, found in listed))
            for section, listed in columns
        )
        job = self._bench.job
        return Schedule(
            site_name=site_name_of(job.site),
            file=job.site.file,
            digest=job.site.digest,
            in_force=in_force_of(job),
            tables=tuple(table for table in tables if any(column.cells for column in table.columns)),
            together=tuple(self._all_together(groups)),
            notes=tuple(self._notes.told.values()),
            not_told=tuple(dict.fromkeys(self._not_told)),
            by_the_tables=self._rows.ordinary.says if self._is_by_the_tables else "",
            limits=tuple(self._limits),
            sets=loads_of_sets(self._bench.view, ()),
        )

    # --- columns -----------------------------------------------------------------------------------------------------

    def _columns(self, section: Section) -> Iterator[tuple[Subject, str, tuple[Leaf, ...]]]:
        subjects = self._subjects(section)
        if len(subjects) > MOST_COLUMNS:
            rest = len(subjects) - MOST_COLUMNS
            self._limits.append(f"{section.title}: {rest} more than {MOST_COLUMNS} columns are left out.")
        for subject in subjects[:MOST_COLUMNS]:
            leaves = tuple(self._leaves(section, subject))
            yield subject, self._title(subject), leaves

    def _subjects(self, section: Section) -> list[Subject]:
        drawing = self._bench.view.ground.drawing
        found = [
            drawing.pieces[tag] for kind in section.kinds if kind in self._catalog.kinds for tag in drawing.of(kind)
        ]
        if "connection" in section.kinds:
            found += [feed.subject for feed in drawing.feeds]
        return sorted(found, key=lambda each: (drawing.walk_order.get(self._tag(each), 0), in_order(each.id)))

    def _tag(self, subject: Subject) -> str:
        drawing = self._bench.view.ground.drawing
        return drawing.feed(subject).to if subject.type == "connection" else subject.id

    def _title(self, subject: Subject) -> str:
        kind = self._catalog.kinds.get(subject.type)
        return kind.title if kind is not None else "run"

    def _leaves(self, section: Section, subject: Subject) -> Iterator[Leaf]:
        for name in section.facts:
            if self._catalog.fact(name, subject.type) is not None:
                yield Leaf(subject, name)
        for way in self._ways(subject):
            for name in section.ways:
                whole = name.partition(".")[0]
                if not self._bench.view.read(way, whole).only_absent:
                    yield Leaf(way, name)

    def _ways(self, subject: Subject) -> Iterator[Subject]:
        """The ways of a piece through which something is fed or by which it is fed."""
        drawing, site = self._bench.view.ground.drawing, self._bench.job.site
        feeds = [feed.way for feed in drawing.out_of(subject.id)] if subject.type != "connection" else []
        wanted = {f"{subject.id}/{way}" for way in (*feeds, *drawing.inputs(subject.id), "main") if way is not None}
        yield from (each for each in site.things if each.type == "way" and each.id in wanted)

    def _column(self, subject: Subject, title: str, leaves: tuple[Leaf, ...]) -> Column:
        cells = []
        for leaf in leaves:
            cell = self._cell(leaf)
            if cell is not None:
                cells.append(cell)
            self._tell()
        return Column(subject_name(self._bench.view, subject).words, title, tuple(cells))

    def _tell(self) -> None:
        self._done += 1
        if self._progress is not None:
            self._progress(self._done, self._of)

    # --- cells -------------------------------------------------------------------------------------------------------

    def _cell(self, leaf: Leaf) -> Cell | None:
        """A fact that nothing is said of and that nothing bounds is no cell."""
        fact, known = self._catalog.facts[leaf.name], self._bench.view.known(leaf.subject, leaf.name)
        shown = "" if known.origin is Origin.NOT_SHOWN else value_text(fact, known.value, known.unit)
        trial = self._trial(leaf, {})
        if trial.cut:
            self._not_told.append(f"{leaf_name(leaf)}: {fact.title}")
        trial = self._as_supplied(leaf, trial, known.value) if shown else trial
        elsewhere = self._settled_elsewhere(leaf, trial, known.value) if shown else frozenset()
        bound = self._bound(leaf, fact, trial.without(elsewhere), {})
        bound = replace(bound, elsewhere=self._noting(leaf, {})(lambda each: _corrected(each) & elsewhere, trial.tried))
        is_given_up = leaf.name in self._rows.decisions and shown != "" and self._keeps_not(trial, known.value)
        bound = replace(bound, gives_up=shown) if is_given_up and not bound.nothing_left else bound
        if bound.must or bound.undecided_notes or bound.open:
            self._bounded.add(leaf)
        is_silent = not bound.says_something and not bound.larger
        if is_silent and (not shown or known.origin is Origin.DERIVED or _is_no_figure(fact, known.value)):
            return None
        judged = known.value.is_exact and shown and not is_given_up
        kept = _keeps(trial.without(elsewhere), known.value) if judged else None
        return Cell(
            leaf.subject.id,
            leaf.name,
            self._row_title(leaf, fact),
            shown,
            known.at,
            bound,
            kept,
            self._hanging(leaf, trial),
            self._bench.follows(leaf),
        )

    def _settled_elsewhere(self, leaf: Leaf, trial: Trial, shown: Possible) -> frozenset[int]:
        """The rules missed with what is shown that this fact is not the one to settle: where other rules turn down
        whatever would, and where the supply gives the fact.
        """
        mine = next((each for each in trial.tried if _is_in(shown, each.value)), None)
        if mine is None or not (shown.is_exact and _corrected(mine)):
            return frozenset()
        is_given = self._as_the_utility_has(leaf, shown)
        return _corrected(mine) if is_given or not any(map(_stays, trial.tried)) else frozenset()

    def _as_supplied(self, leaf: Leaf, trial: Trial, shown: Possible) -> Trial:
        """The same without what nothing turns down and the supply does not give."""
        if not self._as_the_utility_has(leaf, shown):
            return trial
        given = tuple(each for each in trial.tried if _is_in(shown, each.value) or _corrected(each))
        return Trial(given, trial.cut)

    def _as_the_utility_has(self, leaf: Leaf, shown: Possible) -> bool:
        """Whether the supply gives this fact, and what is shown is what it gives."""
        if leaf.name not in self._rows.of_the_supply:
            return False
        drawing = self._bench.view.ground.drawing
        utilities = (drawing.pieces[tag] for tag in drawing.of("utility_supply"))
        return any(self._bench.view.read(each, leaf.name) == shown for each in utilities)

    def _keeps_not(self, trial: Trial, shown: Possible) -> bool:
        return shown.is_exact and _keeps(trial, shown) is False

    def _row_title(self, leaf: Leaf, fact: Fact) -> str:
        return f"{fact.title}, {leaf.subject.id}" if leaf.subject.type == "way" else fact.title

    def _trial(self, leaf: Leaf, pins: Pins, together: frozenset[Leaf] = frozenset()) -> Trial:
        """A fact tried alone, or with others pinned by the rules that ask something of it or read two of them."""
        free = {**pins, **there(self._bench.view, leaf), leaf: self._catalog.facts[leaf.name].anything_said()}
        rules = self._bench.turning(free)
        if leaf.name in self._rows.of_its_own and not together:
            rules = tuple(each for each in rules if self._bench.planned[each].subject == leaf.subject)
        if together:
            rules = tuple(each for each in rules if self._is_about(each, leaf, together))
        if not rules:
            return Trial(())
        found = tried(self._bench, leaf, pins, rules)
        return found if together else found.without(found.never_cured)

    def _is_about(self, rule: int, leaf: Leaf, together: frozenset[Leaf]) -> bool:
        free = {**there(self._bench.view, leaf), leaf: self._catalog.facts[leaf.name].anything_said()}
        asked = self._bench.with_figures(free)
        return self._bench.asks_of(rule, asked) or len(self._bench.read_by(rule) & together) > 1

    def _bound(self, leaf: Leaf, fact: Fact, trial: Trial, pins: Pins) -> Bound:
        """What a trial leaves in words, with its notes."""
        if not trial.tried:
            return Bound()
        if fact.type is ValueType.WIRE_SIZE:
            return self._bound_of_sizes(leaf, fact, trial, pins)
        sizes = self._sizes if fact.quantity == "load_current" else ()
        words = partial(left_words, fact, trial.tried, only_sizes=leaf.name in self._rows.by_size)
        left = [each for each in trial.tried if _stays(each)]
        # Where nothing is turned down and nothing told apart, there is nothing to say but what is open.
        told = _told(left) or (left if len(left) == len(trial.tried) else [])
        doubtful = frozenset(id(each) for each in left) - frozenset(id(each) for each in told)
        is_by_size = leaf.name in self._rows.by_size
        if doubtful and not _is_one_sided(fact, trial, left, told):
            # What is sure would read as all that is asked: what is turned down is told, then what is open.
            must = words(_stays, sizes if is_by_size else ())
            told = [each for each in told if not _is_an_end(fact, each, trial) and not _is_sliver(fact, each)]
        else:
            must = words(lambda each: _stays(each) and id(each) not in doubtful, sizes)
        doubted = [each for each in left if id(each) in doubtful and not _is_an_end(fact, each, trial)]
        undecided = words(lambda each: each in doubted, sizes if is_by_size else ()) if doubted and told else ""
        better = left_words(fact, told, lambda each: not each.verdict.advised, sizes) if told else ""
        if better == NONE_LEFT:
            better = ""
        notes = self._noting(leaf, pins)
        is_open = not must and not doubted
        return Bound(
            must=must,
            must_notes=notes(_corrected, trial.tried) if must else (),
            undecided=undecided,
            undecided_notes=notes(_open, doubted),
            better=better,
            better_notes=notes(lambda each: each.verdict.advised, told) if better else (),
            open=notes(_open, told),
            brings=notes(lambda each: each.verdict.brings, left),
            nothing_left=not left,
            values=self._values(fact, trial, notes),
            until=self._until(leaf, pins, told if is_open else doubted),
        )

    def _bound_of_sizes(self, leaf: Leaf, fact: Fact, trial: Trial, pins: Pins) -> Bound:
        """The same of a size of conductors, of which a bound is soon read as advice."""
        shown, notes = self._bench.view.read(leaf.subject, leaf.name), self._noting(leaf, pins)
        left = sizes_left(fact, trial.tried, shown)
        besides = left.whatever
        tables = self._by_the_tables(leaf, fact, pins, trial) if left.open or besides else None
        if self._is_no_least(leaf, left, tables):
            left = left.without_least
        elif left.undecided and not self._is_sure_as_shown(shown, left, trial):
            # A size that does whatever is open is far from one that is asked for.
            left = replace(left, must="", undecided="")
        stay = [each for each in trial.tried if _stays(each)]
        better = self._better_size(fact, [each for each in stay if each not in (*left.open, *left.above)])
        told = None if tables is None or tables.must == left.must else self._told_by_the_tables(leaf, pins, tables)
        return Bound(
            must=left.must,
            must_notes=notes(_corrected, left.turned_down) if left.must else (),
            undecided=left.undecided,
            undecided_notes=notes(lambda each: _open(each) - left.whatever, left.open),
            better=better,
            better_notes=notes(lambda each: each.verdict.advised, stay) if better else (),
            open=notes(lambda each: _open(each) & left.whatever, stay),
            brings=notes(lambda each: each.verdict.brings, stay),
            nothing_left=not stay,
            values=self._values(fact, trial, notes),
            until=self._until(leaf, pins, left.open or (() if left.must else stay)),
            never=left.never,
            by_the_tables=told,
            larger=left.larger,
            larger_notes=notes(lambda each: _corrected(each) | (_open(each) - besides), left.above),
        )

    def _is_no_least(self, leaf: Leaf, left: SizesLeft, tables: SizesLeft | None) -> bool:
        """Whether what is open whatever the size asks more even of an ordinary run, or is asked of this run and nobody
        can tell how much.
        """
        if tables is not None:
            return _is_smaller(left.least, tables.least)
        return any(self._bench.planned[index].subject == leaf.subject for index in left.whatever)

    def _is_sure_as_shown(self, shown: Possible, left: SizesLeft, trial: Trial) -> bool:
        mine = next((each for each in trial.tried if each.value == shown), None)
        return mine is not None and _stays(mine) and mine not in left.open

    def _better_size(self, fact: Fact, told: Sequence[Tried]) -> str:
        better = left_words(fact, told, lambda each: not each.verdict.advised, ()) if told else ""
        return "" if better == NONE_LEFT else better

    def _by_the_tables(self, leaf: Leaf, fact: Fact, pins: Pins, trial: Trial) -> SizesLeft | None:
        """What is left where this run is as most runs are, as far as the drawing leaves that open; None where that
        tells no size either.
        """
        ordinary = self._as_most_runs(leaf)
        if not ordinary:
            return None
        rules = frozenset().union(*(each.verdict.corrected | each.verdict.may_correct for each in trial.tried))
        found = tried(self._bench, leaf, {**ordinary, **pins}, sorted(rules))
        left = sizes_left(fact, found.tried, ABSENT)
        return None if left.must in ("", NONE_LEFT) else left

    def _told_by_the_tables(self, leaf: Leaf, pins: Pins, left: SizesLeft) -> ByTheTables:
        self._is_by_the_tables = True
        until = self._until(leaf, {**self._as_most_runs(leaf), **pins}, left.open)
        return ByTheTables(left.must, left.undecided, until)

    def _as_most_runs(self, leaf: Leaf) -> Pins:
        """What an ordinary run has, of what is open in this one, and its figures worked out; nothing for a conductor
        that has no ampacity.
        """
        whole = leaf.name.partition(".")[0]
        figures = [figure for figure, of in self._rows.figures if of == whole]
        worked_out = {Leaf(leaf.subject, each): self._catalog.facts[each].anything() for each in figures}
        return {**self._ordinary(leaf), **worked_out} if figures else {}

    def _ordinary(self, leaf: Leaf) -> Pins:
        """What an ordinary run has, of what is open in this one."""
        view, found = self._bench.view, {}
        for name, text in self._rows.ordinary.facts:
            fact = self._catalog.fact(name, leaf.subject.type)
            if fact is not None and not view.read(leaf.subject, name).is_exact:
                found[Leaf(leaf.subject, name)] = read_text(text, fact, may_be_none=fact.may_be_none).value
        return found

    def _noting(self, leaf: Leaf, pins: Pins) -> _Noting:
        """Gives the numbers of the notes of what rules say of some values."""
        at = {**pins, **there(self._bench.view, leaf)}

        def notes(select: Callable[[Tried], frozenset[int]], among: Sequence[Tried]) -> tuple[int, ...]:
            found: dict[int, Pins] = {}
            for each in among:
                for index in sorted(select(each)):
                    found.setdefault(index, {**at, leaf: each.value})
            return self._notes.numbers(tuple(found.items()))

        return notes

    def _values(self, fact: Fact, trial: Trial, notes: _Noting) -> tuple[Value, ...]:
        return tuple(
            Value(
                value_text(fact, each.value, fact.unit),
                each.value,
                _stays(each),
                notes(_corrected, [each]),
                notes(_open, [each]),
            )
            for each in trial.tried
        )

    def _until(self, leaf: Leaf, pins: Pins, doubted: Sequence[Tried]) -> tuple[str, ...]:
        """What the rules wait for that cannot tell of some values: figures before what they are worked out from, and
        what is open of the piece itself before what is of others.
        """
        at = {**pins, **there(self._bench.view, leaf)}
        found: dict[str, tuple[bool, bool]] = {}
        for each in doubted[:1]:
            for index in sorted(_open(each)):
                for need in self._bench.told(index, {**at, leaf: each.value}).needs:
                    if need.fact != leaf_name(leaf):
                        is_elsewhere = not need.fact.startswith(f"{leaf.subject.id}.")
                        found.setdefault(need.title, (bool(need.in_place_of), is_elsewhere))
        return tuple(sorted(found, key=lambda title: found[title]))

    def _hanging(self, leaf: Leaf, trial: Trial) -> tuple[str, ...]:
        """Other facts of the schedule that the rules which bound this one read."""
        rules = frozenset().union(*(each.verdict.corrected for each in trial.tried))
        names = {name for section in self._rows.sections for name in (*section.facts, *section.ways)}
        read = frozenset().union(*(self._bench.read_by(index) for index in rules))
        others = sorted((each for each in read if each != leaf and each.name in names), key=lambda each: each.order)
        return tuple(leaf_name(each) for each in others)

    # --- facts that hang together ------------------------------------------------------------------------------------

    def _groups(self) -> Iterator[tuple[Hanging, Subject]]:
        drawing = self._bench.view.ground.drawing
        for hanging in self._rows.together:
            subjects = (
                [feed.subject for feed in drawing.feeds]
                if hanging.of == "connection"
                else [drawing.pieces[tag] for tag in drawing.of(hanging.of)]
            )
            yield from ((hanging, subject) for subject in subjects[:MOST_COLUMNS])

    def _all_together(self, groups: Sequence[tuple[Hanging, Subject]]) -> Iterator[Together]:
        for hanging, subject in groups:
            found = self._together(hanging, subject)
            if found is not None:
                yield found
            self._tell()

    def _together(self, hanging: Hanging, subject: Subject) -> Together | None:
        leaves = [self._leaf(subject, path) for path in hanging.facts]
        if any(leaf is None for leaf in leaves):
            return None
        *first, last = [leaf for leaf in leaves if leaf is not None]
        is_drawn = not there(self._bench.view, last)
        if subject.type == "connection" and is_drawn and last not in self._bounded:
            # Runs are many, and a size that nothing bounds in the metal shown is seldom bounded in another.
            return None
        group = Group(tuple(first), last, tuple(self._catalog.facts[leaf.name] for leaf in (*first, last)))
        listed = [self._standing_for(leaf, fact) for leaf, fact in zip(first, group.facts, strict=False)]
        if not all(listed):
            return None
        every = list(product(*listed))
        if len(every) == 1:
            # One combination of what is decided is what the cells tell.
            return None
        chosen = every[:MOST_COMBINATIONS]
        trials = [self._trial(last, self._pins(first, values), group.leaves) for values in chosen]
        never = never_cured(trials)
        trials = [trial.without(never) for trial in trials]
        if not any(each.verdict.corrected for trial in trials for each in trial.tried):
            return None
        alone = [self._of_the_first(group, self._pins(first, values)) for values in chosen]
        group = replace(
            group,
            elsewhere=frozenset() if any(map(leaves_something, trials)) else self._bench.missed_as_drawn,
            whatever=frozenset.intersection(*alone),
        )
        combinations = [
            self._combination(group, values, trial, corrected - group.whatever)
            for values, trial, corrected in zip(chosen, trials, alone, strict=True)
        ]
        return Together(
            f"{subject_name(self._bench.view, subject).words}: {hanging.title}",
            tuple(leaf_name(leaf) for leaf in (*first, last)),
            tuple(self._row_title(leaf, fact) for leaf, fact in zip((*first, last), group.facts, strict=True)),
            tuple(marked_as_more(combinations, first, self._rows.no_more)),
            len(every) - len(chosen),
        )

    def _of_the_first(self, group: Group, pins: Pins) -> frozenset[int]:
        """The rules that ask something of the first facts, whatever the last one is, and turn down what is pinned."""
        free = {leaf: self._catalog.facts[leaf.name].anything_said() for leaf in group.first}
        rules = self._bench.turning({**pins, **free})
        others = [each for each in rules if not self._is_about(each, group.last, group.leaves)]
        return self._bench.verdict(others, pins).corrected

    def _combination(
        self, group: Group, values: tuple[Possible, ...], trial: Trial, corrected: frozenset[int]
    ) -> Combination:
        pins, view = self._pins(group.first, values), self._bench.view
        left = trial.without(group.elsewhere)
        notes = self._noting(group.last, pins)
        bound = replace(
            self._bound(group.last, group.facts[-1], left, pins),
            elsewhere=notes(lambda each: _corrected(each) & group.elsewhere, trial.tried),
        )
        turned_down = self._notes.numbers(tuple((index, pins) for index in sorted(corrected)))
        if not leaves_something(left):
            turned_down = tuple(sorted({*turned_down, *notes(_corrected, left.tried)}))
        return Combination(
            tuple(value_text(fact, value) for fact, value in zip(group.facts, values, strict=False)),
            values,
            bound,
            all(view.read(each.subject, each.name) == value for each, value in zip(group.first, values, strict=True)),
            turned_down,
        )

    def _pins(self, leaves: Sequence[Leaf], values: Sequence[Possible]) -> Pins:
        found: dict[Leaf, Possible] = {}
        for leaf, value in zip(leaves, values, strict=True):
            found |= {**there(self._bench.view, leaf), leaf: value}
        return found

    def _leaf(self, subject: Subject, path: str) -> Leaf | None:
        """The fact at the end of a path of the file, where the drawing has what it leads to."""
        drawing = self._bench.view.ground.drawing
        side, of_way, name = path.partition("/")
        if not of_way:
            side, _, name = path.partition(".") if path.startswith(_SIDES) else ("", "", path)
        owner: Subject | None = subject
        if side:
            feed = drawing.into(subject.id, side)
            source = drawing.source_of(subject.id, side)
            owner = None if source is None else drawing.pieces[source]
            if of_way:
                owner = None if feed is None or feed.way is None else Subject("way", f"{feed.source}/{feed.way}")
        if owner is None or self._catalog.fact(name, owner.type) is None:
            return None
        whole = name.partition(".")[0]
        return None if of_way and self._bench.view.read(owner, whole).only_absent else Leaf(owner, name)

    def _standing_for(self, leaf: Leaf, fact: Fact) -> list[Possible]:
        """The values of a fact that are combined with others: all words and counts, of decisions those that may be, of
        numbers what is shown and the standard sizes beside it.
        """
        if fact.type is ValueType.QUANTITY:
            shown = self._bench.view.read(leaf.subject, leaf.name).number
            if shown is None:
                return []
            below = sorted(size for size in self._sizes if size < shown)[-SIZES_AROUND:]
            above = sorted(size for size in self._sizes if size > shown)[:SIZES_AROUND]
            return [number(each) for each in (*below, shown, *above)]
        every = [each.value for each in tried(self._bench, leaf, {}, ()).tried]
        if leaf.name not in self._rows.decisions:
            return every
        may_be = self._bench.view.read(leaf.subject, leaf.name)
        return [each for each in every if may_be.covers(each)]


_SIDES = ("normal.", "alternate.")


def _is_smaller(one: Tried | None, other: Tried | None) -> bool:
    low, high = (None if each is None else each.value.number for each in (one, other))
    return low is not None and high is not None and low < high


def _is_one_sided(fact: Fact, trial: Trial, left: Sequence[Tried], told: Sequence[Tried]) -> bool:
    """Whether what surely does reaches to the end of what was tried to which all that is left reaches, and something is
    turned down at the other end; of words, whether something surely does.
    """
    if not fact.type.is_ordered:
        return bool(told)
    numbers = [each for each in trial.tried if each.value.spans and not _is_an_end(fact, each, trial)]
    ends = (numbers[0], numbers[-1]) if numbers else ()
    return [each in told for each in ends] == [each in left for each in ends] in ([True, False], [False, True])


def _is_an_end(fact: Fact, each: Tried, trial: Trial) -> bool:
    """Whether a number is only where what was tried of a quantity begins or ends."""
    numbers = [other for other in trial.tried if other.value.spans]
    return fact.type is ValueType.QUANTITY and len(numbers) > 1 and each in (numbers[0], numbers[-1])


def _is_sliver(fact: Fact, each: Tried) -> bool:
    """Whether both ends of a stretch print as one number: what lies between is lost in rounding."""
    span = next(iter(each.value.spans), None)
    if span is None or span.is_point or span.low is None or span.high is None:
        return False
    return one_number(fact, span.low, fact.unit) == one_number(fact, span.high, fact.unit)


def _is_no_figure(fact: Fact, shown: Possible) -> bool:
    """Whether a figure is shown as none, as the rating on a fuel that the set is not made for."""
    return fact.type is ValueType.QUANTITY and shown.only_absent


def _corrected(each: Tried) -> frozenset[int]:
    return each.verdict.corrected


def _open(each: Tried) -> frozenset[int]:
    return each.verdict.may_correct


def _told(left: Sequence[Tried]) -> list[Tried]:
    """What is left, without values of which a rule cannot tell that is met by others."""
    everywhere = frozenset.intersection(*map(_open, left)) if left else frozenset()
    return [each for each in left if _open(each) <= everywhere]


def _stays(each: Tried) -> bool:
    return not each.verdict.corrected


def _keeps(trial: Trial, shown: Possible) -> bool | None:
    """Whether what is shown is among what is left; None where that cannot be told of it."""
    told = _told([each for each in trial.tried if _stays(each)])
    for each in trial.tried:
        if _is_in(shown, each.value):
            return False if not _stays(each) else True if each in told else None
    return True if not trial.tried else None


def _is_in(shown: Possible, value: Possible) -> bool:
    return value == shown or (shown.number is not None and any(span.holds(shown.number) for span in value.spans))
