"""One written value (text, list, or value with its paper) as stated facts."""

from __future__ import annotations

from checker.catalog.model import Fact
from checker.catalog.reading.stated import Stated
from checker.catalog.reading.texts import NONE, UNKNOWN, choices_remedy, read_choice, read_text
from checker.catalog.reading.written import Reading, Written, refusal, refusal_of, stated
from checker.files.yaml.tree import Entry, Mapping, Node, Scalar, Sequence
from checker.values.notation import NotationError, nearest
from checker.values.possible import several

VALUE = "value"
PER = "per"


def read_plain(written: Written) -> Stated:
    """The value of a fact that has no parts; raises Unreadable with one problem."""
    if isinstance(written.node, Mapping):
        return _read_with_paper(written, written.node)
    return read_bare(written, written.node, written.per)


def read_bare(written: Written, node: Node, per: str | None) -> Stated:
    """A text or a list as value of a fact, with the paper it is found on."""
    fact = written.fact
    if isinstance(node, Scalar):
        reading = _read_scalar(node, written)
        return stated(reading, node.text.strip(), node.at, per)
    if isinstance(node, Sequence):
        return stated(_read_list(node, fact), _list_text(node), node.at, per)
    raise refusal(f"{fact.name}: a value is not given in parts.", node.at, "Write the value itself.")


def paper_of(mapping: Mapping) -> str | None:
    """What stands under ``per``; raises Unreadable where that is no text."""
    entry = mapping.entry(PER)
    if entry is None:
        return None
    if not isinstance(entry.value, Scalar) or not entry.value.text.strip():
        remedy = "Write the paper, as per: utility letter, or per: assumed."
        raise refusal("per names no paper.", entry.value.at, remedy)
    return entry.value.text.strip()


def _read_scalar(node: Scalar, written: Written) -> Reading:
    try:
        return read_text(node.text, written.fact, may_be_none=written.may_be_none)
    except NotationError as error:
        raise refusal_of(error, node.at, written.fact) from None


def _read_with_paper(written: Written, mapping: Mapping) -> Stated:
    fact = written.fact
    for entry in mapping.entries:
        if entry.key not in (VALUE, PER):
            raise _no_such_part(fact, entry)
    value = mapping.get(VALUE)
    if value is None:
        remedy = f"Write {fact.name}: {{value: ..., per: ...}}."
        raise refusal(f"{fact.name}: the value is missing.", mapping.at, remedy)
    return read_bare(written, value, paper_of(mapping) or written.per)


def _no_such_part(fact: Fact, entry: Entry) -> Exception:
    near = nearest(entry.key, (VALUE, PER))
    remedy = f"Write the value alone, or {fact.name}: {{value: ..., per: ...}}."
    return refusal(f"{fact.name} has no part {entry.key}.", entry.at, remedy, near)


def _read_list(node: Sequence, fact: Fact) -> Reading:
    if not fact.several:
        raise refusal(f"{fact.name}: only one value can stand here.", node.at, "Write it without brackets.")
    if not node.items:
        remedy = "Write none." if fact.may_be_none else "Name at least one, or leave it out."
        raise refusal(f"{fact.name}: the list is empty.", node.at, remedy)
    words: dict[str, None] = {}
    for item in node.items:
        word = _list_word(item, fact)
        if word in words:
            raise refusal(f"{fact.name}: {word} stands twice.", item.at, "Keep one of the two.")
        words[word] = None
    return Reading(several(words))


def _list_word(item: Node, fact: Fact) -> str:
    if not isinstance(item, Scalar):
        raise refusal(f"{fact.name}: a list holds only its choices.", item.at, choices_remedy(fact))
    word = item.text.strip()
    if word in (NONE, UNKNOWN):
        raise refusal(f"{fact.name}: {word} stands alone, not in a list.", item.at, f"Write {fact.name}: {word}.")
    try:
        return read_choice(word, fact)
    except NotationError as error:
        raise refusal_of(error, item.at, fact) from None


def _list_text(node: Sequence) -> str:
    return ", ".join(item.text.strip() for item in node.items if isinstance(item, Scalar))
