"""The fact catalog as a person writes it: nothing in it is misspelt, left out or contradicts itself."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from checker.catalog.load import load_catalog, shipped_catalog
from checker.catalog.model import Bounds, Fact, Feeding, ValueType
from checker.catalog.names import is_own_choice
from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import plain
from checker.values.kinds import KINDS
from checker.values.problems import Unreadable

FOLDER = data_folder("schemas") / "facts"
CATALOG = shipped_catalog()

# What each section's entries may say; every entry must say what stands in the second set.
KEYS: dict[str, tuple[set[str], set[str]]] = {
    "kinds": (
        {"title", "means", "fed", "ways", "drawing", "seen_at", "without_nameplate"},
        {"title", "means", "fed", "ways", "drawing", "seen_at"},
    ),
    "groups": ({"title", "kinds"},) * 2,
    "roles": ({"title", "means"},) * 2,
    "role_groups": ({"title", "roles"},) * 2,
    "pairs": ({"title", "a", "b", "members"},) * 2,
    "lists": (
        {"title", "means", "member", "on", "found_on", "never_empty", "known_by"},
        {"title", "means", "member", "on", "found_on"},
    ),
    "structures": (
        {"title", "parts", "short_for", "reads", "value", "unnamed_parts", "part_in_use"},
        {"title", "parts"},
    ),
    "links": ({"title", "of", "to"},) * 2,
    "collections": ({"title", "of", "member"},) * 2,
}
VALUE_KEYS = {
    *("type", "unit", "title", "means", "choices", "several", "none", "exact"),
    *("physical", "plausible", "agrees_within", "found_on", "known_at", "said_only"),
}
FACT_KEYS = VALUE_KEYS | {"of", "derived_for", "origin", "own_choices"}

# Words with a meaning of their own where a fact, a part or a choice could stand.
RESERVED = {
    *("all", "any", "not", "some", "every", "none", "count", "part", "in", "any_way"),
    *("use", "override", "ways", "value", "per", "list", "complete", "claims", "equipment", "runs", "pairs"),
    *("fed_from", "normal", "alternate", "subject"),
}
SNAKE_CASE = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")
NAMEPLATE_TYPE = re.compile(r"[0-9]{1,2}[A-Z]{0,2}|[A-Z][A-Z0-9]?")


def _sections() -> dict[str, dict[str, Any]]:
    sections: dict[str, dict[str, Any]] = {}
    for path in sorted(FOLDER.glob("*.yaml")):
        content = plain(read_file(path, path.name))
        assert isinstance(content, dict)
        for name, entries in content.items():
            assert isinstance(entries, dict)
            sections.setdefault(name, {}).update(entries)
    return sections


SECTIONS = _sections()


def _parts() -> Iterator[tuple[str, dict[str, Any]]]:
    for name, structure in SECTIONS["structures"].items():
        yield from ((f"{name}.{part}", entry) for part, entry in structure["parts"].items())
        if "value" in structure:
            yield f"{name}.value", {"title": structure["title"], **structure["value"]}


VALUES = [*SECTIONS["facts"].items(), *_parts()]
WRITTEN = [fact for fact in CATALOG.facts.values() if fact.stated_for]


def test_every_section_is_one_that_is_read() -> None:
    assert set(SECTIONS) == {"facts", *KEYS}


@pytest.mark.parametrize("section", KEYS)
def test_entries_say_what_they_must_and_nothing_else(section: str) -> None:
    allowed, required = KEYS[section]
    for name, entry in SECTIONS[section].items():
        assert set(entry) <= allowed, name
        assert required <= set(entry), name


def test_facts_and_parts_have_only_keys_that_are_read() -> None:
    for name, entry in SECTIONS["facts"].items():
        assert set(entry) <= FACT_KEYS, name
    for name, entry in _parts():
        assert set(entry) <= VALUE_KEYS, name


@pytest.mark.parametrize(("name", "entry"), VALUES)
def test_every_fact_has_a_title_and_a_type(name: str, entry: dict[str, Any]) -> None:
    assert str(entry["title"]).strip(), name
    types = {each.value for each in ValueType} | set(KINDS) | set(SECTIONS["structures"]) | {"kind", "role"}
    assert entry["type"] in types - {"structure"}, name


def test_what_a_town_adds_cannot_have_the_name_of_what_every_town_has() -> None:
    open_to_towns = [fact for fact in CATALOG.facts.values() if fact.own_choices]
    assert [fact.name for fact in open_to_towns] == ["paper"]
    assert not [choice for fact in open_to_towns for choice in fact.choices if is_own_choice(choice)]


@pytest.mark.parametrize("fact", CATALOG.facts.values(), ids=lambda fact: fact.name)
def test_every_fact_has_a_subject_and_a_place_where_it_is_found(fact: Fact) -> None:
    assert fact.subjects
    assert fact.subjects <= CATALOG.subject_types
    # Where a derived fact comes from is told by its worksheet.
    assert fact.found_on or not fact.stated_for


@pytest.mark.parametrize(("name", "entry"), SECTIONS["facts"].items())
def test_origin_says_what_the_subjects_say(name: str, entry: dict[str, Any]) -> None:
    """``origin: derived`` is a note for the reader; a fact that nobody can state has it, and no other."""
    assert ("origin" in entry) == (not entry.get("of")), name
    assert entry.get("origin", "derived") == "derived", name


@pytest.mark.parametrize(("name", "entry"), VALUES)
def test_quantities_have_a_unit_and_nothing_else_has(name: str, entry: dict[str, Any]) -> None:
    kind = KINDS.get(entry["type"])
    assert ("unit" in entry) == (kind is not None), name
    if kind is not None:
        assert kind.unit(str(entry["unit"])) is not None, name


@pytest.mark.parametrize(("name", "entry"), VALUES)
def test_choices_stand_where_the_type_is_choice(name: str, entry: dict[str, Any]) -> None:
    assert ("choices" in entry) == (entry["type"] == "choice"), name
    assert not entry.get("several") or entry["type"] == "choice", name


@pytest.mark.parametrize(("name", "entry"), [each for each in VALUES if "choices" in each[1]])
def test_choices_are_snake_case_or_a_type_of_the_nameplate(name: str, entry: dict[str, Any]) -> None:
    for choice, title in entry["choices"].items():
        assert SNAKE_CASE.fullmatch(choice) or NAMEPLATE_TYPE.fullmatch(choice), (name, choice)
        assert choice not in {"none", "unknown", "assumed", "yes", "no", "true", "false", "or", "to"}, name
        assert str(title).strip(), (name, choice)


def test_names_are_snake_case_and_mean_one_thing() -> None:
    facts = set(SECTIONS["facts"])
    parts = {name.partition(".")[2] for name, _ in _parts()} - {"value"}
    kinds, groups, pairs = set(SECTIONS["kinds"]), set(SECTIONS["groups"]), set(SECTIONS["pairs"])
    members = {entry["member"] for entry in SECTIONS["lists"].values()}
    for name in facts | parts | kinds | groups | pairs | members | set(SECTIONS["lists"]):
        assert SNAKE_CASE.fullmatch(name), name
    assert not (facts | parts) & RESERVED
    assert not facts & (set(SECTIONS["lists"]) | set(SECTIONS["collections"]))
    assert not kinds & (groups | pairs | members | set(SECTIONS["roles"]))
    assert not groups & (pairs | members)


@pytest.mark.parametrize(
    "fact", [each for each in WRITTEN if each.plausible or each.physical], ids=lambda fact: fact.name
)
def test_what_is_plausible_is_possible(fact: Fact) -> None:
    for bounds in (fact.physical, fact.plausible):
        assert bounds is None or bounds.low is None or bounds.high is None or bounds.low <= bounds.high
    if fact.physical is not None and fact.plausible is not None:
        ends = [end for end in (fact.plausible.low, fact.plausible.high) if end is not None]
        assert ends
        assert all(fact.physical.holds(end) for end in ends)


def test_a_range_that_is_not_possible_would_be_seen() -> None:
    assert not Bounds(CATALOG.facts["poles"].physical.low, None).holds(0)  # type: ignore[union-attr, arg-type]


def test_groups_pairs_and_lists_name_what_exists() -> None:
    kinds = set(CATALOG.kinds)
    for name, members in CATALOG.groups.items():
        assert members, name
        assert set(members) <= kinds, name
    for pair in CATALOG.pairs.values():
        assert CATALOG.kinds_of(pair.a), pair.name
        assert CATALOG.kinds_of(pair.b), pair.name
    for listing in CATALOG.lists.values():
        assert listing.on == "site" or listing.on in kinds, listing.name
        assert CATALOG.facts_of(listing.member), listing.name
    for name, roles in CATALOG.role_groups.items():
        assert set(roles) <= set(CATALOG.roles), name


def test_every_kind_is_fed_in_a_way_that_the_reader_knows() -> None:
    """Boards may have several feeds; an inlet may have its cord out."""
    feeding = {name: kind.feeding for name, kind in CATALOG.kinds.items()}
    assert {name for name, each in feeding.items() if each is Feeding.SEVERAL} == set(CATALOG.groups["board"])
    assert [name for name, each in feeding.items() if each is Feeding.CORD] == ["inlet"]
    assert [name for name, each in feeding.items() if each is Feeding.BOTH_SIDES] == ["transfer_switch"]
    assert {each: each.inputs for each in Feeding if each not in (Feeding.NOTHING, Feeding.BOTH_SIDES)} == {
        Feeding.ONE: ("fed_from",),
        Feeding.CORD: ("fed_from",),
        Feeding.SEVERAL: ("fed_from",),
    }


def test_a_board_has_ways_for_its_feeds() -> None:
    assert all(kind.has_ways for kind in CATALOG.kinds.values() if kind.feeding is Feeding.SEVERAL)


def test_interlocks_name_two_ways_always() -> None:
    ways = [fact for fact in CATALOG.facts.values() if fact.type is ValueType.WAY]
    assert [fact.name for fact in ways] == ["first", "second"]
    for fact in ways:
        assert fact.stated_for == {CATALOG.lists["interlocks"].member}
        assert fact.exact
        assert fact.anything().anything


def test_short_forms_name_parts_and_notations_that_exist() -> None:
    for name, structure in SECTIONS["structures"].items():
        assert structure.get("short_for", next(iter(structure["parts"]))) in structure["parts"], name
        assert structure.get("reads", "conductor") in {"conductor", "voltage_system"}, name


def test_a_name_in_two_files_is_refused(tmp_path: Path) -> None:
    for path in FOLDER.glob("*.yaml"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    again = "facts: {poles: {of: [way], type: flag, title: something else}}\n"
    (tmp_path / "zz-more.yaml").write_text(again, encoding="utf-8")
    with pytest.raises(Unreadable, match="names poles twice"):
        load_catalog(tmp_path)


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ("{of: [boiler], type: flag, title: wrong subject}", "gives something to boiler"),
        ("{of: [way], type: volts, title: wrong type}", "type volts, which does not exist"),
        (
            "{of: [way], type: voltage, unit: V, title: wrong bound, plausible: [1 ft, 2 ft]}",
            "cannot read the bound 1 ft",
        ),
    ],
)
def test_a_fact_that_cannot_be_is_refused(tmp_path: Path, entry: str, says: str) -> None:
    for path in FOLDER.glob("*.yaml"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    (tmp_path / "zz-more.yaml").write_text(f"facts: {{something: {entry}}}\n", encoding="utf-8")
    with pytest.raises(Unreadable, match=says):
        load_catalog(tmp_path)
