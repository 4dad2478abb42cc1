"""How the rules in force on one side differ from those on another: two dates, two towns, two editions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.catalog.model import Stage, ValueType
from checker.findings.assembling.naming import plain_number
from checker.findings.assembling.told import change_told, interpretations_told
from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Condition, Group
from checker.rules.model.in_force import DeletedHere, RuleInForce
from checker.rules.model.numbers import Row, Table, TableKey, TableValues
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Instead, NamedException, Reading, Requires
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.wording import listing
from checker.rules.words.condition_words import (
    LONGEST_LINE,
    Clause,
    ConditionWords,
    clause_lines,
    value_words,
    words_in_force,
)
from checker.rules.words.plain import plain, plain_requires
from checker.rules.words.spoken import spoken
from checker.values.kinds import KINDS
from checker.values.possible import Possible
from checker.values.quantities import show
from checker.values.wire_sizes import show_wire_size

RuleKey = tuple[str, str]
"""The pack or layer of a rule, and its id (with the layer behind it where it holds only somewhere)."""

MOST_ROWS = 6
"""Rows of a table that are told; of more only how many there are."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in which two rules differ. ``aspect`` is a word of this list: section, citation, number, table, when,
    exception, instead, requirement, way, reading, look, outcome, due, wording, versions, interpretation. ``before`` and
    ``after`` are in words; None where there is no such thing on that side.
    """

    aspect: str
    what: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class RuleDifference:
    """One rule that appears, goes, or changes, with what layers did to make it so."""

    pack: str
    id: str
    title: str
    subject: str
    kind: str
    cites_before: tuple[Citation, ...]
    cites_after: tuple[Citation, ...]
    differences: tuple[Difference, ...] = ()
    because: tuple[str, ...] = ()

    @property
    def key(self) -> RuleKey:
        """What it is found by."""
        return self.pack, self.id


Tables = Mapping[tuple[str, str], Table]
"""The tables of packs, by pack and name."""

APPEARS, GOES, CHANGES = "appears", "goes", "changes"


@dataclass(frozen=True, slots=True)
class RuleSide:
    """The rules on one side, and those deleted there."""

    rules: tuple[RuleInForce, ...]
    deleted: tuple[DeletedHere, ...] = ()


@dataclass(frozen=True, slots=True)
class RulesCompared:
    """Every rule that is not the same on both sides, and how many are."""

    differences: tuple[RuleDifference, ...]
    same: int

    def of_kind(self, kind: str) -> tuple[RuleDifference, ...]:
        """Those that appear, go, or change."""
        return tuple(each for each in self.differences if each.kind == kind)


def rules_compared(
    before: RuleSide, after: RuleSide, vocabulary: Vocabulary, packs: Sequence[Pack] = ()
) -> RulesCompared:
    """Compare the rules of two sides: those that go or change in the order of one side, then those that appear.

    ``packs`` tell of what kind the keys of their tables are.
    """
    tables = {(pack.id, name): table for pack in packs for name, table in pack.tables.items()}
    old, new = _by_key(before.rules), _by_key(after.rules)
    found: list[RuleDifference] = []
    same = 0
    for key, rule in old.items():
        if key not in new:
            found.append(_gone(key, rule, after.deleted))
            continue
        changed = _changed(key, _Pair(rule, new[key], vocabulary, tables))
        if changed is None:
            same += 1
        else:
            found.append(changed)
    found += [_appeared(key, rule, before.deleted) for key, rule in new.items() if key not in old]
    return RulesCompared(tuple(found), same)


def _by_key(rules: Iterable[RuleInForce]) -> dict[RuleKey, RuleInForce]:
    """The rules by pack and id. Where several editions of a document hold in one place, the second is numbered."""
    found: dict[RuleKey, RuleInForce] = {}
    seen: Counter[RuleKey] = Counter()
    for rule in rules:
        key = rule_key(rule)
        seen[key] += 1
        found[key if seen[key] == 1 else (key[0], f"{key[1]} {seen[key]}")] = rule
    return found


def rule_key(rule: RuleInForce) -> RuleKey:
    """What a rule is found by, whatever its edition."""
    return rule.rule.pack, rule.id.partition(":")[2]


def _gone(key: RuleKey, rule: RuleInForce, deleted: Iterable[DeletedHere]) -> RuleDifference:
    return _whole(key, rule, GOES, rule.cites, (), _told_of(rule, deleted))


def _appeared(key: RuleKey, rule: RuleInForce, deleted: Iterable[DeletedHere]) -> RuleDifference:
    told = tuple(f"No longer: {each}" for each in _told_of(rule, deleted))
    return _whole(key, rule, APPEARS, (), rule.cites, (*map(change_told, rule.history), *told))


def _told_of(rule: RuleInForce, deleted: Iterable[DeletedHere]) -> tuple[str, ...]:
    return tuple(change_told(each.history) for each in deleted if each.rule.name == rule.name)


def _whole(
    key: RuleKey,
    rule: RuleInForce,
    kind: str,
    before: tuple[Citation, ...],
    after: tuple[Citation, ...],
    because: tuple[str, ...],
    differences: tuple[Difference, ...] = (),
) -> RuleDifference:
    body = rule.rule
    return RuleDifference(*key, body.title, body.subject, kind, before, after, differences, because)


def _changed(key: RuleKey, pair: _Pair) -> RuleDifference | None:
    old, new = pair.old, pair.new
    differences = tuple(dict.fromkeys(pair.differences()))
    if not differences:
        return None
    was = frozenset(map(change_told, old.history))
    told = tuple(each for each in map(change_told, new.history) if each not in was)
    now = frozenset(map(change_told, new.history))
    ended = tuple(f"No longer: {each}" for each in map(change_told, old.history) if each not in now)
    return _whole(key, new, CHANGES, old.cites, new.cites, (*told, *ended), differences)


class _Pair:
    """One rule on both sides."""

    def __init__(self, old: RuleInForce, new: RuleInForce, vocabulary: Vocabulary, tables: Tables) -> None:
        self._table_shapes = tables
        self.old = old
        self.new = new
        self._vocabulary = vocabulary
        self._words_old = words_in_force(old, vocabulary)
        self._words_new = words_in_force(new, vocabulary)

    def differences(self) -> Iterator[Difference]:
        """Everything in which the two differ, in the order in which a rule is read."""
        yield from self._sections()
        yield from self._numbers()
        yield from self._tables()
        yield from self._when()
        yield from self._exceptions()
        yield from self._replacements()
        yield from self._requirements()
        yield from self._readings()
        yield from self._kind()
        yield from self._texts()
        yield from self._versions()

    def _around(self, rule: RuleInForce) -> Around:
        return Around(self._vocabulary.types_of(rule.rule.subject))

    def _spoken(self, text: str) -> str:
        return spoken(text, self.new.rule, self._vocabulary)

    def _line_old(self, condition: Condition) -> str:
        return self._words_old.told(condition, self._around(self.old))

    def _line_new(self, condition: Condition) -> str:
        return self._words_new.told(condition, self._around(self.new))

    # --- sections and numbers ----------------------------------------------------------------------------------------

    def _sections(self) -> Iterator[Difference]:
        old, new = _by_document(self.old.cites), _by_document(self.new.cites)
        for document in dict.fromkeys((*old, *new)):
            before, after = old.get(document), new.get(document)
            if before != after:
                was, now = (None if each is None else listing(each) for each in (before, after))
                yield Difference("section", document, was, now)
        yield from self._certainty()

    def _certainty(self) -> Iterator[Difference]:
        """Sections that both sides cite, and that somebody has looked up since, or not any more."""
        old = {(each.document, each.section): each.verify for each in self.old.cites}
        for cite in self.new.cites:
            verify = old.get((cite.document, cite.section))
            if verify is not None and verify != cite.verify:
                words = ["to be verified" if each else "confirmed" for each in (verify, cite.verify)]
                yield Difference("citation", f"citation of {cite.section}", words[0], words[1])

    def _numbers(self) -> Iterator[Difference]:
        old, new = self.old.parameters, self.new.parameters
        for name in dict.fromkeys((*old, *new)):
            before, after = old.get(name), new.get(name)
            if before is None or after is None or before.value != after.value:
                title = {**self.old.parameter_titles, **self.new.parameter_titles}.get(name, name.replace("-", " "))
                was, now = (None if each is None else value_words(each, self._vocabulary) for each in (before, after))
                yield Difference("number", title, was, now)

    def _tables(self) -> Iterator[Difference]:
        old, new = self.old.tables, self.new.tables
        for name in dict.fromkeys((*old, *new)):
            before, after = old.get(name), new.get(name)
            title = f"table {name.replace('-', ' ')}"
            if before is None or after is None:
                yield Difference("table", title, None if before is None else "read", None if after is None else "read")
            else:
                yield from _rows_compared(title, before, after, self._table_shapes.get((self.new.rule.pack, name)))

    # --- conditions --------------------------------------------------------------------------------------------------

    def _when(self) -> Iterator[Difference]:
        old, new = self.old.rule.when, self.new.rule.when
        before, after = None if old is None else plain(old), None if new is None else plain(new)
        if before == after:
            return
        if _is_one_of(before, after):
            yield from self._told_lines("applies also where", (), _without(after, before))
        elif _is_one_of(after, before):
            yield from self._told_lines("applies also where", _without(before, after), ())
        else:
            asked_before, asked_after = _conjuncts(before), _conjuncts(after)
            gone = tuple(each for each in asked_before if each not in asked_after)
            come = tuple(each for each in asked_after if each not in asked_before)
            if len(gone) == len(come) == 1 and _alternatives(gone[0]) and _alternatives(come[0]):
                yield from self._alternatives(_alternatives(gone[0]), _alternatives(come[0]))
            else:
                yield from self._told_lines("applies only where", gone, come)

    def _alternatives(self, before: Sequence[Condition], after: Sequence[Condition]) -> Iterator[Difference]:
        """Of two lists of which any one may hold, those that go and those that come."""
        for each in before:
            if each not in after:
                yield Difference("when", "applies also where", self._line_old(each), None)
        for each in after:
            if each not in before:
                yield Difference("when", "applies also where", None, self._line_new(each))

    def _told_lines(self, what: str, gone: Sequence[Condition], come: Sequence[Condition]) -> Iterator[Difference]:
        """What was asked and what is asked; one of each stand together, since the one most often took the place of the
        other.
        """
        before, after = list(map(self._line_old, gone)), list(map(self._line_new, come))
        if len(before) == len(after) == 1:
            yield Difference("when", what, before[0], _or_same(before[0], after[0]))
            return
        yield from (Difference("when", what, each, None) for each in before)
        yield from (Difference("when", what, None, each) for each in after)

    def _exceptions(self) -> Iterator[Difference]:
        old = {each.id: each for each in self.old.rule.unless}
        new = {each.id: each for each in self.new.rule.unless}
        for name in dict.fromkeys((*old, *new)):
            yield from self._exception(old.get(name), new.get(name))

    def _exception(self, old: NamedException | None, new: NamedException | None) -> Iterator[Difference]:
        if old is not None and new is not None:
            if plain(old.condition) != plain(new.condition):
                before, after = self._line_old(old.condition), self._line_new(new.condition)
                yield Difference("exception", self._spoken(new.because), before, _or_same(before, after))
            return
        told = new or old
        assert told is not None
        before_words = None if old is None else self._line_old(old.condition)
        yield Difference(
            "exception",
            self._spoken(told.because),
            before_words,
            None if new is None else self._line_new(new.condition),
        )

    def _replacements(self) -> Iterator[Difference]:
        old = {each.id: each for each in self.old.rule.instead}
        new = {each.id: each for each in self.new.rule.instead}
        for name in dict.fromkeys((*old, *new)):
            before, after = old.get(name), new.get(name)
            if _plain_instead(before) != _plain_instead(after):
                was = None if before is None else self._instead(before, self._words_old, self.old)
                now = None if after is None else self._instead(after, self._words_new, self.new)
                yield Difference("instead", _spaced(name), was, None if now is None else _or_same(was, now))

    def _instead(self, each: Instead, words: ConditionWords, rule: RuleInForce) -> str:
        around = self._around(rule)
        return f"where {words.line(each.condition, around)}: {_requirement(each.requires, words, around)}"

    # --- what is asked -----------------------------------------------------------------------------------------------

    def _requirements(self) -> Iterator[Difference]:
        old, new = self.old.rule.requires, self.new.rule.requires
        if old is None or new is None:
            if old is not new:
                was, now = self._whole_requirement(old, new)
                yield Difference("requirement", "what is asked", was, now)
            return
        (any_before, parts_before), (any_after, parts_after) = plain_requires(old), plain_requires(new)
        if any_before != any_after:
            was, now = self._whole_requirement(old, new)
            yield Difference("way", "how it can be met", was, now)
            return
        yield from self._parts(old, new, dict(parts_before), dict(parts_after), "way" if any_after else "requirement")

    def _whole_requirement(self, old: Requires | None, new: Requires | None) -> tuple[str | None, str | None]:
        was = None if old is None else _requirement(old, self._words_old, self._around(self.old))
        return was, None if new is None else _requirement(new, self._words_new, self._around(self.new))

    def _parts(
        self,
        old: Requires,
        new: Requires,
        before: Mapping[str, Condition],
        after: Mapping[str, Condition],
        aspect: str,
    ) -> Iterator[Difference]:
        for name in dict.fromkeys((*old.parts, *new.parts)):
            if before.get(name) != after.get(name):
                was = self._line_old(old.parts[name]) if name in before else None
                now = self._line_new(new.parts[name]) if name in after else None
                yield Difference(aspect, _spaced(name), was, None if now is None else _or_same(was, now))

    def _readings(self) -> Iterator[Difference]:
        old = {each.name: each for each in self.old.rule.readings}
        new = {each.name: each for each in self.new.rule.readings}
        for name in dict.fromkeys((*old, *new)):
            before, after = old.get(name), new.get(name)
            if _plain_reading(before) != _plain_reading(after):
                told = after or before
                assert told is not None
                was, now = self._whole_requirement(_of_reading(before), _of_reading(after))
                yield Difference("reading", told.held_by, was, None if now is None else _or_same(was, now))

    # --- the rest ----------------------------------------------------------------------------------------------------

    def _kind(self) -> Iterator[Difference]:
        old, new = self.old.rule, self.new.rule
        if old.look != new.look:
            was, now = (None if each is None else self._spoken(each) for each in (old.look, new.look))
            yield Difference("look", "what somebody looks for", was, now)
        pairs = (
            ("outcome", "how binding it is", old.force.value, new.force.value),
            ("outcome", "what it rests on", old.basis.value, new.basis.value),
            ("due", "when it is due", _stage(old.due), _stage(new.due)),
            ("outcome", "the worst that a miss can bring", old.harm.value, new.harm.value),
            ("outcome", "who acts", old.who_acts, new.who_acts),
        )
        for aspect, what, before, after in pairs:
            if before != after:
                yield Difference(aspect, what, _spaced(before), _spaced(after))

    def _texts(self) -> Iterator[Difference]:
        old, new = self.old.rule, self.new.rule
        if old.title != new.title:
            yield Difference("wording", "title", old.title, new.title)
        if old.says != new.says:
            yield Difference("wording", "what a miss says", self._spoken(old.says), self._spoken(new.says))

    def _versions(self) -> Iterator[Difference]:
        before, after = (self._held(each) for each in (self.old, self.new))
        if before != after:
            yield Difference("versions", "authorities that do not agree", before, after)
        recorded = (interpretations_told(self.old), interpretations_told(self.new))
        for told in dict.fromkeys((*recorded[0], *recorded[1])):
            if (told in recorded[0]) != (told in recorded[1]):
                sides = [told if told in each else None for each in recorded]
                yield Difference("interpretation", "on record", sides[0], sides[1])

    def _held(self, rule: RuleInForce) -> str | None:
        """What each authority holds where they do not agree: how its version differs from the rule as it was."""
        if not rule.versions:
            return None
        return "; ".join(f"by {each.held_by}: {self._version(each.rule)}" for each in rule.versions)

    def _version(self, rule: RuleInForce | None) -> str:
        if rule is None:
            return "no such rule"
        was = replace(self.old, versions=(), interpretations=())
        pair = _Pair(was, replace(rule, interpretations=()), self._vocabulary, self._table_shapes)
        told = [
            f"{each.what} {each.after or 'no longer'}"
            for each in pair.differences()
            if each.aspect not in ("section", "citation", "wording")
        ]
        return ", ".join(told) if told else "as it was"


# --- pieces ----------------------------------------------------------------------------------------------------------


def _by_document(cites: Iterable[Citation]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for cite in cites:
        found.setdefault(cite.document, []).append(cite.section)
    return {document: tuple(dict.fromkeys(sections)) for document, sections in found.items()}


def _rows_compared(title: str, before: TableValues, after: TableValues, shape: Table | None) -> Iterator[Difference]:
    old, new = ({_row_name(row, shape): row.text for row in each.rows} for each in (before, after))
    differing = [name for name in dict.fromkeys((*old, *new)) if old.get(name) != new.get(name)]
    for name in differing[:MOST_ROWS]:
        yield Difference("table", f"{title}, {name}", old.get(name), new.get(name))
    if len(differing) > MOST_ROWS:
        yield Difference("table", title, None, f"{len(differing) - MOST_ROWS} more rows differ")
    if not differing and before.beyond != after.beyond:
        yield Difference("table", f"{title}, past its last row", before.beyond, after.beyond)


def _row_name(row: Row, shape: Table | None) -> str:
    """A row by its keys; of a list of sizes by its size."""
    kinds = {} if shape is None else {key.name: key for key in shape.keys}
    names = (f"{_spaced(name)} {_key_words(value, kinds.get(name))}" for name, value in row.keys.items())
    return ", ".join(names) or f"size {row.text}"


def _key_words(value: Possible, key: TableKey | None) -> str:
    """What a key of a row stands for; of a row for everything up to a size that size."""
    if value.atom is not None:
        return _spaced(str(value.atom))
    hull = value.hull
    if hull is None:
        return "any"
    low, high = (None if each is None else _number_words(each, key) for each in (hull.low, hull.high))
    up_to = key is not None and key.match == "at_or_above"
    if high is None:
        return "any" if low is None else f"over {low}"
    return high if low in (None, high) or up_to else f"{low} to {high}"


def _number_words(value: Fraction, key: TableKey | None) -> str:
    if key is not None and key.type == ValueType.WIRE_SIZE.value:
        return show_wire_size(value)
    return show(value, key.type, None) if key is not None and key.type in KINDS else plain_number(value)


def _is_one_of(part: Condition | None, whole: Condition | None) -> bool:
    """Whether a condition is one of those of which any may hold."""
    return isinstance(whole, Group) and whole.how == "any" and part is not None and part in whole.conditions


def _without(whole: Condition | None, part: Condition | None) -> tuple[Condition, ...]:
    assert isinstance(whole, Group)
    return tuple(each for each in whole.conditions if each != part)


def _conjuncts(condition: Condition | None) -> tuple[Condition, ...]:
    """What must all hold, groups inside groups opened."""
    if condition is None:
        return ()
    if isinstance(condition, Group) and condition.how == "all":
        return tuple(inner for each in condition.conditions for inner in _conjuncts(each))
    return (condition,)


def _alternatives(condition: Condition) -> tuple[Condition, ...]:
    """The conditions of which any one may hold; nothing where it is no such list."""
    return condition.conditions if isinstance(condition, Group) and condition.how == "any" else ()


def _plain_instead(each: Instead | None) -> object:
    return None if each is None else (plain(each.condition), plain_requires(each.requires))


def _plain_reading(each: Reading | None) -> object:
    return None if each is None else (each.held_by, plain_requires(each.requires))


def _of_reading(each: Reading | None) -> Requires | None:
    return None if each is None else each.requires


def _requirement(requires: Requires, words: ConditionWords, around: Around) -> str:
    line = (" or " if requires.any_way else " and ").join(words.line(each, around) for each in requires.parts.values())
    if len(line) <= LONGEST_LINE:
        return line
    parts = tuple(words.clause(each, around) for each in requires.parts.values())
    head = "one of these holds" if requires.any_way else "all of these hold"
    return "\n".join(clause_lines(parts[0] if len(parts) == 1 else Clause(head, parts)))


def _or_same(before: str | None, after: str) -> str:
    """Words for the later one: where both read the same the difference must not look like none."""
    return f"{after}, asked in another way" if before == after else after


def _spaced(name: str) -> str:
    return name.replace("_", " ").replace("-", " ")


def _stage(stage: Stage) -> str:
    return stage.value
