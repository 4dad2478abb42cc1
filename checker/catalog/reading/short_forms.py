"""Lines of text that give several parts at once: a conductor, a voltage system."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.catalog.reading.texts import NONE
from checker.catalog.reading.written import Reading
from checker.values.conductors import read_conductor
from checker.values.notation import read_possible
from checker.values.possible import ABSENT, Atom, exactly, number
from checker.values.quantities import show
from checker.values.voltage_systems import read_system

PartReading = tuple[Reading, str]
"""What a line says of one part, and how a person reads it."""

Line = dict[str, PartReading]
"""The parts that one line gives; what it does not say is left out."""


@dataclass(frozen=True, slots=True)
class ShortForm:
    """How one line is taken apart; ``read`` raises NotationError."""

    read: Callable[[str], Line]

    def lines(self, text: str, *, may_be_none: bool) -> list[Line | None]:
        """The alternatives that a text gives, None standing for ``none``; raises NotationError."""
        found: dict[str, Line | None] = {}

        def read_one(typed: str) -> Fraction | Atom:
            word = typed.strip()
            found[word] = None if may_be_none and word == NONE else self.read(word)
            return word

        words = read_possible(text, read_one).atoms
        return [line for word, line in found.items() if word in words]


def conductor_line(text: str) -> Line:
    """Size, material, conductors in parallel, insulation and whether bare; raises NotationError."""
    conductor = read_conductor(text)
    line: Line = {
        "size": (Reading(number(conductor.size.circular_mils)), conductor.size.name),
        "parallel_sets": (Reading(number(conductor.per_phase)), str(conductor.per_phase)),
    }
    for part, word in (("material", conductor.material), ("insulation", conductor.insulation)):
        if word is not None:
            line[part] = (Reading(exactly(word)), word)
    if conductor.bare is not None:
        line["bare"] = (Reading(exactly(conductor.bare)), "yes" if conductor.bare else "no")
    return line


def system_line(text: str) -> Line:
    """Voltages, phases, wires and connection; raises NotationError."""
    system = read_system(text)
    neutral = system.voltage_to_neutral
    line: Line = {
        "voltage": _volts(system.voltage),
        "to_neutral": (Reading(ABSENT), NONE) if neutral is None else _volts(neutral),
        "phases": _count(system.phases),
        "ungrounded": _count(system.ungrounded),
        "connection": (Reading(exactly(system.connection)), system.connection),
    }
    return line if system.wires is None else line | {"wires": _count(system.wires)}


def _volts(voltage: Fraction) -> PartReading:
    return Reading(number(voltage), "V"), show(voltage, "voltage", "V")


def _count(counted: int) -> PartReading:
    return Reading(number(counted)), str(counted)


SHORT_FORMS: Mapping[str, ShortForm] = {
    "conductor": ShortForm(conductor_line),
    "voltage_system": ShortForm(system_line),
}
"""How a line is taken apart, by the word that the catalog has for it."""
