"""What a layer can name: the rules and parameters of packs and of the layers below it, by id and by section."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from checker.rules.layers.model import Layer, is_part
from checker.rules.model.numbers import Parameter
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.walk import parameters_read


@dataclass(frozen=True, slots=True)
class Shelved:
    """A rule with the pack or layer in which it stands."""

    owner: str
    document: str
    rule: Rule

    @property
    def name(self) -> str:
        """The rule as pack:id."""
        return f"{self.owner}:{self.rule.id}"


@dataclass(frozen=True, slots=True)
class Shelf:
    """Packs, and the layers that lie below."""

    packs: tuple[Pack, ...]
    layers: tuple[Layer, ...] = ()

    def rules(self) -> Iterator[Shelved]:
        """Every rule that can be named."""
        for pack in self.packs:
            yield from (Shelved(pack.id, pack.document, rule) for rule in pack.rules)
        for layer in self.layers:
            yield from (Shelved(layer.id, layer.document, rule) for rule in layer.added)

    def by_id(self, name: str) -> tuple[Shelved, ...]:
        """The rules of that id, with or without their pack."""
        owner, _, rule = name.rpartition(":")
        return tuple(each for each in self.rules() if each.rule.id == rule and owner in ("", each.owner))

    def by_section(self, document: str, edition: str | None, section: str) -> tuple[Shelved, ...]:
        """The rules that cite this section of the document or a part of it, in this edition or, without one, in any."""
        return tuple(each for each in self.rules() if each.document == document and _cites(each.rule, edition, section))

    def readers(self, pack: str, parameter: str) -> tuple[Shelved, ...]:
        """The rules of a pack that read a parameter."""
        return tuple(each for each in self.rules() if each.owner == pack and parameter in parameters_read(each.rule))

    def parameters(self) -> Iterator[tuple[str, Parameter]]:
        """Every parameter of a pack, with the pack."""
        for pack in self.packs:
            yield from ((pack.id, parameter) for parameter in pack.parameters.values())

    def parameters_at(self, document: str, edition: str | None, section: str) -> Iterator[tuple[str, Parameter]]:
        """The parameters whose value cites this section of the document or a part of it."""
        by_id = {pack.id: pack.document for pack in self.packs}
        for pack, parameter in self.parameters():
            if by_id[pack] == document and any(
                is_part(cite.section, section)
                for each, value in parameter.values.items()
                if edition in (None, each)
                for cite in value.cites
            ):
                yield pack, parameter

    @property
    def documents(self) -> Mapping[str, tuple[str, ...]]:
        """The documents of the packs with their editions."""
        return {pack.document: pack.editions for pack in self.packs}

    def names(self) -> Iterable[str]:
        """Every name that can be meant, for the nearest one."""
        yield from dict.fromkeys(each.rule.id for each in self.rules())
        yield from dict.fromkeys(parameter.name for _, parameter in self.parameters())


def _cites(rule: Rule, edition: str | None, section: str) -> bool:
    sections = [each for key, listed in rule.sections.items() if edition in (None, key) for each in listed]
    sections += [cite.section for cite in rule.cites if edition in (None, cite.edition)]
    return any(is_part(each, section) for each in sections)
