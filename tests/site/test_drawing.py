"""What feeds what, ways, runs, pairs, lists and claims."""

from fractions import Fraction
from pathlib import Path

import pytest

from checker.site.model import SITE, Claim, Feed, Members, Site, Subject
from checker.site.rings import rings
from checker.values.positions import Position
from checker.values.possible import ABSENT, exactly, number
from tests.site import corpus
from tests.site.reading import CATALOG, read, refused, subject

AT = Position("site.yaml", 1, 1)


def ids(site: Site, of_type: str) -> list[str]:
    return [each.id for each in site.things if each.type == of_type]


# --- feeding ---


def test_connections_are_named_as_runs_are(tmp_path: Path) -> None:
    site = read(corpus.BASE, tmp_path)
    assert [feed.subject.id for feed in site.feeds] == ["UTIL>M1", "M1>ATS1.normal", "GEN1/1>ATS1.alternate", "ATS1>P1"]
    assert ids(site, "connection") == [feed.subject.id for feed in site.feeds]
    assert site.feeds[2] == Feed("GEN1", "1", "ATS1", "alternate", site.feeds[2].at)
    assert (site.feeds[2].at.line, site.feeds[2].at.column) == (5, 56)


def test_undescribed_connections_are_there_without_facts(tmp_path: Path) -> None:
    site = read(corpus.more("runs: {ATS1>P1: {length: 28 ft}}\n"), tmp_path)
    assert site.things[subject(site, "UTIL>M1")].facts == {}
    assert list(site.things[subject(site, "ATS1>P1")].facts) == ["length"]


def test_a_way_that_nobody_listed_is_made(tmp_path: Path) -> None:
    site = read(corpus.without(", ways: {1: {overcurrent: 90 A}}"), tmp_path)
    assert ids(site, "way") == ["GEN1/1"]
    assert site.things[subject(site, "GEN1/1")].facts == {}


def test_built_in_devices_are_no_outgoing_ways(tmp_path: Path) -> None:
    text = corpus.switch("ways: {normal: {overcurrent: 200 A}}").replace("fed_from: ATS1", "fed_from: ATS1/3")
    site = read(text, tmp_path)
    assert ids(site, "way") == ["ATS1/normal", "GEN1/1", "ATS1/3"]


def test_a_set_has_no_built_in_ways(tmp_path: Path) -> None:
    text = corpus.BASE.replace("GEN1/1", "GEN1/main").replace("{1: {", "{main: {")
    assert ids(read(text, tmp_path), "way") == ["GEN1/main"]


TWO_FEEDS = corpus.board("{main: M1, 7: INLET1}")


def test_a_board_is_fed_by_its_ways(tmp_path: Path) -> None:
    site = read(TWO_FEEDS, tmp_path)
    assert [(feed.subject.id, feed.input) for feed in site.feeds if feed.to == "P2"] == [
        ("M1>P2.main", "main"),
        ("INLET1>P2.7", "7"),
    ]
    main, branch = (feed for feed in site.feeds if feed.to == "P2")
    assert branch == Feed("INLET1", None, "P2", "7", branch.at)
    assert [str(feed.at) for feed in (main, branch)] == ["site.yaml:9:43", "site.yaml:9:50"]
    assert site.notices == ()


def test_the_plain_form_keeps_its_names(tmp_path: Path) -> None:
    site = read(corpus.board("M1"), tmp_path)
    (feed,) = [each for each in site.feeds if each.to == "P2"]
    assert (feed.subject.id, feed.input) == ("M1>P2", "fed_from")
    assert "P2/main" not in ids(site, "way")


def test_ways_in_are_ways_of_the_board(tmp_path: Path) -> None:
    site = read(TWO_FEEDS, tmp_path)
    assert ids(site, "way") == ["GEN1/1", "P2/7", "P2/main"]
    described, made = (site.things[subject(site, name)] for name in ("P2/7", "P2/main"))
    assert "overcurrent" in described.facts
    assert made.facts == {}
    # Where it is described, and where it is named for the first time.
    assert [str(each.at) for each in (described, made)] == ["site.yaml:9:66", "site.yaml:9:37"]


def test_two_lines_from_one_piece_into_one_board_are_two_connections(tmp_path: Path) -> None:
    text = corpus.board("{main: M1, 7: M1}") + "runs: {M1>P2.7: {length: 9 ft}}\n"
    site = read(text, tmp_path)
    assert list(site.things[subject(site, "M1>P2.7")].facts) == ["length"]
    assert site.things[subject(site, "M1>P2.main")].facts == {}


def test_a_fact_of_a_connection_by_a_way_is_claimed(tmp_path: Path) -> None:
    papers = "papers: [{paper: one_line, claims: {INLET1>P2.7.length: 9 ft, M1>P2.main.length: 3 ft}}]\n"
    claimed = read(TWO_FEEDS + papers, tmp_path).claims
    assert [(claim.subject.id, claim.fact) for claim in claimed] == [
        ("INLET1>P2.7", "length"),
        ("M1>P2.main", "length"),
    ]


def test_nothing_leaves_by_a_way_in_but_by_the_others(tmp_path: Path) -> None:
    """Only the way that feeds the board is listed, so that the others are open."""
    more = "  P3: {kind: panelboard, fed_from: P2/9}\n"
    assert "P2/9" in ids(read(TWO_FEEDS + more, tmp_path), "way")
    (problem,) = refused(TWO_FEEDS + more.replace("P2/9", "P2/7"), tmp_path)
    assert str(problem.at) == "site.yaml:10:36"


def test_ways_in_are_not_offered_to_what_is_fed(tmp_path: Path) -> None:
    text = corpus.board("{main: M1, 7: INLET1}", "ways: {7: {}, 9: {}, main: {}}")
    (problem,) = refused(text + "  P3: {kind: panelboard, fed_from: P2/8}\n", tmp_path)
    assert problem.remedy == "Its ways are 9."


def test_a_board_takes_both_forms_where_a_sheet_gives_its_kind(tmp_path: Path) -> None:
    text = corpus.more("  P2: {use: board.yaml, fed_from: {main: M1, 7: GEN1/1}}\n")
    site = read(text, tmp_path, board="kind: panelboard\nrated_current: 200 A\n")
    assert [feed.input for feed in site.feeds if feed.to == "P2"] == ["main", "7"]


def test_a_sheet_does_not_say_which_ways_are_fed(tmp_path: Path) -> None:
    text = corpus.more("  P2: {kind: panelboard, use: board.yaml}\n")
    (problem,) = refused(text, tmp_path, board="fed_from: {main: M1}\n")
    assert "does not say how a piece is fed" in problem.sentence


def test_an_inlet_without_a_cord_is_no_orphan(tmp_path: Path) -> None:
    text = corpus.board("{main: M1, 7: INLET1}").replace("inlet, fed_from: GEN1/1", "inlet")
    site = read(text, tmp_path)
    assert site.notices == ()
    assert [feed.subject.id for feed in site.feeds if "INLET1" in (feed.source, feed.to)] == ["INLET1>P2.7"]


# --- interlocks ---


def test_interlocks_name_two_ways(tmp_path: Path) -> None:
    text = corpus.interlock("first: P2/main, second: P2/7, interlock: panel_kit, listed_for_panel: yes")
    site = read(text, tmp_path)
    (member,) = site.members("interlocks").members
    assert member == Subject("interlock", "interlock 1")
    assert {name: each.value for name, each in site.things[member].facts.items()} == {
        "first": exactly("P2/main"),
        "second": exactly("P2/7"),
        "interlock": exactly("panel_kit"),
        "listed_for_panel": exactly(True),
    }
    assert not site.members("interlocks").complete


def test_interlocked_ways_that_nobody_listed_are_made(tmp_path: Path) -> None:
    site = read(corpus.more("interlocks: [{first: P1/main, second: P1/7}]\n"), tmp_path)
    assert [each for each in ids(site, "way") if each.startswith("P1")] == ["P1/main", "P1/7"]
    assert site.things[Subject("way", "P1/7")].facts == {}
    assert str(site.things[Subject("way", "P1/7")].at) == "site.yaml:8:39"


def test_an_interlocked_way_keeps_what_is_said_of_it(tmp_path: Path) -> None:
    site = read(corpus.interlock("first: GEN1/1, second: P2/7"), tmp_path)
    assert "overcurrent" in site.things[Subject("way", "GEN1/1")].facts
    assert "overcurrent" in site.things[Subject("way", "P2/7")].facts


def test_mistakes_of_an_interlock_are_told_where_they_stand(tmp_path: Path) -> None:
    problems = refused(corpus.interlock("first: P3/main, second: P2/8"), tmp_path)
    assert [(str(each.at), each.sentence) for each in problems] == [
        ("site.yaml:10:22", "first: there is no piece P3 on the drawing."),
        ("site.yaml:10:39", "P2 lists no way 8."),
    ]
    (problem,) = refused(corpus.interlock("first: P2/7, second: P2/7"), tmp_path)
    assert str(problem.at) == "site.yaml:10:36"


# --- errors of the drawing ---


@pytest.mark.parametrize(
    ("text", "sentence", "touches"),
    [
        (corpus.without("fed_from: ATS1, "), "P1 is fed by nothing on the drawing.", ("P1",)),
        (corpus.without("normal: M1, "), "The side normal of ATS1 is fed by nothing on the drawing.", ("ATS1",)),
        (corpus.without("fed_from: UTIL", "fed_from: M1"), "M1 feeds itself.", ("M1",)),
        (corpus.board("{main: M1, 7: P2/9}", "place: garage"), "P2 feeds itself.", ("P2",)),
        (
            corpus.board("{main: M1, 7: INLET1}")
            .replace("GEN1/1}\n  P2", "P2/3}\n  P2")
            .replace("ways: {7: {overcurrent: 60 A}}", "place: garage"),
            "INLET1 and P2 feed one another in a ring.",
            ("INLET1", "P2"),
        ),
        (
            corpus.without("fed_from: UTIL", "fed_from: P1"),
            "M1, ATS1 and P1 feed one another in a ring.",
            ("M1", "ATS1", "P1"),
        ),
    ],
)
def test_errors_of_the_drawing_do_not_stop_the_reading(
    text: str, sentence: str, touches: tuple[str, ...], tmp_path: Path
) -> None:
    (notice,) = read(text, tmp_path).notices
    assert (notice.sentence, notice.touches) == (sentence, touches)


def test_a_whole_drawing_has_no_notices(tmp_path: Path) -> None:
    assert read(corpus.BASE, tmp_path).notices == ()


def feeds(*edges: str) -> list[Feed]:
    return [Feed(edge[0], None, edge[1], "fed_from", AT) for edge in edges]


@pytest.mark.parametrize(
    ("edges", "found"),
    [
        ([], []),
        (["ab", "bc", "ac"], []),
        (["aa"], [("a",)]),
        (["ab", "ba", "bc", "cd", "dc"], [("b", "a"), ("d", "c")]),
        # What lies between two rings, or hangs on one, is in none.
        (["xa", "ab", "ba", "bm", "mc", "cd", "dc", "dy"], [("b", "a"), ("d", "c")]),
        (["ab", "bc", "ca", "bd", "da"], [("b", "c", "a", "d")]),
    ],
)
def test_rings(edges: list[str], found: list[tuple[str, ...]]) -> None:
    assert [notice.touches for notice in rings(feeds(*edges))] == found


# --- pairs ---


def pair(text: str, folder: Path) -> Site:
    return read(corpus.more(f"pairs: {text}\n"), folder)


def test_pairs_are_found_from_their_facts(tmp_path: Path) -> None:
    site = pair("{P1~UTIL: {available_fault_current: 9 kA}, ATS1~P1: {shared_enclosure: no}}", tmp_path)
    assert ids(site, "fault_source") == ["P1~UTIL"]
    assert ids(site, "service_disconnect_pair") == ["ATS1~P1"]
    found = site.stated(Subject("service_disconnect_pair", "ATS1~P1"), "shared_enclosure")
    assert found is not None
    assert found.value == exactly(False)


def test_a_pair_of_equals_is_named_in_the_order_of_the_tags(tmp_path: Path) -> None:
    site = pair("{P1~ATS1: {shared_enclosure: yes}}", tmp_path)
    assert ids(site, "service_disconnect_pair") == ["ATS1~P1"]


def test_a_pair_in_both_orders_stands_twice(tmp_path: Path) -> None:
    text = corpus.more("pairs: {P1~ATS1: {shared_enclosure: yes}, ATS1~P1: {shared_enclosure: yes}}\n")
    (problem,) = refused(text, tmp_path)
    assert "stands twice, once in each order" in problem.sentence


def test_a_pair_without_facts_is_none(tmp_path: Path) -> None:
    site = pair("{P1~UTIL: {}}", tmp_path)
    assert ids(site, "fault_source") == []


# --- lists ---


def test_members_are_numbered_in_the_order_of_the_file(tmp_path: Path) -> None:
    site = read(corpus.more("labels: [{at: P1}, {at: ATS1, ground_color: red}]\n"), tmp_path)
    assert site.members("labels") == Members(
        (Subject("label", "label 1"), Subject("label", "label 2")), complete=False, at=site.members("labels").at
    )
    color = site.stated(Subject("label", "label 2"), "ground_color")
    assert color is not None
    assert color.value == exactly("red")
    assert site.members("labels").at == Position("site.yaml", 8, 1)


def test_rows_of_a_switch_are_named_after_it(tmp_path: Path) -> None:
    text = corpus.switch("withstand_rows: {complete: yes, list: [{withstands: 22 kA, for_time: none}]}")
    site = read(text, tmp_path)
    row = Subject("withstand_row", "ATS1 row 1")
    assert site.members("withstand_rows", "ATS1").members == (row,)
    assert {name: each.value for name, each in site.things[row].facts.items()} == {
        "withstands": number(22_000),
        "for_time": ABSENT,
    }


def test_a_list_that_is_not_there_is_open_and_empty(tmp_path: Path) -> None:
    assert read(corpus.BASE, tmp_path).members("labels") == Members((), complete=False)


# --- claims ---


def claims(text: str, folder: Path) -> tuple[Claim, ...]:
    papers = f"papers: [{{paper: manual}}, {{paper: load_calculation, claims: {{{text}}}}}]\n"
    more = "pairs: {P1~UTIL: {available_fault_current: 9 kA}}\n"
    return read(corpus.more(more + papers), folder).claims


@pytest.mark.parametrize(
    ("key", "claimed", "fact"),
    [
        ("GEN1.capacity", Subject("generator", "GEN1"), "capacity"),
        ("GEN1.greatest_power", Subject("generator", "GEN1"), "greatest_power"),
        ("site.floor_area", SITE, "floor_area"),
        ("GEN1/1.overcurrent.rated_current", Subject("way", "GEN1/1"), "overcurrent.rated_current"),
        ("GEN1/1>ATS1.alternate.ampacity", Subject("connection", "GEN1/1>ATS1.alternate"), "ampacity"),
        ("P1~UTIL.available_fault_current", Subject("fault_source", "P1~UTIL"), "available_fault_current"),
        ("P1~GEN1.available_fault_current", Subject("fault_source", "P1~GEN1"), "available_fault_current"),
    ],
)
def test_claims_name_a_subject_and_a_fact(key: str, claimed: Subject, fact: str, tmp_path: Path) -> None:
    unit = {"floor_area": "ft2", "greatest_power": "kW", "available_fault_current": "kA"}.get(fact, "A")
    written = "1950" if unit == "ft2" else "20"
    (claim,) = claims(f"{key}: {written} {unit}", tmp_path)
    assert (claim.paper, claim.subject, claim.fact) == ("paper 2", claimed, fact)
    assert claim.stated.text == f"{written} {unit}"


def test_claims_are_not_facts(tmp_path: Path) -> None:
    papers = "papers: [{paper: load_calculation, claims: {GEN1.capacity: 41.7 A}}]\n"
    site = read(corpus.more(papers), tmp_path)
    assert site.stated(subject(site, "GEN1"), "capacity") is None
    assert "claims" not in site.things[Subject("paper", "paper 1")].facts
    assert site.claims[0].stated.value == number(Fraction("41.7"))


# --- names ---


def test_names_of_other_subjects_are_offered(tmp_path: Path) -> None:
    for written, near in (
        ("main_breaker: 200 A", "ways"),
        ("sccr: 10 kA", "short_circuit_rating"),
        ("location: garage", "place"),
    ):
        (problem,) = refused(corpus.panel(written), tmp_path)
        assert problem.near == near, written


def test_kinds_and_sections_in_the_words_of_the_trade(tmp_path: Path) -> None:
    (problem,) = refused("site: {}\nequipment: {A: {kind: genset}}\n", tmp_path)
    assert problem.near == "generator"
    (problem,) = refused(corpus.more("signs: []\n"), tmp_path)
    assert problem.near == "labels"


def test_every_subject_has_the_type_that_the_catalog_gives(tmp_path: Path) -> None:
    site = read(corpus.BASE, tmp_path)
    assert {each.type for each in site.things} <= CATALOG.subject_types
    assert next(iter(site.things)) == SITE
