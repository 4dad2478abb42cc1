"""What papers claim of facts; it is compared with the facts and never used for them."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.model import Catalog
from checker.catalog.names import pair_name
from checker.files.yaml.tree import Entry
from checker.site.drawing import Drawing
from checker.site.flat import FlatReader
from checker.site.model import SITE, Claim, Subject
from checker.site.pieces import Pieces
from checker.site.problem_list import ProblemList
from checker.site.unknown_fields import with_article
from checker.values.refusals import quoted


class ClaimReader:
    """Reads claims once every subject is known."""

    def __init__(
        self, catalog: Catalog, pieces: Pieces, flat: FlatReader, drawing: Drawing, problems: ProblemList
    ) -> None:
        self._catalog = catalog
        self._pieces = pieces
        self._flat = flat
        self._drawing = drawing
        self._problems = problems
        self._subjects = {subject.id: subject for subject in drawing.things}

    def read(self) -> None:
        """Add every claim."""
        for paper, entry in self._drawing.claimed:
            self._read_claim(paper, entry)

    def _read_claim(self, paper: Subject, entry: Entry) -> None:
        found = self._subject_and_fact(entry.key)
        if found is None:
            remedy = "Write the tag and the fact, as GEN1.capacity."
            near = self._problems.near(entry.key, self._nearby(entry.key))
            self._problems.add(f"{quoted(entry.key)} names no fact of this site.", entry.at, remedy, near)
            return
        subject, name = found
        fact = self._catalog.fact(name, subject.type)
        if fact is None:
            known = [each.name for each in self._catalog.facts_of(subject.type)]
            sentence = f"{quoted(name)} is not a fact of {with_article(self._catalog.titles[subject.type])}."
            self._problems.add(sentence, entry.at, "Check the spelling.", self._problems.near(name, known))
            return
        stated = self._flat.alone(fact, entry).get(name)
        if stated is not None:
            self._drawing.claims.append(Claim(paper.id, subject, name, stated))

    def _subject_and_fact(self, key: str) -> tuple[Subject, str] | None:
        """The subject with the longest id that fits, and the rest of the key."""
        for place in (index for index in range(len(key) - 1, 0, -1) if key[index] == "."):
            subject = self._subject(key[:place], key[place + 1 :])
            if subject is not None:
                return subject, key[place + 1 :]
        return None

    def _subject(self, name: str, fact: str) -> Subject | None:
        if name == SITE.id:
            return SITE
        match = pair_name(name)
        if match is None:
            return self._subjects.get(name)
        kinds = [self._pieces[tag].kind for tag in match.groups() if tag in self._pieces]
        names = [kind.name for kind in kinds if kind is not None]
        for pair in self._catalog.pairs.values():
            ends = (self._catalog.kinds_of(pair.a), self._catalog.kinds_of(pair.b))
            if len(names) == len(ends) and all(map(_holds, ends, names)) and self._catalog.fact(fact, pair.name):
                return Subject(pair.name, name)
        return None

    def _nearby(self, key: str) -> Iterator[str]:
        """Names with the fact of the key and each tag of the drawing."""
        fact = key.rpartition(".")[2]
        yield from (f"{tag}.{fact}" for tag in self._pieces)


def _holds(kinds: tuple[str, ...], kind: str) -> bool:
    return kind in kinds
