"""The questions of ``rules draft`` on a terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from checker.catalog.model import Catalog
from checker.cli import draft_reasons as why
from checker.cli.asking import STOP, UNDO, WHY, Again, Asker, Check
from checker.rules import grammar
from checker.rules.documents import DocumentMeant, document_meant, with_editions
from checker.rules.model.pack import Pack
from checker.rules.reading.written_values import read_value
from checker.rules.schemas.words import OWN_PAPER_ADVICE
from checker.tasks.drafting.answers import (
    ADD,
    ASK_FOR,
    DELETE,
    LIMIT,
    SET,
    Adopted,
    Answers,
    PaperOfOwn,
    Record,
    Wanted,
    a_name_with_hyphen,
    name_with_hyphen,
    with_texts,
)
from checker.tasks.drafting.finding import Finder, NumberFound, RuleFound
from checker.tasks.drafting.shapes import ONLY, SITE, Ask, choices_of, conditions, shapes, subject_of
from checker.tasks.gathering.library import Library
from checker.values.dates import read_date
from checker.values.kinds import KINDS
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

_BASES = {
    "law": "a law, an ordinance",
    "written_policy": "a written policy of the office",
    "adopted_standard": "a standard that is adopted",
    "listing_or_instructions": "listing or maker's instructions",
    "local_practice": "what is usual here; advises and never corrects",
}
_MAY = {
    "anything": "ask for more and for less",
    "tighten": "only ask for more",
    "ease": "only ask for less",
    "nothing": "change nothing",
}
_DUE = {
    "plan_review": "with the plans",
    "installation": "before the work is inspected",
    "acceptance": "at the acceptance test",
    "in_service": "while the set is in use",
}
_OWN_PAPER, _OWN_PAPER_WORDS = "own", "a paper that only your office knows"
_WHAT = {
    SET: "set a number",
    DELETE: "do not adopt a rule",
    ADD: "add a rule of a common shape",
    ASK_FOR: "ask for a paper",
    LIMIT: "give a rule an end date",
    "interpretation": "record an interpretation",
    "special_permission": "record a special permission",
    "done": "nothing more",
}


def ask_all(asker: Asker, given: Mapping[str, str], library: Library, catalog: Catalog) -> Answers:
    """Every question; after an answer is taken back, from the one before it. ``given`` is not asked."""
    asker.begin_with(_told(asker))
    while True:
        asker.begin()
        try:
            return _Questions(asker, given, library, catalog).all()
        except Again:
            continue


def _told(asker: Asker) -> str:
    again = f"{len(asker.typed)} lines that were typed before are taken up. " if asker.typed else ""
    return (
        f"{again}Type {UNDO} to take the last answer back, {WHY} to read what a question is for, "
        f"and {STOP} to go on another day."
    )


class _Questions:
    """One pass through the questions."""

    def __init__(self, asker: Asker, given: Mapping[str, str], library: Library, catalog: Catalog) -> None:
        self._ask = asker
        self._given = given
        self._library = library
        self._catalog = catalog
        self._changes: list[Wanted] = []
        self._interpretations: list[Record] = []
        self._permissions: list[Record] = []

    def all(self) -> Answers:
        """The answers."""
        place = self._text("place", "Which place is it?", why.PLACE)
        adopts = tuple(self._adopted())
        event = self._choice(
            "event",
            "The date of which event decides which rules count?",
            why.EVENT,
            dict.fromkeys(grammar.EVENTS, ""),
        )
        finder = Finder(self._library.packs, {each.document: each.edition for each in adopts})
        while self._one_more(finder):
            pass
        answers = Answers(
            place,
            event,
            adopts,
            changes=tuple(self._changes),
            interpretations=tuple(self._interpretations),
            permissions=tuple(self._permissions),
        )
        return with_texts(answers, self._head()) if self._changes else answers

    def _text(self, key: str, question: str, why: str) -> str:
        return self._given.get(key) or self._ask.text(question, why)

    def _choice(self, key: str, question: str, why: str, choices: Mapping[str, str]) -> str:
        return self._given.get(key) or self._ask.choice(question, why, choices)

    def _head(self) -> dict[str, str]:
        return {
            "authority": self._text("authority", "Who makes these changes?", why.AUTHORITY),
            "document": self._text("document", "In which document do they stand?", why.OWN_DOCUMENT),
            "basis": self._choice("basis", "What do they rest on?", why.BASIS, _BASES),
            "may": self._choice(
                "may",
                "What may this authority do to the rules below it?",
                "A change beyond that is not made; both versions are shown for the AHJ to decide.",
                _MAY,
            ),
        }

    # --- adopted documents ------------------------------------------------------------------------------------------

    def _adopted(self) -> Iterator[Adopted]:
        packs = {pack.document: pack for pack in with_editions(self._library.packs)}
        titles = {name: "" if pack.title == name else pack.title for name, pack in packs.items()}
        while True:
            meant = self._document(titles, tuple(packs.values()))
            edition = meant.edition or self._edition(packs[meant.document])
            start = self._ask.text("From which day?", why.FROM_ADOPTED, _day)
            by = self._ask.text("Adopted by what?", why.ADOPTED_BY)
            yield Adopted(meant.document, edition, start, by)
            if not self._ask.yes("Is there another document or edition?", why.ANOTHER):
                return

    def _document(self, titles: Mapping[str, str], packs: Sequence[Pack]) -> DocumentMeant:
        """A document by its letter or by any of its names, also with the edition behind it."""

        def other(typed: str) -> str | None:
            meant = document_meant(typed, packs)
            return None if meant is None else f"{meant.document}\n{meant.edition}"

        document, _, edition = self._ask.choice(
            "Which document is adopted?", why.DOCUMENT, titles, other=other
        ).partition("\n")
        return DocumentMeant(document, edition)

    def _edition(self, pack: Pack) -> str:
        return self._ask.choice("Which edition?", why.EDITION, dict.fromkeys(pack.editions, ""))

    # --- changes ----------------------------------------------------------------------------------------------------

    def _one_more(self, finder: Finder) -> bool:
        what = self._ask.choice("What should change?", why.WHAT, _WHAT)
        if what == SET:
            self._set(finder)
        elif what in (DELETE, LIMIT):
            rule = self._rule(finder, "Which rule?")
            self._keep(what, rule.name, ends=what == LIMIT)
        elif what == ADD:
            self._add()
        elif what == ASK_FOR:
            self._paper()
        elif what == "interpretation":
            self._interpretation(finder)
        elif what == "special_permission":
            self._permission(finder)
        return what != "done"

    def _keep(
        self,
        word: str,
        target: str,
        lists: Mapping[str, tuple[str, ...]] | None = None,
        *,
        own: PaperOfOwn | None = None,
        ends: bool = False,
    ) -> None:
        lists = lists or {}
        section = self._ask.text("Which section says so?", why.SECTION)
        start = self._ask.text("From which day does it count?", why.FROM, _day, optional=True)
        until = self._ask.text("Until which day?", why.UNTIL, _day, optional=not ends or bool(start))
        reason = self._ask.text("Why?", why.REASON, optional=True)
        values = {key: ", ".join(each) for key, each in lists.items()}
        self._changes.append(Wanted(word, target, section, start, until, reason, values, lists, own))

    def _set(self, finder: Finder) -> None:
        asked = self._ask.text(
            "Which number? Type a word of its title, or the section that sets it.",
            why.NUMBER,
            _hits(finder.numbers_for, [each.parameter.name for each in finder.numbers], "number"),
        )
        found = self._one_number(finder.numbers_for(asked))
        rules = "".join(f"\n   It changes this rule: {each.words}" for each in found.readers)
        self._ask.tell(f"   {found.words}{rules}")
        to = self._ask.text(f"It is {found.value.text}. What shall it be?", _why_to(found), _value(found))
        lists = {"to": tuple(each.strip() for each in to.split(",")) if found.parameter.type == "choices" else (to,)}
        if found.excepted:
            exceptions = "; ".join(found.excepted)
            question = f"The rule has exceptions: {exceptions}. Do they still count?"
            choices = {"do_not_apply": "your number has no exceptions", "apply": "the ordinance leaves them"}
            lists["exceptions"] = (self._ask.choice(question, why.EXCEPTIONS, choices),)
        self._keep(SET, found.name, lists)

    def _one_number(self, found: Sequence[NumberFound]) -> NumberFound:
        known = {each.name: each for each in found}
        if len(known) == 1:
            return found[0]
        words = {name: each.words for name, each in known.items()}
        return known[self._ask.choice("Which of these?", "More than one is meant by it.", words)]

    def _rule(self, finder: Finder, question: str) -> RuleFound:
        asked = self._ask.text(
            f"{question} Type its section, or a word of its title.",
            why.RULE,
            _hits(finder.rules_for, [each.rule.id for each in finder.rules], "rule"),
        )
        known = {each.name: each for each in finder.rules_for(asked)}
        if len(known) > 1:
            words = {name: each.words for name, each in known.items()}
            return known[self._ask.choice("Which of these?", "More than one is meant by it.", words)]
        (found,) = known.values()
        self._ask.tell(f"   {found.words}")
        return found

    def _add(self) -> None:
        known = shapes()
        name = self._ask.choice("Of which shape?", why.SHAPE, _titles(known))
        given = {each.name: self._answer(each) for each in known[name].asks}
        self._keep(ADD, name, {**given, **self._only(subject_of(known[name], given))})

    def _only(self, subject: str) -> dict[str, tuple[str, ...]]:
        """The conditions under which alone it counts, with what they ask."""
        known = conditions(subject)
        if not known:
            return {}
        chosen = self._ask.several("Where does it count?", why.ONLY, _titles(known), left_out="everywhere")
        given = {each.name: self._answer(each) for name in chosen for each in known[name].asks}
        return {ONLY: chosen, **given} if chosen else {}

    def _answer(self, ask: Ask) -> tuple[str, ...]:
        question, choices = f"{ask.question[:1].upper()}{ask.question[1:]}?", choices_of(ask, self._catalog)
        if ask.what == "quantity":
            return (self._ask.text(question, why.OF_A_NUMBER, _quantity(ask.of)),)
        if ask.what == "several":
            return self._ask.several(
                question,
                why.OF_SEVERAL,
                choices,
            )
        return (
            self._ask.choice(
                question,
                why.OF_A_KIND,
                choices,
            ),
        )

    def _paper(self) -> None:
        facts = self._catalog.facts
        paper = self._ask.choice("Which paper?", why.PAPER, {**facts["paper"].choices, _OWN_PAPER: _OWN_PAPER_WORDS})
        own = self._own_paper() if paper == _OWN_PAPER else None
        name = paper if own is None else self._name_of(own)
        shows = self._ask.several("What must it show?", why.SHOWS, facts["shows"].choices)
        self._keep(ASK_FOR, name, {**({"must_show": shows} if shows else {}), **self._only(SITE)}, own=own)

    def _own_paper(self) -> PaperOfOwn:
        title = self._ask.text("What is it called, after the word the?", why.OWN_TITLE)
        means = self._ask.text("What is it, and where does an applicant get it?", why.OWN_MEANS, optional=True)
        due = self._ask.choice("When is it wanted?", why.OWN_DUE, _DUE)
        return PaperOfOwn(title, means, due)

    def _name_of(self, own: PaperOfOwn) -> str:
        suggested = a_name_with_hyphen(own.title)
        question = f"Which name stands for it in the files of applicants? {suggested} is one."
        return self._ask.text(question, why.OWN_NAME, _own_name)

    # --- records ----------------------------------------------------------------------------------------------------

    def _interpretation(self, finder: Finder) -> None:
        rule = self._rule(finder, "About which rule?")
        values = {
            "says": self._ask.text(
                "What does it say?",
                why.SAYS,
            )
        }
        self._interpretations.append(Record(rule.name, {**values, **self._by_on()}))

    def _permission(self, finder: Finder) -> None:
        rule = self._rule(finder, "From which rule?")
        values = {
            "site": self._ask.text(
                "For which site?",
                why.SITE,
            ),
            "says": self._ask.text(
                "What is permitted?",
                why.PERMITTED,
            ),
            **self._by_on(),
        }
        until = self._ask.text("Until which day?", why.UNTIL, _day, optional=True)
        condition = self._ask.text(
            "Under which condition?",
            why.CONDITION,
            optional=True,
        )
        record = {**values, **({"until": until} if until else {})}
        self._permissions.append(Record(rule.name, record, (condition,) if condition else ()))

    def _by_on(self) -> dict[str, str]:
        by = self._ask.text("By whom?", why.BY)
        return {
            "by": by,
            "on": self._ask.text("On which day?", why.ON, _day),
        }


# --- checks ---------------------------------------------------------------------------------------------------------


def _titles(known: Mapping[str, object]) -> dict[str, str]:
    return {name: str(getattr(shape, "title", "")) for name, shape in known.items()}


def _day(typed: str) -> str:
    return read_date(typed).isoformat()


def _own_name(typed: str) -> str:
    name = typed.strip()
    if not name_with_hyphen(name):
        raise Unreadable([Problem(OWN_PAPER_ADVICE, None, f"Write {a_name_with_hyphen(name)}, or another like it.")])
    return name


def _quantity(kind: str) -> Check:
    def check(typed: str) -> str:
        read_value(typed, kind)
        return typed.strip()

    return check


def _why_to(found: NumberFound) -> str:
    return (
        f"Your number in the place of {found.value.text}, with its unit. Every rule that reads it goes by yours then."
    )


def _value(found: NumberFound) -> Check:
    kind = found.parameter.type
    return _quantity(kind) if kind in (*KINDS, "count", "wire_size", "date") else str.strip


def _hits(find: Callable[[str], Sequence[object]], names: Sequence[str], what: str) -> Check:
    def check(typed: str) -> str:
        if not find(typed):
            near = nearest(typed, names)
            hint = f"Did you mean {near}?" if near else "Try another word."
            raise Unreadable([Problem(f"No {what} that is adopted here is meant by {typed}.", None, hint)])
        return typed

    return check
