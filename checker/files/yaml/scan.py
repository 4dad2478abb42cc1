"""The tokens before the place where a text breaks off: what a message needs to know about brackets and comments."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from yaml.error import YAMLError
from yaml.reader import Reader
from yaml.scanner import Scanner
from yaml.tokens import Token as YamlToken

OPENING = {"FlowSequenceStart": "]", "FlowMappingStart": "}"}
CLOSING = frozenset({"FlowSequenceEnd", "FlowMappingEnd"})


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the text: its kind as YAML names it (Scalar, Key, Value, FlowEntry, ...) and where it stands."""

    kind: str
    start: int
    end: int
    plain: bool = False


class _TokenScanner(Reader, Scanner):
    """The slower scanner: unlike libyaml it keeps the tokens that it had found when it broke off."""

    def __init__(self, text: str) -> None:
        Reader.__init__(self, text)
        Scanner.__init__(self)


def tokens_before(text: str, start: int, stop: int) -> tuple[Token, ...]:
    """The tokens of ``text`` that begin from ``start``, which must begin a line, to before ``stop``."""
    scanner = _TokenScanner(text[start:stop])
    found: list[YamlToken] = []
    try:
        while scanner.check_token():
            found.append(scanner.get_token())  # type: ignore[no-untyped-call]
    except YAMLError:
        found.extend(scanner.tokens)
    return tuple(
        Token(
            type(token).__name__.removesuffix("Token"),
            token.start_mark.index + start,
            token.end_mark.index + start,
            plain=bool(getattr(token, "plain", False)),
        )
        for token in found
    )


def open_brackets(tokens: tuple[Token, ...]) -> tuple[Token, ...]:
    """The brackets and braces that are still open after the last token, outermost first."""
    still_open: list[Token] = []
    for token in tokens:
        if token.kind in OPENING:
            still_open.append(token)
        elif token.kind in CLOSING and still_open:
            still_open.pop()
    return tuple(still_open)


def comments(text: str, tokens: tuple[Token, ...], stop: int) -> Iterator[tuple[int, int]]:
    """For every comment between tokens: the number of the token before it, and where its ``#`` stands."""
    next_starts = (*(token.start for token in tokens[1:]), stop)
    for number, (token, following) in enumerate(zip(tokens, next_starts, strict=True)):
        begin = token.end
        while (sign := text.find("#", begin, following)) >= 0:
            yield number, sign
            line_end = text.find("\n", sign, following)
            begin = following if line_end < 0 else line_end
