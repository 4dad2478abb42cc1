"""What is said of two pieces together: runs of conductors, and pairs."""

from __future__ import annotations

from checker.catalog.model import Catalog, Pair
from checker.catalog.names import pair_name
from checker.files.yaml.tree import Entry, Mapping
from checker.site.drawing import Drawing
from checker.site.flat import FlatReader
from checker.site.model import Subject
from checker.site.pieces import Piece, Pieces, tags_remedy
from checker.site.problem_list import ProblemList
from checker.site.unknown_fields import with_article
from checker.values.refusals import quoted


class RunReader:
    """Reads ``runs:``, whose keys are connections of the drawing."""

    def __init__(self, flat: FlatReader, drawing: Drawing, problems: ProblemList) -> None:
        self._flat = flat
        self._drawing = drawing
        self._problems = problems

    def read(self, runs: Mapping) -> None:
        """Add what each run says to its connection."""
        connections = {feed.subject.id: feed.subject for feed in self._drawing.feeds}
        for run in runs.entries:
            subject = connections.get(run.key)
            if subject is None:
                near = self._problems.near(run.key, connections)
                remedy = "Write it as the drawing feeds it, as GEN1/1>ATS1.alternate or ATS1>P1."
                self._problems.add(f"{quoted(run.key)} is no connection of the drawing.", run.at, remedy, near)
            elif not isinstance(run.value, Mapping):
                self._problems.add(f"{run.key} has no facts.", run.value.at, "Write {phase: 3 AWG copper}.")
            else:
                self._drawing.add(subject, run.at, self._flat.facts("connection", run.value.entries, run.at))


class PairReader:
    """Reads ``pairs:``; which pairs two pieces make is found from the facts that are written."""

    def __init__(
        self, catalog: Catalog, pieces: Pieces, flat: FlatReader, drawing: Drawing, problems: ProblemList
    ) -> None:
        self._catalog = catalog
        self._pieces = pieces
        self._flat = flat
        self._drawing = drawing
        self._problems = problems

    def read(self, pairs: Mapping) -> None:
        """Add every pair with its facts."""
        for entry in pairs.entries:
            tags = self._tags(entry)
            if tags is None:
                continue
            if isinstance(entry.value, Mapping):
                self._read_pair(*tags, entry, entry.value)
            else:
                remedy = "Write {available_fault_current: 9 kA}."
                self._problems.add(f"{entry.key} has no facts.", entry.value.at, remedy)

    def _tags(self, entry: Entry) -> tuple[Piece, Piece] | None:
        match = pair_name(entry.key)
        if match is None:
            remedy = "Write two tags with ~ between them, as P1~UTIL."
            self._problems.add(f"{quoted(entry.key)} does not name two pieces.", entry.at, remedy)
            return None
        missing = [tag for tag in match.groups() if tag not in self._pieces]
        for tag in missing:
            near = self._problems.near(tag, self._pieces)
            sentence = f"There is no piece {tag} on the drawing."
            self._problems.add(sentence, entry.at, tags_remedy(self._pieces), near)
        if missing:
            return None
        first, second = match.groups()
        if first == second:
            self._problems.add(f"{entry.key} names one piece twice.", entry.at, "Write two tags, as P1~UTIL.")
            return None
        return self._pieces[first], self._pieces[second]

    def _read_pair(self, first: Piece, second: Piece, entry: Entry, facts: Mapping) -> None:
        if first.kind is None or second.kind is None:
            return
        fitting = [pair for pair in self._catalog.pairs.values() if self._fits(pair, first, second)]
        if not fitting:
            self._tell_no_pair(first, second, entry)
            return
        rest = list(facts.entries)
        for pair in fitting:
            own = [each for each in rest if self._catalog.fact(each.key, pair.name) is not None]
            rest = [each for each in rest if each not in own]
            if own:
                self._add(pair, first, second, entry, own)
        if rest:
            known = [fact.name for pair in fitting for fact in self._catalog.facts_of(pair.name)]
            self._flat.facts(fitting[0].name, rest, entry.at, known)

    def _add(self, pair: Pair, first: Piece, second: Piece, entry: Entry, facts: list[Entry]) -> None:
        subject = Subject(pair.name, self._id(pair, first, second))
        if subject in self._drawing.things:
            self._problems.add(f"{entry.key} stands twice, once in each order.", entry.at, "Keep one of the two.")
        self._drawing.add(subject, entry.at, self._flat.facts(pair.name, facts, entry.at))

    def _id(self, pair: Pair, first: Piece, second: Piece) -> str:
        """The name of the pair; where either order fits, in order of the tags, as on the drawing."""
        tags = (first.tag, second.tag)
        one, other = sorted(tags) if self._fits(pair, second, first) else tags
        return f"{one}~{other}"

    def _fits(self, pair: Pair, first: Piece, second: Piece) -> bool:
        return self._is_one(first, pair.a) and self._is_one(second, pair.b)

    def _is_one(self, piece: Piece, group: str) -> bool:
        return piece.kind is not None and piece.kind.name in self._catalog.kinds_of(group)

    def _tell_no_pair(self, first: Piece, second: Piece, entry: Entry) -> None:
        turned = any(self._fits(pair, second, first) for pair in self._catalog.pairs.values())
        which = "pair in this order" if turned else "pair that has facts"
        near = f"{second.tag}~{first.tag}" if turned else None
        titles = [pair.title for pair in self._catalog.pairs.values() if self._catalog.facts_of(pair.name)]
        self._problems.add(
            f"{entry.key}: {_one(first)} and {_one(second)} make no {which}.",
            entry.at,
            f"Pairs with facts are: {'; '.join(titles)}.",
            near,
        )


def _one(piece: Piece) -> str:
    return with_article(piece.kind.title) if piece.kind else piece.tag
