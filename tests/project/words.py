"""Finds the words of words.txt in what a person reads."""

import ast
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

# What a person reads of a pack, and of the fact catalog.
PACK_TEXTS = frozenset({"title", "says", "says_where", "why", "remedy", "because", "cautions", "look"})
CATALOG_TEXTS = frozenset({"title", "means"})


@dataclass(frozen=True, slots=True)
class Text:
    """A piece of text and where it stands: the path in the project, and the line or the keys that lead to it."""

    file: str
    place: str
    text: str


@dataclass(frozen=True, slots=True)
class Hit:
    """A word found in a text."""

    text: Text
    word: str

    def __str__(self) -> str:
        found = _pattern(self.word).search(self.text.text)
        start = found.start() if found else 0
        around = self.text.text[max(start - 40, 0) : start + 60]
        return f"{self.text.file}: {self.text.place}: {self.word!r} in {around!r}"


@dataclass(frozen=True, slots=True)
class Exemption:
    """A word that stands in a file on purpose, within the words `around` it."""

    file: str
    word: str
    around: str
    reason: str

    def covers(self, hit: Hit) -> bool:
        """Whether the word stands in these surroundings wherever it stands in the text."""
        if (self.file, self.word) != (hit.text.file, hit.word) or self.around not in hit.text.text:
            return False
        return not _pattern(self.word).search(hit.text.text.replace(self.around, ""))


def read_words(file: Path) -> list[str]:
    """The words of a file that has one on each line."""
    return [line for line in file.read_text(encoding="utf-8").splitlines() if line]


def read_exemptions(file: Path) -> list[Exemption]:
    """The exemptions that a file lists. Raises KeyError where one is not complete."""
    listed = yaml.safe_load(file.read_text(encoding="utf-8"))
    return [Exemption(each["file"], each["word"], each["in"], each["reason"]) for each in listed]


def hits(texts: Iterable[Text], words: Iterable[str]) -> list[Hit]:
    """Every word of `words` that stands as a whole word in one of `texts`, whatever its case."""
    patterns = {word: _pattern(word) for word in words}
    return [Hit(text, word) for text in texts for word, pattern in patterns.items() if pattern.search(text.text)]


def _pattern(word: str) -> re.Pattern[str]:
    # Underscores and hyphens part words: a key or an option holds several.
    inner = re.escape(word).replace(r"\ ", r"[\s_-]+")
    return re.compile(rf"(?<![^\W_]){inner}(?![^\W_])", re.IGNORECASE)


def texts_of_module(file: str, source: str) -> Iterator[Text]:
    """What `source` can print: its string literals, and its names of commands, options, fields and keys.

    Docstrings count: those of the commands are printed as help.
    """
    for node in ast.walk(ast.parse(source)):
        for text in _printable(node):
            yield Text(file, f"line {getattr(node, 'lineno', 1)}", text)


def _printable(node: ast.AST) -> Iterator[str]:
    match node:
        case ast.Constant(value=str(text)):
            yield text
        case ast.FunctionDef(name=name) | ast.AnnAssign(target=ast.Name(id=name)):
            yield name
        case ast.arg(arg=name) | ast.keyword(arg=str(name)):
            yield name
        case _:
            pass


def texts_of_messages(file: str, source: str) -> Iterator[Text]:
    """The string literals of `source` that are no docstrings: what its messages are made of."""
    tree = ast.parse(source)
    unread = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in unread:
            yield Text(file, f"line {node.lineno}", node.value)


def texts_of_page(file: str, source: str) -> Iterator[Text]:
    """The paragraphs of a page."""
    for number, paragraph in enumerate(source.split("\n\n"), start=1):
        yield Text(file, f"paragraph {number}", paragraph)


def texts_of_yaml(file: str, source: str, keys: frozenset[str]) -> Iterator[Text]:
    """What stands under one of `keys`, at any depth, in the documents of a YAML file."""
    for document in yaml.safe_load_all(source):
        yield from _under_keys(file, document, keys, place=())


def _under_keys(file: str, node: Any, keys: frozenset[str], place: tuple[str, ...]) -> Iterator[Text]:
    for name, inner in _children(node):
        here = (*place, name)
        if not isinstance(inner, str):
            yield from _under_keys(file, inner, keys, here)
        elif not keys.isdisjoint(here):
            yield Text(file, ".".join(here), inner)


def _children(node: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(node, dict):
        yield from ((str(key), value) for key, value in node.items())
    elif isinstance(node, list):
        yield from ((str(index), value) for index, value in enumerate(node))
