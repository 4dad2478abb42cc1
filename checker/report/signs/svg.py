"""The label sheet as SVG, in millimetres at true size: one ink, and the colors of a sign where a rule asks for them."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree import ElementTree as ET

from checker.catalog.model import Stage
from checker.findings.finding import Review
from checker.report.drawing.svg import millimetres
from checker.report.safe import harmless
from checker.report.signs.geometry import CAPITAL, GAP, WIDTH, Line, Plate, SignDrawing, Words, sign_drawing
from checker.report.signs.sentences import SIZE_IS_FREE, counted_words, heading
from checker.report.words import DISCLAIMER
from checker.tasks.papers.label_sheet import LabelSheet, SignWanted

_FACE = "Helvetica Neue, Arial, Liberation Sans, sans-serif"
_EDGE, _THIN, _FINE = "0.5", "0.18", "0.13"
_INK = "#22262b"
_COLORS = {
    "red": "#a4161a",
    "white": "#ffffff",
    "black": "#000000",
    "yellow": "#f2c200",
    "orange": "#d9650b",
    "green": "#1b6b3a",
    "blue": "#0b4f8a",
}
"""How a color that a rule asks for is drawn; one that stands here is told in words all the same."""
_NOTE, _TITLE = 3.5, 5.0
_SCALE_BAR = 100.0


def labels_svg(review: Review, sheet: LabelSheet) -> str:
    """One drawing with every sign below the other, ending in a line feed."""
    drawings = [sign_drawing(each, review.stage) for each in sheet.signs]
    told = [heading(review), DISCLAIMER, SIZE_IS_FREE, counted_words(sheet), _CHECK]
    top = 12.0 + _NOTE * 1.6 * (len(told) - 1) + 14.0
    height = top + sum(each.height + GAP for each in drawings)
    root = _root(height, heading(review), counted_words(sheet), "sheet")
    root.extend(_head(told))
    for drawing in drawings:
        group = ET.SubElement(root, "g", {"transform": f"translate(0 {millimetres(top)})"})
        group.extend(_elements(drawing))
        top += drawing.height + GAP
    return ET.tostring(root, encoding="unicode") + "\n"


_CHECK = "Print without scaling: the bar below is 100 mm long. The dimensions count, not the print."


def sign_svg(wanted: SignWanted, stage: Stage) -> str:
    """One sign as a drawing of its own, without its heading and what is told of it."""
    drawing = sign_drawing(wanted, stage, told=False)
    root = _root(drawing.height, f"Sign {drawing.name}", drawing.told, f"sign-{drawing.name}")
    root.extend(_elements(drawing))
    return ET.tostring(root, encoding="unicode")


def _root(height: float, title: str, told: str, name: str) -> ET.Element:
    size = f"{millimetres(WIDTH)} {millimetres(height)}"
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {size}",
            "width": f"{millimetres(WIDTH)}mm",
            "height": f"{millimetres(height)}mm",
            "role": "img",
            "font-family": _FACE,
            "color": _INK,
            "aria-labelledby": f"{name}-title {name}-told",
        },
    )
    ET.SubElement(root, "title", id=f"{name}-title").text = harmless(title)
    ET.SubElement(root, "desc", id=f"{name}-told").text = harmless(told)
    return root


def _head(told: list[str]) -> Iterator[ET.Element]:
    """What the sheet is, and a bar by which a print is checked."""
    y = 6.0
    for place, sentence in enumerate(told):
        size = _TITLE if place == 0 else _NOTE
        look = {"x": "0", "y": millimetres(y), "font-size": millimetres(size), "fill": "currentColor"}
        element = ET.Element("text", look)
        element.text = harmless(sentence)
        yield element
        y += 1.6 * _NOTE
    yield _line(Line((0.0, y), (_SCALE_BAR, y)), _EDGE)
    for x in (0.0, _SCALE_BAR):
        yield _line(Line((x, y - 1.5), (x, y + 1.5)), _EDGE)


def _elements(drawing: SignDrawing) -> Iterator[ET.Element]:
    yield _plate(drawing.plate)
    yield from (_line(each, _THIN) for each in drawing.lines)
    letters = _COLORS.get(drawing.plate.letters, "currentColor") if drawing.plate.ground else "currentColor"
    yield from (_words(each, letters if each.on_plate else "currentColor") for each in drawing.words)


def _plate(plate: Plate) -> ET.Element:
    box = plate.box
    return ET.Element(
        "rect",
        {
            "x": millimetres(box.left),
            "y": millimetres(box.top),
            "width": millimetres(box.right - box.left),
            "height": millimetres(box.bottom - box.top),
            "fill": _COLORS.get(plate.ground, "none"),
            "stroke": "currentColor",
            "stroke-width": _FINE if plate.ground else _EDGE,
        },
    )


def _line(line: Line, width: str) -> ET.Element:
    (left, top), (right, bottom) = line.start, line.end
    ends = {"x1": left, "y1": top, "x2": right, "y2": bottom}
    return ET.Element(
        "line",
        {name: millimetres(end) for name, end in ends.items()} | {"stroke": "currentColor", "stroke-width": width},
    )


def _words(words: Words, ink: str) -> ET.Element:
    """Words; those to engrave are set to the width that is drawn, so that no face makes them longer."""
    x, y = words.at
    look = {
        "x": millimetres(x),
        "y": millimetres(y),
        "font-size": millimetres(words.capital / CAPITAL),
        "fill": ink,
    }
    if words.fitted:
        look |= {"textLength": millimetres(words.width), "lengthAdjust": "spacingAndGlyphs"}
    element = ET.Element("text", look | ({"font-weight": "bold"} if words.strong else {}))
    element.text = words.text
    return element
