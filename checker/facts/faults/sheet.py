"""The worksheet of a fault current: figure and runs with their places, then f and M, then the greatest as a vector."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.catalog.model import Fact
from checker.catalog.wording import value_text
from checker.engineering.faults.along import NO_RATIO, NO_RUN, Beginning, point_to_point_factor
from checker.engineering.faults.loops import FAULT_NAMES, Fault
from checker.engineering.impedance import Impedance
from checker.engineering.worked import letters
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context
from checker.facts.faults.numbers import LEAST_IMPEDANCE, REACTANCE_TOLERANCE, RunNumbers
from checker.facts.faults.runs import KILO, RunFound, whole
from checker.facts.faults.starts import Kind, Start, least_at_end, most_at_end
from checker.facts.known import Known
from checker.facts.numbers import cited
from checker.facts.two_ends import amount
from checker.site.model import Subject
from checker.values.possible import Possible

PERCENT = 100
TITLE = "Fault current along the runs"
LIMITS = (
    "Bolted fault. Conductors in a raceway, a cable or earth, as in the table of resistances; no arc, no contact "
    "resistance. The greatest takes conductors cold and close together."
)
POINT_TO_POINT = "published point-to-point method; C = 1 / ohms per foot of the table"
_COUNTED_ALREADY = ("ends where the figure is given", "nothing", "")
_WAYS = {Fault.THREE_PHASE: "once", Fault.LINES: "out and back", Fault.LINE_AND_NEUTRAL: "phase and neutral"}
_LEAST_WAYS = {**_WAYS, Fault.LINE_AND_NEUTRAL: "phase alone, ground beside the neutral"}


@dataclass(frozen=True, slots=True)
class Counted:
    """A start, the runs from there on, and what is left at their end, in A: at least, and at most."""

    start: Start
    runs: tuple[RunFound, ...]
    least: Fraction
    most: Fraction | None


@dataclass(slots=True)
class _Sheet:
    """Lines as they are written: what is given is numbered, what is worked out has letters."""

    lines: list[Line]
    numbered: int = 0
    lettered: int = 0

    def given(self, quantity: str, how: str, value: str, source: str) -> str:
        """One more line of what is given; gives its number."""
        self.numbered += 1
        self.lines.append(Line(str(self.numbered), quantity, how, value, "", source))
        return str(self.numbered)

    def step(self, quantity: str, how: str, value: str, unit: str, source: str = "") -> str:
        """One more step; gives its letter."""
        letter = letters(self.lettered)
        self.lettered += 1
        self.lines.append(Line(letter, quantity, how, value, unit, source))
        return letter


def fault_sheet(
    context: Context, subject: Subject, name: str, counted: Counted, motors: Possible, numbers: RunNumbers
) -> Worksheet | None:
    """The sheet of what is left past runs; None where no run takes anything, so that there is nothing to follow."""
    adds = whole(counted.runs)
    greatest, least = _deciding(counted, max), _deciding(counted, min)
    added = adds.round_of(greatest.fault).least
    most_ohms = adds.round_of(least.fault).most
    if greatest.high is None or (added.magnitude == 0 and most_ohms is None):
        return None
    sheet = _Sheet([])
    _given(context, sheet, counted)
    if most_ohms is not None and counted.start.low > 0 and least.low:
        _by_points(sheet, counted, least, most_ohms, numbers)
    _as_vector(sheet, counted, greatest, added, numbers)
    _motors(sheet, counted, motors)
    assumptions = tuple(_assumptions(counted, most_ohms))
    return Worksheet(f"{subject.id}.{name}", TITLE, subject.id, tuple(sheet.lines), LIMITS, assumptions)


def _deciding(counted: Counted, pick: Callable[..., Kind]) -> Kind:
    """The kind of fault that gives the most, or the least."""
    adds = whole(counted.runs)
    left = most_at_end if pick is max else least_at_end
    return pick(counted.start.kinds, key=lambda kind: left(counted.start.only(kind), adds) or Fraction(0))


def _given(context: Context, sheet: _Sheet, counted: Counted) -> None:
    start = counted.start
    fact = context.catalog.facts[start.fact]
    value = value_text(fact, start.known.value, start.known.unit)
    kinds = " or ".join(FAULT_NAMES[kind.fault] for kind in start.kinds)
    where = "worked out" if start.known.at is None else source_text(start.known)
    sheet.given(f"{fact.title} at {start.tag}", kinds, value, where)
    for quantity, source, text in start.steps:
        sheet.given(quantity, "", text, source)
    for kind in start.kinds:
        sheet.given(f"voltage of a {FAULT_NAMES[kind.fault]} loop", "", f"{_volts(kind)} V", "system of the source")
    low, high = start.x_over_r
    why = "the angle at which its impedance adds to that of the runs"
    sheet.given("X/R of the source", why, "not shown" if high is None else _span(low, high), "")
    for run in counted.runs:
        words = _COUNTED_ALREADY if run.adds == NO_RUN else _words(context, run.feed.subject)
        sheet.given(f"run {run.feed.subject.id}", *words)


def _volts(kind: Kind) -> str:
    ends = [each for each in (kind.low, kind.high) if each is not None]
    return _span(ends[0], ends[-1]) if ends else "not shown"


def _span(low: Fraction, high: Fraction) -> str:
    return " to ".join(dict.fromkeys((amount(low), amount(high))))


def _words(context: Context, run: Subject) -> tuple[str, str, str]:
    """Conductors and raceway, length, and the place where it is written."""
    facts = context.catalog.facts
    parts = ("phase.parallel_sets", "phase.size", "phase.material", "run_raceway")
    known = {name: context.known(run, name) for name in (*parts, "length")}
    texts = {
        name: value_text(facts[name], each.value, each.unit)
        if each.value.is_exact
        else f"{facts[name].title} not shown"
        for name, each in known.items()
    }
    length = known["length"]
    where = "" if length.at is None else str(length.at)
    if not known["phase.size"].value.is_exact:
        return "conductors not shown", texts["length"], where
    sets = "" if texts["phase.parallel_sets"] == "1" else f"{texts['phase.parallel_sets']} x "
    conductors = f"{sets}{texts['phase.size']} {texts['phase.material']}"
    return f"{conductors}, {texts['run_raceway']}", texts["length"], where


def _text(fact: Fact, known: Known) -> str:
    return value_text(fact, known.value, known.unit) if known.value.is_exact else f"{fact.title} not shown"


def _by_points(sheet: _Sheet, counted: Counted, kind: Kind, added: Impedance, numbers: RunNumbers) -> None:
    begin = Beginning(counted.start.low, kind.low or Fraction(1), counted.start.x_over_r)
    whole_way = f"{FAULT_NAMES[kind.fault]}, {_WAYS[kind.fault]}, by the table at 75 °C"
    ohms = sheet.step("ohms of the runs at the most", whole_way, _fine(added.magnitude), "ohm", numbers.source)
    factor = point_to_point_factor(begin, added)
    amperes = f"{_kilo(begin.amperes)} kA"
    f = sheet.step("f", f"{amperes} x {ohms} / {amount(begin.voltage)} V", _fine(factor), "", POINT_TO_POINT)
    m = sheet.step("M", f"1 / (1 + {f})", _fine(1 / (1 + factor)), "", "the same")
    sheet.step("by point to point", f"{m} x {amperes}", _kilo(begin.amperes / (1 + factor)), "kA", "the same")
    least = least_at_end(counted.start.only(kind), whole(counted.runs))
    how = "the same: source and runs at one angle"
    if begin.x_over_r != NO_RATIO:
        how = "V / |Zs + Z|, X/R of the source as it gives least"
    sheet.step("least at the end", how, _kilo(least), "kA")


def _as_vector(sheet: _Sheet, counted: Counted, kind: Kind, added: Impedance, numbers: RunNumbers) -> None:
    way = f"{FAULT_NAMES[kind.fault]}, {_LEAST_WAYS[kind.fault]}"
    cold, close = (
        sheet.step(
            f"{part} at the least", f"{way}, {amount(share * PERCENT)} % of the table: {why}", _fine(ohms), "ohm"
        )
        for part, share, why, ohms in (
            ("resistance", numbers.cold, "conductors as cold as it gets", added.resistance),
            ("reactance", numbers.close, "conductors side by side, as in a cable", added.reactance),
        )
    )
    source = f"{amount(kind.high or Fraction(0))} V / {_kilo(counted.start.high)} kA"
    how = f"V / |Zs + {cold} + j {close}|, Zs = {source}, X/R of the source as it gives most"
    sheet.step("greatest at the end", how, _kilo(counted.most), "kA", "Ohm's law with impedances as vectors")


def _motors(sheet: _Sheet, counted: Counted, motors: Possible) -> None:
    high = motors.hull.high if motors.hull is not None else None
    if high == 0:
        return
    if high is None:
        sheet.step("what motors add", "motor_fault_current of the site", "not shown", "")
        return
    sheet.step("what motors add", "motor_fault_current of the site, at most", _kilo(high), "kA")
    sheet.step("greatest with motors", "the sum", _kilo((counted.most or Fraction(0)) + high), "kA")


def _assumptions(counted: Counted, most: Impedance | None) -> Iterator[str]:
    if counted.start.x_over_r == NO_RATIO:
        yield (
            "X/R of the source is not shown; it is taken as whatever gives each end. Impedances of one X/R add up in "
            "full and leave the least current, those of different ones add up to less and leave more."
        )
    if most is None:
        yield "Something of a run is not shown; it takes nothing away, and there is no least."
    if all(kind.fault is not Fault.LINE_AND_NEUTRAL for kind in counted.start.kinds):
        yield (
            "Close to the transformer a fault to the neutral can be greater; the figure is not of that kind. At a "
            "center tap it is worked out by itself."
        )


@dataclass(frozen=True, slots=True)
class SetNumbers:
    """What a set drives into a fault (A): least and greatest between all phase conductors, and how many times that to
    the neutral; by how much its reactance may be off, and the smallest that is believed where none is shown.
    """

    off: Fraction
    believed: Fraction | None
    least: Fraction
    own: Fraction
    factor: Fraction


def _greatest_between_all(context: Context, sheet: _Sheet, numbers: SetNumbers) -> str:
    """The lines up to the greatest current between all phase conductors; the letter of that."""
    if numbers.believed is not None:
        practice = "common practice, without a source; of small sets alone"
        title = "smallest reactance of a small set"
        smallest = sheet.step(title, "none is shown", f"{amount(numbers.believed * PERCENT)} %", "", practice)
        return sheet.step("greatest between all phase conductors", f"1 / {smallest}", _kilo(numbers.own), "kA")
    source = cited(context.numbers, REACTANCE_TOLERANCE)
    tolerance = sheet.step("tolerance of a reactance", "", f"{amount(numbers.off * PERCENT)} %", "", source)
    sheet.step("least between all phase conductors", f"1 / (2 x (1 + {tolerance}))", _kilo(numbers.least), "kA")
    how = f"1 / (2 x (1 - {tolerance}))"
    return sheet.step("greatest between all phase conductors", how, _kilo(numbers.own), "kA")


def set_sheet(
    context: Context,
    subject: Subject,
    name: str,
    given: Sequence[str],
    numbers: SetNumbers,
) -> Worksheet:
    """The greatest fault current of a set by its reactances, or by the smallest that is believed of it."""
    sheet = _Sheet([])
    _list(context, sheet, subject, given)
    most = _greatest_between_all(context, sheet, numbers)
    if numbers.factor > 1:
        how = f"at most {amount(numbers.factor)} x {most}"
        greatest = _kilo(numbers.own * numbers.factor)
        sheet.step("greatest to the neutral", how, greatest, "kA", "sequence networks; coupled half windings")
    limits = "At the terminals, symmetrical, neutral grounded solid, field as without load."
    return Worksheet(f"{subject.id}.{name}", "Fault current of a set", subject.id, tuple(sheet.lines), limits)


def transformer_sheet(
    context: Context,
    subject: Subject,
    name: str,
    given: Sequence[str],
    counted: Fraction,
    phases: Fraction,
    to_neutral: Fraction | None,
) -> Worksheet:
    """The greatest fault current of a transformer with nothing ahead of it to hold it back; to the neutral where the
    figure may be of that fault.
    """
    sheet = _Sheet([])
    _list(context, sheet, subject, (*given, "system.voltage"))
    source = cited(context.numbers, LEAST_IMPEDANCE)
    least = sheet.step("share of the nameplate impedance", "at the least", f"{amount(counted * PERCENT)} %", "", source)
    how = f"1 / (3 x 2 x {least}), over root 3 for three phases"
    sheet.step("greatest, utility without limit", how, _kilo(phases), "kA", "infinite bus")
    if to_neutral is not None:
        how = "by half of a center-tapped winding, or by the least zero-sequence impedance of three phases"
        sheet.step("greatest to the neutral", how, _kilo(to_neutral), "kA", "handbooks and textbooks, from memory")
    limits = (
        "At the secondary terminals, between all phase conductors; a fault to the neutral can be greater, and is "
        "worked out for each piece by itself. What is delivered may have another impedance than its nameplate."
    )
    return Worksheet(f"{subject.id}.{name}", "Fault current of a transformer", subject.id, tuple(sheet.lines), limits)


def _list(context: Context, sheet: _Sheet, subject: Subject, names: Sequence[str]) -> None:
    facts = context.catalog.facts
    for name in names:
        known = context.known(subject, name)
        text = value_text(facts[name], known.value, known.unit)
        sheet.given(facts[name].title, "", text, source_text(known))


def _kilo(amperes: Fraction | None) -> str:
    return "no end" if amperes is None else _fine(amperes / KILO)


def _fine(value: Fraction) -> str:
    """Ohms and factors to four significant digits."""
    return f"{float(value):.4g}"
