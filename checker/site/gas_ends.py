"""Ends of gas pipe that name nothing: a tag or a name that is written in another way cuts the line off unseen."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from checker.catalog.model import Catalog
from checker.site.model import DrawingNotice, Members, Stated, Subject, Thing

GAS_PIPES, GAS_APPLIANCES = ("gas_pipes", "site"), ("gas_appliances", "site")
CAP = "cap"
_SOURCES, _SET = "gas_source", "generator"

Lists = Mapping[tuple[str, str], Members]
Things = Mapping[Subject, Thing]
Near = Callable[[str, Iterable[str]], str | None]
"""Finds the nearest of several names."""


@dataclass(frozen=True, slots=True)
class _Names:
    """What the ends of pipe can name, as it is compared and as it is written."""

    sources: Mapping[str, str]
    outlets: Mapping[str, str]
    starts: Mapping[str, str]
    ends: Mapping[str, str]
    all_listed: bool


def loose_ends(catalog: Catalog, things: Things, lists: Lists, near: Near) -> Iterator[DrawingNotice]:
    """A notice for each start that is no meter, regulator, tank or end of another pipe, and for each end at which
    nothing is.

    Where the lists of pipes and appliances are open an end may well lead to something that is not listed: it is told
    only where it is nearly the name of a set, of an appliance, or of what gas comes from.
    """
    pipes = [each for each in lists.get(GAS_PIPES, Members((), complete=False)).members if each in things]
    names = _names(catalog, things, lists, pipes)
    for pipe in pipes:
        facts = things[pipe].facts
        yield from _of_start(pipe, facts.get("starts_at"), names, near)
        yield from _of_end(pipe, facts.get("ends_at"), names, near)


def _names(catalog: Catalog, things: Things, lists: Lists, pipes: list[Subject]) -> _Names:
    appliances = lists.get(GAS_APPLIANCES, Members((), complete=False))
    sources = [each.id for each in things if each.type in catalog.groups[_SOURCES]]
    sets = [each.id for each in things if each.type == _SET]
    named = [_written(things[each].facts.get("name")) for each in appliances.members if each in things]
    listed = lists.get(GAS_PIPES, Members((), complete=False))
    return _Names(
        _by_place(sources),
        _by_place([*sets, *named]),
        _by_place([_written(things[each].facts.get("starts_at")) for each in pipes]),
        _by_place([_written(things[each].facts.get("ends_at")) for each in pipes]),
        listed.complete and appliances.complete,
    )


def _of_start(pipe: Subject, stated: Stated | None, names: _Names, near: Near) -> Iterator[DrawingNotice]:
    written = _written(stated)
    if stated is None or not written or _place(written) in {**names.sources, **names.ends}:
        return
    yield DrawingNotice(
        f"Gas {pipe} starts at {written}, which is no gas meter, regulator or tank on the drawing, and no listed gas "
        f"pipe ends there.{_nearest(written, {**names.sources, **names.ends}, near)}",
        stated.at,
        (),
    )


def _of_end(pipe: Subject, stated: Stated | None, names: _Names, near: Near) -> Iterator[DrawingNotice]:
    written = _written(stated)
    things = {**names.sources, **names.outlets}
    if stated is None or not written or _place(written) in {**things, **names.starts, CAP: CAP}:
        return
    told = _nearest(written, {**things, **names.starts} if names.all_listed else things, near)
    if names.all_listed or told:
        yield DrawingNotice(
            f"Gas {pipe} ends at {written}, which is no set, regulator or appliance on the lists, and no listed gas "
            f"pipe starts there; an end at which nothing is, is a cap.{told}",
            stated.at,
            (),
        )


def _written(stated: Stated | None) -> str:
    """The one name that is written; nothing where there is none."""
    atom = None if stated is None else stated.value.atom
    return "" if atom is None else str(atom)


def _by_place(names: list[str]) -> dict[str, str]:
    return {_place(name): name for name in names if name}


def _place(name: str) -> str:
    """A place as it is compared: letters of either case, single spaces."""
    return " ".join(name.casefold().split())


def _nearest(written: str, known: Mapping[str, str], near: Near) -> str:
    found = near(_place(written), known)
    return "" if found is None else f" Nearest: {known[found]}."
