"""What a change is about: a rule or a parameter, named by its id or by document, edition and section."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from checker.files.yaml.tree import Mapping, Node
from checker.rules.documents import no_such_document
from checker.rules.layers.shelf import Shelf, Shelved
from checker.rules.model.numbers import Parameter
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.parameters import read_written
from checker.rules.walk import parameters_read
from checker.rules.wording import listing
from checker.values.positions import Position

_LIKE_A_SECTION = re.compile(r"[0-9][0-9A-Za-z.()-]*").fullmatch


@dataclass(frozen=True, slots=True)
class Place:
    """A section as a layer names it."""

    document: str
    edition: str | None
    section: str
    every: bool

    def __str__(self) -> str:
        edition = f" {self.edition}" if self.edition else ""
        return f"{self.document}{edition} {self.section}"


def written(node: Node, amends: tuple[str, str] | None) -> str:
    """A target as the layer names it."""
    return str(_place(node, amends)) if isinstance(node, Mapping) else nodes.text(node)


def _place(node: Mapping, amends: tuple[str, str] | None) -> Place:
    document = nodes.text(node.get("document"), amends[0] if amends else "")
    usual = amends[1] if amends and amends[0] == document else ""
    edition = nodes.text(node.get("edition"), usual) or None
    return Place(document, edition, nodes.text(node.get("section")), nodes.flag(node.get("every")) is True)


class Targets:
    """Finds what the changes of one layer are about, and tells what is not found or not clear."""

    def __init__(self, shelf: Shelf, amends: tuple[str, str] | None, problems: ProblemList) -> None:
        self._shelf = shelf
        self._amends = amends
        self._problems = problems

    def rules(self, node: Node) -> tuple[Shelved, ...]:
        """The rules that are meant; none where that is told to be wrong."""
        if isinstance(node, Mapping):
            return self._by_section(_place(node, self._amends), node.at)
        name = nodes.text(node)
        found = self._shelf.by_id(name)
        if not found:
            self._not_found(name, node.at)
        elif len(found) > 1:
            self._unclear(name, [each.name for each in found], node.at, "Write the pack in front, as pack:id.")
            return ()
        return found

    def parameter(self, node: Node, to: Node | None) -> tuple[str, Parameter] | None:
        """The parameter that is meant, with its pack: by its name, or as the only one of a rule or a section that can
        take the new value.
        """
        if isinstance(node, Mapping):
            place = _place(node, self._amends)
            if not self._is_known(place, node.at):
                return None
            found = list(self._shelf.parameters_at(place.document, place.edition, place.section))
            found = found or self._read_by(self._shelf.by_section(place.document, place.edition, place.section))
            return self._only(found, str(place), node.at, to)
        name = nodes.text(node)
        pack, _, bare = name.rpartition(":")
        found = [(owner, each) for owner, each in self._shelf.parameters() if each.name == bare and pack in ("", owner)]
        return self._only(found or self._read_by(self._shelf.by_id(name)), name, node.at, to)

    def _read_by(self, rules: Sequence[Shelved]) -> list[tuple[str, Parameter]]:
        known = {(owner, each.name): each for owner, each in self._shelf.parameters()}
        names = dict.fromkeys((rule.owner, name) for rule in rules for name in parameters_read(rule.rule))
        return [(owner, known[owner, name]) for owner, name in names if (owner, name) in known]

    def _only(
        self, meant: list[tuple[str, Parameter]], name: str, at: Position, to: Node | None
    ) -> tuple[str, Parameter] | None:
        """The one of those that are meant that can take the new value; a value for none of them is told as that."""
        found = _that_take(to, meant)
        if len(meant) > 1 and not found:
            each = "; ".join(f"{one.title} ({one.type.replace('_', ' ')})" for _, one in meant)
            sentence = f"{nodes.text(to)} is no value of any number under {name}: {each}."
            self._problems.add(sentence, at if to is None else to.at, "Write a value of the right kind, with its unit.")
            return None
        if not found:
            self._problems.add(
                f"No parameter is meant by {name}.",
                at,
                "Write the name of a parameter, or the section that sets the number.",
                self._problems.near(name, (each.name for _, each in self._shelf.parameters())),
            )
            return None
        if len(found) > 1:
            names = [f"{owner}:{each.name}" for owner, each in found]
            self._unclear(name, names, at, "Write the name of the one that is meant.")
            return None
        return found[0]

    def _by_section(self, place: Place, at: Position) -> tuple[Shelved, ...]:
        if not self._is_known(place, at):
            return ()
        found = self._shelf.by_section(place.document, place.edition, place.section)
        if not found:
            self._problems.add(f"No rule cites {place}.", at, "Look for it with rules list, by a word or a section.")
        elif len(found) > 1 and not place.every:
            names = [each.name for each in found]
            self._unclear(str(place), names, at, "Name one of them by its id, or write `every: yes` for all.")
            return ()
        return found

    def _is_known(self, place: Place, at: Position) -> bool:
        documents = self._shelf.documents
        if not place.document:
            self._problems.add("This section has no document.", at, "Write `document:`.")
            return False
        if place.document not in documents:
            self._problems.extend([no_such_document(place.document, self._shelf.packs, at)])
            return False
        editions = documents[place.document]
        if place.edition is not None and place.edition not in editions:
            near = self._problems.near(place.edition, editions)
            remedy = f"Its pack has {listing(editions)}." if editions else "Its pack has no editions."
            self._problems.add(f"There is no edition {place.edition} of {place.document}.", at, remedy, near)
            return False
        return True

    def _not_found(self, name: str, at: Position) -> None:
        bare = name.rpartition(":")[2]
        went = next((pack.retired[bare] for pack in self._shelf.packs if bare in pack.retired), None)
        if went is not None:
            self._problems.add(f"The rule {name} is retired.", at, f"It went to: {went}.")
            return
        if _LIKE_A_SECTION(name):
            remedy = f'A section is written as one: {{section: "{name}"}}.'
            self._problems.add(f"{name} is no id of a rule.", at, remedy)
            return
        near = self._problems.near(name, self._shelf.names())
        self._problems.add(f"There is no rule {name}.", at, "Look for it with rules list, or name its section.", near)

    def _unclear(self, name: str, found: Sequence[str], at: Position, remedy: str) -> None:
        self._problems.add(f"{name} means {len(found)} things: {listing(found)}.", at, remedy)


def _that_take(to: Node | None, found: list[tuple[str, Parameter]]) -> list[tuple[str, Parameter]]:
    """Of several parameters those of which the new value can be a value; the only one, whatever it can be."""
    if to is None or len(found) < 2:
        return found
    return [each for each in found if read_written(to, each[1].type, each[1].name, ProblemList()) is not None]
