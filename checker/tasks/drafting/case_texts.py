"""Cases worked out from the rules of a layer: what the engine answers, for a clerk to read line by line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import islice, product
from pathlib import Path

from checker.catalog.model import Catalog
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import Mapping as MappingNode
from checker.files.yaml.tree import Node
from checker.rules.cases.read import CaseRule, case_files, read_case_text
from checker.rules.grammar import MISSES
from checker.rules.layers import model
from checker.rules.layers.cases import case_rules, full_names
from checker.rules.layers.stack import Stack
from checker.rules.model.rule import Rule
from checker.rules.outcomes import compulsory_outcomes
from checker.rules.reading import nodes
from checker.rules.reading.names_read import NamesRead
from checker.rules.reading.pack_paths import shown_folder
from checker.rules.vocabulary import Vocabulary
from checker.tasks.drafting.candidates import Slot, compared_with, slots
from checker.tasks.drafting.yaml_text import comment, flow, in_quotes, listed, node_text, quoted, schema_line
from checker.tasks.testing.cases import USUAL_DATE, Answer
from checker.tasks.testing.layer_cases import layer_answer
from checker.values.problems import Unreadable

TO_READ = (
    "Worked out by the program from the rules as they are written, so that you can see what they do.",
    "Read each line: is that what the ordinance wants? Where it is not, change the rule, not the line.",
    "Take these three lines out when you have read all of them.",
)
_MOST_TRIED = 400
_MOST_KEPT = 14


@dataclass(frozen=True, slots=True)
class Draft:
    """A case without its answer: what differs from the base, and the day if it is not the usual one."""

    shows: str
    but: Mapping[str, str] = field(default_factory=dict)
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Answered:
    """A case with what the engine answered."""

    draft: Draft
    answer: Answer


class CaseWriter:
    """Writes the cases of one layer. Where it changes a rule of a pack, the pack's own cases are taken up."""

    def __init__(self, stack: Stack, catalog: Catalog) -> None:
        self._stack = stack
        self._changes = stack.touched()
        self._vocabulary = Vocabulary(stack.known(catalog))
        self._about = case_rules(stack, self._vocabulary)

    def text(self, folder: Path) -> str:
        """The whole file of cases."""
        blocks = [self._of_rule(name) for name in self._changes]
        return "".join([schema_line(folder, "cases"), comment(TO_READ), *blocks])

    def _of_rule(self, name: str) -> str:
        about = self._about.rules[name.rpartition(":")[2]]
        rule = about.rule
        try:
            base, found = self._worked_out(name, about)
        except Unreadable:
            found, base = [], {}
        if not found:
            return comment([f"No case of {rule.id} could be worked out: write some, as for the rules of a pack."])
        known = frozenset((*about.names.facts, *about.names.lists))
        lines = "".join(f"    - {_line(each, known)}\n" for each in found)
        return f"{rule.id}:\n  base: {flow(base)}\n  cases:\n{lines}"

    def _worked_out(self, name: str, about: CaseRule) -> tuple[Mapping[str, str], list[Answered]]:
        rule = about.rule
        if any(isinstance(each.what, model.AddRule) for each in self._changes[name]):
            base, drafts = self._of_own(name, rule)
        else:
            base, drafts = self._of_changed(name, about)
        found = self._answers(rule, base, drafts) if drafts else []
        turned = list(self._at_the_dates(name, rule, base, found))
        deleted = any(isinstance(each.what, model.DeleteRule) for each in self._changes[name])
        if deleted and found:
            # Nothing comes out any more: one case tells that as well as all.
            found = [next((each for each in found for day in turned if each.draft.but == day.draft.but), found[0])]
        return base, [*found, *turned]

    # --- rules of its own -------------------------------------------------------------------------------------------

    def _of_own(self, name: str, rule: Rule) -> tuple[Mapping[str, str], list[Draft]]:
        """A base on which the rule is met, then one thing changed at a time; what is still missing, from all tries."""
        in_force = self._stack.rule_on(name, self._edition(name), self._usual_day(name))
        if in_force is None:
            return {}, []
        known = slots(in_force, self._vocabulary)
        tried = self._answers(rule, {}, _combinations(known))
        wanted = "verify_in_field" if rule.look is not None else "met"
        first = next((each for each in tried if each.answer.outcome == wanted), None)
        if first is None:
            return {}, []
        base = first.draft.but
        all_drafts = [Draft(_base_words(known, base)), *_one_changed(known, base)]
        one_changed = self._answers(rule, base, all_drafts)
        kept = one_changed[:_MOST_KEPT]
        drafts, shown = [each.draft for each in kept], {each.answer.outcome for each in kept}
        # What was cut off to keep the list short comes first, then what two changes together are needed for.
        for outcome in compulsory_outcomes(rule, self._vocabulary):
            more = next((each.draft for each in (*one_changed, *tried) if each.answer.outcome == outcome), None)
            if outcome not in shown and more is not None:
                drafts.append(more)
        return base, drafts

    # --- rules of the packs -----------------------------------------------------------------------------------------

    def _of_changed(self, name: str, about: CaseRule) -> tuple[Mapping[str, str], list[Draft]]:
        """The cases that the pack has for the rule, and where a number is set one at the new and one at the old."""
        node = self._packs_cases(name)
        if node is None:
            return {}, []
        rule, read = about.rule, about.names
        base = _read_here(node.get("base"), read)
        edition = self._edition(name)
        given = [each for each in map(nodes.mapping, nodes.items(node.get("cases"))) if _is_of(each, edition)]
        drafts = [each for each in (_taken_up(case, read) for case in given) if each is not None]
        unique = {each.shows: each for each in (*self._at_numbers(name, rule), *drafts)}
        return base, list(unique.values())[: 2 * _MOST_KEPT]

    def _packs_cases(self, name: str) -> MappingNode | None:
        pack, rule = self._stack.pack_of(name), name.rpartition(":")[2]
        for path in () if pack is None else case_files(pack):
            if f"\n{rule}:".encode() not in path.read_bytes():
                continue
            root = nodes.mapping(read_file(path, f"{shown_folder(path.parent)}/{path.name}"))
            entry = root.entry(rule)
            if entry is not None:
                return nodes.mapping(entry.value)
        return None

    def _at_numbers(self, name: str, rule: Rule) -> Iterator[Draft]:
        before = self._stack.before(name, self._edition(name), self._usual_day(name))
        for change in self._changes[name]:
            if isinstance(change.what, model.SetNumber) and before is not None:
                old = before.parameters.get(change.what.parameter)
                for fact in dict.fromkeys(compared_with(rule, change.what.parameter)):
                    words = fact.replace("_", " ").replace(".", " ")
                    yield Draft(
                        f"{words} at the new number, {change.what.value.text}", {fact: quoted(change.what.value.text)}
                    )
                    if old is not None and not old.no_limit:
                        yield Draft(f"{words} at the old number, {old.text}", {fact: quoted(old.text)})

    # --- dates ------------------------------------------------------------------------------------------------------

    def _at_the_dates(
        self, name: str, rule: Rule, base: Mapping[str, str], found: Sequence[Answered]
    ) -> Iterator[Answered]:
        """The first case that comes out otherwise on the day before a change begins and after it has ended, a miss
        sooner than another.
        """
        for word, day in self._turning_days(name):
            drafts = [replace(each.draft, shows=f"{word}: {each.draft.shows}", day=day) for each in found]
            then = self._answers(rule, base, drafts) if drafts else []
            pairs = [
                (now, old) for now, old in zip(found, then, strict=True) if now.answer.outcome != old.answer.outcome
            ]
            pairs.sort(key=lambda pair: not _is_miss(pair[0]) and not _is_miss(pair[1]))
            yield from (old for _, old in pairs[:1])

    def _turning_days(self, name: str) -> Iterator[tuple[str, date]]:
        one = timedelta(days=1)
        days: dict[date, str] = {}
        for change in self._changes[name]:
            if change.terms.start is not None:
                days.setdefault(change.terms.start - one, "day before")
            if change.terms.until is not None:
                days.setdefault(change.terms.until + one, "day after")
        yield from ((word, day) for day, word in days.items())

    def _edition(self, name: str) -> str | None:
        return self._stack.usual_edition(name)

    def _usual_day(self, name: str) -> date:
        return self._stack.usual_day(name) or USUAL_DATE

    # --- the engine -------------------------------------------------------------------------------------------------

    def _answers(self, rule: Rule, base: Mapping[str, str], drafts: Iterable[Draft]) -> list[Answered]:
        """Each case with the engine's answer. Raises Unreadable where a value cannot be read."""
        given = list(drafts)
        outcome = compulsory_outcomes(rule, self._vocabulary)[0]
        lines = "".join(f"    - {_provisional(place, each, outcome)}\n" for place, each in enumerate(given))
        text = f"{rule.id}:\n  base: {flow(base)}\n  cases:\n{lines}"
        cases = read_case_text(text, self._stack.path.parent, self._about, self._vocabulary.catalog)
        name = full_names(self._stack)[rule.id]
        edition = self._edition(name)
        answers = (layer_answer(self._stack, name, each, edition, self._vocabulary) for each in cases)
        return [Answered(draft, answer) for draft, answer in zip(given, answers, strict=True)]


def _provisional(place: int, draft: Draft, outcome: str) -> str:
    days = {} if draft.day is None else {"date": in_quotes(draft.day.isoformat())}
    return flow({"shows": in_quotes(str(place)), "but": flow(draft.but), **days, "outcome": outcome})


def _line(found: Answered, known: frozenset[str]) -> str:
    draft, answer = found.draft, found.answer
    but = {"but": flow(draft.but)} if draft.but else {}
    days = {} if draft.day is None else {"date": in_quotes(draft.day.isoformat())}
    # What is asked of a member of a list is no name that a case can write.
    told = answer.outcome == "needs_information" and answer.needs <= known
    needs = {"needs": listed(sorted(answer.needs))} if told else {}
    return flow({"shows": quoted(draft.shows), **but, **days, "outcome": answer.outcome, **needs})


def _is_miss(found: Answered) -> bool:
    return found.answer.outcome in (*MISSES, "verify_in_field")


def _combinations(known: Sequence[Slot]) -> Iterator[Draft]:
    """Facts that are given all together, in the order of the candidates; what has none is left out."""
    choices = [[(slot.name, each) for each in slot.candidates] for slot in known if slot.candidates]
    for one in islice(product(*choices), _MOST_TRIED):
        yield Draft(", ".join(each.shows for _, each in one), {name: each.text for name, each in one})


def _base_words(known: Sequence[Slot], base: Mapping[str, str]) -> str:
    return ", ".join(each.shows for slot in known for each in slot.candidates if base.get(slot.name) == each.text)


def _one_changed(known: Sequence[Slot], base: Mapping[str, str]) -> Iterator[Draft]:
    for slot in known:
        others = (*slot.candidates, *(() if slot.unknown is None else (slot.unknown,)))
        yield from (Draft(each.shows, {slot.name: each.text}) for each in others if each.text != base.get(slot.name))


def _is_of(case: MappingNode, edition: str | None) -> bool:
    """Whether a case of a pack runs in this edition, on given facts."""
    return case.get("site") is None and (case.get("in") is None or edition in nodes.texts(case.get("in")))


def _taken_up(case: MappingNode, read: NamesRead) -> Draft | None:
    """A case of a pack without its answer; None where nothing that it changes is read in this edition."""
    but = _read_here(case.get("but"), read)
    return None if case.get("but") is not None and not but else Draft(nodes.text(case.get("shows")), but)


def _read_here(node: Node | None, read: NamesRead) -> dict[str, str]:
    """What is given, without the names that the rule does not read in this edition."""
    wholes = {name.rpartition(".")[0] for name in read.facts}
    found = {}
    for each in nodes.entries(node):
        if each.key in read.lists:
            found[each.key] = _list_here(nodes.mapping(each.value), read.lists[each.key])
        elif each.key in read.facts or each.key in wholes:
            found[each.key] = node_text(each.value)
    return found


def _list_here(node: MappingNode, read: NamesRead) -> str:
    members = listed(flow(_read_here(each, read)) for each in nodes.items(node.get("list")))
    complete = node.get("complete")
    return flow({**({} if complete is None else {"complete": node_text(complete)}), "list": members})
