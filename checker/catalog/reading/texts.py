"""One text as a value of a fact: word, flag, number, date, or what of these is possible."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from checker.catalog.model import Fact, ValueType
from checker.catalog.names import is_own_choice, is_tag, way_reference
from checker.catalog.reading.written import Reading
from checker.values.dates import day_number, read_date
from checker.values.notation import NotationError, ReadOne, nearest, read_possible
from checker.values.number_text import read_whole_number
from checker.values.possible import ABSENT, Atom, Possible, SetSpan, exactly
from checker.values.quantities import read_quantity
from checker.values.refusals import LONGEST_TEXT, quoted
from checker.values.wire_sizes import read_wire_size

NONE = "none"
UNKNOWN = "unknown"

_FLAGS = {"yes": True, "true": True, "no": False, "false": False}
_Units = list[str]


def read_text(text: str, fact: Fact, *, may_be_none: bool) -> Reading:
    """What a text leaves possible for a fact; raises NotationError."""
    typed = text.strip()
    if typed == UNKNOWN:
        return Reading(_anything(fact))
    if typed == NONE:
        return Reading(_absent(may_be_none))
    if fact.type is ValueType.TEXT:
        return Reading(exactly(_free_text(typed)))
    # The spaces around it count: so can an editor tell.
    if len(text) > LONGEST_TEXT:
        raise NotationError(f"{quoted(typed)} is too long to be a value.", "Write the value alone.")
    try:
        return _possible(typed, fact, may_be_none)
    except NotationError as error:
        raise NotationError(error.sentence, error.remedy, error.near or _near_unknown(typed, may_be_none)) from None


def _near_unknown(typed: str, may_be_none: bool) -> str | None:
    """The word unknown or none, where it was nearly written; one and nine are figures in words."""
    return nearest(typed, (UNKNOWN, NONE) if may_be_none and typed not in ("one", "nine") else (UNKNOWN,))


def _anything(fact: Fact) -> Possible:
    if fact.exact:
        raise NotationError("This cannot be left open.", f"Write what it is: {fact.title}.")
    return fact.anything()


def _absent(may_be_none: bool) -> Possible:
    if not may_be_none:
        raise NotationError("none cannot be written here.", "If it is not known, write unknown or leave it out.")
    return ABSENT


def _free_text(typed: str) -> str:
    if not typed:
        raise NotationError("Nothing is written here.", "Write the text, or leave it out.")
    return typed


def _possible(typed: str, fact: Fact, may_be_none: bool) -> Reading:
    units: _Units = []
    read_one = _READERS[fact.type](fact, units)
    value = read_possible(typed, _with_none(read_one) if may_be_none else read_one)
    if may_be_none and NONE in value.atoms:
        value = Possible(value.atoms - {NONE}, value.anything, value.spans, value.sets, True)
    if fact.several:
        value = _as_sets(value)
    if fact.exact and not value.is_exact:
        raise NotationError("This cannot be left open.", "Write one of them.")
    return Reading(value, units[0] if units else None)


def _with_none(read_one: ReadOne) -> ReadOne:
    def read(text: str) -> Fraction | Atom:
        return NONE if text.strip() == NONE else read_one(text)

    return read


def _as_sets(value: Possible) -> Possible:
    """Each word as the set that holds this word alone."""
    words = sorted(str(atom) for atom in value.atoms)
    sets = tuple(SetSpan(frozenset({word}), frozenset({word})) for word in words)
    return Possible(sets=sets, absent=value.absent)


def _choice_reader(fact: Fact, _: _Units) -> ReadOne:
    def read(text: str) -> str:
        return read_choice(text.strip(), fact)

    return read


def read_choice(word: str, fact: Fact) -> str:
    """One of the choices of a fact; raises NotationError with the nearest one."""
    if word in fact.choices:
        return word
    near = nearest_choice(word, fact)
    if fact.own_choices and is_own_choice(word):
        own = "One with a hyphen is a town's own: look at the jurisdiction of the site, and at its layer."
        sentence = f"No {fact.title} {quoted(word)} is declared by the jurisdiction of this site."
        raise NotationError(sentence, f"{choices_remedy(fact)} {own}", near)
    raise NotationError(f"{quoted(word)} is not one of its choices.", choices_remedy(fact), near)


def choices_remedy(fact: Fact) -> str:
    """The choices that can be written, as one sentence."""
    *first, last = (*fact.choices, NONE) if fact.may_be_none else fact.choices
    return f"Write {', '.join(first)} or {last}." if first else f"Write {last}."


def nearest_choice(word: str, fact: Fact) -> str | None:
    """The choice whose name, or else whose meaning, is nearest to the word."""
    by_title = {title: name for name, title in fact.choices.items()}
    near = nearest(word, [*fact.choices, *by_title])
    if near is None or _says_not(near) != _says_not(word):
        return None
    return by_title.get(near, near)


_NEGATIONS = frozenset({"not", "no", "non", "never", "without"})


def _says_not(words: str) -> bool:
    """Whether words say that something is not so: what is nearest to them in letters would be their opposite."""
    return not _NEGATIONS.isdisjoint(words.casefold().replace("-", " ").replace("_", " ").split())


def _flag_reader(_fact: Fact, _: _Units) -> ReadOne:
    def read(text: str) -> bool:
        if text.strip() not in _FLAGS:
            raise NotationError(f"{quoted(text)} is not yes or no.", "Write yes, no or unknown.")
        return _FLAGS[text.strip()]

    return read


def _count_reader(_fact: Fact, _: _Units) -> ReadOne:
    def read(text: str) -> Fraction:
        return Fraction(read_whole_number(text))

    return read


def _quantity_reader(fact: Fact, units: _Units) -> ReadOne:
    kind = fact.quantity
    assert kind is not None

    def read(text: str) -> Fraction:
        quantity = read_quantity(text, kind)
        units.append(quantity.unit)
        return quantity.number

    return read


def _wire_size_reader(_fact: Fact, _: _Units) -> ReadOne:
    def read(text: str) -> Fraction:
        return read_wire_size(text).circular_mils

    return read


def _date_reader(_fact: Fact, _: _Units) -> ReadOne:
    def read(text: str) -> Fraction:
        return day_number(read_date(text))

    return read


def _tag_reader(_fact: Fact, _: _Units) -> ReadOne:
    def read(text: str) -> str:
        if not is_tag(text.strip()):
            raise NotationError(f"{quoted(text)} is not a tag.", "Write the tag of a piece on the drawing.")
        return text.strip()

    return read


def _way_reader(_fact: Fact, _: _Units) -> ReadOne:
    def read(text: str) -> str:
        if way_reference(text.strip()) is None:
            sentence = f"{quoted(text)} does not name a way of a piece."
            raise NotationError(sentence, "Write the tag and the way, as P1/main or P1/7.")
        return text.strip()

    return read


_READERS: Mapping[ValueType, Callable[[Fact, _Units], ReadOne]] = {
    ValueType.CHOICE: _choice_reader,
    ValueType.FLAG: _flag_reader,
    ValueType.COUNT: _count_reader,
    ValueType.QUANTITY: _quantity_reader,
    ValueType.WIRE_SIZE: _wire_size_reader,
    ValueType.DATE: _date_reader,
    ValueType.TAG: _tag_reader,
    ValueType.WAY: _way_reader,
}
