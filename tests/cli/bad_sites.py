"""Site files with one thing wrong each, as people write them, and what they are told."""

from __future__ import annotations

from dataclasses import dataclass

BASE = (
    "site: {name: Tern Cove, stage: plan_review, work: [generator_new], occupancy: one_family_dwelling, "
    "jurisdiction: nec-2020, other_sources: none}\n"
    'permit: {application_date: "2024-03-14"}\n'
    "equipment:\n"
    "  UTIL: {kind: utility_supply, system: 120/240 V 1-phase 3-wire}\n"
    "  ATS1: {kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: automatic, rated_current: 200 A, "
    "neutral: solid, role: service_disconnect}\n"
    "  GEN1: {kind: generator, fuel: natural_gas, rated_power: {natural_gas: 20 kW}}\n"
    "  P1: {kind: panelboard, fed_from: ATS1, rated_current: 200 A}\n"
)
"""A small site that can be reviewed."""

SHEETS = {
    "sheets/ok.yaml": "kind: generator\nfuel: diesel\n",
    "sheets/loop.yaml": "use: loop2.yaml\n",
    "sheets/loop2.yaml": "use: loop.yaml\n",
}
"""Files beside the site."""


@dataclass(frozen=True, slots=True)
class Bad:
    """One bad site: its content, the place that is named (line and column), and words of what is said."""

    name: str
    content: bytes
    place: str
    says: str
    remedy: str

    def __str__(self) -> str:
        return self.name


def text(name: str, content: str, place: str, says: str, remedy: str) -> Bad:
    """A whole file."""
    return Bad(name, content.encode("utf-8"), place, says, remedy)


def put(name: str, old: str, new: str, place: str, says: str, remedy: str) -> Bad:
    """The small site with a piece of text in the place of another."""
    assert BASE.count(old) >= 1, old
    return text(name, BASE.replace(old, new, 1), place, says, remedy)


def add(name: str, lines: str, place: str, says: str, remedy: str) -> Bad:
    """The small site with more lines at its end."""
    return text(name, BASE + lines, place, says, remedy)


_GEN = "GEN1: {kind: generator"
_RATED = "rated_current: 200 A, neutral"


def _rated(name: str, value: str, says: str, remedy: str) -> Bad:
    return put(name, _RATED, f"rated_current: {value}, neutral", "5:101", says, remedy)


FILES = (
    text("empty", "", "1:1", "This file is empty.", "Write the content"),
    text("only spaces", "   \n\n", "1:1", "This file is empty.", "Write the content"),
    text("only a comment", "# nothing\n", "1:1", "nothing but comments", "Write the content"),
    Bad("binary", bytes(range(256)), "1:1", "not a text file", "Name a text file"),
    Bad("saved as UTF-16", BASE.encode("utf-16"), "1:1", "saved as UTF-16", "UTF-8"),
    Bad("saved as Latin-1", BASE.replace("Tern", "Térn").encode("latin-1"), "1:15", "not UTF-8 text", "UTF-8"),
    text("a zero byte", BASE.replace("Tern", "T\0rn"), "1:15", "zero byte", "Name a text file"),
    text("one text", "hello\n", "1:1", "no site description", "It begins with site: and equipment:"),
    text("a list", "- a\n- b\n", "1:1", "no site description", "It begins with site: and equipment:"),
    text("two documents", BASE + "---\n" + BASE, "8:1", "second document", "file of its own"),
    text("huge", "# " + "x" * 2_100_000 + "\n", "1:1", "too large", "Split it"),
    text("too many values", "a: [" + "x," * 60_000 + "]\n", "1:100001", "more than 50,000 values", "Split it"),
    text("a very long text", "a: " + "x" * 30_000 + "\n", "1:4", "longer than 20,000 characters", "Shorten it"),
    text("deep nesting", "a: " + "[" * 60 + "]" * 60 + "\n", "1:43", "more than 40 levels deep", "Check the brackets"),
    text("alias bomb", "a: &a [x]\nb: [*a,*a]\nc: [*b,*b]\n", "1:4", "is not read here", "take it out"),
    put("a type of YAML", "Tern Cove", "!!python/object:os.system ls", "1:14", "is not read here", "in quotes"),
    put("merged keys", "P1: {kind", "P1: {<<: {a: b}, kind", "7:8", "is not read here", "Write the lines out"),
)

SIGNS = (
    put("tabs", "  UTIL:", "\tUTIL:", "4:1", "indented with a tab", "Indent with spaces"),
    put("control character", "Tern", "T\x1b[31mrn", "1:15", "control character (U+001B)", "Delete it"),
    put("escaped control character", "Tern Cove", '"Tern\\e[31m"', "1:14", "control character (U+001B)", "Take it out"),
    put("mark that turns writing round", "Tern", "T\u202ern", "1:15", "invisible mark", "Delete it"),
    put("bracket not closed", "rated_current: 200 A}", "rated_current: 200 A", "7:7", "not closed", "Close it with }"),
    put("quote not closed", "Tern Cove", '"Tern Cove', "1:14", "not closed on its line", "Close the text"),
    put(
        "wire size with # in braces", _RATED, "rated_current: #3 AWG, neutral", "5:101", "read as a comment", '"#3 AWG"'
    ),
    add(
        "wire size with # on a line",
        "runs:\n  ATS1>P1:\n    phase: #3 AWG copper\n",
        "10:12",
        "read as a comment",
        '"#3 AWG copper"',
    ),
    add(
        "wire size with # in a run",
        "runs:\n  ATS1>P1: {phase: #3 AWG copper}\n",
        "9:20",
        "read as a comment",
        '"#3 AWG copper"',
    ),
    put(
        "thousands in braces",
        "3-wire}",
        "3-wire, available_fault_current: 9,600 A}",
        "4:91",
        "cut at the comma",
        '"9,600 A"',
    ),
    _rated("greater than without quotes", ">= 200 A", "cannot begin with >", '">= 200 A"'),
    put(
        "duplicate key",
        "  P1:",
        "  ATS1: {kind: panelboard, fed_from: UTIL}\n  P1:",
        "7:3",
        "stands twice here, on line 5",
        "Keep one",
    ),
)

VALUES = (
    _rated("kVA for A", "200 kVA", "is apparent power; this fact is load current", "Write A"),
    put("kVA for kW", "20 kW", "20 kVA", "6:73", "is apparent power; this fact is active power", "Write kW"),
    _rated("number without a unit", "200", "200 has no unit", "Write 200 A"),
    _rated("another dimension", "200 ft", "is length; this fact is load current", "Write A"),
    _rated("negative", "-200 A", "lies outside what can be", "Check the figure"),
    _rated("slipped prefix", "200 kA", "lies outside what is usual", "typing error"),
    _rated("NaN", ".nan", "is not a number", "Write the figure, or unknown"),
    _rated("infinity", ".inf A", "is not a number", "Write the figure, or unknown"),
    _rated("exponent", "2e2 A", "written with an exponent", "Write 200 A."),
    _rated("range backwards", "300 A to 200 A", "runs backwards", "Write 200 A to 300 A"),
    _rated("words for a number", "two hundred A", "does not begin with a number", "in digits"),
    put(
        "voltages that do not go together",
        "1-phase 3-wire",
        "3-phase 3-wire",
        "4:40",
        "is no system",
        "120/240 V 1-phase 3-wire",
    ),
    add("half a wire size", "runs:\n  ATS1>P1: {phase: 3.5 AWG copper}\n", "9:20", "is not a wire size", "3 AWG"),
    put(
        "misspelt choice",
        "neutral: solid",
        "neutral: sold",
        "5:117",
        "is not one of its choices",
        "Nearest valid name: solid",
    ),
    put(
        "choice in capitals",
        "neutral: solid",
        "neutral: Solid",
        "5:117",
        "is not one of its choices",
        "Nearest valid name: solid",
    ),
    put("no for none", "other_sources: none", "other_sources: no", "1:139", "is not one of its choices", "or none."),
    put(
        "none where something always is",
        "operation: automatic",
        "operation: none",
        "5:75",
        "cannot be written here",
        "write unknown",
    ),
    put("American date", '"2024-03-14"', '"3/14/2024"', "2:28", "month and day", "Write 2024-03-14"),
    put("day that is none", '"2024-03-14"', '"2024-02-30"', "2:28", "no day of the calendar", "as 2026-03-14"),
    put(
        "stage in words",
        "plan_review",
        "plan review",
        "1:32",
        "is not one of its choices",
        "Nearest valid name: plan_review",
    ),
)

NAMES = (
    put(
        "misspelt fact",
        "operation: auto",
        "opration: auto",
        "5:64",
        "not a fact of a transfer switch",
        "Nearest valid name: operation",
    ),
    put(
        "fact of another kind",
        _GEN,
        f"{_GEN}, poles: 2",
        "6:27",
        "not of a generator",
        "Write it there, or leave it out",
    ),
    put(
        "fact of a piece at the site",
        "other_sources",
        "rated_current: 200 A, other_sources",
        "1:124",
        "not of the site",
        "Write it there",
    ),
    put(
        "unknown kind",
        "kind: panelboard",
        "kind: panelbord",
        "7:14",
        "not a kind of equipment",
        "Nearest valid name: panelboard",
    ),
    put("no kind", "P1: {kind: panelboard, ", "P1: {", "7:3", "does not say what it is", "Write kind:"),
    put(
        "unknown tag", "fed_from: ATS1", "fed_from: ATS2", "7:36", "There is no piece ATS2", "Nearest valid name: ATS1"
    ),
    put("fed twice", "fed_from: ATS1,", "fed_from: [ATS1, UTIL],", "7:36", "more than one piece", "name one"),
    put(
        "a side that a panel does not have",
        "fed_from: ATS1",
        "fed_from: ATS1, normal: UTIL",
        "7:42",
        "has no side normal",
        "Write fed_from:",
    ),
    put("tag that begins with a digit", "  P1:", "  1P:", "7:3", "1P is not a tag", "begins with a letter"),
    put("tag with a space", "  P1:", "  P 1:", "7:3", "P 1 is not a tag", "begins with a letter"),
    put(
        "tags that differ in capitals only",
        "  P1:",
        "  ats1: {kind: meter, fed_from: UTIL}\n  P1:",
        "7:3",
        "differ only in capital",
        "another tag",
    ),
    add("unknown section", "equipmnt: {}\n", "8:1", "not a section", "Nearest valid name: equipment"),
    text("no section site", BASE.partition("\n")[2], "1:1", "The section site is missing", "Write site:"),
    add(
        "run that is drawn the other way",
        "runs:\n  P1>ATS1: {length: 3 ft}\n",
        "9:3",
        "no connection of the drawing",
        "ATS1>P1",
    ),
    add(
        "pair with an unknown piece",
        "pairs:\n  P1~UTL: {available_fault_current: 9 kA}\n",
        "9:3",
        "no piece UTL",
        "Nearest valid name: UTIL",
    ),
    add("label at an unknown piece", "labels: {list: [{at: P9}]}\n", "8:22", "no piece P9", "The tags on the drawing"),
    add(
        "unknown paper",
        "papers: {list: [{paper: load_calc}]}\n",
        "8:25",
        "not one of its choices",
        "Nearest valid name: load_calculation",
    ),
    add(
        "claim of an unknown fact",
        "papers: {list: [{paper: load_calculation, claims: {GEN1.capcity: 41 A}}]}\n",
        "8:52",
        "not a fact of a generator",
        "Nearest valid name: capacity",
    ),
)

SHEET_USES = (
    put(
        "sheet that is not there",
        _GEN,
        f"{_GEN}, use: sheets/none.yaml",
        "6:32",
        "There is no file",
        "Nearest valid name: sheets/ok.yaml",
    ),
    put(
        "way out of the folder",
        _GEN,
        f"{_GEN}, use: ../../etc/passwd",
        "6:32",
        "leads out of the folder",
        "Put a copy into the folder",
    ),
    put(
        "absolute path",
        _GEN,
        f"{_GEN}, use: /etc/passwd",
        "6:32",
        "names a place on one computer",
        "from the folder of the file",
    ),
    put(
        "sheets that use each other",
        _GEN,
        f"{_GEN}, use: sheets/loop.yaml",
        "1:6",
        "uses itself",
        "Take this use: line out",
    ),
    put(
        "said here and in the sheet",
        _GEN,
        f"{_GEN}, use: sheets/ok.yaml",
        "6:48",
        "stands here and in the sheet",
        "write override: [fuel]",
    ),
)

RULES = (
    put(
        "no date",
        'permit: {application_date: "2024-03-14"}\n',
        "",
        "1:7",
        "does not give that date",
        "Adopted there: NFPA 70 2020 from 2020-01-01",
    ),
    put("date not known", '"2024-03-14"', "unknown", "2:28", "does not give that date", "or give --date"),
    put(
        "date before everything",
        "2024-03-14",
        "1999-03-14",
        "7:5",
        "nothing was adopted yet",
        "Give a date from 2020-01-01 on",
    ),
    put("no jurisdiction", "jurisdiction: nec-2020, ", "", "1:7", "names no jurisdiction", "--jurisdiction"),
    put(
        "unknown jurisdiction",
        "nec-2020",
        "nec-2021",
        "1:114",
        "no jurisdiction profile nec-2021",
        "Nearest valid name: nec-20",
    ),
)

BAD_SITES = (*FILES, *SIGNS, *VALUES, *NAMES, *SHEET_USES, *RULES)
