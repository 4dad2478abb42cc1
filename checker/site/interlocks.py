"""Interlocks: two ways of the drawing whose devices are kept apart."""

from __future__ import annotations

from checker.catalog.names import way_reference
from checker.site.drawing import Drawing
from checker.site.model import SITE, Thing
from checker.site.problem_list import ProblemList
from checker.site.ways import Ways

INTERLOCKS = "interlocks"
_ENDS = ("first", "second")


class InterlockReader:
    """Puts the ways that interlocks name on the drawing, once their list is read."""

    def __init__(self, drawing: Drawing, ways: Ways, problems: ProblemList) -> None:
        self._drawing = drawing
        self._ways = ways
        self._problems = problems

    def read(self) -> None:
        """Draw both ways of each interlock; tells one that keeps a device from itself."""
        listed = self._drawing.lists.get((INTERLOCKS, SITE.id))
        for member in () if listed is None else listed.members:
            thing = self._drawing.things.get(member)
            if thing is not None:
                self._read_ends(thing)

    def _read_ends(self, thing: Thing) -> None:
        ends = [thing.facts[name] for name in _ENDS if name in thing.facts]
        for end in ends:
            match = way_reference(str(end.value.atom))
            if match is not None:
                self._ways.draw(match[1], match[2], end.at)
        if len(ends) == len(_ENDS) and ends[0].value == ends[1].value:
            sentence = f"{thing.subject} names one way twice ({ends[1].value.atom})."
            self._problems.add(sentence, ends[1].at, "Write the two ways that are kept apart, as P1/main and P1/7.")
