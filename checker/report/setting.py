"""How pages are set: one head for all of them, and templates that let nothing of a stranger through as markup."""

from __future__ import annotations

from functools import cache

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from checker.report.safe import harmless


@cache
def environment(room: str) -> Environment:
    """The templates of a room of ``checker.report``: ``page`` for those in its folder ``templates``. Each fills the
    blocks of ``base.html``, in which the head and what a browser may load stand once.
    """
    return Environment(
        loader=ChoiceLoader([PackageLoader(f"checker.report.{room}"), PackageLoader("checker.report")]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=lambda value: value if isinstance(value, Markup) else harmless(str(value)),
    )
