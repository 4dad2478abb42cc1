"""Why a text breaks off, in our own words: one sentence, the place, and what to write."""

from __future__ import annotations

from collections.abc import Callable

from yaml.error import YAMLError

from checker.files.limits import Limits
from checker.files.yaml import broken_structure, broken_texts, refused
from checker.files.yaml.halt import Halt, halt_at
from checker.files.yaml.source import Source
from checker.files.yaml.stop import Stop
from checker.values.problems import Problem

# The first that knows an answer gives it: what hides the true cause stands before what only sees its consequences.
_EXPLANATIONS: tuple[Callable[[Halt], Stop | None], ...] = (
    broken_texts.directive,
    broken_structure.hash_hides_bracket,
    broken_texts.quoted,
    broken_texts.block_header,
    broken_texts.special_sign,
    broken_texts.second_colon,
    broken_texts.colon_in_brackets,
    broken_texts.no_colon,
    broken_structure.list_after_key,
    broken_structure.nothing_between,
    broken_structure.brackets,
    broken_structure.after_the_end,
    broken_structure.indentation,
)


def explain(source: Source, error: YAMLError, resume_at: int, limits: Limits) -> Stop:
    """What a person is told about ``error``; the text from ``resume_at``, the start of a line, is looked at again."""
    halt = halt_at(source, error, resume_at)
    if len(halt.brackets) > limits.depth:
        return Stop(refused.too_deep(source.at(halt.brackets[limits.depth].start), limits.depth))
    for explanation in _EXPLANATIONS:
        stop = explanation(halt)
        if stop is not None:
            return stop
    remedy = "Check its colon, brackets, quotes and indentation; a text with special signs goes in quotes."
    return Stop(Problem(f"This line cannot be read: `{halt.line}`.", source.at(halt.at), remedy))
