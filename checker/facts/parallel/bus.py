"""The bus of a board that utility and inverters feed at once: what comes onto it, where, and what holds it down."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from checker.catalog.wording import number_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.parallel.bus import BUS_SUM
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.line.overcurrent import DEVICE, built_in_way, devices_ahead
from checker.facts.numbers import cited, number_in_force
from checker.facts.parallel.landing import Landing, TooManyUndecided, selections
from checker.site.model import Subject
from checker.values.arithmetic import largest, smallest, total
from checker.values.possible import ABSENT, Possible, exactly, number, union_of
from checker.values.relations import relate
from checker.values.truth import Truth

SHARE = "share-of-the-output-of-a-source-that-counts-on-a-bus"
NUMBERS = (SHARE,)
"""The parameters that are read here."""

BOARDS = ("panelboard", "switchboard")
READS_OUTPUT = ("interactive", "rated_current")
READS_PROTECTION = ("overcurrent",)
READS_SUM = (*READS_OUTPUT, "parallel_output", "bus_protection")
READS_PLACE = ("interactive", "stands_on_bus")
READS_SETTING = ("interactive", "bus_setting", "listed_as_power_control")

_ELSEWHERE = "elsewhere"
_TOO_MANY = "of too many inverters it is open whether they feed in parallel with the utility"
NO_MAIN = "no device protects the bus toward the utility"

_Of = Callable[[Context, Sequence[Landing]], Possible]


def parallel_output(context: Context, subject: Subject, _name: str) -> Derived:
    """Rated currents of the inverters beside the utility, added; absent where there is none."""
    return over_selections(context, subject, _output)


def place_of_parallel_sources(context: Context, subject: Subject, _name: str) -> Derived:
    """The end of the bus at which all of them land; elsewhere where they land at several places."""
    return over_selections(context, subject, _place)


def power_control_setting(context: Context, subject: Subject, _name: str) -> Derived:
    """The greatest setting of their power controls; absent where one has none that is listed."""
    return over_selections(context, subject, _setting)


def bus_protection(context: Context, subject: Subject, _name: str) -> Derived:
    """The smallest device on its normal line, its own main among them; absent where there is none, and open where the
    line ends in the air. What a set lets through on the other side of a switch is another sum.
    """
    drawing = context.drawing
    entry = drawing.entry(subject.id)
    if drawing.source_of(subject.id, entry) is None:
        return no_answer(f"nothing feeds {subject}")
    own = None if entry is None else built_in_way(context, subject.id, entry)
    ways = (*(() if own is None else (own,)), *devices_ahead(context, drawing.path(subject.id, entry)))
    value = smallest([context.read(way, f"{DEVICE}.rated_current") for way in ways] or [ABSENT], skip_absent=True)
    return Derived(value, reasons=value.undefined)


def bus_sum(context: Context, subject: Subject, name: str) -> Derived:
    """I = main + share x output, with the share that the edition in force sets; absent where no inverter feeds the
    bus beside the utility.
    """
    output = context.read(subject, "parallel_output")
    if output.only_absent:
        return Derived(ABSENT)
    try:
        share = number_in_force(context.numbers, SHARE)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    protection = context.read(subject, "bus_protection")
    if protection.only_absent:
        return no_answer(NO_MAIN)
    there = output.present() or output
    value = BUS_SUM.over({"protection": protection, "output": there, "share": number(share)})
    sheet = Worksheet(
        f"{subject.id}.{name}",
        BUS_SUM.title,
        subject.id,
        tuple(_lines(context, subject, protection, there, value)),
        BUS_SUM.limits,
    )
    value = value.union(ABSENT) if output.absent else value
    return Derived(value, unit=BUS_SUM.unit, worksheet=sheet, reasons=value.undefined)


def over_selections(context: Context, subject: Subject, of: _Of) -> Derived:
    """A fact of the inverters that run beside the utility, whichever of them do; absent where none does."""
    try:
        found = selections(context, subject)
    except TooManyUndecided:
        return no_answer(_TOO_MANY)
    value = union_of([of(context, chosen) if chosen else ABSENT for chosen in found])
    return Derived(value, reasons=value.undefined)


def _output(context: Context, chosen: Sequence[Landing]) -> Possible:
    """Every inverter once, however many lines it has."""
    inverters = dict.fromkeys(each.inverter for each in chosen)
    return total([context.read(each, "rated_current") for each in inverters])


def _place(context: Context, chosen: Sequence[Landing]) -> Possible:
    """One and the same end for all of them, or elsewhere. Of a lug without a way nobody says where it is."""
    ways = dict.fromkeys(each.way for each in chosen)
    places = [exactly(_ELSEWHERE) if way is None else context.read(way, "stands_on_bus") for way in ways]
    if len(places) == 1:
        return places[0]
    at_one = frozenset.intersection(*(each.atoms for each in places)) - {_ELSEWHERE}
    differ = any(each.atom is None for each in places) or not at_one
    return union_of([*(exactly(each) for each in at_one), *([exactly(_ELSEWHERE)] if differ else [])])


def _setting(context: Context, chosen: Sequence[Landing]) -> Possible:
    inverters = tuple(dict.fromkeys(each.inverter for each in chosen))
    return largest([_listed_setting(context, each) for each in inverters], skip_absent=False)


def _listed_setting(context: Context, inverter: Subject) -> Possible:
    """The setting, where the control is listed for it."""
    setting = context.read(inverter, "bus_setting")
    listed = relate("is", context.read(inverter, "listed_as_power_control"), exactly(True))
    if listed is Truth.YES or setting.only_absent:
        return setting
    return ABSENT if listed is Truth.NO else setting.union(ABSENT)


def _lines(context: Context, board: Subject, protection: Possible, output: Possible, value: Possible) -> Iterator[Line]:
    numbers = context.numbers
    yield Line("1", "device that protects the bus", "", _amperes(protection), "", "device")
    named = ", ".join(_names(context, board))
    yield Line("2", f"output of the inverters beside the utility: {named}", "", _amperes(output), "", "nameplates")
    share = number_text(number(number_in_force(numbers, SHARE)), "ratio", "%")
    yield Line("3", "share of the output that counts", "", share, "", cited(numbers, SHARE))
    yield Line("a", BUS_SUM.title, "1 + 2 x 3", _amperes(value), "", BUS_SUM.source)
    rating = _amperes(context.read(board, "rated_current"))
    yield Line("b", "rating of the bus", "", rating, "", "nameplate")


def _names(context: Context, board: Subject) -> tuple[str, ...]:
    """Every inverter that may run beside the utility on this bus."""
    largest_choice = max(selections(context, board), key=len)
    return tuple(dict.fromkeys(str(each.inverter) for each in largest_choice))


def _amperes(value: Possible) -> str:
    return number_text(value, "load_current", "A")
