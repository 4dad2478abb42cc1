"""Fifteen of the shipped rules written by hand as plain Python over dicts of exact values.

What a programmer would write who wants an answer and nothing else, in the edition of the example. A fact that nobody
states is not in the dict: the KeyError it raises is the whole treatment of doubt. README.md says what this leaves out.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Any

from checker.rules.model.in_force import RuleInForce
from checker.site.model import Site
from checker.values.possible import Possible

Facts = Mapping[str, Any]
Plain = dict[str, Any]
Numbers = Mapping[str, Any]
Answers = dict[tuple[str, str], str]

MET, NOT_APPLICABLE, OPEN = "met", "not_applicable", "needs_information"
CORRECTION, RECOMMENDATION = "correction", "recommendation"
DISCONNECTING = ("disconnect", "transfer_switch", "panelboard", "switchboard")
BOARDS = ("panelboard", "switchboard")
FRESH = ("new", "replaced", "relocated")


# --- what it starts from, made outside the measured part ------------------------------------------------------------


def plain_site(site: Site) -> Plain:
    """Every exact fact of a site as dicts by tag; what is known to be absent is None, what is not exact is left out."""
    by_type: dict[str, dict[str, dict[str, Any]]] = {}
    for subject, thing in site.things.items():
        facts = {name: _exact(stated.value) for name, stated in thing.facts.items() if stated.value.is_exact}
        by_type.setdefault(subject.type, {})[subject.id] = facts
    return {
        "site": by_type["site"]["site"],
        "pieces": {tag: {**by_type[piece.type][tag], "kind": piece.type} for tag, piece in site.pieces.items()},
        "ways": by_type.get("way", {}),
        "feeds": {feed.subject.id: (feed.source, feed.way, feed.to, feed.input) for feed in site.feeds},
        "into": {(feed.to, feed.input): (feed.source, feed.way, feed.to, feed.input) for feed in site.feeds},
        "lines": {feed.subject.id: by_type.get("connection", {}).get(feed.subject.id, {}) for feed in site.feeds},
        "pairs": by_type.get("fault_source", {}),
        "bonds": list(by_type.get("bond", {}).values()),
        "bonds_complete": site.members("bonds").complete,
        "distances": by_type.get("distance", {}),
        "complete": site.complete_kinds,
    }


def _exact(value: Possible) -> Any:
    if value.only_absent:
        return None
    if value.number is not None:
        return value.number
    return value.atom if value.atom is not None else set(value.sets[0].surely)


def plain_numbers(rules: tuple[RuleInForce, ...]) -> Numbers:
    """The parameters and tables that these rules read, as numbers, sets of words and sorted lists."""
    found: dict[str, Any] = {}
    for rule in rules:
        for name, parameter in rule.parameters.items():
            if isinstance(parameter.value, Possible):
                found[name] = _exact(parameter.value)
        for name, table in rule.tables.items():
            if name == "equipment-grounding-conductors":
                found[name] = _columns(table.rows)
            elif not table.rows[0].keys:
                found[name] = [row.value.number for row in table.rows]
    return found


def _columns(rows: tuple[Any, ...]) -> dict[str, tuple[list[Fraction], list[Fraction]]]:
    columns: dict[str, tuple[list[Fraction], list[Fraction]]] = {}
    for row in rows:
        tops, values = columns.setdefault(str(row.keys["material"].atom), ([], []))
        tops.append(row.keys["overcurrent"].hull.high)
        values.append(row.value.number)
    return columns


# --- the drawing ----------------------------------------------------------------------------------------------------


def entry(s: Plain, tag: str, on_alternate: str | None = None) -> str | None:
    kind = s["pieces"][tag]["kind"]
    if kind in ("utility_supply", "generator", "inverter"):
        return None
    if kind == "transfer_switch":
        return "alternate" if tag == on_alternate else "normal"
    return "fed_from"


def path(s: Plain, tag: str, way_in: str | None, on_alternate: str | None = None) -> tuple[list[Any], str | None]:
    feeds: list[Any] = []
    seen: set[str] = set()
    while way_in is not None:
        feed = s["into"].get((tag, way_in))
        if feed is None or tag in seen:
            return feeds, None
        seen.add(tag)
        feeds.append(feed)
        tag = feed[0]
        way_in = entry(s, tag, on_alternate)
    return feeds, tag


def ahead(s: Plain, tag: str) -> list[str]:
    return [feed[0] for feed in path(s, tag, entry(s, tag))[0]]


def utility_of(s: Plain, tag: str) -> str | None:
    source = path(s, tag, entry(s, tag))[1]
    return source if source is not None and s["pieces"][source]["kind"] == "utility_supply" else None


def of_kind(s: Plain, *kinds: str) -> Iterator[str]:
    return (tag for tag, piece in s["pieces"].items() if piece["kind"] in kinds)


def sources_reaching(s: Plain, tag: str) -> list[str]:
    found: dict[str, None] = {}
    for switch in (None, *of_kind(s, "transfer_switch")):
        source = path(s, tag, entry(s, tag, switch), switch)[1]
        if source is not None and source != tag:
            found[source] = None
    if s["pieces"][tag]["kind"] == "transfer_switch":
        for side in ("normal", "alternate"):
            source = path(s, tag, side)[1]
            if source is not None:
                found[source] = None
    return list(found)


def switches_fed(s: Plain, source: str) -> list[str]:
    return [tag for tag in of_kind(s, "transfer_switch") if source in sources_reaching(s, tag)]


# --- derived facts --------------------------------------------------------------------------------------------------


def role(s: Plain, tag: str) -> str | None:
    piece = s["pieces"][tag]
    if "role" in piece:
        return str(piece["role"])
    disconnects = [other for other in ahead(s, tag) if s["pieces"][other]["kind"] in DISCONNECTING]
    if any(s["pieces"][other].get("role") == "service_disconnect" for other in disconnects):
        return "feeder_disconnect"
    raise KeyError("role")


def past_service(s: Plain, tags: list[str]) -> bool:
    return any(role(s, tag) == "service_disconnect" for tag in tags if s["pieces"][tag]["kind"] in DISCONNECTING)


def piece_past_service(s: Plain, tag: str) -> bool:
    return utility_of(s, tag) is not None and past_service(s, ahead(s, tag))


def line_past_service(s: Plain, feed: tuple[str, Any, str, str]) -> bool:
    source, _, to, way_in = feed
    if way_in != entry(s, to) or utility_of(s, to) is None:
        return False
    return past_service(s, [source, *ahead(s, source)])


def first_after_meter(s: Plain, tag: str) -> bool:
    if utility_of(s, tag) is None:
        return False
    return not any(s["pieces"][other]["kind"] in DISCONNECTING for other in ahead(s, tag))


def devices(s: Plain, feeds: list[Any]) -> list[str]:
    ways = []
    for place, (source, way, to, _) in enumerate(feeds):
        kind = s["pieces"][source]["kind"]
        named = None
        if way is not None:
            named = f"{source}/{way}"
        elif kind in ("panelboard", "switchboard", "generator", "inverter"):
            named = f"{source}/to {to}"
        if named is not None:
            ways.append(named)
        if kind in DISCONNECTING and place + 1 < len(feeds):
            inside = f"{source}/{feeds[place + 1][3] if kind == 'transfer_switch' else 'main'}"
            if inside != named:
                ways.append(inside)
    return ways


def nearest_rating(s: Plain, ways: list[str]) -> Fraction | None:
    for way in ways:
        if s["ways"][way]["overcurrent"] is not None:
            rating: Fraction = s["ways"][way]["overcurrent.rated_current"]
            return rating
    return None


def smallest_rating(s: Plain, ways: list[str]) -> Fraction | None:
    there = [s["ways"][way]["overcurrent.rated_current"] for way in ways if s["ways"][way]["overcurrent"] is not None]
    return min(there, default=None)


def side_devices(s: Plain, tag: str, side: str) -> list[str]:
    return [f"{tag}/{side}", *devices(s, path(s, tag, side)[0])]


def supply(s: Plain, tag: str, way_in: str | None) -> Facts:
    source = path(s, tag, way_in)[1]
    if source is None:
        raise KeyError("system")
    facts: Facts = s["pieces"][source]
    return facts


def neutral_bond(s: Plain, tag: str) -> str:
    piece = s["pieces"][tag]
    if "neutral_bond" in piece:
        return str(piece["neutral_bond"])
    if any(bond["at"] == tag and bond["bond_status"] != "to_be_removed" for bond in s["bonds"]):
        return "bonded"
    if s["bonds_complete"]:
        return "floating"
    raise KeyError("neutral_bond")


def service_disconnects(s: Plain, utility: str) -> list[str]:
    return [
        tag
        for tag in of_kind(s, *DISCONNECTING)
        if utility_of(s, tag) == utility and role(s, tag) == "service_disconnect"
    ]


# --- rules: None stands for not applicable --------------------------------------------------------------------------


def first_switch_service_rated(s: Plain, _: Numbers, tag: str) -> bool | None:
    piece = s["pieces"][tag]
    if not first_after_meter(s, tag) or piece["mounting"] == "meter_mounted":
        return None
    if role(s, tag) in ("emergency_disconnect", "meter_disconnect"):
        return None
    return piece["service_marking"] in (
        "suitable_for_use_as_service_equipment",
        "suitable_only_for_use_as_service_equipment",
        "service_equipment",
    ) and bool(piece["listed"] or piece["field_evaluated"])


def switch_not_below_its_breakers(s: Plain, _: Numbers, tag: str) -> bool | None:
    limits = [smallest_rating(s, side_devices(s, tag, side)) for side in ("normal", "alternate")]
    there = [limit for limit in limits if limit is not None]
    return not there or s["pieces"][tag]["rated_current"] >= max(there)


def switch_fits_its_system(s: Plain, _: Numbers, tag: str) -> bool | None:
    piece = s["pieces"][tag]
    normal, alternate = supply(s, tag, "normal"), supply(s, tag, "alternate")
    neutral_poles = 1 if piece["neutral"] in ("switched", "overlapping") else 0
    to_neutral = normal["system.to_neutral"]
    return bool(
        piece["rated_voltage"] >= normal["system.voltage"]
        and normal["system.voltage"] == alternate["system.voltage"]
        and normal["system.phases"] == alternate["system.phases"]
        and (
            piece["neutral"] == "not_carried"
            or (to_neutral is not None and to_neutral == alternate["system.to_neutral"])
        )
        and piece["poles"] >= normal["system.ungrounded"] + neutral_poles
    )


def sources_share_a_frequency(s: Plain, _: Numbers, tag: str) -> bool | None:
    return bool(supply(s, tag, "normal")["frequency"] == supply(s, tag, "alternate")["frequency"])


def fault_rating(s: Plain, _: Numbers, pair: str) -> bool | None:
    piece, available = s["pieces"][pair.partition("~")[0]], s["pairs"][pair]["available_fault_current"]
    interrupts = piece["interrupting_rating"] is None or piece["interrupting_rating"] >= available
    return bool(interrupts and piece["short_circuit_rating"] >= available)


def conductors_protected(s: Plain, n: Numbers, line: str) -> bool | None:
    source, _, to, way_in = s["feeds"][line]
    device = nearest_rating(s, devices(s, path(s, to, way_in)[0]))
    if device is None or s["pieces"][source]["kind"] == "transformer":
        return None
    facts = s["lines"][line]
    ampacity = facts["ampacity"]
    if ampacity >= device:
        return True
    sizes = n["standard-overcurrent-sizes"]
    if device <= n["next-size-up-limit"] and device <= sizes[bisect_left(sizes, ampacity)]:
        return True
    if (
        s["site"]["occupancy"] in n["occupancies-of-dwelling-conductors"]
        and supply(s, to, way_in)["system.connection"] in n["systems-of-dwelling-conductors"]
        and facts["whole_dwelling_load"]
        and n["dwelling-conductors-from"] <= device <= n["dwelling-conductors-up-to"]
        and ampacity >= device * n["dwelling-conductor-share"]
    ):
        return True
    at_end = s["ways"].get(f"{to}/{'main' if way_in == 'fed_from' else way_in}")
    if at_end is None or at_end["overcurrent"] is None or ampacity < at_end["overcurrent.rated_current"]:
        return False
    short = facts["length"] <= n["short-tap-length"] and ampacity >= device * n["short-tap-share"]
    long = facts["length"] <= n["long-tap-length"] and ampacity >= device * n["long-tap-share"]
    return bool(short or long or facts["run_outdoors"])


def grounding_conductor(s: Plain, n: Numbers, line: str) -> bool | None:
    feed = s["feeds"][line]
    kind = s["pieces"][feed[0]]["kind"]
    if kind == "transformer" or not (kind == "generator" or line_past_service(s, feed)):
        return None
    limit = smallest_rating(s, devices(s, path(s, feed[2], feed[3])[0]))
    if limit is None:
        return None
    facts = s["lines"][line]
    material = facts["grounding.material"]
    if material is not None:
        column = "copper" if material == "copper" else "aluminum"
        tops, sizes = n["equipment-grounding-conductors"][column]
        if facts["grounding.size"] >= sizes[bisect_left(tops, limit)]:
            return True
        alike = material == facts["phase.material"] and facts["grounding.size"] >= facts["phase.size"]
        if alike and facts["phase.parallel_sets"] == n["sets-of-conductors-that-are-not-in-parallel"]:
            return True
    return bool(facts["raceway_grounds"])


def feeder_neutral_insulated(s: Plain, _: Numbers, line: str) -> bool | None:
    feed = s["feeds"][line]
    pieces = s["pieces"]
    if not line_past_service(s, feed) or pieces[feed[0]]["kind"] == "transformer":
        return None
    if s["lines"][line]["neutral_conductor"] is None:
        return None
    if pieces[feed[2]]["status"] == "existing" and pieces[feed[0]]["status"] == "existing":
        return None
    return not s["lines"][line]["neutral_conductor.bare"]


def main_bond(s: Plain, n: Numbers, tag: str) -> bool | None:
    utility = utility_of(s, tag)
    system = s["pieces"][utility]
    if system["system.to_neutral"] is None and system["system.connection"] != "corner_grounded_delta":
        return None
    staying = [
        bond
        for bond in s["bonds"]
        if bond["at"] == tag and bond["bond"] == "main_bonding_jumper" and bond["bond_status"] != "to_be_removed"
    ]
    if not s["bonds_complete"]:
        raise KeyError("bonds")
    return bool(len(staying) == n["main-bonding-jumpers-at-a-service-disconnect"])


def no_bond_past_service(s: Plain, _: Numbers, tag: str) -> bool | None:
    if not piece_past_service(s, tag):
        return None
    if s["pieces"][ahead(s, tag)[0]]["kind"] == "transformer" and any(
        bond["at"] == tag and bond["bond"] == "system_bonding_jumper" and bond["bond_status"] != "to_be_removed"
        for bond in s["bonds"]
    ):
        return None
    return neutral_bond(s, tag) == "floating"


def electrode_conductor(s: Plain, _: Numbers, tag: str) -> bool | None:
    piece = s["pieces"][tag]
    if piece["system.to_neutral"] is None and piece["system.connection"] != "corner_grounded_delta":
        return None
    end = piece["electrode_conductor_ends_at"]
    if end not in s["pieces"] or utility_of(s, end) != tag or piece_past_service(s, end):
        return False
    others = [each for each in service_disconnects(s, tag) if each != end and end not in ahead(s, each)]
    return not others or piece["electrode_conductor_to_each"] is True


def surge_protection(s: Plain, n: Numbers, tag: str) -> bool | None:
    pieces, site = s["pieces"], s["site"]
    if site["occupancy"] not in n["occupancies-with-surge-protection"]:
        return None
    disconnects = service_disconnects(s, tag)
    fresh = any(pieces[each]["status"] in ("new", "replaced") for each in disconnects)
    if not fresh and not site["work"] & {"service_new", "service_equipment_replaced"}:
        return None
    if "surge_protective_device" not in s["complete"]:
        raise KeyError("surge_protective_device")
    boards = [each for each in of_kind(s, *BOARDS) if piece_past_service(s, each)]
    first = [
        each
        for each in boards
        if not any(pieces[other]["kind"] in BOARDS and piece_past_service(s, other) for other in ahead(s, each))
    ]
    protected = {
        pieces[each]["at"]
        for each in of_kind(s, "surge_protective_device")
        if pieces[each]["surge_type"] in ("type_1", "type_2")
    }
    return any(each in protected for each in disconnects) or (bool(first) and all(each in protected for each in first))


def stationary_set_listed(s: Plain, n: Numbers, tag: str) -> bool | None:
    piece = s["pieces"][tag]
    if piece["generator_form"] != "stationary" or piece["status"] not in FRESH:
        return None
    if piece["system.voltage"] > n["greatest-voltage-of-a-set-that-must-be-listed"]:
        return None
    return bool(piece["listed"] or piece["field_evaluated"])


def dwelling_stop_outside(s: Plain, _: Numbers, tag: str) -> bool | None:
    piece = s["pieces"][tag]
    if s["site"]["occupancy"] not in ("one_family_dwelling", "two_family_dwelling") or piece["status"] not in FRESH:
        return None
    if piece["generator_form"] == "portable" and piece["cord_and_plug"]:
        return None
    stops = [s["pieces"][each] for each in of_kind(s, "stop") if s["pieces"][each]["of"] == tag]
    if any(stop["place"] == "outdoors" and stop["readily_accessible"] for stop in stops):
        return True
    if "stop" not in s["complete"]:
        raise KeyError("stop")
    return False


def set_clear_of_openings(s: Plain, n: Numbers, name: str) -> bool | None:
    facts = s["distances"][name]
    if facts["to_kind"] not in ("opening", "intake"):
        return None
    return bool(facts["distance"] >= n["distance-of-a-set-from-an-opening"])


# --- all of them ----------------------------------------------------------------------------------------------------

Rule = Callable[[Plain, Numbers, str], bool | None]
Subjects = Callable[[Plain], Iterator[str]]


def _kinds(*kinds: str) -> Subjects:
    return lambda s: of_kind(s, *kinds)


def _service_disconnects(s: Plain) -> Iterator[str]:
    return (tag for tag in of_kind(s, *DISCONNECTING) if role(s, tag) == "service_disconnect")


def _fault_sources(s: Plain) -> Iterator[str]:
    return (f"{tag}~{source}" for tag in of_kind(s, *DISCONNECTING) for source in sources_reaching(s, tag))


RULES: Mapping[str, tuple[Subjects, Rule]] = {
    "first-switch-service-rated": (_kinds("transfer_switch"), first_switch_service_rated),
    "switch-not-below-its-breakers": (_kinds("transfer_switch"), switch_not_below_its_breakers),
    "switch-fits-its-system": (_kinds("transfer_switch"), switch_fits_its_system),
    "sources-share-a-frequency": (_kinds("transfer_switch"), sources_share_a_frequency),
    "fault-rating-from-every-source": (_fault_sources, fault_rating),
    "conductors-protected-at-their-ampacity": (lambda s: iter(s["feeds"]), conductors_protected),
    "equipment-grounding-conductor-size": (lambda s: iter(s["feeds"]), grounding_conductor),
    "feeder-neutral-insulated": (lambda s: iter(s["feeds"]), feeder_neutral_insulated),
    "main-bond-at-the-service-disconnect": (_service_disconnects, main_bond),
    "no-neutral-bond-past-the-service-disconnect": (_kinds(*DISCONNECTING), no_bond_past_service),
    "electrode-conductor-ends-at-or-ahead-of-the-service-disconnect": (_kinds("utility_supply"), electrode_conductor),
    "dwelling-surge-protection": (_kinds("utility_supply"), surge_protection),
    "stationary-set-listed": (_kinds("generator"), stationary_set_listed),
    "dwelling-stop-outside": (_kinds("generator"), dwelling_stop_outside),
    "set-clear-of-openings": (lambda s: iter(s["distances"]), set_clear_of_openings),
}
RECOMMENDED = frozenset({"set-clear-of-openings"})


def answers(s: Plain, n: Numbers) -> Answers:
    """The outcome of every rule for every subject; a fact that is not there leaves it open."""
    found: Answers = {}
    for name, (subjects, rule) in RULES.items():
        miss = RECOMMENDATION if name in RECOMMENDED else CORRECTION
        for subject in subjects(s):
            try:
                holds = rule(s, n, subject)
            except KeyError:
                found[name, subject] = OPEN
                continue
            found[name, subject] = NOT_APPLICABLE if holds is None else MET if holds else miss
    return found
