"""What is installed, as tables for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tabulate import tabulate

from checker.report.safe import harmless
from checker.report.text import PLAIN, Style, wrapped
from checker.rules.wording import EVENT_WORDS
from checker.tasks.gathering.installed import Installed, LayerFound, PackFound, ProfileFound

_DIGEST = 8
"""Signs of a digest that are shown: enough to see that two are not the same."""

_SENT_TO = "Standards to which codes send"

_Row = tuple[str, ...]


def installed_text(found: Installed, style: Style = PLAIN) -> str:
    """The packs, layers and profiles that were found, ending in a line feed."""
    blocks = [
        list(_table("Packs", ("pack", "document", "editions", "rules", "checked", "digest"), _packs(found), style)),
        list(_table(_SENT_TO, ("pack", "edition", "standard", "edition"), _sent_to(found), style)),
        list(_table("Layers", ("layer", "authority", "amends", "changes", "digest"), _layers(found), style)),
        list(_table("Profiles", ("profile", "place", "adopts", "digest"), _profiles(found), style)),
        ["Checked: how many sections and numbers somebody is sure of: high, medium, low."],
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _table(heading: str, heads: _Row, rows: Sequence[_Row], style: Style) -> Iterator[str]:
    if rows:
        yield style.underline(heading)
        table = tabulate(rows, headers=heads, tablefmt="plain", disable_numparse=True)
        yield from (line.rstrip() for line in table.splitlines())


def _cell(text: str, width: int) -> str:
    return "\n".join(line for part in text.split("\n") for line in wrapped(part, width=width))


def _packs(found: Installed) -> list[_Row]:
    return [_pack(each) for each in found.packs]


def _pack(pack: PackFound) -> _Row:
    checked = "\n".join(f"{number} {word}" for word, number in pack.checked.items())
    return (
        harmless(pack.id),
        _cell(pack.document, 22),
        _cell(", ".join(pack.editions) or "no editions", 12),
        str(pack.rules),
        checked,
        pack.digest[:_DIGEST],
    )


def _sent_to(found: Installed) -> list[_Row]:
    """The standard that comes into force with each edition of a code, where the place has adopted none itself."""
    return [
        (harmless(pack.id), harmless(edition), harmless(document), harmless(editions[edition]))
        for pack in found.packs
        for document, editions in pack.sends_to.items()
        for edition in editions
    ]


def _layers(found: Installed) -> list[_Row]:
    return [_layer(each) for each in found.layers]


def _layer(layer: LayerFound) -> _Row:
    dates = f", from {layer.first}" if layer.first is not None else ""
    return (
        harmless(layer.id),
        _cell(layer.authority, 20),
        _cell(layer.amends or "nothing", 14),
        _cell(f"{layer.changes}{dates}", 12),
        layer.digest[:_DIGEST],
    )


def _profiles(found: Installed) -> list[_Row]:
    return [_profile(each) for each in found.profiles]


def _profile(profile: ProfileFound) -> _Row:
    event = EVENT_WORDS.get(profile.event, profile.event)
    adopts = [f"{each}" for each in (*profile.adopts, *(f"layer {name}" for name in profile.layers))]
    return (
        harmless(profile.id),
        _cell(profile.title, 20),
        _cell("\n".join((f"by {event}:", *adopts)), 30),
        profile.digest[:_DIGEST],
    )
