"""Checks the shape of a file with JSON Schema and says what is wrong in our own words, with the place in the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from checker.files.yaml.tree import Entry, Node, Scalar, find, find_deepest, plain
from checker.files.yaml.tree import Mapping as MappingNode
from checker.files.yaml.tree import Sequence as SequenceNode
from checker.rules.grammar import ANY_WAY, CONDITION_WORDS
from checker.rules.problem_list import ProblemList
from checker.rules.wording import choice_of, with_article
from checker.values.positions import Position

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

Path = tuple[str | int, ...]
_LONGEST_SHOWN = 60
_MOST_REPAIRS = 4
"""So many times a file is read again with its slips mended; below a slip there may be others."""
_KEYS_OF_OBJECTS = frozenset({"additionalProperties", "required"})


def check_shape(node: Node, schema: Mapping[str, Any], problems: ProblemList) -> frozenset[Path]:
    """Tell every departure from the schema; the paths of what is not shaped as it must be."""
    from jsonschema import Draft202012Validator  # slow to import

    errors = sorted(Draft202012Validator(schema).iter_errors(plain(node)), key=_order)
    by_path: dict[Path, list[ValidationError]] = {}
    for error in errors:
        by_path.setdefault(_path(error), []).append(error)
    forbidden = [path for path, found in by_path.items() if any(each.validator == "not" for each in found)]
    for path, found in by_path.items():
        if not (_only_counted(found) and any(each[: len(path)] == path for each in forbidden)):
            _tell(found, path, node, problems)
    return frozenset(path for error in errors for path in _broken_by(error))


def sound_shape(node: Node, schema: Mapping[str, Any], problems: ProblemList) -> tuple[Node, frozenset[Path]]:
    """The same as ``check_shape``, with the node as it was meant: a key that is one letter off stands in it by the name
    that it nearly has, and is told. So what lies below it is read, and nothing is told that only follows from the slip.
    """
    from jsonschema import Draft202012Validator  # slow to import

    validator = Draft202012Validator(schema)
    for _ in range(_MOST_REPAIRS):
        slips = dict(_slips(sorted(validator.iter_errors(plain(node)), key=_order), node, problems))
        if not slips:
            break
        node = _renamed(node, slips, ())
    return node, check_shape(node, schema, problems)


def _slips(errors: Iterable[ValidationError], node: Node, problems: ProblemList) -> Iterator[tuple[Path, str]]:
    """Every key that is nearly a known one which does not stand beside it; each is told."""
    told: list[Path] = []
    for error in errors:
        path, known, taken = _path(error), list(_schema(error).get("properties", {})), set(_instance(error))
        if any(path[: len(above)] == above for above in told):
            continue  # below a slip everything else may follow from it
        if (word := _condition_meant(error, path, problems)) is not None:
            remedy = f"Write a fact, or {_all(CONDITION_WORDS)}."
            sentence = f"`{path[-1]}` is neither a fact nor a word of a condition."
            problems.add(sentence, _key_place(node, path), remedy, word)
            told.append(path)
            yield path, word
        for key in _instance(error) if word is None and error.validator == "additionalProperties" else ():
            near = None if key in known else problems.near(key, known)
            if near is not None and near not in taken:
                taken.add(near)
                _tell_unknown_key(error, (*path, key), node, problems, near)
                told.append((*path, key))
                yield (*path, key), near


def _condition_meant(error: ValidationError, path: Path, problems: ProblemList) -> str | None:
    """The word of a condition that a key is nearly, where what stands below it is no comparison of a fact."""
    if not path or not isinstance(path[-1], str):
        return None
    if _title(error) == "comparison" and error.validator in ("additionalProperties", "type"):
        return problems.near(path[-1], (*CONDITION_WORDS, ANY_WAY))
    # Several parts below one name: the ways of a requirement, and no condition.
    return problems.near(path[-1], (ANY_WAY,)) if error.validator == "maxProperties" else None


def _renamed(node: Node, names: Mapping[Path, str], at: Path) -> Node:
    """The node with other names for some of its keys; every place in the file stays."""
    if isinstance(node, MappingNode):
        entries = (
            Entry(names.get((*at, each.key), each.key), each.at, _renamed(each.value, names, (*at, each.key)))
            for each in node.entries
        )
        return MappingNode(tuple(entries), node.at)
    if isinstance(node, SequenceNode):
        return SequenceNode(
            tuple(_renamed(each, names, (*at, place)) for place, each in enumerate(node.items)), node.at
        )
    return node


def _broken_by(error: ValidationError) -> tuple[Path, ...]:
    path = _path(error)
    return ((*path, str(error.instance)),) if _is_name(error) else (path,)


def _only_counted(errors: Iterable[ValidationError]) -> bool:
    """Whether the only thing wrong is that there is too much, which a word that must not stand there explains."""
    return all(error.validator == "maxProperties" for error in errors)


def _tell(errors: Sequence[ValidationError], path: Path, node: Node, problems: ProblemList) -> None:
    """Tell what is wrong with one value: its keys, the names of its keys, and otherwise one thing only."""
    _tell_keys([each for each in errors if each.validator in _KEYS_OF_OBJECTS], path, node, problems)
    names = [each for each in errors if _is_name(each)]
    for error in names:
        sentence, remedy = _pattern(error, "")
        problems.add(sentence, _key_place(node, (*path, str(error.instance))), remedy)
    others = [each for each in errors if each.validator not in _KEYS_OF_OBJECTS and not _is_name(each)]
    if others:
        _tell_value(others[0], path, node, problems)


def _order(error: ValidationError) -> tuple[list[str], bool]:
    """By place; of one value the error of its type first, as others may follow from it."""
    return [str(step) for step in error.absolute_path], error.validator != "type"


def _path(error: ValidationError) -> Path:
    return tuple(step if isinstance(step, int) else str(step) for step in error.absolute_path)


def _is_name(error: ValidationError) -> bool:
    """Whether the error is about the name of a key."""
    return "propertyNames" in list(error.absolute_schema_path)[-2:]


def _tell_keys(errors: Iterable[ValidationError], path: Path, node: Node, problems: ProblemList) -> None:
    """Keys that are not known and keys that are missing; a misspelt key is told once, not also as missing."""
    meant: set[str | None] = set()
    for error in errors:
        if error.validator == "additionalProperties":
            meant |= set(_tell_unknown_keys(error, path, node, problems))
    for error in errors:
        if error.validator == "required":
            for key in _schema(error)["required"]:
                if key not in _instance(error) and key not in meant:
                    sentence = _own(error) or f"There is no `{key}` in this {_title(error)}."
                    problems.add(sentence, _key_place(node, path), f"Write `{key}:`.")


def _tell_unknown_keys(error: ValidationError, path: Path, node: Node, problems: ProblemList) -> Iterator[str | None]:
    """Tell every key that is not known; the known keys that were meant."""
    known = list(_schema(error).get("properties", {}))
    for key in _instance(error):
        if key not in known:
            near = problems.near(key, known)
            _tell_unknown_key(error, (*path, key), node, problems, near)
            yield near


def _tell_unknown_key(error: ValidationError, path: Path, node: Node, problems: ProblemList, near: str | None) -> None:
    sentence = _own(error) or f"`{path[-1]}` is no word of {with_article(_title(error))}."
    known = list(_schema(error).get("properties", {}))
    problems.add(sentence, _key_place(node, path), f"Its words are {_all(known)}.", near)


def _tell_value(error: ValidationError, path: Path, node: Node, problems: ProblemList) -> None:
    sentence, remedy = _SENTENCES.get(str(error.validator), _not_as_it_must_be)(error, _what(path))
    place = _key_place if error.validator == "not" else _value_place
    problems.add(_own(error) or sentence, place(node, path), remedy, _near(error, path, problems))


def _near(error: ValidationError, path: Path, problems: ProblemList) -> str | None:
    """The word that was meant: one of those allowed, or where a comparison is missing a word of the grammar."""
    if error.validator == "enum" and isinstance(error.instance, str):
        return problems.near(error.instance, (str(word) for word in _wanted(error)))
    if error.validator == "type" and _title(error) == "comparison" and isinstance(path[-1], str):
        return problems.near(path[-1], CONDITION_WORDS)
    return None


def _not_as_it_must_be(_: ValidationError, what: str) -> tuple[str, str]:
    return f"{what} is not written as it must be.", ""


def _type(error: ValidationError, what: str) -> tuple[str, str]:
    wanted = with_article(_title(error))
    number_for_text = isinstance(error.instance, bool | int) and "string" in str(error.validator_value)
    remedy = f'Put it in quotes: "{_shown(error.instance)}".' if number_for_text else _of_the_right_form(error)
    return f"{what} must be {wanted}.", remedy


def _of_the_right_form(error: ValidationError) -> str:
    """How a list, a mapping or a single value is written, where another of these stands."""
    wanted, is_list = str(error.validator_value), isinstance(error.instance, list)
    if "array" in wanted and not isinstance(error.instance, dict | list):
        return f"Put it in brackets: [{_shown(error.instance)}]."
    if wanted == "object":
        return (
            "Write words with a colon behind them, each on a line of its own below it or all in braces: {WORD: VALUE}."
        )
    if is_list and "array" not in wanted:
        return "Write one thing, without brackets."
    return ""


def _enum(error: ValidationError, what: str) -> tuple[str, str]:
    return f"`{_shown(error.instance)}` is no word for {what}.", f"Write {_all(_wanted(error))}."


def _pattern(error: ValidationError, _: str) -> tuple[str, str]:
    advice = str(_schema(error).get("patternErrorMessage", ""))
    return f"`{_shown(error.instance)}` cannot be used as {with_article(_title(error, 'name'))}.", advice


def _least(error: ValidationError, what: str) -> tuple[str, str]:
    if error.validator_value == 1:
        return f"{what} is empty.", "Write what belongs there, or take it out."
    return f"{what} holds less than {error.validator_value} things.", f"Write {error.validator_value} of them."


def _most(error: ValidationError, what: str) -> tuple[str, str]:
    return f"{what} holds more than {error.validator_value} things.", f"Keep {error.validator_value} of them."


def _unique(_: ValidationError, what: str) -> tuple[str, str]:
    return f"{what} names the same thing twice.", "Keep one of the two."


_SENTENCES = {
    "type": _type,
    "enum": _enum,
    "pattern": _pattern,
    "minItems": _least,
    "minProperties": _least,
    "minLength": _least,
    "maxItems": _most,
    "maxProperties": _most,
    "uniqueItems": _unique,
}


def _schema(error: ValidationError) -> Mapping[str, Any]:
    return error.schema if isinstance(error.schema, Mapping) else {}


def _instance(error: ValidationError) -> Mapping[str, Any]:
    return error.instance if isinstance(error.instance, Mapping) else {}


def _wanted(error: ValidationError) -> list[object]:
    """What a keyword lists as allowed."""
    return list(error.validator_value) if isinstance(error.validator_value, list) else []


def _title(error: ValidationError, otherwise: str = "entry") -> str:
    return str(_schema(error).get("title", otherwise))


def _own(error: ValidationError) -> str:
    return str(_schema(error).get("x-say", {}).get(str(error.validator), ""))


def _all(words: Iterable[object]) -> str:
    return choice_of({True: "yes", False: "no"}.get(word, word) if isinstance(word, bool) else word for word in words)


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict | list):
        return "{...}" if isinstance(value, dict) else "[...]"
    text = str(value)
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 3]}..."


def _what(path: Path) -> str:
    """The value in words: by its key, or by its place in a list."""
    if not path:
        return "The file"
    if isinstance(path[-1], str):
        return f"`{path[-1]}`"
    owner = next((step for step in reversed(path) if isinstance(step, str)), "the list")
    return f"Item {path[-1] + 1} of `{owner}`"


def _key_place(node: Node, path: Path) -> Position:
    """Where the key of a value stands; for an item of a list where the item stands."""
    if path and isinstance(path[-1], str):
        owner = find(node, path[:-1])
        entry = owner.entry(path[-1]) if isinstance(owner, MappingNode) else None
        if entry is not None:
            return entry.at
    return find_deepest(node, path).at


def _value_place(node: Node, path: Path) -> Position:
    """Where a value stands: a text where it begins, anything else where its key stands."""
    found = find_deepest(node, path)
    return found.at if isinstance(found, Scalar) else _key_place(node, path)


def is_broken(broken: Iterable[Path], path: Path) -> bool:
    """Whether something at or below this path is not shaped as it must be."""
    return any(each[: len(path)] == path for each in broken)
