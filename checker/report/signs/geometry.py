"""Each sign as a workshop drawing in millimetres: outline, words, dimension lines, cut marks, and what is said of it.

Lettering and dimensions are in the manner of ISO 3098 and ISO 129-1: a height of letters is that of a capital; what is
called free is no demand, and in brackets stands the same length in other units. How wide a capital is, and how high by
the size of its type, is that of common plain faces, from memory; the words on a plate are set to the width that is
drawn, whatever face is there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from textwrap import wrap

from checker.catalog.model import Stage
from checker.report.drawing.geometry import Box, Point
from checker.report.safe import harmless
from checker.report.signs.lengths import INCHES_PER_FOOT, MM_PER_INCH, both_units
from checker.report.signs.sentences import (
    authority_words,
    look_words,
    only_if_words,
    place_words,
    state_words,
    text_words,
)
from checker.report.words import citation_text
from checker.tasks.papers.label_sheet import SignWanted

WIDTH = 277.0
"""Of a landscape sheet of ISO 216 A4 without 10 mm at each side."""
SCALES = (1, 2, 5, 10, 20, 50, 100)
"""Scales of reduction of ISO 5455."""

FREE_LETTERS, FREE_LETTERS_METRIC = Fraction(1, 2), 10 / MM_PER_INCH
"""Height in inches at which letters are drawn where no rule asks for one: half an inch, which rules ask for elsewhere;
on a site in metric units 10 mm, of the series of ISO 3098.
"""
ADVANCE = 0.76
"""Width of a capital with the space behind it, by its height."""
LINE_STEP = 1.7
"""From one line of words to the next, by the height of the letters (ISO 3098: at least 1.4)."""
EDGE, SIDE = 1.0, 0.5
"""From the words to the edge of the plate above and below, and at the sides, by the height of the letters."""

NOTE_SIZE, NOTE_STEP = 3.5, 5.0
NOTE_LETTER = 0.6 * NOTE_SIZE
HEAD_SIZE = 5.0
LEFT = 38.0
"""Room for the dimension of the letters."""
RIGHT = 33.0
"""Room for the dimension of the plate."""
DIMENSION = 9.0
"""From the plate to a dimension line."""
CUT, CUT_GAP = 4.0, 1.5
GAP = 8.0
BLANK = (120.0, 34.0)
"""Plate of a sign of which the wording is printed in its section: its size is free."""
CAPITAL = 0.72
"""Height of a capital by the size of its type."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; a cut mark, an edge, or part of a dimension."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Words:
    """Words by the left end of their base line, with the height of a capital and the width to which they are set."""

    text: str
    at: Point
    capital: float
    width: float
    on_plate: bool = False
    fitted: bool = False
    strong: bool = False

    @property
    def box(self) -> Box:
        """The room that they take."""
        x, y = self.at
        return Box(x, y - self.capital, x + self.width, y + 0.3 * self.capital)


@dataclass(frozen=True, slots=True)
class Plate:
    """The outline, with the colors that the rules ask for; none where they ask for none."""

    box: Box
    ground: str
    letters: str


@dataclass(frozen=True, slots=True)
class SignDrawing:
    """One sign as it is drawn, its place on the sheet from its own upper left corner. ``scale`` is 1 for true size."""

    name: str
    told: str
    scale: int
    height: float
    plate: Plate
    lines: tuple[Line, ...]
    words: tuple[Words, ...]


def sign_drawing(wanted: SignWanted, stage: Stage, *, told: bool = True) -> SignDrawing:
    """The drawing of one sign, with its heading and what is said of it unless that stands elsewhere. What is drawn
    never lies on anything else, whatever the words.
    """
    board = _Board(wanted)
    return board.drawing(board.head(), tuple(sign_notes(wanted, stage))) if told else board.drawing((), ())


def sign_heading(wanted: SignWanted) -> str:
    """Its number, its place and the scale of its drawing."""
    return _Board(wanted).heading


def sign_notes(wanted: SignWanted, stage: Stage) -> Iterator[str]:
    """What is said of a sign below its drawing."""
    yield from (
        *text_words(wanted),
        *look_words(wanted),
        *only_if_words(wanted),
        state_words(wanted, stage),
        *map(authority_words, wanted.askings),
    )


class _Board:
    """Draws one sign."""

    def __init__(self, wanted: SignWanted) -> None:
        self._wanted = wanted
        feet = wanted.sign.letter_feet
        self._is_asked = bool(feet)
        free = FREE_LETTERS_METRIC if wanted.metric else FREE_LETTERS
        self._letter_inches = Fraction(feet) * INCHES_PER_FOOT if feet else free
        self._letters = float(self._letter_inches * MM_PER_INCH)
        self._rows = tuple(harmless(each) for each in wanted.sign.words)
        self._size = self._true_size()
        room = WIDTH - LEFT - RIGHT
        self._scale = next((each for each in SCALES if self._size[0] / each <= room), SCALES[-1])

    def _true_size(self) -> tuple[float, float]:
        """Width and height of the plate in mm."""
        if not self._rows:
            return BLANK
        height = self._letters
        widest = max(map(len, self._rows)) * ADVANCE * height
        return widest + 2 * SIDE * height, height * (1 + LINE_STEP * (len(self._rows) - 1) + 2 * EDGE)

    def drawing(self, head: tuple[Words, ...], told: Iterable[str]) -> SignDrawing:
        """All of it, from the heading down to what is told of it."""
        top = (head[-1].at[1] + GAP if head else 0.0) + CUT + CUT_GAP
        plate = Box(LEFT, top, LEFT + self._size[0] / self._scale, top + self._size[1] / self._scale)
        below = plate.bottom + DIMENSION + NOTE_STEP + GAP
        notes = tuple(_set_under(told, below))
        lines, figures = self._dimensions(plate)
        sign = self._wanted.sign
        return SignDrawing(
            self._wanted.name,
            self._told(),
            self._scale,
            (notes[-1].at[1] if notes else below - GAP) + GAP,
            Plate(plate, sign.ground, sign.letters),
            (*_cut_marks(plate), *lines),
            (*head, *self._on_plate(plate), *figures, *notes),
        )

    def _told(self) -> str:
        text = ", ".join(self._rows) or harmless(self._wanted.sign.meaning)
        return f"{text}, at {harmless(place_words(self._wanted))}"

    @property
    def heading(self) -> str:
        """Its number, its place and the scale of its drawing."""
        return f"{self._wanted.name}  {harmless(place_words(self._wanted))}, scale 1:{self._scale}"

    def head(self) -> tuple[Words, ...]:
        """The heading above the drawing."""
        letters = int((WIDTH - 2) / (0.62 * HEAD_SIZE))
        rows = wrap(self.heading, letters, break_on_hyphens=False) or [self.heading]
        return tuple(
            Words(
                row,
                (0.0, HEAD_SIZE + place * 1.5 * HEAD_SIZE),
                CAPITAL * HEAD_SIZE,
                0.62 * HEAD_SIZE * len(row),
                strong=True,
            )
            for place, row in enumerate(rows)
        )

    def _on_plate(self, plate: Box) -> Iterator[Words]:
        height = self._letters / self._scale
        if not self._rows:
            yield from self._on_blank(plate)
        for place, row in enumerate(self._rows):
            width = len(row) * ADVANCE * height
            x = (plate.left + plate.right - width) / 2
            y = plate.top + height * (EDGE + 1 + LINE_STEP * place)
            yield Words(row, (x, y), height, width, on_plate=True, fitted=True)

    def _on_blank(self, plate: Box) -> Iterator[Words]:
        """Class word and section of a sign whose wording stands in the code, as far as there is room."""
        cites = citation_text(self._wanted.askings[0].finding.cites) or "no section: words of your own"
        wording = f"wording: {harmless(cites)}" if self._wanted.sign.class_word else harmless(cites)
        letters = int((plate.right - plate.left - 2 * NOTE_SIZE) / NOTE_LETTER)
        rows = wrap(wording, letters)[:3]
        class_word = self._wanted.sign.class_word.upper()
        y = plate.top + 2 * NOTE_SIZE
        if class_word:
            width = len(class_word) * ADVANCE * HEAD_SIZE
            yield Words(
                class_word, ((plate.left + plate.right - width) / 2, y + HEAD_SIZE / 2), HEAD_SIZE, width, on_plate=True
            )
            y += 2 * HEAD_SIZE
        for place, row in enumerate(rows):
            yield Words(
                row,
                (plate.left + NOTE_SIZE, y + place * NOTE_STEP),
                CAPITAL * NOTE_SIZE,
                NOTE_LETTER * len(row),
                on_plate=True,
            )

    def _dimensions(self, plate: Box) -> tuple[tuple[Line, ...], tuple[Words, ...]]:
        """Width and height of the plate, which are free, and the height of the letters."""
        wide, high = self._size
        y, x = plate.bottom + DIMENSION, plate.right + DIMENSION
        across = (*_span((plate.left, y), (plate.right, y)), *_out_from(plate, y, x))
        down = _span((x, plate.top), (x, plate.bottom))
        figures = [
            _figure(
                f"free: {' '.join(self._both(wide))}", ((plate.left + plate.right) / 2, y + NOTE_STEP), centred=True
            ),
            *_stacked(("free:", *self._both(high)), (x + 2, (plate.top + plate.bottom) / 2)),
        ]
        lines = (*across, *down)
        if self._rows:
            first = next(self._on_plate(plate)).box
            base = first.top + self._letters / self._scale
            x = plate.left - DIMENSION
            lines += (*_span((x, first.top), (x, base)), *_feelers(x, plate.left, (first.top, base)))
            figures += self._letter_figures(x - 2, base)
        return lines, tuple(figures)

    def _letter_figures(self, right: float, base: float) -> list[Words]:
        """The height of the letters, to the left of its dimension line: at least what is asked for, or free."""
        first, second = both_units(self._letter_inches, metric=self._wanted.metric)
        said = (f"{'min.' if self._is_asked else 'free:'} {first}", second)
        return list(_stacked(said, (right - NOTE_LETTER * max(map(len, said)), base)))

    def _both(self, millimetres: float) -> tuple[str, str]:
        """A measure of the plate, to a tenth of a millimetre, in both units."""
        inches = Fraction(round(10 * millimetres), 10) / MM_PER_INCH
        return both_units(inches, metric=self._wanted.metric)


def _figure(text: str, at: Point, *, centred: bool = False) -> Words:
    width = NOTE_LETTER * len(text)
    x, y = at
    return Words(text, (max(0.0, x - width / 2) if centred else x, y), CAPITAL * NOTE_SIZE, width)


def _stacked(rows: Iterable[str], at: Point) -> Iterator[Words]:
    """A figure in both units, one below the other."""
    x, y = at
    for place, row in enumerate(rows):
        yield _figure(row, (x, y + place * NOTE_STEP))


_STROKE = 1.2
"""Half of the oblique stroke that ends a dimension line."""


def _span(start: Point, end: Point) -> Iterator[Line]:
    """A dimension line with an oblique stroke at each end."""
    yield Line(start, end)
    for x, y in (start, end):
        yield Line((x - _STROKE, y + _STROKE), (x + _STROKE, y - _STROKE))


def _out_from(plate: Box, y: float, x: float) -> Iterator[Line]:
    """Lines from the corners of the plate to its dimensions; they begin past the cut marks."""
    away = CUT_GAP + CUT
    for left in (plate.left, plate.right):
        yield Line((left, plate.bottom + away), (left, y + _STROKE))
    for top in (plate.top, plate.bottom):
        yield Line((plate.right + away, top), (x + _STROKE, top))


def _feelers(x: float, edge: float, heights: Iterable[float]) -> Iterator[Line]:
    """Lines from the edge of the plate to the dimension of the letters."""
    for y in heights:
        yield Line((x - _STROKE, y), (edge - CUT_GAP, y))


def _cut_marks(plate: Box) -> Iterator[Line]:
    """Two short lines at each corner, that leave the corner itself free."""
    for x, out in ((plate.left, -1), (plate.right, 1)):
        for y, down in ((plate.top, -1), (plate.bottom, 1)):
            yield Line((x + out * CUT_GAP, y), (x + out * (CUT_GAP + CUT), y))
            yield Line((x, y + down * CUT_GAP), (x, y + down * (CUT_GAP + CUT)))


def _set_under(notes: Iterable[str], top: float) -> Iterator[Words]:
    letters = int((WIDTH - LEFT) / NOTE_LETTER)
    y = top
    for note in notes:
        for row in wrap(harmless(note), letters, break_on_hyphens=False) or [""]:
            yield Words(row, (LEFT, y), CAPITAL * NOTE_SIZE, NOTE_LETTER * len(row))
            y += NOTE_STEP
