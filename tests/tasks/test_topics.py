"""A topic is looked at where a rule of a town looks at it, whatever its name."""

from __future__ import annotations

from dataclasses import replace

from checker.catalog.load import shipped_catalog
from checker.rules.model.force import Basis
from checker.rules.profile import read_profile
from checker.tasks.gathering.layers import layers_of
from checker.tasks.gathering.library import Library, folders_of_rules
from checker.tasks.gathering.topics import read_topics
from checker.tasks.reviewing import Overrides, review_file
from tests.project.project_tree import ROOT

LAW = "distances to openings, walls and lot lines that the law sets"


def test_every_fact_and_choice_that_a_topic_names_is_in_the_catalog() -> None:
    facts = shipped_catalog().facts
    for topic in read_topics():
        assert topic.facts <= facts.keys(), topic.title
        assert not topic.where or topic.where in facts, topic.title
        assert not topic.of or topic.choices <= facts[topic.of].choices.keys(), topic.title


def test_a_distance_of_the_town_is_looked_at_by_its_rule() -> None:
    library, folder = Library.shipped(), ROOT / "fixtures" / "marsh-ferry"
    assert LAW not in review_file(folder / "site.yaml", library, Overrides()).not_covered
    before = review_file(folder / "site.yaml", library, Overrides(jurisdiction="nec-2020"))
    assert LAW in before.not_covered


def test_practice_and_another_kind_of_distance_are_no_law_about_openings() -> None:
    library, folder = Library.shipped(), ROOT / "fixtures" / "marsh-ferry"
    catalog = shipped_catalog()
    profile = read_profile(folder / "marsh-ferry.yaml", catalog=catalog)
    layers = layers_of(profile, folders_of_rules(folder, library), library.packs, catalog, library.cache)
    rule = next(each for layer in layers for each in layer.added if each.id == "marsh-ferry-distance-from-openings")
    topic = next(each for each in read_topics() if each.title == LAW)
    assert topic.is_looked_at_by(rule)
    assert not topic.is_looked_at_by(replace(rule, basis=Basis.LOCAL_PRACTICE))
    assert not replace(topic, choices=frozenset({"propane_tank"})).is_looked_at_by(rule)


def test_farm_buildings_are_named_only_where_one_is_said_to_be_there() -> None:
    farm, library = "what article 547 asks of farm buildings", Library.shipped()

    def named_at(place: str) -> bool:
        found = review_file(ROOT / "fixtures" / place / "site.yaml", library, Overrides())
        return farm in found.not_covered

    assert named_at("oxbow-barn")
    assert not named_at("bittern-double")
