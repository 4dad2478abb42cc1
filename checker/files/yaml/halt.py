"""Where and on what YAML broke off, with the tokens before that place."""

from __future__ import annotations

import re
from dataclasses import dataclass

from yaml.error import MarkedYAMLError, YAMLError

from checker.files.wording import shown
from checker.files.yaml.lost_text import Span
from checker.files.yaml.scan import Token, open_brackets, tokens_before
from checker.files.yaml.source import Source

_COMMENT = re.compile(r"[ \t]#(?=\s|$)")
_END_IN_FLOW = re.compile(r"[,\]}]")
_COLON = re.compile(r":(?=\s|$)")
_PASSED_OVER = frozenset({"BlockEnd", "StreamEnd", "Key"})


@dataclass(frozen=True, slots=True)
class Halt:
    """What is known of a text that breaks off.

    ``context`` and ``complaint`` are YAML's own words and never shown; ``begin`` is where the broken thing begins,
    ``at`` where it breaks off; ``brackets`` are those still open there, outermost first.
    """

    source: Source
    context: str
    complaint: str
    begin: int
    at: int
    tokens: tuple[Token, ...]
    brackets: tuple[Token, ...]

    @property
    def sign(self) -> str:
        """The character at which it broke off; empty at the end of the text."""
        return self.source.text[self.at : self.at + 1]

    @property
    def line(self) -> str:
        """The line on which it broke off."""
        return self.line_of(self.at)

    def line_of(self, index: int) -> str:
        """The line of a character, as a message shows it."""
        return shown(self.source.line_text(index))

    def typed(self, span: Span) -> str:
        """What stands in a stretch of the text."""
        return self.source.typed[span.start : span.end]

    def same_line(self, first: int, second: int) -> bool:
        """Whether two characters stand on one line."""
        return self.source.line_of(first) == self.source.line_of(second)

    def rest(self, start: int) -> Span:
        """From ``start`` to the end of the value: its line without a comment, in brackets up to a comma or bracket."""
        line = _up_to(_COMMENT, self.source.typed[start : self.source.line_end(start)])
        if self.brackets:
            line = _up_to(_END_IN_FLOW, line)
        return Span(start, start + len(line.rstrip()))

    def rest_of_node(self, start: int) -> Span:
        """The same for what begins where YAML broke off: unless it follows a colon it may be a key, and ends at one."""
        span = self.rest(start)
        if self.last_of("Value") is not None:
            return span
        return Span(start, start + len(_up_to(_COLON, self.typed(span))))

    def key_before(self, number: int) -> str | None:
        """The key of the value that begins with the token of that number."""
        if number < 2 or self.tokens[number - 1].kind != "Value" or self.tokens[number - 2].kind != "Scalar":
            return None
        key = self.tokens[number - 2]
        return self.source.typed[key.start : key.end]

    def last_of(self, *kinds: str) -> int | None:
        """The number of the last token that has text, if it is of one of these kinds."""
        for number in range(len(self.tokens) - 1, -1, -1):
            if self.tokens[number].kind not in _PASSED_OVER:
                return number if self.tokens[number].kind in kinds else None
        return None


def halt_at(source: Source, error: YAMLError, resume_at: int) -> Halt:
    """Look again at the text from ``resume_at``, the start of a line, to the place of the error."""
    if not isinstance(error, MarkedYAMLError) or error.problem_mark is None:
        return Halt(source, "", "", 0, 0, (), ())
    at = min(error.problem_mark.index, len(source.text))
    begin = at if error.context_mark is None else min(error.context_mark.index, at)
    tokens = tokens_before(source.text, resume_at, at)
    return Halt(source, error.context or "", error.problem or "", begin, at, tokens, open_brackets(tokens))


def _up_to(end: re.Pattern[str], text: str) -> str:
    found = end.search(text, 1)
    return text[: found.start()] if found else text
