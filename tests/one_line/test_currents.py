"""What sides and pieces have to carry, and the fault currents there, against every position listed."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from checker.site.model import Site
from checker.values.possible import Possible
from tests.one_line.currents import Capacity, Meeting, all_faults, carried, with_figures
from tests.one_line.enumeration import DISCONNECTING, Plant
from tests.one_line.plan import Plan, seeded_plan
from tests.one_line.sheet import Drawn, view
from tests.soundness.budget import seeds

_MOST_PIECES_ABOVE = 12


def _fault_differs(found: Possible, wanted: Meeting) -> bool:
    """Where a line comes from nowhere the program has to say that it cannot tell."""
    if wanted.unknown or found.undefined:
        return wanted.unknown and not found.undefined
    return not any(span.holds(1000 * wanted.most) for span in found.spans) if wanted.most else False  # type: ignore[arg-type]


def _wrong_faults(site: Site, seen: Counter[str]) -> list[str]:
    figures = with_figures(site)
    read, wrong = view(figures), list[str]()
    for tag, each in all_faults(figures).items():
        piece = read.ground.drawing.pieces[tag]
        if read.ground.drawing.source_of(tag) is None:
            continue
        found, together = read.read(piece, "greatest_fault_current"), read.read(piece, "fault_sources_together")
        seen["undefined" if found.undefined else "exact" if found.is_exact else "bounds"] += 1
        seen[f"together {together.atom}"] += 1
        wrong += [f"{tag} is {found}, by the enumeration {wanted}" for wanted in each if _fault_differs(found, wanted)]
        if not found.undefined and not {wanted.at_once for wanted in each} <= together.atoms:
            wrong.append(f"{tag} together {together.atoms}, by the enumeration {each}")
    return wrong


def test_fault_currents_of_the_drawings_worked_out_by_hand(drawn: Drawn, site: Site) -> None:
    assert not _wrong_faults(site, Counter()), drawn.name


def test_fault_currents_of_drawings_made_at_random(folder: Path) -> None:
    seen: Counter[str] = Counter()
    for seed in seeds(150):
        assert not _wrong_faults(seeded_plan(seed).site(folder), seen), seed
    assert seen["exact"] > 3 * seen["bounds"]
    assert min(seen["together True"], seen["together False"], seen["bounds"]) >= 10


def _wrong_currents(site: Site, seen: Counter[str]) -> list[str]:
    figures = with_figures(site)
    read, plant, wrong = view(figures), Plant(figures), list[str]()
    for tag in plant.of(*DISCONNECTING):
        if read.ground.drawing.source_of(tag) is None or len(read.ground.drawing.pieces) > _MOST_PIECES_ABOVE:
            continue
        found = read.read(read.ground.drawing.pieces[tag], "current_to_carry")
        seen["undefined" if found.undefined else "exact" if found.is_exact else "bounds"] += 1
        wanted = carried(figures, plant, tag)
        # A line that an interlock never lets be closed carries nothing; what it is built for still goes by its devices.
        if not found.undefined and wanted != 0 and not _holds(found, wanted):
            wrong.append(f"{tag} is {found}, by the enumeration {wanted}")
    return wrong


def _holds(found: Possible, wanted: Capacity) -> bool:
    return found.absent if wanted is None else any(span.holds(wanted) for span in found.spans)


def _without_transformers(plan: Plan) -> bool:
    """Amperes past a transformer are other amperes, and are not listed here."""
    return not plan.of("transformer", "inlet")


def test_currents_to_carry_in_drawings_made_at_random(folder: Path) -> None:
    seen: Counter[str] = Counter()
    for seed in seeds(150):
        plan = seeded_plan(seed)
        if _without_transformers(plan):
            assert not _wrong_currents(plan.site(folder), seen), seed
    assert seen["exact"] > 10 * seen["bounds"]
    assert seen["exact"] > 50
