"""The drawing as the program understood it, as plain data."""

from __future__ import annotations

from checker.catalog.wording import NOT_SHOWN, value_text
from checker.facts.known import Origin
from checker.facts.view import View
from checker.findings.finding import ConnectionOfLine, OneLine, PieceOfLine


def one_line(view: View) -> OneLine:
    """Pieces from the sources down, with their roles, the connections between them, and the neutral bonds."""
    drawing, catalog = view.ground.drawing, view.ground.catalog
    tags = sorted(drawing.pieces, key=lambda tag: (drawing.walk_order[tag], tag))
    pieces = tuple(
        PieceOfLine(
            tag,
            drawing.pieces[tag].type,
            catalog.kinds[drawing.pieces[tag].type].title,
            _role(view, tag),
            _is_first(view, tag),
        )
        for tag in tags
    )
    feeds = sorted(drawing.feeds, key=lambda feed: (drawing.walk_order.get(feed.to, 0), feed.subject.id))
    connections = tuple(ConnectionOfLine(feed.subject.id, feed.source, feed.to, feed.input) for feed in feeds)
    bonds = tuple(tag for tag in tags if _is_bonded(view, tag))
    return OneLine(pieces, connections, bonds, tuple(_words_apart(view, tag) for tag in tags if _is_apart(view, tag)))


def _is_apart(view: View, tag: str) -> bool:
    """Whether it is a source that no line joins to anything."""
    drawing = view.ground.drawing
    return drawing.is_of(tag, "source") and not drawing.out_of(tag)


def _words_apart(view: View, tag: str) -> str:
    piece = view.ground.drawing.pieces[tag]
    has_place = view.ground.catalog.fact("ahead_of_the_service", piece.type) is not None
    if has_place and view.read(piece, "ahead_of_the_service").atom is True:
        return (
            f"{tag} is not drawn as a line: it lands ahead of the service disconnect, so that beside the utility it"
            " feeds whatever the utility feeds, and the service disconnect does not part the two."
        )
    return f"{tag} has no line on the drawing, so that nothing is read as fed by it."


def _role(view: View, tag: str) -> str:
    drawing = view.ground.drawing
    if not drawing.is_of(tag, "disconnecting"):
        return ""
    role = view.known(drawing.pieces[tag], "role")
    if role.value.only_absent:
        return "no role"
    words = value_text(view.ground.catalog.facts["role"], role.value)
    if role.origin is Origin.STATED or role.value.is_exact:
        return words
    return "role not shown" if words.startswith(NOT_SHOWN) else f"role not shown: {words}"


def _is_first(view: View, tag: str) -> bool:
    drawing = view.ground.drawing
    return drawing.is_of(tag, "disconnecting") and view.read(drawing.pieces[tag], "first_after_meter").atom is True


def _is_bonded(view: View, tag: str) -> bool:
    piece = view.ground.drawing.pieces[tag]
    has_bond = view.ground.catalog.fact("neutral_bond", piece.type) is not None
    return has_bond and view.read(piece, "neutral_bond").atom == "bonded"
