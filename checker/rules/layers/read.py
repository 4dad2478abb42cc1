"""Reads a layer: a file in which an authority says what it changes."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from checker.catalog.model import Catalog
from checker.files.strict_yaml import read_bytes, read_text
from checker.files.tree import Entry, Mapping, Node, Scalar
from checker.rules import nodes
from checker.rules.block_texts import printed_notes
from checker.rules.citing import NO_EDITION, Head, day
from checker.rules.conditions import read_condition
from checker.rules.layers import model
from checker.rules.layers.papers import paper_rule
from checker.rules.layers.shape import OPERATIONS
from checker.rules.layers.shelf import Shelf, Shelved
from checker.rules.layers.targets import Targets, written
from checker.rules.model import (
    Basis,
    Checked,
    Citation,
    Condition,
    NamedException,
    Parameter,
    ParameterValue,
    Rule,
    Table,
)
from checker.rules.parameters import read_parameter, read_written
from checker.rules.placeholders import refuse_placeholders
from checker.rules.problem_list import ProblemList
from checker.rules.rule_reader import read_rule
from checker.rules.schema import layer_shape
from checker.rules.schema_words import Schema
from checker.rules.scope import Numbers, Scope
from checker.rules.shape_check import check_shape
from checker.rules.tables import read_table
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.walk import parameters_read, tables_read
from checker.rules.wording import choice_of, listing
from checker.values.positions import Position

_PRACTICE_MAY = ("add", "ask_for", "confirm")
"""What unwritten practice can do: advise, and say what it has looked up. It changes nobody's rule."""

_COMMON = ("from", "until", "cites", "reason", "over")
_WITH: dict[str, tuple[str, ...]] = {
    "replace": ("with",),
    "set": ("to", "exceptions"),
    "widen": ("when",),
    "narrow": ("when",),
    "confirm": ("checked",),
    "redirect": ("to",),
    "pre_empt": ("layers",),
}
"""The words that stand beside an operation."""
_NEEDS = {"replace": "with", "set": "to", "widen": "when", "narrow": "when", "confirm": "checked", "redirect": "to"}


def read_layer(path: Path, catalog: Catalog, shelf: Shelf, shown_as: str | None = None) -> model.Layer:
    """The layer in a file, its targets found on the shelf. Raises Unreadable with everything that is wrong in it."""
    return read_layer_noting(path, catalog, shelf, ProblemList(), shown_as)


def read_layer_noting(
    path: Path, catalog: Catalog, shelf: Shelf, notes: ProblemList, shown_as: str | None = None
) -> model.Layer:
    """The same; what is no mistake but deserves a second look is added to the notes."""
    shown = shown_as or (path.name if path.is_absolute() else path.as_posix())
    content = read_bytes(path, shown)
    root: Node = read_text(content, shown)
    problems = ProblemList()
    check_shape(root, _shape(), problems)
    problems.raise_if_any()
    notes.extend(printed_notes(root))
    reader = _LayerReader(nodes.mapping(root), Vocabulary(catalog), shelf, problems, notes)
    layer = reader.read(shown, hashlib.sha256(content).hexdigest())
    problems.raise_if_any()
    return layer


@cache
def _shape() -> Schema:
    return layer_shape()


class _LayerReader:
    """Reads one layer into its model."""

    def __init__(
        self, root: Mapping, vocabulary: Vocabulary, shelf: Shelf, problems: ProblemList, notes: ProblemList
    ) -> None:
        self._root = root
        self._notes = notes
        self._vocabulary = vocabulary
        self._problems = problems
        self._shelf = shelf
        self._head = self._read_head()
        self._amends = self._read_amends()
        self._targets = Targets(shelf, self._amends, problems)
        self._numbers = self._read_numbers()

    # --- head -------------------------------------------------------------------------------------------------------

    def _read_head(self) -> Head:
        root = self._root
        title = nodes.text(root.get("title"))
        document = nodes.text(root.get("document"), title)
        basis = Basis(nodes.text(root.get("basis")))
        return Head(nodes.text(root.get("layer")), title, document, (), basis, {}, root.at)

    def _read_amends(self) -> tuple[str, str] | None:
        node = self._root.get("amends")
        if node is None:
            return None
        amended = nodes.mapping(node)
        document, edition = nodes.text(amended.get("document")), nodes.text(amended.get("written_against"))
        editions = self._shelf.documents.get(document)
        if editions is None:
            near = self._problems.near(document, self._shelf.documents)
            self._problems.add(f"There is no rule pack of {document}.", amended.at, "Name it as its pack does.", near)
        elif editions and edition not in editions:
            self._problems.add(
                f"The layer does not say against which edition of {document} it was written.",
                amended.at,
                f"Write `written_against:` with {choice_of(editions)}.",
                self._problems.near(edition, editions),
            )
        return document, edition

    def _read_numbers(self) -> Numbers:
        parameters: dict[str, Parameter | None] = {}
        for entry in nodes.entries(self._root.get("parameters")):
            parameters[entry.key] = read_parameter(self._sourced(entry), self._head, self._problems)
        tables: dict[str, Table | None] = {}
        for entry in nodes.entries(self._root.get("tables")):
            tables[entry.key] = read_table(self._sourced(entry), self._head, self._problems)
        return Numbers(parameters, tables)

    def _sourced(self, entry: Entry, cites: Node | None = None) -> Entry:
        """The entry with what the change cites, and with what the head of the layer says of all: who checked it."""
        node = nodes.mapping(entry.value)
        entries = {each.key: each for each in node.entries if each.key != "id"}
        given = cites if cites is not None else node.get("cites")
        if given is not None:
            entries["cites"] = Entry("cites", given.at, given)
        checked = self._root.get("checked")
        if checked is not None and "checked" not in entries:
            entries["checked"] = Entry("checked", checked.at, checked)
        return Entry(entry.key, entry.at, Mapping(tuple(entries.values()), node.at))

    # --- the whole --------------------------------------------------------------------------------------------------

    def read(self, file: str, digest: str) -> model.Layer:
        changes = tuple(self._changes())
        self._check_ids(changes)
        return model.Layer(
            self._head.id,
            self._head.title,
            self._head.document,
            nodes.text(self._root.get("authority")),
            self._head.basis or Basis.LAW,
            self._amends,
            changes,
            {name: each.values[NO_EDITION] for name, each in self._numbers.parameters.items() if each and each.values},
            {name: each.values[NO_EDITION] for name, each in self._numbers.tables.items() if each and each.values},
            {name: each.title for name, each in self._numbers.parameters.items() if each is not None},
            file,
            digest,
            self._root.at,
            numbers_at={name: each.at for name, each in self._own_numbers()},
        )

    def _own_numbers(self) -> Iterator[tuple[str, Parameter | Table]]:
        for known in (self._numbers.parameters, self._numbers.tables):
            yield from ((name, each) for name, each in known.items() if each is not None)

    def _changes(self) -> Iterator[model.Change]:
        for number, item in enumerate(nodes.items(self._root.get("changes")), start=1):
            node = nodes.mapping(item)
            entry = self._operation(node)
            if entry is not None:
                yield from self._read_change(entry, node, self._terms(entry, node, number))

    def _operation(self, node: Mapping) -> Entry | None:
        """The one operation of a change; what else is written beside it must belong to it."""
        found = [each for each in node.entries if each.key in OPERATIONS]
        if len(found) != 1:
            named = listing([f"`{each.key}`" for each in found])
            sentence = f"This change does {len(found)} things: {named}." if found else "This change does nothing."
            self._problems.add(sentence, node.at, f"Write one of {choice_of(OPERATIONS)}.")
            return None
        entry = found[0]
        beside = {*_COMMON, *_WITH.get(entry.key, ())}
        for each in node.entries:
            if each is not entry and each.key not in beside:
                self._problems.add(
                    f"`{each.key}` does not belong to `{entry.key}`.",
                    each.at,
                    f"Beside `{entry.key}` stand {choice_of(sorted(beside))}.",
                )
        needed = _NEEDS.get(entry.key)
        if needed is not None and node.get(needed) is None:
            self._problems.add(f"`{entry.key}` does not say to what.", entry.at, f"Write `{needed}:` beside it.")
            return None
        if self._head.rests_on_practice and entry.key not in _PRACTICE_MAY:
            self._problems.add(
                f"Practice cannot {entry.key.replace('_', ' ')} a rule of somebody else.",
                entry.at,
                "Add a recommendation of its own, or give the layer the basis on which it changes the rule.",
            )
            return None
        return entry

    def _terms(self, entry: Entry, node: Mapping, number: int) -> model.Terms:
        start, until = (day(node.get(key), key, self._problems) for key in ("from", "until"))
        if start is not None and until is not None and until < start:
            self._problems.add(
                "This change ends before it begins.", nodes.place(node, "until"), "Turn the dates round."
            )
        cites = self._cites(node.get("cites"))
        if not cites and not self._head.rests_on_practice:
            self._problems.add(
                "This change does not say what it rests on.",
                entry.at,
                "Write `cites: [{section: ...}]` with the section of the ordinance.",
            )
        reason, over = nodes.text(node.get("reason")), nodes.texts(node.get("over"))
        return model.Terms(number, entry.key, start, until, cites, reason, over, entry.at)

    def _cites(self, node: Node | None) -> tuple[Citation, ...]:
        if node is None or isinstance(node, Scalar):
            return ()
        checked = self._root.get("checked")
        sure = checked is not None and nodes.text(nodes.mapping(checked).get("sure")) == "high"
        return tuple(
            Citation(
                nodes.text(each.get("document"), self._head.document),
                nodes.text(each.get("edition")) or None,
                nodes.text(each.get("section")),
                verify=not sure,
            )
            for each in map(nodes.mapping, nodes.items(node))
        )

    # --- one change -------------------------------------------------------------------------------------------------

    def _read_change(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        read: dict[str, Callable[[Entry, Mapping, model.Terms], Iterator[model.Change]]] = {
            "add": self._add,
            "ask_for": self._ask_for,
            "replace": self._replace,
            "set": self._set,
            "add_exception": self._add_exception,
            "end_exception": self._end_exception,
            "add_way": self._add_way,
            "redirect": self._redirect,
        }
        yield from read.get(entry.key, self._simple)(entry, node, terms)

    def _change(self, rule: str, named: Node | str, what: model.What, terms: model.Terms) -> model.Change:
        words = named if isinstance(named, str) else written(named, self._amends)
        return model.Change(self._head.id, rule, words, what, terms)

    def _add(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        rule = self._rule(nodes.text(nodes.mapping(entry.value).get("id")), entry, node)
        if rule is not None:
            yield self._change(f"{self._head.id}:{rule.id}", rule.id, model.AddRule(rule), terms)

    def _rule(self, name: str, entry: Entry, node: Mapping) -> Rule | None:
        """A rule written in the layer, which rests on what the change cites."""
        own = Entry(name, entry.at, entry.value)
        return read_rule(
            self._sourced(own, node.get("cites")),
            self._head,
            self._numbers,
            self._vocabulary,
            self._problems,
            self._notes,
        )

    def _replace(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        with_rule = node.entry("with")
        assert with_rule is not None
        for target in self._targets.rules(entry.value):
            rule = self._rule(target.rule.id, with_rule, node)
            if rule is not None:
                yield self._change(target.name, entry.value, model.ReplaceRule(rule), terms)

    def _ask_for(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        asked = paper_rule(nodes.mapping(entry.value), entry.at, self._vocabulary.catalog)
        rule = self._rule(asked.key, asked, node)
        if rule is not None:
            yield self._change(f"{self._head.id}:{rule.id}", rule.id, model.AddRule(rule), terms)

    def _set(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        found = self._targets.parameter(entry.value)
        to = node.entry("to")
        if found is None or to is None:
            return
        pack, parameter = found
        value = self._new_value(to, parameter, terms)
        readers = self._shelf.readers(pack, parameter.name)
        apply = self._exceptions_apply(entry, node, readers)
        if value is None:
            return
        what = model.SetNumber(pack, parameter.name, parameter.title, parameter.stricter, value, apply)
        if not readers:  # a number that calculations read, and no rule
            yield self._change("", entry.value, what, terms)
        for each in readers:
            yield self._change(each.name, entry.value, what, terms)

    def _new_value(self, to: Entry, parameter: Parameter, terms: model.Terms) -> ParameterValue | None:
        if isinstance(to.value, Mapping):
            self._problems.add(f"`{parameter.name}` is a number and no place.", to.at, "Write its new value.")
            return None
        read = read_written(to.value, parameter.type, parameter.name, self._problems)
        if read is None:
            return None
        text, value, unit = read
        return ParameterValue(text, value, unit, terms.cites, self._checked())

    def _checked(self) -> Checked:
        node = self._root.get("checked")
        if node is None:
            return Checked("low", "nothing")
        note = nodes.mapping(node)
        return Checked(
            nodes.text(note.get("sure")),
            nodes.text(note.get("against")),
            day(note.get("on"), "on", self._problems),
            nodes.text(note.get("by")),
        )

    def _exceptions_apply(self, entry: Entry, node: Mapping, readers: tuple[Shelved, ...]) -> bool | None:
        said = nodes.text(node.get("exceptions"))
        excepted = [each.name for each in readers if each.rule.unless]
        if excepted and not said:
            self._problems.add(
                f"{listing(excepted)} has exceptions, and the change does not say whether they still count.",
                entry.at,
                "Write `exceptions: do_not_apply`, or `exceptions: apply` where the ordinance leaves them.",
            )
        return None if not said else said == "apply"

    def _add_exception(self, entry: Entry, _: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        body = nodes.mapping(entry.value)
        to, because = body.get("to"), nodes.scalar(body.get("because"))
        assert to is not None
        refuse_placeholders(because.text, because.at, self._problems)
        for target in self._targets.rules(to):
            condition = self._condition(body.get("if"), target)
            if condition is not None:
                name = nodes.text(body.get("id"))
                if any(each.id == name for each in target.rule.unless):
                    self._problems.add(
                        f"{target.name} has an exception `{name}` already.", entry.at, "Take another id."
                    )
                exception = NamedException(name, condition, because.text.strip(), terms.cites)
                yield self._change(target.name, to, model.AddException(exception), terms)

    def _end_exception(self, entry: Entry, _: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        body = nodes.mapping(entry.value)
        of, name = body.get("of"), nodes.scalar(body.get("id"))
        assert of is not None
        for target in self._targets.rules(of):
            known = [*(each.id for each in target.rule.unless), *(each.id for each in target.rule.instead)]
            if name.text.strip() not in known:
                near = self._problems.near(name.text.strip(), known)
                remedy = f"It has {listing(known)}." if known else "It has none."
                self._problems.add(f"{target.name} has no exception `{name.text.strip()}`.", name.at, remedy, near)
            else:
                yield self._change(target.name, of, model.EndException(name.text.strip()), terms)

    def _add_way(self, entry: Entry, _: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        body = nodes.mapping(entry.value)
        to = body.get("to")
        assert to is not None
        for target in self._targets.rules(to):
            condition = self._condition(body.get("if"), target)
            if target.rule.requires is None:
                self._problems.add(f"{target.name} asks for nothing that has ways.", entry.at, "Replace it instead.")
            elif nodes.text(body.get("name")) in target.rule.requires.parts:
                name = nodes.text(body.get("name"))
                self._problems.add(f"{target.name} has a way `{name}` already.", entry.at, "Take another name.")
            elif condition is not None:
                yield self._change(target.name, to, model.AddWay(nodes.text(body.get("name")), condition), terms)

    def _redirect(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        body, to = nodes.mapping(entry.value), node.entry("to")
        if to is None or not isinstance(to.value, Mapping):
            self._problems.add("The reference does not say where it leads.", entry.at, "Write `to: {document: ...}`.")
            return
        other = to.value
        what = model.Redirect(
            nodes.text(body.get("document")),
            nodes.text(body.get("section")) or None,
            nodes.text(other.get("document")),
            nodes.text(other.get("edition")) or None,
            nodes.text(other.get("section")) or None,
        )
        yield self._change("", nodes.text(body.get("document")), what, terms)

    def _simple(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        """Operations that say nothing but their target and at most a condition, dates or a note."""
        for target in self._targets.rules(entry.value):
            what = self._simple_what(entry, node, terms, target)
            if what is not None:
                yield self._change(target.name, entry.value, what, terms)

    def _simple_what(self, entry: Entry, node: Mapping, terms: model.Terms, target: Shelved) -> model.What | None:
        if entry.key in ("widen", "narrow"):
            condition = self._condition(node.get("when"), target)
            if entry.key == "widen" and target.rule.when is None:
                self._problems.add(f"{target.name} applies everywhere already.", entry.at, "There is nothing to widen.")
                return None
            if condition is None:
                return None
            return model.Widen(condition) if entry.key == "widen" else model.Narrow(condition)
        if entry.key == "limit":
            if terms.start is None and terms.until is None:
                self._problems.add("This change limits nothing.", entry.at, "Write `from:` or `until:`.")
                return None
            return model.LimitRule()
        if entry.key == "renumber":
            return model.Renumber(terms.cites)
        if entry.key == "confirm":
            return model.Confirm(self._noted(nodes.mapping(node.get("checked"))))
        if entry.key == "pre_empt":
            return model.PreEmpt(nodes.texts(node.get("layers")))
        return model.DeleteRule()

    def _noted(self, node: Mapping) -> Checked:
        return Checked(
            nodes.text(node.get("sure")),
            nodes.text(node.get("against")),
            day(node.get("on"), "on", self._problems),
            nodes.text(node.get("by")),
        )

    # --- conditions -------------------------------------------------------------------------------------------------

    def _condition(self, node: Node | None, target: Shelved) -> Condition | None:
        """A condition of the target's subject, which may read the numbers of the layer."""
        if node is None:
            return None
        scope = Scope(target.rule.id, self._vocabulary, self._numbers, (), self._problems, self._notes)
        found = read_condition(node, Around(self._vocabulary.types_of(target.rule.subject)), scope)
        self._check_own_names(target, node.at)
        return found

    def _check_own_names(self, target: Shelved, at: Position) -> None:
        """The numbers of the layer must not take the names of those that the rule reads."""
        own = {*self._numbers.parameters, *self._numbers.tables}
        for name in (*parameters_read(target.rule), *tables_read(target.rule)):
            if name in own:
                self._problems.add(f"{target.name} reads a `{name}` of its own.", at, "Rename the one in the layer.")

    def _check_ids(self, changes: tuple[model.Change, ...]) -> None:
        seen: dict[str, Position] = {}
        for each in changes:
            if isinstance(each.what, model.AddRule):
                name = each.what.rule.id
                if name in seen:
                    self._problems.add(f"`{name}` is added twice.", each.terms.at, f"The other stands at {seen[name]}.")
                seen.setdefault(name, each.terms.at)
