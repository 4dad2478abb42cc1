"""What layers did to a rule, and what stands on record about it, in words for a finding."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from checker.findings.finding import Deleted, Notice
from checker.rules.model.citing import Citation
from checker.rules.model.in_force import DeletedHere, History, LayerNotice, RuleInForce
from checker.rules.model.profile import Interpretation
from checker.rules.wording import counts_for


def history_told(history: Iterable[History]) -> tuple[str, ...]:
    """Each change in one sentence; nothing of a local rule of which nothing more is known."""
    return tuple(filter(None, map(change_told, history)))


def change_told(change: History) -> str:
    """One change: by whom, what, from when, under which section, and why. Of a rule of the authority's own the finding
    names authority and section anyhow.
    """
    since = _since(change)
    if change.is_own_rule:
        where = f", {change.sentence}" if change.sentence else ""
        reason = f" Reason: {change.reason.rstrip('.')}." if change.reason else ""
        return f"Local rule{since and f' {since}'}{where}.{reason}" if since or where or reason else ""
    sections = f" ({', '.join(map(_section, change.cites))})" if change.cites else ""
    reason = f" Reason: {change.reason.rstrip('.')}." if change.reason else ""
    if not change.applied:
        refused = "That is more than it may do, so it is not applied."
        return f"{change.authority} wants{since and f' {since}'}: {change.sentence}{sections}. {refused}{reason}"
    return f"{change.authority}{since and f', {since}'}: {change.sentence}{sections}.{reason}"


def _since(change: History) -> str:
    """``for permit applications from 2025-07-01``; nothing of a change without a first day."""
    if change.since is None:
        return ""
    return f"from {change.since}" if change.event is None else counts_for(change.event, change.since)


def _section(cite: Citation) -> str:
    edition = f" {cite.edition}" if cite.edition else ""
    return f"{cite.document}{edition} {cite.section}"


def interpretations_told(rule: RuleInForce) -> tuple[str, ...]:
    """Every interpretation on record, each in one sentence; none of them changes the finding."""
    return tuple(map(_interpretation, rule.interpretations))


def _interpretation(record: Interpretation) -> str:
    reading = f", for the reading {record.reading.replace('_', ' ')}" if record.reading else ""
    return (
        f"Interpretation on record, {record.status}{reading}: {record.says} ({record.by}, {record.on}.) "
        "It changes no finding."
    )


def on_record(interpretations: Iterable[Interpretation]) -> Iterator[Notice]:
    """Every interpretation that the profile holds, with the rule that it is about."""
    for each in interpretations:
        yield Notice("interpretation", f"{each.rule}: {_interpretation(each)}", each.at)


def deleted_told(deleted: Iterable[DeletedHere], is_elsewhere: Callable[[RuleInForce], bool]) -> Iterator[Deleted]:
    """The rules that are deleted here, in the order in which they were; those that would not hold here are left out."""
    for each in deleted:
        if is_elsewhere(each.rule):
            continue
        rule = each.rule
        yield Deleted(
            rule.id, rule.rule.title, rule.cites, each.history.layer, change_told(each.history), each.history.cites
        )


def notices_told(notices: Iterable[LayerNotice]) -> Iterator[Notice]:
    """Notices about the rules in force, each once."""
    yield from dict.fromkeys(Notice(each.kind, each.sentence, each.at, each.remedy) for each in notices)
