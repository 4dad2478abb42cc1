"""Jurisdiction profiles: which editions are adopted where, from when, and what is in force on a date."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from checker.files.strict_yaml import read_bytes, read_text
from checker.files.tree import Mapping, Node
from checker.rules import nodes
from checker.rules.citing import NO_EDITION, day
from checker.rules.edition import pack_in_edition
from checker.rules.model import Adoption, Pack, PackInForce, Profile, RuleInForce, RulesInForce
from checker.rules.problem_list import ProblemList
from checker.rules.wording import choice_of, listing
from checker.values.notation import nearest
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

_NAMED = re.compile(r"^profile:[ \t]*[\"']?([A-Za-z0-9_-]+)", re.MULTILINE)
_MOST_FILES = 500
_MOST_SCANNED = 4096


def read_profile(path: Path, shown_as: str | None = None) -> Profile:
    """The profile in a file; ``shown_as`` is its name in messages. Raises Unreadable with everything that is wrong in
    it.
    """
    from checker.rules.shape_check import check_shape  # brings a library that takes long to import

    shown = shown_as or (path.name if path.is_absolute() else path.as_posix())
    content = read_bytes(path, shown)
    root: Node = read_text(content, shown)
    problems = ProblemList()
    check_shape(root, _shape(), problems)
    problems.raise_if_any()
    profile = _profile(nodes.mapping(root), shown, hashlib.sha256(content).hexdigest(), problems)
    problems.raise_if_any()
    return profile


@cache
def _shape() -> dict[str, Any]:
    from checker.rules.schema import profile_schema

    return profile_schema()


def _profile(root: Mapping, file: str, digest: str, problems: ProblemList) -> Profile:
    adoptions = [_adoption(nodes.mapping(item), problems) for item in nodes.items(root.get("documents"))]
    documents = tuple(each for each in adoptions if each is not None)
    _check_dates(documents, problems)
    name, title = nodes.text(root.get("profile")), nodes.text(root.get("title"))
    return Profile(name, title, nodes.text(root.get("event")), documents, file, digest)


def _adoption(node: Mapping, problems: ProblemList) -> Adoption | None:
    start = day(node.get("from"), "from", problems)
    if start is None:
        return None
    edition = nodes.text(node.get("edition"), NO_EDITION)
    return Adoption(nodes.text(node.get("document")), edition, start, nodes.text(node.get("adopted_by")), node.at)


def _check_dates(documents: Sequence[Adoption], problems: ProblemList) -> None:
    """One document cannot begin twice on one day."""
    seen: dict[tuple[str, date], Adoption] = {}
    for each in documents:
        other = seen.setdefault((each.document, each.start), each)
        if other is not each:
            problems.add(
                f"{each.document} is adopted twice from {each.start}.",
                each.at,
                f"The other stands at {other.at}; keep one.",
            )


# --- finding a profile ----------------------------------------------------------------------------------------------


def find_profile(name: str, folders: Iterable[Path]) -> Path:
    """The file of the profile of that name, from the first folder that has it.

    Looks at the ``*.yaml`` files of each folder for a line ``profile: NAME``. Raises Unreadable with the nearest name.
    """
    known: dict[str, Path] = {}
    for folder in folders:
        for path in sorted(folder.glob("*.yaml"))[:_MOST_FILES]:
            for each in _profile_name(path):
                known.setdefault(each, path)
        if name in known:
            return known[name]
    remedy = f"Write {choice_of(sorted(known))}." if known else "Put a file with `profile:` beside the site file."
    raise Unreadable([Problem(f"There is no jurisdiction profile {name}.", None, remedy, nearest(name, sorted(known)))])


def _profile_name(path: Path) -> Iterator[str]:
    try:
        with path.open("rb") as stream:
            head = stream.read(_MOST_SCANNED)
    except OSError:
        return
    match = _NAMED.search(head.decode("utf-8", errors="replace"))
    if match:
        yield match[1]


# --- what is in force -----------------------------------------------------------------------------------------------


def rules_in_force(profile: Profile, on: date, packs: Iterable[Pack]) -> RulesInForce:
    """The rules that a profile comes to on a date: of each document the edition adopted last, and every pack without
    editions.

    Raises Unreadable where the date lies before every adoption, or an adopted document or edition has no pack.
    """
    known = tuple(packs)
    problems = ProblemList()
    adopted = _adopted(profile, on)
    if not adopted:
        raise Unreadable([_too_early(profile, on)])
    rules: list[RuleInForce] = []
    used: list[PackInForce] = []
    for pack, adoption in _packs_in_force(known, adopted, problems):
        edition = adoption.edition or None if adoption is not None else None
        authority = adoption.adopted_by if adoption is not None else ""
        rules.extend(pack_in_edition(pack, edition, authority))
        since = adoption.start if adoption is not None else None
        used.append(PackInForce(pack.id, pack.title, edition, pack.digest, authority, since))
    problems.raise_if_any()
    return RulesInForce(profile, on, tuple(rules), tuple(used))


def _adopted(profile: Profile, on: date) -> tuple[Adoption, ...]:
    """Of each document the adoption with the latest start that is not after the date, in the order of the profile."""
    latest: dict[str, Adoption] = {}
    for each in profile.documents:
        if each.start <= on:
            before = latest.get(each.document)
            if before is None or before.start < each.start:
                latest[each.document] = each
    return tuple(latest.values())


def _too_early(profile: Profile, on: date) -> Problem:
    starts = listing(
        [f"{each.document} {each.edition} from {each.start}".replace("  ", " ") for each in profile.documents]
    )
    return Problem(
        f"On {on} nothing was adopted yet in {profile.title}.",
        profile.documents[0].at if profile.documents else Position(profile.file, 1, 1),
        f"Give a date from {min(each.start for each in profile.documents)} on: {starts}.",
    )


def _packs_in_force(
    packs: Sequence[Pack], adopted: Sequence[Adoption], problems: ProblemList
) -> Iterator[tuple[Pack, Adoption | None]]:
    """Each pack with its adoption: first the adopted documents, then the packs without editions that nobody adopts."""
    named: set[str] = set()
    for adoption in adopted:
        pack = _pack_of(packs, adoption, problems)
        if pack is not None:
            named.add(pack.id)
            yield pack, adoption
    yield from ((pack, None) for pack in packs if not pack.editions and pack.id not in named)


def _pack_of(packs: Sequence[Pack], adoption: Adoption, problems: ProblemList) -> Pack | None:
    found = next((pack for pack in packs if pack.document == adoption.document), None)
    if found is None:
        near = problems.near(adoption.document, [pack.document for pack in packs])
        problems.add(
            f"There is no rule pack of {adoption.document}.", adoption.at, "Name a document as its pack does.", near
        )
        return None
    editions = found.editions or (NO_EDITION,)
    if adoption.edition not in editions:
        written = adoption.edition or "without a year"
        remedy = (
            f"Its pack has {listing(found.editions)}." if found.editions else "Its pack has no editions: leave it out."
        )
        near = problems.near(adoption.edition, found.editions)
        problems.add(f"There is no edition {written} of {adoption.document}.", adoption.at, remedy, near)
        return None
    return found
