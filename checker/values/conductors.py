"""Conductors as the trade types them: size, material, parallel sets, insulation."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from checker.values.refusals import NotationError, nearest, quoted, readable
from checker.values.wire_sizes import WireSize, read_wire_size

COPPER = "copper"
ALUMINUM = "aluminum"
COPPER_CLAD_ALUMINUM = "copper_clad_aluminum"

_MATERIALS: Mapping[str, str] = {
    "cu": COPPER, "copper": COPPER,
    "al": ALUMINUM, "alum": ALUMINUM, "aluminum": ALUMINUM, "aluminium": ALUMINUM,
    "cca": COPPER_CLAD_ALUMINUM, "copper_clad_aluminum": COPPER_CLAD_ALUMINUM,
}  # fmt: skip

_INSULATIONS = frozenset({
    "FEP", "FEPB", "MTW", "PFA", "RHH", "RHW", "RHW-2", "SA", "SIS", "TBS",
    "TFE", "THHN", "THHW", "THW", "THW-2", "THWN", "THWN-2", "TW", "UF", "USE",
    "USE-2", "NM-B", "XHH", "XHHN", "XHHW", "XHHW-2", "XHWN", "XHWN-2", "Z", "ZW", "ZW-2",
})  # fmt: skip
"""Type letters of NEC Table 310.4(A), 310.4 in other editions, typed from memory; several may be joined by a stroke. A
cable whose ampacity has a rule of its own stands here by its own letters.
"""

_BARE = frozenset({"bare"})
_COVERED = frozenset({"insulated"})
_NEITHER = frozenset({"wire", "conductor", "conductors", "stranded", "solid"})

_SETS = re.compile(
    r"""\(\s*(?P<bracketed>[0-9]+)\s*\)\s*|(?P<times>[0-9]+)\s*[x×]\s*|(?P<named>[0-9]+)\s*(?:parallel\s+)?(?:sets?|runs?)\s+(?:of\s+)?""",
    re.IGNORECASE | re.VERBOSE,
)
_SIZE = re.compile(
    r"""(?<![^\s,])(?:\#|no\.?|num\.?|number|awg\s*\#?)?\s*
        (?:[1-4]\s*/\s*0|[0-9]+(?:,[0-9]{3})*(?:\.[0-9]+)?)
        (?:\s*-?\s*(?:awg|ga\.?|gauge|kcmil|mcm|kcm))?(?=[\s,]|$)""",
    re.IGNORECASE | re.VERBOSE,
)
_CLAD = re.compile(r"\b(?:copper|cu)[\s-]*clad[\s-]*(?:aluminum|aluminium|al)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Conductor:
    """What one conductor of a run is made of; what was not written is None.

    ``per_phase`` is the number of parallel sets; ``insulation`` is in capital letters as typed.
    """

    size: WireSize
    material: str | None = None
    per_phase: int = 1
    insulation: str | None = None
    bare: bool | None = None


def read_conductor(text: str) -> Conductor:
    """``3 AWG copper``, ``2 x 350 kcmil Cu``, ``(2) 3/0 Cu XHHW-2``, ``4 AWG Cu, bare``; raises NotationError."""
    typed = _CLAD.sub(COPPER_CLAD_ALUMINUM, readable(text))
    per_phase, rest = _sets(typed)
    size_text, words = _split_size(rest)
    material, insulation, bare = _described(typed, words)
    return Conductor(read_wire_size(size_text), material, per_phase, insulation, bare)


def _sets(text: str) -> tuple[int, str]:
    match = _SETS.match(text)
    if match is None:
        return 1, text
    count = int(match["bracketed"] or match["times"] or match["named"])
    if count == 0:
        raise NotationError(
            f"{quoted(text)} has no conductors.", "Write how many sets are in parallel, as 2 x 350 kcmil."
        )
    return count, text[match.end() :]


def _split_size(text: str) -> tuple[str, list[str]]:
    match = _SIZE.search(text)
    if match is None:
        raise NotationError(
            f"{quoted(text)} has no wire size.", "Write size, material and insulation, as 3 AWG Cu THWN-2."
        )
    others = f"{text[: match.start()]} {text[match.end() :]}".replace(",", " ")
    return match[0].strip(), [word.strip(".") for word in others.split() if word.strip(".")]


def _described(text: str, words: list[str]) -> tuple[str | None, str | None, bool | None]:
    """Material, insulation and whether bare, from the words behind the size."""
    materials = {_MATERIALS[word.casefold()] for word in words if word.casefold() in _MATERIALS}
    insulations = [word.upper() for word in words if is_insulation(word)]
    plain = [word for word in words if word.casefold() not in _MATERIALS and not is_insulation(word)]
    unknown = [word for word in plain if word.casefold() not in _BARE | _COVERED | _NEITHER]
    if unknown:
        raise _unknown_word(text, unknown[0])
    bare = any(word.casefold() in _BARE for word in plain)
    covered = bool(insulations) or any(word.casefold() in _COVERED for word in plain)
    if len(materials) > 1 or len(insulations) > 1 or (bare and covered):
        raise NotationError(f"{quoted(text)} contradicts itself.", "Write one material and one insulation, or bare.")
    return (
        next(iter(materials), None),
        insulations[0] if insulations else None,
        True if bare else False if covered else None,
    )


def is_insulation(word: str) -> bool:
    """Whether a word is made of type letters that are known, several joined by strokes."""
    return all(part in _INSULATIONS for part in word.upper().split("/"))


def _unknown_word(text: str, word: str) -> NotationError:
    near = nearest(word, [*_MATERIALS, *(letters.casefold() for letters in _INSULATIONS), *_BARE])
    shown = near.upper() if near is not None and near.upper() in _INSULATIONS else near
    return NotationError(
        f"{quoted(word)} in {quoted(text)} is not a word for a conductor.",
        "Write size, material and insulation, as 3 AWG Cu THWN-2.",
        shown,
    )
