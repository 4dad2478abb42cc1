"""The end of reading: a problem after which YAML does not know how to go on."""

from __future__ import annotations

from dataclasses import dataclass

from checker.files.yaml.lost_text import Span
from checker.values.problems import Problem

# A character that no text of ours holds and that YAML takes for an ordinary letter.
COVER = "\ue000"


@dataclass(frozen=True, slots=True)
class Stop:
    """A problem that stops the reader; if ``cover`` is filled with ``filler``, what follows can be read."""

    problem: Problem
    cover: Span | None = None
    filler: str = COVER
