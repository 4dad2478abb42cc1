"""Reads what one change of a layer does, for each rule that it hits."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from checker.files.yaml.tree import Entry, Mapping, Node
from checker.rules.layers import model
from checker.rules.layers.head import LayerHead
from checker.rules.layers.own_papers import papers_of
from checker.rules.layers.papers import paper_rule
from checker.rules.layers.shelf import Shelved
from checker.rules.layers.targets import written
from checker.rules.model.conditions import Condition
from checker.rules.model.numbers import Parameter, ParameterValue
from checker.rules.model.rule import NamedException, Rule
from checker.rules.reading import nodes
from checker.rules.reading.conditions import read_condition
from checker.rules.reading.parameters import read_written
from checker.rules.reading.placeholders import refuse_placeholders
from checker.rules.reading.rule import read_rule
from checker.rules.reading.scope import Scope
from checker.rules.vocabulary import Around
from checker.rules.walk import parameters_read, tables_read
from checker.rules.wording import listing
from checker.values.positions import Position


class OperationReader:
    """Reads the changes of one layer, one by one."""

    def __init__(self, layer: LayerHead) -> None:
        self._layer = layer
        self._problems = layer.problems

    def read(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        """The changes of one entry, one for each rule that it hits."""
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
        words = named if isinstance(named, str) else written(named, self._layer.amends)
        return model.Change(self._layer.head.id, rule, words, what, terms)

    def _add(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        rule = self._rule(nodes.text(nodes.mapping(entry.value).get("id")), entry, node)
        if rule is not None:
            yield self._change(f"{self._layer.head.id}:{rule.id}", rule.id, model.AddRule(rule), terms)

    def _rule(self, name: str, entry: Entry, node: Mapping) -> Rule | None:
        """A rule written in the layer, which rests on what the change cites."""
        own = Entry(name, entry.at, entry.value)
        return read_rule(
            self._layer.sourced(own, node.get("cites")),
            self._layer.head,
            self._layer.numbers,
            self._layer.vocabulary,
            self._problems,
            self._layer.notes,
        )

    def _replace(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        with_rule = node.entry("with")
        assert with_rule is not None
        for target in self._layer.targets.rules(entry.value):
            rule = self._rule(target.rule.id, with_rule, node)
            if rule is not None:
                yield self._change(target.name, entry.value, model.ReplaceRule(rule), terms)

    def _ask_for(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        own = (*papers_of(self._layer.shelf.layers), *self._layer.papers)
        asked = paper_rule(nodes.mapping(entry.value), entry.at, self._layer.vocabulary.catalog, own)
        rule = self._rule(asked.key, asked, node)
        if rule is not None:
            yield self._change(f"{self._layer.head.id}:{rule.id}", rule.id, model.AddRule(rule), terms)

    def _set(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        to = node.entry("to")
        found = self._layer.targets.parameter(entry.value, None if to is None else to.value)
        if found is None or to is None:
            return
        pack, parameter = found
        value = self._new_value(to, parameter, terms)
        readers = self._layer.shelf.readers(pack, parameter.name)
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
        return ParameterValue(text, value, unit, terms.cites, self._layer.checked())

    def _exceptions_apply(self, entry: Entry, node: Mapping, readers: tuple[Shelved, ...]) -> bool | None:
        said = nodes.text(node.get("exceptions"))
        excepted = [each.name for each in readers if each.rule.unless]
        if excepted and not said:
            have = "has" if len(excepted) == 1 else "have"
            self._problems.add(
                f"{listing(excepted)} {have} exceptions, and the change does not say whether they still count.",
                entry.at,
                "Write `exceptions: do_not_apply`, or `exceptions: apply` where the ordinance leaves them.",
            )
        return None if not said else said == "apply"

    # --- exceptions and ways ----------------------------------------------------------------------------------------

    def _add_exception(self, entry: Entry, _: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        body = nodes.mapping(entry.value)
        to, because = body.get("to"), nodes.scalar(body.get("because"))
        assert to is not None
        refuse_placeholders(because.text, because.at, self._problems)
        for target in self._layer.targets.rules(to):
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
        for target in self._layer.targets.rules(of):
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
        for target in self._layer.targets.rules(to):
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

    # --- the others -------------------------------------------------------------------------------------------------

    def _simple(self, entry: Entry, node: Mapping, terms: model.Terms) -> Iterator[model.Change]:
        """Operations that say nothing but their target and at most a condition, dates or a note."""
        for target in self._layer.targets.rules(entry.value):
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
            return model.Confirm(self._layer.noted(nodes.mapping(node.get("checked"))))
        if entry.key == "pre_empt":
            return model.PreEmpt(nodes.texts(node.get("layers")))
        return model.DeleteRule()

    # --- conditions -------------------------------------------------------------------------------------------------

    def _condition(self, node: Node | None, target: Shelved) -> Condition | None:
        """A condition of the target's subject, which may read the numbers of the layer."""
        if node is None:
            return None
        scope = Scope(
            target.rule.id, self._layer.vocabulary, self._layer.numbers, (), self._problems, self._layer.notes
        )
        found = read_condition(node, Around(self._layer.vocabulary.types_of(target.rule.subject)), scope)
        self._check_own_names(target, node.at)
        return found

    def _check_own_names(self, target: Shelved, at: Position) -> None:
        """The numbers of the layer must not take the names of those that the rule reads."""
        own = {*self._layer.numbers.parameters, *self._layer.numbers.tables}
        for name in (*parameters_read(target.rule), *tables_read(target.rule)):
            if name in own:
                self._problems.add(f"{target.name} reads a `{name}` of its own.", at, "Rename the one in the layer.")
