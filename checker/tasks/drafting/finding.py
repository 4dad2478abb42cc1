"""Finds the number or the rule that a clerk means by a section, a word or a name, among what is adopted."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from checker.files.yaml.tree import Scalar
from checker.rules.edition import cites_in, rule_in_edition
from checker.rules.grammar import NO_EDITION
from checker.rules.layers.model import is_part
from checker.rules.model.citing import Citation
from checker.rules.model.numbers import Parameter, ParameterValue
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.problem_list import ProblemList
from checker.rules.reading.parameters import read_written
from checker.rules.reading.value_kinds import CHOICES
from checker.rules.walk import parameters_read
from checker.rules.wording import listing
from checker.values.notation import nearest
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

_MOST_NAMED = 8
_WORD = re.compile(r"[a-z0-9_]+").fullmatch


@dataclass(frozen=True, slots=True)
class RuleFound:
    """A rule in the edition that is adopted."""

    pack: Pack
    edition: str
    rule: Rule

    @property
    def name(self) -> str:
        """The rule as pack:id."""
        return f"{self.pack.id}:{self.rule.id}"

    @property
    def cites(self) -> tuple[Citation, ...]:
        """Its sections in this edition."""
        return cites_in(self.rule, self.pack.document, self.edition)

    @property
    def words(self) -> str:
        """The rule for a reader: title, then document and sections."""
        return f"{self.rule.title} ({_sections(self.pack, self.edition, self.cites)}; {self.rule.id})"


@dataclass(frozen=True, slots=True)
class NumberFound:
    """A number with its value in the edition that is adopted, and the rules that read it."""

    pack: Pack
    edition: str
    parameter: Parameter
    value: ParameterValue
    readers: tuple[RuleFound, ...]

    @property
    def name(self) -> str:
        """The number as pack:name."""
        return f"{self.pack.id}:{self.parameter.name}"

    @property
    def excepted(self) -> tuple[str, ...]:
        """The exceptions of the rules that read it, in words: of all editions, as a layer outlives one."""
        read = {found.rule.id for found in self.readers}
        return tuple(each.because for rule in self.pack.rules if rule.id in read for each in rule.unless)

    @property
    def words(self) -> str:
        """The number for a reader: title, value, document and sections."""
        sections = _sections(self.pack, self.edition, self.value.cites)
        return f"{self.parameter.title}, now {self.value.text} ({sections}; {self.parameter.name})"


def _sections(pack: Pack, edition: str, cites: Iterable[Citation]) -> str:
    where = f"{pack.document} {edition}".strip()
    return f"{where} {listing([each.section for each in cites])}".strip()


_Found = TypeVar("_Found", RuleFound, NumberFound)


class Finder:
    """Looks among packs in the editions that are adopted; packs without editions are always there."""

    def __init__(self, packs: Sequence[Pack], editions: Mapping[str, str]) -> None:
        self.packs = tuple(packs)
        self.rules: tuple[RuleFound, ...] = tuple(
            RuleFound(pack, edition, rule)
            for pack in packs
            for edition in _edition(pack, editions)
            for rule in (rule_in_edition(each, edition) for each in pack.rules)
            if rule is not None
        )
        self.numbers: tuple[NumberFound, ...] = tuple(
            NumberFound(pack, edition, each, each.values[edition], self._readers(pack, each.name))
            for pack in packs
            for edition in _edition(pack, editions)
            for each in pack.parameters.values()
            if edition in each.values and self._readers(pack, each.name)
        )

    def _readers(self, pack: Pack, name: str) -> tuple[RuleFound, ...]:
        return tuple(each for each in self.rules if each.pack is pack and name in parameters_read(each.rule))

    def rules_for(self, asked: str) -> tuple[RuleFound, ...]:
        """The rules that are meant: by id, else by section, else those whose title and id hold every word."""
        named = tuple(each for each in self.rules if asked in (each.name, each.rule.id))
        cited = tuple(each for each in self.rules if any(is_part(cite.section, asked) for cite in each.cites))
        return named or cited or tuple(each for each in self.rules if _has(f"{each.rule.title} {each.rule.id}", asked))

    def numbers_for(self, asked: str) -> tuple[NumberFound, ...]:
        """The numbers that are meant: by name, by the section that sets them, by the rule that reads them, by words."""
        named = tuple(each for each in self.numbers if asked in (each.name, each.parameter.name))
        cited = tuple(each for each in self.numbers if any(is_part(cite.section, asked) for cite in each.value.cites))
        known = {each.name for each in self.rules_for(asked)}
        read = tuple(each for each in self.numbers if any(reader.name in known for reader in each.readers))
        worded = tuple(each for each in self.numbers if _has(f"{each.parameter.title} {each.parameter.name}", asked))
        return named or cited or worded or read

    def one_rule(self, asked: str, at: Position | None) -> RuleFound:
        """The only rule that is meant. Raises Unreadable where there is none or more than one."""
        names = [each.rule.id for each in self.rules]
        return _one(self.rules_for(asked), asked, at, "rule", lambda each: each.rule.id, names)

    def one_number(self, asked: str, at: Position | None, to: Sequence[str]) -> NumberFound:
        """The only number that is meant and can take the new value. Raises Unreadable where there is none or more than
        one.
        """
        names = [each.parameter.name for each in self.numbers]
        found = self.numbers_meant(asked, to)
        if len(found) > 1 and not any(_takes(each.parameter, to) for each in found):
            kinds = "; ".join(f"{each.parameter.title} ({each.parameter.type.replace('_', ' ')})" for each in found)
            sentence = f"{', '.join(to)} is no value of any number that is meant by {asked}: {kinds}."
            raise Unreadable([Problem(sentence, at, "Write a value of the right kind, with its unit.")])
        return _one(found, asked, at, "number", lambda each: each.parameter.name, names)

    def numbers_meant(self, asked: str, to: Sequence[str]) -> tuple[NumberFound, ...]:
        """The numbers that are meant, of several those that can take the new value, if any can."""
        found = self.numbers_for(asked)
        return tuple(each for each in found if _takes(each.parameter, to)) or found


def _takes(parameter: Parameter, to: Sequence[str]) -> bool:
    """Whether this can be a new value: choices are words, everything else is read as its type."""
    if parameter.type == CHOICES:
        return all(map(_WORD, to))
    scalar = Scalar(to[0], parameter.at) if len(to) == 1 else None
    return scalar is not None and read_written(scalar, parameter.type, parameter.name, ProblemList()) is not None


def _edition(pack: Pack, editions: Mapping[str, str]) -> tuple[str, ...]:
    if not pack.editions:
        return (NO_EDITION,)
    wanted = editions.get(pack.document)
    return (wanted,) if wanted in pack.editions and wanted is not None else ()


def _one(
    found: tuple[_Found, ...],
    asked: str,
    at: Position | None,
    what: str,
    name: Callable[[_Found], str],
    names: Sequence[str],
) -> _Found:
    if not found:
        sentence = f"No {what} that is adopted here is meant by {asked}."
        raise Unreadable([Problem(sentence, at, "Write its section, or a word of its title.", nearest(asked, names))])
    if len(found) > 1:
        more = f" and {len(found) - _MOST_NAMED} more" if len(found) > _MOST_NAMED else ""
        told = "; ".join(f"{name(each)} ({each.words.rpartition(' (')[0]})" for each in found[:_MOST_NAMED])
        sentence = f"{asked} means {len(found)} {what}s: {told}{more}."
        raise Unreadable([Problem(sentence, at, "Write the name of the one that is meant.")])
    return found[0]


def _has(text: str, asked: str) -> bool:
    wanted = asked.lower().replace("-", " ").split()
    return bool(wanted) and all(word in text.lower().replace("-", " ") for word in wanted)
