"""Demand of household ranges, ovens and cooktops (NFPA 70, Table 220.55 with its notes 1 to 3)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.demand import ByCount
from checker.engineering.worked import Paper, Step


@dataclass(frozen=True, slots=True)
class RangeLine:
    """A demand for many ranges as a base and so much for each (column C from 26 ranges on), in VA."""

    from_count: int
    base: Fraction
    each: Fraction


@dataclass(frozen=True, slots=True)
class CookingTable:
    """The columns of the table with the limits of their ratings, all in VA.

    Column C holds demands for up to ``column_c_up_to`` each; ``lines`` carry it on for large numbers. A rating above
    that raises the demand by ``raise_each`` for every ``raise_step`` or major fraction of it, up to ``greatest``.
    Column A is for ratings below ``column_b_from``, column B up to ``column_b_up_to``; both hold factors.
    """

    column_c: ByCount
    lines: tuple[RangeLine, ...]
    column_c_up_to: Fraction
    raise_step: Fraction
    raise_each: Fraction
    greatest: Fraction
    least_that_counts: Fraction
    column_a: ByCount
    column_b: ByCount
    column_b_from: Fraction
    column_b_up_to: Fraction
    source: str


def write_ranges(paper: Paper, ratings: Sequence[Fraction], table: CookingTable) -> Step:
    """The demand of ranges with these ratings in VA: column C with note 1 for equal and note 2 for unequal ratings.

    Note 1: with a rating above that of the column the demand rises by 5 % for each kW, or major fraction of one, above
    it. Note 2: with unequal ratings the average counts, each below the column's taken as the column's.
    Small appliances never count more than their ratings: note 3 lets each count a share of its own (columns A and B,
    80 % at most). Limits: ratings above 27 kW have no row. It rises with the rating, and with the number within each
    line.
    """
    if not ratings:
        return paper.write("cooking", "no electric cooking", Fraction(0), "VA")
    if max(ratings) > table.greatest:
        raise OutsideLimits(f"{table.source} ends at {table.greatest} VA for one range.")
    demand, nameplates = write_column_c(paper, ratings, table), sum(ratings, Fraction(0))
    if nameplates >= demand.value:
        return demand
    how = f"nameplates, less than {demand.letter}"
    return paper.write("cooking at nameplate", how, nameplates, "VA", f"{table.source}, note 3")


def write_column_c(paper: Paper, ratings: Sequence[Fraction], table: CookingTable) -> Step:
    """The demand of ranges by column C with notes 1 and 2, in VA, also where their ratings together are less."""
    base = column_c(len(ratings), table)
    average = sum((max(each, table.column_c_up_to) for each in ratings), Fraction(0)) / len(ratings)
    over = average - table.column_c_up_to
    steps = round_half_up(over / table.raise_step)
    first = paper.write("demand of so many ranges", f"column C for {len(ratings)}", base, "VA", table.source)
    if steps == 0:
        return first
    how = f"{first.letter} x (1 + {steps} x {float(table.raise_each * 100):g} %)"
    return paper.write("cooking", how, base * (1 + steps * table.raise_each), "VA", f"{table.source}, note 1 or 2")


def write_small(paper: Paper, ratings: Sequence[Fraction], table: CookingTable) -> Step:
    """The demand of cooking appliances up to 8.75 kW by columns A and B (note 3), in VA; each column by its own count.

    Limits: no rating above that of column B; one not above 1.75 kW counts as it is.
    """
    if any(each > table.column_b_up_to for each in ratings):
        raise OutsideLimits(f"{table.source}, note 3, ends at {table.column_b_up_to} VA.")
    column_a = [each for each in ratings if table.least_that_counts < each < table.column_b_from]
    column_b = [each for each in ratings if each >= table.column_b_from]
    plain = sum((each for each in ratings if each <= table.least_that_counts), Fraction(0))
    demand = plain
    for column, listed in ((table.column_a, column_a), (table.column_b, column_b)):
        if listed:
            demand += sum(listed, Fraction(0)) * column.of(len(listed))
    return paper.write("cooking", f"columns A and B for {len(ratings)}", demand, "VA", f"{table.source}, note 3")


def column_c(count: int, table: CookingTable) -> Fraction:
    """The demand of so many ranges up to 12 kW each, in VA."""
    lines = [line for line in table.lines if count >= line.from_count]
    if lines:
        return lines[-1].base + count * lines[-1].each
    return table.column_c.of(count)


def round_half_up(number: Fraction) -> int:
    """The whole number of steps, a major fraction (one half or more) counting as one."""
    whole = floor(number)
    return whole if number - whole < Fraction(1, 2) else ceil(number)
