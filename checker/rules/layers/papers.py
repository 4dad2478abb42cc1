"""The rule by which an office asks for a paper."""

from __future__ import annotations

from collections.abc import Iterable

from checker.catalog.model import Catalog
from checker.files.yaml.tree import Entry, Mapping, Node, Scalar, Sequence
from checker.rules.model.profile import OwnPaper
from checker.rules.reading import nodes
from checker.rules.wording import listing
from checker.values.positions import Position

SHOWN = "shown-on-it"
"""The part of the rule that says what the paper shows."""


def paper_rule(node: Mapping, at: Position, catalog: Catalog, own: Iterable[OwnPaper] = ()) -> Entry:
    """The rule of an ``ask_for``: one of the papers of the site is this one and shows what is asked for. ``own`` are
    the papers that the catalog has from layers; such a paper is due when its layer wants it.
    """
    paper = nodes.text(node.get("paper"))
    words = _words("paper", paper, catalog)
    shows = node.get("must_show")
    showing = _shown_words(shows, catalog)
    that: list[Entry] = []
    if shows is not None:
        listed = Sequence(tuple(nodes.items(shows)), shows.at)
        compared = _map(at, shows=_map(at, includes_all=listed, if_absent=_plain("no", at)), part=_text(SHOWN, at))
        that.append(Entry("that", shows.at, compared))
    asked = _map(at, of=_text("papers", at), where=_map(at, paper=_map(at, **{"is": _text(paper, at)})))
    in_the_packet = asked
    asked = Mapping((*asked.entries, *that), at)
    entries: dict[str, Node] = {
        "title": _text(f"The packet holds the {words}{showing}", at),
        "subject": _text("site", at),
        "requires": _map(at, paper=_map(at, some=asked)),
        "says": node.get("says") or _text(f"This office asks for the {words}{showing}.", at),
        "remedy": _text("Put it into the packet and list it under papers.", at),
    }
    if shows is not None and node.get("says") is None:
        lacks = _text(
            f"The {words} in the packet does not show {{{SHOWN}.missing}}, and this office asks for that.", at
        )
        told = _map(at, text=lacks, when=_map(at, some=in_the_packet))
        entries["says_where"] = Sequence((told,), at)
    declared = next((each for each in own if each.name == paper), None)
    if declared is not None:
        entries["due"] = _text(declared.due.value, at)
        entries["remedy"] = _text(f"Put it into the packet and list it under papers, as paper: {paper}.", at)
    entries |= {word: said for word in ("when", "covers") if (said := node.get(word)) is not None}
    name = nodes.text(node.get("id")) or f"packet-holds-{paper.replace('_', '-')}"
    return Entry(name, at, Mapping(tuple(Entry(key, at, value) for key, value in entries.items()), at))


def _shown_words(shows: Node | None, catalog: Catalog) -> str:
    if shows is None:
        return ""
    return f", showing {listing([_words('shows', each, catalog) for each in nodes.texts(shows)])}"


def _words(fact: str, choice: str, catalog: Catalog) -> str:
    """A choice in the words of the catalog; one that is not there is told where the rule is read."""
    return catalog.facts[fact].choices.get(choice, choice.replace("_", " "))


def _map(at: Position, **entries: Node) -> Mapping:
    return Mapping(tuple(Entry(key, at, value) for key, value in entries.items()), at)


def _plain(text: str, at: Position) -> Scalar:
    """A word without quotes, as yes and no are."""
    return Scalar(text, at, quoted=False)


def _text(text: str, at: Position) -> Scalar:
    return Scalar(text, at, quoted=True)
