"""Lines and brackets on which YAML breaks off: indentation, lists, what is not closed or follows a close."""

from __future__ import annotations

from checker.files.wording import in_quotes, quotes_remedy, shown
from checker.files.yaml import lost_text, refused
from checker.files.yaml.broken_texts import colon_in_value, unclosed_quote
from checker.files.yaml.halt import Halt
from checker.files.yaml.lost_text import Span
from checker.files.yaml.scan import CLOSING, OPENING, Token, comments
from checker.files.yaml.stop import Stop
from checker.values.problems import Problem

_QUOTES = frozenset({"'", '"'})


def hash_hides_bracket(halt: Halt) -> Stop | None:
    """``[#3 Cu, #4 Cu]``: the closing bracket is part of a comment."""
    if not halt.brackets:
        return None
    innermost = halt.brackets[-1]
    for number, sign in comments(halt.source.text, halt.tokens, halt.at):
        if sign >= innermost.end and _hides(halt, OPENING[innermost.kind], number, sign):
            return _swallowed(halt, number, sign)
    return None


def _hides(halt: Halt, closing: str, number: int, sign: int) -> bool:
    """Whether a comment holds the closing bracket, or stands glued to # where the value of a key belongs."""
    comment = halt.source.text[sign : halt.source.line_end(sign)]
    after_colon = halt.tokens[number].kind == "Value" and halt.same_line(halt.tokens[number].start, sign)
    return closing in comment or (after_colon and comment[1:2].strip() != "")


def _swallowed(halt: Halt, number: int, sign: int) -> Stop:
    before = halt.tokens[number]
    begins_before = before.kind == "Scalar" and halt.same_line(before.start, sign)
    key = halt.key_before(number if begins_before else number + 1)
    end = sign + len(lost_text.value_after_hash(halt.source, sign, in_flow=True))
    value = Span(before.start if begins_before else sign, end)
    return Stop(lost_text.swallowed_by_hash(halt.source, value, key), Span(sign, sign + 1))


def list_after_key(halt: Halt) -> Stop | None:
    """``a: - b``."""
    if "sequence entries are not allowed" not in halt.complaint:
        return None
    span = halt.rest(halt.at)
    quoted = in_quotes(shown(halt.typed(span)))
    sentence = f"A list cannot begin on the line of its key: `{halt.line}`."
    remedy = f"Write each item on a line of its own below the key; if it is a text, put it in quotes: {quoted}"
    return Stop(Problem(sentence, halt.source.at(halt.at), remedy), span)


def nothing_between(halt: Halt) -> Stop | None:
    """A comma or bracket where a value belongs."""
    if "node content" not in halt.complaint or halt.sign not in {",", "]", "}"}:
        return None
    if not halt.brackets:
        span = halt.rest(halt.at)
        return Stop(refused.begins_with(halt.source, span.start, span.end), span)
    if halt.sign != ",":
        return _wrong_bracket(halt, halt.brackets[-1])
    sentence = f"A value is missing before the comma in `{halt.line}`."
    return Stop(Problem(sentence, halt.source.at(halt.at), "Write it, or take the comma out."))


def brackets(halt: Halt) -> Stop | None:
    """Brackets that are not closed, or closed by the wrong sign, or hold two values without a comma."""
    if not halt.brackets:
        return None
    if halt.sign in {"]", "}"}:
        return _wrong_bracket(halt, halt.brackets[-1])
    if halt.sign == ":" and halt.last_of("FlowEntry", *OPENING) is not None:
        return Stop(refused.missing_key(halt.source.at(halt.at)))
    number = halt.last_of("Scalar")
    if number is not None and _is_quoted_over_lines(halt, halt.tokens[number]):
        return unclosed_quote(halt, halt.tokens[number].start)
    if halt.sign == ":" and number is not None and halt.same_line(halt.tokens[number].start, halt.at):
        return colon_in_value(halt, number)
    if halt.sign not in {"", ":"} and _begins_a_line_outside(halt, halt.brackets[-1]):
        return _left_open(halt, halt.brackets[-1])
    if halt.sign not in {"", ":"} and halt.same_line(halt.tokens[-1].start, halt.at):
        remedy = "Write a comma before this place, or put the whole text in quotes."
        return Stop(Problem(f"A comma is missing in `{halt.line}`.", halt.source.at(halt.at), remedy))
    return _unclosed_bracket(halt, halt.brackets[-1])


def _wrong_bracket(halt: Halt, opened: Token) -> Stop:
    sign = halt.source.typed[opened.start]
    sentence = f"The {sign} that opens on line {halt.source.line_of(opened.start)} cannot be closed by {halt.sign}."
    return Stop(Problem(sentence, halt.source.at(halt.at), f"Close it with {OPENING[opened.kind]}"))


def _begins_a_line_outside(halt: Halt, opened: Token) -> bool:
    """Whether it breaks off at the first word of a line that is indented no further than the line of the bracket."""
    line, before = halt.source.line_text(halt.at), halt.source.line_text(opened.start)
    column, indent = halt.source.at(halt.at).column - 1, len(before) - len(before.lstrip(" -"))
    return not halt.same_line(opened.start, halt.at) and not line[:column].strip(" -") and column <= indent


def _left_open(halt: Halt, opened: Token) -> Stop:
    """The bracket of an earlier line, told at that line: the one at which it breaks off is in order."""
    sign, number = halt.source.typed[opened.start], halt.source.line_of(opened.start)
    sentence = f"The {sign} of line {number} is not closed: `{halt.line_of(opened.start)}`."
    remedy = f"Close it with {OPENING[opened.kind]} before line {halt.source.line_of(halt.at)} begins."
    return Stop(Problem(sentence, halt.source.at(opened.start), remedy))


def _unclosed_bracket(halt: Halt, opened: Token) -> Stop:
    sign = halt.source.typed[opened.start]
    line = halt.line_of(opened.start)
    sentence = f"The bracket {sign} that opens in `{line}` is not closed, or a comma is missing after it."
    return Stop(Problem(sentence, halt.source.at(opened.start), f"Close it with {OPENING[opened.kind]}"))


def after_the_end(halt: Halt) -> Stop | None:
    """Text after a closing quote or bracket, or a bracket too many."""
    at = halt.source.at(halt.at)
    if halt.sign in {"]", "}"}:
        sentence = f"There is a closing {halt.sign} too many in `{halt.line}`."
        return Stop(Problem(sentence, at, "Take it out, or put the text in quotes."))
    number = halt.last_of("Scalar", *CLOSING)
    if number is None:
        return None
    before = halt.tokens[number]
    if _is_quoted_over_lines(halt, before):
        return unclosed_quote(halt, before.start)
    if before.plain or not halt.same_line(before.end, halt.at):
        return None
    if before.kind in CLOSING:
        sentence = f"Text follows the closing bracket in `{halt.line}`."
        return Stop(Problem(sentence, at, "Take it out, or put the whole value in quotes."))
    span = halt.rest(before.start)
    remedy = quotes_remedy(halt.typed(span), halt.key_before(number))
    return Stop(Problem(f"Text follows the closing quote in `{halt.line}`.", at, remedy), span)


def _is_quoted_over_lines(halt: Halt, text: Token) -> bool:
    return halt.source.typed[text.start] in _QUOTES and not halt.same_line(text.start, text.end)


def indentation(halt: Halt) -> Stop | None:
    """A line that fits neither the keys nor the items above it."""
    if "parsing a block" not in halt.context and "document start" not in halt.complaint:
        return None
    at = halt.source.at(halt.at)
    if halt.sign == ":":
        return Stop(refused.missing_key(at))
    if halt.last_of("DocumentEnd") is not None:
        sentence = f"`{halt.line}` follows the end of the document (...)."
        return Stop(Problem(sentence, at, "Take the line with ... out."))
    in_line = at.column == halt.source.at(halt.begin).column
    if in_line and halt.sign == "-":
        sentence = f"`{halt.line}` is an item of a list, and the lines above it are keys."
        return Stop(Problem(sentence, at, "Indent it below the key it belongs to."))
    if in_line and "block collection" in halt.context:
        sentence = f"`{halt.line}` does not begin with - like the items of the list above it."
        return Stop(Problem(sentence, at, "Begin it with - and a space, or indent it."))
    sentence = f"The indentation of `{halt.line}` fits no line above it."
    return Stop(Problem(sentence, at, "Begin it in the same column as the lines it belongs with."))
