"""What a motor asks of a set while it starts, and how far the voltage of the set dips then."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import Calculation, OutsideLimits
from checker.engineering.generator.voltage_dip import DIP_FROM_RATED_START, VOLTAGE_DIP
from checker.engineering.powers import square_root
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.numbers import cited, rows_in_force
from checker.rules.model.numbers import Row
from checker.site.model import Subject
from checker.values.arithmetic import largest, product_of
from checker.values.possible import ABSENT, Possible, between, number, undefined, union_of

LEAST, GREATEST, METHODS = "locked-rotor-input-least", "locked-rotor-input-greatest", "starting-methods"
ONE_PHASE, THREE_PHASE = "single-phase-locked-rotor-currents", "three-phase-locked-rotor-currents"
NUMBERS = (LEAST, GREATEST, METHODS, ONE_PHASE, THREE_PHASE)
"""The tables that are read here."""

STARTING_READS = (
    *("horsepower", "code_letter", "locked_rotor_current", "motor_voltage", "motor_phases"),
    *("motor_design", "load_kind", "starting_method", "limited_current"),
)
SHARE_READS = ("load_power", "at", "power_at_site")
DIP_READS = ("starting_power", "at", "motor_starting", "transient_reactance", "greatest_power", "power_factor")

_ANYTHING = between(Fraction(0), None)
_LIMITED = "limited"
_BY_DESIGN: Mapping[str, tuple[str, frozenset[str]]] = {
    "one": (ONE_PHASE, frozenset("LMNO")),
    "three": (THREE_PHASE, frozenset("BCD")),
}
"""For each number of phases the table of locked-rotor currents by horsepower, and the designs for which it is made."""
_HERMETIC = frozenset({"cooling", "heat_pump"})
"""Loads whose motor is a hermetic compressor: what it takes stands on its own nameplate and nowhere else."""
_VA_PER_KVA, _PERCENT = Fraction(1000), 100
_ROOT_3 = square_root(Fraction(3))
_AT_ODDS = "the locked-rotor current and the code letter of the motor do not go together"
_NO_SET = "no set feeds the load"


# --- starting power --------------------------------------------------------------------------------------------------


def starting_power(context: Context, subject: Subject, name: str) -> Derived:
    """Apparent power in VA while the motor starts: its locked-rotor input times the share of the starting method.

    The input lies within the band of the code letter (NFPA 70, Table 430.7(B)) and is k V I where the locked-rotor
    current is known. Where neither is, a motor with a design letter takes at the most what Table 430.251 has for its
    horsepower. A starter that limits the current takes k V times its limit, and where the limit is not known no more
    than the motor with its rotor locked.
    """
    try:
        locked, shares = _locked_rotor(context, subject), _shares(context)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    if locked.undefined:
        return Derived(locked, reasons=locked.undefined)
    methods = sorted(str(each) for each in context.read(subject, "starting_method").atoms)
    found = union_of([_by_method(context, subject, each, locked, shares) for each in methods])
    value = between(_low(found), _high(found))
    if _high(value) is None:
        return Derived(value)
    return Derived(value, worksheet=_starting_sheet(context, subject, name, locked, methods, shares, value))


def _by_method(
    context: Context, subject: Subject, method: str, locked: Possible, shares: Mapping[str, Fraction]
) -> Possible:
    if method == _LIMITED:
        limited = product_of(_volts(context, subject), _present(context.read(subject, "limited_current")))
        return limited if _high(limited) is not None else between(_low(limited), _high(locked))
    if method not in shares:
        return _ANYTHING
    return product_of(locked, number(shares[method]))


def _locked_rotor(context: Context, subject: Subject) -> Possible:
    """The locked-rotor input in VA, within what both the current and the letter say."""
    current = product_of(_volts(context, subject), _present(context.read(subject, "locked_rotor_current")))
    letter = _by_letter(context, subject)
    low = max(_low(current), _low(letter))
    high = min((each for each in (_high(current), _high(letter)) if each is not None), default=None)
    if high is not None and low > high:
        return undefined(_AT_ODDS)
    if high is None:
        by_design = _most_by_design(context, subject)
        high = None if by_design is None or by_design < low else by_design
    return between(low, high)


def _most_by_design(context: Context, subject: Subject) -> Fraction | None:
    """The most that a motor of its design letter takes with its rotor locked, in VA; None where nothing bounds it.

    The table gives one apparent power at every voltage, but for rounding; the greatest of them counts.
    """
    design, phases = context.read(subject, "motor_design").atom, context.read(subject, "motor_phases").atom
    table, designs = _BY_DESIGN.get(str(phases), ("", frozenset[str]()))
    if str(design) not in designs or _may_be_hermetic(context, subject):
        return None
    size = _high(_present(context.read(subject, "horsepower")))
    rows = [(_upper(row, "power"), row) for row in rows_in_force(context.numbers, table)]
    fitting = [(power, row) for power, row in rows if size is not None and power >= size]
    if not fitting:
        return None
    smallest = min(power for power, _ in fitting)
    root = Fraction(1) if phases == "one" else _ROOT_3
    return max(
        root * _upper(row, "voltage") * current
        for power, row in fitting
        if power == smallest and (current := row.value.number) is not None
    )


def _may_be_hermetic(context: Context, subject: Subject) -> bool:
    kinds = {str(each) for each in context.read(subject, "load_kind").atoms}
    return not kinds or bool(kinds & _HERMETIC)


def _upper(row: Row, key: str) -> Fraction:
    """The number of a key, or the upper end up to which the row counts."""
    hull = row.keys[key].hull
    if hull is None or hull.high is None:
        raise OutsideLimits("A row of the table of locked-rotor currents has no one horsepower or voltage.")
    return hull.high


def _volts(context: Context, subject: Subject) -> Possible:
    """k V: the voltage, times the square root of 3 for three phases."""
    phases = context.read(subject, "motor_phases").atoms
    roots = {"one": Fraction(1), "three": _ROOT_3}
    root = union_of([number(roots[str(each)]) for each in sorted(map(str, phases))])
    return product_of(_present(context.read(subject, "motor_voltage")), root)


def _by_letter(context: Context, subject: Subject) -> Possible:
    bands = _bands(context)
    letters = sorted(str(each) for each in context.read(subject, "code_letter").atoms)
    if any(each not in bands for each in letters):
        raise OutsideLimits("The table of code letters has not every letter that is possible here.")
    inputs = union_of([between(*bands[each]) for each in letters])
    size = _present(context.read(subject, "horsepower"))
    each = product_of(between(_low(inputs), _high(inputs)), size)
    return product_of(each, number(_VA_PER_KVA))


def _bands(context: Context) -> Mapping[str, tuple[Fraction, Fraction | None]]:
    """Both ends of the band of each letter, in kVA for each horsepower; the last one has no upper end."""
    least, greatest = (_by_word(context, table, "letter") for table in (LEAST, GREATEST))
    return {letter: (low, greatest.get(letter)) for letter, low in least.items()}


def _shares(context: Context) -> Mapping[str, Fraction]:
    return _by_word(context, METHODS, "method")


def _by_word(context: Context, table: str, key: str) -> Mapping[str, Fraction]:
    rows = rows_in_force(context.numbers, table)
    found = {str(row.keys[key].atom): row.value.number for row in rows}
    return {word: value for word, value in found.items() if value is not None}


# --- share of the set ------------------------------------------------------------------------------------------------


def share_of_set(context: Context, subject: Subject, name: str) -> Derived:
    """The rating of the load over the power of the smallest set that can feed it; none where no set does."""
    sets, is_known = _sets(context, subject)
    if is_known and not sets:
        return Derived(ABSENT)
    rating = _present(context.read(subject, "load_power"))
    shares = [_over(rating, _present(context.read(each, "power_at_site"))) for each in sets]
    if is_known:
        return Derived(largest(shares, skip_absent=False))
    return Derived(union_of([ABSENT, _ANYTHING]))


def _over(rating: Possible, power: Possible) -> Possible:
    least, most = _low(power), _high(power)
    high = _high(rating)
    return between(
        _low(rating) / most if most else Fraction(0),
        high / least if high is not None and least else None,
    )


def _sets(context: Context, load: Subject) -> tuple[list[Subject], bool]:
    """The sets that can feed the load, and whether it is known where the load is."""
    drawing, at = context.drawing, context.read(load, "at").atom
    if at is None or str(at) not in drawing.pieces:
        return [], False
    reaching = drawing.sources_reaching(str(at))
    return [drawing.pieces[tag] for tag in reaching if drawing.is_of(tag, "generator")], True


# --- voltage dip -----------------------------------------------------------------------------------------------------


def dip_when_it_starts(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest dip among the sets that can feed the load, as a share of the voltage.

    From the starting figure of a set where its sheet gives one, else from its transient reactance on its rating in
    kVA. First order: regulator and loads that run already are not in it.
    """
    sets, is_known = _sets(context, subject)
    if not is_known:
        return Derived(between(Fraction(0), Fraction(1)))
    if not sets:
        return no_answer(_NO_SET)
    starting = context.read(subject, "starting_power")
    dips = [_dip(context, each, starting) for each in sets]
    reasons = tuple(sorted({reason for each in dips for reason in each.undefined}))
    if reasons:
        return Derived(Possible(undefined=reasons), reasons=reasons)
    value = largest(dips, skip_absent=False)
    is_open = (_high(value) or Fraction(0)) >= 1
    return Derived(value, worksheet=None if is_open else _dip_sheet(context, subject, name, sets, dips))


def _dip(context: Context, source: Subject, starting: Possible) -> Possible:
    whole = context.read(source, "motor_starting")
    if whole.only_absent:
        return _clipped(VOLTAGE_DIP, _by_reactance(context, source, starting))
    if whole.absent:
        return between(Fraction(0), Fraction(1))
    return _clipped(DIP_FROM_RATED_START, _by_figure(context, source, starting))


def _clipped(calculation: Calculation, inputs: Mapping[str, Possible]) -> Possible:
    """The result between nothing and the whole voltage, which it never leaves."""
    found = calculation.over(inputs)
    if found.undefined and not found.spans:
        return found
    high = _high(found)
    return between(_low(found), Fraction(1) if high is None else high)


def _by_figure(context: Context, source: Subject, starting: Possible) -> Mapping[str, Possible]:
    stated = {"rated_start": "motor_starting.power", "rated_dip": "motor_starting.dip"}
    return {"starting": starting, **{key: _present(context.read(source, fact)) for key, fact in stated.items()}}


def _by_reactance(context: Context, source: Subject, starting: Possible) -> Mapping[str, Possible]:
    power, factor = context.read(source, "greatest_power"), context.read(source, "power_factor")
    least, most = _low(factor), _high(factor)
    high = _high(power)
    rating = between(_low(power) / most if most else _low(power), high / least if high is not None and least else None)
    return {"reactance": _present(context.read(source, "transient_reactance")), "set": rating, "starting": starting}


# --- worksheets ------------------------------------------------------------------------------------------------------


def _starting_sheet(
    context: Context,
    subject: Subject,
    name: str,
    locked: Possible,
    methods: list[str],
    shares: Mapping[str, Fraction],
    value: Possible,
) -> Worksheet:
    asked = [fact for fact in STARTING_READS if _is_shown(context, subject, fact, methods)]
    given = [(subject, fact) for fact in asked if context.read(subject, fact).is_exact]
    how, source = _locked_rotor_by(context, subject)
    lines = [*_given(context, given), Line("a", "locked-rotor input", how, _kva(locked), "", source)]
    if len(methods) == 1 and methods[0] in shares:
        share = f"{float(shares[methods[0]] * _PERCENT):g} %"
        lines.append(
            Line(
                "b", "share of the starting method", "", share, "", cited(context.numbers, METHODS) or "common practice"
            )
        )
        how = "a x b"
    else:
        how = "k x V x limit of the starter" if methods == [_LIMITED] else "at the least and at the most of the methods"
    lines.append(Line("b" if lines and lines[-1].letter == "a" else "c", "starting power", how, _kva(value), "", ""))
    return Worksheet(
        f"{subject}.{name}", "Apparent power while a motor starts", str(subject), tuple(lines), "At rated voltage."
    )


def _locked_rotor_by(context: Context, subject: Subject) -> tuple[str, str]:
    """The formula of the locked-rotor input, and where its number stands."""
    if context.read(subject, "locked_rotor_current").is_exact:
        return "k x V x I, k = 1 for one phase, square root of 3 for three phases", "definition of apparent power"
    if _high(_by_letter(context, subject)) is None:
        table, _ = _BY_DESIGN[str(context.read(subject, "motor_phases").atom)]
        how = "k x V x I of the table by horsepower, at the most; the design letter lets it count"
        return how, cited(context.numbers, table)
    return "kVA for each hp of the code letter x hp", cited(context.numbers, LEAST)


def _is_shown(context: Context, subject: Subject, fact: str, methods: list[str]) -> bool:
    """Whether a worksheet shows what was read: not what only tells that something else does not count."""
    if fact == "motor_design":
        return context.read(subject, fact).atom is not None
    return fact != "load_kind" and (fact != "limited_current" or _LIMITED in methods)


def _dip_sheet(context: Context, subject: Subject, name: str, sets: list[Subject], dips: list[Possible]) -> Worksheet:
    facts = [(subject, "starting_power")]
    for each in sets:
        by_reactance = context.read(each, "motor_starting").only_absent
        of_set = ("transient_reactance", "greatest_power", "power_factor") if by_reactance else _FIGURE
        facts += [(each, fact) for fact in of_set]
    lines = list(_given(context, facts))
    for letter, each, dip in zip("abcdefgh", sets, dips, strict=False):
        calculation = VOLTAGE_DIP if context.read(each, "motor_starting").only_absent else DIP_FROM_RATED_START
        lines.append(Line(letter, f"voltage dip of {each}", calculation.formula, _percent(dip), "", calculation.source))
    return Worksheet(f"{subject}.{name}", VOLTAGE_DIP.title, str(subject), tuple(lines), VOLTAGE_DIP.limits)


_FIGURE = ("motor_starting.power", "motor_starting.dip")


def _given(context: Context, facts: list[tuple[Subject, str]]) -> Iterator[Line]:
    for place, (owner, name) in enumerate(facts, start=1):
        fact, known = context.catalog.facts[name], context.known(owner, name)
        yield Line(
            str(place), fact.title, str(owner), value_text(fact, known.value, known.unit), "", source_text(known)
        )


def _kva(value: Possible) -> str:
    return number_text(value, "apparent_power", "kVA")


def _percent(value: Possible) -> str:
    return number_text(value, "ratio", "%")


# --- ends ------------------------------------------------------------------------------------------------------------


def _present(value: Possible) -> Possible:
    """The numbers alone; anything from zero on where there is none yet."""
    return Possible(spans=value.spans) if value.spans else _ANYTHING


def _low(value: Possible) -> Fraction:
    hull = value.hull
    return Fraction(0) if hull is None or hull.low is None else max(hull.low, Fraction(0))


def _high(value: Possible) -> Fraction | None:
    hull = value.hull
    return None if hull is None else hull.high
