"""A document as a person names it, by the name of its pack, its title or its initials."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from checker.rules.model.pack import Pack
from checker.values.notation import nearest
from checker.values.positions import Position
from checker.values.problems import Problem

_APART = re.compile(r"[^a-z0-9.]+")
_INITIAL = re.compile(r"\b[A-Z]")


@dataclass(frozen=True, slots=True)
class DocumentMeant:
    """The document of a pack, with the edition where one was named behind it."""

    document: str
    edition: str = ""


def with_editions(packs: Sequence[Pack]) -> tuple[Pack, ...]:
    """The packs of documents that are adopted edition by edition; what is practice needs no adoption."""
    return tuple(each for each in packs if each.editions)


def document_words(pack: Pack) -> str:
    """A document with its title where that is another name."""
    return pack.document if pack.title == pack.document else f"{pack.document} ({pack.title})"


def document_meant(typed: str, packs: Sequence[Pack]) -> DocumentMeant | None:
    """The one document that is meant, in small letters or capitals, with or without an edition behind it; None where
    there is none or more than one.
    """
    found = {each.document: "" for each in packs if _key(typed) in _names(each)}
    if not found:
        found = {
            each.document: edition for each in packs for edition in each.editions if _is_edition(typed, each, edition)
        }
    return DocumentMeant(*next(iter(found.items()))) if len(found) == 1 else None


def no_such_document(typed: str, packs: Sequence[Pack], at: Position | None) -> Problem:
    """What is said of a document that no pack is of: which there are, and which one may be meant."""
    known = with_editions(packs) or tuple(packs)
    meant = document_meant(typed, known)
    near = meant.document if meant is not None else nearest(typed, [each.document for each in known])
    listed = "; ".join(document_words(each) for each in known)
    return Problem(f"There is no rule pack of {typed}.", at, f"There are packs of {listed}.", near)


def _names(pack: Pack) -> Iterator[str]:
    yield from map(_key, (pack.document, pack.title, pack.id))
    initials = "".join(_INITIAL.findall(pack.title.partition(",")[0]))
    if len(initials) > 1:
        yield _key(initials)


def _is_edition(typed: str, pack: Pack, edition: str) -> bool:
    return any(_key(f"{name} {edition}") == _key(typed) for name in _names(pack))


def _key(text: str) -> str:
    return _APART.sub("", text.lower())
