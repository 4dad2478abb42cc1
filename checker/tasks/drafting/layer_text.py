"""The text of a layer: its head, and each change with the questions that it raises."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from checker.catalog.model import Catalog, Stage
from checker.rules.grammar import PAPER
from checker.rules.layers.model import is_part
from checker.rules.wording import choice_of
from checker.tasks.drafting.also import beside_number, beside_rule
from checker.tasks.drafting.answers import ADD, ASK_FOR, DELETE, LIMIT, SET, Answers, Wanted
from checker.tasks.drafting.finding import Finder, NumberFound, RuleFound
from checker.tasks.drafting.shapes import SITE, Shape, filled, restricted, shapes
from checker.tasks.drafting.yaml_text import comment, flow, in_quotes, listed, quoted, schema_line
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

ASKED = "What else must change when this changes? Take each line out when you have looked at it."
_OF_YOUR_OWN = (
    " A paper that only your office knows has a name of two or more words with hyphens and a title: "
    "`ask_for: notice-to-neighbors, title: signed notice to the neighbors`."
)


@dataclass(frozen=True, slots=True)
class _Written:
    """A change as it stands in the layer, what a reader should look at beside it, and numbers that it needs."""

    text: str
    told: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    parameters: str = ""
    papers: str = ""


def layer_text(answers: Answers, finder: Finder, catalog: Catalog, folder: Path) -> str:
    """The whole file. Raises Unreadable with everything in the answers that cannot be used."""
    written = _all_written(answers, finder, catalog)
    parts = [
        schema_line(folder, "layer"),
        *_head(answers, amended(answers, finder)),
        _block("parameters", (each.parameters for each in written)),
        _block("papers", (each.papers for each in written)),
        "changes:\n",
        *(_change(each) for each in written),
    ]
    return "".join(parts)


def _block(key: str, texts: Iterable[str]) -> str:
    text = "".join(texts)
    return f"{key}:\n{textwrap.indent(text, '  ')}" if text else ""


def amended(answers: Answers, finder: Finder) -> tuple[str, str] | None:
    """The document, with its edition, that the changes amend: of several the one that most of them hit. None where none
    of them hits a document with editions.
    """
    hit = Counter(
        (found.pack.document, found.edition)
        for each in answers.changes
        for found in _hit(each, finder)
        if found.edition
    )
    return hit.most_common(1)[0][0] if hit else None


def _hit(wanted: Wanted, finder: Finder) -> Sequence[RuleFound | NumberFound]:
    """The first rule or number that a change is about; what cannot be found is told when it is written."""
    if wanted.word == SET:
        return finder.numbers_meant(wanted.target, wanted.lists["to"])[:1]
    return finder.rules_for(wanted.target)[:1] if wanted.word in (DELETE, LIMIT) else ()


def _head(answers: Answers, amends: tuple[str, str] | None) -> Iterator[str]:
    yield f"layer: {answers.name}-code\n"
    yield f"title: {quoted(answers.document)}\n"
    yield f"authority: {quoted(answers.authority)}\n"
    yield f"basis: {answers.basis}\n"
    if amends is not None:
        yield f"amends: {flow({'document': quoted(amends[0]), 'written_against': in_quotes(amends[1])})}\n"
    elif (last := _last_edition(answers)) is not None:
        yield "# No change here touches a rule of a model code. Before you write one that does, name what it amends:\n"
        yield f"# amends: {flow({'document': quoted(last[0]), 'written_against': in_quotes(last[1])})}\n"
    if answers.checked:
        yield f"checked: {flow({key: _checked(key, value) for key, value in answers.checked.items()})}\n"
    else:
        yield "checked: {sure: low, against: not yet compared with the paper as filed}\n"
        yield '# Findings say "verify the citation" until somebody has compared it and writes, for instance:\n'
        yield '# checked: {sure: high, against: the paper as filed, on: "2026-03-14", by: the town clerk}\n'


def _last_edition(answers: Answers) -> tuple[str, str] | None:
    """The first document that is adopted with an edition, and the last of its editions."""
    return next(((document, edition) for document, edition in answers.editions.items() if edition), None)


def _checked(key: str, value: str) -> str:
    return in_quotes(value) if key == "on" else quoted(value)


def _change(written: _Written) -> str:
    asked = comment([ASKED, *(f"  {each}" for each in written.asked)], "  ") if written.asked else ""
    return f"{comment(written.told, '  ')}{asked}{written.text}"


def _all_written(answers: Answers, finder: Finder, catalog: Catalog) -> Sequence[_Written]:
    writer = _Writer(answers, finder, catalog)
    written: list[_Written] = []
    found: list[Problem] = []
    for wanted in answers.changes:
        try:
            written.append(writer.write(wanted))
        except Unreadable as error:
            found += error.problems
    if found:
        raise Unreadable(found)
    return written


class _Writer:
    """Writes one change after the other."""

    def __init__(self, answers: Answers, finder: Finder, catalog: Catalog) -> None:
        self._answers = answers
        self._finder = finder
        self._catalog = catalog
        amends = amended(answers, finder)
        self._amends = "" if amends is None else amends[0]

    def write(self, wanted: Wanted) -> _Written:
        """One change. Raises Unreadable."""
        if wanted.word == SET:
            return self._set(wanted)
        if wanted.word == ADD:
            return self._add(wanted)
        if wanted.word == ASK_FOR:
            return self._ask_for(wanted)
        return self._delete_or_limit(wanted)

    def _set(self, wanted: Wanted) -> _Written:
        found = self._finder.one_number(wanted.target, wanted.at, wanted.lists["to"])
        exceptions = wanted.values.get("exceptions", "")
        if found.excepted and not exceptions:
            listing = "; ".join(found.excepted)
            raise Unreadable(
                [
                    Problem(
                        f"Rules that read {found.parameter.title} have exceptions: {listing}. Do they still count?",
                        wanted.at,
                        "Write `exceptions: do_not_apply`, or `exceptions: apply` where the ordinance leaves them.",
                    )
                ]
            )
        to = wanted.lists["to"]
        value = listed(to) if found.parameter.type == "choices" else quoted(to[0])
        own = {"set": self._number(found, wanted), "to": value}
        if exceptions and found.excepted:
            own["exceptions"] = exceptions
        hit = [f"It changes this rule: {each.words}" for each in found.readers]
        told = (f"{found.parameter.title}: was {found.value.text}, is {wanted.values['to']}.", *hit)
        return _Written(self._one_line(own, wanted), told, beside_number(found, self._finder))

    def _number(self, found: NumberFound, wanted: Wanted) -> str:
        """The section that was named, where it means this number alone; otherwise its name."""
        cited = [each for each in self._finder.numbers if self._at(each.value.cites, wanted.target)]
        if found.pack.document == self._amends and [each.name for each in cited] == [found.name]:
            return flow({"section": in_quotes(wanted.target)})
        holders = [each for each in self._finder.packs if found.parameter.name in each.parameters]
        return found.parameter.name if len(holders) == 1 else in_quotes(found.name)

    def _at(self, cites: Sequence[object], section: str) -> bool:
        return any(is_part(getattr(each, "section", ""), section) for each in cites)

    def _delete_or_limit(self, wanted: Wanted) -> _Written:
        every = wanted.values.get("every") in ("yes", "true")
        found = self._finder.rules_for(wanted.target) if every else ()
        found = found or (self._finder.one_rule(wanted.target, wanted.at),)
        word = DELETE if wanted.word == DELETE else LIMIT
        own = {word: self._rule(found, wanted)}
        verb = "It is no longer asked for here" if word == DELETE else "It counts here only in this time"
        told = tuple(f"{verb}: {each.words}" for each in found)
        asked = tuple(dict.fromkeys(each for rule in found for each in beside_rule(rule, self._finder)))
        return _Written(self._one_line(own, wanted), told, asked)

    def _rule(self, found: Sequence[RuleFound], wanted: Wanted) -> str:
        cited = [each for each in self._finder.rules if self._at(each.cites, wanted.target)]
        if [each.name for each in cited] == [each.name for each in found]:
            first = found[0]
            place = {"document": quoted(first.pack.document), "edition": in_quotes(first.edition)}
            every = {"every": "yes"} if len(found) > 1 else {}
            return flow({**place, "section": in_quotes(wanted.target), **every})
        return in_quotes(found[0].name)

    def _add(self, wanted: Wanted) -> _Written:
        known = shapes()
        shape: Shape | None = known.get(wanted.target)
        if shape is None:
            remedy = f"Write {choice_of(known)}."
            sentence = f"There is no rule of the shape {wanted.target}."
            raise Unreadable([Problem(sentence, wanted.at, remedy, nearest(wanted.target, known))])
        made = filled(shape, wanted, self._answers.place, self._cites(wanted, in_full=True), self._catalog)
        terms = "".join(f"    {key}: {value}\n" for key, value in self._terms(wanted).items())
        return _Written(f"  - add:\n{textwrap.indent(made.rule, '      ')}{terms}", parameters=made.parameters)

    def _ask_for(self, wanted: Wanted) -> _Written:
        self._check_paper(wanted)
        rule, cites = f"{self._answers.name}-{wanted.target.replace('_', '-')}", self._cites(wanted, in_full=True)
        only = restricted(SITE, rule, wanted, cites, self._catalog)
        own = {"paper": wanted.target}
        if wanted.lists.get("must_show"):
            own["must_show"] = listed(wanted.lists["must_show"])
        if only.when:
            inner = [f"{{{each}}}" for each in only.when]
            own["when"] = inner[0] if len(inner) == 1 else flow({"all": listed(inner)})
        return _Written(
            self._one_line({"ask_for": flow(own)}, wanted), parameters=only.parameters, papers=self._declared(wanted)
        )

    def _declared(self, wanted: Wanted) -> str:
        """The line by which a paper that only this place knows is declared; nothing for those of the catalog."""
        if wanted.own is None:
            return ""
        due = {} if wanted.own.due in ("", Stage.PLAN_REVIEW.value) else {"due": wanted.own.due}
        means = {"means": quoted(wanted.own.means)} if wanted.own.means else {}
        said = {"title": quoted(wanted.own.title), **means, **due, "cites": self._cites(wanted)}
        return f"{wanted.target}: {flow(said)}\n"

    def _check_paper(self, wanted: Wanted) -> None:
        words = [] if wanted.own is not None else [("paper", wanted.target)]
        words += [("shows", each) for each in wanted.lists.get("must_show", ())]
        for fact, word in words:
            known = self._catalog.facts[fact].choices
            if word not in known:
                title = self._catalog.facts[fact].title
                own = _OF_YOUR_OWN if fact == PAPER else ""
                remedy = f"Write {choice_of(known)}; all of them stand in schemas/facts.md.{own}"
                raise Unreadable(
                    [Problem(f"`{word}` is no choice of {title}.", wanted.at, remedy, nearest(word, known))]
                )

    def _one_line(self, own: dict[str, str], wanted: Wanted) -> str:
        return f"  - {flow({**own, **self._terms(wanted)})}\n"

    def _terms(self, wanted: Wanted) -> dict[str, str]:
        terms = {"from": wanted.start, "until": wanted.until}
        days = {key: in_quotes(value) for key, value in terms.items() if value}
        reason = {"reason": quoted(wanted.reason)} if wanted.reason else {}
        return {**days, "cites": self._cites(wanted), **reason}

    def _cites(self, wanted: Wanted, *, in_full: bool = False) -> str:
        """What the change rests on; a number of the layer names the document too."""
        document = {"document": in_quotes(self._answers.document)} if in_full else {}
        return listed([flow({**document, "section": in_quotes(wanted.section)})])
