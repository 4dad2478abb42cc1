import pytest

from checker.files.yaml.tree import Entry, Mapping, Node, Scalar, find, find_deepest, plain
from checker.values.positions import Position
from tests.files.read_twice import node, value

AT = Position("f", 1, 1)
SITE = "site: {name: Tern Cove, work: [a, b]}\nequipment:\n  P1: {ways: {1: {overcurrent: 90 A}}}\n"


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("yes", True), ("true", True), ("no", False), ("false", False), ("0", 0), ("12", 12), ("-7", -7),
        ("999999999999999999", 999999999999999999),
        ("Yes", "Yes"), ("on", "on"), ("017", "017"), ("00", "00"), ("-0", "-0"), ("+5", "+5"), ("1.0", "1.0"),
        ("230.85", "230.85"), ("1e3", "1e3"), ("1_000", "1_000"), ("9,600", "9,600"), ("12 A", "12 A"), ("~", "~"),
        ("2024-03-11", "2024-03-11"), ("٣", "٣"), ("1000000000000000000", "1000000000000000000"),
        ("1" * 10_000, "1" * 10_000),
        ("'yes'", "yes"), ('"12"', "12"), ('""', ""), ("|-\n  12", "12"), (">-\n  no", "no"),
    ],
)  # fmt: skip
def test_plain_value(typed: str, expected: object) -> None:
    read = plain(value(f"a: {typed}\n", "a"))
    assert read == expected
    assert type(read) is type(expected)


def test_plain_of_mappings_and_lists() -> None:
    assert plain(node(SITE)) == {
        "site": {"name": "Tern Cove", "work": ["a", "b"]},
        "equipment": {"P1": {"ways": {"1": {"overcurrent": "90 A"}}}},
    }


def test_mapping_by_key() -> None:
    mapping = node("b: 1\na: 2\n")
    assert isinstance(mapping, Mapping)
    assert mapping.keys() == ("b", "a")
    assert mapping.entry("a") == mapping.entries[1]
    assert mapping.get("a") == mapping.entries[1].value
    assert mapping.entry("c") is None
    assert mapping.get("c") is None


def test_mappings_with_the_same_entries_are_equal() -> None:
    entry = Entry("a", AT, Scalar("x", AT))
    assert Mapping((entry,), AT) == Mapping((entry,), AT)
    assert hash(Mapping((entry,), AT)) == hash(Mapping((entry,), AT))
    assert Mapping((entry,), AT) != Mapping((), AT)


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ((), (1, 1)),
        (("site", "name"), (1, 14)),
        (("site", "work", 1), (1, 35)),
        (("equipment", "P1", "ways", "1", "overcurrent"), (3, 32)),
        (("site", "work", 2), None),
        (("site", "work", -1), None),
        (("site", "work", "1"), None),
        (("site", 0), None),
        (("site", "name", "x"), None),
        (("nothing", "at", "all"), None),
    ],
)
def test_find(path: tuple[str | int, ...], expected: tuple[int, int] | None) -> None:
    found = find(node(SITE), path)
    assert (found and (found.at.line, found.at.column)) == expected


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        (("site", "name"), ("site", "name")),
        (("site", "work", 7), ("site", "work")),
        (("site", "name", "x", "y"), ("site", "name")),
        (("nothing",), ()),
    ],
)
def test_find_deepest(path: tuple[str | int, ...], expected: tuple[str | int, ...]) -> None:
    root: Node = node(SITE)
    assert find_deepest(root, path) is find(root, expected)
