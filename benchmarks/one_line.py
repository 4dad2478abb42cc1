"""Measures how the facts of a one-line drawing cost as it grows: switches, sets, boards.

Usage: python benchmarks/one_line.py [--rounds N]

Each drawing is read before the clock starts. What is measured is the view of it and every fact that is derived, of
every piece, side and connection; beside it the facts of ties, neutrals and opened disconnects alone. Ratios are over
one switch.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.timing import Spread, in_turn, repeated
from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog
from checker.facts.view import View
from checker.findings.review import view_of
from checker.site.model import Site, Subject
from checker.site.read import read_site

OF_SETS = ("ties_to_utility", "overlaps_with_utility", "neutral_ring", "bonds_on_neutral")
OF_DISCONNECTS = ("live_again_when_opened", "starts_a_set_when_opened")
SYSTEM = "480Y/277 V 3-phase 4-wire"


@dataclass(frozen=True, slots=True)
class Size:
    """A plant: switches in turn on each set, boards below them and one another, every fifth one with an inlet."""

    switches: int = 1
    sets: int = 1
    boards: int = 1
    is_known: bool = True

    @property
    def title(self) -> str:
        counts = f"{self.switches} switches, {self.sets} sets, {self.boards} boards"
        return counts if self.is_known else f"{counts}, little known"

    def text(self) -> str:
        """The plant as a site file. Where little is known, nothing is said of neutrals, switches and interlocks."""
        pieces = dict(self._pieces())
        feeds = [*self._feeds()]
        known = "transition: open, operation: automatic, neutral: switched" if self.is_known else ""
        lines = [
            f"  {tag}: {{kind: {kind}, {_fed(tag, feeds)}{known if kind == 'transfer_switch' else ''}}}"
            for tag, kind in pieces.items()
        ]
        runs = (
            [f'  "{start}>{end}": {{neutral_conductor: 2 AWG copper}}' for start, end in feeds] if self.is_known else []
        )
        kits = ", ".join(
            f"{{first: P{board}/main, second: P{board}/7, interlock: panel_kit}}" for board in self._with_inlet()
        )
        yes_or_no = "yes" if self.is_known else "no"
        return "\n".join(
            [
                "site: {other_sources: none}",
                "equipment:",
                *lines,
                *(["runs:", *runs] if runs else []),
                "bonds: {complete: yes, list: [{bond: main_bonding_jumper, at: SB1, bond_status: existing}]}",
                f"interlocks: {{complete: {yes_or_no}, list: [{kits if self.is_known else ''}]}}",
                "",
            ]
        )

    def _with_inlet(self) -> range:
        return range(5, self.boards + 1, 5)

    def _pieces(self) -> Iterator[tuple[str, str]]:
        yield "UTIL", f"utility_supply, system: {SYSTEM}"
        yield "SB1", "switchboard, role: service_disconnect"
        yield from ((f"GEN{number}", f"generator, system: {SYSTEM}") for number in range(1, self.sets + 1))
        yield from ((f"ATS{number}", "transfer_switch") for number in range(1, self.switches + 1))
        yield from ((f"P{number}", "panelboard") for number in range(1, self.boards + 1))
        for number in self._with_inlet():
            yield f"INLET{number}", "inlet"
            yield f"PORT{number}", f"generator, system: {SYSTEM}"

    def _feeds(self) -> Iterator[tuple[str, str]]:
        yield "UTIL", "SB1"
        for number in range(1, self.switches + 1):
            yield f"SB1/{number}", f"ATS{number}.normal"
            yield f"GEN{1 + number % self.sets}/{number}", f"ATS{number}.alternate"
        for number in range(1, self.boards + 1):
            above = f"ATS{number}" if number <= self.switches else f"P{number - self.switches}/{number}"
            yield above, f"P{number}.main"
        for number in self._with_inlet():
            yield f"PORT{number}", f"INLET{number}"
            yield f"INLET{number}", f"P{number}.7"


def _fed(tag: str, feeds: list[tuple[str, str]]) -> str:
    into = {end.partition(".")[2]: start for start, end in feeds if end.partition(".")[0] == tag}
    if not into:
        return ""
    if tag.startswith("P") and "main" in into:
        return f"fed_from: {{{', '.join(f'{way}: {start}' for way, start in into.items())}}}, "
    return "".join(f"{side or 'fed_from'}: {start}, " for side, start in into.items())


def one_line_facts(view: View) -> None:
    """Ties, neutrals, and what opening a disconnect does."""
    drawing = view.ground.drawing
    for group, names in (("generator", OF_SETS), ("disconnecting", OF_DISCONNECTS)):
        for tag in drawing.of(group):
            for name in names:
                view.read(drawing.pieces[tag], name)


def all_facts(view: View) -> None:
    """Every derived fact of every piece, side and connection."""
    drawing = view.ground.drawing
    sides = [Subject("side", f"{tag}.{side}") for tag in drawing.of("transfer_switch") for side in drawing.inputs(tag)]
    subjects = [*drawing.pieces.values(), *sides, *(feed.subject for feed in drawing.feeds)]
    for name, kind in view.ground.registry:
        for subject in subjects:
            if subject.type == kind:
                view.read(subject, name)


def read(size: Size, catalog: Catalog) -> Site:
    """The plant as it is read from its file."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "site.yaml"
        path.write_text(size.text(), encoding="utf-8")
        return read_site(path, catalog)


def measured(sizes: list[Size], rounds: int, work: Callable[[View], None]) -> dict[Size, Spread]:
    """Seconds of a new view and what is asked of it, for each size."""
    catalog = shipped_catalog()
    sites = {size: read(size, catalog) for size in sizes}
    named = {size.title: repeated(_job(sites[size], catalog, work)) for size in sizes}
    found = in_turn(named, rounds)
    return {size: found[size.title] for size in sizes}


def _job(site: Site, catalog: Catalog, work: Callable[[View], None]) -> Callable[[], None]:
    return lambda: work(view_of(site, catalog))


def series() -> Mapping[str, list[Size]]:
    """What grows in each table."""
    one, ten = Size(), Size(switches=10, sets=2, boards=10)
    return {
        "switches": [replace(one, switches=count, boards=count) for count in range(1, 13)],
        "switches, little known": [
            replace(one, switches=count, boards=count, is_known=False) for count in (1, 2, 4, 6, 8, 10, 12)
        ],
        "sets": [replace(ten, sets=count) for count in range(1, 7)],
        "boards": [replace(one, boards=count) for count in (1, 2, 5, 10, 20, 40)],
        "boards, little known": [replace(one, boards=count, is_known=False) for count in (1, 2, 5, 10, 20, 40)],
        "all at once": [Size(12, 6, 40), Size(12, 6, 40, is_known=False)],
    }


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--rounds", type=int, default=3, help="how often each drawing is measured (default 3)")
    rounds: int = parser.parse_args().rounds
    if rounds < 1:
        parser.error("at least one round is needed")
    base = {work: measured([Size()], rounds, work)[Size()] for work in (one_line_facts, all_facts)}
    for title, sizes in series().items():
        print(f"{title.capitalize():52}{'one-line':>12}{'ratio':>8}{'all facts':>12}{'ratio':>8}")
        found = {work: measured(sizes, rounds, work) for work in base}
        for size in sizes:
            cells = (
                f"{found[work][size].middle * 1000:>9.1f} ms{found[work][size].over(base[work]):>8.1f}" for work in base
            )
            print(f"  {size.title:50}{''.join(cells)}", flush=True)
        print()
    return 0


if __name__ == "__main__":
    sys.exit(main())
