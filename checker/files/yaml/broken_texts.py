"""Texts on which YAML breaks off: signs with a meaning of their own, quotes, colons."""

from __future__ import annotations

import re

from checker.files.wording import in_quotes, quotes_remedy, shown
from checker.files.yaml import lost_text, refused
from checker.files.yaml.halt import Halt
from checker.files.yaml.lost_text import Span
from checker.files.yaml.scan import CLOSING, Token
from checker.files.yaml.stop import Stop
from checker.values.problems import Problem

_GLUED_COLON = re.compile(r"([^\s:]+):([^\s:].*)")
_COMMENT_WITH_COLON = re.compile(r"\s#.*:")
# Beyond this YAML takes no text for a key.
_LONGEST_KEY = 1024
_PROPERTIES = ("an anchor", "an alias", "a tag", "parsing a node")


def directive(halt: Halt) -> Stop | None:
    """A line that begins with ``%``."""
    if "directive" in halt.context:
        index = halt.begin
    else:
        directives = [token for token in halt.tokens if token.kind == "Directive"]
        if not directives or "document start" not in halt.complaint:
            return None
        index = directives[-1].start
    return Stop(refused.directive(halt.source, index), Span(index, halt.source.line_end(index)), "#")


def quoted(halt: Halt) -> Stop | None:
    """A quote without an end, or a backslash in double quotes."""
    if "quoted scalar" not in halt.context:
        return None
    if "unexpected" in halt.complaint:
        return unclosed_quote(halt, halt.begin)
    backslash = halt.source.text.rfind("\\", halt.begin, halt.at + 1)
    line = halt.line_of(backslash)
    sentence = f"In double quotes a backslash begins a special sign, and this one begins none: `{line}`."
    remedy = "Use single quotes, in which a backslash is an ordinary sign."
    return Stop(Problem(sentence, halt.source.at(backslash), remedy), Span(backslash, backslash + 1))


def unclosed_quote(halt: Halt, quote: int) -> Stop:
    """A quote that is closed on a later line or never."""
    sign = halt.source.typed[quote]
    other = "double" if sign == "'" else "single"
    sentence = f"The quote {sign} that opens in `{halt.line_of(quote)}` is not closed on its line."
    remedy = f"Close the text with {sign} where it ends; if {sign} belongs to it, put the whole text in {other} quotes."
    cover = None if halt.brackets else Span(quote, halt.source.line_end(quote))
    return Stop(Problem(sentence, halt.source.at(quote), remedy), cover)


def block_header(halt: Halt) -> Stop | None:
    """``>= 10 kA`` and the like: signs that begin a block of text, with the text on their own line."""
    if "block scalar" not in halt.context:
        return None
    span = halt.rest_of_node(halt.begin)
    problem = refused.begins_with(halt.source, span.start, span.end)
    typed = halt.typed(span)
    if typed.startswith(">="):
        amount = shown(typed.removeprefix(">="))
        remedy = f"Put it in quotes: {in_quotes(shown(typed))}, or write: at least {amount}"
        problem = Problem(problem.sentence, problem.at, remedy)
    return Stop(problem, span)


def special_sign(halt: Halt) -> Stop | None:
    """A text that begins with one of ``% @ ` * & ! ? |``."""
    if any(word in halt.context for word in _PROPERTIES):
        index = halt.begin
    elif "next token" in halt.context or "mapping keys are not allowed" in halt.complaint:
        index = halt.at
    else:
        return None
    span = halt.rest_of_node(index)
    return Stop(refused.begins_with(halt.source, span.start, span.end), span)


def second_colon(halt: Halt) -> Stop | None:
    """A colon in a value, or after lines that YAML has joined into one text."""
    if "mapping values are not allowed" not in halt.complaint:
        return None
    number = halt.last_of("Scalar", *CLOSING)
    if number is None:
        return Stop(refused.missing_key(halt.source.at(halt.at)))
    before = halt.tokens[number]
    if halt.same_line(before.start, halt.at):
        return colon_in_value(halt, number)
    return _joined_lines(halt, before)


def colon_in_value(halt: Halt, number: int) -> Stop:
    """``window: 4 ft: north wall``; the value is the token of that number."""
    before = halt.tokens[number]
    if before.kind in CLOSING:
        return Stop(refused.complex_key(halt.source.at(before.start)))
    if halt.at - before.start > _LONGEST_KEY:
        return Stop(refused.long_key(halt.source.at(before.start), _LONGEST_KEY))
    span = halt.rest(before.start)
    sentence = f"The value in `{halt.line_of(before.start)}` holds a second colon."
    remedy = quotes_remedy(halt.typed(span), halt.key_before(number))
    if halt.brackets:
        remedy += ". If a new key begins there, write a comma before it."
    return Stop(Problem(sentence, halt.source.at(before.start), remedy), span)


def colon_in_brackets(halt: Halt) -> Stop | None:
    """``{a: 1, b:}``: a key whose colon touches the bracket."""
    if "plain scalar" not in halt.context or not halt.brackets:
        return None
    colon = halt.source.text.find(":", halt.begin, halt.at + 1)
    if colon < 0:
        return None
    key = halt.source.typed[halt.begin : colon]
    return Stop(lost_text.missing_value(halt.source, halt.begin, key), Span(colon, colon + 1))


def no_colon(halt: Halt) -> Stop | None:
    """A line of text among keys."""
    return _without_colon(halt, halt.begin) if "simple key" in halt.context else None


def _joined_lines(halt: Halt, text: Token) -> Stop:
    if not text.plain:
        return unclosed_quote(halt, text.start)
    line_start = halt.source.starts[halt.source.line_of(text.start) - 1]
    before = halt.source.text[line_start : text.start].strip()
    glued = _GLUED_COLON.match(halt.source.text, text.start)
    if not before or (glued and not before.strip(" -")):
        return _without_colon(halt, text.start)
    line = halt.source.line_text(halt.at)
    first = halt.source.starts[halt.source.line_of(halt.at) - 1] + len(line) - len(line.lstrip())
    sentence = f"`{shown(line)}` is indented as if it belonged to the value on the line above."
    remedy = "Begin it in the same column as the key on the line above."
    return Stop(Problem(sentence, halt.source.at(first), remedy))


def _without_colon(halt: Halt, start: int) -> Stop:
    end = halt.source.line_end(start)
    typed = halt.source.typed[start:end]
    glued = _GLUED_COLON.fullmatch(typed)
    if _COMMENT_WITH_COLON.search(typed):
        sentence = f"No colon is left in `{shown(typed)}`: from # on it is read as a comment."
        remedy = "Put the text with # in quotes."
    elif glued:
        sentence = f"The space after the colon is missing in `{shown(typed)}`."
        remedy = f"Write: {shown(f'{glued.group(1)}: {glued.group(2)}')}"
    else:
        sentence = f"There is no colon in `{shown(typed)}`, where a key and its value belong."
        remedy = "Write key, colon, space and value; or indent the line further if it continues the text above."
    return Stop(Problem(sentence, halt.source.at(start), remedy), Span(start, end), "#")
