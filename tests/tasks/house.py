"""An invented house, as whoever walks round it would answer questions about it."""

from __future__ import annotations

from checker.tasks.questions.asked import NO, YES, Question

_SO = frozenset({"listed", "readily_accessible", "in_sight_of_building", "purpose_evident", "disconnect_lockable"})
"""Flags that hold; all others do not."""

_SEEN = {
    "place": "outdoors",
    "enclosure": "3R",
    "system": "120/240 V 1-phase 3-wire",
    "frequency": "60 Hz",
    "rated_current": "200 A",
    "rated_voltage": "240 V",
    "poles": "2",
    "neutral": "solid",
    "neutral_bond": "floating",
    "mounting": "enclosed",
    "transition": "open",
    "start_scheme": "two_wire",
    "service_marking": "suitable_for_use_as_service_equipment",
    "short_circuit_rating": "22 kA",
    "interrupting_rating": "22 kA",
    "phase": "4/0 AWG aluminum",
    "neutral_conductor": "4/0 AWG aluminum",
    "grounding": "4 AWG aluminum",
    "overcurrent": "100 A",
    "overcurrent.rated_current": "200 A",
    "overcurrent.interrupting_rating": "22 kA",
    "fuel": "natural_gas",
    "role": "service_disconnect",
    "classes": "optional",
    "electrode": "rod",
    "length": "25 ft",
    "altitude": "150 ft",
    "power_factor": "1.0",
    "electrode_conductor_ends_at": "P1",
    "electrode_conductor_to": "rod",
    "rated_power.natural_gas": "22 kW",
    "power_at_site": "21 kW",
}


def answer_to(question: Question) -> str | None:
    """What is typed; None for what this house does not tell."""
    if question.fact is None:
        return NO if question.choices[0].word == NO else YES
    words = [choice.word for choice in question.choices]
    if question.fact.name in _SEEN:
        return _SEEN[question.fact.name]
    if words[:2] == [YES, NO]:
        return YES if question.fact.name in _SO else NO
    return words[0] if words and not question.kind_of_answer else None
