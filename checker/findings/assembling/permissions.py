"""Special permissions: findings that one covers say so, and what they would be without it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from checker.findings.finding import Finding, Notice
from checker.findings.judging.outcomes import Outcome
from checker.rules.model.profile import Permission
from checker.rules.wording import listing
from checker.values.notation import nearest

_SET_ASIDE = (
    Outcome.CORRECTION,
    Outcome.RECOMMENDATION,
    Outcome.NOTE,
    Outcome.NEEDS_INFORMATION,
    Outcome.AHJ_TO_DECIDE,
)
"""What a permission takes the place of; what is met or does not apply needs none."""


@dataclass(frozen=True, slots=True)
class Permitted:
    """The findings with permissions on them, and what is to be said of permissions that had no effect."""

    findings: tuple[Finding, ...]
    notices: tuple[Notice, ...]


def permitted(findings: Iterable[Finding], permissions: Sequence[Permission], site: str, on: date) -> Permitted:
    """Put the permissions of this site on its findings. One that was given after the date of the review counts too: it
    is asked for because of what a review finds.
    """
    here = [each for each in permissions if each.site == site]
    holding = _holding(permissions, site, on)
    used: dict[Permission, None] = {}
    found = tuple(_looked_at(finding, holding, used) for finding in findings)
    elsewhere = [each for each in permissions if each.site != site]
    unused = [each for each in here if each not in used]
    notices = (*_without_effect(unused, found, on), *_nearly_here(elsewhere, site))
    return Permitted(found, notices)


def is_permitted(permissions: Sequence[Permission], site: str, on: date, what: tuple[str, str, str]) -> bool:
    """Whether a permission of this site holds for a rule, named by its pack and its id, on a subject by the name that
    stays.
    """
    return any(_is_for(each, *what) for each in _holding(permissions, site, on))


def _holding(permissions: Sequence[Permission], site: str, on: date) -> list[Permission]:
    return [each for each in permissions if each.site == site and (each.until is None or on <= each.until)]


def _looked_at(finding: Finding, holding: Sequence[Permission], used: dict[Permission, None]) -> Finding:
    permission = next((each for each in holding if _covers(each, finding)), None)
    if permission is None:
        return finding
    used[permission] = None
    return _with(finding, permission)


def _covers(permission: Permission, finding: Finding) -> bool:
    is_for = _is_for(permission, finding.pack, finding.rule, finding.subject.known_as)
    return is_for and finding.outcome in _SET_ASIDE


def _is_for(permission: Permission, pack: str, rule: str, subject: str) -> bool:
    return _is_of_rule(permission, pack, rule) and permission.subject in (None, subject)


def _is_of_rule(permission: Permission, pack: str, rule: str) -> bool:
    wanted_pack, _, wanted = permission.rule.rpartition(":")
    return rule == wanted and wanted_pack in ("", pack)


def _with(finding: Finding, permission: Permission) -> Finding:
    return replace(
        finding,
        outcome=Outcome.SPECIAL_PERMISSION,
        could_be=(Outcome.SPECIAL_PERMISSION,),
        without_permission=finding.outcome,
        permission=words(permission),
    )


def words(permission: Permission) -> str:
    """The permission in one or two sentences: by whom, since when and until when, and its conditions."""
    until = f" until {permission.until}" if permission.until is not None else ""
    conditions = f" Conditions: {'; '.join(permission.conditions)}." if permission.conditions else ""
    return f"Permitted by {permission.by} on {permission.on}{until}: {permission.says.rstrip('.')}.{conditions}"


def _without_effect(unused: Iterable[Permission], findings: Sequence[Finding], on: date) -> Iterator[Notice]:
    for each in unused:
        if each.until is not None and on > each.until:
            sentence = f"The special permission for {each.rule} by {each.by} ended on {each.until}."
            yield Notice("permission_ended", sentence, each.at, "It is shown and changes nothing.")
        else:
            sentence = (
                f"The special permission for {each.rule} by {each.by} ({each.on}) covers no finding here: "
                f"{_why_not(each, findings)}"
            )
            yield Notice("permission_not_used", sentence, each.at, "It is shown and changes nothing.")


def _why_not(permission: Permission, findings: Sequence[Finding]) -> str:
    """Which of its rule and its subject is not here, or that nothing is wanted of it; its site is this one."""
    of_rule = [each for each in findings if _is_of_rule(permission, each.pack, each.rule)]
    if not of_rule:
        names = {each.rule for each in findings} | {f"{each.pack}:{each.rule}" for each in findings}
        return f"no rule of that name looks at anything on this site.{_nearest(permission.rule, names)}"
    subjects = dict.fromkeys(each.subject.known_as for each in of_rule)
    if permission.subject is None or permission.subject in subjects:
        return "nothing is wanted there that it could stand in the place of."
    return (
        f"the rule looks at nothing called {permission.subject} on this site; it looks at "
        f"{listing(tuple(subjects)[:_MOST_NAMED])}{' and others' if len(subjects) > _MOST_NAMED else ''}."
        f"{_nearest(permission.subject, subjects)}"
    )


_MOST_NAMED = 6


def _nearest(name: str, known: Iterable[str]) -> str:
    near = nearest(name, sorted(known))
    return f" Nearest valid name: {near}." if near else ""


def _nearly_here(elsewhere: Iterable[Permission], site: str) -> Iterator[Notice]:
    """Permissions whose site is all but this one. Names that differ in a number are houses next to one another."""
    for each in elsewhere:
        if _digits(each.site) == _digits(site) and nearest(each.site, (site,)) is not None:
            sentence = f"The special permission for {each.rule} by {each.by} is for {each.site}; this site is {site}."
            yield Notice("permission_of_another_site", sentence, each.at, "If it is the same place, write it the same.")


def _digits(name: str) -> str:
    return "".join(filter(str.isdigit, name))
