"""Site texts that are read and that are refused, and whether a JSON Schema can tell."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

SITE = "site: {name: Tern Cove boathouse, stage: plan_review, occupancy: one_family_dwelling}\n"
EQUIPMENT = """\
equipment:
  UTIL: {kind: utility_supply, system: 120/240 V 1-phase 3-wire}
  M1: {kind: meter, fed_from: UTIL}
  ATS1: {kind: transfer_switch, normal: M1, alternate: GEN1/1, neutral: solid}
  GEN1: {kind: generator, fuel: natural_gas, ways: {1: {overcurrent: 90 A}}}
  P1: {kind: panelboard, fed_from: ATS1, rated_current: 200 A}
"""
BASE = SITE + EQUIPMENT


class Schema(Enum):
    """What the JSON Schema says of a refused text."""

    SAYS = "refuses it too"
    UNASKED = "is not asked: the text is no YAML of ours"
    CANNOT = "cannot say it"


@dataclass(frozen=True, slots=True)
class Refused:
    """A text that is refused: ``says`` stands in the first sentence, ``help`` in its remedy or nearest name."""

    name: str
    text: str
    says: str
    help: str
    schema: Schema = Schema.SAYS


def more(text: str) -> str:
    """The base site with more sections."""
    return BASE + text


def site(text: str) -> str:
    """The base site with a further fact of the site."""
    return BASE.replace("stage: plan_review,", f"stage: plan_review, {text},")


def kind_of(tag: str, text: str) -> str:
    """The base site with a further fact of one piece."""
    return BASE.replace(f"  {tag}: {{", f"  {tag}: {{{text}, ")


def panel(text: str) -> str:
    """The base site with a further fact of the panel."""
    return kind_of("P1", text)


def switch(text: str) -> str:
    """The base site with a further fact of the transfer switch."""
    return kind_of("ATS1", text)


def generator(text: str) -> str:
    """The base site with a further fact of the set."""
    return kind_of("GEN1", text)


def without(part: str, instead: str = "") -> str:
    """The base site with something else in the place of a part of it."""
    assert part in BASE
    return BASE.replace(part, instead)


def board(feeds: str, rest: str = "ways: {7: {overcurrent: 60 A}}") -> str:
    """The base site with a second panel that the meter and an inlet feed, by the given ways."""
    return more(f"  INLET1: {{kind: inlet, fed_from: GEN1/1}}\n  P2: {{kind: panelboard, fed_from: {feeds}, {rest}}}\n")


def interlock(text: str) -> str:
    """A board with two feeds, and one interlock with the given facts."""
    return board("{main: M1, 7: INLET1}") + f"interlocks: [{{{text}}}]\n"


def _bomb() -> str:
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    names = "abcdefgh"
    for before, name in pairwise(names):
        lines.append(f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]")
    return "\n".join(lines) + "\n"


NOT_YAML = [
    Refused("empty", "", "empty", "Write the content", Schema.UNASKED),
    Refused("only comments", "# nothing yet\n", "nothing but comments", "Write the content", Schema.UNASKED),
    Refused("a zero byte", BASE + "\0", "not a text file", "Name a text file", Schema.UNASKED),
    Refused(
        "a tab at the beginning of a line",
        SITE + "equipment:\n\tP1: {kind: meter}\n",
        "a tab",
        "spaces",
        Schema.UNASKED,
    ),
    Refused("a duplicate key", more("runs: {}\nruns: {}\n"), "stands twice", "Keep one", Schema.UNASKED),
    Refused("a way fed twice", board("{main: M1, 7: INLET1, 7: P1}"), "`7` stands twice", "Keep one", Schema.UNASKED),
    Refused("a duplicate fact", panel("place: garage, place: basement"), "stands twice", "Keep one", Schema.UNASKED),
    Refused("an alias bomb", _bomb(), "not read here", "take it out", Schema.UNASKED),
    Refused("nested too deep", "a: " + "[" * 60 + "]" * 60, "nested more than", "brackets", Schema.UNASKED),
    Refused("huge", SITE + "# " + "x" * 2_100_000, "too large", "Split it", Schema.UNASKED),
    Refused("too many values", "a: [" + "x," * 50_100 + "x]", "more than 50,000 values", "Split it", Schema.UNASKED),
    Refused(
        "a size that YAML empties",
        more("runs:\n  ATS1>P1:\n    phase: #3 AWG copper\n"),
        "#3 AWG",
        "quotes",
        Schema.UNASKED,
    ),
    Refused(
        "a comma in braces", kind_of("UTIL", "available_fault_current: 9,600 A"), "9,600 A", "quotes", Schema.UNASKED
    ),
    Refused(
        "a system cut at the comma",
        without("120/240 V 1-phase 3-wire", "120/240 V, 1-phase"),
        "cut at the comma",
        "quotes",
        Schema.UNASKED,
    ),
    Refused("a bound without quotes", "site:\n  altitude: >= 10 ft\n", ">=", "quotes", Schema.UNASKED),
    Refused("a colon in a value", "site:\n  address: 4 ft: north wall\n", "colon", "quotes", Schema.UNASKED),
    Refused("a percent sign first", "site:\n  address: %Z 1.6\n", "%", "quotes", Schema.UNASKED),
    Refused("an asterisk first", "site:\n  address: * see note\n", "*", "quotes", Schema.UNASKED),
    Refused("an at sign first", "site:\n  address: @ basement\n", "@", "quotes", Schema.UNASKED),
    Refused("a YAML type", "site: !!python/object:os.system {}\n", "YAML type", "take it out", Schema.UNASKED),
    Refused("a merge key", "site: {<<: {a: b}}\n", "<<", "Write the lines out", Schema.UNASKED),
    Refused("a second document", more("---\nsite: {}\n"), "second document", "Take the line out", Schema.UNASKED),
    Refused("an invisible line separator", "site: {name: a\u2028b}\n", "invisible", "Delete it", Schema.UNASKED),
    Refused("a control character", 'site: {name: "a\\x1b[2Jb"}\n', "control character", "Take it out", Schema.UNASKED),
    Refused(
        "a mark for the direction of writing",
        "site: {name: a\u202eb}\n",
        "direction of writing",
        "Delete it",
        Schema.UNASKED,
    ),
    Refused("a missing value", SITE + "equipment:\n", "equipment", "Write", Schema.UNASKED),
    Refused("an unclosed bracket", "site: {name: a\n", "is not closed", "Close it with }", Schema.UNASKED),
]

SHAPES = [
    Refused("a list instead of a site", "- a\n- b\n", "no site description", "site:"),
    Refused("a text instead of a site", "hello\n", "no site description", "site:"),
    Refused("no section site", EQUIPMENT, "site is missing", "Write site:"),
    Refused("a misspelt section", more("label: []\n"), "label is not a section", "labels"),
    Refused("a section of another name", more("signs: []\n"), "signs is not a section", "labels"),
    Refused("equipment as a list", SITE + "equipment: [P1]\n", "equipment has nothing", "each tag"),
    Refused("runs as a list", more("runs: []\n"), "runs has nothing", "each connection"),
    Refused("pairs as a text", more("pairs: none\n"), "pairs has nothing", "two tags"),
    Refused("labels as a text", more("labels: none\n"), "labels is a list", "complete: yes, list"),
    Refused("a list without its list", more("labels: {complete: yes}\n"), "labels has no list", "list: []"),
    Refused("a list with a misspelt part", more("labels: {complet: yes, list: []}\n"), "no part complet", "complete"),
    Refused("a list that is none", more("labels: {list: {}}\n"), "is no list", "list: [...]"),
    Refused(
        "a list that is perhaps complete", more("labels: {complete: perhaps, list: []}\n"), "yes or no", "complete: no"
    ),
    Refused("a member without facts", more("papers: [one_line]\n"), "paper 1 of papers has no facts", "{paper: ...}"),
    Refused(
        "a member without what it is", more("papers: [{record_length: 30 d}]\n"), "paper is missing", "Write paper"
    ),
    Refused("a distance from nowhere", more("distances: [{to: wall, distance: 4 ft}]\n"), "of is missing", "Write of"),
    Refused("a piece without facts", SITE + "equipment: {P1: panelboard}\n", "no facts of its own", "kind"),
    Refused("a piece without a kind", SITE + "equipment: {P1: {place: garage}}\n", "does not say what it is", "kind"),
    Refused("an unknown kind", SITE + "equipment: {P1: {kind: boiler}}\n", "boiler is not a kind", "panelboard"),
    Refused("a misspelt kind", SITE + "equipment: {P1: {kind: panelbord}}\n", "panelbord is not a kind", "panelboard"),
    Refused(
        "a kind in the words of its title",
        SITE + "equipment: {P1: {kind: power inlet}}\n",
        "power inlet is not",
        "inlet",
    ),
    Refused("a kind that is not decided", SITE + "equipment: {P1: {kind: meter or inlet}}\n", "not a kind", "meter"),
    Refused(
        "a tag with a space",
        SITE + "equipment: {panel 1: {kind: meter}}\n",
        "panel 1 is not a tag",
        "begins with a letter",
    ),
    Refused(
        "a tag that begins with a digit",
        SITE + "equipment: {1P: {kind: meter}}\n",
        "1P is not a tag",
        "begins with a letter",
    ),
    Refused(
        "a tag with a stroke", SITE + "equipment: {P1/2: {kind: meter}}\n", "P1/2 is not a tag", "begins with a letter"
    ),
    Refused(
        "a tag in another alphabet",
        SITE + "equipment: {\u03a11: {kind: meter}}\n",
        "is not a tag",
        "begins with a letter",
    ),
    Refused(
        "a tag that means something else",
        SITE + "equipment: {Unknown: {kind: meter}}\n",
        "Unknown cannot be a tag",
        "another tag",
    ),
    Refused("a run that is no connection", more("runs: {ATS1: {length: 3 ft}}\n"), "no connection", "ATS1>P1"),
    Refused("a run without facts", more("runs: {ATS1>P1: 28 ft}\n"), "has no facts", "Write {"),
    Refused("a pair of one", more("pairs: {P1: {shared_enclosure: yes}}\n"), "does not name two pieces", "P1~UTIL"),
    Refused("a pair without facts", more("pairs: {P1~UTIL: 9 kA}\n"), "has no facts", "available_fault_current"),
    Refused("complete as a text", site("complete: inlet"), "complete lists kinds", "complete: [inlet"),
    Refused("complete with what is always drawn", site("complete: [meter]"), "every meter is taken as drawn", "inlet"),
    Refused("complete with a list", site("complete: [labels]"), "labels is a list", "complete: yes"),
    Refused("complete with a misspelt kind", site("complete: [inlets]"), "inlets is not a kind", "inlet"),
    Refused("complete twice", site("complete: [inlet, inlet]"), "stands twice", "Keep one"),
    Refused("permit inside site", site('permit: {issue_date: "2024-03-11"}'), "section of its own", "beside site"),
    Refused("permit as a date", more('permit: "2024-03-11"\n'), "permit is made of parts", "application_date"),
    Refused("an empty permit", more("permit: {}\n"), "nothing is said", "leave it out"),
    Refused("claims as a list", more("papers: [{paper: manual, claims: [a]}]\n"), "claims name facts", "GEN1.capacity"),
    Refused(
        "claims of a label",
        more("labels: [{at: P1, claims: {GEN1.capacity: 41 A}}]\n"),
        "claims is not a fact",
        "Check",
    ),
]

FACTS = [
    Refused(
        "a misspelt fact", panel("rated_curent: 200 A"), "rated_curent is not a fact of a panelboard", "rated_current"
    ),
    Refused("a fact in the trade's word", panel("afc: 9 kA"), "afc is not a fact", ""),
    Refused(
        "a fact of another kind",
        panel("neutral: solid"),
        "neutral is a fact of a transfer switch, not of a panelboard",
        "Write it there",
    ),
    Refused(
        "a fact of pieces at the site",
        site("fuel: diesel"),
        "fuel is a fact of a generator, not of the site",
        "Write it there",
    ),
    Refused("a fact with a dot", panel("working_space.depth: 3 ft"), "not written with a dot", "working_space: {depth"),
    Refused("a derived fact", generator("separately_derived: yes"), "worked out by the program", "Leave it out"),
    Refused("a derived structure", panel("incoming: 200 A"), "worked out by the program", "Leave it out"),
    Refused("a derived part", switch("system.voltage: 240 V"), "worked out by the program", "Leave it out"),
    Refused("a misspelt part", more("runs: {ATS1>P1: {phase: {siz: 3 AWG}}}\n"), "siz is not a part of phase", "size"),
    Refused(
        "a list on the wrong kind",
        panel("withstand_rows: []"),
        "withstand_rows is a list of a transfer switch",
        "Write it there",
    ),
    Refused("a section inside a piece", panel("labels: []"), "section of the file", "beginning of a line"),
    Refused("ways of a meter", kind_of("M1", "ways: {1: {}}"), "has no ways", "piece of its own"),
    Refused("ways as a list", panel("ways: [1, 2]"), "ways names each way", "overcurrent: 90 A"),
    Refused("a way with a space", panel("ways: {way 1: {}}"), "cannot name a way", "letters, digits"),
    Refused("a way without facts", panel("ways: {1: 90 A}"), "has no facts", "overcurrent: 90 A"),
    Refused("a misspelt choice", switch("operation: automatc"), "automatc is not one of its choices", "automatic"),
    Refused("a choice with a capital", switch("operation: Automatic"), "Automatic is not one", "automatic"),
    Refused("a choice in the words of its title", switch("operation: by hand"), "by hand is not one", "manual"),
    Refused("none where it cannot be", switch("operation: none"), "none cannot be written", "unknown or leave it out"),
    Refused("none among choices", switch("operation: manual or none"), "none is not one", "automatic"),
    Refused("a number for a choice", switch("operation: 3"), "3 is not one of its choices", "automatic"),
    Refused("a list for one choice", switch("operation: [automatic]"), "only one value", "without brackets"),
    Refused("an empty list", switch("classes: []"), "the list is empty", "leave it out"),
    Refused("an empty list where none can stand", switch("use_listing: []"), "the list is empty", "Write none"),
    Refused("a choice twice", switch("classes: [optional, optional]"), "stands twice", "Keep one"),
    Refused("a misspelt choice in a list", switch("classes: [optionl]"), "optionl is not one", "optional"),
    Refused("unknown in a list", switch("classes: [optional, unknown]"), "unknown stands alone", "classes: unknown"),
    Refused("a list in a list", switch("classes: [[optional]]"), "holds only its choices", "emergency"),
    Refused("perhaps for a flag", panel("listed: perhaps"), "perhaps is not yes or no", "yes, no or unknown"),
    Refused("on for a flag", panel("listed: on"), "on is not yes or no", "yes, no or unknown"),
    Refused("a number for a flag", panel("listed: 1"), "1 is not yes or no", "yes, no or unknown"),
    Refused("a bare number", kind_of("M1", "rated_current: 300"), "300 has no unit", "Write 300 A"),
    Refused("a bare number in quotes", kind_of("M1", 'rated_current: "300"'), "300 has no unit", "Write 300 A"),
    Refused("apparent for active power", generator("power_at_site: 22 kVA"), "22 kVA is apparent power", "kW"),
    Refused("a unit of something else", kind_of("M1", "rated_current: 200 V"), "200 V is voltage", "A"),
    Refused("a fault rating for a current", kind_of("M1", "rated_current: 22 kAIC"), "fault current", "Write A"),
    Refused("an unknown unit", kind_of("M1", "rated_current: 200 amperages"), "not a unit", "A"),
    Refused("not a number", kind_of("M1", "rated_current: NaN A"), "is not a number", "Write the figure"),
    Refused("infinity", kind_of("M1", "rated_current: inf A"), "is not a number", "Write the figure"),
    Refused("an exponent", kind_of("M1", "rated_current: 2e2 A"), "exponent", "Write 200"),
    Refused("a doubtful figure", kind_of("M1", "rated_current: about 200 A"), "how far off", "+/- 10 %"),
    Refused("a question mark behind a figure", kind_of("M1", "rated_current: 200 A?"), "doubtful", "per: assumed"),
    Refused("a remark in brackets", kind_of("M1", "rated_current: 200 A (nameplate)"), "remark in brackets", "per:"),
    Refused(
        "two ranges in one", kind_of("M1", "rated_current: at least at least 5 A"), "not one bound", "at least 8 kA"
    ),
    Refused("a flag for a quantity", kind_of("M1", "rated_current: yes"), "does not begin with a number", "digits"),
    Refused("a list for a quantity", kind_of("M1", "rated_current: [200 A]"), "only one value", "without brackets"),
    Refused(
        "a value without its value",
        kind_of("M1", "rated_current: {per: nameplate}"),
        "the value is missing",
        "value: ...",
    ),
    Refused(
        "a value with a misspelt part",
        kind_of("M1", "rated_current: {value: 200 A, pr: nameplate}"),
        "has no part pr",
        "per",
    ),
    Refused(
        "a value inside a value",
        kind_of("M1", "rated_current: {value: {value: 200 A}}"),
        "not given in parts",
        "value itself",
    ),
    Refused(
        "a paper that is a list",
        kind_of("M1", "rated_current: {value: 200 A, per: [a]}"),
        "names no paper",
        "per: utility letter",
    ),
    Refused(
        "an empty paper",
        kind_of("M1", 'rated_current: {value: 200 A, per: ""}'),
        "names no paper",
        "per: utility letter",
    ),
    Refused("an empty text", site('address: ""'), "Nothing is written", "leave it out"),
    Refused("an empty quantity", kind_of("M1", 'rated_current: ""'), "Nothing is written", "unknown"),
    Refused("a count with a unit", switch("poles: 2 A"), "not a number alone", "without a unit"),
    Refused("a count with a fraction", switch("poles: 2.5"), "not a count", "whole number"),
    Refused(
        "a date of another country",
        more("permit: {application_date: 3/4/2024}\n"),
        "month and day",
        "2024-03-04 or 2024-04-03",
    ),
    Refused(
        "a date without its day", more("permit: {application_date: 2024-03}\n"), "not read as a date", "2026-03-14"
    ),
    Refused("none for a structure", generator("rated_power: none"), "none cannot be written", "leave it out"),
    Refused("a text for parts", generator("rated_power: 22 kW"), "rated_power is made of parts", "natural_gas"),
    Refused(
        "an empty structure",
        generator("ways: {2: {overcurrent: {}}}").replace(", ways: {1: {overcurrent: 90 A}}", ""),
        "nothing is said",
        "leave it out",
    ),
    Refused(
        "a list for a structure", more("runs: {ATS1>P1: {phase: [3 AWG]}}\n"), "one text or its parts", "size: ..."
    ),
    Refused(
        "a line and its part",
        more("runs: {ATS1>P1: {phase: {value: 3 AWG, size: 3 AWG}}}\n"),
        "value already gives size",
        "Keep one",
    ),
    Refused(
        "a rating and its short form",
        without("90 A}", "{value: 90 A, rated_current: 90 A}}"),
        "value already gives rated_current",
        "Keep one",
    ),
    Refused("a conductor without a size", more("runs: {ATS1>P1: {phase: copper}}\n"), "no wire size", "3 AWG"),
    Refused("a conductor without a unit", more("runs: {ATS1>P1: {phase: 3 copper}}\n"), "no unit", "3 AWG"),
    Refused("a bare number for a conductor", more("runs: {ATS1>P1: {phase: 3}}\n"), "no unit", "3 AWG"),
    Refused("a wire size in metric", more("runs: {ATS1>P1: {phase: {size: 35 mm2}}}\n"), "metric", "AWG"),
    Refused("a bare number for a system", without("120/240 V 1-phase 3-wire", "240"), "system", "120/240 V"),
    Refused("a text that is too long", kind_of("M1", f"rated_current: {'9' * 200} A"), "too long", "value alone"),
]

EXACT = [
    Refused(
        "a stop of this or that", more("  S1: {kind: stop, of: GEN1 or UTIL}\n"), "cannot be left open", "one of them"
    ),
    Refused(
        "a stop of we do not know what", more("  S1: {kind: stop, of: unknown}\n"), "cannot be left open", "belongs to"
    ),
    Refused("a stop of nothing", more("  S1: {kind: stop, of: none}\n"), "none cannot be written", "leave it out"),
    Refused("a stop without its set", more("  S1: {kind: stop}\n"), "of is missing", "Write of"),
    Refused(
        "one paper or another", more("papers: [{paper: manual or survey}]\n"), "cannot be left open", "one of them"
    ),
    Refused("an unknown paper", more("papers: [{paper: unknown}]\n"), "cannot be left open", "paper"),
]

FEEDING = [
    Refused("a piece fed twice", without("fed_from: ATS1", "fed_from: [ATS1, M1]"), "more than one piece", "fed once"),
    Refused(
        "a piece fed by this or that",
        without("fed_from: ATS1", "fed_from: ATS1 or M1"),
        "does not name one piece",
        "always exact",
    ),
    Refused(
        "a piece fed by we do not know what",
        without("fed_from: ATS1", "fed_from: unknown"),
        "does not name one piece",
        "always exact",
    ),
    Refused(
        "a piece fed by none", without("fed_from: ATS1", "fed_from: none"), "does not name one piece", "always exact"
    ),
    Refused(
        "a meter fed by ways",
        without("fed_from: UTIL", "fed_from: {main: UTIL}"),
        "M1 is a meter and is fed by one line; only a board",
        "Write fed_from: and the tag",
    ),
    Refused(
        "an inlet fed by ways",
        more("  INLET1: {kind: inlet, fed_from: {1: GEN1/1}}\n"),
        "INLET1 is a power inlet and is fed by one line",
        "Write fed_from:",
    ),
    Refused(
        "a side of a switch with ways",
        without("normal: M1", "normal: {1: M1}"),
        "ATS1 is a transfer switch and has one line to each side",
        "Write normal:",
    ),
    Refused("a set with ways in", generator("fed_from: {main: M1}"), "fed by nothing", "Take it out"),
    Refused("a board fed by no way", board("{}"), "fed_from of P2 names no feed", "fed_from: {main: M1, 7: INLET1}"),
    Refused("a list of feeds", board("[M1, INLET1]"), "more than one piece", "fed once"),
    Refused("two feeds by one way", board("{main: [M1, P1], 7: INLET1}"), "Way main of P2 names more", "name one"),
    Refused("a way in with feeds in parts", board("{main: {7: M1}}"), "Way main of P2", "always exact"),
    Refused("a feed that is not there", board("{main: M1, 7: none}"), "Way 7 of P2: none does not", "always exact"),
    Refused("a feed that is not known", board("{main: unknown}"), "Way main of P2: unknown does", "always exact"),
    Refused("a way in that is a side", board("{normal: M1}", "place: garage"), "not fed by a way normal", "main"),
    Refused("a way in that is the load", board("{load: M1}", "place: garage"), "not fed by a way load", "main"),
    Refused("a way in with the name of the key", board("{fed_from: M1}"), "not fed by a way fed_from", "main"),
    Refused("a way in with a space", board("{way 7: M1}"), "way 7 cannot name a way", "letters, digits"),
    Refused("an interlock of pieces", interlock("first: P1, second: P2/7"), "P1 does not name a way", "P1/main"),
    Refused("an interlock of one", interlock("first: P2/main, interlock: key"), "second is missing", "Write second"),
    Refused(
        "an interlock that is not decided",
        interlock("first: P2/main or P1/main, second: P2/7"),
        "cannot be left open",
        "one of them",
    ),
    Refused("an interlock of the unknown", interlock("first: unknown, second: P2/7"), "cannot be left open", "Write"),
    Refused(
        "an interlock of an unknown kind",
        interlock("first: P2/main, second: P2/7, interlock: panel kit"),
        "panel kit is not one of its choices",
        "panel_kit",
    ),
    Refused("a panel with a normal side", panel("normal: M1"), "has no side normal", "fed_from"),
    Refused("a switch that is fed from", switch("fed_from: M1"), "is fed on two sides", "normal:"),
    Refused("a set that is fed", generator("fed_from: M1"), "fed by nothing", "Take it out"),
    Refused(
        "a stop that is fed", more("  STOP1: {kind: stop, of: GEN1, fed_from: P1}\n"), "fed by nothing", "Take it out"
    ),
    Refused("a misspelt input", without("fed_from: ATS1", "fed_form: ATS1"), "fed_form is not a fact", "fed_from"),
    Refused("a way with a space in a reference", without("GEN1/1", "GEN1/way 1"), "does not name one piece", "P1/3"),
]

BEYOND_SCHEMA = [
    Refused(
        "tags equal but for capitals, small ones first",
        without("UTIL:", "util:")
        .replace("fed_from: UTIL", "fed_from: util")
        .replace("  M1:", "  UTIL: {kind: meter}\n  M1:"),
        "UTIL and util differ only in capital",
        "another tag",
        Schema.CANNOT,
    ),
    Refused("an unknown tag", without("fed_from: ATS1", "fed_from: ATS2"), "no piece ATS2", "ATS1", Schema.CANNOT),
    Refused(
        "a tag with other capitals", without("fed_from: ATS1", "fed_from: ats1"), "no piece ats1", "ATS1", Schema.CANNOT
    ),
    Refused(
        "tags equal but for capitals",
        more("  p1: {kind: meter, fed_from: UTIL}\n"),
        "differ only in capital",
        "another tag",
        Schema.CANNOT,
    ),
    Refused("an unknown way", without("GEN1/1", "GEN1/2"), "lists no way 2", "ways are 1", Schema.CANNOT),
    Refused("an unknown feed of a board", board("{main: M2, 7: INLET1}"), "no piece M2", "M1", Schema.CANNOT),
    Refused("an unknown way of a feed", board("{main: GEN1/2}"), "GEN1 lists no way 2", "ways are 1", Schema.CANNOT),
    Refused(
        "an unknown way in",
        board("{main: M1, 17: INLET1}", "ways: {7: {overcurrent: 60 A}, main: {}}"),
        "P2 lists no way 17",
        "Its ways are main, 7. 7",
        Schema.CANNOT,
    ),
    Refused(
        "a misspelt main",
        board("{mian: M1, 7: INLET1}"),
        "P2 lists no way mian",
        "Its ways are main, 7. main",
        Schema.CANNOT,
    ),
    Refused(
        "a way in that also feeds",
        board("{main: M1, 7: INLET1}", "ways: {7: {}, 9: {}}") + "  P3: {kind: panelboard, fed_from: P2/7}\n",
        "P2 is fed by its way 7; nothing is fed from there",
        "outgoing ways",
        Schema.CANNOT,
    ),
    Refused(
        "a way in that feeds what is drawn before",
        SITE + EQUIPMENT.replace("fed_from: UTIL", "fed_from: P1/7").replace("fed_from: ATS1", "fed_from: {7: ATS1}"),
        "P1 is fed by its way 7",
        "Write P1,",
        Schema.CANNOT,
    ),
    Refused(
        "a way in that feeds its own board",
        board("{main: M1, 7: P2/7}"),
        "P2 is fed by its way 7",
        "outgoing ways",
        Schema.CANNOT,
    ),
    Refused(
        "the main that also feeds",
        board("{main: M1}") + "  P3: {kind: panelboard, fed_from: P2/main}\n",
        "built into it",
        "outgoing ways",
        Schema.CANNOT,
    ),
    Refused(
        "an interlock of an unknown piece",
        interlock("first: P9/main, second: P2/7"),
        "first: there is no piece P9",
        "P1",
        Schema.CANNOT,
    ),
    Refused(
        "an interlock of an unknown way",
        interlock("first: P2/main, second: P2/8"),
        "P2 lists no way 8",
        "Its ways are 7",
        Schema.CANNOT,
    ),
    Refused(
        "an interlock of a meter",
        interlock("first: M1/main, second: P2/7"),
        "M1 is a meter and has no ways",
        "P1/main",
        Schema.CANNOT,
    ),
    Refused(
        "an interlock of a side that is none",
        interlock("first: P2/normal, second: P2/7"),
        "Way normal: a panelboard has no such side",
        "P2/main",
        Schema.CANNOT,
    ),
    Refused(
        "an interlock of a device with itself",
        interlock("first: P2/7, second: P2/7"),
        "interlock 1 names one way twice",
        "P1/main and P1/7",
        Schema.CANNOT,
    ),
    Refused(
        "a run of a way that is not fed",
        board("{main: M1, 7: INLET1}") + "runs: {INLET1>P2: {}}\n",
        "no connection",
        "INLET1>P2.7",
        Schema.CANNOT,
    ),
    Refused("a way of a meter", without("normal: M1", "normal: M1/1"), "has no ways", "Write M1", Schema.CANNOT),
    Refused(
        "a built-in way",
        without("fed_from: ATS1", "fed_from: ATS1/normal"),
        "built into it",
        "outgoing ways",
        Schema.CANNOT,
    ),
    Refused(
        "fed by what feeds nothing",
        more("  S1: {kind: stop, of: GEN1}\n").replace("fed_from: ATS1", "fed_from: S1"),
        "feeds nothing",
        "what feeds it",
        Schema.CANNOT,
    ),
    Refused(
        "a run of no connection", more("runs: {M1>P1: {length: 3 ft}}\n"), "no connection", "ATS1>P1", Schema.CANNOT
    ),
    Refused(
        "a run without its way",
        more("runs: {GEN1>ATS1.alternate: {}}\n"),
        "no connection",
        "GEN1/1>ATS1.alternate",
        Schema.CANNOT,
    ),
    Refused("a pair with an unknown tag", more("pairs: {P1~UTLI: {}}\n"), "no piece UTLI", "UTIL", Schema.CANNOT),
    Refused("a pair of one piece", more("pairs: {P1~P1: {}}\n"), "one piece twice", "two tags", Schema.CANNOT),
    Refused(
        "a pair in the other order",
        more("pairs: {UTIL~P1: {available_fault_current: 9 kA}}\n"),
        "make no pair in this order",
        "P1~UTIL",
        Schema.CANNOT,
    ),
    Refused(
        "a pair without facts of its own",
        more("pairs: {M1~UTIL: {available_fault_current: 9 kA}}\n"),
        "make no pair that has facts",
        "source",
        Schema.CANNOT,
    ),
    Refused(
        "a fact of another pair",
        more("pairs: {P1~UTIL: {shared_enclosure: yes}}\n"),
        "shared_enclosure is a fact of",
        "Write it there",
        Schema.CANNOT,
    ),
    Refused("a fact of an unknown piece", more("bonds: [{at: P2}]\n"), "no piece P2", "P1", Schema.CANNOT),
    Refused(
        "a fact that may be of an unknown piece",
        kind_of("UTIL", "electrode_conductor_ends_at: P1 or P9"),
        "no piece P9",
        "P1",
        Schema.CANNOT,
    ),
    Refused(
        "a claim of nothing",
        more("papers: [{paper: manual, claims: {GEN2.capacity: 41 A}}]\n"),
        "names no fact",
        "GEN1.capacity",
        Schema.CANNOT,
    ),
    Refused(
        "a claim of a misspelt fact",
        more("papers: [{paper: manual, claims: {GEN1.capasity: 41 A}}]\n"),
        "capasity is not a fact",
        "capacity",
        Schema.CANNOT,
    ),
    Refused(
        "a claim without a unit",
        more("papers: [{paper: manual, claims: {GEN1.capacity: 41}}]\n"),
        "no unit",
        "41 A",
        Schema.CANNOT,
    ),
    Refused(
        "not usual",
        panel("short_circuit_rating: 10 A"),
        "outside what is usual: 1000 A to 300,000 A",
        "typing error",
        Schema.CANNOT,
    ),
    Refused(
        "a range that leaves what is usual",
        panel("short_circuit_rating: 10 kA to 500 kA"),
        "outside what is usual",
        "typing error",
        Schema.CANNOT,
    ),
    Refused(
        "a part that is not usual",
        without("overcurrent: 90 A", "overcurrent: 90 kA"),
        "outside what is usual",
        "typing error",
        Schema.CANNOT,
    ),
    Refused("not possible", generator("power_factor: -50 %"), "outside what can be", "figure", Schema.CANNOT),
    Refused(
        "more phases than there are",
        without("120/240 V 1-phase 3-wire", "{phases: 3 or 5}"),
        "outside what can be",
        "figure",
        Schema.CANNOT,
    ),
    Refused(
        "a day that does not exist",
        more('permit: {application_date: "2024-02-30"}\n'),
        "no day of the calendar",
        "2026-03-14",
        Schema.CANNOT,
    ),
    Refused(
        "a range that runs backwards",
        panel("short_circuit_rating: 22 kA to 10 kA"),
        "runs backwards",
        "10 kA to 22 kA",
        Schema.CANNOT,
    ),
    Refused(
        "feet and inches that do not add up",
        more("runs: {ATS1>P1: {length: 5 ft 14 in}}\n"),
        "does not add up",
        "less than 12 in",
        Schema.CANNOT,
    ),
    Refused(
        "a size that is not made",
        more("runs: {ATS1>P1: {phase: 5 AWG copper}}\n"),
        "not a size",
        "4 AWG",
        Schema.CANNOT,
    ),
    Refused(
        "a word that no conductor has",
        more("runs: {ATS1>P1: {phase: 3 AWG cooper}}\n"),
        "cooper",
        "copper",
        Schema.CANNOT,
    ),
    Refused(
        "a conductor that contradicts itself",
        more("runs: {ATS1>P1: {phase: 3 AWG Cu Al}}\n"),
        "contradicts itself",
        "one material",
        Schema.CANNOT,
    ),
    Refused(
        "a voltage alone",
        without("120/240 V 1-phase 3-wire", "240 V"),
        "does not say which system",
        "120/240 V",
        Schema.CANNOT,
    ),
    Refused(
        "a system that is none",
        without("120/240 V 1-phase 3-wire", "120/277 V 1-phase 3-wire"),
        "not the voltages of one system",
        "120/240 V",
        Schema.CANNOT,
    ),
    Refused(
        "none with parts",
        without("overcurrent: 90 A", "overcurrent: {value: none, poles: 2}"),
        "none has no parts",
        "Keep one",
        Schema.CANNOT,
    ),
    Refused(
        "a sheet that is not there", generator("use: sheets/nothing.yaml"), "no file", "Check the name", Schema.CANNOT
    ),
    Refused(
        "a sheet outside the folder",
        generator("use: ../../etc/hosts"),
        "leads out of the folder",
        "Put a copy",
        Schema.CANNOT,
    ),
    Refused(
        "override without a sheet",
        generator("override: [fuel]"),
        "override stands without use",
        "Take it out",
        Schema.CANNOT,
    ),
    Refused("a side of a panel's way", panel("ways: {normal: {}}"), "has no such side", "main", Schema.CANNOT),
]

SHEET_PATHS = [
    Refused("a sheet by its place on one computer", generator("use: /etc/hosts"), "one computer", "from the folder"),
    Refused(
        "a sheet with backslashes",
        generator("use: sheets\\\\set.yaml").replace("\\\\", "\\"),
        "backslash",
        "forward slashes",
    ),
    Refused("a list of sheets", generator("use: [a.yaml, b.yaml]"), "use: does not name one file", "use: sheets/"),
    Refused(
        "override as a text", generator("use: x.yaml, override: fuel"), "override is a list", "override: [rated_power]"
    ),
]

REFUSED = [*NOT_YAML, *SHAPES, *FACTS, *EXACT, *FEEDING, *BEYOND_SCHEMA, *SHEET_PATHS]

ACCEPTED = {
    "the base": BASE,
    "only a site": "site: {}\n",
    "no equipment yet": SITE + "equipment: {}\n",
    "unknown for everything": panel(
        "short_circuit_rating: unknown, place: unknown, listed: unknown, working_space: unknown"
    ),
    "this or that": switch(
        "operation: automatic or manual, transition: open, delayed or closed".replace(", delayed", " or delayed")
    ),
    "three choices with a comma": without("neutral: solid", '"neutral": "solid, switched or overlapping"'),
    "ranges": panel(
        "short_circuit_rating: 8 kA to 12 kA, rated_voltage: at least 240 V, interrupting_rating: 9 kA +/- 10 %"
    ),
    "bounds in quotes": panel('short_circuit_rating: ">= 10 kA", rated_voltage: "<= 480 V"'),
    "figures or figures": panel("short_circuit_rating: 10 or 14 kA, interrupting_rating: none or 10 kA"),
    "none": panel("service_marking: none, interrupting_rating: none, role: none"),
    "with a paper": panel("short_circuit_rating: {value: 10 kA, per: nameplate}, place: {value: garage, per: 3}"),
    "assumed": panel("short_circuit_rating: {value: 10 kA, per: assumed}"),
    "several": switch("classes: [emergency, optional], use_listing: none"),
    "one of several": switch("classes: optional, use_listing: emergency or optional"),
    "several with a paper": switch("classes: {value: [emergency, optional], per: ahj letter}"),
    "flags": panel("listed: yes, readily_accessible: no, in_sight_of_building: true, overcurrent_beside: false"),
    "flags in quotes and open": panel('listed: "yes", readily_accessible: yes or no'),
    "counts": switch("poles: 2"),
    "counts as text and open": switch('poles: "2 or 3"'),
    "a choice that looks like a number": panel("enclosure: 1"),
    "choices that look like numbers": panel("enclosure: 1 or 3R"),
    "a choice in quotes that looks like a number": panel('enclosure: "12"'),
    "a ratio": generator("power_factor: 0.8"),
    "a ratio of one": generator("power_factor: 1"),
    "a ratio as a percentage": generator("power_factor: 80 %"),
    "dates": more('permit: {application_date: "2024-03-11", issue_date: 2024-04-01}\n'),
    "an open date": more("permit: {application_date: 2024-03-11 or 2024-03-12, issue_date: unknown}\n"),
    "an unknown permit": more("permit: unknown\n"),
    "a permit with its paper": more("permit: {application_date: 2024-03-11, per: application form}\n"),
    "texts that look like something else": site('address: 4711, jurisdiction: "no"'),
    "a structure in parts": without(
        "overcurrent: 90 A", "overcurrent: {rated_current: 90 A, poles: 2, per: data sheet}"
    ),
    "a short form with its paper": without("overcurrent: 90 A", "overcurrent: {value: 90 A, per: assumed, poles: 2}"),
    "a structure that is none": without("overcurrent: 90 A", "overcurrent: none"),
    "a structure that may be none": without("overcurrent: 90 A", "overcurrent: none or 90 A"),
    "a structure that is none by its paper": without(
        "overcurrent: 90 A", "overcurrent: {value: none, per: data sheet}"
    ),
    "rated power by fuel": generator("rated_power: {propane: 22 kW, natural_gas: 19.5 kW, diesel: none}"),
    "a fault current and its kind": kind_of(
        "UTIL", 'available_fault_current: {value: "9,600 A", between: lines, per: letter}'
    ),
    "a fault current alone": kind_of("UTIL", "available_fault_current: 9 kA +/- 500 A"),
    "a system in parts": without("120/240 V 1-phase 3-wire", "{voltage: 240 V, to_neutral: 120 V, phases: 1}"),
    "a system that is not decided": without("120/240 V 1-phase 3-wire", "120/240 V 1-phase 3-wire or 208Y/120 V"),
    "runs": more(
        'runs: {ATS1>P1: {phase: "#3 Cu THWN-2", neutral_conductor: 3 AWG copper, grounding: none, length: 22 ft}}\n'
    ),
    "conductors in parallel": more("runs: {ATS1>P1: {phase: 2 x 350 kcmil Cu, grounding: No. 3 or none}}\n"),
    "a conductor in parts": more("runs: {ATS1>P1: {phase: {size: 4/0, material: copper or aluminum, bare: no}}}\n"),
    "an empty run": more("runs: {GEN1/1>ATS1.alternate: {}, ATS1>P1: {}}\n"),
    "pairs": more("pairs: {P1~UTIL: {available_fault_current: 8 kA to 12 kA}, P1~GEN1: {}}\n"),
    "a pair of disconnects": more("pairs: {ATS1~P1: {shared_enclosure: no}, P1~ATS1: {}}\n"),
    "open lists": more("labels: [{at: P1, marking: [service_disconnect]}]\nbonds: []\n"),
    "complete lists": more(
        "labels: {complete: yes, list: []}\ncontrols: {complete: no, list: [{of: GEN1, to: ATS1}]}\n"
    ),
    "rows of a switch": switch(
        "withstand_rows: {complete: yes, list: [{for_device: any_breaker, withstands: 22 kA, for_time: 50 ms}]}"
    ),
    "claims": more("papers: [{paper: load_calculation, claims: {GEN1.capacity: 41.7 A, site.floor_area: 1950 ft2}}]\n"),
    "complete kinds": site("complete: [inlet, stop, surge_protective_device]"),
    "other sources": site("other_sources: [solar, storage], work: generator_new"),
    "built-in devices": switch(
        "ways: {normal: {overcurrent: {rated_current: 200 A}}, load: {overcurrent: none}, 7-9: {}}"
    ),
    "a way that nobody listed": without(", ways: {1: {overcurrent: 90 A}}"),
    "a stop": more("  STOP1: {kind: stop, of: GEN1, stands: away_from_set}\n"),
    "a piece that nothing feeds": without("fed_from: ATS1, "),
    "a board with two feeds": board("{main: M1, 7: INLET1}"),
    "a board with two feeds by number": board("{1: M1, 7: INLET1}", "ways: {1: {overcurrent: 200 A}, 7: {}}"),
    "a board with one feed by its way": board("{main: M1}"),
    "a board fed by a branch alone": board("{7: INLET1}"),
    "a board with three feeds and no ways listed": board('{main: M1, "7": INLET1, tie-1: P1/3}', "place: garage"),
    "a way in and ways that nobody listed": board("{main: M1, 7: INLET1}")
    + "  P3: {kind: panelboard, fed_from: P2/9}\n  P4: {kind: switchboard, fed_from: {main: P2/11}}\n",
    "runs by the ways of a board": board("{main: M1, 7: INLET1}")
    + "runs: {INLET1>P2.7: {length: 30 ft}, M1>P2.main: {}}\n",
    "an inlet without a cord": more("  INLET1: {kind: inlet, inlet_form: flanged_inlet, rated_current: 30 A}\n"),
    "interlocks": board("{main: M1, 7: INLET1}")
    + "interlocks: {complete: yes, list: [{first: P2/main, second: P2/7, interlock: panel_kit, "
    + "listed_for_panel: yes}]}\n",
    "interlocks of ways that nobody listed": more(
        "interlocks: [{first: P1/main, second: P1/7}, {first: ATS1/normal, second: ATS1/alternate}]\n"
    ),
    "no interlocks": more("interlocks: {complete: yes, list: []}\n"),
    "a plug-in breaker": board("{main: M1, 7: INLET1}", "ways: {7: {overcurrent: 60 A, plug_in: yes, fastened: no}}"),
    "a set and its electrode": generator(
        "electrode: [rod, structure], electrode_resistance: at most 25 ohm, "
        "outlets_protected: yes, receptacle_current: 30 A"
    ),
    "a set without electrode or receptacle": generator("electrode: none, receptacle_current: none"),
    "a switch with a bypass": switch(
        "bypass: bypass_isolation, bypass_interlocked: yes, overlap_time: 100 ms, mechanically_held: yes"
    ),
    "a switch without a bypass": switch("bypass: none, overlap_time: none, mechanically_held: unknown"),
    "an inverter": more(
        "  INV1: {kind: inverter, behind: [solar, storage], interactive: yes, forms_its_own_grid: no or yes}\n"
    ),
    "labels for sets of one kind": more("labels: [{at: P1, marking: floating_sets_only or bonded_sets_only}]\n"),
    "a ring": without("fed_from: UTIL", "fed_from: P1"),
    "quoted keys": BASE.replace("P1:", '"P1":'),
}
