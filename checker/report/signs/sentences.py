"""What is said of a sign, in sentences that any layout can set."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.catalog.model import Stage
from checker.findings.finding import Review
from checker.report.paragraphs import asked, dated_words
from checker.report.signs.lengths import INCHES_PER_FOOT, both_units
from checker.report.words import authority_text, counted, joined
from checker.tasks.papers.label_sheet import Asking, LabelSheet, SignState, SignWanted

NOTHING_WANTED = "No rule in force wants a sign, placard or marking here."
SIZE_IS_FREE = (
    "Where nothing is said of colors, of the height of letters or of the size of a plate, no rule here asks for it."
)

NUMBERS_LEAD = "A number is that of the finding that asks for the sign; `explain SITE NUMBER` tells it in full."

STATE_WORDS = {
    SignState.THERE: "there as shown",
    SignState.MISSING: "missing, or not as it is wanted",
    SignState.LOOK: "to be looked at in the field",
    SignState.OPEN: "open: what is shown does not tell whether it is wanted, or whether it is there as wanted",
    SignState.AHJ: "AHJ to decide",
    SignState.PERMITTED: "left out by special permission",
}


def state_words(wanted: SignWanted, stage: Stage) -> str:
    """Whether it is there. On plans a sign that is not there is one that is not shown."""
    on_plans = wanted.state is SignState.MISSING and stage is Stage.PLAN_REVIEW
    words = "not on the plans, or not as it is wanted" if on_plans else STATE_WORDS[wanted.state]
    return f"{words[0].upper()}{words[1:]}."


def place_words(wanted: SignWanted) -> str:
    """Where it stands, by the tags of the one-line with what they are."""
    sign = wanted.sign
    titles = {piece.tag: piece.title for piece in wanted.pieces}
    named = [f"{tag}, {titles[tag]}" if tag in titles else tag for tag in sign.places]
    if not named:
        return f"{sign.among} {wanted.subject}: none is shown" if sign.among else wanted.subject
    return f"one of {'; '.join(named)}" if sign.among and len(named) > 1 else "; ".join(named)


def text_words(wanted: SignWanted) -> Iterator[str]:
    """What is on it: words to engrave are told by the layout, a meaning is told here."""
    sign = wanted.sign
    if sign.meaning:
        yield f"It has to say: {sign.meaning}"
    if sign.class_word:
        yield f"Class word: {sign.class_word.upper()}. The wording is printed in the section."


def look_words(wanted: SignWanted) -> Iterator[str]:
    """Colors and letters, as far as a rule asks for them."""
    sign = wanted.sign
    colors = f"{sign.letters.capitalize()} letters on {sign.ground}" if sign.ground else ""
    height = f"letters {_height(wanted)} high or more" if sign.letter_height else ""
    told = ", ".join(each for each in (colors, height) if each)
    if told:
        yield f"{told[0].upper()}{told[1:]}."


def _height(wanted: SignWanted) -> str:
    """The least height of letters in both units, those of the site first."""
    if not wanted.sign.letter_feet:
        return wanted.sign.letter_height
    inches = Fraction(wanted.sign.letter_feet) * INCHES_PER_FOOT
    return " ".join(both_units(inches, metric=wanted.metric))


def only_if_words(wanted: SignWanted) -> Iterator[str]:
    """The open condition under which it is the one that is wanted."""
    if wanted.sign.only_if:
        yield f"Wanted only where this holds, which is open: {wanted.sign.only_if}."


def shown_words(wanted: SignWanted) -> Iterator[str]:
    """The labels that are shown there, where that one is not among them for sure."""
    if wanted.state is not SignState.THERE:
        yield from (f"Shown there: {each}." for each in wanted.sign.shown)


def asked_words(wanted: SignWanted) -> Iterator[str]:
    """What would tell, where that is open."""
    if wanted.state is SignState.OPEN:
        yield from dict.fromkeys(each for asking in wanted.askings for each in asked(asking.finding.needs))


def authority_words(asking: Asking) -> str:
    """Who asks for it under which section, by which rule and finding."""
    return f"{authority_text(asking.finding)}; {asking.finding.rule}, finding {asking.finding.number}"


def heading(review: Review) -> str:
    """The name of the site and the date that fixes the rules."""
    return f"{review.site_name}, signs, placards and markings, {dated_words(review.in_force)}"


def cautions(sheet: LabelSheet) -> tuple[str, ...]:
    """The cautions of the findings that ask for signs, each once."""
    return tuple(
        dict.fromkeys(each for wanted in sheet.signs for asking in wanted.askings for each in asking.finding.cautions)
    )


def counted_words(sheet: LabelSheet) -> str:
    """How many signs are wanted, and what of them is told."""
    if not sheet.signs:
        return NOTHING_WANTED
    told = [f"{len(found)} {words}" for state, words in _SHORT.items() if (found := sheet.of_state(state))]
    return f"{counted(len(sheet.signs), 'sign')}: {joined(told)}."


_SHORT = {
    SignState.THERE: "there as shown",
    SignState.MISSING: "missing",
    SignState.LOOK: "to be looked at",
    SignState.OPEN: "not told",
    SignState.AHJ: "for the AHJ to decide",
    SignState.PERMITTED: "by special permission",
}
