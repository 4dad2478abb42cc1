"""The rules that somebody looks for: by a section, a subject, a word; of all editions, or as they are in force."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum, auto

from checker.findings.assembling.told import change_told
from checker.rules.layers.model import is_part
from checker.rules.model.citing import Citation
from checker.rules.model.in_force import RuleInForce, RulesInForce
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.vocabulary import Vocabulary
from checker.rules.wording import choice_of, listing
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is looked for; everything that is given must hold."""

    section: str | None = None
    subject: str | None = None
    word: str | None = None

    def words(self) -> str:
        """What is looked for, in words."""
        parts = (("section", self.section), ("subject", self.subject), ("word", self.word))
        return ", ".join(f"{name} {value}" for name, value in parts if value is not None)


@dataclass(frozen=True, slots=True)
class Listed:
    """One rule of a list: its sections by edition, or as it is in force what it cites and what layers did to it."""

    pack: str
    id: str
    title: str
    subject: str
    subject_title: str
    sections: Mapping[str, tuple[str, ...]]
    cites: tuple[Citation, ...]
    marks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RuleList:
    """The rules that were found, and those deleted here among them."""

    rules: tuple[Listed, ...]
    deleted: tuple[Listed, ...] = ()


def rules_of_packs(
    packs: Sequence[Pack], wanted: Wanted, vocabulary: Vocabulary, towns: Sequence[str] = ()
) -> RuleList:
    """The rules of packs in all their editions. Raises Unreadable where none is found, with the towns in which to look:
    what a layer adds is a rule only in a town.
    """
    _check_subject(wanted, vocabulary)
    listed = tuple(_listed(rule, rule.cites, vocabulary) for pack in packs for rule in pack.rules)
    bodies = [rule for pack in packs for rule in pack.rules]
    found = _chosen(listed, bodies, wanted, vocabulary)
    if not found:
        nothing = _nothing(listed, bodies, wanted, vocabulary, "")
        raise Unreadable([_in_a_town(nothing, towns) if towns else nothing])
    return RuleList(found)


def rules_of_town(rules: RulesInForce, wanted: Wanted, vocabulary: Vocabulary, packs: Sequence[Pack]) -> RuleList:
    """The rules in force, with what layers did to them, and those that are deleted. Raises Unreadable where there is
    none of either; what the packs have of it in other editions is told then.
    """
    _check_subject(wanted, vocabulary)
    listed = tuple(_in_force(rule, vocabulary) for rule in rules.rules)
    bodies = [rule.rule for rule in rules.rules]
    gone = tuple(_deleted(each.rule, change_told(each.history), vocabulary) for each in rules.deleted)
    gone_bodies = [each.rule.rule for each in rules.deleted]
    found = RuleList(_chosen(listed, bodies, wanted, vocabulary), _chosen(gone, gone_bodies, wanted, vocabulary))
    if not found.rules and not found.deleted:
        where = f" in force in {rules.profile.title} on {rules.date}"
        nothing = _nothing((*listed, *gone), (*bodies, *gone_bodies), wanted, vocabulary, where)
        raise Unreadable([_beside(nothing, _elsewhere(packs, wanted, vocabulary))])
    return found


# --- as listed -------------------------------------------------------------------------------------------------------


def _listed(rule: Rule, cites: tuple[Citation, ...], vocabulary: Vocabulary) -> Listed:
    title = subject_title(rule.subject, vocabulary)
    return Listed(rule.pack, rule.id, rule.title, rule.subject, title, rule.sections, cites)


def _in_force(rule: RuleInForce, vocabulary: Vocabulary) -> Listed:
    body = rule.rule
    return Listed(
        body.pack,
        rule.id.partition(":")[2],
        body.title,
        body.subject,
        subject_title(body.subject, vocabulary),
        {},
        rule.cites,
        tuple(_marks(rule)),
    )


def _marks(rule: RuleInForce) -> Iterator[str]:
    yield from map(change_told, rule.history)
    if rule.versions:
        held = choice_of([each.held_by for each in rule.versions])
        yield f"For the AHJ to decide: as it stands by {held}."
    if rule.only_in:
        yield f"Only where {rule.only_in} holds."


def _deleted(rule: RuleInForce, told: str, vocabulary: Vocabulary) -> Listed:
    body = rule.rule
    title = subject_title(body.subject, vocabulary)
    return Listed(body.pack, body.id, body.title, body.subject, title, {}, rule.cites, (told,))


def subject_title(subject: str, vocabulary: Vocabulary) -> str:
    """The subject of a rule in words."""
    return vocabulary.catalog.titles.get(subject, subject.replace("_", " "))


# --- what is looked for ----------------------------------------------------------------------------------------------

Test = Callable[[Listed, Rule], bool]


def _chosen(listed: Sequence[Listed], bodies: Sequence[Rule], wanted: Wanted, words: Vocabulary) -> tuple[Listed, ...]:
    """Those for which every test holds; where a word is looked for, the best match first, then by id."""
    tests = tuple(_tests(wanted, words).values())
    found = [pair for pair in zip(listed, bodies, strict=True) if all(test(*pair) for test in tests)]
    if (word := wanted.word) is not None:
        found.sort(key=lambda pair: (_place_of(pair[1], word.casefold()), pair[0].id))
    return tuple(each for each, _ in found)


class _Place(IntEnum):
    """Where a word stands in a rule, the place that is most about it first."""

    WORD_OF_TITLE = auto()
    IN_TITLE = auto()
    IN_SENTENCE = auto()
    ELSEWHERE = auto()


def _place_of(rule: Rule, word: str) -> _Place:
    title, named = rule.title.casefold(), f"{rule.id} {rule.id.replace('-', ' ')}"
    if re.search(rf"\b{re.escape(word)}\b", title):
        return _Place.WORD_OF_TITLE
    if word in title or word in named:
        return _Place.IN_TITLE
    return _Place.IN_SENTENCE if word in f"{rule.says} {rule.look or ''}".casefold() else _Place.ELSEWHERE


def _tests(wanted: Wanted, vocabulary: Vocabulary) -> dict[str, Test]:
    tests: dict[str, Test] = {}
    section, subject, word = wanted.section, wanted.subject, wanted.word
    if section is not None:
        tests["section"] = lambda each, _: any(is_part(one, section) for one in _sections(each))
    if subject is not None:
        types = frozenset(vocabulary.types_of(subject))
        tests["subject"] = lambda _, rule: rule.subject == subject or _stands_for(rule.subject, types, vocabulary)
    if word is not None:
        tests["word"] = lambda _, rule: word.casefold() in _text_of(rule)
    return tests


def _sections(each: Listed) -> Iterator[str]:
    for sections in each.sections.values():
        yield from sections
    yield from (cite.section for cite in each.cites)


def _stands_for(subject: str, types: frozenset[str], vocabulary: Vocabulary) -> bool:
    """Whether a rule about this subject speaks of every one of these types: a rule about boards speaks of panelboards.

    Roles are no kinds: a rule about service disconnects is not listed under every kind that can be one.
    """
    catalog = vocabulary.catalog
    if subject in catalog.roles or subject in catalog.role_groups:
        return False
    return types <= frozenset(vocabulary.types_of(subject))


def _text_of(rule: Rule) -> str:
    texts = (rule.id, rule.id.replace("-", " "), rule.title, rule.says, rule.why, rule.look or "")
    told = (each.text for each in (*rule.says_where, *rule.remedy, *rule.cautions))
    return "\n".join((*texts, *told, *rule.covers)).casefold()


# --- nothing found ---------------------------------------------------------------------------------------------------


def _check_subject(wanted: Wanted, vocabulary: Vocabulary) -> None:
    name = wanted.subject
    if name is not None and name not in vocabulary.subjects:
        problem = Problem(
            f"There is no subject {name}.",
            remedy="Give a kind of equipment, a group, a role, a pair, or connection, site or service.",
            near=nearest(name, vocabulary.subjects),
        )
        raise Unreadable([problem])


def _nothing(
    listed: Sequence[Listed], bodies: Sequence[Rule], wanted: Wanted, vocabulary: Vocabulary, where: str
) -> Problem:
    """Why nothing is found: the first of what is looked for that no rule has at all, or that no rule has all of it."""
    known: dict[str, Callable[[], Iterable[str]]] = {
        "section": lambda: {section for each in listed for section in _sections(each)},
        "subject": lambda: {rule.subject for rule in bodies},
        "word": lambda: {word for rule in bodies for word in rule.title.casefold().split()},
    }
    for name, test in _tests(wanted, vocabulary).items():
        if not any(test(each, rule) for each, rule in zip(listed, bodies, strict=True)):
            value = str(getattr(wanted, name))
            sentences = {
                "section": f"No rule{where} cites section {value}.",
                "subject": f"No rule{where} is about {subject_title(value, vocabulary)}.",
                "word": f"No rule{where} has the word {value} in its id or its texts.",
            }
            names = sorted(known[name]())
            near = _near_section(value, names) if name == "section" else nearest(value.casefold(), names)
            return Problem(sentences[name], remedy="Look for a part of it, or for less.", near=near)
    return Problem(
        f"No rule{where} has all of this: {wanted.words()}.", remedy="There are rules for each; leave one out."
    )


def _near_section(section: str, known: Sequence[str]) -> str | None:
    """The nearest section: of the same article, if it has any that is like it."""
    article = section.partition(".")[0]
    return nearest(section, [each for each in known if each.partition(".")[0] == article]) or nearest(section, known)


def _elsewhere(packs: Sequence[Pack], wanted: Wanted, vocabulary: Vocabulary) -> list[str]:
    """What the packs have of it in editions that are not in force: document, editions, rule."""
    told = []
    for pack in packs:
        listed = [_listed(rule, rule.cites, vocabulary) for rule in pack.rules]
        for each in _chosen(listed, pack.rules, wanted, vocabulary):
            editions = listing([edition for edition in each.sections if _has_section(each, edition, wanted.section)])
            told.append(f"{f'{pack.document} {editions}'.strip()} ({each.id}: {each.title})")
    return told


def _has_section(each: Listed, edition: str, section: str | None) -> bool:
    return section is None or any(is_part(one, section) for one in each.sections[edition])


def _in_a_town(nothing: Problem, towns: Sequence[str]) -> Problem:
    remedy = f"Rules that a layer adds are listed in their town: give --jurisdiction {choice_of(towns)} and --date."
    return replace(nothing, remedy=remedy)


def _beside(nothing: Problem, elsewhere: Sequence[str]) -> Problem:
    """What was not found, with where else it stands: that goes before what is spelled alike."""
    if not elsewhere:
        return nothing
    more = f" and {len(elsewhere) - _MOST_NAMED} more" if len(elsewhere) > _MOST_NAMED else ""
    remedy = (
        f"It stands in {'; '.join(elsewhere[:_MOST_NAMED])}{more}. Look in an edition that has it, or without a town."
    )
    return replace(nothing, remedy=remedy)
