"""What the trade says for the words of a fact: other words, words that can mean several, words that answer nothing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.reading import nodes
from checker.values.refusals import NotationError
from checker.values.voltage_systems import read_system


@dataclass(frozen=True, slots=True)
class TradeWords:
    """Of one fact: other words by value, the values among which a word leaves the choice, what a word says instead of
    an answer, words that change nothing, and whether an answer may go on behind the value; what is asked, what is
    typed, and what each value comes to in plain words, each empty where the catalog says it well enough.
    """

    says: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    asks: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    no_answer: Mapping[str, str] = field(default_factory=dict)
    drop: frozenset[str] = frozenset()
    further: bool = False
    asked: str = ""
    typed: str = ""
    in_words: Mapping[str, str] = field(default_factory=dict)


def trade_words(fact: str) -> TradeWords:
    """The words of a fact, or of a part by the name behind its dot; empty where nothing is listed."""
    listed = all_trade_words()
    return listed.get(fact) or listed.get(fact.rpartition(".")[2]) or TradeWords()


@cache
def all_trade_words() -> Mapping[str, TradeWords]:
    """Every fact for which words are listed."""
    return {entry.key: _words(nodes.mapping(entry.value)) for entry in nodes.entries(_root().get("facts"))}


@cache
def cable_words() -> frozenset[str]:
    """Words that name a cable and not the insulation of its conductors, in small letters."""
    return frozenset(each.casefold() for each in nodes.texts(_root().get("cables")))


@cache
def _root() -> MappingNode:
    return nodes.mapping(read_file(data_folder("shared") / "trade-words.yaml", "trade-words.yaml"))


def _words(node: MappingNode) -> TradeWords:
    return TradeWords(
        _lists(node, "says"),
        {plain(word): values for word, values in _lists(node, "asks").items()},
        {plain(entry.key): nodes.text(entry.value) for entry in nodes.entries(node.get("no_answer"))},
        frozenset(plain(each) for each in nodes.texts(node.get("drop"))),
        nodes.flag(node.get("further")) is True,
        nodes.text(node.get("asked")) if node.get("asked") is not None else "",
        nodes.text(node.get("typed")) if node.get("typed") is not None else "",
        {entry.key: nodes.text(entry.value) for entry in nodes.entries(node.get("in_words"))},
    )


def _lists(node: MappingNode, key: str) -> Mapping[str, tuple[str, ...]]:
    return {entry.key: nodes.texts(entry.value) for entry in nodes.entries(node.get(key))}


# --- texts -----------------------------------------------------------------------------------------------------------

_CABLE_BOUNDARY = re.compile(r"[\s,]+")
_VOLTAGES = re.compile(r"\b[0-9]{2,5}\s*Y?\s*/\s*[0-9]{2,5}(?:\s*V(?:olts?)?\b)?", re.IGNORECASE)
_NUMBER_AND_WORD = re.compile(r"(?<=[0-9])[\s-]*(?=[a-z]+$)")


_RATING_THEN_POLES = re.compile(r"(?P<rating>.*[0-9a-z])[\s,/-]+(?P<poles>[1-4])[\s-]*p(?:oles?)?", re.IGNORECASE)
_POLES_THEN_RATING = re.compile(r"(?P<poles>[1-4])[\s-]*p(?:oles?)?[\s,/-]*(?P<rating>[0-9].*)", re.IGNORECASE)


def rating_and_poles(typed: str) -> tuple[str, str]:
    """The rating of a device and its number of poles, as in 100 A 2 pole or 2P 100 A; no poles where none are said."""
    said = typed.strip()
    found = _POLES_THEN_RATING.fullmatch(said) or _RATING_THEN_POLES.fullmatch(said)
    return (typed, "") if found is None else (found["rating"], found["poles"])


_FIGURE_AT = re.compile(
    r"(?P<figure>.*[0-9a-z])[\s,]+at\s+(?:the\s+)?(?P<place>meter|service[\s_]point)", re.IGNORECASE
)


def figure_and_place(typed: str) -> tuple[str, str]:
    """A figure and the place for which it is given, as in 9.8 kA at the meter; no place where none is said."""
    found = _FIGURE_AT.fullmatch(typed.strip())
    return (typed, "") if found is None else (found["figure"], plain(found["place"]).replace(" ", "_"))


def plain(word: str) -> str:
    """Small letters, single spaces."""
    return " ".join(word.replace("_", " ").casefold().split())


def without_dropped(said: str, words: TradeWords) -> str:
    """A plain answer without the words beside it that change nothing; as it is where nothing else would be left."""
    kept = [each for each in _NUMBER_AND_WORD.sub(" ", said).split() if each not in words.drop]
    return " ".join(kept) if words.drop and kept else said


def without_cable(typed: str) -> tuple[str, str]:
    """Conductors without the words for a cable, and those words, as typed."""
    parts = _CABLE_BOUNDARY.split(typed.strip())
    named = [each for each in parts if each.casefold() in cable_words()]
    if not named:
        return typed, ""
    return " ".join(each for each in parts if each.casefold() not in cable_words()), " ".join(named)


def voltages_first(typed: str) -> str:
    """A voltage system that does not begin with its voltages, by its name; as typed where it begins with them, or where
    no system is read.
    """
    found = _VOLTAGES.search(typed)
    if found is None or found.start() == 0:
        return typed
    try:
        return read_system(" ".join((found[0], typed[: found.start()], typed[found.end() :]))).name
    except NotationError:
        return typed
