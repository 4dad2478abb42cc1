"""Every word of the grammar of rules is used by a shipped rule: what nobody uses was not tried out and can go."""

from __future__ import annotations

from checker.catalog.model import Catalog
from checker.rules.model.pack import Pack
from tests.rules_quality.words_used import GRAMMAR, words_of


def test_every_word_of_the_grammar_is_used(packs: tuple[Pack, ...], catalog: Catalog) -> None:
    used = {word for pack in packs for word in words_of(pack, catalog)}
    assert sorted(GRAMMAR - used) == []


def test_a_word_that_nobody_uses_would_be_seen(packs: tuple[Pack, ...], catalog: Catalog) -> None:
    """The cautions use few words, so most are missing there."""
    cautions = next(pack for pack in packs if pack.id == "cautions")
    used = set(words_of(cautions, catalog))
    assert {"look", "when", "count", "link site", "subject: a kind"} <= used
    assert {"requires", "largest_of", "link normal", "subject: a pair", "same as", "{PART.wanted}"} <= GRAMMAR - used
