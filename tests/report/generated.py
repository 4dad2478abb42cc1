"""Any review that the dataclasses allow, with texts of strangers in every place where such texts can come."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TypeVar

from hypothesis import strategies as st

from checker.catalog.model import Stage
from checker.engineering.worksheet import Line, Worksheet
from checker.findings.finding import (
    BreakEven,
    Check,
    ConnectionOfLine,
    ExceptionResult,
    Figure,
    Finding,
    InForce,
    Need,
    Notice,
    OneLine,
    PieceOfLine,
    ReadingResult,
    Review,
    StateOfLine,
    States,
    SubjectName,
    Way,
)
from checker.findings.judging.outcomes import Outcome
from checker.rules.grammar import EVENTS, FOLDS, RELATIONS, WHO_ACTS
from checker.rules.model.citing import Citation
from checker.rules.model.force import Basis, Force, Harm
from checker.rules.model.in_force import PackInForce
from checker.values.positions import Position
from checker.values.truth import Truth
from tests.report.reviews import DIGEST

_Made = TypeVar("_Made")

NASTY = (
    "\x1b[2J\x1b[31mred",
    "a\u202eb\u2066c",
    "<script>alert(1)</script>",
    "\u009b31m",
    "\x07\x00\x7f",
    "\ud800",
    "=1+1",
    "\u2028",
)
"""Texts that steer a terminal, turn writing round, open a tag, or are no text at all."""

words = st.one_of(
    st.sampled_from(NASTY),
    st.text(st.characters(codec="utf-8"), min_size=1, max_size=40),
    st.text("abc def-ghi ", min_size=1, max_size=150).map(lambda text: f"x{text}x"),
)
names = st.from_regex(r"[a-z][a-z0-9]{0,6}-[a-z0-9]{1,6}", fullmatch=True)
tags = st.from_regex(r"[A-Za-z][A-Za-z0-9_-]{0,11}", fullmatch=True)
fact_names = st.builds(lambda tag, fact: f"{tag}.{fact}", tags, names)
exact_numbers = st.one_of(
    st.integers(-(10**6), 10**6).map(str),
    st.builds(lambda whole, rest: f"{whole}/{rest}", st.integers(1, 99), st.integers(2, 99)),
    st.dates(date(1990, 1, 1), date(2050, 1, 1)).map(str),
)
positions = st.builds(
    Position, words.map(lambda text: text.replace("\n", " ")), st.integers(1, 9999), st.integers(1, 99)
)
truths = st.sampled_from(Truth)


def maybe(strategy: st.SearchStrategy[_Made]) -> st.SearchStrategy[_Made | None]:
    return st.one_of(st.none(), strategy)


def few(strategy: st.SearchStrategy[_Made]) -> st.SearchStrategy[tuple[_Made, ...]]:
    return st.lists(strategy, max_size=2).map(tuple)


citations = st.builds(Citation, words, maybe(words), words, st.booleans())
figures = st.builds(
    Figure,
    fact=maybe(fact_names),
    title=words,
    text=words,
    unit=maybe(st.sampled_from(["A", "ft", "W"])),
    low=maybe(exact_numbers),
    high=maybe(exact_numbers),
    at=maybe(positions),
    per=maybe(words),
    worksheet=maybe(fact_names),
    state=maybe(words),
)
checks = st.builds(
    Check, maybe(names), truths, st.sampled_from((*RELATIONS, *FOLDS)), figures, maybe(figures), st.booleans()
)
needs = st.builds(
    Need, st.sampled_from(["fact", "more", "exists", "person"]), fact_names, words, words, st.sampled_from(Stage)
)
break_evens = st.builds(
    BreakEven,
    fact_names,
    st.sampled_from(["at_least", "more_than", "at_most", "less_than"]),
    words,
    exact_numbers,
    maybe(st.just("A")),
    st.sampled_from(["at least", "at most"]),
)
subjects = st.builds(
    lambda parts, text: SubjectName(parts, text, "S", "transfer_switch", (0, "S"), "S"),
    st.dictionaries(st.sampled_from(["piece", "with", "from", "to", "site", "paper"]), words, min_size=1, max_size=2),
    words,
)


@st.composite
def findings(draw: st.DrawFn) -> Finding:
    rule = draw(names)
    outcome = draw(st.sampled_from(Outcome))
    return Finding(
        id=f"{draw(names)}:{rule}@{draw(tags)}",
        number=1,
        rule=rule,
        title=draw(words),
        subject=draw(subjects),
        outcome=outcome,
        could_be=tuple(draw(st.sets(st.sampled_from(Outcome), min_size=1, max_size=3))),
        without_permission=draw(maybe(st.sampled_from(Outcome))),
        due=draw(st.sampled_from(Stage)),
        force=draw(st.sampled_from(Force)),
        basis=draw(st.sampled_from(Basis)),
        authority=draw(words),
        cites=draw(few(citations)),
        checks=draw(few(checks)),
        exceptions=draw(few(st.builds(ExceptionResult, names, truths, words, few(citations)))),
        ways=draw(few(st.builds(Way, names, truths, few(checks)))),
        readings=draw(few(st.builds(ReadingResult, names, words, truths))),
        history=draw(few(words)),
        break_even=draw(maybe(break_evens)),
        follows_from=draw(maybe(fact_names)),
        before=draw(few(names)),
        companions=draw(few(words)),
        who_acts=draw(st.sampled_from(WHO_ACTS)),
        needs=draw(few(needs)),
        assumed=draw(few(fact_names)),
        unconfirmed=draw(few(names)),
        says=draw(words),
        why=draw(words),
        remedy=draw(few(words)),
        cautions=draw(few(words)),
        because=draw(words),
        look=draw(words),
        covers=draw(few(names)),
        reasons=draw(few(words)),
        harm=draw(st.sampled_from(Harm)),
        under=draw(maybe(names)),
    )


pieces = st.builds(PieceOfLine, tags, names, words, words, st.booleans())
packs_in_force = st.builds(
    PackInForce, names, words, maybe(words), st.just(DIGEST), words, maybe(st.dates(date(1990, 1, 1), date(2050, 1, 1)))
)
lines = st.builds(Line, st.sampled_from("abc"), words, words, words, st.just(""), words)
worksheets = st.builds(
    Worksheet, fact_names, words, words, st.lists(lines, min_size=1, max_size=2).map(tuple), words, few(words)
)


states_of_line = st.builds(StateOfLine, words, few(st.tuples(words, few(words))))


@st.composite
def one_lines(draw: st.DrawFn) -> OneLine:
    drawn = draw(st.lists(pieces, min_size=1, max_size=4, unique_by=lambda piece: piece.tag))
    known = st.sampled_from([piece.tag for piece in drawn])
    inputs = st.sampled_from(["fed_from", "normal", "alternate"])
    connections = st.builds(ConnectionOfLine, words, known, known, inputs)
    return OneLine(tuple(drawn), draw(few(connections)), tuple(sorted(draw(st.sets(known)))))


@st.composite
def reviews(draw: st.DrawFn) -> Review:
    found = draw(st.lists(findings(), max_size=3))
    return Review(
        site_name=draw(words),
        file=draw(words),
        digest=DIGEST,
        stage=draw(st.sampled_from(Stage)),
        in_force=InForce(
            draw(names),
            draw(words),
            draw(st.dates(date(1990, 1, 1), date(2050, 1, 1))),
            draw(st.sampled_from(EVENTS)),
            draw(st.lists(packs_in_force, min_size=1, max_size=2).map(tuple)),
        ),
        states=States(draw(few(states_of_line)), draw(st.integers(0, 9))),
        one_line=draw(one_lines()),
        findings=tuple(replace(each, number=place) for place, each in enumerate(found, start=1)),
        notices=draw(few(st.builds(Notice, _notice_kinds, words, maybe(positions), words))),
        worksheets={sheet.id: sheet for sheet in draw(few(worksheets))},
        not_covered=draw(few(words)),
        cautions=draw(few(words)),
    )


_notice_kinds = st.sampled_from(["override", "default", "drawing", "set_aside", "not_read"])
