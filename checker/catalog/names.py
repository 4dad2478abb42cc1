"""Tags, ways, and the names of connections and pairs that are made of them."""

from __future__ import annotations

import re

TAG = r"[A-Za-z][A-Za-z0-9_-]{0,63}"
"""A tag as on the drawing."""

TAG_MEANING = "A tag begins with a letter and holds letters, digits, - and _."

WAY = r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}"
"""The name of a way, as on the directory of the panel."""

OWN_CHOICE = r"[a-z][a-z0-9]*(?:-[a-z0-9]+)+"
"""The name of a choice that a place adds to those of the catalog, of which none has a hyphen."""

RESERVED = frozenset({"unknown", "none", "site"})
"""Words that mean something else wherever a tag can stand."""

BUILT_IN_WAYS = frozenset({"normal", "alternate", "main", "load"})
"""Ways that hold a device built into the piece; on a piece that is fed, nothing leaves by them."""

MAIN_WAY = "main"
"""The way that holds the main device of a piece."""

SIDES = ("normal", "alternate")
"""The sides of a transfer switch, and the ways that hold a device built into one."""

NO_FEED_WAYS = frozenset({*SIDES, "load", "fed_from"})
"""Words that cannot name a way by which a board is fed."""

is_tag = re.compile(TAG).fullmatch
is_way = re.compile(WAY).fullmatch
is_own_choice = re.compile(OWN_CHOICE).fullmatch
feed_reference = re.compile(rf"({TAG})(?:/({WAY}))?").fullmatch
way_reference = re.compile(rf"({TAG})/({WAY})").fullmatch
pair_name = re.compile(rf"({TAG})~({TAG})").fullmatch

KIND = "kind"
USE = "use"
OVERRIDE = "override"
WAYS = "ways"
COMPLETE = "complete"
LIST = "list"
CLAIMS = "claims"
READINGS = "readings"

SITE_SECTION = "site"
JURISDICTION = "jurisdiction"
PERMIT = "permit"
EQUIPMENT = "equipment"
RUNS = "runs"
PAIRS = "pairs"
