"""The one-line drawn: nothing lies on anything else, every line ends at its pieces, whatever the drawing is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations, pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from svg.path import parse_path

from checker.findings.finding import ConnectionOfLine, OneLine, PieceOfLine, Review
from checker.report.drawing.geometry import Box, Point, Sheet, drawn
from checker.report.drawing.layout import laid_out
from checker.report.drawing.svg import live_lines, svg
from checker.report.drawing.symbols import FAMILIES, HALF_HEIGHT, HALF_WIDTH, Family, Symbol
from checker.rules.grammar import SYMBOLS

USUAL = FAMILIES["ieee_315"]
KINDS = (*USUAL.symbols, "something_else")


def sheet_of(line: OneLine, family: Family = USUAL) -> Sheet:
    words = {piece.tag: (piece.tag, piece.title, "findings 1, 2") for piece in line.pieces}
    return drawn(laid_out(line), family, words)


@st.composite
def one_lines(draw: st.DrawFn) -> OneLine:
    """Drawings of all sorts: several sources, boards with several feeds, switches, and rings."""
    number = draw(st.integers(2, 14))
    tags = [f"X{place}" for place in range(number)]
    pieces = tuple(PieceOfLine(tag, draw(st.sampled_from(KINDS)), "some piece", "", False) for tag in tags)
    ends = st.tuples(st.sampled_from(tags), st.sampled_from(tags)).filter(lambda pair: pair[0] != pair[1])
    pairs = draw(st.lists(ends, min_size=1, max_size=2 * number, unique=True))
    inputs = st.sampled_from(("normal", "alternate", "", "7"))
    feeds = tuple(ConnectionOfLine(f"{source}>{to}", source, to, draw(inputs)) for source, to in pairs)
    return OneLine(pieces, feeds, ())


def wrong_with(sheet: Sheet) -> Iterator[str]:
    """What lies on what, and which line does not end where it should."""
    symbols, texts = [each.box for each in sheet.symbols], [each.box for each in sheet.texts]
    for kind, boxes in (("symbols", symbols), ("texts", texts)):
        yield from (f"two {kind} meet" for one, other in combinations(boxes, 2) if one.meets(other))
    yield from ("a text meets a symbol" for text in texts for symbol in symbols if text.meets(symbol))
    inside = Box(0, 0, sheet.width, sheet.height)
    yield from ("something is off the sheet" for box in (*symbols, *texts) if not _within(box, inside))
    by_tag = {each.place.tag: each.box for each in sheet.symbols}
    for line in sheet.lines:
        yield from _wrong_with_line(line.wire.source, line.wire.to, line.points, by_tag)
        yield from ("a line meets a text" for part in _parts(line.points) for text in texts if part.meets(text))
    yield from _on_each_other(sheet)


def _wrong_with_line(source: str, to: str, points: tuple[Point, ...], boxes: Mapping[str, Box]) -> Iterator[str]:
    for (x, y), tag, edge in ((points[0], source, "bottom"), (points[-1], to, "top")):
        box = boxes[tag]
        if not box.left <= x <= box.right or abs(y - getattr(box, edge)) > 1e-9:
            yield f"the line of {source} to {to} does not end at {tag}"
    for part in _parts(points):
        yield from (f"the line of {source} to {to} runs through {tag}" for tag, box in boxes.items() if part.meets(box))


def _parts(points: tuple[Point, ...]) -> Iterator[Box]:
    """The straight parts of a line with its thickness, without their ends, which touch what they lead to."""
    thick, end = 0.1, 0.2
    for (x, y), (other_x, other_y) in pairwise(points):
        assert (x == other_x) is not (y == other_y)
        (left, right), (top, bottom) = sorted((x, other_x)), sorted((y, other_y))
        if left == right:
            yield Box(left - thick, top + end, right + thick, bottom - end)
        else:
            yield Box(left + end, top - thick, right - end, bottom + thick)


def _on_each_other(sheet: Sheet) -> Iterator[str]:
    """Two lines of different pieces that run on each other; lines of one piece share its stem."""
    for one, other in combinations(sheet.lines, 2):
        if one.wire.source != other.wire.source:
            shared = any(
                part.meets(each) and _upright(part) is _upright(each)
                for part in _parts(one.points)
                for each in _parts(other.points)
            )
            yield from [f"{one.wire.id} and {other.wire.id} run on each other"] if shared else []


def _upright(part: Box) -> bool:
    return part.right - part.left < 0.3


def _within(box: Box, sheet: Box) -> bool:
    across = sheet.left <= box.left and box.right <= sheet.right
    return across and sheet.top <= box.top and box.bottom <= sheet.bottom


def test_nothing_lies_on_anything_else_on_the_fixtures(fixture_reviews: Mapping[str, Review]) -> None:
    for place, found in fixture_reviews.items():
        assert list(wrong_with(sheet_of(found.one_line))) == [], place


@given(one_lines(), st.sampled_from(list(FAMILIES.values())))
def test_nothing_lies_on_anything_else_on_any_drawing(line: OneLine, family: Family) -> None:
    assert list(wrong_with(sheet_of(line, family))) == []


def test_both_families_have_a_symbol_for_the_same_kinds() -> None:
    assert list(FAMILIES) == list(SYMBOLS)
    assert len({frozenset(each.symbols) for each in FAMILIES.values()}) == 1
    assert FAMILIES["ieee_315"].of("meter") != FAMILIES["iec_60617"].of("meter")


@pytest.mark.parametrize("family", FAMILIES.values(), ids=FAMILIES)
@pytest.mark.parametrize("kind", KINDS)
def test_strokes_stay_in_the_room_of_their_symbol_and_reach_its_lines(family: Family, kind: str) -> None:
    symbol = family.of(kind)
    points = list(_points(symbol))
    assert all(-HALF_WIDTH <= x <= HALF_WIDTH and -HALF_HEIGHT <= y <= HALF_HEIGHT for x, y in points)
    assert min(y for _, y in points) == pytest.approx(symbol.top, abs=0.01)
    assert max(y for _, y in points) == pytest.approx(symbol.bottom, abs=0.01)


def _points(symbol: Symbol) -> Iterator[Point]:
    """Points along the strokes of a symbol, as a reader of SVG paths that is not ours follows them."""
    for text in symbol.paths:
        path = parse_path(text)
        yield from ((point.real, point.imag) for point in (path.point(step / 200) for step in range(201)))


@given(one_lines())
def test_every_connection_is_drawn_once_and_every_connected_piece(line: OneLine) -> None:
    sheet = sheet_of(line)
    assert sorted(each.wire.id for each in sheet.lines) == sorted(each.id for each in line.connections)
    connected = {tag for each in line.connections for tag in (each.source, each.to)}
    assert {each.place.tag for each in sheet.symbols} == connected


def test_the_normal_supply_runs_straight_and_the_other_comes_in_beside_it() -> None:
    pieces = tuple(
        PieceOfLine(tag, kind, kind, "", False)
        for tag, kind in (("UTIL", "utility_supply"), ("GEN1", "generator"), ("ATS1", "transfer_switch"))
    )
    feeds = (ConnectionOfLine("a", "GEN1", "ATS1", "alternate"), ConnectionOfLine("n", "UTIL", "ATS1", "normal"))
    sheet = sheet_of(OneLine(pieces, feeds, ()))
    lines = {each.wire.id: each.points for each in sheet.lines}
    assert len(lines["n"]) == 2
    assert lines["a"][-1][0] > lines["n"][-1][0]
    assert lines["a"][-1][0] < lines["n"][-1][0] + HALF_WIDTH


def test_lines_are_live_where_one_source_feeds_both_ends() -> None:
    pieces = tuple(PieceOfLine(tag, "disconnect", "", "", False) for tag in ("A", "B", "C"))
    feeds = (ConnectionOfLine("ab", "A", "B", ""), ConnectionOfLine("bc", "B", "C", ""))
    sheet = sheet_of(OneLine(pieces, feeds, ()))
    assert live_lines(sheet.lines, frozenset({frozenset({"A", "B"})})) == {"ab"}
    assert live_lines(sheet.lines, frozenset({frozenset({"A"}), frozenset({"B"})})) == set()


@pytest.mark.parametrize("name", ['<script>"&', "\x1b[31m", "\u202e"])
def test_a_name_stays_text(name: str) -> None:
    line = OneLine(
        (PieceOfLine("A", "generator", "", "", False), PieceOfLine("B", "panelboard", "", "", False)),
        (ConnectionOfLine("ab", "A", "B", ""),),
        (),
    )
    root = ET.fromstring(svg(drawn(laid_out(line), USUAL, {"A": (name,), "B": ("B",)}), name, name, "line"))
    assert not any("script" in each.tag for each in root.iter())
    assert "\x1b" not in "".join(root.itertext())


def _fed(pieces: Mapping[str, str], feeds: tuple[tuple[str, str, str], ...]) -> OneLine:
    listed = tuple(PieceOfLine(tag, kind, "some piece", "", False) for tag, kind in pieces.items())
    return OneLine(
        listed, tuple(ConnectionOfLine(f"{one}>{to}.{entry}", one, to, entry) for one, to, entry in feeds), ()
    )


SIX = range(1, 7)
BOARDS = {f"B{each}": "panelboard" for each in SIX}
SWITCHES = {f"T{each}": "transfer_switch" for each in SIX}


@pytest.mark.parametrize(
    "line",
    [
        _fed({"P1": "panelboard"} | BOARDS, tuple(("P1", tag, "") for tag in BOARDS)),
        _fed({"P1": "panelboard", "TP": "panelboard"}, tuple(("P1", "TP", str(each)) for each in SIX)),
        _fed(
            {"P1": "panelboard", "GEN1": "generator"} | SWITCHES | BOARDS,
            (
                *(("P1", tag, "normal") for tag in SWITCHES),
                *(("GEN1", tag, "alternate") for tag in SWITCHES),
                *zip(SWITCHES, BOARDS, [""] * 6, strict=True),
            ),
        ),
    ],
    ids=["six boards", "six feeds into one panel", "six circuits, each with a switch of its own"],
)
def test_a_panel_with_six_single_feeds_is_drawn(line: OneLine) -> None:
    sheet = sheet_of(line)
    assert list(wrong_with(sheet)) == []
    assert len(sheet.lines) == len(line.connections)
