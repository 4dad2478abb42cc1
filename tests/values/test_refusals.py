"""Errors of notation and the nearest valid name."""

import pytest

from checker.values.refusals import LONGEST_TEXT, NotationError, nearest, quoted, readable

FACTS = ("rated_current", "rated_power", "interrupting_rating", "withstand_rating", "fuel", "neutral_bond")
SYNONYMS = {"amps": "current", "kw": "rated_power", "aic": "interrupting_rating"}


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("rated_current", "rated_current"),
        ("Rated Current", "rated_current"),
        ("rated-current", "rated_current"),
        ("rated_curent", "rated_current"),
        ("rated_amps", "rated_current"),
        ("KW", "rated_power"),
        ("AIC", "interrupting_rating"),
        ("interupting rating", "interrupting_rating"),
        ("fule", "fuel"),
        ("xyzzy", None),
        ("", None),
    ],
)
def test_nearest_name(word: str, name: str | None) -> None:
    assert nearest(word, FACTS, SYNONYMS) == name


def test_a_synonym_that_leads_nowhere_is_not_a_name() -> None:
    assert nearest("amps", ("fuel",), {"amps": "current"}) is None


def test_an_error_says_what_is_wrong_what_to_do_and_what_is_near() -> None:
    error = NotationError("36 has no unit.", "Write 36 in or 36 ft.", "in")
    assert (error.sentence, error.remedy, error.near) == ("36 has no unit.", "Write 36 in or 36 ft.", "in")
    assert str(error) == "36 has no unit. Write 36 in or 36 ft. Nearest: in."
    assert str(NotationError("36 has no unit.")) == "36 has no unit."


@pytest.mark.parametrize("part", ["sentence", "remedy", "near"])
def test_an_error_cannot_be_changed(part: str) -> None:
    with pytest.raises(AttributeError):
        setattr(NotationError("36 has no unit."), part, "other")


def test_a_long_text_is_quoted_on_one_short_line() -> None:
    assert quoted("200\n  A") == "200 A"
    assert quoted("") == "an empty text"
    assert len(quoted("x" * 500)) == 40


def test_readable_text() -> None:
    assert readable("  200 A\n") == "200 A"
    assert readable("200\u00a0A,\n  rated") == "200 A, rated"
    with pytest.raises(NotationError, match="Nothing is written"):
        readable("  ")
    assert readable("9" * LONGEST_TEXT) == "9" * LONGEST_TEXT
    with pytest.raises(NotationError, match="too long"):
        readable("9" * (LONGEST_TEXT + 1))


METHODS = ("standard", "optional", "existing_dwelling")


@pytest.mark.parametrize(
    ("word", "names", "name"),
    [
        ("optional_dwelling", METHODS, "optional"),
        ("Optional dwelling", METHODS, "optional"),
        ("exsting_dwelling", METHODS, "existing_dwelling"),
        ("optional_dweling_units", (*METHODS, "optional_dwelling_units"), "optional_dwelling_units"),
        ("rated_current_of_it", ("rated", "rated_current", "current_of_it"), "rated_current"),
    ],
)
def test_a_name_that_begins_the_word_is_nearer_than_one_that_ends_like_it(
    word: str, names: tuple[str, ...], name: str
) -> None:
    """Save where the word is a longer name with a slip in it."""
    assert nearest(word, names) == name
