"""How pages are set: templates that let nothing of a stranger through as markup."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from checker.report.safe import harmless


@cache
def environment() -> Environment:
    """The templates of the pages."""
    return Environment(
        loader=PackageLoader("checker.report.page"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=lambda value: value if isinstance(value, Markup) else harmless(str(value)),
    )
