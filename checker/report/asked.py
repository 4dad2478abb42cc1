"""Questions in words: the sentence, what the answer settles, the choices, and why it is asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from textwrap import wrap

from checker.catalog.model import Catalog, Fact
from checker.report.safe import harmless
from checker.report.words import LOCAL_PRACTICE, PRACTICE, citation_text, counted
from checker.rules.model.force import Basis
from checker.site.model import SITE
from checker.tasks.questions.answers import labels
from checker.tasks.questions.asked import Question
from checker.tasks.questions.choosing import Next
from checker.tasks.questions.together import Together
from checker.tasks.questions.waiting import Waiting
from checker.tasks.questions.where import TAPE

WIDTH = 88
_INDENT = "   "


def question_text(found: Next, number: int) -> str:
    """One numbered question, in lines of a terminal."""
    question = found.question
    lines = [*_wrapped(f"{number}. ", question.sentence)]
    if question.means:
        lines += _wrapped(_INDENT, question.means)
    lines += _wrapped(_INDENT, f"{settles_words(found)}; {found_on_words(question)}")
    return "\n".join([*lines, *answer_lines(question)])


def together_text(found: Next, asked: Together, number: int) -> str:
    """One numbered question about several things, each with a number of its own."""
    lines = [*_wrapped(f"{number}. ", asked.sentence)]
    if found.question.means:
        lines += _wrapped(_INDENT, found.question.means)
    waits = f"{counted(asked.waits, 'finding')} {'waits' if asked.waits == 1 else 'wait'} for them"
    lines += _wrapped(_INDENT, f"{waits}; {found_on_words(found.question)}")
    for place, each in enumerate(asked.each, start=1):
        lines += _wrapped(f"{_INDENT}{place}  ", each.subject)
    return "\n".join([*lines, *together_lines(found.question)])


def together_lines(question: Question) -> Iterator[str]:
    """What may be typed of each of several things, and how they are answered at once."""
    yield from answer_lines(question)
    words = [choice.word.replace("_", " ") for choice in question.choices]
    first, last = (words[0], words[-1]) if len(words) > 1 else ("ANSWER", "ANSWER")
    how = f"Type number and answer of each, as 1: {first}; 2, 3: {last}, or all: {last} for every one of them."
    yield from _wrapped(_INDENT, f"{how} What is not named is left out in this run.")


def part_text(question: Question) -> str:
    """A question without a number, about something that is being listed or drawn."""
    return "\n".join([*_wrapped(_INDENT, question.sentence), *answer_lines(question)])


def part_why_text(fact: Fact) -> str:
    """What a fact is that is asked of something that is being listed or drawn, and where it is found."""
    found = f" Usually on the {fact.found_on}." if fact.found_on and fact.found_on != "site" else ""
    means = f": {fact.means}" if fact.means else "."
    return "\n".join(_wrapped(_INDENT, f"{fact.title[:1].upper()}{fact.title[1:]}{means}{found}"))


def answer_lines(question: Question) -> Iterator[str]:
    """What may be typed."""
    yield from choice_lines(question)
    if question.kind_of_answer:
        yield from _wrapped(_INDENT, f"Type {question.kind_of_answer}.")


def plain_text(text: str) -> str:
    """A sentence in lines of a terminal."""
    return "\n".join(_wrapped("", text))


def by_hand_text(question: Question, catalog: Catalog) -> str:
    """What to write into the site file where no question draws or lists it."""
    leaf = question.leaf
    facts = [fact for fact in catalog.facts_of(catalog.lists[leaf.name].member) if "." not in fact.name]
    shape = ", ".join(f"{fact.name}: ..." for fact in facts[:_SHOWN])
    on = "" if leaf.subject.id == SITE.id else f" of {leaf.subject.id}"
    return plain_text(
        f"Write it into the site file under {leaf.name}:{on}, as - {{{shape}}}. It stays open until then."
    )


_SHOWN = 3


def settles_words(found: Next) -> str:
    """What an answer settles, as far as answers that were tried out tell."""
    waits = counted(len(found.waits), "finding")
    if found.most == 0:
        verb = "waits" if len(found.waits) == 1 else "wait"
        return f"settles none by itself, and {waits} {verb} for it"
    span = str(found.most) if found.fewest == found.most else f"{found.fewest} to {found.most}"
    noun = "finding" if found.fewest == found.most == 1 else "findings"
    corrections = "a correction" if found.corrections == 1 else "corrections"
    could = f", {found.corrections} of them could be {corrections}" if found.corrections else ""
    if found.most == 1 and found.corrections:
        could = ", which could be a correction"
    return f"settles {span} {noun}{could}"


def found_on_words(question: Question) -> str:
    """Where it is usually read."""
    if question.paper == "site":
        return "seen on site"
    if question.paper == TAPE:
        return "measured on site"
    if question.paper.startswith(_OR_ON):
        return f"seen on site, or on the {question.paper.removeprefix(_OR_ON)}"
    return f"usually on the {question.paper}" if question.paper else "usually known to the owner"


_OR_ON = "site or "


def choice_lines(question: Question) -> Iterator[str]:
    """The choices with their letters."""
    for letter, choice in zip(labels([each.word for each in question.choices]), question.choices, strict=True):
        word = choice.word.replace("_", " ")
        says_more = [each for each in (choice.title, choice.in_words) if each and each != f"type {word}"]
        meaning = "; ".join(says_more)
        yield from _wrapped(f"{_INDENT}{letter}  ", f"{word}: {meaning}" if meaning else word)


def choice_text(titles: Mapping[str, str]) -> str:
    """Words with their letters and what they mean."""
    lettered = zip(labels(titles), titles.items(), strict=True)
    lines = (
        _wrapped(f"{_INDENT}{letter}  ", f"{word.replace('_', ' ')}: {title}") for letter, (word, title) in lettered
    )
    return "\n".join(line for one in lines for line in one)


def left_out_text(sentences: Sequence[str]) -> str:
    """What was left out and still waits for an answer, and that the next run asks it again."""
    head = f"Left out in this run, and asked again in the next: {counted(len(sentences), 'question')}."
    lines = [*_wrapped("", head)]
    for sentence in sentences[:_MOST_LEFT_OUT]:
        lines += _wrapped(_INDENT, sentence)
    rest = len(sentences) - _MOST_LEFT_OUT
    if rest > 0:
        lines += _wrapped(_INDENT, f"and {rest} more")
    return "\n".join(lines)


_MOST_LEFT_OUT = 10


def papers_words(papers: Iterable[str]) -> str:
    """That nothing on site settles more, and in which papers what is left is found."""
    named = ", ".join(dict.fromkeys(each for each in papers if each))
    return f"Nothing that is seen on site settles anything more. What is left is in papers: {named}."


def why_text(found: Next) -> str:
    """Which findings wait for the answer, and under which section."""
    said = (f"{each.title} ({each.subject.words}): {authority(each)}" for each in found.waits)
    return "\n".join(line for one in said for line in _wrapped(_INDENT, one))


def authority(waiting: Waiting) -> str:
    """The sections under which a finding waits, or practice, said as such."""
    if waiting.basis is Basis.TRADE_PRACTICE:
        return PRACTICE
    if waiting.basis is Basis.LOCAL_PRACTICE:
        return LOCAL_PRACTICE
    verify = ", verify the citation" if any(cite.verify for cite in waiting.cites) else ""
    return f"{citation_text(waiting.cites)}{verify}"


def waiting_words(waiting: int, later: int) -> str:
    """How many findings still wait."""
    verb = "waits" if waiting == 1 else "wait"
    still = (
        f"{counted(waiting, 'finding')} still {verb} for answers" if waiting else "No finding due now waits for answers"
    )
    return f"{still}{f', and {later} due at a later stage' if later else ''}."


def _wrapped(first: str, text: str) -> Iterable[str]:
    return wrap(harmless(text).replace("\n", " "), WIDTH, initial_indent=first, subsequent_indent=" " * len(first))
