"""Whatever is done to a site file, it is read or refused in words, and what is read is valid by the schema."""

import json
import re
from pathlib import Path

import jsonschema
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_text
from checker.files.yaml.tree import plain
from checker.site.read import read_site
from checker.values.problems import Problem, Unreadable
from tests.site import corpus
from tests.site.reading import CATALOG

FIXTURE = data_folder("fixtures") / "harrow-lane"
SHEET = (FIXTURE / "sheets" / "set-22kw.yaml").read_text(encoding="utf-8")
SCHEMA = json.loads((data_folder("schemas") / "site.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def words_of(text: str) -> list[str]:
    return re.findall(r"[\w./~>-]+|\s+|.", text)


WORDS = words_of((FIXTURE / "site.yaml").read_text(encoding="utf-8"))
TWO_FEEDS = words_of(
    corpus.interlock("first: P2/main, second: P2/7, interlock: panel_kit, listed_for_panel: yes")
    + "runs: {INLET1>P2.7: {length: 30 ft}}\n"
)
FOREIGN = [
    *(
        "unknown",
        "none",
        "yes",
        "1",
        "0.5",
        "-1",
        "1e3",
        "9 kA to 12 kA",
        "at least 10 kA",
        "P1 or M1",
        "solid or switched",
    ),
    *(
        "{}",
        "[]",
        "'",
        '"',
        "#3",
        "&a",
        "*a",
        "!!int",
        "|",
        ">",
        "%",
        "@",
        "?",
        "\t",
        "é",
        "½",
        "\u2028",
        "\0",
        "\x1b[2J",
    ),
    *("{value: 1 A, per: assumed}", "{value: none}", "use: site.yaml", "override: [fuel]", "x" * 200, "- ", ": ", ", "),
]
Mutation = tuple[str, int, int, str]
MUTATIONS = st.lists(
    st.tuples(
        st.sampled_from(["replace", "insert", "drop", "copy", "letter"]),
        st.integers(0, len(WORDS) - 1),
        st.integers(1, 12),
        st.sampled_from([*FOREIGN, *sorted({*WORDS, *TWO_FEEDS})]) | st.text(max_size=6),
    ),
    min_size=1,
    max_size=3,
)


def mutated(mutations: list[Mutation], base: list[str]) -> str:
    words = list(base)
    for what, place, length, text in mutations:
        at = place % len(words)
        if what == "replace":
            words[at] = text
        elif what == "insert":
            words.insert(at, text)
        elif what == "drop":
            del words[at : at + length]
        elif what == "copy":
            words[at:at] = words[at : at + length]
        else:
            words[at] = words[at][: length // 2] + text[:1] + words[at][length // 2 + 1 :]
    return "".join(words)


def _folder(tmp_path: Path) -> Path:
    (tmp_path / "sheets").mkdir(exist_ok=True)
    (tmp_path / "sheets" / "set-22kw.yaml").write_text(SHEET, encoding="utf-8")
    return tmp_path


def _problems(path: Path) -> tuple[Problem, ...]:
    """What is wrong with the file; anything but Unreadable comes out as it is."""
    try:
        read_site(path, CATALOG)
    except Unreadable as error:
        return error.problems
    return ()


@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(mutations=MUTATIONS, base=st.sampled_from([WORDS, TWO_FEEDS]))
def test_a_mutated_file_is_read_or_refused_in_words(mutations: list[Mutation], base: list[str], tmp_path: Path) -> None:
    text = mutated(mutations, base)
    path = _folder(tmp_path) / "site.yaml"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    problems = _problems(path)
    assert all(problem.sentence and (problem.remedy or problem.near) for problem in problems)
    if problems:
        return
    errors = [error.message for error in VALIDATOR.iter_errors(plain(read_text(text, "site.yaml")))]
    assert errors == []


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(sheet=st.text(max_size=120) | st.sampled_from(["kind: meter\n", "[]", "use: set-22kw.yaml\n", "fed_from: P1\n"]))
def test_any_sheet_is_read_or_refused_in_words(sheet: str, tmp_path: Path) -> None:
    path = _folder(tmp_path) / "site.yaml"
    path.write_text("".join(WORDS), encoding="utf-8")
    (tmp_path / "sheets" / "set-22kw.yaml").write_bytes(sheet.encode("utf-8", "surrogatepass"))
    problems = _problems(path)
    assert all(problem.sentence and (problem.remedy or problem.near) for problem in problems)
    assert problems or "GEN1" in read_site(path, CATALOG).pieces
