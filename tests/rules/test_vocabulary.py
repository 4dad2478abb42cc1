"""Names: what a subject stands for, where links lead, and which facts may be missing at their end."""

from __future__ import annotations

import pytest

from checker.catalog.load import shipped_catalog
from checker.rules.vocabulary import Around, CollectionFound, FactFound, NotFound, Vocabulary


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return Vocabulary(shipped_catalog())


def _around(vocabulary: Vocabulary, subject: str) -> Around:
    return Around(vocabulary.types_of(subject))


@pytest.mark.parametrize(
    ("subject", "types"),
    [
        ("transfer_switch", ("transfer_switch",)),
        ("board", ("panelboard", "switchboard")),
        ("service", ("utility_supply",)),
        ("emergency_disconnect", ("disconnect", "transfer_switch", "panelboard", "switchboard")),
        ("outdoor_role", ("disconnect", "transfer_switch", "panelboard", "switchboard")),
        ("fault_source", ("fault_source",)),
        ("label", ("label",)),
        ("connection", ("connection",)),
        ("site", ("site",)),
        ("figure", ("figure",)),
    ],
)
def test_subject(vocabulary: Vocabulary, subject: str, types: tuple[str, ...]) -> None:
    assert vocabulary.types_of(subject) == types
    assert subject in vocabulary.subjects


@pytest.mark.parametrize("subject", ["way", "side", "house"])
def test_word_that_is_no_subject(vocabulary: Vocabulary, subject: str) -> None:
    with pytest.raises(KeyError):
        vocabulary.types_of(subject)


@pytest.mark.parametrize(
    ("subject", "name", "links", "fact", "partial"),
    [
        ("transfer_switch", "neutral", (), "neutral", False),
        ("transfer_switch", "alternate.kind", ("alternate",), "kind", False),
        ("transfer_switch", "normal.overcurrent.rated_current", ("normal",), "overcurrent.rated_current", False),
        ("transfer_switch", "alternate.neutral_bond", ("alternate",), "neutral_bond", True),
        ("transfer_switch", "service.on_pole", ("service",), "on_pole", False),
        ("transfer_switch", "site.permit.application_date", ("site",), "permit.application_date", False),
        ("board", "poles", (), "poles", None),
        ("disconnecting", "poles", (), "poles", True),
        ("fault_source", "a.short_circuit_rating", ("a",), "short_circuit_rating", False),
        ("switches_on_one_set", "b.neutral", ("b",), "neutral", False),
        ("connection", "from.kind", ("from",), "kind", False),
        ("panelboard", "fed_from.fed_from.kind", ("fed_from", "fed_from"), "kind", True),
    ],
)
def test_fact(
    vocabulary: Vocabulary, subject: str, name: str, links: tuple[str, ...], fact: str, partial: bool | None
) -> None:
    found = vocabulary.fact(name, _around(vocabulary, subject))
    if partial is None:
        assert isinstance(found, NotFound)
        return
    assert isinstance(found, FactFound)
    assert (found.links, found.fact.name, found.partial) == (links, fact, partial)


def test_inside_a_collection_names_are_the_members(vocabulary: Vocabulary) -> None:
    outside = _around(vocabulary, "generator")
    stops = vocabulary.collection("stops", outside)
    assert isinstance(stops, CollectionFound)
    inside = outside.inside(stops.collection.members)
    assert isinstance(vocabulary.fact("stands", inside), FactFound)
    assert isinstance(vocabulary.fact("stands", outside), NotFound)
    back = vocabulary.fact("subject.fuel", inside)
    assert isinstance(back, FactFound)
    assert back.links == ("subject",)


def test_reaching_back_means_the_subject_of_the_rule_however_deep(vocabulary: Vocabulary) -> None:
    switches = vocabulary.collection("switches_fed", _around(vocabulary, "generator"))
    assert isinstance(switches, CollectionFound)
    inside = _around(vocabulary, "generator").inside(switches.collection.members)
    rows = vocabulary.collection("withstand_rows", inside)
    assert isinstance(rows, CollectionFound)
    deeper = inside.inside(rows.collection.members)
    assert isinstance(vocabulary.fact("subject.fuel", deeper), FactFound)


@pytest.mark.parametrize(
    ("subject", "name", "members"),
    [
        ("generator", "stops", ("stop",)),
        ("transfer_switch", "labels", ("label",)),
        ("transfer_switch", "site.papers", ("paper",)),
        ("panelboard", "service.disconnects", ("disconnect", "transfer_switch", "panelboard", "switchboard")),
        ("service", "standby_sources", ("generator", "inverter")),
        ("service", "next_boards", ("panelboard", "switchboard")),
        ("disconnecting", "bonds_past", ("bond",)),
    ],
)
def test_collection(vocabulary: Vocabulary, subject: str, name: str, members: tuple[str, ...]) -> None:
    found = vocabulary.collection(name, _around(vocabulary, subject))
    assert isinstance(found, CollectionFound)
    assert found.collection.members == members


def test_every_listed_name_is_found(vocabulary: Vocabulary) -> None:
    for subject in vocabulary.subjects:
        around = _around(vocabulary, subject)
        for name in vocabulary.fact_names(around.types):
            found = vocabulary.fact(name, around)
            assert isinstance(found, FactFound), (subject, name)
            assert ".".join((*found.links, found.fact.name)) == name
        for name, collection in vocabulary.collection_names(around.types):
            listed = vocabulary.collection(name, around)
            assert isinstance(listed, CollectionFound), (subject, name)
            assert listed.collection == collection


def test_links_and_collections_of_the_catalog_name_what_exists() -> None:
    catalog = shipped_catalog()
    for link in catalog.links.values():
        assert {*link.of, *link.to} <= catalog.subject_types
    for collection in catalog.collections.values():
        assert {*collection.of, *collection.members} <= catalog.subject_types
