"""Which changes of one rule by different layers do not go together, and which says that it goes over another."""

from __future__ import annotations

from checker.rules.layers import model
from checker.rules.layers.model import Change

_NEUTRAL = (model.Renumber, model.Confirm, model.Redirect, model.PreEmpt, model.AddRule)
"""Changes that go together with every other: they change nothing that is asked, or a rule of their own."""

_GROWING = (model.AddException, model.AddWay)
"""Changes that only add: they go together with one another, in any order."""

_WHOLE = (model.ReplaceRule, model.DeleteRule, model.LimitRule)
"""Changes that leave nothing of what another has added."""


def is_neutral(change: Change) -> bool:
    """Whether a change goes together with every other."""
    return isinstance(change.what, _NEUTRAL)


def collide(one: Change, other: Change) -> bool:
    """Whether two changes of different layers cannot both be made, or only in an order that nobody has given."""
    if one.layer == other.layer or not same_target(one, other) or is_neutral(one) or is_neutral(other):
        return False
    if isinstance(one.what, _GROWING):
        return _undoes(other, one)
    return _undoes(one, other) if isinstance(other.what, _GROWING) else True


def _undoes(change: Change, grown: Change) -> bool:
    """Whether a change would take away what the other adds, or not, as they come one after the other."""
    what = change.what
    if isinstance(what, model.SetNumber):
        return what.exceptions_apply is False and isinstance(grown.what, model.AddException)
    return isinstance(what, _WHOLE)


def gives_way(change: Change, other: Change) -> bool:
    """Whether the other says that it goes over this one; what goes together with every other need not give way."""
    return change.layer in other.terms.over and same_target(change, other) and not is_neutral(change)


def same_target(first: Change, second: Change) -> bool:
    """Whether both change the same rule, and where both set a number the same number."""
    if first is second or first.rule != second.rule or not first.rule:
        return False
    if isinstance(first.what, model.SetNumber) and isinstance(second.what, model.SetNumber):
        return first.what.parameter == second.what.parameter
    return True
