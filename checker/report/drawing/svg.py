"""A sheet as SVG: for the page, in millimetres, in the ink of the page around it."""

from __future__ import annotations

from collections.abc import Set
from xml.etree import ElementTree as ET

from checker.report.drawing.geometry import TEXT_SIZE, Drawn, Point, Polyline, Sheet, Text
from checker.report.safe import harmless

THIN, THICK = "0.25", "0.7"
"""Widths of lines in mm; what is live is drawn thick, wider than two to one, so that it tells in a small copy too."""
_LEADER = "0.13"


def svg(sheet: Sheet, title: str, told: str, name: str, live: Set[str] = frozenset()) -> str:
    """The sheet as an SVG element with a title and a description for who does not see it.

    ``name`` keeps its ids apart from others on the page. ``live`` holds the ids of the lines that are live.
    """
    width, height = millimetres(sheet.width), millimetres(sheet.height)
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {width} {height}",
            "width": f"{width}mm",
            "role": "img",
            "aria-labelledby": f"{name}-title {name}-told",
        },
    )
    ET.SubElement(root, "title", id=f"{name}-title").text = harmless(title)
    ET.SubElement(root, "desc", id=f"{name}-told").text = harmless(told)
    for leader in sheet.leaders:
        root.append(_path((leader.start, leader.end), _LEADER))
    for line in sheet.lines:
        root.append(_path(line.points, THICK if line.wire.id in live else THIN))
    for x, y in sheet.joints:
        ET.SubElement(root, "circle", {"cx": millimetres(x), "cy": millimetres(y), "r": "0.7", "fill": "currentColor"})
    for symbol in sheet.symbols:
        root.append(_symbol(symbol))
    for text in sheet.texts:
        root.append(_text(text))
    return ET.tostring(root, encoding="unicode")


def _path(points: tuple[Point, ...], width: str) -> ET.Element:
    steps = " L ".join(f"{millimetres(x)} {millimetres(y)}" for x, y in points)
    return ET.Element("path", {"d": f"M {steps}", "fill": "none", "stroke": "currentColor", "stroke-width": width})


def _symbol(drawn: Drawn) -> ET.Element:
    x, y = drawn.at
    group = ET.Element("g", {"transform": f"translate({millimetres(x)} {millimetres(y)})"})
    for path in drawn.symbol.paths:
        ET.SubElement(group, "path", {"d": path, "fill": "none", "stroke": "currentColor", "stroke-width": "0.35"})
    if drawn.symbol.letters:
        ET.SubElement(
            group, "text", {"y": "1.3", "font-size": "3.6", "text-anchor": "middle", "fill": "currentColor"}
        ).text = drawn.symbol.letters
    return group


def _text(text: Text) -> ET.Element:
    x, y = text.at
    look = {"x": millimetres(x), "y": millimetres(y), "font-size": str(TEXT_SIZE), "fill": "currentColor"}
    element = ET.Element("text", look | ({"font-weight": "bold"} if text.strong else {}))
    element.text = harmless(text.words)
    return element


def millimetres(value: float) -> str:
    """Millimetres to a hundredth, without trailing zeros, so that the bytes do not hang on how a sum was rounded."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def live_lines(lines: tuple[Polyline, ...], fed: Set[frozenset[str]]) -> frozenset[str]:
    """Ids of the lines of which both ends are fed by the same source; ``fed`` holds what each source feeds, with it."""
    return frozenset(line.wire.id for line in lines if any({line.wire.source, line.wire.to} <= tags for tags in fed))
