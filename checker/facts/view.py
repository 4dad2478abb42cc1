"""Facts on demand, remembered, and looked at again with some of them pinned to one possibility."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from checker.catalog.model import Catalog, Fact
from checker.catalog.wording import value_text
from checker.engineering.worksheet import Worksheet
from checker.facts.agreement import agree
from checker.facts.derivation import Derivation, Derived
from checker.facts.drawing import Drawing
from checker.facts.known import Ask, Known, Leaf, Origin
from checker.rules.model.in_force import NO_NUMBERS, NumbersInForce
from checker.site.model import Members, Site, Subject
from checker.values.arithmetic import within
from checker.values.positions import Position
from checker.values.possible import ABSENT, Possible, exactly, undefined

Registry = Mapping[tuple[str, str], Derivation]
"""The derivation of each fact (without its part) for each type of subject."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What all views of one site share."""

    site: Site
    catalog: Catalog
    drawing: Drawing
    registry: Registry
    numbers: NumbersInForce = NO_NUMBERS


MOST_VIEWS = 256
"""So many pinned views are kept for the next rule that pins the same; a limit of memory."""


class View:
    """The facts of one site, each with what it rests on, while some leaves are pinned.

    A pinned view takes over every fact that does not rest on a pinned leaf, so that branching costs only what changes.
    Leaves that are ``taken`` have their pinned value whatever else the drawing says of them: what is to be built in the
    place of what is drawn contradicts nothing.
    """

    def __init__(
        self,
        ground: Ground,
        pins: Mapping[Leaf, Possible] | None = None,
        parent: View | None = None,
        taken: frozenset[Leaf] = frozenset(),
    ) -> None:
        self.ground = ground
        self._pins = dict(pins or {})
        self._parent = parent
        self._taken = taken
        self._touched: frozenset[Leaf] | None = None
        self._memo: dict[tuple[Subject, str], Known] = {}
        self._as_stated: dict[tuple[Subject, str], Known] = {}
        self._under_way: set[tuple[Subject, str]] = set()
        self._compared: set[Leaf] = set()
        self._views: dict[tuple[frozenset[tuple[Leaf, Possible]], frozenset[Leaf]], View] = {}

    def pinned(self, pins: Mapping[Leaf, Possible], taken: frozenset[Leaf] = frozenset()) -> View:
        """The same facts when some leaves have these values, of which some are taken."""
        if self._parent is not None:
            return View(self.ground, {**self._pins, **pins}, self, self._taken | taken)
        key = (frozenset(pins.items()), taken)
        found = self._views.get(key)
        if found is None:
            if len(self._views) >= MOST_VIEWS:
                self._views.clear()
            found = self._views[key] = View(self.ground, pins, self, taken)
        return found

    def known(self, subject: Subject, name: str) -> Known:
        """One fact; a fact that this type of subject does not have is undefined, with that reason."""
        key = (subject, name)
        found = self._memo.get(key)
        if found is None:
            found = self._inherited(key) or self._worked_out(key)
            self._memo[key] = found
        return found

    def read(self, subject: Subject, name: str) -> Possible:
        """What is possible for one fact."""
        return self.known(subject, name).value

    def worked_out(self, subject: Subject, name: str) -> Possible:
        """What a fact comes to by its derivation alone, whatever is stated of it."""
        fact = self.ground.catalog.facts[name]
        return self._derived(self.ground.registry[(name, subject.type)], subject, fact).value

    def compared(self) -> frozenset[Leaf]:
        """The leaves that a stated figure was held against: they decided as much as it did, since both had to agree."""
        return frozenset(self._compared)

    def worksheets(self) -> Mapping[str, Worksheet]:
        """Every calculation that was worked out in this view, by the fact that it gives."""
        sheets = (known.worksheet for known in self._memo.values() if known.worksheet is not None)
        return {sheet.id: sheet for sheet in sheets}

    def _inherited(self, key: tuple[Subject, str]) -> Known | None:
        if self._parent is None:
            return None
        if Leaf(*key) in self._taken:
            return None
        known = self._parent.known(*key)
        return known if known.leaves.isdisjoint(self._changing(self._parent)) else None

    def _changing(self, parent: View) -> frozenset[Leaf]:
        """The leaves that are pinned, and what the taken ones rest on without them: whatever rests on that may rest on
        a taken one.
        """
        if self._touched is None:
            resting = (parent.known(each.subject, each.name).leaves for each in self._taken)
            self._touched = frozenset(self._pins).union(*resting)
        return self._touched

    def _worked_out(self, key: tuple[Subject, str]) -> Known:
        subject, name = key
        if key in self._under_way:
            return _nothing_known(f"{name} of {subject} depends on itself")
        self._under_way.add(key)
        try:
            return self._fact(subject, name)
        finally:
            self._under_way.discard(key)

    def _fact(self, subject: Subject, name: str) -> Known:
        if name == "kind" and subject.id in self.ground.site.pieces:
            return Known(exactly(subject.type), Origin.STATED, frozenset(), at=self._place(subject))
        fact = self.ground.catalog.fact(name, subject.type)
        if fact is None:
            return self._elsewhere(subject, name)
        derivation = self.ground.registry.get((name.partition(".")[0], subject.type))
        if derivation is None:
            return self.stated(subject, fact)
        derived = self._derived(derivation, subject, fact)
        if subject.type not in fact.stated_for:
            return derived
        return self._either(subject, fact, derived)

    def _elsewhere(self, subject: Subject, name: str) -> Known:
        """A fact that this type of subject does not have: a side answers for its source, anything else has none."""
        if subject.type == "side":
            tag, entry = subject.id.rsplit(".", 1)
            source = self.ground.drawing.source_of(tag, entry)
            if source is None:
                return _nothing_known(f"{subject} is not fed by any source on the drawing")
            return self.known(self.ground.drawing.pieces[source], name)
        reason = f"{subject} has no {name.replace('_', ' ')}"
        return Known(ABSENT, Origin.DERIVED, frozenset(), reasons=(reason,))

    def _place(self, subject: Subject) -> Position | None:
        thing = self.ground.site.things.get(subject)
        return None if thing is None else thing.at

    def stated(self, subject: Subject, fact: Fact) -> Known:
        """What the drawing alone says of a fact: what is written, otherwise anything of its type."""
        key = (subject, fact.name)
        found = self._as_stated.get(key)
        if found is None:
            found = self._as_stated[key] = self._stated(subject, fact)
        return found

    def _stated(self, subject: Subject, fact: Fact) -> Known:
        leaf = Leaf(subject, fact.name)
        if self._parent is not None and leaf not in self._pins:
            unpinned = self._parent.stated(subject, fact)
            if unpinned.leaves.isdisjoint(self._pins):
                return unpinned
        pin = self._pins.get(leaf)
        written = self.ground.site.stated(subject, fact.name)
        if pin is not None:
            return Known(pin, Origin.STATED, frozenset({leaf}), unit=fact.unit)
        if written is not None:
            return Known(
                written.value,
                Origin.STATED,
                frozenset({leaf}),
                unit=written.unit or fact.unit,
                text=written.text,
                at=written.at,
                per=written.per,
            )
        return self._not_written(subject, fact, leaf)

    def _not_written(self, subject: Subject, fact: Fact, leaf: Leaf) -> Known:
        """A fact of which the file says nothing; a part follows the whole that it belongs to."""
        whole = self.ground.catalog.facts[fact.name.partition(".")[0]]
        value = fact.anything()
        if whole is fact:
            return Known(value, Origin.NOT_SHOWN, frozenset({leaf}), unit=fact.unit, at=None)
        base = self.stated(subject, whole)
        none = Known(ABSENT, Origin.STATED, base.leaves, unit=fact.unit, text=base.text, at=base.at)
        if base.value.only_absent:
            return none
        if whole.unnamed_parts_absent and self._names_parts(subject, whole):
            in_use = self._in_use(subject, whole)
            if in_use is None:
                return none
            if fact.name.partition(".")[2] not in in_use.value.atoms:
                return replace(none, leaves=base.leaves | in_use.leaves)
            leaves = base.leaves | in_use.leaves | {leaf}
            return Known(value.union(ABSENT), Origin.NOT_SHOWN, leaves, unit=fact.unit)
        if base.value.absent:
            value = value.union(ABSENT)
        return Known(value, Origin.NOT_SHOWN, base.leaves | {leaf}, unit=fact.unit)

    def _in_use(self, subject: Subject, whole: Fact) -> Known | None:
        """What says which part of a structure is in use, where the subject has such a fact: a nameplate of which
        somebody wrote the rating on one fuel is not without a rating on the fuel that the set burns.
        """
        says = None if whole.part_in_use is None else self.ground.catalog.fact(whole.part_in_use, subject.type)
        return None if says is None or subject.type not in says.stated_for else self.stated(subject, says)

    def _names_parts(self, subject: Subject, whole: Fact) -> bool:
        """Whether the drawing names parts of a structure; that all of it is unknown leaves every part open."""
        return any(self.ground.site.stated(subject, f"{whole.name}.{part}") is not None for part in whole.parts)

    def _derived(self, derivation: Derivation, subject: Subject, fact: Fact) -> Known:
        context = Reading(self, derivation)
        found: Derived = derivation.work(context, subject, fact.name)
        value = found.value
        if fact.physical is not None:
            value = within(value, fact.physical.low, fact.physical.high)
        return Known(
            value,
            Origin.DERIVED,
            frozenset(context.leaves),
            unit=found.unit or fact.unit,
            worksheet=found.worksheet,
            reasons=found.reasons,
            assumptions=found.assumptions,
            state=found.state,
        )

    def _either(self, subject: Subject, fact: Fact, derived: Known) -> Known:
        """Stated where both agree; both where they do not; derived where nothing is stated, and then a person may
        still say.
        """
        stated = self.stated(subject, fact)
        if Leaf(subject, fact.name) in self._taken:
            return stated
        if stated.origin is Origin.NOT_SHOWN or stated.value == fact.anything():
            open_leaves = frozenset() if derived.value.is_exact else frozenset({Leaf(subject, fact.name)})
            return replace(derived, leaves=derived.leaves | open_leaves)
        if not derived.value.has_value and not derived.value.absent:
            return stated
        # A stated figure that is exact stands whatever else the derived one rests on, as long as both agree.
        leaves = stated.leaves if stated.value.is_exact else stated.leaves | derived.leaves
        if agree(stated.value, derived.value, fact.agrees_within):
            self._compared |= derived.leaves
            return replace(stated, leaves=leaves, worksheet=derived.worksheet)
        return replace(
            stated,
            value=stated.value.union(derived.value),
            text=None,
            leaves=stated.leaves | derived.leaves,
            worksheet=derived.worksheet,
            reasons=(*derived.reasons, _conflict(subject, fact, stated, derived)),
        )


def _conflict(subject: Subject, fact: Fact, stated: Known, derived: Known) -> str:
    """Both figures with their places, so that a person can see which of the two is wrong."""
    written = value_text(fact, stated.value, stated.unit)
    found = value_text(fact, derived.value, derived.unit)
    place = f" ({stated.at})" if stated.at is not None else ""
    return (
        f"{subject}: {fact.title} is {written} as written{place}, "
        f"and {found} by what else the drawing says; one is wrong"
    )


class Reading:
    """What one derivation looks at; it refuses a fact that the derivation has not declared."""

    def __init__(self, view: View, derivation: Derivation) -> None:
        self._view = view
        self._derivation = derivation
        self.leaves: set[Leaf] = set()

    @property
    def site(self) -> Site:
        """The site that is read."""
        return self._view.ground.site

    @property
    def catalog(self) -> Catalog:
        """The fact catalog."""
        return self._view.ground.catalog

    @property
    def drawing(self) -> Drawing:
        """The drawing as a graph."""
        return self._view.ground.drawing

    @property
    def numbers(self) -> NumbersInForce:
        """See Context."""
        return self._view.ground.numbers

    def read(self, subject: Subject, name: str) -> Possible:
        """See Context."""
        return self.known(subject, name).value

    def known(self, subject: Subject, name: str) -> Known:
        """See Context."""
        self._check(name)
        known = self._view.known(subject, name)
        self.leaves |= known.leaves
        return known

    def stated(self, subject: Subject, name: str) -> Possible:
        """See Context."""
        self._check(name)
        known = self._view.stated(subject, self.catalog.facts[name])
        self.leaves |= known.leaves
        return known.value

    def members(self, name: str, on: str = "site") -> Members:
        """See Context."""
        found = self.site.members(name, on)
        if not found.complete:
            self.leaves.add(Leaf(Subject("site", on), name, Ask.MORE))
        return found

    def all_drawn(self, kind: str) -> bool:
        """See Context."""
        if self.catalog.kinds[kind].drawing_complete or kind in self.site.complete_kinds:
            return True
        self.leaves.add(Leaf(Subject("site", "site"), kind, Ask.EXISTS))
        return False

    def _check(self, name: str) -> None:
        if name.partition(".")[0] not in self._derivation.reads:
            raise LookupError(f"the derivation of {self._derivation.fact} reads {name} without declaring it")


def _nothing_known(reason: str) -> Known:
    return Known(undefined(reason), Origin.DERIVED, frozenset(), reasons=(reason,))
