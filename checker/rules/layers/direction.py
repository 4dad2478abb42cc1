"""Whether a change makes a rule stricter or easier, as far as that can be told from the change alone."""

from __future__ import annotations

from enum import Enum

from checker.rules.layers import model
from checker.rules.model.force import Force
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.numbers import ParameterValue
from checker.rules.model.profile import May
from checker.rules.model.rule import Rule
from checker.values.dates import CalendarSpan
from checker.values.possible import Possible


class Direction(Enum):
    """What a change does to what is asked of a site."""

    TIGHTER = "tighter"
    EASIER = "easier"
    SAME = "same"
    NOT_TOLD = "not told"


_OF_KIND: dict[type, Direction] = {
    model.AddRule: Direction.TIGHTER,
    model.Widen: Direction.TIGHTER,
    model.EndException: Direction.TIGHTER,
    model.AddException: Direction.EASIER,
    model.AddWay: Direction.EASIER,
    model.Narrow: Direction.EASIER,
    model.DeleteRule: Direction.EASIER,
    model.LimitRule: Direction.EASIER,
    model.Renumber: Direction.SAME,
    model.Confirm: Direction.SAME,
    model.Redirect: Direction.SAME,
    model.PreEmpt: Direction.NOT_TOLD,
    model.ReplaceRule: Direction.NOT_TOLD,
}

_WITHIN: dict[May, frozenset[Direction]] = {
    May.ANYTHING: frozenset(Direction),
    May.TIGHTEN: frozenset({Direction.TIGHTER, Direction.SAME}),
    May.EASE: frozenset({Direction.EASIER, Direction.SAME}),
    May.NOTHING: frozenset({Direction.SAME}),
}


def is_within(may: May, what: model.What, before: RuleInForce | None) -> bool:
    """Whether an authority may make this change of a rule as it stands (None for one that is added)."""
    return direction(what, before) in _WITHIN[may]


def may_set(may: May, what: model.SetNumber, old: ParameterValue) -> bool:
    """Whether an authority may put this number in the place of that one, whatever rules read it."""
    return _of_number(old, what.value, what.stricter) in _WITHIN[may]


def direction(what: model.What, before: RuleInForce | None) -> Direction:
    """What the change does. Where that cannot be told without the sites, it is not told."""
    if isinstance(what, model.AddRule) and _only_advises(what.rule):
        return Direction.SAME
    if not isinstance(what, model.SetNumber):
        return _ended_by_replacement(what, before) or _OF_KIND[type(what)]
    if before is None:
        return Direction.NOT_TOLD
    old = before.parameters.get(what.parameter)
    number = Direction.NOT_TOLD if old is None else _of_number(old, what.value, what.stricter)
    drops_exceptions = what.exceptions_apply is False and bool(before.rule.unless)
    if not drops_exceptions:
        return number
    return Direction.TIGHTER if number in (Direction.TIGHTER, Direction.SAME) else Direction.NOT_TOLD


def _only_advises(rule: Rule) -> bool:
    """Whether a rule can never come to a correction, so that nothing below it is changed. Whoever likes may advise."""
    return rule.force is not Force.MANDATORY or not rule.basis.can_correct


def _ended_by_replacement(what: model.What, before: RuleInForce | None) -> Direction | None:
    """A replacement of a requirement (115 % becomes 100 %) may be stricter or easier, so ending it is not told."""
    if not isinstance(what, model.EndException) or before is None:
        return None
    return Direction.NOT_TOLD if any(each.id == what.id for each in before.rule.instead) else None


def _of_number(old: ParameterValue, new: ParameterValue, stricter: str | None) -> Direction:
    if old.value == new.value:
        return Direction.SAME
    if new.no_limit or old.no_limit:
        return Direction.EASIER if new.no_limit else Direction.TIGHTER
    rises = _rises(old.value, new.value)
    if rises is None or stricter is None:
        return Direction.NOT_TOLD
    return Direction.TIGHTER if rises == (stricter == "higher") else Direction.EASIER


def _rises(old: object, new: object) -> bool | None:
    if isinstance(old, CalendarSpan) and isinstance(new, CalendarSpan):
        return _span_rises(old, new)
    if isinstance(old, Possible) and isinstance(new, Possible) and old.number is not None and new.number is not None:
        return new.number > old.number
    return None


def _span_rises(old: CalendarSpan, new: CalendarSpan) -> bool | None:
    """Spans of months and of days are not compared with one another: a month has no fixed number of days."""
    if (old.months == 0) == (new.months == 0):
        return (new.months, new.days) > (old.months, old.days)
    return None
