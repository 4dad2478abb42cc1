"""From bytes to text: encoding, size, line ends, and the place of a character."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from itertools import accumulate

from checker.files.limits import Limits
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

_BYTE_ORDER_MARK = "\ufeff"
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True)
class Source:
    """The text of a file with line feeds only and no byte order mark.

    ``typed`` and ``lines`` (without their ends) are for messages; ``text`` is what is read: as long, with a harmless
    character wherever one would stop the reader.
    """

    file: str
    typed: str
    text: str
    lines: tuple[str, ...]
    starts: tuple[int, ...]

    @classmethod
    def of(cls, file: str, typed: str) -> Source:
        """Split a text whose lines end in line feeds."""
        lines = tuple(typed.split("\n"))
        return cls(file, typed, typed, lines, (0, *accumulate(len(line) + 1 for line in lines[:-1])))

    def reading(self, text: str) -> Source:
        """The same file with another text to read; raises ValueError if it is not as long."""
        if len(text) != len(self.typed):
            raise ValueError("the text to read must be as long as the text typed")
        return replace(self, text=text)

    def line_of(self, index: int) -> int:
        """The number of the line, from 1, in which the character at ``index`` stands."""
        return bisect_right(self.starts, index)

    def at(self, index: int) -> Position:
        """The place of the character at ``index``."""
        line = self.line_of(index)
        return Position(self.file, line, index - self.starts[line - 1] + 1)

    def line_text(self, index: int) -> str:
        """The line, as typed, in which the character at ``index`` stands."""
        return self.lines[self.line_of(index) - 1]

    def line_start(self, index: int) -> int:
        """The index of the first character of the line of ``index``."""
        return self.starts[self.line_of(index) - 1]

    def line_end(self, index: int) -> int:
        """The index of the line feed that ends the line of ``index``, or the length of the text."""
        end = self.text.find("\n", index)
        return len(self.text) if end < 0 else end


def decoded(content: str | bytes, file: str, limits: Limits) -> str:
    """The text of a file, with line feeds only and without byte order mark.

    Raises Unreadable if it is too large, binary, or not UTF-8.
    """
    if _is_too_large(content, limits.bytes):
        raise Unreadable([too_large(file, limits)])
    text = content if isinstance(content, str) else _from_utf8(content, file)
    text = text.removeprefix(_BYTE_ORDER_MARK).replace("\r\n", "\n")
    zero = text.find("\0")
    if zero >= 0:
        sentence = "This is not a text file: it holds a zero byte."
        remedy = "Name a text file; a PDF, a drawing, a picture or a spreadsheet cannot be read."
        raise Unreadable([Problem(sentence, _place(text, zero, file), remedy)])
    return text


def too_large(file: str, limits: Limits) -> Problem:
    """The file has more bytes than the limit."""
    sentence = f"This file is too large: more than {limits.bytes:,} bytes."
    return Problem(sentence, Position(file, 1, 1), "Split it into several files, or check that it is the right one.")


def _is_too_large(content: str | bytes, most: int) -> bool:
    if len(content) > most or isinstance(content, bytes):
        return len(content) > most
    return len(content.encode("utf-8", "surrogatepass")) > most


def _from_utf8(content: bytes, file: str) -> str:
    remedy = "Save it again with the encoding UTF-8."
    if content.startswith(_UTF_16):
        raise Unreadable([Problem("This file is saved as UTF-16, not as UTF-8.", Position(file, 1, 1), remedy)])
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        before = content[: error.start].decode("utf-8").removeprefix(_BYTE_ORDER_MARK)
        if "\0" in before:
            return before
        sentence = "This file is not UTF-8 text: a byte here belongs to no character."
        raise Unreadable([Problem(sentence, _place(before, len(before), file), remedy)]) from None


def _place(text: str, index: int, file: str) -> Position:
    before = text[:index].replace("\r\n", "\n")
    return Position(file, before.count("\n") + 1, index - (text.rfind("\n", 0, index) + 1) + 1)
